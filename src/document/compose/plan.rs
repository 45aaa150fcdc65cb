//! A plan: what a designer knows of a system before it is drawn, as a list of zones and a few figures of the plant.
//!
//! Lengths and loss coefficients are one way: flow and return run side by side, so each counts once for either.

use crate::document::{DesignBasis, PumpUnit};
use crate::engine::fluid::Fluid;
use crate::engine::links::emitter::EmitterLaw;

/// How the zones are joined to the plant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Arrangement {
    /// Flow and return side by side, tee after tee: the zone that is first on the flow is last on the return.
    #[default]
    DirectReturn,
    /// The return runs on with the flow past the last zone before it comes back: every zone has about the same length.
    ReverseReturn,
    /// All branches from one pair of collectors.
    Manifold,
}

/// What makes a zone's flow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum PlannedFlow {
    /// The temperature drop of the whole system.
    #[default]
    AsDesigned,
    /// A temperature drop of its own, K.
    Drop(f64),
    /// A flow of its own, m³/s; the temperature drop follows.
    Flow(f64),
}

/// What shuts or throttles a zone.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PlannedValve {
    /// Two-position valve.
    #[default]
    Zone,
    /// Valve that a controller moves.
    Control,
    /// Valve that the room moves.
    Thermostatic,
    /// Pressure-independent valve, set to the design flow.
    PressureIndependent,
    /// None.
    Without,
}

/// A run of pipe, one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlannedRun {
    /// Length one way, m.
    pub length: f64,
    /// Sum of the loss coefficients one way.
    pub minor_k: f64,
    /// Bore where it is laid down, m; otherwise it is left to sizing.
    pub bore: Option<f64>,
}

/// A zone as planned.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedZone {
    /// Name, unlike all others'.
    pub name: String,
    /// Heat load, or cooling load without sign, W.
    pub load: f64,
    /// What makes its flow.
    pub flow: PlannedFlow,
    /// What its emitter is.
    pub emitter: EmitterLaw,
    /// Pressure loss of the emitter at design flow, Pa.
    pub emitter_loss: f64,
    /// Temperature of the leaving air at design, °C: a coil needs it.
    pub air_outlet_c: Option<f64>,
    /// Room temperature where it differs from the design's, °C.
    pub room_c: Option<f64>,
    /// From the tee to the emitter.
    pub branch: PlannedRun,
    /// From the tee before, or from the plant for the first zone, to this zone's tee. With a manifold only the first zone's counts:
    /// from the plant to the collectors.
    pub main: Option<PlannedRun>,
    /// Its valve.
    pub valve: PlannedValve,
    /// Kv of its valve, m³/h; chosen for it where none is given.
    pub valve_kv: Option<f64>,
}

/// A system as planned.
#[derive(Clone, Debug, PartialEq)]
pub struct SystemPlan {
    /// Name of the building or job.
    pub title: String,
    /// Free text.
    pub notes: String,
    /// Temperatures and duty.
    pub design: DesignBasis,
    /// What is in the pipes.
    pub fluid: Fluid,
    /// How the zones are joined.
    pub arrangement: Arrangement,
    /// The zones from near to far.
    pub zones: Vec<PlannedZone>,
    /// The circulator; without one an invented one of ample size stands in for it.
    pub pump: Option<PumpUnit>,
    /// Between source and circulator, one way.
    pub common: PlannedRun,
    /// Pressure loss of the source at the design flow, Pa.
    pub source_loss: f64,
    /// Least flow of the source, m³/s; zero if it has none.
    pub source_minimum_flow: f64,
    /// Kv of the strainer, m³/h; chosen for it where none is given.
    pub strainer_kv: Option<f64>,
    /// Roughness of all pipes until they are sized, m.
    pub roughness: f64,
}

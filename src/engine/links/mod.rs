//! Links: each has one law Δp(q), pressure drop over flow, with its derivative.
//!
//! A law is a smooth, strictly rising function on a range of flow. At the lower end of the range the drop may be anything
//! below the law's value there (a shut check valve), at the upper end anything above (a flow limiter): together a curve
//! that never falls, which is what makes a network of such links solvable and its solution unique.

mod bypass;
pub mod emitter;
pub mod fittings;
mod fixed;
mod friction;
mod one_way;
mod pipe;
mod standard_kv;
mod strainer;
mod thermostatic;
mod three_way;
mod valve;

pub use bypass::BypassValve;
pub use fixed::FixedLoss;
pub(crate) use friction::TERMS;
pub use friction::{Friction, LAMINAR_END, TURBULENT_START, colebrook, darcy_factor};
pub use one_way::{CheckValve, FlowLimiter};
pub use pipe::Pipe;
pub use standard_kv::standard_kv_at_least;
pub use strainer::strainer_kv;
pub use thermostatic::{Thermostat, ThermostatFlaw, ThermostaticValve};
pub use three_way::ThreeWay;
pub use valve::{Characteristic, Valve, kv_for, kv_pressure_drop_pa};

/// Pressure drop and its derivative by flow.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Drop {
    /// Pressure drop in Pa, positive when pressure falls in the direction of positive flow.
    pub pressure_pa: f64,
    /// Derivative in Pa per m³/s, never negative.
    pub slope: f64,
}

/// A law near one flow q₀: Δp(q₀ (1+s)) = Σ cₖ sᵏ, to 1e-12 of the drop for |s| ≤ `reach`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Expansion {
    /// cₖ in Pa.
    pub(crate) coefficients: [f64; TERMS],
    /// Greatest |s|.
    pub(crate) reach: f64,
}

/// The range of flow on which a law is defined, m³/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlowRange {
    /// Least flow; the pressure drop may be anything at or below the law's value there.
    pub low: f64,
    /// Greatest flow; the pressure drop may be anything at or above the law's value there.
    pub high: f64,
}

impl FlowRange {
    /// No bounds.
    pub const ANY: Self = Self { low: f64::NEG_INFINITY, high: f64::INFINITY };
    /// Forward only.
    pub const FORWARD: Self = Self { low: 0.0, high: f64::INFINITY };
    /// Shut.
    pub const NONE: Self = Self { low: 0.0, high: 0.0 };

    /// Whether no flow at all can pass.
    #[must_use]
    pub fn is_shut(self) -> bool {
        self.low == self.high
    }
}

/// The law of one link.
#[derive(Clone, Debug, PartialEq)]
pub enum LinkLaw {
    /// A straight run of pipe with minor losses.
    Pipe(Pipe),
    /// A valve by Kv, at a position.
    Valve(Valve),
    /// A component with a rated loss at a rated flow.
    Fixed(FixedLoss),
    /// A check valve.
    Check(CheckValve),
    /// A differential-pressure bypass valve.
    Bypass(BypassValve),
    /// A pressure-independent control valve.
    Limiter(FlowLimiter),
    /// A thermostatic valve with its emitter and room.
    Thermostatic(Box<ThermostaticValve>),
    /// Nothing passes.
    Shut,
}

impl LinkLaw {
    /// Pressure drop and derivative at a flow within [`Self::range`]. `warm` is a private starting value of the
    /// friction iteration that the caller keeps for each link; zero is a valid beginning.
    #[must_use]
    pub fn drop(&self, flow: f64, warm: &mut f64) -> Drop {
        match self {
            Self::Pipe(pipe) => pipe.drop(flow, warm),
            Self::Valve(valve) => valve.drop(flow),
            Self::Fixed(fixed) => fixed.drop(flow),
            Self::Check(check) => check.drop(flow),
            Self::Bypass(bypass) => bypass.drop(flow),
            Self::Limiter(limiter) => limiter.drop(flow),
            // A box has a `drop` of its own.
            Self::Thermostatic(valve) => valve.as_ref().drop(flow),
            Self::Shut => Drop::default(),
        }
    }

    /// k where the law is k q |q| throughout: valves, losses that go with the square of flow, limiters below their set flow,
    /// thermostatic valves that are shut or fully open throughout.
    pub(crate) fn square(&self) -> Option<f64> {
        match self {
            Self::Valve(valve) => Some(valve.drop(1.0).pressure_pa),
            Self::Limiter(limiter) => Some(limiter.drop(1.0).pressure_pa),
            Self::Fixed(fixed) => fixed.square(),
            Self::Thermostatic(valve) => valve.square(),
            Self::Shut => Some(0.0),
            Self::Pipe(_) | Self::Check(_) | Self::Bypass(_) => None,
        }
    }

    /// The law as a series around a flow other than zero; `None` for the bypass valve, whose law bends too sharply, and for a
    /// thermostatic valve that throttles. `warm` is as in [`Self::drop`].
    pub(crate) fn expand(&self, flow: f64, warm: &mut f64) -> Option<Expansion> {
        if let Some(k) = self.square() {
            let at = k * flow * flow.abs();
            return Some(Expansion { coefficients: [at, 2.0 * at, at, 0.0, 0.0, 0.0], reach: 0.5 });
        }
        match self {
            Self::Pipe(pipe) => Some(pipe.expand(flow, warm)),
            Self::Fixed(fixed) => Some(fixed.expand(flow)),
            Self::Check(check) => {
                let (cracking, at) = (check.drop(0.0).pressure_pa, check.drop(flow).pressure_pa);
                let open = at - cracking;
                Some(Expansion { coefficients: [at, 2.0 * open, open, 0.0, 0.0, 0.0], reach: 0.5 })
            }
            _ => None,
        }
    }

    /// The flows that can pass.
    #[must_use]
    pub fn range(&self) -> FlowRange {
        match self {
            Self::Pipe(_) | Self::Fixed(_) => FlowRange::ANY,
            Self::Valve(valve) => valve.range(),
            Self::Check(_) | Self::Bypass(_) => FlowRange::FORWARD,
            Self::Limiter(limiter) => limiter.range(),
            Self::Thermostatic(valve) => valve.range(),
            Self::Shut => FlowRange::NONE,
        }
    }

    /// A flow that is ordinary for this link, m³/s: the scale of its starting value and of its floors.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        match self {
            Self::Pipe(pipe) => pipe.nominal_flow(),
            Self::Valve(valve) => valve.nominal_flow(),
            Self::Fixed(fixed) => fixed.nominal_flow(),
            Self::Check(check) => check.nominal_flow(),
            Self::Bypass(bypass) => bypass.nominal_flow(),
            Self::Limiter(limiter) => limiter.nominal_flow(),
            Self::Thermostatic(valve) => valve.nominal_flow(),
            Self::Shut => 1e-4,
        }
    }
}

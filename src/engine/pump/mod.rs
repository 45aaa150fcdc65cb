//! The pump: full-speed curve, affinity, regulation (head limit, slope, speed cap, power limit, minimum
//! speed) and power.
//!
//! One definition serves the solver and the plot: [`Regulated::head`] is what the pump gives at a flow.

mod curve;
mod efficiency_index;
mod npsh;
mod power;
mod power_limit;
mod regulation;
mod set_line;
mod viscous;

pub use curve::{CurveError, PumpCurve};
pub use efficiency_index::{
    CALIBRATION, EUROPEAN_PROFILE, EnergyIndex, IndexError, IndexPoint, LoadPoint, Reading, ReferencePoint,
    SCOPE_HYDRAULIC_W, UNITED_STATES_PROFILE, reference_power_w,
};
pub use npsh::{PumpInlet, STANDARD_ATMOSPHERE_PA, boiling_gauge_pressure_pa};
pub use power::{PowerModel, hydraulic_w};
pub use regulation::{GoverningLimit, GoverningRange, ReferenceFlow, Regulated, Regulation, RegulationError};
pub use set_line::SetLine;
pub use viscous::{
    BestEfficiency, CATALOGUE_WATER, Viscous, ViscousFactors, ViscousValidity, best_efficiency, corrected,
    corrected_about, efficiency_factor, flow_factor, parameter_b,
};

/// A pump: its full-speed curve, its power model and its rated speed.
#[derive(Clone, Debug, PartialEq)]
pub struct Pump {
    /// Head over flow at full speed.
    pub curve: PumpCurve,
    /// Electric power over flow and speed.
    pub power: PowerModel,
    /// Full speed in revolutions per minute; speeds inside are fractions of it.
    pub full_speed_rpm: f64,
}

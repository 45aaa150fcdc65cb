//! A component with a rated loss: Δp = Δp_r (q/q_r)^m, exponent 2 unless given (textbook identity for turbulent flow).

use super::Drop;

/// A boiler, heat exchanger, emitter, stopped pump: anything known by one loss at one flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FixedLoss {
    coefficient: f64,
    exponent: f64,
    rated_flow: f64,
}

impl FixedLoss {
    /// From a rated loss (Pa) at a rated flow (m³/s) and an exponent from 1 to 2.
    #[must_use]
    pub fn new(loss_pa: f64, rated_flow_m3_per_s: f64, exponent: f64) -> Self {
        let coefficient = loss_pa / rated_flow_m3_per_s.powf(exponent);
        Self { coefficient, exponent, rated_flow: rated_flow_m3_per_s }
    }

    /// Pressure drop and derivative at a flow in m³/s.
    #[must_use]
    pub fn drop(&self, flow: f64) -> Drop {
        let q = flow.abs();
        if self.exponent == 2.0 {
            return Drop { pressure_pa: self.coefficient * flow * q, slope: 2.0 * self.coefficient * q };
        }
        let slope = self.coefficient * q.powf(self.exponent - 1.0);
        Drop { pressure_pa: slope * flow, slope: self.exponent * slope }
    }

    /// The rated flow.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        self.rated_flow
    }
}

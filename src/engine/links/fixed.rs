//! A component with a rated loss: Δp = Δp_r (q/q_r)^m, exponent 2 unless given (textbook identity for turbulent flow).

use super::friction::{REACH, TERMS};
use super::{Drop, Expansion};

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

    /// k where the law is k q |q|.
    pub(super) fn square(&self) -> Option<f64> {
        (self.exponent == 2.0).then_some(self.coefficient)
    }

    /// The law as a series around a flow other than zero: the binomial series.
    pub(super) fn expand(&self, flow: f64) -> Expansion {
        let mut coefficients = [self.drop(flow).pressure_pa; TERMS];
        for k in 1..TERMS {
            let before = (k - 1) as f64;
            coefficients[k] = coefficients[k - 1] * (self.exponent - before) / (before + 1.0);
        }
        Expansion { coefficients, reach: REACH }
    }

    /// The rated flow.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        self.rated_flow
    }
}

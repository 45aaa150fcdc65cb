//! Electric power P₁(Q, n): P₁ = P₀ + n³ (P₁,full(Q/n) − P₀).
//!
//! Affinity scales hydraulic, shaft and motor losses with n³ (textbook identity for the hydraulic part; common practice,
//! no source, for the motor). The constant P₀, electronics and standby, does not scale and so stays visible at low speed.

use super::curve::{CurveError, MonotoneCubic};
use crate::engine::GRAVITY_M_PER_S2;

/// Electric power over flow and speed.
#[derive(Clone, Debug, PartialEq)]
pub struct PowerModel {
    full_speed: MonotoneCubic,
    standby_w: f64,
}

impl PowerModel {
    /// From `(flow m³/s, electric power W)` points at full speed, flows rising, and the constant part in W.
    ///
    /// # Errors
    /// Too few points, flows that do not rise, or values that are negative or not numbers.
    pub fn new(points: &[[f64; 2]], standby_w: f64) -> Result<Self, CurveError> {
        super::curve::check_points(points)?;
        if !(standby_w >= 0.0 && standby_w.is_finite()) {
            return Err(CurveError::BadStandby);
        }
        Ok(Self { full_speed: MonotoneCubic::new(points), standby_w })
    }

    /// Electric power in W at `flow` (m³/s) and speed fraction `n`; the constant part alone at standstill.
    #[must_use]
    pub fn electric_w(&self, flow: f64, n: f64) -> f64 {
        if n <= 0.0 {
            return self.standby_w;
        }
        self.standby_w + n.powi(3) * self.above_standby_w((flow / n).max(0.0)).0
    }

    /// What follows speed, P_full − P₀ (W), and its derivative by flow (W per m³/s) at a flow of full speed; never below zero.
    pub(super) fn above_standby_w(&self, flow: f64) -> (f64, f64) {
        let (full, slope) = self.full_speed.value(flow);
        if full > self.standby_w { (full - self.standby_w, slope) } else { (0.0, 0.0) }
    }

    /// The greatest flow of its data at full speed, m³/s.
    pub(super) fn data_end_m3_per_s(&self) -> f64 {
        self.full_speed.end()
    }

    /// The constant part P₀ in W.
    #[must_use]
    pub fn standby_w(&self) -> f64 {
        self.standby_w
    }
}

/// Hydraulic power in W: P_u = ρ g Q H.
#[must_use]
pub fn hydraulic_w(density_kg_per_m3: f64, flow_m3_per_s: f64, head_m: f64) -> f64 {
    density_kg_per_m3 * GRAVITY_M_PER_S2 * flow_m3_per_s * head_m
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hydraulic_power_of_the_check_table() {
        // Check table "g_hydraulic_power" (g = 9.80665).
        let per_hour = 1.0 / 3600.0;
        assert!((hydraulic_w(1000.0, per_hour, 1.0) - 2.724_069_444).abs() < 1e-8);
        assert!((hydraulic_w(983.2972, 2.5 * per_hour, 4.0) - 26.785_698_57).abs() < 1e-7);
    }

    #[test]
    fn only_the_part_above_standby_follows_the_cube_of_speed() {
        let model = PowerModel::new(&[[0.0, 40.0], [1.0, 80.0], [2.0, 100.0]], 4.0).unwrap();
        assert!((model.electric_w(0.5, 0.5) - (4.0 + 0.125 * 76.0)).abs() < 1e-12);
        assert!((model.electric_w(0.0, 0.0) - 4.0).abs() < 1e-12);
    }
}

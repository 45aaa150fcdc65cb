//! The energy efficiency index of a circulator, step by step, so that each step can be shown.
//!
//! ```text
//! (Q₁₀₀, H₁₀₀)   where Q H is greatest on the full-speed curve
//! P_hyd = ρ g Q₁₀₀ H₁₀₀
//! P_ref = 1.7 P_hyd + 17 (1 − e^(−0.3 P_hyd))         P in W, 1 W ≤ P_hyd ≤ 2500 W
//! H_ref(Q) = H₁₀₀ (½ + ½ Q/Q₁₀₀)                      the reference control curve
//! P_L = P₁ H_ref/H   where H ≤ H_ref, else P₁         at 100, 75, 50, 25 % of Q₁₀₀
//! P_L,avg = Σ w P_L                                   w = 6, 15, 35, 44 %
//! EEI = 0.49 P_L,avg / P_ref
//! ```
//!
//! A point that gives less head than the reference is charged the power that the missing head would take; one that gives
//! more gets no credit. Sources: Regulation (EC) 641/2009 Annex II point 2 as amended by (EU) 622/2012, EN 16297-1 and -2;
//! load profile and reference curve found in texts on the regulation, P_ref, 0.49 and the compensation from memory.
//!
//! What comes out is an estimate from catalogue figures, never a certificate: the standards measure a sample of pumps on
//! a test rig, and only that measurement may be declared.

use super::{PowerModel, PumpCurve, hydraulic_w};
use thiserror::Error;

/// Steps of the first search for the greatest Q H along the curve.
const SEARCH_STEPS: u32 = 400;

/// The factor C₂₀% that calibrates the index (Regulation (EU) 622/2012, from memory).
pub const CALIBRATION: f64 = 0.49;

/// The hydraulic power that the regulation covers, W (found in summaries of the regulation).
pub const SCOPE_HYDRAULIC_W: std::ops::RangeInclusive<f64> = 1.0..=2500.0;

/// One point of a load profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadPoint {
    /// Flow as a share of Q₁₀₀.
    pub flow_share: f64,
    /// Share of the running time; the shares of a profile add up to one.
    pub weight: f64,
}

/// The European load profile of circulators, highest flow first (EN 16297-1, Regulation (EC) 641/2009).
pub const EUROPEAN_PROFILE: [LoadPoint; 4] = [
    LoadPoint { flow_share: 1.00, weight: 0.06 },
    LoadPoint { flow_share: 0.75, weight: 0.15 },
    LoadPoint { flow_share: 0.50, weight: 0.35 },
    LoadPoint { flow_share: 0.25, weight: 0.44 },
];

/// The load profile of circulators in the United States, highest flow first (10 CFR 431 subpart Y appendix D, from memory).
/// There the shares are of the flow at best efficiency and the index is another one; only the weights are given here.
pub const UNITED_STATES_PROFILE: [LoadPoint; 4] = [
    LoadPoint { flow_share: 1.00, weight: 0.15 },
    LoadPoint { flow_share: 0.75, weight: 0.40 },
    LoadPoint { flow_share: 0.50, weight: 0.40 },
    LoadPoint { flow_share: 0.25, weight: 0.05 },
];

/// Why there is no index.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
pub enum IndexError {
    /// The curve gives no hydraulic power anywhere, or the density is not above zero.
    #[error("the pump gives no hydraulic power: check its curve and the fluid")]
    NoHydraulicPower,
    /// A reading without head, or with a power that is negative or not a number.
    #[error("the reading at {share_percent} % of the flow needs a head above zero and a power of zero or more watts")]
    BadReading {
        /// The load point, % of Q₁₀₀.
        share_percent: f64,
    },
}

/// Where the full-speed curve gives the greatest hydraulic power.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReferencePoint {
    /// Q₁₀₀, m³/s.
    pub flow_m3_per_s: f64,
    /// H₁₀₀, m.
    pub head_m: f64,
    /// True where it lies past the last catalogue point, on the curve carried on: then the index is a guess.
    pub beyond_data: bool,
}

/// What a pump gives and takes at one load point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Head H, m.
    pub head_m: f64,
    /// Electric power P₁, W.
    pub electric_w: f64,
}

/// One load point of the index, all steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct IndexPoint {
    /// Its share of flow and time.
    pub load: LoadPoint,
    /// Flow Q, m³/s.
    pub flow_m3_per_s: f64,
    /// Head of the reference control curve there, m.
    pub reference_head_m: f64,
    /// Head that the pump gives, m.
    pub head_m: f64,
    /// Electric power P₁ that it takes, W.
    pub electric_w: f64,
    /// P_L: electric power after compensation of the head, W.
    pub compensated_w: f64,
    /// Its part of the average, w P_L, W.
    pub weighted_w: f64,
}

/// The index with every step towards it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EnergyIndex {
    /// Where Q H is greatest.
    pub reference: ReferencePoint,
    /// P_hyd there, W.
    pub hydraulic_w: f64,
    /// P_ref, W.
    pub reference_w: f64,
    /// Whether P_hyd lies in the regulation's scope.
    pub in_scope: bool,
    /// The load points, highest flow first.
    pub points: [IndexPoint; 4],
    /// P_L,avg, W.
    pub average_w: f64,
    /// EEI, not rounded.
    pub index: f64,
}

impl EnergyIndex {
    /// The index of a pump that follows the reference control curve exactly, by speed; where full speed does not reach
    /// it, at full speed and with compensation.
    ///
    /// `density_kg_per_m3` is that of the test water. The regulation leaves the unit constant open; 1000 kg/m³ makes it
    /// 2.724 W per m³/h and m. `power` must hold for the same water.
    ///
    /// ```
    /// use headwise::engine::pump::{EnergyIndex, PowerModel, PumpCurve};
    ///
    /// let flows = [0.0, 2.0 / 3600.0, 4.0 / 3600.0];
    /// let curve = PumpCurve::fit(&[[flows[0], 6.0], [flows[1], 5.2], [flows[2], 3.0]])?;
    /// let power = PowerModel::new(&[[flows[0], 35.0], [flows[1], 60.0], [flows[2], 75.0]], 3.0)?;
    /// let index = EnergyIndex::of_pump(&curve, &power, 1000.0)?;
    /// assert!((index.hydraulic_w - 35.32).abs() < 0.01);
    /// assert!(index.in_scope && (0.1..0.4).contains(&index.index));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// A curve without hydraulic power.
    pub fn of_pump(curve: &PumpCurve, power: &PowerModel, density_kg_per_m3: f64) -> Result<Self, IndexError> {
        let reference = ReferencePoint::of_curve(curve);
        let readings = EUROPEAN_PROFILE.map(|load| {
            let flow = load.flow_share * reference.flow_m3_per_s;
            let wanted_m = reference.control_head_m(load.flow_share);
            let speed = curve.speed_for(flow, wanted_m);
            if speed < 1.0 {
                return Reading { head_m: wanted_m, electric_w: power.electric_w(flow, speed) };
            }
            Reading { head_m: curve.full_speed(flow).0, electric_w: power.electric_w(flow, 1.0) }
        });
        Self::of_readings(reference, density_kg_per_m3, readings)
    }

    /// The index of readings at 100, 75, 50 and 25 % of Q₁₀₀, in that order: measured, or of a pump under settings that
    /// differ from the reference control curve.
    ///
    /// # Errors
    /// No hydraulic power at the reference point, or a reading without head.
    pub fn of_readings(
        reference: ReferencePoint,
        density_kg_per_m3: f64,
        readings: [Reading; 4],
    ) -> Result<Self, IndexError> {
        let hydraulic_w = hydraulic_w(density_kg_per_m3, reference.flow_m3_per_s, reference.head_m);
        if !(hydraulic_w > 0.0 && hydraulic_w.is_finite()) {
            return Err(IndexError::NoHydraulicPower);
        }
        for (load, reading) in EUROPEAN_PROFILE.iter().zip(&readings) {
            let head_is_good = reading.head_m > 0.0 && reading.head_m.is_finite();
            if !(head_is_good && reading.electric_w >= 0.0 && reading.electric_w.is_finite()) {
                return Err(IndexError::BadReading { share_percent: 100.0 * load.flow_share });
            }
        }
        let points = std::array::from_fn(|i| reference.point(EUROPEAN_PROFILE[i], readings[i]));
        let average_w = points.iter().map(|point: &IndexPoint| point.weighted_w).sum::<f64>();
        let reference_w = reference_power_w(hydraulic_w);
        Ok(Self {
            reference,
            hydraulic_w,
            reference_w,
            in_scope: SCOPE_HYDRAULIC_W.contains(&hydraulic_w),
            points,
            average_w,
            index: CALIBRATION * average_w / reference_w,
        })
    }

    /// The index to two decimals, as indices are compared with a limit.
    #[must_use]
    pub fn rounded(&self) -> f64 {
        (100.0 * self.index).round() / 100.0
    }
}

impl ReferencePoint {
    /// Finds where Q H is greatest on the full-speed curve: where H + Q dH/dQ changes sign.
    #[must_use]
    pub fn of_curve(curve: &PumpCurve) -> Self {
        let end = curve.run_out_m3_per_s();
        let step = end / f64::from(SEARCH_STEPS);
        let product = |flow: f64| flow * curve.full_speed(flow).0;
        let best = (0..=SEARCH_STEPS)
            .map(|i| step * f64::from(i))
            .fold(0.0, |best, flow| if product(flow) > product(best) { flow } else { best });
        let (mut low, mut high) = ((best - step).max(0.0), (best + step).min(end));
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            let (head, slope) = curve.full_speed(middle);
            if head + middle * slope > 0.0 { low = middle } else { high = middle }
        }
        Self { flow_m3_per_s: low, head_m: curve.full_speed(low).0, beyond_data: low > curve.data_end_m3_per_s() }
    }

    /// Head in m of the reference control curve at a share of Q₁₀₀: straight from H₁₀₀ to half of it at zero flow.
    #[must_use]
    pub fn control_head_m(&self, flow_share: f64) -> f64 {
        self.head_m * (0.5 + 0.5 * flow_share)
    }

    fn point(&self, load: LoadPoint, reading: Reading) -> IndexPoint {
        let reference_head_m = self.control_head_m(load.flow_share);
        let missing = (reference_head_m / reading.head_m).max(1.0);
        let compensated_w = reading.electric_w * missing;
        IndexPoint {
            load,
            flow_m3_per_s: load.flow_share * self.flow_m3_per_s,
            reference_head_m,
            head_m: reading.head_m,
            electric_w: reading.electric_w,
            compensated_w,
            weighted_w: load.weight * compensated_w,
        }
    }
}

/// The reference power in W of a hydraulic power P_hyd in W: `1.7 P_hyd + 17 (1 − e^(−0.3 P_hyd))`, for 1 to 2500 W
/// (Regulation (EC) 641/2009 Annex II, from memory).
#[must_use]
pub fn reference_power_w(hydraulic_w: f64) -> f64 {
    1.7 * hydraulic_w + 17.0 * (1.0 - (-0.3 * hydraulic_w).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_time_add_up_to_one() {
        for profile in [EUROPEAN_PROFILE, UNITED_STATES_PROFILE] {
            assert!((profile.iter().map(|load| load.weight).sum::<f64>() - 1.0).abs() < 1e-15);
            assert!(profile.windows(2).all(|pair| pair[0].flow_share > pair[1].flow_share));
        }
    }

    #[test]
    fn readings_without_head_are_refused() {
        let reference = ReferencePoint { flow_m3_per_s: 1e-3, head_m: 4.0, beyond_data: false };
        let mut readings = [Reading { head_m: 4.0, electric_w: 70.0 }; 4];
        readings[2].head_m = 0.0;
        let found = EnergyIndex::of_readings(reference, 1000.0, readings);
        assert_eq!(found, Err(IndexError::BadReading { share_percent: 50.0 }));
        let found = EnergyIndex::of_readings(reference, 0.0, readings);
        assert_eq!(found, Err(IndexError::NoHydraulicPower));
    }
}

//! The curve and the power of a centrifugal pump in a fluid thicker than the water of its catalogue.
//!
//! ```text
//! B   = 16.5 ν^0.5 H^0.0625 / (Q^0.375 N^0.25)      at best efficiency in water
//! C_Q = 2.71^(−0.165 (log₁₀ B)^3.15)                flow, every point
//! C_H = 1 − (1 − C_Q) (Q/Q_best)^0.75               head, equal to C_Q at best efficiency
//! C_η = B^(−0.0547 B^0.69)                          efficiency, every point
//! ```
//!
//! ν kinematic viscosity in mm²/s, Q flow in m³/h, H head of one stage in m, N speed in r/min (in gpm and ft the constant
//! is 26.6; the two, as printed, differ by 0.4 %). No correction for B ≤ 1. Source: ISO/TR 17766 and ANSI/HI 9.6.7, from
//! memory; both also give a small change of efficiency for B ≤ 1, which is left out here.
//!
//! Validity (same sources, from memory): B below 40, ν up to 3000 mm²/s, 3 to 410 m³/h and 6 to 130 m a stage at best
//! efficiency, Newtonian fluid, radial impeller of usual design, one stage. Small circulators mostly lie below that flow
//! and head, and none of the tests behind the method had a rotor that runs in the fluid: there it is an estimate.
//!
//! Three steps are this program's own. (1) The catalogue already holds in its water, so each factor is divided by the
//! one that the formulas give for that water; it is 1 unless the pump is so small that water itself has B above 1.
//! (2) Efficiency is taken without the constant part of the power, and the losses of the motor follow the shaft power.
//! (3) The factors are those of full speed, and the affinity laws go on from the corrected curve. B itself grows with
//! 1/√n, so at reduced speed the true correction is somewhat greater.

use super::{CurveError, PowerModel, Pump, PumpCurve, hydraulic_w};
use crate::engine::fluid::FluidProperties;

/// Steps of the first search for the best efficiency.
const SEARCH_STEPS: u32 = 200;

/// Parts into which a gap between catalogue flows is cut where the power has points of its own.
const FINE_PARTS: u32 = 64;

/// The water that a catalogue usually holds for: 20 °C at 1 atm (IAPWS R12-08 and IF97, rounded; common practice).
pub const CATALOGUE_WATER: FluidProperties = FluidProperties {
    temperature_c: 20.0,
    density_kg_per_m3: 998.2,
    dynamic_viscosity_pa_s: 1.0016e-3,
    heat_capacity_j_per_kg_k: 4184.0,
};

/// Where the catalogue's pump is at its best at full speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestEfficiency {
    /// Flow in the catalogue's water, m³/s.
    pub flow_m3_per_s: f64,
    /// Head there, m.
    pub head_m: f64,
    /// Hydraulic power over electric power above the constant part.
    pub efficiency: f64,
}

/// What the catalogue's figures are multiplied with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ViscousFactors {
    /// Parameter B in the fluid.
    pub b: f64,
    /// Parameter B in the catalogue's water.
    pub b_in_water: f64,
    /// C_Q on every flow; C_H at best efficiency is the same.
    pub flow: f64,
    /// C_η on every efficiency.
    pub efficiency: f64,
    /// Density of the fluid over that of the catalogue's water.
    pub density: f64,
}

/// Which bounds of the tests behind the method are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ViscousValidity {
    /// B below 40.
    pub b: bool,
    /// Viscosity up to 3000 mm²/s.
    pub viscosity: bool,
    /// 3 to 410 m³/h at best efficiency.
    pub flow: bool,
    /// 6 to 130 m at best efficiency.
    pub head: bool,
    /// The best efficiency lies inside the catalogue's points, not at their end.
    pub best_efficiency: bool,
}

/// A pump in its fluid.
#[derive(Clone, Debug, PartialEq)]
pub struct Viscous {
    /// The pump to use in place of the catalogue's.
    pub pump: Pump,
    /// Where the catalogue's pump is at its best.
    pub best: BestEfficiency,
    /// What was multiplied with what.
    pub factors: ViscousFactors,
    /// Whether viscosity changes the curve. Where not, only the density is in the power.
    pub applies: bool,
    /// Whether all bounds are kept; always so where viscosity changes nothing.
    pub within_validity: bool,
    /// The bounds one by one.
    pub validity: ViscousValidity,
}

/// The pump as it runs in `fluid`, from its curve and power in `water` (usually [`CATALOGUE_WATER`]).
///
/// Every catalogue point moves to `C_Q Q` and `C_H H`. Its power above the constant part P₀ becomes
/// `P₀ + (P₁ − P₀) C_Q C_H/C_η · ρ/ρ_water`, which is ρ g Q H/η with the corrected values; P₀ (electronics, standby) stays.
/// A fluid no thicker than the catalogue's water, or with B ≤ 1, changes nothing but the density in the power.
///
/// ```
/// use headwise::engine::fluid::{Fluid, FluidKind};
/// use headwise::engine::pump::{CATALOGUE_WATER, PowerModel, Pump, PumpCurve, corrected};
///
/// let flows = [0.0, 3.0 / 3600.0, 6.0 / 3600.0];
/// let pump = Pump {
///     curve: PumpCurve::fit(&[[flows[0], 8.5], [flows[1], 7.9], [flows[2], 6.3]])?,
///     power: PowerModel::new(&[[flows[0], 70.0], [flows[1], 130.0], [flows[2], 190.0]], 4.0)?,
///     full_speed_rpm: 4000.0,
/// };
/// let fluid = Fluid::new(FluidKind::PropyleneGlycol, 0.40)?.properties(5.0)?;
/// let viscous = corrected(&pump, &fluid, &CATALOGUE_WATER)?;
/// assert!(viscous.applies && viscous.factors.b > 2.0);
/// assert!(viscous.pump.power.electric_w(flows[1], 1.0) > 130.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// A correction so great, far outside the method's validity, that no falling curve is left.
pub fn corrected(pump: &Pump, fluid: &FluidProperties, water: &FluidProperties) -> Result<Viscous, CurveError> {
    corrected_about(pump, best_efficiency(pump, water.density_kg_per_m3), fluid, water)
}

/// The same with the catalogue's [`best_efficiency`] known: for one pump in many waters.
///
/// # Errors
/// As [`corrected`].
pub fn corrected_about(
    pump: &Pump,
    best: BestEfficiency,
    fluid: &FluidProperties,
    water: &FluidProperties,
) -> Result<Viscous, CurveError> {
    let b_of = |of: &FluidProperties| {
        let viscosity = of.kinematic_viscosity_m2_per_s();
        parameter_b(viscosity, best.flow_m3_per_s, best.head_m, pump.full_speed_rpm)
    };
    let (b, b_in_water) = (b_of(fluid), b_of(water));
    // A pump without a best point or a speed has no finite B: leave it as it is and say that the method does not hold.
    let applies = b.is_finite() && b > b_in_water.max(1.0);
    let density = fluid.density_kg_per_m3 / water.density_kg_per_m3;
    let mut factors = ViscousFactors { b, b_in_water, flow: 1.0, efficiency: 1.0, density };
    if applies {
        factors.flow = flow_factor(b) / flow_factor(b_in_water);
        factors.efficiency = efficiency_factor(b) / efficiency_factor(b_in_water);
    }
    let validity = ViscousValidity::of(pump, &best, b, fluid.kinematic_viscosity_m2_per_s());
    Ok(Viscous {
        pump: factors.on(pump, best.flow_m3_per_s)?,
        best,
        factors,
        applies,
        within_validity: b.is_finite() && (!applies || validity.all()),
        validity,
    })
}

/// Parameter B from kinematic viscosity ν (m²/s), flow (m³/s) and head (m) at best efficiency in water, and speed (r/min).
#[must_use]
pub fn parameter_b(
    kinematic_viscosity_m2_per_s: f64,
    best_flow_m3_per_s: f64,
    best_head_m: f64,
    speed_rpm: f64,
) -> f64 {
    let viscosity_mm2_per_s = 1e6 * kinematic_viscosity_m2_per_s;
    let flow_m3_per_h = 3600.0 * best_flow_m3_per_s;
    16.5 * viscosity_mm2_per_s.sqrt() * best_head_m.powf(0.0625) / (flow_m3_per_h.powf(0.375) * speed_rpm.powf(0.25))
}

/// C_Q of parameter B; 1 for B ≤ 1.
#[must_use]
pub fn flow_factor(b: f64) -> f64 {
    2.71_f64.powf(-0.165 * b.max(1.0).log10().powf(3.15))
}

/// C_η of parameter B; 1 for B ≤ 1.
#[must_use]
pub fn efficiency_factor(b: f64) -> f64 {
    let b = b.max(1.0);
    b.powf(-0.0547 * b.powf(0.69))
}

/// Where hydraulic power over electric power above its constant part is greatest, inside the catalogue's points.
#[must_use]
pub fn best_efficiency(pump: &Pump, density_kg_per_m3: f64) -> BestEfficiency {
    let efficiency = |flow: f64| {
        let shaft_side_w = pump.power.electric_w(flow, 1.0) - pump.power.standby_w();
        let hydraulic = hydraulic_w(density_kg_per_m3, flow, pump.curve.full_speed(flow).0);
        if shaft_side_w > 0.0 { hydraulic / shaft_side_w } else { 0.0 }
    };
    let end = pump.curve.data_end_m3_per_s();
    let step = end / f64::from(SEARCH_STEPS);
    let start = (0..=SEARCH_STEPS)
        .map(|i| step * f64::from(i))
        .fold(0.0, |best, flow| if efficiency(flow) > efficiency(best) { flow } else { best });
    // Thirds: one hump is left inside a step on each side.
    let (mut low, mut high) = ((start - step).max(0.0), (start + step).min(end));
    for _ in 0..80 {
        let third = (high - low) / 3.0;
        if efficiency(low + third) < efficiency(high - third) { low += third } else { high -= third }
    }
    let flow = 0.5 * (low + high);
    BestEfficiency { flow_m3_per_s: flow, head_m: pump.curve.full_speed(flow).0, efficiency: efficiency(flow) }
}

impl ViscousFactors {
    /// C_H at a flow in water that is `share` of the best flow: `1 − (1 − C_Q) share^0.75`, not below zero.
    #[must_use]
    pub fn head(&self, share: f64) -> f64 {
        (1.0 - (1.0 - self.flow) * share.max(0.0).powf(0.75)).max(0.0)
    }

    /// The pump with the factors on its curve and power. The curve is corrected at the catalogue's flows, on the fitted
    /// curve and not at the points themselves, so that a fit of one kind stays of that kind and no jump can come from it.
    fn on(&self, pump: &Pump, best_flow: f64) -> Result<Pump, CurveError> {
        let nothing_changes = self.flow == 1.0 && self.efficiency == 1.0;
        if nothing_changes && self.density == 1.0 {
            return Ok(pump.clone());
        }
        let head_factor = |flow: f64| if nothing_changes { 1.0 } else { self.head(flow / best_flow) };
        let heads: Vec<[f64; 2]> = pump
            .curve
            .points()
            .iter()
            .map(|[flow, _]| [self.flow * flow, head_factor(*flow) * pump.curve.full_speed(*flow).0])
            .collect();
        let standby_w = pump.power.standby_w();
        let powers: Vec<[f64; 2]> = power_flows(pump)?
            .into_iter()
            .map(|flow| {
                let above_standby_w = pump.power.electric_w(flow, 1.0) - standby_w;
                let hydraulic_factor = self.density * self.flow * head_factor(flow);
                [self.flow * flow, standby_w + above_standby_w * hydraulic_factor / self.efficiency]
            })
            .collect();
        Ok(Pump {
            curve: if nothing_changes { pump.curve.clone() } else { PumpCurve::fit(&heads)? },
            power: PowerModel::new(&powers, standby_w)?,
            full_speed_rpm: pump.full_speed_rpm,
        })
    }
}

/// The flows at which to correct the power: the catalogue's, where a power model through them is the pump's own, as it is
/// when a catalogue gives head and power at the same flows; a fine division of them where the power has points of its own.
fn power_flows(pump: &Pump) -> Result<Vec<f64>, CurveError> {
    let flows: Vec<f64> = pump.curve.points().iter().map(|point| point[0]).collect();
    let mut fine = Vec::new();
    for pair in flows.windows(2) {
        let part = (pair[1] - pair[0]) / f64::from(FINE_PARTS);
        fine.extend((0..FINE_PARTS).map(|i| pair[0] + part * f64::from(i)));
    }
    fine.extend(flows.last());
    let through: Vec<[f64; 2]> = flows.iter().map(|flow| [*flow, pump.power.electric_w(*flow, 1.0)]).collect();
    let model = PowerModel::new(&through, pump.power.standby_w())?;
    let same = fine.iter().all(|flow| {
        let own = pump.power.electric_w(*flow, 1.0);
        (model.electric_w(*flow, 1.0) - own).abs() <= 1e-9 * own
    });
    Ok(if same { flows } else { fine })
}

impl ViscousValidity {
    fn of(pump: &Pump, best: &BestEfficiency, b: f64, kinematic_viscosity_m2_per_s: f64) -> Self {
        let within_data = best.flow_m3_per_s < pump.curve.data_end_m3_per_s() * (1.0 - 1e-6);
        Self {
            b: b < 40.0,
            viscosity: kinematic_viscosity_m2_per_s <= 3000e-6,
            flow: (3.0..=410.0).contains(&(3600.0 * best.flow_m3_per_s)),
            head: (6.0..=130.0).contains(&best.head_m),
            best_efficiency: within_data,
        }
    }

    /// Whether all bounds are kept.
    #[must_use]
    pub fn all(&self) -> bool {
        self.b && self.viscosity && self.flow && self.head && self.best_efficiency
    }
}

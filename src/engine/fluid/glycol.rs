//! Aqueous propylene and ethylene glycol: density, heat capacity, viscosity and freezing point.
//!
//! Source: Å. Melinder, Properties of Secondary Working Fluids for Indirect Systems, 2nd ed., International
//! Institute of Refrigeration 2010: pure (uninhibited) glycols, share by mass. The coefficients are taken
//! from the parameter data of the open property library CoolProp 8.0.0, which holds the same correlation.
//!
//! Every property is a polynomial of 18 terms `Σ C_ij (x - x_m)^i (T - T_m)^j`, j = 0..3, i = 0..5 - j,
//! with x the mass fraction of glycol, T in °C, and `x_m`, `T_m` the means of the data. Valid from the freezing
//! point to 60 % by mass; offered up to 100 °C, of which the part above [`GLYCOL_DATA_END_C`] is extrapolated.
//! Trade fluids hold inhibitors: they differ by up to 1 % in density, 3 % in heat capacity, 12 % in viscosity.

use super::FluidKind;
use super::properties::FluidProperties;

/// The measurements behind the glycol correlation end near here, °C (from memory); above, it is extrapolated.
pub const GLYCOL_DATA_END_C: f64 = 40.0;
/// The highest share of glycol, by mass, that the correlation covers.
pub const GLYCOL_MAX_MASS_FRACTION: f64 = 0.6;
/// Highest temperature offered, °C: the same as the library that the coefficients come from.
pub(super) const HIGHEST_TEMPERATURE_C: f64 = 100.0;

/// Rows are powers of temperature, columns powers of the mass fraction.
type Surface = (&'static [f64], &'static [f64], &'static [f64], &'static [f64]);

/// All coefficients of one glycol.
pub(super) struct Correlation {
    mean_mass_fraction: f64,
    mean_temperature_c: f64,
    /// °C, powers of the mass fraction only.
    freezing_point: &'static [f64],
    /// kg/m³.
    density: Surface,
    /// J/(kg K).
    heat_capacity: Surface,
    /// Natural logarithm of the viscosity in mPa·s.
    ln_viscosity: Surface,
}

const PROPYLENE: Correlation = Correlation {
    mean_mass_fraction: 0.307031,
    mean_temperature_c: 32.7083,
    freezing_point: &[-13.25, -66.31, -109.4, -228.3, -340.9, 146.5],
    density: (
        &[1018.0, 76.04, -24.98, -155.0, -113.1, 234.2],
        &[-0.5406, -0.945, 0.27, 2.829, -2.221],
        &[-0.002666, 0.005541, -0.004018, -0.007175],
        &[1.347e-5, -1.343e-5, 3.376e-5],
    ),
    heat_capacity: (
        &[3882.0, -1304.0, -1598.0, 353.9, 5000.0, -4959.0],
        &[2.699, 5.07, 0.9534, 31.02, -71.35],
        &[-0.001659, -0.004752, 0.1167, -0.295],
        &[-1.032e-5, 0.0001522, -0.000487],
    ),
    ln_viscosity: (
        &[0.6837, 3.328, 0.5453, -3.9, -1.587, 35.64],
        &[-0.03045, -0.03984, -0.00086, 0.1054, 0.04475],
        &[0.0002525, 0.0004332, -0.0001593, -0.001589],
        &[-1.399e-6, -1.86e-6, -4.465e-7],
    ),
};

const ETHYLENE: Correlation = Correlation {
    mean_mass_fraction: 0.308462,
    mean_temperature_c: 31.728,
    freezing_point: &[-15.25, -80.8, -133.4, -72.93, 100.6, 11.4],
    density: (
        &[1034.0, 131.1, 0.749, -106.2, -96.23, 489.1],
        &[-0.4781, -0.6876, 0.7855, 1.229, -7.211],
        &[-0.002692, 0.004805, -0.003995, -0.01153],
        &[4.725e-6, 1.69e-6, 4.982e-5],
    ),
    heat_capacity: (
        &[3737.0, -1799.0, -993.3, 2610.0, 1537.0, -16180.0],
        &[2.93, 10.46, 3.516, -1.189, -42.72],
        &[-0.004675, -0.04147, 0.05109, -0.1643],
        &[-1.389e-5, 1.847e-5, -0.0007138],
    ),
    ln_viscosity: (
        &[0.4705, 2.471, 0.03328, 1.659, 3.089, -18.65],
        &[-0.0255, -0.01171, 0.01086, 0.003157, 0.01831],
        &[0.0001782, 0.0001052, 0.0001051, 0.0004063],
        &[-7.669e-7, -1.634e-6, -6.475e-6],
    ),
};

/// The correlation of a glycol; none for water.
pub(super) fn correlation(kind: FluidKind) -> Option<&'static Correlation> {
    match kind {
        FluidKind::Water => None,
        FluidKind::PropyleneGlycol => Some(&PROPYLENE),
        FluidKind::EthyleneGlycol => Some(&ETHYLENE),
    }
}

impl Correlation {
    /// Properties at a mass fraction and a temperature; the caller keeps to the range.
    pub(super) fn properties(&self, mass_fraction: f64, temperature_c: f64) -> FluidProperties {
        let x = mass_fraction - self.mean_mass_fraction;
        let t = temperature_c - self.mean_temperature_c;
        FluidProperties {
            temperature_c,
            density_kg_per_m3: surface(&self.density, x, t),
            dynamic_viscosity_pa_s: 1.0e-3 * surface(&self.ln_viscosity, x, t).exp(),
            heat_capacity_j_per_kg_k: surface(&self.heat_capacity, x, t),
        }
    }

    /// Temperature of the first ice crystals, °C; never above water's, which the polynomial meets within 0.03 K.
    pub(super) fn freezing_point_c(&self, mass_fraction: f64) -> f64 {
        polynomial(self.freezing_point, mass_fraction - self.mean_mass_fraction).min(0.0)
    }
}

/// `Σ C_ij x^i t^j`.
fn surface((c0, c1, c2, c3): &Surface, x: f64, t: f64) -> f64 {
    polynomial(c0, x) + t * (polynomial(c1, x) + t * (polynomial(c2, x) + t * polynomial(c3, x)))
}

/// `Σ c_i x^i` by Horner's rule.
fn polynomial(coefficients: &[f64], x: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

#[cfg(test)]
mod tests {
    use super::super::water;
    use super::*;

    /// Without glycol the polynomials must meet water: the numbers the room's own page promises.
    #[test]
    fn zero_share_meets_water() {
        for correlation in [&PROPYLENE, &ETHYLENE] {
            assert!(correlation.freezing_point_c(0.0).abs() < 0.03);
            for temperature_c in (0..=100).map(f64::from) {
                let mixture = correlation.properties(0.0, temperature_c);
                let water = water::properties(temperature_c);
                let close = |a: f64, b: f64, tolerance: f64| (a / b - 1.0).abs() < tolerance;
                assert!(close(mixture.density_kg_per_m3, water.density_kg_per_m3, 0.0011));
                assert!(close(mixture.dynamic_viscosity_pa_s, water.dynamic_viscosity_pa_s, 0.02));
                assert!(close(mixture.heat_capacity_j_per_kg_k, water.heat_capacity_j_per_kg_k, 0.002));
            }
        }
    }

    /// Cold glycol is thick and warm glycol thin, over the whole range, without a kink from the polynomials.
    #[test]
    fn viscosity_falls_with_temperature_and_rises_with_share() {
        for correlation in [&PROPYLENE, &ETHYLENE] {
            for percent in 1..=60 {
                let share = f64::from(percent) / 100.0;
                let lowest_c = correlation.freezing_point_c(share);
                let viscosity = |x: f64, t: f64| correlation.properties(x, t).dynamic_viscosity_pa_s;
                for step in 0..100 {
                    let t = lowest_c + f64::from(step) / 100.0 * (100.0 - lowest_c);
                    assert!(viscosity(share, t) > viscosity(share, t + 0.5));
                    assert!(viscosity(share, t) > viscosity(share - 0.01, t));
                }
            }
        }
    }
}

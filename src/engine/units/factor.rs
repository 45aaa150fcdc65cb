//! Conversion: the step between a unit and the inside unit, and the factors that are built from more than one unit.
//!
//! `inside = shown · k` with k the size of the unit; °F alone has an offset, °C = (°F − 32) / 1.8 (definition).

use super::Unit;
use uom::Conversion;
use uom::si::{energy, length, pressure, time, volume_rate};

/// Freezing point of water on the Fahrenheit scale, by definition of the scale.
const FAHRENHEIT_ZERO_CELSIUS: f64 = 32.0;

/// Degrees Fahrenheit in one kelvin, by definition of the scale.
const FAHRENHEIT_PER_KELVIN: f64 = 1.8;

/// Size of a `uom` unit in the coherent SI unit of its quantity.
pub(super) fn coefficient<U: Conversion<f64, T = f64>>() -> f64 {
    U::coefficient()
}

/// Ton of refrigeration in W: 12 000 Btu/h by definition.
pub(super) fn ton_of_refrigeration_w() -> f64 {
    12_000.0 * coefficient::<energy::btu_it>() / coefficient::<time::hour>()
}

/// One foot of water per hundred feet of pipe in Pa/m, with the conventional foot of water of 2989.067 Pa (density
/// 1000 kg/m³, g 9.80665 m/s²): 98.0665 Pa/m. Warmer or denser fluids would differ; the convention does not.
pub(super) fn foot_water_per_100_ft_pa_per_m() -> f64 {
    coefficient::<pressure::foot_of_water>() / (100.0 * coefficient::<length::foot>())
}

/// Kv of a valve whose Cv is 1, about 0.865: from Q = Kv √(Δp/bar) in m³/h and Q = Cv √(Δp/psi) in gpm (definitions,
/// IEC 60534-2-1), both of the same water.
pub(super) fn cv_in_kv() -> f64 {
    let gpm_in_m3_per_h =
        coefficient::<volume_rate::gallon_per_minute>() / coefficient::<volume_rate::cubic_meter_per_hour>();
    gpm_in_m3_per_h * (coefficient::<pressure::bar>() / coefficient::<pressure::psi>()).sqrt()
}

impl Unit {
    /// Turns a number in this unit into the inside unit of its quantity.
    pub fn to_si(self, shown: f64) -> f64 {
        if self == Self::DegreeFahrenheit {
            // Not through kelvin, whose 273.15 would leave rounding dust on whole degrees.
            return (shown - FAHRENHEIT_ZERO_CELSIUS) / FAHRENHEIT_PER_KELVIN;
        }
        match whole_inverse(self.factor()) {
            Some(inverse) => shown / inverse,
            None => shown * self.factor(),
        }
    }

    /// Turns a number in the inside unit into this unit.
    pub fn from_si(self, inside: f64) -> f64 {
        if self == Self::DegreeFahrenheit {
            return inside * FAHRENHEIT_PER_KELVIN + FAHRENHEIT_ZERO_CELSIUS;
        }
        match whole_inverse(self.factor()) {
            Some(inverse) => inside * inverse,
            None => inside / self.factor(),
        }
    }
}

/// The inverse of a factor such as 0.01 when it is a whole number: dividing by 100 rounds once, so a whole 7 %
/// becomes 0.07 and not 0.070 000 000 000 000 01. The factor itself may be off by rounding.
fn whole_inverse(factor: f64) -> Option<f64> {
    let inverse = factor.recip();
    let whole = inverse.round();
    (factor < 1.0 && (inverse - whole).abs() < 1e-14 * inverse).then_some(whole)
}

//! The fluid in the circuit: water, or water with propylene or ethylene glycol.
//!
//! A [`Fluid`] is a choice (which glycol, what share by mass); [`Fluid::properties`] turns the choice and a
//! temperature into the three numbers the links need: density, dynamic viscosity and heat capacity.
//!
//! - `water`, `water_viscosity`: IAPWS equations at a reference pressure of 3 bar, 0 to 120 °C;
//! - `glycol`: Melinder's (2010) polynomials for pure glycols by mass, freezing point to 100 °C, up to 60 %;
//! - `glycol_share`: percent by volume, as glycol is sold, against percent by mass, as the tables have it;
//! - `properties`, `error`: the answer, and why there is none.
//!
//! A glycol share of exactly zero is water: it takes the water equations and water's range. The glycol
//! polynomials carried on to zero share meet those equations within about 0.1 % in density, 2 % in viscosity and
//! 0.2 % in heat capacity, so the small step there is below the uncertainty of any glycol table.

mod error;
mod glycol;
mod glycol_share;
mod properties;
mod water;
mod water_viscosity;

use std::fmt;

pub use error::FluidError;
pub use glycol::{GLYCOL_DATA_END_C, GLYCOL_MAX_MASS_FRACTION};
pub use glycol_share::{mass_to_volume_fraction, volume_to_mass_fraction};
pub use properties::FluidProperties;

/// What the circuit is filled with, apart from how much of it is glycol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FluidKind {
    /// Plain water.
    Water,
    /// Propylene glycol (propane-1,2-diol) in water.
    PropyleneGlycol,
    /// Ethylene glycol (ethane-1,2-diol) in water.
    EthyleneGlycol,
}

impl fmt::Display for FluidKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Water => "water",
            Self::PropyleneGlycol => "propylene glycol",
            Self::EthyleneGlycol => "ethylene glycol",
        })
    }
}

/// A fluid: its kind and the mass of glycol per mass of mixture.
///
/// A glycol kind with a share of zero keeps its kind, so that a share dragged through zero does not lose the
/// choice of glycol; its properties are those of water and [`Fluid::is_water`] says so.
///
/// ```
/// use headwise::engine::fluid::{Fluid, FluidKind};
///
/// let mixture = Fluid::new(FluidKind::PropyleneGlycol, 0.30)?;
/// let properties = mixture.properties(52.5)?;
/// assert!((properties.density_kg_per_m3 - 1005.9).abs() < 0.1);
/// # Ok::<(), headwise::engine::fluid::FluidError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fluid {
    kind: FluidKind,
    glycol_mass_fraction: f64,
}

impl Fluid {
    /// Plain water.
    #[must_use]
    pub const fn water() -> Self {
        Self { kind: FluidKind::Water, glycol_mass_fraction: 0.0 }
    }

    /// A fluid with the glycol share by mass, 0 to [`GLYCOL_MAX_MASS_FRACTION`]; plain water takes only 0.
    pub fn new(kind: FluidKind, glycol_mass_fraction: f64) -> Result<Self, FluidError> {
        if kind == FluidKind::Water && glycol_mass_fraction != 0.0 {
            return Err(FluidError::GlycolShareOfWater { found: glycol_mass_fraction });
        }
        if !(0.0..=GLYCOL_MAX_MASS_FRACTION).contains(&glycol_mass_fraction) {
            return Err(FluidError::GlycolShareOutside {
                kind,
                found: glycol_mass_fraction,
                high: GLYCOL_MAX_MASS_FRACTION,
            });
        }
        Ok(Self { kind, glycol_mass_fraction })
    }

    /// A fluid with the glycol share by volume, as it is measured out when the system is filled.
    pub fn from_volume_fraction(kind: FluidKind, glycol_volume_fraction: f64) -> Result<Self, FluidError> {
        Self::new(kind, volume_to_mass_fraction(kind, glycol_volume_fraction)?)
    }

    /// Which glycol, or plain water.
    #[must_use]
    pub const fn kind(&self) -> FluidKind {
        self.kind
    }

    /// Mass of glycol per mass of mixture.
    #[must_use]
    pub const fn glycol_mass_fraction(&self) -> f64 {
        self.glycol_mass_fraction
    }

    /// True when there is no glycol in it, whatever its kind.
    #[must_use]
    pub fn is_water(&self) -> bool {
        self.mixture().is_none()
    }

    /// Temperature at which the first ice crystals form, °C (0 for water). Not the limit of burst protection.
    #[must_use]
    pub fn freezing_point_c(&self) -> f64 {
        self.mixture()
            .map_or(water::LOWEST_TEMPERATURE_C, |correlation| correlation.freezing_point_c(self.glycol_mass_fraction))
    }

    /// Lowest and highest temperature with known properties, °C: freezing point to 120 (water) or 100 (glycol).
    #[must_use]
    pub fn temperature_range_c(&self) -> (f64, f64) {
        let highest = if self.is_water() { water::HIGHEST_TEMPERATURE_C } else { glycol::HIGHEST_TEMPERATURE_C };
        (self.freezing_point_c(), highest)
    }

    /// True where the glycol correlation is carried on beyond the measurements it was fitted to.
    ///
    /// That is above [`GLYCOL_DATA_END_C`]; water is never extrapolated inside its range.
    #[must_use]
    pub fn is_extrapolated(&self, temperature_c: f64) -> bool {
        !self.is_water() && temperature_c > GLYCOL_DATA_END_C
    }

    /// Density, viscosity and heat capacity at a temperature inside [`Fluid::temperature_range_c`].
    ///
    /// Water: IAPWS-IF97 and R12-08 at 3 bar. Glycols: Melinder (2010).
    pub fn properties(&self, temperature_c: f64) -> Result<FluidProperties, FluidError> {
        self.check_temperature(temperature_c)?;
        Ok(match self.mixture() {
            Some(correlation) => correlation.properties(self.glycol_mass_fraction, temperature_c),
            None => water::properties(temperature_c),
        })
    }

    /// Absolute pressure at which the fluid begins to boil, Pa, inside [`Fluid::temperature_range_c`].
    ///
    /// Water: IAPWS-IF97 eq. 30. Glycols: Raoult's law `p = y_w p_sat(T)` with `y_w` the mole fraction of
    /// water; the glycol's own share is left out (from memory: pure glycol has 2 % of water's vapour pressure at
    /// 100 °C, less when colder). An estimate of a few percent; against cavitation, water's own value is the
    /// cautious one. Below 0 °C eq. 30 is carried on over supercooled water, within 2 % of Murphy & Koop (2005)
    /// down to -50 °C.
    pub fn vapour_pressure_pa(&self, temperature_c: f64) -> Result<f64, FluidError> {
        self.check_temperature(temperature_c)?;
        let water_mole_fraction = glycol_share::water_mole_fraction(self.kind, self.glycol_mass_fraction);
        Ok(water_mole_fraction * water::saturation_pressure_pa(temperature_c))
    }

    /// The glycol correlation, or none where the fluid is water.
    fn mixture(&self) -> Option<&'static glycol::Correlation> {
        if self.glycol_mass_fraction > 0.0 { glycol::correlation(self.kind) } else { None }
    }

    fn check_temperature(&self, temperature_c: f64) -> Result<(), FluidError> {
        let (low_c, high_c) = self.temperature_range_c();
        if (low_c..=high_c).contains(&temperature_c) {
            return Ok(());
        }
        Err(FluidError::TemperatureOutside { fluid: *self, found_c: temperature_c, low_c, high_c })
    }
}

impl Default for Fluid {
    fn default() -> Self {
        Self::water()
    }
}

impl fmt::Display for Fluid {
    /// For sentences: "water", "30.0 % by mass propylene glycol".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_water() {
            return f.write_str("water");
        }
        let percent = 100.0 * self.glycol_mass_fraction;
        write!(f, "{percent:.1} % by mass {}", self.kind)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_glycol_is_water_but_remembers_its_kind() {
        for kind in [FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol] {
            let none = Fluid::new(kind, 0.0);
            assert_eq!(none.map(|fluid| fluid.kind()), Ok(kind));
            assert_eq!(none.map(|fluid| fluid.is_water()), Ok(true));
            assert_eq!(none.and_then(|fluid| fluid.properties(110.0)), Fluid::water().properties(110.0));
        }
    }

    #[test]
    fn shares_outside_the_tables_are_refused() {
        for share in [-0.01, 0.61, f64::NAN] {
            assert!(Fluid::new(FluidKind::EthyleneGlycol, share).is_err());
        }
        assert!(Fluid::new(FluidKind::Water, 0.1).is_err());
        assert!(Fluid::new(FluidKind::Water, 0.0).is_ok());
    }

    #[test]
    fn temperatures_outside_the_range_are_refused() {
        for temperature_c in [-0.1, 120.1, f64::NAN, f64::INFINITY] {
            assert!(Fluid::water().properties(temperature_c).is_err());
            assert!(Fluid::water().vapour_pressure_pa(temperature_c).is_err());
        }
    }
}

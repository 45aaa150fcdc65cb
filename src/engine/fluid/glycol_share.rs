//! Shares of glycol: by volume (as it is sold and poured), by mass (as the tables have it), by moles (as
//! vapour pressure takes it).
//!
//! Percent by volume means volumes before mixing, at 20 °C; the mixture is a little denser than their sum,
//! which this convention leaves out on purpose. Densities at 20 °C and 1 atm: water 998.2061 (IAPWS-IF97),
//! propylene glycol 1036.3644 (CoolProp 8.0.0), ethylene glycol 1113.3892 kg/m³ (thermo 0.6.1). Molar masses
//! from the standard atomic weights.

use super::{FluidError, FluidKind};

const WATER_DENSITY_KG_PER_M3: f64 = 998.2061;
const WATER_MOLAR_MASS_G_PER_MOL: f64 = 18.015;

/// Density at 20 °C, kg/m³, and molar mass, g/mol, of the pure glycol; none for water.
fn pure_glycol(kind: FluidKind) -> Option<(f64, f64)> {
    match kind {
        FluidKind::Water => None,
        FluidKind::PropyleneGlycol => Some((1036.3644, 76.095)),
        FluidKind::EthyleneGlycol => Some((1113.3892, 62.068)),
    }
}

/// Mass fraction of glycol from its volume fraction: `x = φ ρ_g / (φ ρ_g + (1 - φ) ρ_w)`.
///
/// φ: volume of glycol per sum of the volumes before mixing, 0 to 1; `ρ_g`, `ρ_w`: densities of the pure liquids at
/// 20 °C, kg/m³. Water takes only φ = 0.
///
/// ```
/// use headwise::engine::fluid::{FluidKind, volume_to_mass_fraction};
///
/// let mass_fraction = volume_to_mass_fraction(FluidKind::EthyleneGlycol, 0.30)?;
/// assert!((mass_fraction - 0.323).abs() < 0.001);
/// # Ok::<(), headwise::engine::fluid::FluidError>(())
/// ```
pub fn volume_to_mass_fraction(kind: FluidKind, volume_fraction: f64) -> Result<f64, FluidError> {
    let density = glycol_density(kind, volume_fraction)?;
    let glycol = volume_fraction * density;
    let water = (1.0 - volume_fraction) * WATER_DENSITY_KG_PER_M3;
    Ok(glycol / (glycol + water))
}

/// Volume fraction of glycol from its mass fraction: `φ = (x / ρ_g) / (x / ρ_g + (1 - x) / ρ_w)`.
///
/// x: mass of glycol per mass of mixture, 0 to 1; the rest as in [`volume_to_mass_fraction`].
pub fn mass_to_volume_fraction(kind: FluidKind, mass_fraction: f64) -> Result<f64, FluidError> {
    let density = glycol_density(kind, mass_fraction)?;
    let glycol = mass_fraction / density;
    let water = (1.0 - mass_fraction) / WATER_DENSITY_KG_PER_M3;
    Ok(glycol / (glycol + water))
}

/// Density of the glycol once the share is found to be one; water with no glycol counts as its own.
fn glycol_density(kind: FluidKind, share: f64) -> Result<f64, FluidError> {
    match pure_glycol(kind) {
        None if share != 0.0 => Err(FluidError::GlycolShareOfWater { found: share }),
        None => Ok(WATER_DENSITY_KG_PER_M3),
        Some(_) if !(0.0..=1.0).contains(&share) => Err(FluidError::NotAShare { kind, found: share }),
        Some((density, _)) => Ok(density),
    }
}

/// Moles of water per moles of mixture: `y_w = ((1 - x)/M_w) / ((1 - x)/M_w + x/M_g)`.
pub(super) fn water_mole_fraction(kind: FluidKind, mass_fraction: f64) -> f64 {
    let Some((_, molar_mass)) = pure_glycol(kind) else {
        return 1.0;
    };
    let water = (1.0 - mass_fraction) / WATER_MOLAR_MASS_G_PER_MOL;
    water / (water + mass_fraction / molar_mass)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn conversions_invert_each_other() {
        for kind in [FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol] {
            for share in (0..=20).map(|step| f64::from(step) / 20.0) {
                let back = volume_to_mass_fraction(kind, share).and_then(|mass| mass_to_volume_fraction(kind, mass));
                assert!(back.is_ok_and(|back| (back - share).abs() < 1e-12));
            }
        }
    }

    #[test]
    fn what_is_not_a_share_is_refused() {
        for share in [-0.1, 1.1, f64::NAN] {
            assert!(volume_to_mass_fraction(FluidKind::PropyleneGlycol, share).is_err());
            assert!(mass_to_volume_fraction(FluidKind::Water, share).is_err());
        }
        assert_eq!(volume_to_mass_fraction(FluidKind::Water, 0.0), Ok(0.0));
    }

    /// Equal moles are masses in the ratio of the molar masses.
    #[test]
    fn equal_moles_have_half_water() {
        let mass_fraction = 62.068 / (62.068 + 18.015);
        let found = water_mole_fraction(FluidKind::EthyleneGlycol, mass_fraction);
        assert!((found - 0.5).abs() < 1e-12);
    }
}

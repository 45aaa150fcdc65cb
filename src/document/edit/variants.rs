//! Variants of settings and the figures that results are judged by: energy, uncertainty, combinations of zones.

use super::{DRAWING, refused};
use crate::document::{Changed, CommandError, ComponentId, EnergyBasis, Project, Uncertainty, Variant};

impl Project {
    /// Gives the project other variants.
    pub(super) fn set_variants(&mut self, variants: &[Variant]) -> Result<Changed, CommandError> {
        let changed = drawing(self.variants != variants);
        self.exchange(|project| &mut project.variants, variants.to_vec(), changed)
    }

    /// Exchanges a variant's settings with the present ones of its pump.
    pub(super) fn swap_variant(&mut self, index: usize) -> Result<Changed, CommandError> {
        let variant = self.variants.get(index).ok_or(CommandError::Missing("variant"))?;
        let (pump, wanted) = (variant.pump, variant.regulation);
        let present = self.pump(pump).ok_or(CommandError::Missing("circulator"))?.regulation;
        let changed = self.set_regulation(pump, |regulation| *regulation = wanted)?;
        if let Some(variant) = self.variants.get_mut(index) {
            variant.regulation = present;
        }
        Ok(changed.and(drawing(present != wanted)))
    }

    /// Takes variants away whose pump is gone or has become something else.
    pub(super) fn forget_variants(&mut self) {
        let mut variants = std::mem::take(&mut self.variants);
        variants.retain(|variant| self.pump(variant.pump).is_some());
        self.variants = variants;
    }

    /// Whether the variants of a pump can be followed with another standby power, W.
    pub(super) fn check_variants(&self, pump: ComponentId, standby_power: f64) -> Result<(), CommandError> {
        let of_pump = self.variants.iter().filter(|variant| variant.pump == pump);
        for variant in of_pump {
            if let Err(flaw) = variant.regulation.check_for(standby_power) {
                return Err(refused(format!("variant {}: {flaw}", variant.name)));
            }
        }
        Ok(())
    }

    /// Sets what a kilowatt-hour costs and emits.
    pub(super) fn set_energy_basis(&mut self, energy: &EnergyBasis) -> Result<Changed, CommandError> {
        let changed = drawing(self.energy != *energy);
        self.exchange(|project| &mut project.energy, energy.clone(), changed)
    }

    /// Sets how far figures may be off.
    pub(super) fn set_uncertainty(&mut self, uncertainty: Uncertainty) -> Result<Changed, CommandError> {
        let changed = drawing(self.uncertainty != uncertainty);
        self.exchange(|project| &mut project.uncertainty, uncertainty, changed)
    }

    /// Sets whether every combination of open zones must be served.
    pub(super) fn set_every_combination(&mut self, wanted: bool) -> Changed {
        let before = std::mem::replace(&mut self.every_combination, wanted);
        drawing(before != wanted)
    }
}

fn drawing(differs: bool) -> Changed {
    if differs { DRAWING } else { Changed::default() }
}

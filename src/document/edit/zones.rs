//! Zones, scenarios and what the whole project is designed for.

use super::names::taken;
use super::{LAWS, STRUCTURE, refused, zone_change};
use crate::document::validity::zone_flaw;
use crate::document::{
    Acceptance, Changed, CommandError, ComponentId, DesignBasis, Project, Scenario, Zone, ZoneId, flaws,
};
use crate::engine::fluid::Fluid;

impl Project {
    /// Adds a zone.
    pub(super) fn add_zone(&mut self, zone: &Zone) -> Result<Changed, CommandError> {
        let id = self.new_zone_id()?;
        self.check_zone(id, zone)?;
        self.zones.insert(id, zone.clone());
        Ok(STRUCTURE)
    }

    /// Gives a zone other figures.
    pub(super) fn set_zone(&mut self, id: ZoneId, zone: &Zone) -> Result<Changed, CommandError> {
        let before = self.zones.get(&id).ok_or(CommandError::Missing("zone"))?;
        let changed = zone_change(before, zone);
        if changed.any() {
            self.check_zone(id, zone)?;
            self.zones.insert(id, zone.clone());
        }
        Ok(changed)
    }

    /// Takes a zone away; its emitter stays.
    pub(super) fn remove_zone(&mut self, id: ZoneId) -> Result<Changed, CommandError> {
        if !self.zones.contains_key(&id) {
            return Err(CommandError::Missing("zone"));
        }
        self.forget_zone(id);
        Ok(STRUCTURE)
    }

    /// Whether a zone can stand beside the others.
    fn check_zone(&self, id: ZoneId, zone: &Zone) -> Result<(), CommandError> {
        if zone.name.trim().is_empty() {
            return Err(refused("a zone needs a name: type one".to_owned()));
        }
        let others = self.zones.iter().filter(|(other, _)| **other != id).map(|(_, other)| other);
        if others.clone().any(|other| other.name == zone.name) {
            return Err(taken(&zone.name, "zone"));
        }
        let claims = |other: &Zone, id: ComponentId| other.emitter == id || other.valve == Some(id);
        for (what, part) in [("emitter", Some(zone.emitter)), ("valve", zone.valve)] {
            let Some(part) = part else { continue };
            if let Some(other) = others.clone().find(|other| claims(other, part)) {
                let part = self.components.get(&part).map_or("", |component| component.name.as_str());
                return Err(refused(format!(
                    "the {what} {part} belongs to zone {} already: choose another, or take it from that zone first",
                    other.name
                )));
            }
        }
        zone_flaw(self, zone).map_or(Ok(()), |flaw| Err(refused(flaw)))
    }

    /// Gives the project other scenarios.
    pub(super) fn set_scenarios(&mut self, scenarios: &[Scenario]) -> Result<Changed, CommandError> {
        let changed = Changed { drawing: self.scenarios != scenarios, ..Changed::default() };
        self.exchange(|project| &mut project.scenarios, scenarios.to_vec(), changed)
    }

    /// Gives the project another design basis.
    pub(super) fn set_design(&mut self, design: DesignBasis) -> Result<Changed, CommandError> {
        let changed = if self.design == design { Changed::default() } else { STRUCTURE };
        self.exchange(|project| &mut project.design, design, changed)
    }

    /// Fills the pipes with something else.
    pub(super) fn set_fluid(&mut self, fluid: Fluid) -> Result<Changed, CommandError> {
        let changed = if self.fluid == fluid { Changed::default() } else { STRUCTURE };
        self.exchange(|project| &mut project.fluid, fluid, changed)
    }

    /// Sets how far flows may be off.
    pub(super) fn set_acceptance(&mut self, acceptance: &Acceptance) -> Result<Changed, CommandError> {
        let changed = acceptance_change(&self.acceptance, acceptance);
        self.exchange(|project| &mut project.acceptance, acceptance.clone(), changed)
    }

    /// Puts a part in the place of another; back again if that makes a flaw.
    pub(super) fn exchange<T>(
        &mut self,
        part: impl Fn(&mut Self) -> &mut T,
        mut value: T,
        changed: Changed,
    ) -> Result<Changed, CommandError> {
        if !changed.any() {
            return Ok(changed);
        }
        std::mem::swap(part(self), &mut value);
        let after = flaws(self);
        if after.is_empty() {
            return Ok(changed);
        }
        std::mem::swap(part(self), &mut value);
        let before = flaws(self);
        match after.into_iter().find(|flaw| !before.contains(flaw)) {
            Some(flaw) => Err(refused(flaw.to_string())),
            None => {
                std::mem::swap(part(self), &mut value);
                Ok(changed)
            }
        }
    }
}

/// What another band changes: which zones count as served, and the word of who says so.
pub(super) fn acceptance_change(before: &Acceptance, after: &Acceptance) -> Changed {
    let band = (before.low, before.high) != (after.low, after.high);
    let laws = if band { LAWS } else { Changed::default() };
    laws.and(Changed { drawing: before.source != after.source, ..Changed::default() })
}

//! Figures of components and pipes.

use super::course::Place;
use super::names::put;
use super::{DRAWING, LAWS, PipeFigures, STRUCTURE, kind_change, refused};
use crate::document::validity::{component_flaw, pipe_flaw, zone_flaw};
use crate::document::{Changed, CommandError, Component, ComponentId, ComponentKind, PipeId, PipeRun, Project};
use std::collections::BTreeMap;

impl Project {
    /// Gives a component other figures, or makes it another kind with the same ports; pipes follow if those ports lie elsewhere.
    pub(super) fn set_kind(&mut self, id: ComponentId, kind: &ComponentKind) -> Result<Changed, CommandError> {
        let before = self.components.get(&id).ok_or(CommandError::Missing("component"))?;
        let changed = kind_change(&before.kind, kind);
        if !changed.any() {
            return Ok(changed);
        }
        let after = Component { kind: kind.clone(), ..before.clone() };
        self.check_kind(id, before, &after)?;
        let is_new_emitter = is_emitter(&after) && self.zone_of(id).is_none();
        let moves = before.ports().iter().any(|port| before.port_at(*port) != after.port_at(*port));
        if moves || is_new_emitter {
            return self.rebuilt(|draft| {
                draft.put_in_place(BTreeMap::from([(id, after)]));
                draft.forget_variants();
                if is_new_emitter {
                    let zone = draft.new_zone_id()?;
                    draft.zones.insert(zone, draft.usual_zone(id));
                }
                Ok(STRUCTURE)
            });
        }
        let before = self.components.insert(id, after);
        self.forget_variants();
        // The emitter's figures must go with the temperatures of its zone.
        let zone = self.zones.values().find(|zone| zone.emitter == id);
        if let Some(flaw) = zone.and_then(|zone| zone_flaw(self, zone)) {
            self.components.extend(before.map(|before| (id, before)));
            return Err(refused(flaw));
        }
        Ok(changed)
    }

    /// Whether a component can become another kind.
    fn check_kind(&self, id: ComponentId, before: &Component, after: &Component) -> Result<(), CommandError> {
        let (name, other) = (&before.name, after.kind_name());
        if before.ports() != after.ports() {
            return Err(refused(format!(
                "{name} cannot become a {other}, which has other ports: add a {other} and join it instead"
            )));
        }
        let zone = self.zone_of(id).and_then(|zone| self.zones.get(&zone));
        if let Some(zone) = zone.filter(|zone| zone.emitter == id && !is_emitter(after)) {
            let zone = &zone.name;
            return Err(refused(format!(
                "{name} serves zone {zone} and cannot become a {other}: remove the zone first"
            )));
        }
        if let Some(zone) = zone.filter(|zone| zone.valve == Some(id) && after.is_open().is_none()) {
            let zone = &zone.name;
            return Err(refused(format!(
                "{name} shuts zone {zone}, which a {other} cannot: give the zone another valve or none first"
            )));
        }
        if let ComponentKind::Pump(unit) = &after.kind {
            self.check_variants(id, unit.standby_power)?;
        }
        component_flaw(self, after).map_or(Ok(()), |flaw| Err(refused(flaw)))
    }

    /// Gives a pipe other figures.
    pub(super) fn set_pipe(&mut self, id: PipeId, figures: &PipeFigures) -> Result<Changed, CommandError> {
        let before = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        let PipeFigures { length, size, bore, roughness, ref fittings, minor_k } = *figures;
        let fittings = fittings.clone();
        let after = PipeRun { length, size, bore, roughness, fittings, minor_k, ..before.clone() };
        if let Some(flaw) = pipe_flaw(self, &after) {
            return Err(refused(flaw));
        }
        let changed = run_change(before, &after);
        if changed.any() {
            self.pipes.insert(id, after);
        }
        Ok(changed)
    }

    /// Gives a pipe other corners.
    pub(super) fn set_bends(&mut self, id: PipeId, bends: &[Place]) -> Result<Changed, CommandError> {
        let before = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        if before.bends == bends {
            return Ok(Changed::default());
        }
        let after = PipeRun { bends: bends.to_vec(), ..before.clone() };
        if let Some(flaw) = pipe_flaw(self, &after) {
            return Err(refused(flaw));
        }
        self.pipes.insert(id, after);
        Ok(DRAWING)
    }

    /// Gives the project another title.
    pub(super) fn set_title(&mut self, title: &str) -> Changed {
        put(&mut self.title, title)
    }
}

fn is_emitter(component: &Component) -> bool {
    matches!(component.kind, ComponentKind::Emitter(_))
}

/// What another run between the same ends changes.
pub(super) fn run_change(before: &PipeRun, after: &PipeRun) -> Changed {
    let figures = PipeFigures::of(before) != PipeFigures::of(after);
    match (before.is_joint(), after.is_joint()) {
        (true, false) | (false, true) => STRUCTURE,
        (false, false) if figures => LAWS,
        // A joint's bore is kept for later and moves no water now.
        (true, true) if figures => DRAWING,
        _ => Changed::default(),
    }
}

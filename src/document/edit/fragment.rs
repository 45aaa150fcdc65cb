//! Copying a part of a drawing and putting it down again.

use super::STRUCTURE;
use super::course::Place;
use super::names::Names;
use crate::document::{
    Changed, CommandError, Component, ComponentId, ComponentKind, PipeId, PipeRun, PortRef, Project, Zone, ZoneId,
};
use std::collections::{BTreeMap, BTreeSet};

/// A copied part of a drawing: components, the pipes between them, and the zones whose emitter is among them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fragment {
    components: BTreeMap<ComponentId, Component>,
    pipes: BTreeMap<PipeId, PipeRun>,
    zones: BTreeMap<ZoneId, Zone>,
}

impl Fragment {
    /// A copy of some components of a project.
    #[must_use]
    pub fn of(project: &Project, components: &BTreeSet<ComponentId>) -> Self {
        let has = |id: ComponentId| components.contains(&id);
        let is_inside = |pipe: &PipeRun| has(pipe.from.component) && has(pipe.to.component);
        let (parts, pipes) = (project.components.iter(), project.pipes.iter());
        Self {
            components: parts.filter(|(id, _)| has(**id)).map(|(id, part)| (*id, part.clone())).collect(),
            pipes: pipes.filter(|(_, pipe)| is_inside(pipe)).map(|(id, pipe)| (*id, pipe.clone())).collect(),
            zones: project.zones.iter().filter(|(_, z)| has(z.emitter)).map(|(id, zone)| (*id, zone.clone())).collect(),
        }
    }

    /// Whether there is nothing in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.components.is_empty()
    }

    /// The centre of its components on the drawing it was copied from, in grid steps.
    #[must_use]
    pub fn center(&self) -> [f64; 2] {
        let middle = |axis: usize| {
            let places = || self.components.values().map(|component| component.at[axis]);
            let (least, greatest) = (places().reduce(f64::min), places().reduce(f64::max));
            least.zip(greatest).map_or(0.0, |(least, greatest)| 0.5 * (least + greatest))
        };
        [middle(0), middle(1)]
    }

    /// Its components where they were copied from, for a picture under the pointer.
    #[must_use]
    pub fn components(&self) -> &BTreeMap<ComponentId, Component> {
        &self.components
    }
}

impl Project {
    /// Puts a fragment down with its centre at a place, moved by whole grid steps. Everything gets a new identity, and every name
    /// its next number that is free; a zone keeps its valve only if that was copied too. A copied circulator is another device:
    /// what is one device's alone, its address and its serial number, is not copied.
    pub(super) fn paste(&mut self, fragment: &Fragment, at: Place) -> Result<Changed, CommandError> {
        if fragment.is_empty() {
            return Ok(Changed::default());
        }
        let center = fragment.center();
        let shift = [0, 1].map(|axis| (at[axis] - center[axis]).round());
        let moved = |[x, y]: Place| [x + shift[0], y + shift[1]];
        let mut names = Names::of(self.components.values().map(|component| &component.name));
        let mut new_ids = BTreeMap::new();
        let last = self.components.keys().next_back().map_or(0, |id| id.0);
        for (id, component) in &fragment.components {
            let new = ComponentId(number(last, new_ids.len())?);
            let name = names.for_copy(&component.name);
            let mut copy = Component { name, at: moved(component.at), ..component.clone() };
            if let ComponentKind::Pump(unit) = &mut copy.kind {
                unit.address.clear();
                unit.register.serial.clear();
            }
            self.components.insert(new, copy);
            new_ids.insert(*id, new);
        }
        let new_end = |end: PortRef| new_ids.get(&end.component).map(|new| PortRef { component: *new, ..end });
        let mut names = Names::of(self.pipes.values().map(|pipe| &pipe.name));
        let last = self.pipes.keys().next_back().map_or(0, |id| id.0);
        for (index, pipe) in fragment.pipes.values().enumerate() {
            let (Some(from), Some(to)) = (new_end(pipe.from), new_end(pipe.to)) else { continue };
            let name = if pipe.name.is_empty() { String::new() } else { names.for_copy(&pipe.name) };
            let bends = pipe.bends.iter().copied().map(moved).collect();
            self.pipes.insert(PipeId(number(last, index)?), PipeRun { name, from, to, bends, ..pipe.clone() });
        }
        let mut names = Names::of(self.zones.values().map(|zone| &zone.name));
        let last = self.zones.keys().next_back().map_or(0, |id| id.0);
        for (index, zone) in fragment.zones.values().enumerate() {
            let Some(emitter) = new_ids.get(&zone.emitter).copied() else { continue };
            let valve = zone.valve.and_then(|valve| new_ids.get(&valve).copied());
            let name = names.for_copy(&zone.name);
            self.zones.insert(ZoneId(number(last, index)?), Zone { name, emitter, valve, ..zone.clone() });
        }
        Ok(STRUCTURE)
    }
}

/// The number after the last one and so many more.
fn number(last: u32, more: usize) -> Result<u32, CommandError> {
    let more = u32::try_from(more).ok().and_then(|more| more.checked_add(1));
    more.and_then(|more| last.checked_add(more)).ok_or_else(super::full)
}

//! Branches: what lies in a row with an emitter, with nothing branching off between.

use super::{ComponentId, ComponentKind, PipeRun, Port, PortRef, Project, ZoneId};
use std::collections::{BTreeMap, BTreeSet};

impl Project {
    /// What lies in a row with a component, with nothing branching off between; gauges aside, for nothing flows to them.
    #[must_use]
    pub fn in_a_row(&self, id: ComponentId) -> BTreeSet<ComponentId> {
        row(self, id)
    }

    /// The valves that can shut an emitter off: those in its branch that belong to no other zone.
    #[must_use]
    pub fn branch_valves(&self, emitter: ComponentId) -> BTreeSet<ComponentId> {
        let taken: BTreeSet<ComponentId> =
            self.zones.values().filter(|zone| zone.emitter != emitter).filter_map(|zone| zone.valve).collect();
        let shuts = |id: &ComponentId| self.components.get(id).is_some_and(|component| component.is_open().is_some());
        row(self, emitter).into_iter().filter(|id| shuts(id) && !taken.contains(id)).collect()
    }

    /// The zone that a component belongs to: as its emitter or its valve, or because it lies in a row with its emitter.
    #[must_use]
    pub fn branch_zone(&self, id: ComponentId) -> Option<ZoneId> {
        let found = row(self, id);
        let mut zones = self.zones.iter();
        self.zone_of(id).or_else(|| zones.find(|(_, zone)| found.contains(&zone.emitter)).map(|(id, _)| *id))
    }

    /// Gives the zone in whose branch a component now lies a valve from there, if it has none: one that a controller or a
    /// person works to shut the zone, not one that only shuts a part off for repair.
    pub(super) fn adopt_valve(&mut self, id: ComponentId) {
        let is_emitter = |id: &ComponentId| {
            self.components.get(id).is_some_and(|component| matches!(component.kind, ComponentKind::Emitter(_)))
        };
        let mut here = row(self, id);
        here.insert(id);
        let mut emitters = here.into_iter().filter(is_emitter);
        let (Some(emitter), None) = (emitters.next(), emitters.next()) else { return };
        let works_zone = |id: &ComponentId| {
            self.components.get(id).is_some_and(|component| {
                matches!(
                    component.kind,
                    ComponentKind::ZoneValve { .. }
                        | ComponentKind::ControlValve { .. }
                        | ComponentKind::PressureIndependentValve { .. }
                )
            })
        };
        let valve = self.branch_valves(emitter).into_iter().find(works_zone);
        let mut zones = self.zones.values_mut();
        if let Some(zone) = zones.find(|zone| zone.emitter == emitter && zone.valve.is_none()) {
            zone.valve = valve;
        }
    }
}

/// What lies in a row with a component.
fn row(project: &Project, id: ComponentId) -> BTreeSet<ComponentId> {
    let mut pipes: BTreeMap<PortRef, Vec<&PipeRun>> = BTreeMap::new();
    let is_gauge = |end: PortRef| project.components.get(&end.component).is_some_and(|c| c.kind.is_gauge());
    for pipe in project.pipes.values().filter(|pipe| !is_gauge(pipe.from) && !is_gauge(pipe.to)) {
        pipes.entry(pipe.from).or_default().push(pipe);
        pipes.entry(pipe.to).or_default().push(pipe);
    }
    let mut found = BTreeSet::new();
    for port in [Port::Inlet, Port::Outlet] {
        along(project, &pipes, PortRef { component: id, port }, &mut found);
    }
    found
}

/// Collects what lies in a row from a port outwards.
fn along(
    project: &Project,
    pipes: &BTreeMap<PortRef, Vec<&PipeRun>>,
    start: PortRef,
    found: &mut BTreeSet<ComponentId>,
) {
    let (mut at, mut by): (PortRef, Option<&PipeRun>) = (start, None);
    // A row is no longer than all there is; a ring ends there too.
    for _ in 0..=project.components.len() {
        let here = pipes.get(&at).map_or(&[][..], Vec::as_slice);
        let mut onwards = here.iter().filter(|pipe| !by.is_some_and(|by| std::ptr::eq(by, **pipe)));
        let (Some(&pipe), None) = (onwards.next(), onwards.next()) else { return };
        let entered = if pipe.from == at { pipe.to } else { pipe.from };
        let Some(component) = project.components.get(&entered.component) else { return };
        (at, by) = match (&component.kind, entered.port) {
            (ComponentKind::Source(_) | ComponentKind::Separator { .. } | ComponentKind::ThreeWayValve(_), _) => return,
            // A row through an emitter ends there: what lies behind is told from its other side.
            (ComponentKind::Emitter(_), _) => {
                found.insert(entered.component);
                return;
            }
            (_, Port::Inlet) => (PortRef { port: Port::Outlet, ..entered }, None),
            (_, Port::Outlet) => (PortRef { port: Port::Inlet, ..entered }, None),
            // Where just two pipes meet nothing branches off.
            _ => (entered, Some(pipe)),
        };
        found.insert(entered.component);
    }
}

//! What lies in one row: which zone's water a thermostatic valve throttles.

use super::{Component, ComponentId, ComponentKind, PipeRun, Port, PortRef, Project, ZoneId};
use std::collections::BTreeMap;

impl Project {
    /// The zone whose emitter each thermostatic valve throttles: the one that lies in a row with it, with nothing branching off
    /// between. A valve without such an emitter is not in the list.
    #[must_use]
    pub fn thermostatic_zones(&self) -> BTreeMap<ComponentId, ZoneId> {
        let is_valve = |c: &Component| matches!(c.kind, ComponentKind::ThermostaticValve { .. });
        if !self.components.values().any(is_valve) {
            return BTreeMap::new();
        }
        // Nothing flows to a gauge, so nothing branches off where one hangs.
        let is_gauge = |end: PortRef| self.components.get(&end.component).is_some_and(|c| c.kind.is_gauge());
        let flows = self.pipes.values().filter(|pipe| !is_gauge(pipe.from) && !is_gauge(pipe.to));
        let mut pipes: Vec<(PortRef, &PipeRun)> = flows.flat_map(|pipe| [(pipe.from, pipe), (pipe.to, pipe)]).collect();
        pipes.sort_by_key(|(port, _)| *port);
        let valves = self.components.iter().filter(|(_, c)| is_valve(c));
        // The first zone of each emitter, if a drawing in the making has several.
        let zones: BTreeMap<ComponentId, ZoneId> =
            self.zones.iter().rev().map(|(id, zone)| (zone.emitter, *id)).collect();
        let zone = |id: ComponentId| {
            let ends = [Port::Inlet, Port::Outlet].map(|port| PortRef { component: id, port });
            ends.into_iter().find_map(|end| self.zone_along(&pipes, &zones, end)).map(|zone| (id, zone))
        };
        valves.filter_map(|(id, _)| zone(*id)).collect()
    }

    /// Follows a row of pipes and components from a port outwards to the first emitter of a zone.
    fn zone_along(
        &self,
        pipes: &[(PortRef, &PipeRun)],
        zones: &BTreeMap<ComponentId, ZoneId>,
        start: PortRef,
    ) -> Option<ZoneId> {
        let (mut at, mut by): (PortRef, Option<&PipeRun>) = (start, None);
        // A row is no longer than all there is; a ring ends there too.
        for _ in 0..=self.components.len() {
            let here = pipes.get(pipes.partition_point(|(port, _)| *port < at)..)?;
            let here = here.iter().take_while(|(port, _)| *port == at).map(|(_, pipe)| *pipe);
            let mut onwards = here.filter(|pipe| !by.is_some_and(|by| std::ptr::eq(by, *pipe)));
            let (Some(pipe), None) = (onwards.next(), onwards.next()) else { return None };
            let entered = if pipe.from == at { pipe.to } else { pipe.from };
            let Component { kind, .. } = self.components.get(&entered.component)?;
            (at, by) = match (kind, entered.port) {
                (ComponentKind::Emitter(_), _) => return zones.get(&entered.component).copied(),
                (ComponentKind::Source(_) | ComponentKind::Separator { .. } | ComponentKind::ThreeWayValve(_), _) => {
                    return None;
                }
                (_, Port::Inlet) => (PortRef { port: Port::Outlet, ..entered }, None),
                (_, Port::Outlet) => (PortRef { port: Port::Inlet, ..entered }, None),
                // Where just two pipes meet nothing branches off.
                _ => (entered, Some(pipe)),
            };
        }
        None
    }
}

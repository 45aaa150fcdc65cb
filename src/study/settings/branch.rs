//! A zone's branch: what lies in a row with its emitter, with nothing branching off between.

use crate::document::{ComponentId, ComponentKind, PipeRun, Port, PortRef, Project, ZoneId};
use std::collections::{BTreeMap, BTreeSet};

/// The components in a row with a zone's emitter, the emitter aside.
fn row_of(project: &Project, zone: ZoneId) -> BTreeSet<ComponentId> {
    let mut found = BTreeSet::new();
    let Some(zone) = project.zones.get(&zone) else { return found };
    let is_gauge = |end: PortRef| project.components.get(&end.component).is_some_and(|c| c.kind.is_gauge());
    let mut at: BTreeMap<PortRef, Vec<&PipeRun>> = BTreeMap::new();
    for pipe in project.pipes.values().filter(|pipe| !is_gauge(pipe.from) && !is_gauge(pipe.to)) {
        at.entry(pipe.from).or_default().push(pipe);
        at.entry(pipe.to).or_default().push(pipe);
    }
    for start in [Port::Inlet, Port::Outlet] {
        let mut here = PortRef { component: zone.emitter, port: start };
        let mut came_by: Option<&PipeRun> = None;
        // A row is no longer than all there is; a ring ends there too.
        for _ in 0..project.components.len() {
            let onwards: Vec<&PipeRun> = at
                .get(&here)
                .into_iter()
                .flatten()
                .copied()
                .filter(|pipe| !came_by.is_some_and(|by| std::ptr::eq(by, *pipe)))
                .collect();
            let [pipe] = onwards.as_slice() else { break };
            let entered = if pipe.from == here { pipe.to } else { pipe.from };
            let Some(component) = project.components.get(&entered.component) else { break };
            let ends = matches!(
                component.kind,
                ComponentKind::Source(_)
                    | ComponentKind::Pump(_)
                    | ComponentKind::Emitter(_)
                    | ComponentKind::Separator { .. }
                    | ComponentKind::ThreeWayValve(_)
            );
            if ends {
                break;
            }
            (here, came_by) = match entered.port {
                Port::Inlet => (PortRef { port: Port::Outlet, ..entered }, None),
                Port::Outlet => (PortRef { port: Port::Inlet, ..entered }, None),
                _ => (entered, Some(*pipe)),
            };
            if here.port != Port::Branch && !found.insert(entered.component) {
                break;
            }
        }
    }
    found
}

/// The valves in a row with a zone's emitter.
pub(super) fn valves_of(project: &Project, zone: ZoneId) -> BTreeSet<ComponentId> {
    let is_valve = |id: &ComponentId| {
        project.components.get(id).is_some_and(|component| {
            matches!(
                component.kind,
                ComponentKind::BalancingValve { .. }
                    | ComponentKind::ZoneValve { .. }
                    | ComponentKind::ControlValve { .. }
                    | ComponentKind::ThermostaticValve { .. }
                    | ComponentKind::PressureIndependentValve { .. }
            )
        })
    };
    row_of(project, zone).into_iter().filter(is_valve).collect()
}

/// The balancing valve in a row with a zone's emitter, and its Kv.
pub(super) fn balancing_valve_of(project: &Project, zone: ZoneId) -> Option<(ComponentId, f64)> {
    row_of(project, zone).into_iter().find_map(|id| match project.components.get(&id)?.kind {
        ComponentKind::BalancingValve { kv } => Some((id, kv)),
        _ => None,
    })
}

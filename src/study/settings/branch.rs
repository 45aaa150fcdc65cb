//! The valves of a zone's branch.

use crate::document::{ComponentId, ComponentKind, Project, ZoneId};
use std::collections::BTreeSet;

/// What lies in a row with a zone's emitter.
fn row_of(project: &Project, zone: ZoneId) -> BTreeSet<ComponentId> {
    project.zones.get(&zone).map(|zone| project.in_a_row(zone.emitter)).unwrap_or_default()
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

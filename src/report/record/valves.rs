//! Presettings of a record: every valve that is set once by hand, what it is set to, whom it serves and what it does there.

use super::basis::counted;
use super::sheet::{Cell, Column, Sheet};
use super::solved::Solved;
use crate::document::{ComponentId, ComponentKind};
use crate::engine::units::{Quantity, Units};
use crate::study::path_of;
use std::collections::BTreeMap;

/// Zones behind a valve that are named one by one.
const NAMED: usize = 3;

/// Every valve that is set by hand.
pub(super) fn presettings(solved: &Solved, units: &Units) -> Sheet {
    let number = |heading: &str, quantity| Column::number(heading, quantity, units);
    let columns = vec![
        Column::text("Valve"),
        Column::text("Kind"),
        Column::text("Serves"),
        Column::text("Set to"),
        number("Flow", Quantity::Flow).under("Predicted"),
        number("Pressure drop", Quantity::Pressure).under("Predicted"),
        Column::blank("Position").under("As left"),
        Column::blank("Locked").under("As left"),
    ];
    let serves = serves(solved);
    let mut rows = Vec::new();
    for (id, component) in &solved.project.components {
        let Some(set_to) = set_to(&component.kind, units) else { continue };
        let result = solved.results().components.get(id);
        let of = |quantity, inside: Option<f64>| inside.map_or_else(Cell::none, |v| Cell::number(units, quantity, v));
        rows.push(vec![
            Cell::text(&*component.name),
            Cell::text(component.kind_name()),
            Cell::text(serves.get(id).map_or("–", String::as_str)),
            Cell::text(set_to),
            of(Quantity::Flow, result.map(|result| result.flow)),
            of(Quantity::Pressure, result.map(|result| result.drop)),
            Cell::Blank,
            Cell::Blank,
        ]);
    }
    let symbol = units.symbol(Quantity::FlowCoefficient);
    let has_coefficient = |cells: &Vec<Cell>| cells.iter().any(|cell| cell.shown().starts_with(symbol));
    let notes = match rows.iter().any(has_coefficient) {
        false => Vec::new(),
        true => vec![format!(
            "{symbol} is the flow coefficient at the presetting; its position on the valve's scale is in the valve's own table."
        )],
    };
    Sheet { key: "presettings", title: "Presettings", intro: String::new(), columns, rows, notes }
}

/// What a valve is set to by hand; `None` for all that is not.
fn set_to(kind: &ComponentKind, units: &Units) -> Option<String> {
    let coefficient = |kv: f64| units.format(Quantity::FlowCoefficient, kv);
    Some(match kind {
        ComponentKind::BalancingValve { kv } => coefficient(*kv),
        ComponentKind::PressureIndependentValve { set_flow, .. } => units.format(Quantity::Flow, *set_flow),
        ComponentKind::BypassValve { set_pressure, .. } => {
            format!("opens at {}", units.format(Quantity::Pressure, *set_pressure))
        }
        ComponentKind::ThermostaticValve { kv, set_c, .. } => {
            format!("{}, {}", coefficient(*kv), units.format(Quantity::Temperature, *set_c))
        }
        _ => return None,
    })
}

/// The zones on whose path each component lies, in words.
fn serves(solved: &Solved) -> BTreeMap<ComponentId, String> {
    let mut zones: BTreeMap<ComponentId, Vec<&str>> = BTreeMap::new();
    for zone in solved.project.zones.keys() {
        for component in path_of(&solved.project, &solved.study, *zone).components {
            zones.entry(component).or_default().push(solved.zone(*zone));
        }
    }
    let all = solved.project.zones.len();
    let words = |names: Vec<&str>| match names.len() {
        count if count == all && count > 1 => "all zones".to_owned(),
        count if count <= NAMED => names.join(", "),
        count => format!("{} and {} more", names[0], counted(count - 1, "zone")),
    };
    zones.into_iter().map(|(id, names)| (id, words(names))).collect()
}

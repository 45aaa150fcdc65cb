//! The source of heat or cold that lacks water, in people's words: the gravest thing that can be so without anyone feeling it yet.

use super::super::view::View;
use crate::document::{Component, ComponentKind};
use crate::engine::units::Quantity;

/// Share of the greatest flow through a source below which one stands by, and of its own minimum flow that counts as kept.
const NOTHING: f64 = 1e-6;

/// Words that make up names which are said with an article: "the heat pump".
const COMMON: [&str; 12] =
    ["heat", "pump", "boiler", "chiller", "source", "gas", "wood", "pellet", "oil", "electric", "condensing", "plant"];

/// "The heat pump gets too little water: 0.26 of 0.60 m³/h", of the source that lacks most; `None` while none does.
pub(super) fn short(view: &View<'_>) -> Option<String> {
    if !view.results.pumps.values().any(|pump| pump.running) {
        return None;
    }
    let sources = || {
        view.project.components.iter().filter_map(|(id, component)| match &component.kind {
            ComponentKind::Source(source) => Some((component, view.results.component_flow(*id), source.minimum_flow)),
            _ => None,
        })
    };
    let greatest = sources().map(|(_, flow, _)| flow.abs()).fold(0.0, f64::max);
    let stands_by = |flow: f64| greatest > 0.0 && flow.abs() <= NOTHING * greatest;
    let lacks =
        sources().filter(|(_, flow, least)| *least > 0.0 && *flow < least * (1.0 - NOTHING) && !stands_by(*flow));
    let (component, flow, least) = lacks.min_by(|a, b| (a.1 / a.2).total_cmp(&(b.1 / b.2)))?;
    let needs = view.units.format(Quantity::Flow, least);
    if flow < -NOTHING * least {
        return Some(format!("Water runs backwards through {}.", inside(&called(component))));
    }
    let has = view.units.number(Quantity::Flow, flow.max(0.0));
    Some(format!("{} gets too little water: {has} of {needs}.", called(component)))
}

/// Its name as the beginning of a sentence.
fn called(component: &Component) -> String {
    let name = component.name.to_lowercase();
    let is_common = name.split_whitespace().all(|word| COMMON.contains(&word));
    if is_common && !name.is_empty() { format!("The {name}") } else { component.name.clone() }
}

/// The same within a sentence.
fn inside(called: &str) -> String {
    called.strip_prefix("The ").map_or(called.to_owned(), |name| format!("the {name}"))
}

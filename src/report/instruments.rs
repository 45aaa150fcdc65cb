//! Three-way valves and instruments in the report: how streams part or mix, and what a person on the spot would read.

use super::columns;
use crate::document::{Component, ComponentKind, Project};
use crate::engine::units::{Quantity, Units};
use crate::study::{Reading, Results};

/// Both tables; empty where there is nothing to tell.
pub(super) fn tables(project: &Project, results: &Results, units: &Units) -> String {
    let mut text = String::new();
    let mut rows = vec![["", "Position", "Controlled way", "Bypass", "Common flow"].map(str::to_owned).to_vec()];
    for (id, component) in &project.components {
        let ComponentKind::ThreeWayValve(valve) = &component.kind else { continue };
        let flow = |results: Option<&crate::study::ComponentResult>| results.map_or(0.0, |result| result.flow);
        let [controlled, bypass] = [flow(results.components.get(id)), flow(results.bypasses.get(id))];
        let flows = [controlled, bypass, controlled + bypass].map(|flow| units.format(Quantity::Flow, flow));
        let named = [component.name.clone(), units.format(Quantity::Share, valve.position)];
        rows.push(named.into_iter().chain(flows).collect());
    }
    if rows.len() > 1 {
        text += "\nThree-way valves\n";
        text += &columns::table("  ", &rows);
    }
    if !results.readings.is_empty() {
        let row = |(id, reading): (&crate::document::ComponentId, &Reading)| {
            let component = project.components.get(id);
            let name = component.map_or_else(String::new, |component| component.name.clone());
            let kind = component.map_or("", Component::kind_name);
            vec![name, reading.text(units), kind.to_owned()]
        };
        text += "\nInstruments\n";
        text += &columns::table("  ", &results.readings.iter().map(row).collect::<Vec<_>>());
        if results.readings.values().any(|reading| matches!(reading, Reading::PressureAboveVessel(_))) {
            text += "  Without a known pressure at the expansion vessel gauges are told from there, or from the first circulator's suction\n";
        }
    }
    text
}

//! Sources that get too little flow or flow the wrong way, and separators that mix return water into the secondary flow.

use super::Sight;
use crate::document::{ComponentId, ComponentKind};
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::results::NOTHING;

/// Flow that a separator passes the wrong way, of the greatest, from which on it is worth a sentence.
const MIXES: f64 = 0.005;

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    if sight.results.pumps.values().any(|pump| pump.running) {
        sources(sight, found);
    }
    separators(sight, found);
}

/// Sources that get less than their minimum flow while a pump runs.
fn sources(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let components = &sight.project.components;
    let parted = components.values().any(|c| matches!(c.kind, ComponentKind::Separator { .. }));
    let has_stopped_pump = sight.results.pumps.values().any(|pump| !pump.running);
    let is_source = |id: &ComponentId| components.get(id).is_some_and(|c| matches!(c.kind, ComponentKind::Source(_)));
    let flows: Vec<(ComponentId, f64)> =
        components.keys().filter(|id| is_source(id)).map(|id| (*id, sight.results.component_flow(*id).abs())).collect();
    let greatest = flows.iter().map(|(_, flow)| *flow).fold(0.0, f64::max);
    let others_flow = |id: ComponentId| flows.iter().any(|(other, flow)| *other != id && *flow > NOTHING * greatest);
    for (id, component) in components {
        let ComponentKind::Source(source) = &component.kind else { continue };
        let flow = sight.results.component_flow(*id);
        if flow.abs() <= NOTHING * greatest && others_flow(*id) {
            if source.minimum_flow > 0.0 {
                found.push(sight.component(Severity::Note, *id, "Stands by").says(
                    "Nothing flows through it while another source has flow.",
                    "",
                    "Keep its firing off until its pump runs.",
                ));
            }
        } else if flow < -NOTHING * source.rated_flow.max(1e-6) {
            found.push(sight.component(Severity::Error, *id, "Water runs backwards").says(
                format!("Water runs backwards through it, {}.", sight.says(Quantity::Flow, -flow)),
                "Its control and its safety devices sense the wrong end.",
                if has_stopped_pump {
                    "Fit a check valve in a row with its pump; if none is at fault, turn the pump or the source round."
                } else {
                    "Turn the pump or the source round."
                },
            ));
        } else if flow < source.minimum_flow * (1.0 - 1e-6) {
            let has = sight.says(Quantity::Flow, flow.max(0.0));
            let needs = sight.says(Quantity::Flow, source.minimum_flow);
            // Behind a separator zones hardly move the source's flow.
            let help = if parted {
                "Raise what governs its circulator: head limit or speed cap."
            } else {
                "Open a zone or what mixes before it, or fit a bypass."
            };
            found.push(sight.component(Severity::Error, *id, "Below its minimum flow").says(
                format!("It has {has} but needs {needs} at least."),
                "It trips, or comes to harm.",
                help,
            ));
        }
    }
}

/// Separators that pass water from the secondary return up to its flow: the secondary circuit takes more than it is given, and
/// its supply is mixed down.
fn separators(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let results = sight.results;
    let greatest = results.pumps.values().map(|p| p.flow.abs()).fold(0.0, f64::max);
    for (id, component) in &sight.project.components {
        if !matches!(component.kind, ComponentKind::Separator { .. }) {
            continue;
        }
        let flow = results.components.get(id).map_or(0.0, |c| c.flow);
        if flow >= -MIXES * greatest {
            continue;
        }
        let gets = results.zones.values().filter(|zone| zone.supply_c.is_finite() && zone.flow > 0.0);
        let (heat, through) = gets.fold((0.0, 0.0), |(h, q), zone| (h + zone.flow * zone.supply_c, q + zone.flow));
        let temperature = |celsius| sight.says(Quantity::Temperature, celsius);
        let meaning = if through > 0.0 {
            let (mixed, design) = (temperature(heat / through), temperature(sight.project.design.supply_c));
            format!("The zones get {mixed} instead of {design}.")
        } else {
            String::new()
        };
        let flow = sight.says(Quantity::Flow, -flow);
        found.push(sight.component(Severity::Warning, *id, "Return water is mixed in").says(
            format!("It passes {flow} of return water back into the secondary flow."),
            meaning,
            "Raise the primary circulator, or lower the secondary one.",
        ));
    }
}

//! Sources that get too little flow or flow the wrong way, and separators that mix return water into the secondary flow.

use super::Sight;
use crate::document::ComponentKind;
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::source_flows::{SourceFault, SourceFlow, source_faults};
use crate::study::zones::ZoneState;

/// Flow that a separator passes the wrong way, of the greatest, from which on it is worth a sentence.
const MIXES: f64 = 0.005;

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    sources(sight, found);
    separators(sight, found);
}

/// Sources that stand by, run backwards or get less than their minimum flow while a pump runs.
fn sources(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let parted = sight.project.components.values().any(|c| matches!(c.kind, ComponentKind::Separator { .. }));
    let has_stopped_pump = sight.results.pumps.values().any(|pump| !pump.running);
    let has_shut_zone = sight.results.zones.values().any(|zone| zone.state == ZoneState::Shut);
    for SourceFlow { id, flow, least, fault } in source_faults(sight.project, sight.results) {
        found.push(match fault {
            SourceFault::StandsBy if least > 0.0 => sight.component(Severity::Note, id, "Stands by").says(
                "Nothing flows through it while another source has flow.",
                "",
                "Keep its firing off until its pump runs.",
            ),
            SourceFault::StandsBy => continue,
            SourceFault::Backwards => sight.component(Severity::Error, id, "Water runs backwards").says(
                format!("Water runs backwards through it, {}.", sight.says(Quantity::Flow, -flow)),
                "Its control and its safety devices sense the wrong end.",
                if has_stopped_pump {
                    "Fit a check valve in a row with its pump; if none is at fault, turn the pump or the source round."
                } else {
                    "Turn the pump or the source round."
                },
            ),
            SourceFault::Short => {
                let [has, needs] = [flow.max(0.0), least].map(|flow| sight.says(Quantity::Flow, flow));
                // Behind a separator zones hardly move the source's flow.
                let help = if parted {
                    "Raise what governs its circulator: head limit or speed cap."
                } else if has_shut_zone {
                    "Open a zone or what mixes before it, or fit a bypass."
                } else {
                    "Open what mixes before it, give more head, or fit a bypass."
                };
                sight.component(Severity::Error, id, "Below its minimum flow").says(
                    format!("It has {has} but needs {needs} at least."),
                    "It trips, or comes to harm.",
                    help,
                )
            }
        });
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

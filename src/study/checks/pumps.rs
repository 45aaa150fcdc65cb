//! Pumps: what each suffers at the present point, and where there are several points.

use super::Sight;
use crate::document::ComponentId;
use crate::engine::pump::GoverningLimit;
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::results::{NOTHING, PumpResult};
use crate::study::viscous_sentence;
use crate::study::zones::ZoneState;
use std::collections::BTreeMap;

/// Loss of head by viscosity from which on it is worth a sentence.
const SHOWS: f64 = 0.01;

/// Flow through a pump at standstill, of the greatest, from which on it is worth a sentence.
const LEAKS: f64 = 1e-3;

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let mut greatest: BTreeMap<usize, f64> = BTreeMap::new();
    for pump in sight.results.pumps.values() {
        let most = greatest.entry(pump.circuit).or_default();
        *most = most.max(pump.flow);
    }
    let of_all = sight.results.pumps.values().map(|pump| pump.flow.abs()).fold(0.0, f64::max);
    for (id, pump) in &sight.results.pumps {
        if pump.running {
            let beside = greatest.get(&pump.circuit).copied().unwrap_or(0.0);
            moves(sight, *id, pump, beside, found);
            limits(sight, *id, pump, found);
        } else if pump.flow.abs() > LEAKS * of_all && of_all > 0.0 {
            let flow = sight.says(Quantity::Flow, pump.flow.abs());
            found.push(sight.component(Severity::Warning, *id, "Water passes a stopped pump").says(
                format!("It stands still and lets {flow} through."),
                "That water goes round without serving a zone.",
                "Fit a check valve in a row with it, behind its outlet.",
            ));
        }
    }
    several_points(sight, found);
}

/// How a running pump moves its water.
fn moves(sight: &Sight<'_>, id: ComponentId, pump: &PumpResult, beside: f64, found: &mut Vec<Check>) {
    let Some(unit) = sight.project.pump(id) else { return };
    let most = unit.catalogue.iter().map(|p| p.flow).fold(0.0, f64::max);
    let warning = |heading| sight.component(Severity::Warning, id, heading);
    let (head, speed) = (sight.says(Quantity::Head, pump.head), sight.says(Quantity::Speed, pump.speed));
    if pump.flow < -NOTHING * most {
        let flow = sight.says(Quantity::Flow, -pump.flow);
        found.push(warning("Driven backwards").says(
            format!("It is driven backwards, {flow}, by another pump."),
            "That water goes round without serving a zone.",
            "Fit a check valve in a row with it, behind its outlet.",
        ));
    } else if pump.flow <= NOTHING * most && beside > NOTHING * most {
        found.push(warning("Held shut by another pump").says(
            format!("It holds {head} and moves no water, for another pump keeps its check valve shut."),
            "It takes power and heats its water for nothing.",
            "Stop it, or set the slope of both to 0 %.",
        ));
    } else if pump.flow <= NOTHING * most && no_room_asks(sight) {
        found.push(warning("Runs for no room").says(
            format!("It turns at {speed} and moves no water, for no room asks for any."),
            "It takes power for nothing.",
            "Stop it.",
        ));
    } else if pump.flow <= NOTHING * most {
        found.push(warning("Turns against closed valves").says(
            format!("It turns against closed valves at {speed}."),
            "It heats its water.",
            if sight.results.zones.is_empty() {
                "Open the valve that is shut, or stop it."
            } else {
                "Open a zone, fit a bypass or stop it."
            },
        ));
    } else if pump.head <= 0.0 {
        found.push(warning("Pushed beyond its curve").says(
            "It is pushed beyond the end of its curve by another pump.",
            "It adds no head.",
            "Stop it, or turn the other down.",
        ));
    }
    if pump.is_share_open {
        found.push(warning("Shares are open").says(
            "It shares its flow with another pump at the same level head, and nothing tells how.",
            "Shown is one of many divisions.",
            "Give one of them a little slope, or run one alone.",
        ));
    }
    if pump.viscous.is_some_and(|(factors, _)| factors.flow < 1.0 - SHOWS) {
        found.push(sight.component(Severity::Note, id, "Viscous fluid").says(
            format!("It moves a viscous fluid: {}", viscous_sentence(pump, sight.units)),
            "",
            "",
        ));
    }
}

/// Limits that a running pump cannot keep because it cannot turn more slowly.
fn limits(sight: &Sight<'_>, id: ComponentId, pump: &PumpResult, found: &mut Vec<Check>) {
    let Some(unit) = sight.project.pump(id).filter(|_| pump.governing == Some(GoverningLimit::MinimumSpeed)) else {
        return;
    };
    let settings = &unit.regulation;
    let over_head = settings.head_limit_m.filter(|limit| pump.head > *limit).map(|limit| pump.head - limit);
    let over_power = settings.power_limit_w.filter(|limit| pump.electric_w > *limit).map(|w| pump.electric_w - w);
    let over = [
        ("Above its head limit", "head limit", over_head.map(|m| sight.says(Quantity::Head, m))),
        ("Above its power limit", "power limit", over_power.map(|w| sight.says(Quantity::Power, w))),
    ];
    for (heading, limit, over) in over {
        if let Some(over) = over {
            found.push(sight.component(Severity::Warning, id, heading).says(
                format!("It exceeds its {limit} by {over}."),
                "It cannot turn more slowly than its minimum speed.",
                format!("Lower the minimum speed as far as the device allows, or raise the {limit}."),
            ));
        }
    }
}

/// Whether every open zone is kept by its thermostatic valve.
fn no_room_asks(sight: &Sight<'_>) -> bool {
    let open = || sight.results.zones.values().filter(|zone| zone.state != ZoneState::Shut);
    open().count() > 0 && open().all(|zone| zone.state == ZoneState::Throttled)
}

/// Several operating points: which there are, and which one is shown.
fn several_points(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let results = sight.results;
    let running = results.pumps.iter().find(|(_, pump)| pump.running).map(|(id, _)| *id);
    let (Some(pump), true) = (running, results.points.len() > 1) else { return };
    let by_name = results.points.iter().any(|point| point.pumps.len() > 1);
    let flow = |(id, [flow, _]): (&ComponentId, &[f64; 2])| {
        let flow = sight.says(Quantity::Flow, *flow);
        if by_name { format!("{} {flow}", sight.name(*id)) } else { flow }
    };
    let words = results.points.iter().map(|point| {
        let flows = point.pumps.iter().map(flow).collect::<Vec<_>>().join(" and ");
        if point.stable { flows } else { format!("{flows} (does not hold)") }
    });
    let words = words.collect::<Vec<_>>().join("; ");
    let what = format!("There are {} operating points: {words}.", results.points.len());
    let check = sight.component(Severity::Warning, pump, "Several operating points");
    found.push(if by_name {
        check.says(
            what,
            "Pumps side by side on rising set-lines push each other aside; shown is the one in which the pump with the most head \
             at rest comes first.",
            "Set their slope to 0 % or run one.",
        )
    } else {
        check.says(
            what,
            "Shown is the one that start-up from rest reaches; a valve that opens on pressure and a rising set-line make them.",
            "Less slope removes them.",
        )
    });
}

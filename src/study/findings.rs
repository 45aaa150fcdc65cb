//! Findings: what the results tell that a person must know, each in one sentence with what helps. They come from the present
//! flows; what is wrong with a drawing whatever flows is the matter of the problems.

use super::results::{NOTHING, PumpResult, Results};
use super::words::viscous_sentence;
use super::zones::ZoneState;
use crate::document::{ComponentId, ComponentKind, Project, ZoneId};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::{Quantity, Units};

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A component.
    Component(ComponentId),
    /// A zone.
    Zone(ZoneId),
}

/// Something the results tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What it is about.
    pub subject: Subject,
    /// What is so, what it means and what helps.
    pub sentence: String,
}

/// Flow that a separator passes the wrong way, of the greatest, from which on it is worth a sentence.
const MIXES: f64 = 0.005;

/// Loss of head by viscosity from which on it is worth a sentence.
const SHOWS: f64 = 0.01;

/// All findings, the gravest first.
#[must_use]
pub fn findings(project: &Project, results: &Results, units: &Units) -> Vec<Finding> {
    let mut found = Vec::new();
    for (id, pump) in &results.pumps {
        let name = project.components.get(id).map_or("", |c| c.name.as_str());
        let beside = results.pumps.values().filter(|other| other.circuit == pump.circuit);
        let greatest = beside.map(|other| other.flow).fold(0.0, f64::max);
        let sentences =
            if pump.running { running(project, results, *id, greatest, units) } else { standing(results, pump, units) };
        found.extend(
            sentences
                .into_iter()
                .map(|what| Finding { subject: Subject::Component(*id), sentence: format!("{name} {what}") }),
        );
    }
    several_points(project, results, units, &mut found);
    sources(project, results, units, &mut found);
    separators(project, results, units, &mut found);
    rooms(project, results, units, &mut found);
    for (id, zone) in &results.zones {
        if zone.state == ZoneState::Backwards {
            let name = project.zones.get(id).map_or("", |z| z.name.as_str());
            let flow = units.format(Quantity::Flow, -zone.flow);
            let sentence = format!(
                "{name} has water running backwards, {flow}: its emitter or a pump is drawn the wrong way round."
            );
            found.push(Finding { subject: Subject::Zone(*id), sentence });
        }
    }
    found
}

/// Several operating points: which there are, and which one is shown.
fn several_points(project: &Project, results: &Results, units: &Units, found: &mut Vec<Finding>) {
    let running = results.pumps.iter().find(|(_, pump)| pump.running).map(|(id, _)| *id);
    let (Some(pump), true) = (running, results.points.len() > 1) else { return };
    let flow = |(id, [flow, _]): (&ComponentId, &[f64; 2])| {
        let flow = units.format(Quantity::Flow, *flow);
        let name = project.components.get(id).map_or("", |c| c.name.as_str());
        if results.points.iter().any(|point| point.pumps.len() > 1) { format!("{name} {flow}") } else { flow }
    };
    let words = results.points.iter().map(|point| {
        let flows = point.pumps.iter().map(flow).collect::<Vec<_>>().join(" and ");
        if point.stable { flows } else { format!("{flows} (does not hold)") }
    });
    let why = if results.points.iter().any(|point| point.pumps.len() > 1) {
        "Pumps side by side on rising set-lines push each other aside; shown is the one in which the pump with the most head at \
         rest comes first. Set their slope to 0 % or run one."
    } else {
        "Shown is the one that start-up from rest reaches; a valve that opens on pressure and a rising set-line make them, less \
         slope removes them."
    };
    let words = words.collect::<Vec<_>>().join("; ");
    let sentence = format!("There are {} operating points: {words}. {why}", results.points.len());
    found.push(Finding { subject: Subject::Component(pump), sentence });
}

/// What a running pump suffers.
fn running(project: &Project, results: &Results, id: ComponentId, greatest: f64, units: &Units) -> Vec<String> {
    let mut all = Vec::new();
    let (Some(unit), Some(pump)) = (project.pump(id), results.pumps.get(&id)) else { return all };
    let most = unit.catalogue.iter().map(|p| p.flow).fold(0.0, f64::max);
    if pump.flow < -NOTHING * most {
        let flow = units.format(Quantity::Flow, -pump.flow);
        all.push(format!("is driven backwards, {flow}, by another pump: fit a check valve beside it."));
    } else if pump.flow <= NOTHING * most && greatest > NOTHING * most {
        let head = units.format(Quantity::Head, pump.head);
        all.push(format!(
            "holds {head} and moves no water, for another pump keeps its check valve shut: stop it, or set the slope of both \
             to 0 %."
        ));
    } else if pump.flow <= NOTHING * most && no_room_asks(results) {
        let speed = units.format(Quantity::Speed, pump.speed);
        all.push(format!("turns at {speed} and moves no water, for no room asks for any: stop it."));
    } else if pump.flow <= NOTHING * most {
        let speed = units.format(Quantity::Speed, pump.speed);
        all.push(format!(
            "turns against closed valves at {speed} and heats its water: open a zone, fit a bypass or stop it."
        ));
    } else if pump.head <= 0.0 {
        all.push("is pushed beyond the end of its curve by another pump and adds no head.".to_owned());
    }
    if pump.is_share_open {
        all.push(
            "shares its flow with another pump at the same level head, and nothing tells how: shown is one of many divisions. Give one \
             of them a little slope, or run one alone."
                .to_owned(),
        );
    }
    if pump.viscous.is_some_and(|(factors, _)| factors.flow < 1.0 - SHOWS) {
        all.push(format!("moves a viscous fluid: {}", viscous_sentence(pump, units)));
    }
    if pump.governing == Some(GoverningLimit::MinimumSpeed) {
        let settings = &unit.regulation;
        if let Some(limit) = settings.head_limit_m.filter(|limit| pump.head > *limit) {
            let over = units.format(Quantity::Head, pump.head - limit);
            all.push(format!("cannot turn more slowly: it exceeds its head limit by {over}."));
        }
        if let Some(limit) = settings.power_limit_w.filter(|limit| pump.electric_w > *limit) {
            let over = units.format(Quantity::Power, pump.electric_w - limit);
            all.push(format!("cannot turn more slowly: it exceeds its power limit by {over}."));
        }
    }
    all
}

/// What a pump at standstill suffers.
fn standing(results: &Results, pump: &PumpResult, units: &Units) -> Vec<String> {
    let greatest = results.pumps.values().map(|p| p.flow.abs()).fold(0.0, f64::max);
    let leaks = pump.flow.abs() > 1e-3 * greatest && greatest > 0.0;
    let flow = units.format(Quantity::Flow, pump.flow.abs());
    let what = format!("stands still and lets {flow} through: fit a check valve beside it.");
    if leaks { vec![what] } else { Vec::new() }
}

/// Sources that get less than their minimum flow while a pump runs.
fn sources(project: &Project, results: &Results, units: &Units, found: &mut Vec<Finding>) {
    if !results.pumps.values().any(|pump| pump.running) {
        return;
    }
    let parted = project.components.values().any(|c| matches!(c.kind, ComponentKind::Separator { .. }));
    for (id, component) in &project.components {
        let ComponentKind::Source(source) = &component.kind else { continue };
        let flow = results.component_flow(*id);
        let name = &component.name;
        let mut say = |sentence| found.push(Finding { subject: Subject::Component(*id), sentence });
        let (has, needs) =
            (units.format(Quantity::Flow, flow.max(0.0)), units.format(Quantity::Flow, source.minimum_flow));
        if flow < source.minimum_flow * (1.0 - 1e-6) {
            // Behind a separator zones hardly move the source's flow.
            let help = if parted { "raise the head limit of its circulator" } else { "open a zone or fit a bypass" };
            say(format!("{name} has {has} but needs {needs} at least: {help}."));
        } else if flow < -NOTHING * source.rated_flow.max(1e-6) {
            say(format!("{name} has water running backwards: turn the pump or the source round."));
        }
    }
}

/// Whether every open zone is kept by its thermostatic valve.
fn no_room_asks(results: &Results) -> bool {
    let open = || results.zones.values().filter(|zone| zone.state != ZoneState::Shut);
    open().count() > 0 && open().all(|zone| zone.state == ZoneState::Throttled)
}

/// Separators that pass water from the secondary return up to its flow: the secondary circuit takes more than it is given, and
/// its supply is mixed down.
fn separators(project: &Project, results: &Results, units: &Units, found: &mut Vec<Finding>) {
    let greatest = results.pumps.values().map(|p| p.flow.abs()).fold(0.0, f64::max);
    for (id, component) in &project.components {
        let flow = results.components.get(id).map_or(0.0, |c| c.flow);
        if !matches!(component.kind, ComponentKind::Separator { .. }) || flow >= -MIXES * greatest {
            continue;
        }
        let gets = results.zones.values().filter(|zone| zone.supply_c.is_finite() && zone.flow > 0.0);
        let (heat, through) = gets.fold((0.0, 0.0), |(h, q), zone| (h + zone.flow * zone.supply_c, q + zone.flow));
        let temperature = |celsius| units.format(Quantity::Temperature, celsius);
        let supply = if through > 0.0 {
            let (mixed, design) = (temperature(heat / through), temperature(project.design.supply_c));
            format!(": the zones get {mixed} instead of {design}")
        } else {
            String::new()
        };
        let flow = units.format(Quantity::Flow, -flow);
        let sentence = format!(
            "{} passes {flow} of return water back into the secondary flow{supply}. Raise the primary circulator, or lower the \
             secondary one.",
            component.name
        );
        found.push(Finding { subject: Subject::Component(*id), sentence });
    }
}

/// Rooms that stay too cold, or too warm, though their zones have their flow; all in one sentence.
fn rooms(project: &Project, results: &Results, units: &Units, found: &mut Vec<Finding>) {
    let off = results.zones.iter().filter_map(|(id, zone)| match zone.state {
        ZoneState::TooCold => Some((*id, zone, zone.room_c?)),
        ZoneState::TooWarm => Some((*id, zone, -zone.room_c?)),
        _ => None,
    });
    let off: Vec<_> = off.collect();
    let Some((id, worst, _)) = off.iter().min_by(|a, b| a.2.total_cmp(&b.2)) else { return };
    let (too, help) = if worst.state == ZoneState::TooCold { ("cold", "warmer") } else { ("warm", "colder") };
    let name = project.zones.get(id).map_or("", |z| z.name.as_str());
    let celsius = |celsius| units.format(Quantity::Temperature, celsius);
    let (room, supply) = (celsius(worst.room_c.unwrap_or(f64::NAN)), celsius(worst.supply_c));
    let sentence = match off.len() {
        1 => format!(
            "{name} has {} of its design flow, yet its room settles at {room}: with water of {supply} its emitter gives no more. \
             It needs {help} water or a larger emitter, not more flow.",
            units.format(Quantity::Share, worst.share)
        ),
        count => format!(
            "{count} rooms stay too {too} though their zones have their flow, {name} at {room}: with water of {supply} their \
             emitters give no more. They need {help} water or larger emitters, not more flow."
        ),
    };
    found.push(Finding { subject: Subject::Zone(*id), sentence });
}

//! What was chosen for a system drawn from a plan: sizes, index circuit, presettings, circulator, and what to look at.

use super::CAUTION;
use super::columns::{self, plain, width};
use crate::document::Project;
use crate::engine::units::{Quantity, Units};
use crate::study::sizing::{PumpFit, SizedRun, SizedSystem, SizingLimits};

/// The report on a system that was sized within limits.
#[must_use]
pub fn sized(system: &SizedSystem, limits: &SizingLimits, units: &Units) -> String {
    let project = &system.project;
    let title = plain(&project.title);
    let mut text = format!("{title}\n{}\n", "=".repeat(width(&title)));
    text += "\nPipes\n";
    text += &columns::table("  ", &pipes(system, limits, units));
    text += "\nZones\n";
    text += &columns::table("  ", &zones(system, units));
    text += "\nCirculator\n";
    text += &columns::table("  ", &circulator(system, units));
    let notes = sized_notes(system, limits, units);
    if !notes.is_empty() {
        text += "\nTo look at\n";
        notes.iter().for_each(|note| text += &format!("  {}\n", plain(note)));
    }
    text + &format!("\n{CAUTION}\n")
}

/// One row a run; flow and return of one kind in one row.
fn pipes(system: &SizedSystem, limits: &SizingLimits, units: &Units) -> Vec<Vec<String>> {
    let heading = ["run", "size", "bore", "flow", "friction", "velocity", ""];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    let named = |run: &SizedRun| {
        let name = system.project.pipes.get(&run.pipe).map_or(String::new(), |pipe| system.project.pipe_label(pipe));
        (name, run_cells(run, limits, units))
    };
    let all: Vec<(String, Vec<String>)> = system.runs.iter().map(named).collect();
    for (name, cells) in &all {
        let twin = |from: &str, to: &str| {
            let other = name.strip_suffix(from).map(|stem| format!("{stem}{to}"));
            all.iter().any(|(name, others)| Some(name) == other.as_ref() && others == cells)
        };
        if twin(" return", " flow") {
            continue;
        }
        let name = if twin(" flow", " return") { format!("{name} and return") } else { name.clone() };
        rows.push(std::iter::once(name).chain(cells.iter().cloned()).collect());
    }
    rows
}

fn run_cells(run: &SizedRun, limits: &SizingLimits, units: &Units) -> Vec<String> {
    let mark = match limits.allow(run.bore, run.friction_pa_per_m, run.velocity_m_per_s) {
        _ if run.chosen.is_some() => "",
        true => "bore as given",
        false => "bore as given, beyond the limits",
    };
    vec![
        run.chosen.map_or("–".to_owned(), |chosen| chosen.size.nominal.to_owned()),
        units.format(Quantity::Bore, run.bore),
        units.format(Quantity::Flow, run.flow),
        units.format(Quantity::FrictionGradient, run.friction_pa_per_m),
        units.format(Quantity::Velocity, run.velocity_m_per_s),
        mark.to_owned(),
    ]
}

/// One row a zone, with its balancing valve.
fn zones(system: &SizedSystem, units: &Units) -> Vec<Vec<String>> {
    let heading = ["zone", "heat", "design flow", "balancing valve", "takes", ""];
    let mut rows = vec![heading.map(str::to_owned).to_vec()];
    let project = &system.project;
    for (id, zone) in &project.zones {
        let set = system.balance.presettings.iter().find(|set| is_valve_of(project, &zone.name, set.valve));
        let flow = set.map(|set| set.flow).or_else(|| branch_flow(system, &zone.name));
        let mark = match set {
            _ if *id == system.balance.index => "index circuit",
            Some(set) if set.is_open => "fully open",
            _ => "",
        };
        rows.push(vec![
            zone.name.clone(),
            units.format(Quantity::Heat, zone.load),
            flow.map_or("–".to_owned(), |flow| units.format(Quantity::Flow, flow)),
            set.map_or("none".to_owned(), |set| units.format(Quantity::FlowCoefficient, set.kv)),
            set.map_or("–".to_owned(), |set| units.format(Quantity::Pressure, set.drop)),
            mark.to_owned(),
        ]);
    }
    rows
}

fn is_valve_of(project: &Project, zone: &str, valve: crate::document::ComponentId) -> bool {
    project.components.get(&valve).is_some_and(|c| c.name == format!("{zone} balancing valve"))
}

fn branch_flow(system: &SizedSystem, zone: &str) -> Option<f64> {
    let name = format!("{zone} branch flow");
    let is_branch = |run: &&SizedRun| system.project.pipes.get(&run.pipe).is_some_and(|pipe| pipe.name == name);
    system.runs.iter().find(is_branch).map(|run| run.flow)
}

fn circulator(system: &SizedSystem, units: &Units) -> Vec<Vec<String>> {
    let PumpFit { flow, needed_m, speed, regulation, .. } = system.pump;
    let row = |name: &str, value: String| vec![name.to_owned(), value, String::new()];
    let mut rows = vec![
        row("flow", units.format(Quantity::Flow, flow)),
        row("head needed", units.format(Quantity::Head, needed_m)),
        row("throttled away by balancing valves", units.format(Quantity::Power, system.balance.throttled_w())),
    ];
    if system.pump.is_enough() {
        rows.push(row("speed at design", units.format(Quantity::Speed, speed)));
        if let Some(limit) = regulation.head_limit_m {
            rows.push(row("head limit set to", units.format(Quantity::Head, limit)));
        }
        rows.push(row("speed cap set to", units.format(Quantity::Speed, regulation.speed_cap)));
    }
    rows
}

/// What there is to look at, a sentence each.
#[must_use]
pub fn sized_notes(system: &SizedSystem, limits: &SizingLimits, units: &Units) -> Vec<String> {
    let mut notes = Vec::new();
    let pump = &system.pump;
    let head = |metres| units.format(Quantity::Head, metres);
    if system.is_stand_in {
        notes.push(
            "The circulator is invented and stands in for a real one: choose one for this flow and head.".to_owned(),
        );
    } else if !pump.is_enough() {
        notes.push(format!(
            "The circulator gives {} at the design flow, but {} are needed: choose a larger one, or larger pipes and valves.",
            head(pump.full_speed_m),
            head(pump.needed_m)
        ));
    }
    if pump.is_too_much() {
        notes.push(format!(
            "Even at its minimum speed the circulator gives {} at the design flow, more than the {} needed: choose a smaller one.",
            head(pump.slowest_m),
            head(pump.needed_m)
        ));
    }
    if pump.is_enough() && pump.flow > pump.data_end * pump.speed {
        notes.push(
            "The design point lies beyond the circulator's catalogue points: take a larger one, or more points."
                .to_owned(),
        );
    }
    let slow = system.runs.iter().filter(|run| run.flow > 0.0 && run.velocity_m_per_s < limits.low_velocity_m_per_s);
    let (slow, all) = (slow.count(), system.runs.len());
    if slow > 0 {
        let limit = units.format(Quantity::Velocity, limits.low_velocity_m_per_s);
        notes.push(format!(
            "{slow} of {all} runs have less than {limit}, too little to carry air along (from memory): vent their high points."
        ));
    }
    for (zone, pressure) in &system.balance.unbalanced {
        let name = system.project.zones.get(zone).map_or("", |zone| zone.name.as_str());
        let pressure = units.format(Quantity::Pressure, *pressure);
        notes.push(format!("{name}: {pressure} are left over and no valve of its own can take them: give it one."));
    }
    notes
}

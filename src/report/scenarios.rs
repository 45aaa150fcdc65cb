//! All scenarios of a project side by side: what the circulators do in each, and which zones get least and most.

use super::CAUTION;
use super::columns::{self, plain, width};
use crate::document::{Project, Scenario};
use crate::engine::units::{Quantity, Units};
use crate::study::{Results, ZoneResult, ZoneState, limit_name, share_beside_state};
use serde::Serialize;

/// Seconds of an hour.
const HOUR_S: f64 = 3600.0;

/// A scenario with its results.
type Solved<'a> = (&'a Scenario, &'a Results);

/// The scenarios as a table for people.
#[must_use]
pub fn scenario_table(project: &Project, results: &[Results], units: &Units) -> String {
    let title = plain(&project.title);
    let mut text = format!("{title}\n{}\n\n", "=".repeat(width(&title)));
    if results.is_empty() {
        return text + "The project has no scenarios.\n";
    }
    let headings = [
        "Scenario",
        "Hours",
        "Circulator",
        "Flow",
        "Head",
        "Speed",
        "Power",
        "Governing",
        "Least share",
        "Greatest share",
    ];
    let mut rows = vec![headings.map(str::to_owned).to_vec()];
    for (scenario, results) in project.scenarios.iter().zip(results) {
        rows.extend(rows_of(project, (scenario, results), units));
    }
    text += &columns::table("  ", &rows);
    let hours: f64 = project.scenarios.iter().map(|scenario| scenario.hours_per_year).sum();
    text += &format!("\nTogether {hours:.0} h and {} of electric energy a year.\n", {
        units.format(Quantity::Energy, project.scenarios.iter().zip(results).map(energy_j).sum())
    });
    if results.iter().any(|results| !results.converged()) {
        text += "Some did not converge: do not use their figures.\n";
    }
    text + &format!("\n{CAUTION}\n")
}

/// One row a circulator; the scenario and its zones stand in the first.
fn rows_of(project: &Project, (scenario, results): Solved<'_>, units: &Units) -> Vec<Vec<String>> {
    let [least, greatest] = extremes(results).map(|found| match found {
        Some((id, zone)) => {
            let share = share_beside_state(zone.share, Some(zone.state), &project.acceptance, units);
            let name = project.zones.get(&id).map_or("", |zone| zone.name.as_str());
            format!("{share} {name}")
        }
        None => "no zone open".to_owned(),
    });
    let mut rows: Vec<Vec<String>> = Vec::new();
    for (id, pump) in &results.pumps {
        let name = project.components.get(id).map_or("", |component| component.name.as_str());
        let is_first = rows.is_empty();
        let first = |text: &str| if is_first { text.to_owned() } else { String::new() };
        let stands = |text: String| if pump.running { text } else { "–".to_owned() };
        rows.push(vec![
            first(&scenario.name),
            first(&format!("{:.0}", scenario.hours_per_year)),
            name.to_owned(),
            stands(units.format(Quantity::Flow, pump.flow)),
            stands(units.format(Quantity::Head, pump.head)),
            stands(units.format(Quantity::Speed, pump.speed)),
            units.format(Quantity::Power, pump.electric_w),
            if results.converged() { pump.governing.map_or("–", limit_name) } else { "NOT CONVERGED" }.to_owned(),
            first(&least),
            first(&greatest),
        ]);
    }
    rows
}

/// The open zones with the least and the greatest share of design flow.
fn extremes(results: &Results) -> [Option<(crate::document::ZoneId, &ZoneResult)>; 2] {
    let open = || results.zones.iter().filter(|(_, zone)| zone.state != ZoneState::Shut).map(|(id, zone)| (*id, zone));
    let by_share = |a: &(_, &ZoneResult), b: &(_, &ZoneResult)| a.1.share.total_cmp(&b.1.share);
    [open().min_by(by_share), open().max_by(by_share)]
}

/// Electric energy of all circulators in the hours of a scenario, J.
fn energy_j((scenario, results): Solved<'_>) -> f64 {
    let power_w: f64 = results.pumps.values().map(|pump| pump.electric_w).sum();
    power_w * scenario.hours_per_year * HOUR_S
}

#[derive(Serialize)]
struct Part<'a> {
    scenario: &'a str,
    hours_per_year: f64,
    converged: bool,
    stable: bool,
    electric_kwh: f64,
    pumps: Vec<PumpPart<'a>>,
    zones: Vec<ZonePart<'a>>,
}

#[derive(Serialize)]
struct PumpPart<'a> {
    name: &'a str,
    running: bool,
    flow_m3_per_h: f64,
    head_m: f64,
    speed_percent: f64,
    electric_w: f64,
    governing: Option<&'static str>,
}

#[derive(Serialize)]
struct ZonePart<'a> {
    name: &'a str,
    flow_m3_per_h: f64,
    share_percent: f64,
    heat_share_percent: f64,
    state: &'static str,
}

/// The scenarios as JSON, in the units that the key names say.
#[must_use]
pub fn scenario_data(project: &Project, results: &[Results]) -> String {
    let part = |solved: Solved<'_>| part(project, solved.0, solved.1);
    let parts: Vec<serde_json::Value> = project.scenarios.iter().zip(results).map(part).collect();
    let whole = serde_json::json!({ "title": project.title, "caution": CAUTION, "scenarios": parts });
    format!("{whole:#}\n")
}

fn part(project: &Project, scenario: &Scenario, results: &Results) -> serde_json::Value {
    let pumps = results.pumps.iter().map(|(id, pump)| PumpPart {
        name: project.components.get(id).map_or("", |component| component.name.as_str()),
        running: pump.running,
        flow_m3_per_h: pump.flow * HOUR_S,
        head_m: pump.head,
        speed_percent: pump.speed * 100.0,
        electric_w: pump.electric_w,
        governing: pump.governing.map(limit_name),
    });
    let zones = results.zones.iter().map(|(id, zone)| ZonePart {
        name: project.zones.get(id).map_or("", |zone| zone.name.as_str()),
        flow_m3_per_h: zone.flow * HOUR_S,
        share_percent: zone.share * 100.0,
        heat_share_percent: zone.heat_share * 100.0,
        state: zone.state.word(),
    });
    serde_json::json!(Part {
        scenario: &scenario.name,
        hours_per_year: scenario.hours_per_year,
        converged: results.converged(),
        stable: results.stable,
        electric_kwh: energy_j((scenario, results)) / (1000.0 * HOUR_S),
        pumps: pumps.collect(),
        zones: zones.collect(),
    })
}

//! All scenarios of a project side by side: what the circulators do in each, which zones get least and most, the margins of every zone,
//! the year's energy, and the present settings beside others.

use super::CAUTION;
use super::beside::{Beside, beside_table, beside_values};
use super::columns::{self, plain, width};
use super::energy::{Cost, EnergyPart, HOUR_S, KWH_J, YearEnergy, energy, power_w, shown_parts, shown_year};
use super::margins::{margin_table, margin_values, margins};
use crate::document::{ComponentId, Project, Scenario};
use crate::engine::units::{Quantity, Units};
use crate::study::{Results, ZoneResult, ZoneState, ill_sources, limit_name, share_beside_state};
use serde::Serialize;

/// A scenario with its results.
type Solved<'a> = (&'a Scenario, &'a Results);

/// Everything that is told of the scenarios, each solved exactly.
#[derive(Clone, Copy)]
pub struct Swept<'a> {
    /// The project.
    pub project: &'a Project,
    /// Scenario by scenario.
    pub results: &'a [Results],
    /// The circulator in hand.
    pub pump: Option<ComponentId>,
    /// Its present settings, then others; none where there is nothing to compare.
    pub beside: &'a [Beside],
    /// Why nothing is compared.
    pub remark: Option<&'a str>,
}

impl<'a> Swept<'a> {
    fn year(&self) -> YearEnergy {
        let powers: Vec<f64> = self.results.iter().map(power_w).collect();
        YearEnergy::new(self.project, &powers)
    }

    fn margins(&self) -> Vec<super::margins::Margin<'a>> {
        let names: Vec<&str> = self.project.scenarios.iter().map(|scenario| scenario.name.as_str()).collect();
        margins(self.project, &names, self.results, self.pump)
    }

    fn pump_name(&self) -> Option<&'a str> {
        self.project.components.get(&self.pump?).map(|component| component.name.as_str())
    }
}

/// The scenarios as tables for people.
#[must_use]
pub fn scenario_table(swept: &Swept<'_>, units: &Units) -> String {
    let Swept { project, results, .. } = *swept;
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
        "Energy",
        "Governing",
        "Least share",
        "Greatest share",
    ];
    let marks: Vec<String> = results.iter().map(|results| ill_sources(project, results).join(", ")).collect();
    let is_marked = marks.iter().any(|mark| !mark.is_empty());
    let mut rows = vec![headings.map(str::to_owned).to_vec()];
    rows[0].extend(is_marked.then(|| "Sources".to_owned()));
    let year = swept.year();
    let shown = shown_parts(units, &year.each_j);
    for (((scenario, results), energy_j), mark) in project.scenarios.iter().zip(results).zip(shown).zip(marks) {
        let mut of_scenario = rows_of(project, (scenario, results), energy_j, units);
        if is_marked {
            let marks = std::iter::once(mark).chain(std::iter::repeat(String::new()));
            of_scenario.iter_mut().zip(marks).for_each(|(row, mark)| row.push(mark));
        }
        rows.extend(of_scenario);
    }
    text += &columns::table("  ", &rows);
    text += &together(swept, &year, units);
    if results.iter().any(|results| !results.converged()) {
        text += "Some did not converge: do not use their figures.\n";
    }
    let governing = swept.pump_name().map_or_else(String::new, |name| format!("; governing: {}", plain(name)));
    text += &format!("\nMargins of the zones over all scenarios in which they are open{governing}\n");
    text += &margin_table(project, &swept.margins(), units);
    if let (false, Some(name)) = (swept.beside.is_empty(), swept.pump_name()) {
        text += &format!("\nA year of electric energy, {} set otherwise\n", plain(name));
        text += &beside_table(project, swept.beside, units);
    }
    text += &swept.remark.map_or_else(String::new, |remark| format!("\n{}\n", plain(remark)));
    text += &format!("\n{}", Cost(&project.energy).sources());
    text + &format!("\n{CAUTION}\n")
}

/// The year in a sentence or two, with what it costs and emits.
fn together(swept: &Swept<'_>, year: &YearEnergy, units: &Units) -> String {
    let [in_hours_j, standby_j] = [year.in_hours_j(), year.standby_j];
    let hours = year.hours;
    let mut text = format!("\nTogether {hours:.0} h and {} of electric energy a year.\n", energy(units, in_hours_j));
    if standby_j > 0.0 {
        let who = match swept.pump_name() {
            Some(name) if swept.project.pumps().count() == 1 => format!("{} stands by", plain(name)),
            _ => "All circulators stand by".to_owned(),
        };
        text += &format!(
            "{who} for the rest of the year, which takes {}: {} in all.\n",
            energy(units, standby_j),
            energy(units, shown_year(units, year))
        );
    }
    let cost = Cost(&swept.project.energy);
    let told: Vec<String> = [
        cost.money(year.total_j()).map(|money| format!("costs {money}")),
        cost.co2(year.total_j()).map(|co2| format!("emits {co2} of CO₂")),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !told.is_empty() {
        text += &format!("That {} a year.\n", told.join(" and "));
    }
    text
}

/// One row a circulator; the scenario and its zones stand in the first.
fn rows_of(project: &Project, (scenario, results): Solved<'_>, energy_j: f64, units: &Units) -> Vec<Vec<String>> {
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
            first(&energy(units, energy_j)),
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

#[derive(Serialize)]
struct Part<'a> {
    scenario: &'a str,
    hours_per_year: f64,
    converged: bool,
    stable: bool,
    electric_kwh: f64,
    /// Those that come to harm, a few words each.
    sources: Vec<String>,
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
pub fn scenario_data(swept: &Swept<'_>) -> String {
    let project = swept.project;
    let part = |solved: Solved<'_>| part(project, solved.0, solved.1);
    let parts: Vec<serde_json::Value> = project.scenarios.iter().zip(swept.results).map(part).collect();
    let whole = serde_json::json!({
        "title": project.title,
        "caution": CAUTION,
        "scenarios": parts,
        "pump": swept.pump_name(),
        "margins": margin_values(&swept.margins()),
        "energy": EnergyPart::new(&project.energy, &swept.year()),
        "comparison": beside_values(project, swept.beside),
        "remark": swept.remark,
    });
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
        electric_kwh: power_w(results) * scenario.hours_per_year * HOUR_S / KWH_J,
        sources: ill_sources(project, results),
        pumps: pumps.collect(),
        zones: zones.collect(),
    })
}

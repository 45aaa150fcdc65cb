//! The report as plain text: what is set, what the pumps do, what every zone gets, and how far it can be trusted.

use super::CAUTION;
use super::amounts::Amounts;
use super::columns::{self, plain, width};
use crate::document::{Acceptance, Component, ComponentId, ComponentKind, Duty, Project, PumpUnit};
use crate::engine::network::Verdict;
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::{Quantity, Units};
use crate::problems::{Check, Severity};
use crate::study::{
    PumpResult, ROOM_MISS_K, Results, Study, ZoneState, checks, governing_at, governing_ranges, share_as_set,
    share_beside_state, verdict_sentence, viscous_sentence,
};

/// The whole report.
#[must_use]
pub fn table(project: &Project, study: &Study, units: &Units) -> String {
    let results = study.results();
    let mut text = head(project, study, units);
    for (id, result) in &results.pumps {
        if let Some(Component { name, kind: ComponentKind::Pump(unit), .. }) = project.components.get(id) {
            text += &format!("\n{}\n", plain(name));
            text += &columns::table("  ", &pump(*id, unit, result, study, units));
        }
    }
    text += "\nZones\n";
    text += &columns::table("  ", &zones(project, results, units));
    text += &format!("  {}\n", accepted(&project.acceptance, units));
    if results.zones.values().any(|zone| zone.room_c.is_some()) {
        let miss = units.format(Quantity::TemperatureDifference, ROOM_MISS_K);
        text += &format!(
            "  Rooms with a thermostatic valve: served within {miss} of what it is set to; common practice, no source\n"
        );
    }
    let sources = sources(project, results, units);
    if sources.len() > 1 {
        text += "\nSources and separators\n";
        text += &columns::table("  ", &sources);
    }
    text += &super::instruments::tables(project, results, units);
    text += &super::pipes::pipes(project, results, units);
    text += &to_look_at(&checks(project, study, units));
    text += &format!("\nBalances: {}\n", balances(results));
    text += &format!("\n{CAUTION}\n");
    text
}

/// Errors and warnings; notes are counted only, for a large system may have thousands.
fn to_look_at(checks: &[Check]) -> String {
    let notes = checks.iter().filter(|check| check.severity == Severity::Note).count();
    let graver = &checks[..checks.len() - notes];
    if checks.is_empty() {
        return String::new();
    }
    let mut text = format!("\nTo look at\n{}", check_lines(graver));
    if notes > 0 {
        let (and, s) = (if graver.is_empty() { "" } else { "and " }, if notes == 1 { "" } else { "s" });
        text += &format!("  {and}{notes} note{s}: headwise check FILE lists all\n");
    }
    text
}

/// The checks, one a line, each with how grave it is, its place and its text.
#[must_use]
pub fn check_lines(checks: &[Check]) -> String {
    let line = |check: &Check| {
        let [title, text] = [&check.title, &check.text()].map(|text| plain(text));
        format!("  {}: {title}: {text}\n", check.severity.word())
    };
    checks.iter().map(line).collect()
}

fn head(project: &Project, study: &Study, units: &Units) -> String {
    let title = plain(&project.title);
    let basis = &project.design;
    let duty = match basis.duty {
        Duty::Heating => "Heating",
        Duty::Cooling => "Cooling",
    };
    let temperature = |celsius| units.format(Quantity::Temperature, celsius);
    let outdoor = match (basis.outdoor_c, project.outdoor_now_c) {
        (Some(design), Some(now)) => format!(", outdoors {} (now {})", temperature(design), temperature(now)),
        (Some(design), None) => format!(", outdoors {}", temperature(design)),
        (None, _) => String::new(),
    };
    let fluid = &study.lowered().fluid;
    format!(
        "{title}\n{}\n{duty}: supply {}, return {}, room {}{outdoor}\nFluid: {}, {} and {} at {}\n",
        "=".repeat(width(&title)),
        temperature(basis.supply_c),
        temperature(basis.return_c),
        temperature(basis.room_c),
        project.fluid,
        units.format(Quantity::Density, fluid.density_kg_per_m3),
        units.format(Quantity::Viscosity, fluid.dynamic_viscosity_pa_s),
        temperature(basis.mean_c()),
    )
}

/// Settings and answer of one pump, a label and a text a row.
fn pump(id: ComponentId, unit: &PumpUnit, result: &PumpResult, study: &Study, units: &Units) -> Vec<Vec<String>> {
    let settings = &unit.regulation;
    let format = |quantity, value| units.format(quantity, value);
    let limit = settings.head_limit_m.map_or("none".to_owned(), |head| format(Quantity::Head, head));
    let mut rows: Vec<[String; 2]> = Vec::new();
    let mut row = |label: &str, text: String| rows.push([label.to_owned(), text]);
    row("Head limit", limit);
    row("Slope", share_as_set(settings.slope, units));
    row("Speed cap", format(Quantity::Speed, settings.speed_cap));
    if let Some(power) = settings.power_limit_w {
        row("Power limit", format(Quantity::Power, power));
    }
    row("Minimum speed", format(Quantity::Speed, settings.minimum_speed));
    row("Reference flow", reference(unit, result, units));
    if result.running {
        let ranges = study.curves(id).map(|curves| curves.ranges.as_slice()).unwrap_or_default();
        let point = [format(Quantity::Flow, result.flow), format(Quantity::Head, result.head)];
        row("Operating point", format!("{} at {}", point[0], point[1]));
        let speed = [format(Quantity::Speed, result.speed), format(Quantity::RotationalSpeed, result.speed_rpm)];
        row("Speed", format!("{}, {}", speed[0], speed[1]));
        row("Governing", governing_at(result, ranges, units));
        row("Over all flows", governing_ranges(ranges, units));
        row("Electric power", format(Quantity::Power, result.electric_w));
        row("Hydraulic power", format(Quantity::Power, result.hydraulic_w));
        row("Wire to water", format(Quantity::Share, result.wire_to_water));
        let water = &result.water;
        row(
            "Water moved",
            format!(
                "{} and {} at {}, the mean of its circuit",
                format(Quantity::Density, water.fluid.density_kg_per_m3),
                format(Quantity::Viscosity, water.fluid.dynamic_viscosity_pa_s),
                format(Quantity::Temperature, water.mean_c)
            ),
        );
    } else {
        row("State", format!("stands still; {} passes through it", format(Quantity::Flow, result.flow)));
    }
    let viscous = viscous_sentence(result, units);
    if !viscous.is_empty() {
        row("Viscosity", viscous);
    }
    let note = verdict_sentence(study.results(), result);
    if !note.is_empty() {
        row("Note", note);
    }
    rows.into_iter().map(|row| row.to_vec()).collect()
}

/// Where the set-line reaches the head limit, and at what flow.
pub(super) fn reference(unit: &PumpUnit, result: &PumpResult, units: &Units) -> String {
    let where_it_is = match unit.regulation.reference {
        ReferenceFlow::FullSpeed => "where the full-speed curve crosses the head limit",
        ReferenceFlow::CappedSpeed => "where the capped curve crosses the head limit",
        ReferenceFlow::DesignFlow(_) => "the design flow as given",
    };
    // A given flow is known even while the circulator stands.
    let given = match unit.regulation.reference {
        ReferenceFlow::DesignFlow(flow) => Some(flow),
        ReferenceFlow::FullSpeed | ReferenceFlow::CappedSpeed => None,
    };
    match (unit.regulation.head_limit_m, result.reference_flow.or(given)) {
        (None, _) => "none without a head limit".to_owned(),
        (Some(_), Some(flow)) => format!("{}, {where_it_is}", units.format(Quantity::Flow, flow)),
        (Some(_), None) if result.running => format!("none: {where_it_is}, but it never reaches it"),
        (Some(_), None) => where_it_is.to_owned(),
    }
}

fn zones(project: &Project, results: &Results, units: &Units) -> Vec<Vec<String>> {
    let heat = match project.design.duty {
        Duty::Heating => "Heat",
        Duty::Cooling => "Cooling",
    };
    let with_room = results.zones.values().any(|zone| zone.room_c.is_some());
    let headings = ["Zone", "Flow", "Design flow", "Share", heat, "Of design load", "Return", "Room", "State"];
    let kept = |cells: [String; 9]| -> Vec<String> {
        cells.into_iter().enumerate().filter(|(i, _)| with_room || *i != 7).map(|(_, cell)| cell).collect()
    };
    let mut rows = vec![kept(headings.map(str::to_owned))];
    let row = |name: &str, zone: &Amounts, state: Option<ZoneState>| {
        kept([
            name.to_owned(),
            units.format(Quantity::Flow, zone.flow),
            units.format(Quantity::Flow, zone.design_flow),
            share_beside_state(zone.share, state, &project.acceptance, units),
            units.format(Quantity::Heat, zone.heat),
            units.format(Quantity::Share, zone.heat_share),
            units.format(Quantity::Temperature, zone.return_c),
            zone.room_c.map_or_else(String::new, |room_c| units.format(Quantity::Temperature, room_c)),
            state.map_or("", ZoneState::word).to_owned(),
        ])
    };
    for (id, zone) in &project.zones {
        if let Some(result) = results.zones.get(id) {
            rows.push(row(&zone.name, &result.into(), Some(result.state)));
        }
    }
    if rows.len() == 1 {
        return vec![vec!["none".to_owned()]];
    }
    rows.push(row("All zones", &Amounts::of_all(project, results), None));
    rows
}

/// What sources give, and what separators pass.
fn sources(project: &Project, results: &Results, units: &Units) -> Vec<Vec<String>> {
    let mut rows = vec![["", "Flow", "Enters", "Leaves", "Heat", ""].map(str::to_owned).to_vec()];
    for (id, source) in &results.sources {
        let name = project.components.get(id).map_or("", |component| component.name.as_str());
        let temperature = |celsius| units.format(Quantity::Temperature, celsius);
        let flow = units.format(Quantity::Flow, source.flow);
        let heat = units.format(Quantity::Heat, source.heat);
        let empty = String::new();
        rows.push(vec![name.to_owned(), flow, temperature(source.enters_c), temperature(source.leaves_c), heat, empty]);
    }
    for (id, component) in &project.components {
        if let (ComponentKind::Separator { .. }, Some(through)) = (&component.kind, results.components.get(id)) {
            let way = if through.flow < 0.0 { "up, into the secondary flow" } else { "down, into the primary return" };
            let flow = units.format(Quantity::Flow, through.flow.abs());
            let empty = String::new;
            rows.push(vec![component.name.clone(), flow, empty(), empty(), empty(), way.to_owned()]);
        }
    }
    rows
}

/// What share of design flow counts as served, and who says so.
fn accepted(band: &Acceptance, units: &Units) -> String {
    let source = plain(band.source.trim());
    let source = if source.is_empty() { "no source given".to_owned() } else { source };
    let [low, high] = [band.low, band.high].map(|share| share_as_set(share, units));
    format!("Served: {low} to {high} of design flow; {source}")
}

fn balances(results: &Results) -> String {
    let off = format!("off by at most {:.1e} in flow and {:.1e} in pressure", results.mass_error, results.energy_error);
    match results.verdict {
        _ if !results.temperatures_agree => {
            format!("NOT SETTLED, flows and temperatures do not agree, {off}: do not use these figures.")
        }
        Verdict::Converged if results.iterations == 1 => format!("converged after 1 step, {off}."),
        Verdict::Converged => format!("converged after {} steps, {off}.", results.iterations),
        Verdict::NotConverged => {
            format!("NOT CONVERGED after {} steps, {off}: do not use these figures.", results.iterations)
        }
        Verdict::NoPump => "no circulator runs, so nothing was to be solved.".to_owned(),
    }
}

//! Settings beside each other: every scenario solved exactly with each, what that takes a year, and what it changes.

use super::columns::{self, plain};
use super::energy::{Cost, EnergyPart, YearEnergy, difference, energy, power_w, shown_year};
use super::margins::is_missed;
use crate::document::{Command, ComponentId, Project};
use crate::engine::pump::{ReferenceFlow, Regulation};
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::PartLoad;
use crate::study::{SweepError, share_as_set, sweep_for};
use serde_json::{Value, json};

/// Settings with what they do in a year.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// What to call them.
    pub name: String,
    /// The settings.
    pub settings: Regulation,
    /// Their year.
    pub year: YearEnergy,
    /// Scenarios in which a zone does not get what it should.
    pub missed: usize,
    /// Whether every scenario was solved.
    pub converged: bool,
}

/// Solves every scenario with settings.
///
/// # Errors
/// A scenario that cannot be studied.
pub fn beside(project: &Project, pump: ComponentId, name: &str, settings: &Regulation) -> Result<Beside, SweepError> {
    let case = |index| vec![Command::SetRegulation(pump, *settings), Command::EnterScenario(index)];
    let cases: Vec<Vec<Command>> = (0..project.scenarios.len()).map(case).collect();
    let all = sweep_for(project, &cases, |_, results| {
        (power_w(results), results.zones.values().any(|zone| is_missed(zone.state)), results.converged())
    })?;
    let powers: Vec<f64> = all.iter().map(|(power_w, ..)| *power_w).collect();
    Ok(Beside {
        name: name.to_owned(),
        settings: *settings,
        year: YearEnergy::new(project, &powers),
        missed: all.iter().filter(|(_, missed, _)| *missed).count(),
        converged: all.iter().all(|(.., converged)| *converged),
    })
}

/// The present settings first, then what they are compared with, each solved.
///
/// # Errors
/// A scenario that cannot be studied.
pub fn all_beside(project: &Project, part_load: &PartLoad) -> Result<Vec<Beside>, SweepError> {
    let compared = part_load.comparison(project);
    compared.iter().map(|one| beside(project, part_load.pump, &one.name, &one.settings)).collect()
}

/// "4.80 m, slope 30 %, cap 93.0 %".
#[must_use]
pub fn settings_words(settings: &Regulation, units: &Units) -> String {
    let cap = units.format(Quantity::Speed, settings.speed_cap);
    match settings.head_limit_m {
        Some(limit) => {
            let slope = share_as_set(settings.slope, units);
            format!("head limit {}, slope {slope}, speed cap {cap}", units.format(Quantity::Head, limit))
        }
        None => format!("no head limit, speed cap {cap}"),
    }
}

/// Settings as data.
pub(super) fn settings_value(settings: &Regulation) -> Value {
    let (reference, flow) = match settings.reference {
        ReferenceFlow::FullSpeed => ("full_speed", None),
        ReferenceFlow::CappedSpeed => ("capped_speed", None),
        ReferenceFlow::DesignFlow(flow) => ("design_flow", Some(3600.0 * flow)),
    };
    json!({
        "head_limit_m": settings.head_limit_m,
        "slope_percent": 100.0 * settings.slope,
        "speed_cap_percent": 100.0 * settings.speed_cap,
        "power_limit_w": settings.power_limit_w,
        "minimum_speed_percent": 100.0 * settings.minimum_speed,
        "reference_flow": reference,
        "design_flow_m3_per_h": flow,
    })
}

/// All as a table; the first is what the others are held against.
pub(super) fn beside_table(project: &Project, all: &[Beside], units: &Units) -> String {
    let Some(present) = all.first() else { return String::new() };
    let cost = Cost(&project.energy);
    let with_cost = cost.money(0.0).is_some();
    let with_co2 = cost.co2(0.0).is_some();
    let mut headings = vec!["Settings", "In the hours", "Standing by", "Year", "Against the first"];
    headings.extend(with_cost.then_some("Cost"));
    headings.extend(with_co2.then_some("CO₂"));
    headings.extend(["Outside band", "Head limit, slope, cap"]);
    let row = |one: &Beside| {
        let mut cells = vec![plain(&one.name)];
        let parts = [one.year.in_hours_j(), one.year.standby_j, shown_year(units, &one.year)];
        cells.extend(parts.iter().map(|part| energy(units, *part)));
        let is_first = std::ptr::eq(one, present);
        let change = if is_first { "–".to_owned() } else { difference(units, &present.year, &one.year) };
        cells.push(if one.converged { change } else { "NOT CONVERGED".to_owned() });
        cells.extend(cost.money(one.year.total_j()));
        cells.extend(cost.co2(one.year.total_j()));
        cells.push(match one.missed {
            0 => "never".to_owned(),
            missed => format!("in {missed} of {}", one.year.each_j.len()),
        });
        let limit = one.settings.head_limit_m.map_or("none".to_owned(), |limit| units.format(Quantity::Head, limit));
        let slope = one.settings.head_limit_m.map_or("–".to_owned(), |_| share_as_set(one.settings.slope, units));
        cells.push(format!("{limit}, {slope}, {}", units.format(Quantity::Speed, one.settings.speed_cap)));
        cells
    };
    let headings = headings.into_iter().map(str::to_owned).collect();
    columns::table("  ", &std::iter::once(headings).chain(all.iter().map(row)).collect::<Vec<_>>())
}

/// All as data.
pub(super) fn beside_values(project: &Project, all: &[Beside]) -> Vec<Value> {
    let first_j = all.first().map_or(0.0, |one| one.year.total_j());
    let value = |one: &Beside| {
        let by_j = one.year.total_j() - first_j;
        json!({
            "name": one.name,
            "settings": settings_value(&one.settings),
            "energy": EnergyPart::new(&project.energy, &one.year),
            "against_first_kwh": by_j / super::energy::KWH_J,
            "against_first_percent": (first_j > 0.0).then(|| 100.0 * by_j / first_j),
            "scenarios_outside_band": one.missed,
            "converged": one.converged,
        })
    };
    all.iter().map(value).collect()
}

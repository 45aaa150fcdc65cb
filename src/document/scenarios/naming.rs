//! Names of made scenarios: short, in the trade's words, and unlike each other.

use super::switched::Zones;
use crate::document::{Project, Scenario};
use std::collections::BTreeSet;

/// The most zones that a name lists; more are counted.
const MOST_LISTED: usize = 2;

/// Which zones are open, in few words.
pub(super) fn open_zones(zones: &Zones<'_>, open: &[usize]) -> String {
    match open.len() {
        count if count == zones.switched.len() => "all zones".to_owned(),
        0 => "only zones without a valve".to_owned(),
        count if count > MOST_LISTED => format!("{count} zones"),
        _ => listed(zones, open),
    }
}

/// Names of zones in a row.
pub(super) fn listed(zones: &Zones<'_>, places: &[usize]) -> String {
    let names: Vec<&str> = places.iter().filter_map(|place| zones.switched.get(*place)).map(|zone| zone.name).collect();
    names.join(", ")
}

/// A share as whole per cent, or with a decimal where it has one.
pub(super) fn percent(share: f64) -> String {
    let tenths = (1000.0 * share).round() / 10.0;
    format!("{tenths} %")
}

/// A temperature to a tenth, with a true minus.
pub(super) fn celsius(temperature: f64) -> String {
    let tenths = (10.0 * temperature).round() / 10.0;
    if tenths < 0.0 { format!("−{}", -tenths) } else { format!("{}", tenths.abs()) }
}

/// The scenarios with names unlike each other and unlike those in use: a number behind what would be the same.
pub(super) fn told_apart(scenarios: Vec<Scenario>, mut used: BTreeSet<String>) -> Vec<Scenario> {
    let apart = |scenario: Scenario| {
        let mut name = scenario.name.clone();
        for number in 2_u32.. {
            if used.insert(name.clone()) {
                break;
            }
            name = format!("{} ({number})", scenario.name);
        }
        Scenario { name, ..scenario }
    };
    scenarios.into_iter().map(apart).collect()
}

/// The scenarios of a project with others added to them, whose names are changed where they are taken.
#[must_use]
pub fn added_scenarios(project: &Project, new: Vec<Scenario>) -> Vec<Scenario> {
    let used = project.scenarios.iter().map(|scenario| scenario.name.clone()).collect();
    project.scenarios.iter().cloned().chain(told_apart(new, used)).collect()
}

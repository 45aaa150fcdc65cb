//! Scenarios: hours that fit into a year, weather that can be, zones that are there.

use super::Found;
use crate::document::Project;
use crate::document::design::is_outdoor_temperature;

pub(super) fn flaws(project: &Project, found: &mut Found) {
    /// Hours of a leap year.
    const YEAR: f64 = 8784.0;
    for scenario in &project.scenarios {
        found.at(&format!("scenario {}", scenario.name));
        found.at_least_zero("hours per year", scenario.hours_per_year);
        if scenario.hours_per_year > YEAR {
            found.say(format!("{} hours do not fit into a year: give at most {YEAR}", scenario.hours_per_year));
        }
        if let Some(outdoor_c) = scenario.outdoor_c.filter(|outdoor_c| !is_outdoor_temperature(*outdoor_c)) {
            found.say(format!("{outdoor_c} °C is no outdoor temperature: give one between −70 and 60 °C"));
        }
        if scenario.shut.iter().any(|zone| !project.zones.contains_key(zone)) {
            found.say("it shuts a zone that is not there: name zones of this project".to_owned());
        }
    }
    let hours = || project.scenarios.iter().map(|scenario| scenario.hours_per_year);
    let total: f64 = hours().sum();
    if total > YEAR * (1.0 + 1e-9) && hours().all(|hours| (0.0..=YEAR).contains(&hours)) {
        found.at("scenarios");
        found.say(format!(
            "together they take {total} hours of a year, but only one state can be at a time: give at most {YEAR} in all"
        ));
    }
}

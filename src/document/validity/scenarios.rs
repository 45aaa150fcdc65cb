//! Scenarios: hours that fit into a year, weather that can be, zones that are there.

use super::Found;
use crate::document::Project;
use crate::document::design::is_outdoor_temperature;

/// Hours of a leap year, the most that scenarios can take together.
pub const LEAP_YEAR_HOURS: f64 = 8784.0;

pub(super) fn flaws(project: &Project, found: &mut Found) {
    for scenario in &project.scenarios {
        found.at(&format!("scenario {}", scenario.name));
        found.at_least_zero("hours per year", scenario.hours_per_year);
        if scenario.hours_per_year > LEAP_YEAR_HOURS {
            found.say(format!(
                "{} hours do not fit into a year: give at most {LEAP_YEAR_HOURS}",
                scenario.hours_per_year
            ));
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
    if total > LEAP_YEAR_HOURS * (1.0 + 1e-9) && hours().all(|hours| (0.0..=LEAP_YEAR_HOURS).contains(&hours)) {
        found.at("scenarios");
        found.say(format!(
            "together they take {total} hours of a year, but only one state can be at a time: give at most {LEAP_YEAR_HOURS} in all"
        ));
    }
}

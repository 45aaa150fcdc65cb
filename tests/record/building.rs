//! A building of many zones with scenarios: the library's zones over and over.

use crate::plans;
use headwise::document::{Arrangement, PlannedValve, Project, Scenario, compose};
use headwise::study::sizing;

/// So many zones and scenarios, balanced.
pub fn building(zones: usize, scenarios: usize) -> Project {
    let mut plan = plans::library(Arrangement::DirectReturn, false);
    let pattern = plan.zones.clone();
    plan.zones = (0..zones)
        .map(|index| {
            let mut zone = pattern[index % pattern.len()].clone();
            zone.name = format!("Zone {index}");
            zone.valve = PlannedValve::Zone;
            zone
        })
        .collect();
    let mut project = compose(&plan).unwrap().project;
    let ids: Vec<_> = project.zones.keys().copied().collect();
    project.scenarios = (0..scenarios)
        .map(|number| Scenario {
            name: format!("Scenario {number}"),
            hours_per_year: 500.0,
            shut: ids.iter().enumerate().filter(|(zone, _)| zone % (number + 1) == 1).map(|(_, id)| *id).collect(),
            outdoor_c: None,
        })
        .collect();
    for command in sizing::balance(&project).unwrap().commands() {
        project.apply(&command).unwrap();
    }
    project
}

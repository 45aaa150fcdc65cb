//! Scenarios: named states of all zone valves and of the weather, with the hours a year each stands for.

use super::{Project, Zone, ZoneId};
use std::collections::BTreeSet;

/// One state of all zone valves.
#[derive(Clone, Debug, PartialEq)]
pub struct Scenario {
    /// Name, unlike all other scenarios' names.
    pub name: String,
    /// Hours a year.
    pub hours_per_year: f64,
    /// The zones that are shut; all others are open.
    pub shut: BTreeSet<ZoneId>,
    /// Outdoor temperature of this state, °C; `None` for the design's. Only thermostatic valves ask for it.
    pub outdoor_c: Option<f64>,
}

impl Scenario {
    /// A state in which every zone is open, for no hours yet.
    #[must_use]
    pub fn all_open(name: &str) -> Self {
        Self { name: name.to_owned(), hours_per_year: 0.0, shut: BTreeSet::new(), outdoor_c: None }
    }
}

impl Project {
    /// Whether the zone valves and the weather stand as a scenario says.
    #[must_use]
    pub fn stands_in(&self, scenario: &Scenario) -> bool {
        let weather = |outdoor_c: Option<f64>| outdoor_c.or(self.design.outdoor_c);
        // A zone without a valve cannot be shut, whatever the scenario says of it.
        let agrees = |(id, zone): (&ZoneId, &Zone)| {
            self.is_zone_shut(zone) == (zone.valve.is_some() && scenario.shut.contains(id))
        };
        weather(scenario.outdoor_c) == weather(self.outdoor_now_c) && self.zones.iter().all(agrees)
    }

    /// The scenario that the zone valves and the weather stand in, if any: the first of several that are alike.
    #[must_use]
    pub fn present_scenario(&self) -> Option<&Scenario> {
        self.scenarios.iter().find(|scenario| self.stands_in(scenario))
    }
}

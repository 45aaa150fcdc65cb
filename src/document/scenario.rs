//! Scenarios: named states of all zone valves and of the weather, with the hours a year each stands for.

use super::ZoneId;
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

//! Scenarios: named states of all zone valves, with the hours a year each stands for.

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
}

//! Scenarios of every combination of open zones.

use super::check_hours;
use super::naming::{listed, told_apart};
use super::switched::Zones;
use crate::document::{Project, Scenario};
use std::collections::BTreeSet;

/// The most zones with a valve of which every combination is listed: 63 states.
pub const MOST_COMBINED: usize = 6;

/// Every state of the zones that a valve shuts in which some zone is open, all open first, with the hours spread evenly.
///
/// # Errors
/// A sentence where nothing can be shut, there are too many such zones, or the hours cannot be.
pub fn of_combinations(project: &Project, hours: f64) -> Result<Vec<Scenario>, String> {
    check_hours(hours)?;
    let zones = Zones::of(project)?;
    let count = zones.switched.len();
    if count > MOST_COMBINED {
        return Err(format!(
            "{count} zones with valves have too many combinations to list as scenarios ({MOST_COMBINED} zones at most): tick \
             “Every combination of zones must be served” instead, which tries them without listing them"
        ));
    }
    // The first zone is the highest bit; where a zone is always open, all others may be shut.
    let least = u32::from(!zones.has_always);
    let places = |set: u32| -> Vec<usize> { (0..count).filter(|place| set >> (count - 1 - place) & 1 == 1).collect() };
    let mut sets: Vec<u32> = (least..1 << count).rev().collect();
    sets.sort_by_key(|set| std::cmp::Reverse(set.count_ones()));
    let each = hours / sets.len() as f64;
    let scenarios = sets.into_iter().map(|set| {
        let open = places(set);
        zones.state(name(&zones, &open), each, &open)
    });
    Ok(told_apart(scenarios.collect(), BTreeSet::new()))
}

/// The open zones, or the shut ones where those are fewer; three names at most.
fn name(zones: &Zones<'_>, open: &[usize]) -> String {
    let shut: Vec<usize> = (0..zones.switched.len()).filter(|place| !open.contains(place)).collect();
    match (open.len(), shut.len()) {
        (_, 0) => "All zones open".to_owned(),
        (0, _) => "Only zones without a valve".to_owned(),
        (open, shut_count) if shut_count < open => format!("All but {}", listed(zones, &shut)),
        (1, _) => format!("{} alone", listed(zones, open)),
        _ => listed(zones, open),
    }
}

//! Scenarios out of a load profile: for each share of the flow the set of open zones that comes nearest to it.

use super::check_hours;
use super::naming::{open_zones, percent, told_apart};
use super::nearest::nearest;
use super::switched::Zones;
use crate::document::{Project, Scenario};
use crate::engine::pump::LoadPoint;
use std::collections::BTreeSet;

/// States of the zones for a load profile over so many hours a year, highest flow first as the profile has it.
///
/// For each load point those zones are open, among the ones that a valve shuts, whose design flows come nearest to its share of
/// all design flows; the name says what is reached. Load points that come to the same zones are one state with the hours of all.
///
/// # Errors
/// A sentence where nothing can be shut, or the profile or its hours cannot be.
pub fn of_profile(project: &Project, profile: &[LoadPoint], hours: f64) -> Result<Vec<Scenario>, String> {
    check_hours(hours)?;
    check(profile)?;
    let zones = Zones::of(project)?;
    let mut states: Vec<(Vec<usize>, Vec<LoadPoint>)> = Vec::new();
    for load in profile {
        let open = nearest(&zones, load.flow_share);
        match states.iter_mut().find(|(set, _)| *set == open) {
            Some((_, loads)) => loads.push(*load),
            None => states.push((open, vec![*load])),
        }
    }
    let scenario = |(open, loads): (Vec<usize>, Vec<LoadPoint>)| {
        let weight: f64 = loads.iter().map(|load| load.weight).sum();
        zones.state(name(&zones, &open, &loads), hours * weight, &open)
    };
    Ok(told_apart(states.into_iter().map(scenario).collect(), BTreeSet::new()))
}

fn check(profile: &[LoadPoint]) -> Result<(), String> {
    if profile.is_empty() {
        return Err("the profile has no load point: give at least one share of flow with its share of time".to_owned());
    }
    for load in profile {
        if !(load.flow_share > 0.0 && load.flow_share <= 1.0) {
            return Err(format!(
                "a load point of {} flow is no state of open zones: give more than 0 and at most 100 %",
                percent(load.flow_share)
            ));
        }
        if !(load.weight >= 0.0 && load.weight <= 1.0) {
            return Err(format!(
                "{} of the time cannot be that of a load point: give 0 to 100 %",
                percent(load.weight)
            ));
        }
    }
    let sum: f64 = profile.iter().map(|load| load.weight).sum();
    if sum > 1.0 + 1e-9 {
        return Err(format!(
            "the load points together take {} of the time: shares of time must not come to more than 100 %",
            percent(sum)
        ));
    }
    Ok(())
}

/// "50 % of flow (reached 47 %): Office, Hall".
fn name(zones: &Zones<'_>, open: &[usize], loads: &[LoadPoint]) -> String {
    let mut shares: Vec<String> = Vec::new();
    for load in loads {
        let share = percent(load.flow_share);
        if !shares.contains(&share) {
            shares.push(share);
        }
    }
    let reached = zones.reached(open);
    // Whole per cent are near enough for a name; the nudge rounds a half up whatever its last bit.
    let whole = (100.0 * reached + 1e-9).round();
    let is_met = loads.iter().all(|load| (load.flow_share - reached).abs() < 0.005);
    let note = if is_met { String::new() } else { format!(" (reached {whole} %)") };
    format!("{} of flow{note}: {}", shares.join(" and "), open_zones(zones, open))
}

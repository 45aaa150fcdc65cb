//! Scenarios out of hours by outdoor temperature, as tables of a place's weather give them.

use super::check_hours;
use super::naming::{celsius, open_zones, told_apart};
use super::nearest::nearest;
use super::switched::Zones;
use crate::document::design::is_outdoor_temperature;
use crate::document::{Duty, Project, Scenario};
use std::collections::BTreeSet;

/// Hours of a year at one outdoor temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// The temperature, °C.
    pub outdoor_c: f64,
    /// Hours a year.
    pub hours: f64,
}

/// States for hours by outdoor temperature, the greatest load first. What a bin asks for is the share of the design load that its
/// temperature has between the room and the design outdoor temperature, (room − outdoor)/(room − design outdoor) for heating and
/// its mirror for cooling; hours without load give no state.
///
/// Where thermostatic valves throttle zones, each temperature is a state with all zones open in that weather, for the valves
/// themselves then make the load. Elsewhere the share of flow is taken as that of the load, and the set of open zones that comes
/// nearest to it stands for all hours of its temperatures: an approximation of zones that are on and off in turn, which says what
/// the pump meets, not what each room gets. It knows no gains from sun and people, and no rooms of other temperatures.
///
/// # Errors
/// A sentence where the design has no outdoor temperature, nothing can be shut, or the bins cannot be.
pub fn of_bins(project: &Project, bins: &[Bin]) -> Result<Vec<Scenario>, String> {
    let Some(design_c) = project.design.outdoor_c else {
        return Err(
            "the design has no outdoor temperature, so that no share of the load follows from the weather: tick \
                    “Outdoor” under Design and type the temperature for which the loads are reckoned"
                .to_owned(),
        );
    };
    check(bins)?;
    let room_c = project.design.room_c;
    let load = |bin: &Bin| ((room_c - bin.outdoor_c) / (room_c - design_c)).clamp(0.0, 1.0);
    let mut loaded: Vec<Bin> = bins.iter().copied().filter(|bin| bin.hours > 0.0 && load(bin) > 0.0).collect();
    if loaded.is_empty() {
        let side = match project.design.duty {
            Duty::Heating => "below",
            Duty::Cooling => "above",
        };
        return Err(format!(
            "no hours lie {side} the room temperature of {} °C, so there is no load: check the temperatures and their unit",
            celsius(room_c)
        ));
    }
    check_hours(loaded.iter().map(|bin| bin.hours).sum())?;
    loaded.sort_by(|a, b| {
        (load(b), a.outdoor_c).partial_cmp(&(load(a), b.outdoor_c)).unwrap_or(std::cmp::Ordering::Equal)
    });
    let scenarios = if project.thermostatic_zones().is_empty() {
        by_sets(&Zones::of(project)?, &loaded, load)
    } else {
        by_weather(&loaded)
    };
    Ok(told_apart(scenarios, BTreeSet::new()))
}

fn check(bins: &[Bin]) -> Result<(), String> {
    for Bin { outdoor_c, hours } in bins {
        if !is_outdoor_temperature(*outdoor_c) {
            return Err(format!("{outdoor_c} °C is no outdoor temperature: give one between −70 and 60 °C"));
        }
        if !(*hours >= 0.0 && hours.is_finite()) {
            return Err(format!("{hours} hours at {} °C cannot be: give zero or more", celsius(*outdoor_c)));
        }
    }
    Ok(())
}

/// Every temperature with all zones open.
fn by_weather(bins: &[Bin]) -> Vec<Scenario> {
    let mut scenarios: Vec<Scenario> = Vec::new();
    for bin in bins {
        match scenarios.iter_mut().find(|scenario| scenario.outdoor_c == Some(bin.outdoor_c)) {
            Some(scenario) => scenario.hours_per_year += bin.hours,
            None => scenarios.push(Scenario {
                hours_per_year: bin.hours,
                outdoor_c: Some(bin.outdoor_c),
                ..Scenario::all_open(&format!("{} °C outdoors", celsius(bin.outdoor_c)))
            }),
        }
    }
    scenarios
}

/// Temperatures that come to the same open zones are one state.
fn by_sets(zones: &Zones<'_>, bins: &[Bin], load: impl Fn(&Bin) -> f64) -> Vec<Scenario> {
    let mut states: Vec<(Vec<usize>, Vec<Bin>)> = Vec::new();
    for bin in bins {
        let open = nearest(zones, load(bin));
        match states.iter_mut().find(|(set, _)| *set == open) {
            Some((_, bins)) => bins.push(*bin),
            None => states.push((open, vec![*bin])),
        }
    }
    let scenario = |(open, bins): (Vec<usize>, Vec<Bin>)| {
        let name = format!("{} °C outdoors: {}", range(&bins), open_zones(zones, &open));
        zones.state(name, bins.iter().map(|bin| bin.hours).sum(), &open)
    };
    states.into_iter().map(scenario).collect()
}

/// "−5 to 3", or the one temperature.
fn range(bins: &[Bin]) -> String {
    let (low, high) = bins
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), bin| (low.min(bin.outdoor_c), high.max(bin.outdoor_c)));
    let [low, high] = [low, high].map(celsius);
    if low == high { low } else { format!("{low} to {high}") }
}

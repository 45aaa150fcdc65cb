//! The best setting: whole steps of the device that take least electric energy a year while every zone keeps its band in every state.
//!
//! Less head limit, more slope and less cap all mean less head at every flow, and less head less energy. For each slope and each cap
//! the least head limit that reaches what must be reached is therefore the best of its kind; it is looked for by halving, and of
//! all that pass nothing they must not, the one with the least mean power over the hours wins. Tests hold it against a plain search
//! through all settings.

use super::deciding::Deciding;
use super::watch::Watch;
use crate::document::{SettingSteps, stepped};
use crate::engine::pump::{ReferenceFlow, Regulation, SetLine};
use crate::study::lower::LowerError;
use crate::study::part_load::{Law, PartLoad, Served};
use rayon::prelude::*;

/// Mean powers that differ by less are the same: then less slope, then a lower cap is better, for it holds where things are off.
const ALIKE: f64 = 2e-4;
/// Head by which a combination must clear its edges not to be probed before it counts, as a share.
const CLEAR: f64 = 0.02;

/// A setting that serves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Best {
    /// The settings.
    pub settings: Regulation,
    /// Mean electric power of all pumps over the hours, W.
    pub mean_w: f64,
    /// How many settings were weighed against each other.
    pub weighed: usize,
}

/// Why there is no best setting.
#[derive(Clone, Debug, PartialEq)]
pub enum NoBest {
    /// The person gave up.
    GivenUp,
    /// No setting serves; the states that none serves, if it is one alone and not their clash.
    NoneServes,
    /// The document cannot be studied any more.
    Lower(LowerError),
}

/// Finds the best setting. Combinations that come near to deciding are probed on the way.
///
/// # Errors
/// Where no setting serves, or the person gave up.
pub fn best(part_load: &mut PartLoad, watch: &Watch) -> Result<Best, NoBest> {
    sought(part_load, watch, Deciding::new)
}

/// The best of the settings that starve no zone and keep quiet, whatever zones get too much: for systems in which none serves.
///
/// # Errors
/// Where every setting starves a zone or is too loud, or the person gave up.
pub fn least_starving(part_load: &mut PartLoad, watch: &Watch) -> Result<Best, NoBest> {
    sought(part_load, watch, Deciding::letting_overflow)
}

/// Searches until nothing decides that was only looked at quickly.
fn sought(part_load: &mut PartLoad, watch: &Watch, decide: fn(&PartLoad) -> Deciding) -> Result<Best, NoBest> {
    loop {
        let deciding = decide(part_load);
        let is_possible = deciding.impossible.is_empty();
        let found = if is_possible { search(part_load, &deciding, watch) } else { Err(NoBest::NoneServes) };
        if watch.is_given_up() {
            return Err(NoBest::GivenUp);
        }
        let near = match &found {
            Ok(best) => near(part_load, &part_load.law(&best.settings)),
            // Before it is said that nothing serves, what forbids it is probed.
            Err(_) => forbidding(part_load, &deciding),
        };
        let Some(combined) = &mut part_load.combined else { return found };
        if !combined.probe_all(&near).map_err(NoBest::Lower)? {
            return found;
        }
    }
}

/// The combinations, by their own number, whose edges settings do not clear by far.
fn near(part_load: &PartLoad, law: &Law) -> Vec<usize> {
    let named = part_load.tables.len();
    let is_near = |served: &Served| {
        served.least.is_some_and(|edge| law.reach(&edge) < 1.0 + CLEAR)
            || served.most.is_some_and(|edge| law.reach(&edge) > 1.0 - CLEAR)
    };
    let all = part_load.served().filter(|(state, served)| *state >= named && is_near(served));
    all.map(|(state, _)| state - named).collect()
}

/// The combinations, by their own number, that forbid every setting: where some cannot be served at all, the worst of them unless
/// one is known for certain; otherwise all that decide.
fn forbidding(part_load: &PartLoad, deciding: &Deciding) -> Vec<usize> {
    let named = part_load.tables.len();
    let is_certain = |state: usize| {
        state < named || part_load.combined.as_ref().is_some_and(|combined| combined.is_probed(state - named))
    };
    if deciding.impossible.iter().any(|(state, _)| is_certain(*state)) {
        return Vec::new();
    }
    let gap = |served: &Served| match (served.least, served.most) {
        (Some(least), Some(most)) if !served.beyond => least.head / most.head,
        _ => f64::INFINITY,
    };
    let worst = deciding.impossible.iter().max_by(|a, b| gap(&a.1).total_cmp(&gap(&b.1)));
    if let Some((state, _)) = worst {
        return vec![state - named];
    }
    let edges = deciding.floors.iter().chain(&deciding.ceilings).map(|at| at.state);
    edges.filter(|state| *state >= named).map(|state| state - named).collect()
}

/// Whole steps from one value to another, both included where they are whole.
pub(super) fn steps((low, high): (f64, f64), step: f64) -> Vec<f64> {
    /// Most steps of a setting: finer ones than any device has are not searched.
    const MOST: f64 = 1000.0;
    let step = step.max((high - low) / MOST);
    if !(step > 0.0 && step.is_finite()) {
        return vec![low];
    }
    let (first, last) = ((low / step - 1e-9).ceil() as i64, (high / step + 1e-9).floor() as i64);
    (first..=last).map(|k| stepped(k as f64 * step, step)).collect()
}

pub(super) fn search(part_load: &PartLoad, deciding: &Deciding, watch: &Watch) -> Result<Best, NoBest> {
    let SettingSteps { head_limit, slope, speed_cap } = part_load.steps;
    let ranges = part_load.ranges;
    let limits: Vec<f64> = steps(ranges.head_limit, head_limit).into_iter().filter(|limit| *limit > 0.0).collect();
    let slopes = steps(ranges.slope, slope);
    let least_cap = deciding.floors.iter().map(|at| at.edge.speed).fold(part_load.regulation.minimum_speed, f64::max);
    let caps: Vec<f64> =
        steps(ranges.speed_cap, speed_cap).into_iter().filter(|cap| *cap >= least_cap - 1e-9).collect();
    watch.more_to_come(caps.len());
    let at_cap = |cap: &f64| {
        let settings = Regulation { speed_cap: *cap, ..part_load.regulation };
        let references = references(part_load, &settings, &limits);
        let mut found: Vec<Best> = Vec::new();
        for slope in &slopes {
            if watch.is_given_up() {
                break;
            }
            let law = |k: usize| {
                let line = references[k].map(|reference_m3_per_s| SetLine {
                    limit_m: limits[k],
                    slope: *slope,
                    reference_m3_per_s,
                });
                Law { line, ..part_load.law(&Regulation { head_limit_m: None, ..settings }) }
            };
            let first = partition(limits.len(), |k| !deciding.reaches_all(&law(k)));
            if first < limits.len() && deciding.passes_none(&law(first)) {
                let settings = Regulation { head_limit_m: Some(limits[first]), slope: *slope, ..settings };
                found.push(Best { settings, mean_w: part_load.mean_power_w(&law(first)), weighed: 1 });
            }
        }
        watch.done(1);
        found
    };
    let all: Vec<Best> = caps.par_iter().flat_map_iter(at_cap).collect();
    let least = all.iter().map(|best| best.mean_w).fold(f64::INFINITY, f64::min);
    let alike = all.iter().filter(|best| best.mean_w <= least * (1.0 + ALIKE));
    let key = |best: &Best| [best.settings.slope, best.settings.speed_cap, best.settings.head_limit_m.unwrap_or(0.0)];
    let chosen = alike.min_by(|a, b| key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal));
    chosen.map(|best| Best { weighed: all.len(), ..*best }).ok_or(NoBest::NoneServes)
}

/// The reference flow at each head limit, m³/s.
fn references(part_load: &PartLoad, settings: &Regulation, limits: &[f64]) -> Vec<Option<f64>> {
    let reference = |limit: &f64| {
        let at = Regulation { head_limit_m: Some(*limit), ..*settings };
        match settings.reference {
            ReferenceFlow::DesignFlow(flow) => Some(flow),
            _ => SetLine::new(&at, &part_load.curve).map(|line| line.reference_m3_per_s),
        }
    };
    limits.iter().map(reference).collect()
}

/// The first number below `count` for which something does not hold, when it holds for all before and for none after.
fn partition(count: usize, holds: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut high) = (0, count);
    while low < high {
        let middle = usize::midpoint(low, high);
        if holds(middle) { low = middle + 1 } else { high = middle }
    }
    low
}

//! The proof of settings: every state of the valves solved anew with them, not read from a table.

use super::margins::is_missed;
use crate::document::{Command, Project, ZoneId};
use crate::engine::pump::Regulation;
use crate::study::part_load::{PartLoad, ValveState};
use crate::study::{Results, SweepError, ZoneResult, ZoneState, sweep_for};

/// How far a share of design flow may lie beyond the band: edges are solved to less.
const ROUNDING: f64 = 1e-6;

/// A zone that does not get what it should.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// The zone.
    pub zone: ZoneId,
    /// The state of the valves.
    pub state: String,
    /// Share of design flow.
    pub share: f64,
    /// How it stands.
    pub is: ZoneState,
}

/// What came of solving every state.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proof {
    /// States that were solved.
    pub states: usize,
    /// States whose answer does not stand.
    pub unsolved: usize,
    /// What contradicts the search.
    pub faults: Vec<Fault>,
}

impl Proof {
    /// Whether the settings hold.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.states > 0 && self.unsolved == 0 && self.faults.is_empty()
    }
}

/// Solves every scenario and every combination that was looked at. Zones that this circulator does not move are not its matter; where
/// `serves` is not asked for, zones may have too much.
///
/// # Errors
/// A state that cannot be studied.
pub fn prove(
    project: &Project,
    part_load: &PartLoad,
    settings: &Regulation,
    serves: bool,
) -> Result<Proof, SweepError> {
    let combined = part_load.combined.iter().flat_map(|combined| &combined.states);
    let states: Vec<&ValveState> = part_load.tables.iter().map(|table| &table.state).chain(combined).collect();
    let set = Command::SetRegulation(part_load.pump, *settings);
    let case = |state: &&ValveState| std::iter::once(set.clone()).chain(state.commands(project)).collect();
    let cases: Vec<Vec<Command>> = states.iter().map(case).collect();
    let law = part_load.law(settings);
    let band = &project.acceptance;
    // A zone is this circulator's where it moves the zone's water in any scenario.
    let moves =
        |zone: &ZoneId| (0..part_load.tables.len()).any(|state| part_load.zone_in(&law, state, *zone).is_some());
    let moved: Vec<ZoneId> = part_load.zones.iter().filter(|zone| moves(zone)).copied().collect();
    let is_fault = |zone: &ZoneResult| match zone.state {
        ZoneState::Overflowed => serves && zone.share > band.high + ROUNDING,
        ZoneState::Starved => zone.share < band.low - ROUNDING,
        state => is_missed(state),
    };
    let faults = |results: &Results| -> Vec<(ZoneId, ZoneResult)> {
        let zones = results.zones.iter().filter(|(id, zone)| moved.contains(id) && is_fault(zone));
        zones.map(|(id, zone)| (*id, *zone)).collect()
    };
    let all = sweep_for(project, &cases, |_, results| (results.converged() && results.stable, faults(results)))?;
    let told = states.iter().zip(&all).flat_map(|(state, (_, faults))| {
        let fault = |(zone, result): &(ZoneId, ZoneResult)| Fault {
            zone: *zone,
            state: state.name.clone(),
            share: result.share,
            is: result.state,
        };
        faults.iter().map(fault)
    });
    Ok(Proof {
        states: states.len(),
        unsolved: all.iter().filter(|(stands, _)| !stands).count(),
        faults: told.collect(),
    })
}

//! Every combination of open zones: between which speeds each is served. They are thousands, so the first look takes the water as it is
//! at design and asks the solver alone; those that come near to deciding anything are then probed with the study itself.

use super::limits::Allowed;
use super::probe::Probe;
use super::screen::Screen;
use super::served::Served;
use super::states::{Combinations, ValveState, combinations};
use super::table::StateTable;
use crate::study::lower::LowerError;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// States of one piece of the work.
const PIECE: usize = 256;

/// All combinations with what serves them.
#[derive(Clone, Debug)]
pub struct CombinedStates {
    /// The states.
    pub states: Vec<ValveState>,
    /// Between which speeds each is served.
    pub served: Vec<Served>,
    /// What was looked at, in words.
    pub words: String,
    /// Whether these are all there are.
    pub is_complete: bool,
    /// Those that were probed with the study itself.
    probed: BTreeMap<usize, StateTable>,
    probe: Box<Probe>,
    allowed: Allowed,
    standby_w: f64,
}

impl CombinedStates {
    pub(super) fn new(probe: &mut Probe, allowed: &Allowed, standby_w: f64) -> Result<Self, LowerError> {
        let project = probe.project().clone();
        let found = combinations(&project);
        let words = found.words();
        let Combinations { states, is_complete, .. } = found;
        let screen = Screen::new(probe, allowed)?;
        let pieces: Vec<Vec<Served>> = states
            .par_chunks(PIECE)
            .map_with(screen, |screen, piece| piece.iter().map(|state| screen.served(state)).collect())
            .collect();
        let served: Vec<Served> = pieces.into_iter().flatten().collect();
        let probed = BTreeMap::new();
        Ok(Self {
            states,
            served,
            words,
            is_complete,
            probed,
            probe: Box::new(probe.clone()),
            allowed: allowed.clone(),
            standby_w,
        })
    }

    /// The table of a state, by number, if it was probed.
    pub(super) fn table(&self, state: usize) -> Option<&StateTable> {
        self.probed.get(&state)
    }

    /// Whether a state, by number, was probed.
    pub(in crate::study) fn is_probed(&self, state: usize) -> bool {
        self.probed.contains_key(&state)
    }

    /// Probes those states, by number, that have not been yet; whether there were any.
    pub(in crate::study) fn probe_all(&mut self, wanted: &[usize]) -> Result<bool, LowerError> {
        let new: Vec<usize> = wanted.iter().copied().filter(|state| !self.probed.contains_key(state)).collect();
        let (states, allowed, standby_w) = (&self.states, &self.allowed, self.standby_w);
        let probed: Result<Vec<StateTable>, LowerError> = new
            .par_iter()
            .map_with((*self.probe).clone(), |probe, state| {
                StateTable::new(probe, states[*state].clone(), allowed, standby_w)
            })
            .collect();
        for (state, table) in new.iter().zip(probed?) {
            self.served[*state] = table.served;
            self.probed.insert(*state, table);
        }
        Ok(!new.is_empty())
    }
}

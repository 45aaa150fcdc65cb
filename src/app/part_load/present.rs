//! What the present settings do in all scenarios.

use super::Probed;
use crate::engine::pump::Regulation;
use crate::study::ZoneState;
use crate::study::part_load::{Law, Margin, PartLoad, Year};

/// The present settings over all scenarios.
#[derive(Debug)]
pub(in super::super) struct Present {
    number: u64,
    settings: Regulation,
    /// The settings, ready to be laid over states.
    pub(in super::super) law: Law,
    /// What they do in each scenario, and in a year.
    pub(in super::super) year: Year,
    /// Mean power over the hours, W.
    pub(in super::super) mean_w: f64,
    /// What every zone gets over all scenarios.
    pub(in super::super) margins: Vec<Margin>,
    /// The scenarios in which a source has less than its minimum flow.
    pub(in super::super) sources_short: Vec<usize>,
    /// How the zones stand, scenario by scenario.
    pub(in super::super) outside: Vec<Outside>,
}

/// How the zones stand in one scenario.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in super::super) struct Outside {
    /// How many get too little, and how many too much.
    pub(in super::super) counts: [usize; 2],
    /// How far the worst of them is outside its band, as a share of design flow, and how it stands.
    pub(in super::super) worst: (f64, ZoneState),
}

impl Present {
    pub(super) fn new(probed: &Probed, settings: &Regulation) -> Self {
        let part_load = &probed.part_load;
        let law = part_load.law(settings);
        Self {
            number: probed.number,
            settings: *settings,
            law,
            year: part_load.year(&law),
            mean_w: part_load.mean_power_w(&law),
            margins: part_load.margins(&law),
            sources_short: part_load.sources_short(&law),
            outside: (0..part_load.tables.len()).map(|state| outside(part_load, &law, state)).collect(),
        }
    }

    pub(super) fn is_of(&self, number: u64, settings: &Regulation) -> bool {
        self.number == number && self.settings == *settings
    }
}

fn outside(part_load: &PartLoad, law: &Law, state: usize) -> Outside {
    let band = &part_load.acceptance;
    let mut outside = Outside { counts: [0, 0], worst: (0.0, ZoneState::Served) };
    for (_, share, stands) in part_load.zones_in(law, state) {
        let off = match stands {
            ZoneState::Starved => {
                outside.counts[0] += 1;
                band.low - share
            }
            ZoneState::Overflowed => {
                outside.counts[1] += 1;
                share - band.high
            }
            _ => continue,
        };
        if off > outside.worst.0 {
            outside.worst = (off, stands);
        }
    }
    outside
}

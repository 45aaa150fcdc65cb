//! The map that is shown, made anew when what it depends on has changed: coarser while the hand is down on many scenarios, finer when
//! it rests.

use super::super::part_load::PartLoadState;
use crate::engine::pump::Regulation;
use crate::study::settings::{Axes, CELLS, Plane, SettingMap};

/// Settings times scenarios that a pass may look at under the hand, and at rest.
const IN_A_PASS: usize = 40_000;
const AT_REST: usize = 160_000;
/// Fewest and most columns.
const FEWEST: usize = 24;
const MOST: usize = 120;

/// The map that is shown.
#[derive(Debug, Default)]
pub(super) struct Made {
    map: Option<SettingMap>,
    of: Option<(u64, bool, Axes, Regulation)>,
    fine: bool,
}

impl Made {
    /// Makes the map anew if it is another. Settings on its axes do not count.
    pub(super) fn follow(&mut self, state: &PartLoadState, axes: Axes, settings: &Regulation, busy: bool) {
        let (Some(probed), Some((part_load, deciding))) = (state.probed(), state.source()) else { return };
        // A search changes the edges where it probes combinations.
        let is_searched = part_load.combined.is_some() && state.searches.found().is_some();
        let base = match axes {
            Axes::LimitOverSlope => Regulation { head_limit_m: None, slope: 0.0, ..*settings },
            Axes::LimitOverCap => Regulation { head_limit_m: None, speed_cap: 1.0, ..*settings },
            Axes::SlopeOverCap => Regulation { slope: 0.0, speed_cap: 1.0, ..*settings },
        };
        let of = (probed.number, is_searched, axes, base);
        let is_same = self.of == Some(of);
        if is_same && (busy || self.is_fine()) {
            return;
        }
        let states = part_load.tables.len().max(1);
        let columns = |most: usize| ((most / states) as f64).sqrt() as usize;
        let columns =
            if is_same { columns(AT_REST).clamp(FEWEST, MOST) } else { columns(IN_A_PASS).clamp(FEWEST, CELLS) };
        let plane = Plane::new(part_load, axes, base);
        self.map = Some(SettingMap::new(part_load, deciding, plane, columns));
        self.fine = is_same;
        self.of = Some(of);
    }

    /// Whether it is as fine as it gets.
    pub(super) fn is_fine(&self) -> bool {
        self.fine
    }

    pub(super) fn map(&self) -> Option<&SettingMap> {
        self.map.as_ref()
    }
}

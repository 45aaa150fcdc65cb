//! Margins: the least and the greatest that each zone gets over all states, in which state, and what governs there.

use super::PartLoad;
use super::law::Law;
use crate::document::ZoneId;
use crate::engine::pump::GoverningLimit;
use crate::study::zones::ZoneState;

/// An extreme of one zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extreme {
    /// Share of design flow.
    pub share: f64,
    /// Share of heat there.
    pub heat: f64,
    /// The state, by its number.
    pub state: usize,
    /// What governs the pump there.
    pub governing: GoverningLimit,
}

/// What a zone gets over all states in which it is open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// The zone.
    pub zone: ZoneId,
    /// Least share of design flow.
    pub least: Extreme,
    /// Greatest share of design flow.
    pub greatest: Extreme,
    /// Least share of heat.
    pub coolest: Extreme,
    /// Greatest share of heat.
    pub warmest: Extreme,
    /// How it stands at its least.
    pub low: ZoneState,
    /// How it stands at its greatest.
    pub high: ZoneState,
}

impl PartLoad {
    /// The margins of all zones that are open in any state and have water that this pump moves.
    #[must_use]
    pub fn margins(&self, law: &Law) -> Vec<Margin> {
        let points: Vec<_> = self.tables.iter().map(|table| (law.point(table), law.place(table))).collect();
        let mut all = Vec::new();
        for (place, zone) in self.zones.iter().enumerate() {
            let mut margin: Option<Margin> = None;
            for (state, table) in self.tables.iter().enumerate() {
                if !table.moved[place] {
                    continue;
                }
                let (point, at) = points[state];
                let [share, heat] = table.zone(at, place);
                let here = Extreme { share, heat, state, governing: point.governing };
                let margin = margin.get_or_insert(Margin {
                    zone: *zone,
                    least: here,
                    greatest: here,
                    coolest: here,
                    warmest: here,
                    low: ZoneState::Served,
                    high: ZoneState::Served,
                });
                if share < margin.least.share {
                    margin.least = here;
                }
                if share > margin.greatest.share {
                    margin.greatest = here;
                }
                if heat < margin.coolest.heat {
                    margin.coolest = here;
                }
                if heat > margin.warmest.heat {
                    margin.warmest = here;
                }
            }
            // Where a thermostatic valve keeps its room, little flow is no fault.
            all.extend(margin.map(|margin| Margin {
                low: self.state_of(place, margin.least.share),
                high: self.state_of(place, margin.greatest.share),
                ..margin
            }));
        }
        all
    }

    /// What one zone gets in one state, by its number in the order of [`PartLoad::served`]: shares of design flow and of heat.
    /// `None` where it is shut or not this pump's, and in combinations that were only looked at quickly.
    #[must_use]
    pub fn zone_in(&self, law: &Law, state: usize, zone: ZoneId) -> Option<[f64; 2]> {
        let combined = || self.combined.as_ref()?.table(state - self.tables.len());
        let table = self.tables.get(state).or_else(combined)?;
        let place = self.zones.binary_search(&zone).ok()?;
        table.moved[place].then(|| table.zone(law.place(table), place))
    }

    /// How all zones stand in one scenario that are open there and have water that this pump moves: share of design flow, and the
    /// word for it.
    #[must_use]
    pub fn zones_in(&self, law: &Law, state: usize) -> Vec<(ZoneId, f64, ZoneState)> {
        let Some(table) = self.tables.get(state) else { return Vec::new() };
        let at = law.place(table);
        let moved = self.zones.iter().enumerate().filter(|(place, _)| table.moved[*place]);
        let zone = |(place, zone): (usize, &ZoneId)| {
            let [share, _] = table.zone(at, place);
            (*zone, share, self.state_of(place, share))
        };
        moved.map(zone).collect()
    }

    /// How a zone with such a share of its design flow stands.
    fn state_of(&self, place: usize, share: f64) -> ZoneState {
        match () {
            () if share < self.acceptance.low && self.is_throttled[place] => ZoneState::Throttled,
            () if share < self.acceptance.low => ZoneState::Starved,
            () if share > self.acceptance.high => ZoneState::Overflowed,
            () => ZoneState::Served,
        }
    }
}

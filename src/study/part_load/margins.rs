//! Margins: the least and the greatest that each zone gets over all states, in which state, and what governs there.

use super::PartLoad;
use super::law::Law;
use super::table::{Between, StateTable};
use crate::document::ZoneId;
use crate::engine::pump::GoverningLimit;
use crate::study::zones::{self, ZoneState};

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
    /// The margins of all zones that are open in any state and have water that this pump moves. The least is the least of those
    /// states in which the zone gets too little, if there are any: a room that is too cold counts before a valve that throttles.
    #[must_use]
    pub fn margins(&self, law: &Law) -> Vec<Margin> {
        let settled = |table: &StateTable| {
            let point = law.point(table);
            (point, table.between(point.speed))
        };
        let points: Vec<_> = self.tables.iter().map(settled).collect();
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
                let stands = self.stands(table, at, place);
                let first = Margin {
                    zone: *zone,
                    least: here,
                    greatest: here,
                    coolest: here,
                    warmest: here,
                    low: stands,
                    high: stands,
                };
                let margin = margin.get_or_insert(first);
                let is_worse = match (stands.is_short(), margin.low.is_short()) {
                    (true, false) => true,
                    (false, true) => false,
                    _ => share < margin.least.share,
                };
                if is_worse {
                    (margin.least, margin.low) = (here, stands);
                }
                if share > margin.greatest.share {
                    (margin.greatest, margin.high) = (here, stands);
                }
                if heat < margin.coolest.heat {
                    margin.coolest = here;
                }
                if heat > margin.warmest.heat {
                    margin.warmest = here;
                }
            }
            all.extend(margin);
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
        let zone = |(place, zone): (usize, &ZoneId)| (*zone, table.zone(at, place)[0], self.stands(table, at, place));
        moved.map(zone).collect()
    }

    /// How a zone stands at a place of a state's table, as the study says it.
    fn stands(&self, table: &StateTable, at: Between, place: usize) -> ZoneState {
        zones::stands(&self.acceptance, self.duty, table.zone(at, place)[0], table.room_miss_k(at, place))
    }

    /// The scenarios, by number, in which a source has less than its minimum flow.
    #[must_use]
    pub fn sources_short(&self, law: &Law) -> Vec<usize> {
        let is_short = |table: &StateTable| table.source(law.place(table)) < 1.0 - 1e-6;
        self.tables.iter().enumerate().filter(|(_, table)| is_short(table)).map(|(state, _)| state).collect()
    }

    /// Flow of the pump in a state, m³/s, by its number in the order of [`PartLoad::served`]; `None` for a combination that was only
    /// looked at quickly.
    #[must_use]
    pub fn flow_in(&self, law: &Law, state: usize) -> Option<f64> {
        let combined = || self.combined.as_ref()?.table(state - self.tables.len());
        self.tables.get(state).or_else(combined).map(|table| law.point(table).flow)
    }
}

//! How a zone is told to people who live in it: by its warmth, not by its flow. What is off in flow alone is no discomfort.

use super::super::view::View;
use crate::document::{ComponentKind, Duty, Project, Zone, ZoneId};
use crate::engine::links::emitter::EmitterLaw;
use crate::study::{ROOM_MISS_K, Results, ZoneResult, ZoneState, share_beside_state, share_number_beside_state};

/// Share of its design load from which on a zone has what it needs, and that below which it lacks much: 5 % are some 1.6 K and 15 %
/// some 5 K in a room 32 K above the weather (from the heat balance; where the lines are drawn is common practice, no source).
const ENOUGH: f64 = 0.95;
const MUCH_BELOW: f64 = 0.85;
/// By how much a room that a thermostatic valve serves may miss its temperature until it lacks much, K.
const MUCH_K: f64 = 2.0 * ROOM_MISS_K;

/// How warm a zone is, when heating; how cool, when cooling. The worst last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Comfort {
    /// Its valve is shut: it asks for nothing.
    Shut,
    /// It has what it needs.
    Fine,
    /// It lacks a little.
    Little,
    /// It lacks much.
    Much,
    /// It gets nothing.
    Nothing,
}

/// How a zone fares: by its room's temperature where that is known, else by its share of heat.
pub(super) fn comfort(zone: &ZoneResult) -> Comfort {
    match (zone.state, zone.room_miss_k) {
        (ZoneState::Shut, _) => Comfort::Shut,
        (ZoneState::Still, _) => Comfort::Nothing,
        (_, Some(miss_k)) if miss_k <= ROOM_MISS_K => Comfort::Fine,
        (_, Some(miss_k)) if miss_k <= MUCH_K => Comfort::Little,
        (_, Some(_)) => Comfort::Much,
        (_, None) if zone.heat_share >= ENOUGH => Comfort::Fine,
        (_, None) if zone.heat_share >= MUCH_BELOW => Comfort::Little,
        (_, None) => Comfort::Much,
    }
}

/// What zones are called: rooms only where people live with what heats or cools them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Radiators, floors, whatever a thermostatic valve serves.
    Rooms,
    /// Benches, bays, coils and the like.
    Zones,
}

/// Parts of a name that tell of a room or of what stands in one.
const OF_ROOMS: [&str; 6] = ["room", "radiator", "floor", "convector", "flat", "office"];

impl Kind {
    /// What the zones of a project are called.
    pub(super) fn of(project: &Project) -> Self {
        let throttled: Vec<ZoneId> = project.thermostatic_zones().into_values().collect();
        let is_room = |(id, zone): (&ZoneId, &Zone)| throttled.contains(id) || is_room(project, zone);
        if project.zones.iter().all(is_room) { Self::Rooms } else { Self::Zones }
    }

    /// One of them.
    pub(super) fn one(self) -> &'static str {
        if self == Self::Rooms { "room" } else { "zone" }
    }

    /// Several of them.
    pub(super) fn many(self) -> &'static str {
        if self == Self::Rooms { "rooms" } else { "zones" }
    }

    /// So many of them.
    pub(super) fn count(self, count: usize) -> String {
        format!("{count} {}", if count == 1 { self.one() } else { self.many() })
    }

    /// The word for a comfort.
    pub(super) fn comfort_word(self, comfort: Comfort, duty: Duty) -> &'static str {
        match (comfort, duty) {
            (Comfort::Shut, _) => "shut",
            (Comfort::Nothing, Duty::Heating) => "no heat",
            (Comfort::Nothing, Duty::Cooling) => "no cooling",
            (Comfort::Fine, _) if self == Self::Rooms => "comfortable",
            (Comfort::Fine, Duty::Heating) => "warm enough",
            (Comfort::Fine, Duty::Cooling) => "cool enough",
            (Comfort::Little, Duty::Heating) => "a little cool",
            (Comfort::Little, Duty::Cooling) => "a little warm",
            (Comfort::Much, Duty::Heating) => "cool",
            (Comfort::Much, Duty::Cooling) => "warm",
        }
    }

    /// The word for how a zone fares; for one that has what it needs and more water than that, this.
    pub(super) fn word(self, zone: &ZoneResult, duty: Duty) -> &'static str {
        match comfort(zone) {
            Comfort::Fine if zone.state == ZoneState::Overflowed => MORE,
            comfort => self.comfort_word(comfort, duty),
        }
    }

    /// All words that a duty can bring: what is laid out for them has room for each.
    pub(super) fn words(self, duty: Duty) -> Vec<&'static str> {
        let all = [Comfort::Shut, Comfort::Fine, Comfort::Little, Comfort::Much, Comfort::Nothing];
        all.into_iter().map(|comfort| self.comfort_word(comfort, duty)).chain([MORE]).collect()
    }
}

/// The word for too much water, which is no discomfort.
const MORE: &str = "more than needed";

/// Whether a zone's emitter stands in a room. Pipes over a bench follow the law of a radiator too: there the names decide.
fn is_room(project: &Project, zone: &Zone) -> bool {
    let Some(component) = project.components.get(&zone.emitter) else { return false };
    let ComponentKind::Emitter(emitter) = &component.kind else { return false };
    let names = format!("{} {}", zone.name, component.name).to_lowercase();
    match emitter.law {
        EmitterLaw::FloorLoop { .. } => true,
        EmitterLaw::Radiator { .. } => OF_ROOMS.iter().any(|part| names.contains(part)),
        EmitterLaw::Coil { .. } | EmitterLaw::ConstantDrop => false,
    }
}

/// A zone's share of design flow: "104 → 92 %" where it was another, or the present one alone.
pub(super) fn share(view: &View<'_>, result: &ZoneResult, was: Option<&ZoneResult>) -> String {
    let (band, units) = (&view.project.acceptance, view.units);
    let number = |zone: &ZoneResult| share_number_beside_state(zone.share, Some(zone.state), band, units);
    let now = share_beside_state(result.share, Some(result.state), band, units);
    match was.map(number) {
        Some(was) if was != number(result) => format!("{was} → {now}"),
        _ => now,
    }
}

/// How many open zones there are, and how many of them have what they need, be it more than that.
pub(super) fn served(results: &Results) -> (usize, usize) {
    let open = || results.zones.values().map(comfort).filter(|comfort| *comfort != Comfort::Shut);
    (open().count(), open().filter(|comfort| *comfort == Comfort::Fine).count())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn zone(state: ZoneState, heat_share: f64) -> ZoneResult {
        ZoneResult {
            flow: 1e-4,
            design_flow: 1e-4,
            share: 1.0,
            heat: 1000.0,
            heat_share,
            supply_c: 45.0,
            return_c: 38.0,
            room_c: None,
            room_miss_k: None,
            state,
        }
    }

    #[test]
    fn every_state_has_a_word_that_its_layout_has_room_for() {
        use ZoneState::{Backwards, Overflowed, Served, Shut, Starved, Still, Throttled, TooCold, TooWarm};
        for (duty, kind) in [(Duty::Heating, Kind::Rooms), (Duty::Heating, Kind::Zones), (Duty::Cooling, Kind::Zones)] {
            for state in [Shut, Still, Backwards, Starved, TooCold, TooWarm, Throttled, Served, Overflowed] {
                for share in [0.0, 0.89, 0.95, 1.2] {
                    let word = kind.word(&zone(state, share), duty);
                    assert!(kind.words(duty).contains(&word), "{state:?} {duty:?}: {word}");
                }
            }
        }
    }

    #[test]
    fn comfort_goes_by_heat_and_not_by_flow() {
        let word = |state, share, duty| Kind::Rooms.word(&zone(state, share), duty);
        assert_eq!(word(ZoneState::Starved, 0.98, Duty::Heating), "comfortable");
        assert_eq!(word(ZoneState::Starved, 0.94, Duty::Heating), "a little cool");
        assert_eq!(word(ZoneState::Starved, 0.84, Duty::Heating), "cool");
        assert_eq!(word(ZoneState::Served, 0.84, Duty::Heating), "cool");
        assert_eq!(word(ZoneState::Starved, 0.94, Duty::Cooling), "a little warm");
        assert_eq!(word(ZoneState::Starved, 0.6, Duty::Cooling), "warm");
        assert_eq!(word(ZoneState::Overflowed, 1.04, Duty::Heating), "more than needed");
    }

    #[test]
    fn where_a_room_is_known_its_temperature_decides() {
        let at = |miss_k| comfort(&ZoneResult { room_miss_k: Some(miss_k), ..zone(ZoneState::Throttled, 0.2) });
        assert_eq!([0.5, 1.5, 2.5].map(at), [Comfort::Fine, Comfort::Little, Comfort::Much]);
    }

    #[test]
    fn benches_bays_and_coils_are_no_rooms() {
        let kind = |text| Kind::of(&crate::file::parse(text, "the sample").unwrap());
        assert_eq!(kind(include_str!("../../../sample-projects/fernhollow-library.ron")), Kind::Rooms);
        assert_eq!(kind(include_str!("../../../sample-projects/thornwick-court.ron")), Kind::Rooms);
        assert_eq!(kind(include_str!("../../../sample-projects/saltreed-growers.ron")), Kind::Zones);
        assert_eq!(kind(include_str!("../../../sample-projects/alder-point-clinic.ron")), Kind::Zones);
    }
}

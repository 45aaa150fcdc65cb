//! How a zone is told to people who live in it: by its warmth, not by its flow.

use super::super::view::View;
use crate::document::Duty;
use crate::study::{Results, ZoneResult, ZoneState, share_beside_state, share_number_beside_state};

/// Share of its design load below which a room that gets too little is called cold, not cool: some 3 K in a room 32 K above the
/// weather (from the heat balance; where the line is drawn is our own choice).
const COLD_BELOW: f64 = 0.9;

/// The word for how a zone's room feels.
pub(super) fn word(zone: &ZoneResult, duty: Duty) -> &'static str {
    let is_little = zone.heat_share >= COLD_BELOW;
    match (zone.state, duty) {
        (ZoneState::Shut, _) => "shut",
        (ZoneState::Still, Duty::Heating) => "no heat",
        (ZoneState::Still, Duty::Cooling) => "no cooling",
        (ZoneState::Starved | ZoneState::Backwards, Duty::Heating) if is_little => "a little cool",
        (ZoneState::Starved | ZoneState::Backwards, Duty::Cooling) if is_little => "a little warm",
        (ZoneState::Starved | ZoneState::Backwards | ZoneState::TooCold, Duty::Heating) | (ZoneState::TooCold, _) => {
            "too cold"
        }
        (ZoneState::Starved | ZoneState::Backwards, Duty::Cooling) | (ZoneState::TooWarm, _) => "too warm",
        (ZoneState::Throttled | ZoneState::Served, _) => "comfortable",
        (ZoneState::Overflowed, _) => "too much",
    }
}

/// All words that a duty can bring: what is laid out for them has room for each.
pub(super) fn words(duty: Duty) -> &'static [&'static str] {
    match duty {
        Duty::Heating => &["shut", "no heat", "a little cool", "too cold", "comfortable", "too much"],
        Duty::Cooling => &["shut", "no cooling", "a little warm", "too warm", "too cold", "comfortable", "too much"],
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

/// How many open zones there are, and how many of them get what they need, be it more than that.
pub(super) fn rooms(results: &Results) -> (usize, usize) {
    let open = || results.zones.values().filter(|zone| zone.state != ZoneState::Shut);
    (open().count(), open().filter(|zone| !zone.state.is_short()).count())
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
        for duty in [Duty::Heating, Duty::Cooling] {
            for state in [Shut, Still, Backwards, Starved, TooCold, TooWarm, Throttled, Served, Overflowed] {
                let is_of_this_duty = !matches!((state, duty), (TooWarm, Duty::Heating));
                for share in [0.0, 0.89, 0.95, 1.2] {
                    let word = word(&zone(state, share), duty);
                    assert!(!is_of_this_duty || words(duty).contains(&word), "{state:?} {duty:?}: {word}");
                }
            }
        }
    }

    #[test]
    fn a_room_that_lacks_little_is_cool_one_that_lacks_much_is_cold() {
        assert_eq!(word(&zone(ZoneState::Starved, 0.95), Duty::Heating), "a little cool");
        assert_eq!(word(&zone(ZoneState::Starved, 0.6), Duty::Heating), "too cold");
        assert_eq!(word(&zone(ZoneState::Starved, 0.6), Duty::Cooling), "too warm");
    }
}

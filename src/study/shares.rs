//! Shares as they are shown: whole per cent, but with as many decimals as it takes not to contradict what stands beside them.

use super::zones::ZoneState;
use crate::document::Acceptance;
use crate::engine::units::{DASH, Quantity, SPACE, Units};

/// Most decimals of a share.
const MOST_DECIMALS: usize = 3;

/// A share of design flow beside the zone's state: 89.7 % is starved, which 90 % would not be.
#[must_use]
pub fn share_beside_state(share: f64, state: Option<ZoneState>, band: &Acceptance, units: &Units) -> String {
    with_symbol(share_number_beside_state(share, state, band, units), units)
}

/// The same without the symbol, for the first of two.
#[must_use]
pub fn share_number_beside_state(share: f64, state: Option<ZoneState>, band: &Acceptance, units: &Units) -> String {
    let agrees = |shown: f64| match state {
        Some(ZoneState::Starved) => shown < band.low,
        Some(ZoneState::Served) => band.low <= shown && shown <= band.high,
        Some(ZoneState::Overflowed) => shown > band.high,
        _ => true,
    };
    with_decimals(share, units, agrees)
}

/// A setting: as it was typed, so that 0.4 % is not called 0 %.
#[must_use]
pub fn share_as_set(share: f64, units: &Units) -> String {
    with_symbol(with_decimals(share, units, |shown| (shown - share).abs() < 5e-6), units)
}

/// The fewest decimals with which the shown number agrees.
fn with_decimals(share: f64, units: &Units, agrees: impl Fn(f64) -> bool) -> String {
    let whole = units.number(Quantity::Share, share);
    if !share.is_finite() {
        return whole;
    }
    let percent = share * 100.0;
    let shown = |decimals: usize| format!("{percent:.decimals$}").parse::<f64>().map_or(share, |shown| shown / 100.0);
    match (0..=MOST_DECIMALS).find(|decimals| agrees(shown(*decimals))) {
        Some(0) => whole,
        found => {
            let decimals = found.unwrap_or(MOST_DECIMALS);
            format!("{percent:.decimals$}")
        }
    }
}

fn with_symbol(number: String, units: &Units) -> String {
    if number == DASH { number } else { format!("{number}{SPACE}{}", units.symbol(Quantity::Share)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_does_not_contradict_its_state() {
        let band = Acceptance::default();
        for (share, state, text) in [
            (0.897, ZoneState::Starved, "89.7 %"),
            (0.8996, ZoneState::Starved, "89.96 %"),
            (0.87, ZoneState::Starved, "87 %"),
            (0.9, ZoneState::Served, "90 %"),
            (1.1, ZoneState::Served, "110 %"),
            (1.1004, ZoneState::Overflowed, "110.04 %"),
            (1.104, ZoneState::Overflowed, "110.4 %"),
            (0.0, ZoneState::Shut, "0 %"),
        ] {
            let found = share_beside_state(share, Some(state), &band, &Units::si());
            assert_eq!(found.replace(SPACE, " "), text);
        }
        // A band that a house rule sets between whole numbers.
        let band = Acceptance { low: 0.925, ..band };
        let found = share_beside_state(0.9251, Some(ZoneState::Served), &band, &Units::si());
        assert_eq!(found.replace(SPACE, " "), "93 %");
        let found = share_beside_state(0.924, Some(ZoneState::Starved), &band, &Units::si());
        assert_eq!(found.replace(SPACE, " "), "92 %");
    }

    #[test]
    fn a_setting_is_printed_as_typed() {
        for (share, text) in [(0.25, "25 %"), (0.004, "0.4 %"), (0.125, "12.5 %"), (0.0, "0 %"), (0.07, "7 %")] {
            assert_eq!(share_as_set(share, &Units::si()).replace(SPACE, " "), text);
        }
        assert_eq!(share_as_set(1.0 / 3.0, &Units::si()).replace(SPACE, " "), "33.333 %");
    }
}

//! Digits: how closely a number is written: as an engineer reads it, or rounded for people who look on.
//!
//! Rounded, a number keeps two figures and its whole part: 1.985 is 2.0, 0.2482 is 0.25, 204.4 is 204; it never has more decimals
//! than the engineer is shown. On a scale of temperature, where nought is no end, whole degrees are told.

use super::number::number_text;
use super::{Unit, Units};

/// Figures that a rounded number keeps at least, as long as its unit has decimals for them.
const FIGURES: usize = 2;

/// How closely numbers are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Digits {
    /// As closely as an engineer reads them.
    #[default]
    Full,
    /// Rounded for people who look on.
    Rounded,
}

impl Digits {
    /// Most decimals of a number in a unit.
    pub(super) fn decimals(self, unit: Unit, number: f64) -> usize {
        let most = unit.decimals();
        let is_zero = figures(number, most) == 0;
        match self {
            Self::Full => most,
            Self::Rounded if is_zero || matches!(unit, Unit::DegreeCelsius | Unit::DegreeFahrenheit) => 0,
            Self::Rounded => (0..=most).find(|decimals| figures(number, *decimals) >= FIGURES).unwrap_or(most),
        }
    }
}

/// How many figures a number shows with so many decimals; noughts before the first other figure are none.
fn figures(number: f64, decimals: usize) -> usize {
    let text = format!("{:.decimals$}", number.abs());
    text.chars().filter(char::is_ascii_digit).skip_while(|digit| *digit == '0').count()
}

impl Units {
    /// An amount of money: "EUR 63", to the hundredth for an engineer and where a whole unit would be nothing.
    pub fn money(&self, currency: &str, amount: f64) -> String {
        let is_lost = amount.abs() >= 0.005 && amount.abs() < 0.5;
        let decimals = if self.digits == Digits::Full || is_lost { 2 } else { 0 };
        format!("{currency} {}", number_text(amount, decimals)).trim().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Quantity, SPACE};
    use super::*;

    fn shown(quantity: Quantity, inside: f64) -> String {
        Units::si().with_digits(Digits::Rounded).format(quantity, inside).replace(SPACE, " ")
    }

    #[test]
    fn numbers_for_people_keep_two_figures_and_their_whole_part() {
        let m3_per_h = 1.0 / 3600.0;
        for (quantity, inside, text) in [
            (Quantity::Flow, 1.985 * m3_per_h, "2.0 m³/h"),
            (Quantity::Flow, 0.2482 * m3_per_h, "0.25 m³/h"),
            (Quantity::Flow, 0.0452 * m3_per_h, "0.045 m³/h"),
            (Quantity::Flow, 9.96 * m3_per_h, "10 m³/h"),
            (Quantity::Flow, 0.996 * m3_per_h, "1.0 m³/h"),
            (Quantity::Flow, -1.04 * m3_per_h, "−1.0 m³/h"),
            (Quantity::Flow, 0.0, "0 m³/h"),
            (Quantity::Head, 4.873, "4.9 m"),
            (Quantity::Power, 41.36, "41 W"),
            (Quantity::Power, 4.13, "4.1 W"),
            (Quantity::Power, 1204.4, "1204 W"),
            (Quantity::Share, 0.924, "92 %"),
            (Quantity::Speed, 0.953, "95 %"),
            (Quantity::Temperature, 38.4, "38 °C"),
            (Quantity::Temperature, -3.6, "−4 °C"),
            (Quantity::Temperature, 0.2, "0 °C"),
            (Quantity::Energy, 204.4 * 3.6e6, "204 kWh"),
            (Quantity::Flow, f64::NAN, "–"),
        ] {
            assert_eq!(shown(quantity, inside), text);
        }
    }

    #[test]
    fn rounding_follows_the_unit_that_is_shown() {
        let mut units = Units::inch_pound().with_digits(Digits::Rounded);
        assert_eq!(units.number(Quantity::Flow, 1.985 / 3600.0), "8.7");
        units.set(Quantity::Flow, Unit::LitrePerHour);
        assert_eq!(units.number(Quantity::Flow, 1.985 / 3600.0), "1985");
    }

    #[test]
    fn the_switch_goes_both_ways_and_leaves_the_units() {
        let mut full = Units::si();
        full.set(Quantity::Head, Unit::FootHead);
        let back = full.with_digits(Digits::Rounded).with_digits(Digits::Full);
        assert_eq!(back, full);
        assert_eq!(back.number(Quantity::Head, 4.873), "15.99");
    }

    #[test]
    fn money_is_told_in_whole_units_to_people() {
        let (full, rounded) = (Units::si(), Units::si().with_digits(Digits::Rounded));
        assert_eq!(full.money("EUR", 63.274), "EUR 63.27");
        for (amount, text) in [(63.274, "EUR 63"), (0.312, "EUR 0.31"), (0.0, "EUR 0"), (-12.4, "EUR −12")] {
            assert_eq!(rounded.money("EUR", amount), text);
        }
        assert_eq!(rounded.money("", 63.274), "63");
    }
}

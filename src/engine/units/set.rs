//! The chosen units: one for each quantity, each of them free to change by itself, and how closely numbers are written in them.

use super::number::{number_text, with_symbol};
use super::parse::read;
use super::{Digits, Quantity, Unit, UnitError};

/// One chosen unit for each quantity, and how closely numbers are written.
///
/// ```
/// use headwise::engine::units::{Quantity, Unit, Units};
/// let mut units = Units::si();
/// assert_eq!(units.number(Quantity::Head, 4.873), "4.87");
/// units.set(Quantity::Head, Unit::FootHead);
/// assert_eq!(units.number(Quantity::Head, 4.873), "15.99");
/// assert_eq!(units.parse(Quantity::Head, "4,5 m"), Ok(4.5));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units {
    chosen: [Unit; Quantity::ALL.len()],
    pub(super) digits: Digits,
}

impl Default for Units {
    fn default() -> Self {
        Self::si()
    }
}

impl Units {
    /// Metric units as a hydronic designer uses them: m³/h, m, kPa, kW, °C.
    pub fn si() -> Self {
        Self::from_default(Quantity::si_default)
    }

    /// Inch-pound units: gpm, ft, psi, Btu/h, °F, with pump power in W as the trade has it.
    pub fn inch_pound() -> Self {
        Self::from_default(Quantity::inch_pound_default)
    }

    fn from_default(default: fn(Quantity) -> Unit) -> Self {
        Self { chosen: std::array::from_fn(|index| default(Quantity::ALL[index])), digits: Digits::default() }
    }

    /// The unit in which this quantity is shown.
    pub fn get(&self, quantity: Quantity) -> Unit {
        self.chosen[quantity as usize]
    }

    /// Chooses a unit; one that does not measure the quantity is refused, and the answer is `false`.
    pub fn set(&mut self, quantity: Quantity, unit: Unit) -> bool {
        let fits = quantity.choices().contains(&unit);
        if fits {
            self.chosen[quantity as usize] = unit;
        }
        fits
    }

    /// The same units with numbers written so closely.
    #[must_use]
    pub fn with_digits(self, digits: Digits) -> Self {
        Self { digits, ..self }
    }

    /// Units in which this quantity may be shown; the first is the SI default.
    pub fn choices(quantity: Quantity) -> &'static [Unit] {
        quantity.choices()
    }

    /// Symbol of the chosen unit.
    pub fn symbol(&self, quantity: Quantity) -> &'static str {
        self.get(quantity).symbol()
    }

    /// A number in the chosen unit, from the inside value.
    pub fn from_si(&self, quantity: Quantity, inside: f64) -> f64 {
        self.get(quantity).from_si(inside)
    }

    /// The inside value, from a number in the chosen unit.
    pub fn to_si(&self, quantity: Quantity, shown: f64) -> f64 {
        self.get(quantity).to_si(shown)
    }

    /// Number and symbol, such as `1.985 m³/h` or `Kv 4.00`, with a no-break [`super::SPACE`] between; a number that
    /// is not finite becomes a [`super::DASH`].
    pub fn format(&self, quantity: Quantity, inside: f64) -> String {
        with_symbol(self.get(quantity), &self.number(quantity, inside))
    }

    /// The number alone in the chosen unit, rounded for reading.
    pub fn number(&self, quantity: Quantity, inside: f64) -> String {
        let unit = self.get(quantity);
        let number = unit.from_si(inside);
        number_text(number, self.digits.decimals(unit, number))
    }

    /// Reads a typed number into the inside unit. A bare number counts in the chosen unit; one with a symbol counts in
    /// that unit if it measures the quantity. Decimal point or comma, spaces between groups of three.
    ///
    /// # Errors
    /// When the text is no number, can be read two ways, or has a symbol that does not measure the quantity.
    pub fn parse(&self, quantity: Quantity, text: &str) -> Result<f64, UnitError> {
        read(quantity, self.get(quantity), text)
    }
}

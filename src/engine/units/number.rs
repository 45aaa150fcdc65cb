//! Number text: how a number is written, and how a written number is understood.
//!
//! Written: a point, the unit's decimals, but no more than five figures in all unless the whole part needs them; the
//! true minus sign. Understood: point or comma, spaces between groups of three, either minus, an exponent.

use super::{Quantity, Unit};

/// Stands for a number that is not finite.
pub const DASH: &str = "–";

/// Minus sign of written numbers, U+2212.
pub const MINUS: char = '\u{2212}';

/// No-break space between a number and its symbol, U+00A0.
pub const SPACE: char = '\u{a0}';

/// Most figures a number is shown with: more would claim an accuracy that no field instrument has.
const MOST_FIGURES: usize = 5;

/// Writes a number with at most `decimals` decimals.
pub(super) fn number_text(number: f64, decimals: usize) -> String {
    if !number.is_finite() {
        return DASH.to_owned();
    }
    let mut digits = format!("{:.decimals$}", number.abs());
    let whole_figures = digits.find('.').unwrap_or(digits.len());
    // A lone zero before the point is no figure: 0.0015 mm keeps its decimals.
    if whole_figures + decimals > MOST_FIGURES && !digits.starts_with('0') {
        let fewer = MOST_FIGURES.saturating_sub(whole_figures);
        digits = format!("{:.fewer$}", number.abs());
    }
    let shows_zero = !digits.contains(|digit: char| ('1'..='9').contains(&digit));
    if number < 0.0 && !shows_zero {
        digits.insert(0, MINUS);
    }
    digits
}

/// Puts the unit's symbol to a written number; flow coefficients lead with theirs, as in `Kv 2.50`.
pub(super) fn with_symbol(unit: Unit, number: &str) -> String {
    if number == DASH {
        number.to_owned()
    } else if unit.quantity() == Quantity::FlowCoefficient {
        format!("{}{SPACE}{number}", unit.symbol())
    } else {
        format!("{number}{SPACE}{}", unit.symbol())
    }
}

/// Why a written number was not understood.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum NumberFault {
    /// Not a number at all.
    NotANumber,
    /// One comma before three figures: a decimal comma, or thousands. Holds the two plain ways of writing it.
    TwoWays { thousands: String, decimal: String },
}

/// Understands a written number. Minus signs and spaces must be plain by now ([`plain`]).
pub(super) fn read_number(text: &str) -> Result<f64, NumberFault> {
    let (mantissa, exponent) = match text.find(['e', 'E']) {
        Some(at) => text.split_at(at),
        None => (text, ""),
    };
    let (sign, unsigned) = match mantissa.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", mantissa.strip_prefix('+').unwrap_or(mantissa)),
    };
    let digits = plain_digits(unsigned.trim())?;
    format!("{sign}{digits}{exponent}")
        .parse::<f64>()
        .ok()
        .filter(|number| number.is_finite())
        .ok_or(NumberFault::NotANumber)
}

/// Takes the groups out of `1 234,5`, `1,234.5` or `1.234,5` and leaves `1234.5`.
fn plain_digits(text: &str) -> Result<String, NumberFault> {
    let commas = text.matches(',').count();
    let points = text.matches('.').count();
    let (whole, decimals) = match (text.rfind(','), text.rfind('.')) {
        (None, None) => (text, ""),
        (Some(comma), point) if commas == 1 && point < Some(comma) => (&text[..comma], &text[comma + 1..]),
        (comma, Some(point)) if points == 1 && comma < Some(point) => (&text[..point], &text[point + 1..]),
        (Some(_), None) | (None, Some(_)) => (text, ""),
        _ => return Err(NumberFault::NotANumber),
    };
    let groups: Vec<&str> = whole.split([' ', ',', '.']).collect();
    let grouped = groups.len() > 1;
    let whole_digits = groups.concat();
    let sound = (whole_digits.len() + decimals.len() > 0)
        && (whole_digits.chars().chain(decimals.chars())).all(|digit| digit.is_ascii_digit())
        && (!grouped || groups[1..].iter().all(|group| group.len() == 3))
        && (!grouped || (1..=3).contains(&groups[0].len()));
    if !sound {
        return Err(NumberFault::NotANumber);
    }
    let could_be_thousands = !grouped
        && (commas, points) == (1, 0)
        && decimals.len() == 3
        && (1..=3).contains(&whole_digits.len())
        && !whole_digits.starts_with('0');
    if could_be_thousands {
        return Err(NumberFault::TwoWays {
            thousands: format!("{whole_digits}{decimals}"),
            decimal: format!("{whole_digits}.{decimals}"),
        });
    }
    let whole_digits = if whole_digits.is_empty() { "0" } else { &whole_digits };
    Ok(format!("{whole_digits}.{decimals}"))
}

/// Makes minus signs and spaces plain, and trims.
pub(super) fn plain(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|character| match character {
            MINUS | '–' => '-',
            space if space.is_whitespace() => ' ',
            other => other,
        })
        .collect();
    plain.trim().to_owned()
}

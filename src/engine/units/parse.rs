//! Typed numbers: a number with or without a symbol, read into the inside unit.

use super::number::{NumberFault, plain, read_number};
use super::{Quantity, Unit};
use thiserror::Error;

/// Why a typed number was refused; each reads as a plain sentence.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum UnitError {
    /// Nothing was typed.
    #[error("Type a number for the {}.", quantity.name())]
    Empty {
        /// What was asked for.
        quantity: Quantity,
    },
    /// The text holds no number that can be read.
    #[error("“{text}” is not a number.")]
    NotANumber {
        /// What was typed.
        text: String,
    },
    /// A comma that may part decimals or thousands.
    #[error("“{text}” can be read two ways: write {thousands} or {decimal}.")]
    TwoWays {
        /// What was typed.
        text: String,
        /// The number with the comma parting thousands.
        thousands: String,
        /// The number with the comma parting decimals.
        decimal: String,
    },
    /// The symbol belongs to a different quantity.
    #[error("“{symbol}” is a unit of {}, not of {}; use {}.", other.name(), quantity.name(), symbols(*quantity))]
    OtherQuantity {
        /// The symbol typed.
        symbol: String,
        /// What it measures.
        other: Quantity,
        /// What was asked for.
        quantity: Quantity,
    },
    /// The symbol is not known at all.
    #[error("“{symbol}” is not a known unit of {}; use {}.", quantity.name(), symbols(*quantity))]
    UnknownUnit {
        /// The symbol typed.
        symbol: String,
        /// What was asked for.
        quantity: Quantity,
    },
}

/// Reads `text` as `quantity`, a bare number in `chosen`.
pub(super) fn read(quantity: Quantity, chosen: Unit, text: &str) -> Result<f64, UnitError> {
    let text = plain(text);
    if text.is_empty() {
        return Err(UnitError::Empty { quantity });
    }
    let (number, symbol) = split(&text);
    let shown = read_number(number).map_err(|fault| match fault {
        NumberFault::NotANumber => UnitError::NotANumber { text: text.clone() },
        NumberFault::TwoWays { thousands, decimal } => {
            UnitError::TwoWays { text: number.to_owned(), thousands, decimal }
        }
    })?;
    let unit = if symbol.is_empty() { chosen } else { find(quantity, symbol)? };
    Ok(unit.to_si(shown))
}

/// Parts number and symbol, either of which may come first: `2.5 gpm`, `Kv 2.5`.
fn split(text: &str) -> (&str, &str) {
    let starts_number = |character: char| character.is_ascii_digit() || "+-.,".contains(character);
    match text.find(starts_number) {
        Some(0) => {
            let (number, symbol) = text.split_at(number_end(text));
            (number.trim_end(), symbol.trim_start())
        }
        Some(start) => {
            let (symbol, number) = text.split_at(start);
            (number, symbol.trim_end())
        }
        None => (text, ""),
    }
}

/// Byte at which the number at the start of `text` ends.
fn number_end(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digit_at = |index: usize| bytes.get(index).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    while let Some(byte) = bytes.get(end) {
        let sign_of_exponent = matches!(bytes.get(end + 1), Some(b'-' | b'+'));
        let belongs = match byte {
            b'0'..=b'9' | b'.' | b',' => true,
            b'-' | b'+' => end == 0 || matches!(bytes[end - 1], b'e' | b'E'),
            b' ' => (1..=3).all(|step| digit_at(end + step)) && !digit_at(end + 4),
            b'e' | b'E' => digit_at(end + 1) || (sign_of_exponent && digit_at(end + 2)),
            _ => false,
        };
        if !belongs {
            break;
        }
        end += 1;
    }
    end
}

/// The unit of `quantity` that is written `symbol`.
fn find(quantity: Quantity, symbol: &str) -> Result<Unit, UnitError> {
    let wanted = folded(symbol);
    if let Some(unit) = quantity.choices().iter().find(|unit| is_written(**unit, &wanted)) {
        return Ok(*unit);
    }
    let symbol = symbol.to_owned();
    match Unit::ALL.iter().find(|unit| is_written(**unit, &wanted)) {
        Some(unit) => Err(UnitError::OtherQuantity { symbol, other: unit.quantity(), quantity }),
        None => Err(UnitError::UnknownUnit { symbol, quantity }),
    }
}

fn is_written(unit: Unit, wanted: &str) -> bool {
    folded(unit.symbol()) == wanted || unit.also().iter().any(|also| folded(also) == wanted)
}

/// A symbol without what people type differently: case, spaces, raised figures, dots, brackets, degree signs.
fn folded(symbol: &str) -> String {
    symbol
        .chars()
        .filter_map(|character| match character {
            '³' => Some('3'),
            '²' => Some('2'),
            'µ' | 'μ' => Some('u'),
            '’' | '′' => Some('\''),
            '”' | '″' => Some('"'),
            ' ' | '·' | '*' | '(' | ')' | '°' | 'º' | '^' => None,
            other => Some(other.to_ascii_lowercase()),
        })
        .collect()
}

/// Symbols of a quantity in a row, `m³/h, L/s or gpm`.
fn symbols(quantity: Quantity) -> String {
    let symbols: Vec<&str> = quantity.choices().iter().map(|unit| unit.symbol()).collect();
    match symbols.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => symbols.concat(),
    }
}

//! Headings: plain words in any order, capitals or not, with the unit in brackets behind them.

use super::error::Faults;
use super::grid::Row;
use crate::document::nearest_name;
use crate::engine::units::{Quantity, Units};

/// What the cells of a column hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// Words.
    Text,
    /// A figure with a unit.
    Figure(Quantity),
    /// A flow coefficient; its column's name tells Kv from Cv.
    Coefficient(&'static str),
    /// A figure without a unit.
    Number,
    /// What is not read.
    Nothing,
}

/// A column that a kind of table can have.
#[derive(Debug)]
pub(super) struct Column<K> {
    pub(super) key: K,
    /// What it may be headed, the usual first.
    pub(super) names: &'static [&'static str],
    pub(super) holds: Holds,
    pub(super) is_needed: bool,
}

/// A column that a table has.
#[derive(Debug)]
pub(super) struct Found<K> {
    pub(super) key: K,
    pub(super) holds: Holds,
    pub(super) index: usize,
    /// Letters and heading.
    pub(super) label: String,
    /// Unit of its figures; empty if the heading tells none.
    pub(super) unit: String,
}

/// Reads the heading row.
pub(super) fn read<K: Copy + PartialEq>(row: &Row, columns: &[Column<K>], faults: &mut Faults) -> Vec<Found<K>> {
    let mut found: Vec<Found<K>> = Vec::new();
    for (index, heading) in row.cells.iter().enumerate().filter(|(_, heading)| !heading.is_empty()) {
        let label = label(index, heading);
        let Some((column, unit)) = known(heading, columns) else {
            let names = columns.iter().flat_map(|column| column.names);
            let bare = heading.split(['(', '[']).next().unwrap_or_default();
            let hint = match nearest_name(&words(bare), names.copied()) {
                Some(name) => format!("perhaps “{name}” is meant"),
                None => format!("columns may be headed {}, and notes are not read", listed(columns)),
            };
            faults.say(Some(row.number), Some(label), format!("this heading is not known: {hint}"));
            continue;
        };
        if column.holds == Holds::Nothing {
            continue;
        }
        if let Some(first) = found.iter().find(|other| other.key == column.key) {
            let message = format!("column {} holds the same: keep one of the two", first.label);
            faults.say(Some(row.number), Some(label), message);
            continue;
        }
        if let (Holds::Figure(quantity), false) = (column.holds, unit.is_empty())
            && let Err(flaw) = Units::si().parse(quantity, &format!("1 {unit}"))
        {
            faults.say(Some(row.number), Some(label), flaw.to_string());
            // The column is there, though its figures cannot be read.
            found.push(Found { key: column.key, holds: Holds::Nothing, index, label: String::new(), unit });
            continue;
        }
        found.push(Found { key: column.key, holds: column.holds, index, label, unit });
    }
    for column in columns.iter().filter(|column| column.is_needed) {
        if !found.iter().any(|found| found.key == column.key) {
            let name = column.names.first().copied().unwrap_or_default();
            let unit = match column.holds {
                Holds::Figure(quantity) => format!(" ({})", Units::si().symbol(quantity)),
                _ => String::new(),
            };
            let message = format!("there is no column “{name}”: add one with the heading “{name}{unit}”");
            faults.say(Some(row.number), None, message);
        }
    }
    found
}

/// Whether a cell can head a column.
pub(super) fn is_known<K>(heading: &str, columns: &[Column<K>]) -> bool {
    known(heading, columns).is_some()
}

/// The column of a heading and its unit: in brackets, or the last word where only so the rest is known.
fn known<'a, K>(heading: &str, columns: &'a [Column<K>]) -> Option<(&'a Column<K>, String)> {
    let named = |text: &str| {
        let wanted = words(text);
        columns.iter().find(|column| column.names.iter().any(|name| *name == wanted))
    };
    let opened = heading.find(['(', '[']);
    let (name, unit) = match opened {
        Some(at) => (&heading[..at], heading[at + 1..].trim_end().trim_end_matches([')', ']'])),
        None => (heading, ""),
    };
    if let Some(column) = named(name) {
        return Some((column, unit.trim().to_owned()));
    }
    let (name, unit) = heading.rsplit_once([' ', ','])?;
    let column = named(name).filter(|column| matches!(column.holds, Holds::Figure(_)))?;
    Some((column, unit.trim().to_owned()))
}

/// Words as they are compared: without capitals, dashes and the spaces around them.
fn words(text: &str) -> String {
    let lower = text.replace(['Δ', '∆'], "delta ").to_lowercase().replace(['_', '-', ':'], " ");
    lower.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn listed<K>(columns: &[Column<K>]) -> String {
    let names = columns.iter().filter(|column| column.holds != Holds::Nothing);
    names.filter_map(|column| column.names.first().copied()).collect::<Vec<_>>().join(", ")
}

/// Letters and heading of a column, as a spreadsheet shows them.
fn label(index: usize, heading: &str) -> String {
    let mut letters = Vec::new();
    let mut rest = index + 1;
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'A' + (rest % 26) as u8));
        rest /= 26;
    }
    format!("{} “{heading}”", letters.into_iter().rev().collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_are_lettered_as_in_a_spreadsheet() {
        for (index, letters) in [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")] {
            assert_eq!(label(index, "x"), format!("{letters} “x”"));
        }
    }

    #[test]
    fn headings_are_compared_by_their_words() {
        for heading in ["Temperature-drop", "temperature  drop", "TEMPERATURE_DROP:"] {
            assert_eq!(words(heading), "temperature drop");
        }
        assert_eq!((words("ΔT"), words("∆t")), ("delta t".to_owned(), "delta t".to_owned()));
    }
}

//! Everything that can be wrong with a table. Each fault says where (row, column), what is wrong and what to do.

use crate::file::FileError;
use std::fmt;
use std::path::PathBuf;
use thiserror::Error;

/// One thing wrong with a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TableFault {
    /// Row as the spreadsheet counts it, from 1, the headings included.
    pub row: Option<usize>,
    /// Letters and heading of the column, such as `B “heat load (kW)”`.
    pub column: Option<String>,
    /// What is wrong and what to do.
    pub message: String,
}

impl TableFault {
    /// Place of its column, from 0, as its letters count it.
    #[must_use]
    pub fn column_index(&self) -> Option<usize> {
        let letters = self.column.as_ref()?.split(' ').next()?;
        let place = letters.bytes().try_fold(0_usize, |place, letter| {
            let digit = letter.is_ascii_uppercase().then(|| usize::from(letter - b'A') + 1)?;
            place.checked_mul(26)?.checked_add(digit)
        })?;
        place.checked_sub(1)
    }
}

impl fmt::Display for TableFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(row) = self.row {
            write!(f, "row {row}")?;
        }
        if let Some(column) = &self.column {
            let comma = if self.row.is_some() { ", " } else { "" };
            write!(f, "{comma}column {column}")?;
        }
        let colon = if self.row.is_some() || self.column.is_some() { ": " } else { "" };
        write!(f, "{colon}{}", self.message)
    }
}

/// Why a table was not read.
#[derive(Debug, Error)]
pub enum TableError {
    /// The file could not be read.
    #[error(transparent)]
    File(#[from] FileError),
    /// The file holds something else than text.
    #[error("{} is not text: save the spreadsheet as CSV in UTF-8, or paste its cells into a text file.", .0.display())]
    NotText(PathBuf),
    /// The file is too large to be a table.
    #[error("{} is larger than 4 MiB, too large for such a table: choose another file.", .0.display())]
    TooLarge(PathBuf),
    /// What is wrong with the table, all of it, from above.
    #[error("{name}: this table cannot be used:{}", listed(faults))]
    Faults {
        /// Which table.
        name: String,
        /// What is wrong.
        faults: Vec<TableFault>,
    },
}

fn listed(faults: &[TableFault]) -> String {
    faults.iter().map(|fault| format!("\n  {}.", fault.to_string().trim_end_matches('.'))).collect()
}

/// Collects the faults of one table.
#[derive(Debug, Default)]
pub(super) struct Faults(Vec<TableFault>);

impl Faults {
    pub(super) fn say(&mut self, row: Option<usize>, column: Option<String>, message: impl Into<String>) {
        self.0.push(TableFault { row, column, message: message.into() });
    }

    /// Whether nothing is wrong so far.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The result, or all faults by rising row.
    pub(super) fn or<T>(mut self, name: &str, result: T) -> Result<T, TableError> {
        if self.0.is_empty() {
            return Ok(result);
        }
        self.0.sort_by_key(|fault| fault.row.unwrap_or(0));
        Err(TableError::Faults { name: name.to_owned(), faults: self.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_place_of_a_column_is_told_by_its_letters() {
        for (label, place) in [("A “zone”", 0), ("Z “x”", 25), ("AB “a (kW)”", 27), ("AAA “x”", 702)] {
            let fault = TableFault { row: None, column: Some(label.to_owned()), message: String::new() };
            assert_eq!(fault.column_index(), Some(place), "{label}");
        }
        assert_eq!(TableFault { row: None, column: None, message: String::new() }.column_index(), None);
    }
}

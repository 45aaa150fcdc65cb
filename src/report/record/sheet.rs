//! What a record is made of: facts, tables with cells that are numbers, texts or left empty to be written in, and what a page, a
//! spreadsheet and a reader need to know of each.

use crate::document::Acceptance;
use crate::engine::units::{DASH, Quantity, SPACE, Units};
use crate::study::{ZoneState, share_beside_state};
use serde::Serialize;

/// A label and what stands beside it; an empty text is to be written in by hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Fact {
    /// What it is.
    pub label: String,
    /// What it says.
    pub text: String,
}

impl Fact {
    pub(super) fn new(label: &str, text: impl Into<String>) -> Self {
        Self { label: label.to_owned(), text: text.into() }
    }
}

/// A table of the record.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sheet {
    /// Its name in file names and in the page: "zones".
    pub key: &'static str,
    /// Its title for people.
    pub title: &'static str,
    /// What it shows and how it is to be filled in; empty where that is plain.
    pub intro: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a cell a column each.
    pub rows: Vec<Vec<Cell>>,
    /// What stands below it: sources, meanings.
    pub notes: Vec<String>,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Column {
    /// What several columns beside each other have in common: "Predicted"; empty where it stands alone.
    pub group: &'static str,
    /// Its heading.
    pub heading: String,
    /// The symbol of its unit in the reader's units; empty for texts.
    pub unit: &'static str,
    /// What stands in it.
    pub holds: Holds,
}

/// What stands in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Holds {
    /// Texts.
    Text,
    /// Numbers.
    Number,
    /// What calls for a look in a row; on paper it stands below that row over its whole width.
    Mark,
    /// Nothing yet: it is written in by hand.
    Blank,
}

impl Column {
    /// A column of texts.
    pub(super) fn text(heading: &str) -> Self {
        Self { group: "", heading: heading.to_owned(), unit: "", holds: Holds::Text }
    }

    /// A column of what calls for a look.
    pub(super) fn mark(heading: &str) -> Self {
        Self { group: "", heading: heading.to_owned(), unit: "", holds: Holds::Mark }
    }

    /// A column of numbers of a quantity.
    pub(super) fn number(heading: &str, quantity: Quantity, units: &Units) -> Self {
        Self { group: "", heading: heading.to_owned(), unit: units.symbol(quantity), holds: Holds::Number }
    }

    /// A column to be written in.
    pub(super) fn blank(heading: &str) -> Self {
        Self { group: "", heading: heading.to_owned(), unit: "", holds: Holds::Blank }
    }

    /// A column for readings of a quantity.
    pub(super) fn reading(heading: &str, quantity: Quantity, units: &Units) -> Self {
        Self { unit: units.symbol(quantity), ..Self::blank(heading) }
    }

    /// The same under a common head.
    pub(super) fn under(self, group: &'static str) -> Self {
        Self { group, ..self }
    }
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Cell {
    /// A text.
    Text {
        /// The text.
        text: String,
    },
    /// A number of its column's unit.
    Number {
        /// As it is read, rounded, without its unit.
        text: String,
        /// In full, in the column's unit; `None` where there is none.
        value: Option<f64>,
    },
    /// How a zone or a state stands, and whether that is not as it should be.
    State {
        /// The word for it.
        text: String,
        /// Whether it calls for a look.
        missed: bool,
    },
    /// Nothing yet: it is written in by hand.
    Blank,
}

impl Cell {
    pub(super) fn text(text: impl Into<String>) -> Self {
        Self::Text { text: text.into() }
    }

    /// A number of a quantity from its inside value.
    pub(super) fn number(units: &Units, quantity: Quantity, inside: f64) -> Self {
        let value = Some(units.from_si(quantity, inside)).filter(|value| value.is_finite());
        Self::Number { text: units.number(quantity, inside), value }
    }

    /// Where there is no number.
    pub(super) fn none() -> Self {
        Self::Number { text: DASH.to_owned(), value: None }
    }

    /// A share of design flow that does not contradict the zone's state beside it.
    pub(super) fn share(units: &Units, share: f64, state: ZoneState, band: &Acceptance) -> Self {
        let text = share_beside_state(share, Some(state), band, units);
        let symbol = units.symbol(Quantity::Share);
        let number = text.strip_suffix(symbol).map_or(text.as_str(), |number| number.trim_end_matches(SPACE));
        let value = Some(units.from_si(Quantity::Share, share)).filter(|value| value.is_finite());
        Self::Number { text: number.to_owned(), value }
    }

    pub(super) fn state(state: ZoneState) -> Self {
        Self::State { text: state.word().to_owned(), missed: super::super::margins::is_missed(state) }
    }

    /// What calls for a look; nothing where that is empty.
    pub(super) fn mark(text: impl Into<String>) -> Self {
        let text = text.into();
        let missed = !text.is_empty();
        Self::State { text, missed }
    }

    /// What is read in it.
    #[must_use]
    pub fn shown(&self) -> &str {
        match self {
            Self::Text { text } | Self::Number { text, .. } => text,
            Self::State { text, .. } => text,
            Self::Blank => "",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_leaves_its_unit_to_the_column() {
        let band = Acceptance::default();
        let cell = Cell::share(&Units::si(), 0.8996, ZoneState::Starved, &band);
        assert_eq!(cell.shown(), "89.96");
        assert_eq!(Cell::number(&Units::inch_pound(), Quantity::Head, 3.048).shown(), "10.00");
        assert_eq!(Cell::number(&Units::si(), Quantity::Head, f64::NAN), Cell::none());
    }
}

//! Cells: words and figures of a row, by column. A table has decimal points or decimal commas throughout, told by the cells that
//! can be read one way only; so `1,985` is 1.985 where another cell says `0,5`.

use super::error::Faults;
use super::grid::Row;
use super::headings::{Column, Found, Holds, read as read_headings};
use crate::engine::units::{Quantity, Units};

/// How decimals are parted in a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Decimals {
    Point,
    Comma,
    /// Nothing tells: each cell is read by itself.
    Unknown,
}

/// A table whose columns are known.
pub(super) struct Cells<K> {
    columns: Vec<Found<K>>,
    rows: Vec<Row>,
    decimals: Decimals,
}

impl<K: Copy + PartialEq> Cells<K> {
    /// Reads headings and rows; `None` for a text without any.
    pub(super) fn new(rows: Vec<Row>, columns: &[Column<K>], faults: &mut Faults) -> Option<Self> {
        let mut rows = rows.into_iter();
        let Some(heading) = rows.next() else {
            faults.say(None, None, "there is nothing in it: begin with a row of headings");
            return None;
        };
        let columns = read_headings(&heading, columns, faults);
        let rows: Vec<Row> = rows.collect();
        if rows.is_empty() {
            faults.say(None, None, "there is no row below the headings: add one for each thing to be listed");
        }
        let decimals = decimals(&columns, &rows);
        for row in &rows {
            for (index, cell) in row.cells.iter().enumerate().skip(heading.cells.len()) {
                if !cell.is_empty() {
                    let message = format!(
                        "“{cell}” stands in cell {} of the row, beyond the last heading: check the separators, and put a cell with \
                         a decimal comma into quotation marks where commas part the cells",
                        index + 1
                    );
                    faults.say(Some(row.number), None, message);
                }
            }
        }
        Some(Self { columns, rows, decimals })
    }

    /// The same table, each cell read by itself: in an editor, typing in one cell must not change what another means.
    pub(super) fn each_by_itself(self) -> Self {
        Self { decimals: Decimals::Unknown, ..self }
    }

    /// The rows below the headings.
    pub(super) fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// Whether the table has a column.
    pub(super) fn has(&self, key: K) -> bool {
        self.columns.iter().any(|column| column.key == key)
    }

    /// Letters and heading of a column.
    pub(super) fn label(&self, key: K) -> Option<String> {
        self.columns.iter().find(|column| column.key == key).map(|column| column.label.clone())
    }

    /// The words of a cell; `None` where it is empty.
    pub(super) fn text<'a>(&self, row: &'a Row, key: K) -> Option<&'a str> {
        let column = self.columns.iter().find(|column| column.key == key)?;
        row.cells.get(column.index).map(String::as_str).filter(|cell| !cell.is_empty() && !is_dash(cell))
    }

    /// The figure of a cell in SI units; `None` where it is empty or, with a fault told, cannot be read.
    pub(super) fn figure(&self, row: &Row, key: K, faults: &mut Faults) -> Option<f64> {
        let column = self.columns.iter().find(|column| column.key == key)?;
        let cell = self.text(row, key)?;
        let cell = with_point(cell, self.decimals);
        let read = match column.holds {
            Holds::Figure(quantity) => read(&cell, quantity, &column.unit),
            Holds::Coefficient(symbol) => read(&cell, Quantity::FlowCoefficient, symbol),
            Holds::Number => Units::si().parse(Quantity::FlowCoefficient, &cell).map_err(|flaw| flaw.to_string()),
            Holds::Text | Holds::Nothing => return None,
        };
        match read {
            Ok(figure) => Some(figure),
            Err(message) => {
                faults.say(Some(row.number), Some(column.label.clone()), message);
                None
            }
        }
    }

    /// The words of a cell, a bare figure with a decimal point where the table's way is known.
    pub(super) fn plain(&self, row: &Row, column: &Found<K>) -> Option<String> {
        let cell = self.text(row, column.key)?;
        let is_figure = !matches!(column.holds, Holds::Text | Holds::Nothing);
        Some(if is_figure && is_bare(cell) { with_point(cell, self.decimals) } else { cell.to_owned() })
    }

    /// The columns of the table.
    pub(super) fn columns(&self) -> &[Found<K>] {
        &self.columns
    }

    /// As [`Self::figure`], with a fault where the cell is empty.
    pub(super) fn needed(&self, row: &Row, key: K, faults: &mut Faults) -> Option<f64> {
        let column = self.columns.iter().find(|column| column.key == key)?;
        if column.holds != Holds::Nothing && self.text(row, key).is_none() {
            faults.say(Some(row.number), Some(column.label.clone()), "the cell is empty: type the figure");
        }
        self.figure(row, key, faults)
    }
}

/// A dash or a quotation of nothing, as people leave cells open.
fn is_dash(cell: &str) -> bool {
    matches!(cell, "-" | "–" | "—")
}

/// A figure with its own unit, or with that of its column.
fn read(cell: &str, quantity: Quantity, unit: &str) -> Result<f64, String> {
    let is_bare = is_bare(cell);
    if is_bare && unit.is_empty() {
        let symbol = Units::si().symbol(quantity);
        return Err(format!("{cell} has no unit: put it into the heading, such as ({symbol})"));
    }
    let text = if is_bare { format!("{cell} {unit}") } else { cell.to_owned() };
    Units::si().parse(quantity, &text).map_err(|flaw| flaw.to_string())
}

/// Whether a cell holds a figure without a unit.
pub(super) fn is_bare(cell: &str) -> bool {
    cell.chars().all(|c| c.is_ascii_digit() || ".,+-−–eE ".contains(c) || c.is_whitespace())
}

/// What the cells that can be read one way only tell.
fn decimals<K>(columns: &[Found<K>], rows: &[Row]) -> Decimals {
    let is_figure = |column: &&Found<K>| !matches!(column.holds, Holds::Text | Holds::Nothing);
    let (mut point, mut comma) = (false, false);
    for column in columns.iter().filter(is_figure) {
        for cell in rows.iter().filter_map(|row| row.cells.get(column.index)) {
            match (cell.rfind('.'), cell.rfind(',')) {
                (Some(at), None) => point |= parts_decimals(cell, at),
                (None, Some(at)) => comma |= parts_decimals(cell, at),
                // The last of both parts decimals.
                (Some(a), Some(b)) => (point, comma) = (point | (a > b), comma | (b > a)),
                (None, None) => {}
            }
        }
    }
    match (point, comma) {
        (true, false) => Decimals::Point,
        (false, true) => Decimals::Comma,
        _ => Decimals::Unknown,
    }
}

/// Whether the one sign at a place in a cell can only part decimals: no group of three follows, or nothing or a zero leads.
fn parts_decimals(cell: &str, at: usize) -> bool {
    let sign = &cell[at..=at];
    if cell.matches(sign).count() > 1 {
        return false;
    }
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).count();
    let after: String = cell[at + 1..].chars().take_while(char::is_ascii_digit).collect();
    let before = cell[..at].trim_start_matches(['+', '-', '−', ' ']);
    digits(&after) != 3 || before.is_empty() || before.starts_with('0') || digits(before) > 3
}

/// The figure with a decimal point, where the table's way is known.
fn with_point(cell: &str, decimals: Decimals) -> String {
    match decimals {
        Decimals::Unknown => cell.to_owned(),
        Decimals::Point => cell.replace(',', ""),
        Decimals::Comma => cell.replace('.', "").replace(',', "."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_some_figures_tell_how_decimals_are_parted() {
        for cell in ["0,248", "12,5", "1,98", ",5", "1234,567"] {
            assert!(parts_decimals(cell, cell.find(',').unwrap()), "{cell}");
        }
        for cell in ["1,985", "12,500 W", "1,234,567"] {
            assert!(!parts_decimals(cell, cell.rfind(',').unwrap()), "{cell}");
        }
    }

    #[test]
    fn figures_without_any_unit_are_refused() {
        assert!(read("7", Quantity::Heat, "").unwrap_err().contains("(kW)"));
        assert_eq!(read("7", Quantity::Heat, "kW"), Ok(7000.0));
        assert_eq!(read("700 W", Quantity::Heat, "kW"), Ok(700.0));
    }
}

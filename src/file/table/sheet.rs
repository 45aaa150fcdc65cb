//! A list of zones as cells under fixed headings, for an editor: read by the reader of pasted lists, so that columns, units,
//! words and faults are the same. Rows are counted from 1, without the headings.

use super::cells::{Cells, is_bare};
use super::columns::{COLUMNS, Key};
use super::error::{Faults, TableError};
use super::grid::{self, Row};
use super::headings::Holds;
use super::{text, words, zones};
use crate::document::PlannedZone;
use crate::engine::units::{Quantity, Units};
use std::path::Path;

/// The fields of the sheet, in its order. Distances are those from the tee before.
pub const ZONE_FIELDS: [Key; 16] = [
    Key::Name,
    Key::Load,
    Key::Drop,
    Key::Flow,
    Key::Emitter,
    Key::Loss,
    Key::LeavingAir,
    Key::Room,
    Key::Valve,
    Key::Kv,
    Key::Branch,
    Key::BranchBore,
    Key::BranchK,
    Key::Before,
    Key::MainBore,
    Key::MainK,
];

/// What the cells of a field hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Holding {
    /// A name of one's own.
    Name,
    /// One of some words.
    Word(Vec<&'static str>),
    /// A figure with a unit.
    Figure(Quantity),
    /// A figure without a unit.
    Number,
}

impl Key {
    /// What its cells hold.
    #[must_use]
    pub fn holding(self) -> Holding {
        match (self, self.holds()) {
            (Self::Emitter, _) => Holding::Word(words::emitter_words()),
            (Self::Valve, _) => Holding::Word(words::valve_words()),
            (_, Holds::Figure(quantity)) => Holding::Figure(quantity),
            (_, Holds::Coefficient(_)) => Holding::Figure(Quantity::FlowCoefficient),
            (_, Holds::Number) => Holding::Number,
            (_, Holds::Text | Holds::Nothing) => Holding::Name,
        }
    }

    /// Whether every zone must have it.
    #[must_use]
    pub fn is_needed(self) -> bool {
        COLUMNS.iter().any(|column| column.key == self && column.is_needed)
    }

    /// Its usual name, without the unit; a flow coefficient is named by its unit.
    #[must_use]
    pub fn name(self, units: &Units) -> &'static str {
        if self == Self::Kv && units.symbol(Quantity::FlowCoefficient) == "Cv" {
            return Self::Cv.name(units);
        }
        match self {
            Self::Kv => return "valve Kv",
            Self::Cv => return "valve Cv",
            _ => {}
        }
        let column = COLUMNS.iter().find(|column| column.key == self);
        column.and_then(|column| column.names.first().copied()).unwrap_or_default()
    }

    /// Symbol of the unit in which bare figures count; empty where there is none or the name tells it.
    #[must_use]
    pub fn unit(self, units: &Units) -> &'static str {
        match self.holds() {
            Holds::Figure(quantity) => units.symbol(quantity),
            _ => "",
        }
    }

    /// Name and unit, as a list is headed.
    #[must_use]
    pub fn heading(self, units: &Units) -> String {
        match (self.name(units), self.unit(units)) {
            (name, "") => name.to_owned(),
            (name, unit) => format!("{name} ({unit})"),
        }
    }

    fn holds(self) -> Holds {
        COLUMNS.iter().find(|column| column.key == self).map_or(Holds::Nothing, |column| column.holds)
    }
}

/// Reads zones from cells in the order of [`ZONE_FIELDS`], bare figures in the given units, each cell by itself. Rows without
/// anything are passed over.
///
/// # Errors
/// Everything that is wrong with the cells; rows are counted from 1.
pub fn read_zone_cells(cells: &[Vec<String>], units: &Units) -> Result<Vec<PlannedZone>, TableError> {
    let (mut faults, name) = (Faults::default(), "the list");
    match Cells::new(rows(cells, units), &COLUMNS, &mut faults).map(Cells::each_by_itself) {
        Some(cells) => zones::zones_of(&cells, faults, name),
        None => faults.or(name, Vec::new()),
    }
}

/// The cells with their headings above, as the reader takes them.
fn rows(cells: &[Vec<String>], units: &Units) -> Vec<Row> {
    let heading = Row { number: 0, cells: ZONE_FIELDS.iter().map(|field| field.heading(units)).collect() };
    let trimmed = |row: &Vec<String>| row.iter().map(|cell| cell.trim().to_owned()).collect::<Vec<_>>();
    let numbered = cells.iter().enumerate().map(|(index, row)| Row { number: index + 1, cells: trimmed(row) });
    let filled = numbered.filter(|row| row.cells.iter().any(|cell| !cell.is_empty()));
    std::iter::once(heading).chain(filled).collect()
}

/// The cells as they stand in other units: bare figures are reckoned over ([`few_figures`]), all else stays as it is typed.
#[must_use]
pub fn cells_in_units(cells: &[Vec<String>], from: &Units, to: &Units) -> Vec<Vec<String>> {
    let mut turned = cells.to_vec();
    let read = Cells::new(rows(cells, from), &COLUMNS, &mut Faults::default());
    let Some(read) = read.map(Cells::each_by_itself) else { return turned };
    for row in read.rows() {
        for (place, field) in ZONE_FIELDS.into_iter().enumerate() {
            let Holding::Figure(quantity) = field.holding() else { continue };
            // The column that reads Kv is headed Cv in some units.
            let key = read.columns().iter().find(|column| column.index == place).map_or(field, |column| column.key);
            let is_bare = read.text(row, key).is_some_and(is_bare);
            if from.get(quantity) == to.get(quantity) || !is_bare {
                continue;
            }
            let figure = read.figure(row, key, &mut Faults::default());
            if let (Some(figure), Some(cell)) =
                (figure, turned.get_mut(row.number - 1).and_then(|row| row.get_mut(place)))
            {
                *cell = few_figures(to.from_si(quantity, figure));
            }
        }
    }
    turned
}

/// A number in the fewest figures that keep it to five parts in ten million, so that there and back again it is as typed.
#[must_use]
pub fn few_figures(number: f64) -> String {
    let rounded = (0..9).filter_map(|decimals| format!("{number:.decimals$e}").parse::<f64>().ok());
    let fits = |rounded: &f64| (rounded - number).abs() <= 5e-7 * number.abs();
    rounded.into_iter().find(fits).unwrap_or(number).to_string()
}

/// What was pasted into a sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pasted {
    /// Rows of cells; `None` for what the pasted text does not tell. Below headings in the order of [`ZONE_FIELDS`].
    pub rows: Vec<Vec<Option<String>>>,
    /// Whether it had headings.
    pub is_headed: bool,
    /// What the person should know of it.
    pub notes: Vec<String>,
}

/// Takes apart what was pasted: a list with headings, or cells as a spreadsheet gives them.
#[must_use]
pub fn pasted(text: &str, units: &Units) -> Pasted {
    let list = grid::rows(text, &mut Faults::default());
    if list.first().is_some_and(is_heading) {
        return headed(list, units);
    }
    let cells = grid::separated(text, '\t', &mut Faults::default());
    let count = cells.last().map_or(0, |row| row.number);
    let mut rows = vec![Vec::new(); count];
    for row in cells {
        if let Some(place) = rows.get_mut(row.number - 1) {
            *place = row.cells.into_iter().map(Some).collect();
        }
    }
    Pasted { rows, is_headed: false, notes: Vec::new() }
}

/// Takes apart a list in a file.
///
/// # Errors
/// A file that cannot be read, or one without headings.
pub fn load_cells(path: &Path, units: &Units) -> Result<Pasted, TableError> {
    let text = text::read(path)?;
    let found = pasted(&text, units);
    if !found.is_headed {
        // The reader of lists says which headings there must be.
        zones::read_zones(&text, &path.display().to_string())?;
    }
    Ok(found)
}

/// Whether most cells of a row, and more than one, are known as headings.
fn is_heading(row: &Row) -> bool {
    let filled = row.cells.iter().filter(|cell| !cell.is_empty()).count();
    let known = row.cells.iter().filter(|cell| super::headings::is_known(cell, &COLUMNS)).count();
    known > 1 && 2 * known > filled
}

fn headed(list: Vec<Row>, units: &Units) -> Pasted {
    let mut faults = Faults::default();
    let heading: Vec<String> = list.first().map(|row| row.cells.clone()).unwrap_or_default();
    let Some(read) = Cells::new(list, &COLUMNS, &mut faults) else { return Pasted::default() };
    let mut notes = Vec::new();
    let unknown = heading.iter().filter(|cell| !cell.is_empty() && !super::headings::is_known(cell, &COLUMNS));
    notes.extend(unknown.map(|cell| format!("The column “{cell}” is not known and was left out.")));
    let first = read.rows().first().map_or(0, |row| row.number);
    let count = read.rows().last().map_or(0, |row| row.number + 1 - first);
    let mut rows = vec![vec![None; ZONE_FIELDS.len()]; count];
    for column in read.columns() {
        let (field, below) = match column.key {
            Key::Next => (Key::Before, 1),
            Key::Cv => (Key::Kv, 0),
            other => (other, 0),
        };
        let Some(place) = ZONE_FIELDS.iter().position(|other| *other == field) else { continue };
        let mut without_unit = false;
        for row in read.rows() {
            let to = row.number - first + below;
            let Some(cell) = rows.get_mut(to).and_then(|row| row.get_mut(place)) else { continue };
            let Some(text) = read.plain(row, column) else { continue };
            let has_own = !is_bare(&text);
            let wanted = field.unit(units);
            *cell = Some(match column.holds {
                Holds::Figure(_) if has_own || column.unit == wanted => text,
                Holds::Figure(_) if column.unit.is_empty() => {
                    without_unit = true;
                    text
                }
                Holds::Figure(_) => format!("{text} {}", column.unit),
                Holds::Coefficient(symbol) if !has_own && symbol != units.symbol(Quantity::FlowCoefficient) => {
                    format!("{symbol} {text}")
                }
                _ => text,
            });
        }
        if without_unit {
            let heading = field.heading(units);
            notes.push(format!("No unit was given for {}: taken as {heading}. Check it.", field.name(units)));
        }
    }
    Pasted { rows, is_headed: true, notes }
}

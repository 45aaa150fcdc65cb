//! Hours by outdoor temperature: two columns, one temperature a row. Headings may be left out where the columns stand in this
//! order and the temperatures are in °C.

use super::cells::Cells;
use super::error::{Faults, TableError};
use super::grid::Row;
use super::headings::{Column, Holds};
use super::{grid, text};
use crate::document::Bin;
use crate::engine::units::Quantity;
use std::collections::BTreeMap;
use std::path::Path;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    Outdoor,
    Hours,
    Notes,
}

const HOURS: [&str; 6] = ["hours", "hours a year", "hours per year", "annual hours", "time", "h"];

const COLUMNS: [Column<Key>; 3] = [
    Column {
        key: Key::Outdoor,
        names: &[
            "outdoor temperature",
            "outdoor",
            "outdoors",
            "temperature",
            "outdoor air temperature",
            "outside temperature",
            "air temperature",
            "dry bulb",
            "dry bulb temperature",
        ],
        holds: Holds::Figure(Quantity::Temperature),
        is_needed: true,
    },
    Column { key: Key::Hours, names: &HOURS, holds: Holds::Figure(Quantity::Time), is_needed: true },
    Column { key: Key::Notes, names: &["notes", "note", "remarks", "remark"], holds: Holds::Nothing, is_needed: false },
];

/// Reads hours by outdoor temperature from a file.
///
/// # Errors
/// A file that cannot be read, or everything that is wrong with the table.
pub fn load_bins(path: &Path) -> Result<Vec<Bin>, TableError> {
    read_bins(&text::read(path)?, &path.display().to_string())
}

/// Reads hours by outdoor temperature from text; `name` stands in messages.
///
/// # Errors
/// Everything that is wrong with the table.
pub fn read_bins(text: &str, name: &str) -> Result<Vec<Bin>, TableError> {
    let mut faults = Faults::default();
    let mut rows = grid::rows(text, &mut faults);
    // Behind a cell without end nothing can be told apart.
    if !faults.is_empty() {
        return faults.or(name, Vec::new());
    }
    match rows.first_mut() {
        Some(first) if is_figures(first) => {
            let cells = ["outdoor temperature (°C)", "hours (h)"].map(str::to_owned).to_vec();
            rows.insert(0, Row { number: 0, cells });
        }
        // Hours say their unit by their name.
        Some(heading) => heading.cells.iter_mut().filter(|cell| is_hours(cell)).for_each(|cell| cell.push_str(" (h)")),
        None => {}
    }
    let Some(cells) = Cells::new(rows, &COLUMNS, &mut faults) else { return faults.or(name, Vec::new()) };
    let mut bins = Vec::new();
    let mut seen: BTreeMap<u64, usize> = BTreeMap::new();
    for row in cells.rows() {
        let mut needed = |key| cells.needed(row, key, &mut faults);
        let (Some(outdoor_c), Some(seconds)) = (needed(Key::Outdoor), needed(Key::Hours)) else { continue };
        if seconds < 0.0 {
            faults.say(Some(row.number), cells.label(Key::Hours), "the hours are negative: type zero or more");
        }
        if !(-70.0..=60.0).contains(&outdoor_c) {
            let message = format!(
                "{outdoor_c:.1} °C is no outdoor temperature: give one between −70 and 60 °C, or name the unit in the heading, \
                 such as outdoor temperature (°F)"
            );
            faults.say(Some(row.number), cells.label(Key::Outdoor), message);
        }
        if let Some(first) = seen.insert((outdoor_c + 0.0).to_bits(), row.number) {
            let message = format!("row {first} has the same temperature: put their hours together");
            faults.say(Some(row.number), cells.label(Key::Outdoor), message);
        }
        bins.push(Bin {
            outdoor_c,
            hours: Quantity::Time.choices().first().map_or(seconds, |hour| hour.from_si(seconds)),
        });
    }
    faults.or(name, bins)
}

/// Whether a row holds figures alone and so is no heading.
fn is_figures(row: &Row) -> bool {
    row.cells
        .iter()
        .all(|cell| cell.trim_start_matches(['+', '-', '−', '–', '.', ',']).starts_with(|c: char| c.is_ascii_digit()))
}

/// Whether a heading is one of hours without a unit behind it.
fn is_hours(heading: &str) -> bool {
    HOURS.contains(&heading.to_lowercase().as_str())
}

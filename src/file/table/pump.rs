//! A circulator's catalogue points: flow, head, electric power and speed, one point a row.

use super::cells::Cells;
use super::error::{Faults, TableError};
use super::headings::{Column, Holds};
use super::{grid, text};
use crate::document::{CataloguePoint, PumpUnit, stand_in};
use crate::engine::units::Quantity;
use std::path::Path;

/// A catalogue curve as read.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpTable {
    /// The points by rising flow.
    pub points: Vec<CataloguePoint>,
    /// Speed at which they were taken, r/min.
    pub full_speed_rpm: f64,
}

impl PumpTable {
    /// The circulator of this curve, with the power (W) that does not follow its speed; all else as with the circulator that
    /// stands in where none is given.
    #[must_use]
    pub fn unit(self, standby_power: f64) -> PumpUnit {
        let usual = stand_in(1.0, 1.0, 1000.0);
        PumpUnit { catalogue: self.points, full_speed_rpm: self.full_speed_rpm, standby_power, ..usual }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    Flow,
    Head,
    Power,
    Speed,
    Notes,
}

/// The columns; the speed is needed where it is not known otherwise.
const fn columns(is_speed_known: bool) -> [Column<Key>; 5] {
    [
        Column {
            key: Key::Flow,
            names: &["flow", "flow rate", "rate of flow"],
            holds: Holds::Figure(Quantity::Flow),
            is_needed: true,
        },
        Column {
            key: Key::Head,
            names: &["head", "total head"],
            holds: Holds::Figure(Quantity::Head),
            is_needed: true,
        },
        Column {
            key: Key::Power,
            names: &["power", "electric power", "input power"],
            holds: Holds::Figure(Quantity::Power),
            is_needed: true,
        },
        Column {
            key: Key::Speed,
            names: &["speed", "full speed", "speed of rotation"],
            holds: Holds::Figure(Quantity::RotationalSpeed),
            is_needed: !is_speed_known,
        },
        Column {
            key: Key::Notes,
            names: &["notes", "note", "remarks", "remark", "point"],
            holds: Holds::Nothing,
            is_needed: false,
        },
    ]
}

/// Reads the catalogue points of a file.
///
/// # Errors
/// A file that cannot be read, or everything that is wrong with the table.
pub fn load_pump(path: &Path) -> Result<PumpTable, TableError> {
    read_pump(&text::read(path)?, &path.display().to_string())
}

/// Reads catalogue points from text; `name` stands in messages.
///
/// # Errors
/// Everything that is wrong with the table.
pub fn read_pump(text: &str, name: &str) -> Result<PumpTable, TableError> {
    read_points(text, name, None)
}

/// The same where the full speed is known, r/min: the table needs no column for it then.
///
/// # Errors
/// As [`read_pump`].
pub fn read_pump_of_speed(text: &str, name: &str, full_speed_rpm: f64) -> Result<PumpTable, TableError> {
    read_points(text, name, Some(full_speed_rpm))
}

fn read_points(text: &str, name: &str, known_rpm: Option<f64>) -> Result<PumpTable, TableError> {
    let mut faults = Faults::default();
    let mut table = PumpTable { points: Vec::new(), full_speed_rpm: 0.0 };
    let rows = grid::rows(text, &mut faults);
    // Behind a cell without end nothing can be told apart.
    if !faults.is_empty() {
        return faults.or(name, table);
    }
    let Some(cells) = Cells::new(rows, &columns(known_rpm.is_some()), &mut faults) else {
        return faults.or(name, table);
    };
    let mut numbered: Vec<(usize, CataloguePoint)> = Vec::new();
    for row in cells.rows() {
        let mut needed = |key| cells.needed(row, key, &mut faults);
        if let (Some(flow), Some(head), Some(power)) = (needed(Key::Flow), needed(Key::Head), needed(Key::Power)) {
            numbered.push((row.number, CataloguePoint { flow, head, power }));
        }
        // A speed counts until another is given.
        let Some(speed) = cells.figure(row, Key::Speed, &mut faults) else { continue };
        if table.full_speed_rpm == 0.0 {
            table.full_speed_rpm = speed;
        } else if (speed / table.full_speed_rpm - 1.0).abs() > 1e-9 {
            let message = format!(
                "this point was taken at {speed} r/min, those above it at {} r/min: keep the points of full speed alone, all \
                 other speeds follow from them",
                table.full_speed_rpm
            );
            faults.say(Some(row.number), cells.label(Key::Speed), message);
        }
    }
    if table.full_speed_rpm <= 0.0 && cells.has(Key::Speed) {
        faults.say(
            None,
            cells.label(Key::Speed),
            "no speed above zero is given: type the full speed into the first row",
        );
    }
    if let Some(known_rpm) = known_rpm.filter(|_| !cells.has(Key::Speed)) {
        table.full_speed_rpm = known_rpm;
    }
    numbered.sort_by(|a, b| a.1.flow.total_cmp(&b.1.flow));
    for pair in numbered.windows(2) {
        if pair[0].1.flow == pair[1].1.flow {
            let message = format!("row {} has the same flow: keep one of the two", pair[0].0);
            faults.say(Some(pair[1].0), cells.label(Key::Flow), message);
        }
    }
    table.points = numbered.into_iter().map(|(_, point)| point).collect();
    faults.or(name, table)
}

//! The list of zones: one zone a row, from near to far.
//!
//! Lengths are one way. A distance is that from the tee before (for the first zone from the plant); where the list gives the
//! distance to the next tee instead, each counts for the zone below, and that of the first zone is left open.

use super::cells::Cells;
use super::columns::{COLUMNS, Key};
use super::error::{Faults, TableError};
use super::grid::Row;
use super::{grid, text, words};
use crate::document::{PlannedFlow, PlannedRun, PlannedValve, PlannedZone};
use crate::engine::links::emitter::EmitterLaw;
use std::collections::BTreeMap;
use std::path::Path;

/// Sum of the loss coefficients of a branch's fittings, one way, where none is given: a tee and some elbows (common practice, no
/// source).
const BRANCH_K: f64 = 5.0;
/// The same of a section of the main.
const MAIN_K: f64 = 2.0;

/// Reads the zones of a file.
///
/// # Errors
/// A file that cannot be read, or everything that is wrong with the table.
pub fn load_zones(path: &Path) -> Result<Vec<PlannedZone>, TableError> {
    read_zones(&text::read(path)?, &path.display().to_string())
}

/// Reads zones from text; `name` stands in messages.
///
/// # Errors
/// Everything that is wrong with the table.
pub fn read_zones(text: &str, name: &str) -> Result<Vec<PlannedZone>, TableError> {
    let mut faults = Faults::default();
    let rows = grid::rows(text, &mut faults);
    // Behind a cell without end nothing can be told apart.
    if !faults.is_empty() {
        return faults.or(name, Vec::new());
    }
    let Some(cells) = Cells::new(rows, &COLUMNS, &mut faults) else { return faults.or(name, Vec::new()) };
    zones_of(&cells, faults, name)
}

/// The zones of a table whose columns are known.
pub(super) fn zones_of(cells: &Cells<Key>, mut faults: Faults, name: &str) -> Result<Vec<PlannedZone>, TableError> {
    if cells.has(Key::Before) && cells.has(Key::Next) {
        let message = "the distance from the tee before is given too: keep one of the two columns";
        faults.say(None, cells.label(Key::Next), message);
    }
    let mut zones: Vec<PlannedZone> =
        cells.rows().iter().filter_map(|row| Reader { cells, row, faults: &mut faults }.zone()).collect();
    same_names(cells, &mut faults);
    if cells.has(Key::Next) {
        // What lies behind a tee lies before the next one.
        let mut before = None;
        for zone in &mut zones {
            before = std::mem::replace(&mut zone.main, before);
        }
    }
    faults.or(name, zones)
}

/// Two zones of one name could not be told apart.
fn same_names(cells: &Cells<Key>, faults: &mut Faults) {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    for row in cells.rows() {
        let Some(name) = cells.text(row, Key::Name) else { continue };
        if let Some(first) = seen.get(name) {
            let message = format!("“{name}” stands in row {first} too: give each zone a name of its own");
            faults.say(Some(row.number), cells.label(Key::Name), message);
        } else {
            seen.insert(name, row.number);
        }
    }
}

/// Reads one row.
struct Reader<'a> {
    cells: &'a Cells<Key>,
    row: &'a Row,
    faults: &'a mut Faults,
}

impl Reader<'_> {
    fn figure(&mut self, key: Key) -> Option<f64> {
        self.cells.figure(self.row, key, self.faults)
    }

    /// A figure that must be above zero.
    fn above_zero(&mut self, key: Key, is_needed: bool) -> Option<f64> {
        let figure = if is_needed { self.cells.needed(self.row, key, self.faults) } else { self.figure(key) };
        figure.filter(|figure| {
            let is_above = *figure > 0.0;
            if !is_above {
                self.say(key, "it is not above zero: type a greater figure");
            }
            is_above
        })
    }

    /// A figure that must not be below zero.
    fn at_least_zero(&mut self, key: Key, is_needed: bool) -> Option<f64> {
        let figure = if is_needed { self.cells.needed(self.row, key, self.faults) } else { self.figure(key) };
        figure.filter(|figure| {
            let is_sound = *figure >= 0.0;
            if !is_sound {
                self.say(key, "it is negative: type zero or more");
            }
            is_sound
        })
    }

    fn say(&mut self, key: Key, message: impl Into<String>) {
        self.faults.say(Some(self.row.number), self.cells.label(key), message);
    }

    /// The zone; `None`, with its faults told, where something that it needs is missing.
    fn zone(&mut self) -> Option<PlannedZone> {
        let name = self.cells.text(self.row, Key::Name).map(str::to_owned);
        if name.is_none() && self.cells.has(Key::Name) {
            self.say(Key::Name, "the zone has no name: type one, or delete the row if it is a sum");
        }
        let load = self.above_zero(Key::Load, true);
        let flow = self.flow();
        let emitter = self.emitter();
        let emitter_loss = self.at_least_zero(Key::Loss, true);
        let (valve, cv) = (self.valve(), self.above_zero(Key::Cv, false));
        let kv = self.above_zero(Key::Kv, false);
        if kv.is_some() && cv.is_some() {
            self.say(Key::Cv, "the Kv is given too: keep one of the two");
        }
        let branch = self.run(Key::Branch, Key::BranchBore, Key::BranchK, BRANCH_K, true);
        let distance = if self.cells.has(Key::Next) { Key::Next } else { Key::Before };
        let main = self.run(distance, Key::MainBore, Key::MainK, MAIN_K, false);
        let air_outlet_c = self.figure(Key::LeavingAir);
        if matches!(emitter, Some(EmitterLaw::Coil { .. })) && air_outlet_c.is_none() {
            let key = if self.cells.has(Key::LeavingAir) { Key::LeavingAir } else { Key::Emitter };
            self.say(key, "a coil needs the temperature of its leaving air: give it in a column “leaving air (°C)”");
        }
        let room_c = self.figure(Key::Room);
        Some(PlannedZone {
            name: name?,
            load: load?,
            flow,
            emitter: emitter?,
            emitter_loss: emitter_loss?,
            air_outlet_c,
            room_c,
            branch: branch?,
            main,
            valve: valve?,
            valve_kv: kv.or(cv),
        })
    }

    fn flow(&mut self) -> PlannedFlow {
        let (drop_k, flow) = (self.above_zero(Key::Drop, false), self.above_zero(Key::Flow, false));
        match (drop_k, flow) {
            (Some(_), Some(_)) => {
                self.say(
                    Key::Flow,
                    "the temperature drop is given too, and one follows from the other: empty one of the two",
                );
                PlannedFlow::AsDesigned
            }
            (Some(drop_k), None) => PlannedFlow::Drop(drop_k),
            (None, Some(flow)) => PlannedFlow::Flow(flow),
            (None, None) => PlannedFlow::AsDesigned,
        }
    }

    fn emitter(&mut self) -> Option<EmitterLaw> {
        let Some(text) = self.cells.text(self.row, Key::Emitter) else {
            if self.cells.has(Key::Emitter) {
                self.say(Key::Emitter, format!("the cell is empty: type {}", words::emitters()));
            }
            return None;
        };
        let law = words::emitter(text);
        if law.is_none() {
            self.say(Key::Emitter, format!("“{text}” is no known emitter: type {}", words::emitters()));
        }
        law
    }

    /// Its valve; a zone valve where the cell is empty.
    fn valve(&mut self) -> Option<PlannedValve> {
        let Some(text) = self.cells.text(self.row, Key::Valve) else { return Some(PlannedValve::Zone) };
        let valve = words::valve(text);
        if valve.is_none() {
            self.say(Key::Valve, format!("“{text}” is no known valve: type {}", words::valves()));
        }
        valve
    }

    fn run(&mut self, length: Key, bore: Key, k: Key, usual_k: f64, is_needed: bool) -> Option<PlannedRun> {
        let bore = self.above_zero(bore, false);
        let minor_k = self.at_least_zero(k, false).unwrap_or(usual_k);
        let length = self.at_least_zero(length, is_needed)?;
        Some(PlannedRun { length, minor_k, bore })
    }
}

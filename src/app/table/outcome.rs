//! What the sheet comes to: everything that is wrong with it, or the system that it makes.

use super::contents::Contents;
use super::plant::{Figure, Plant, Task};
use crate::document::{Arrangement, PlannedValve, PlannedZone};
use crate::engine::units::Units;
use crate::file::table::{TableError, ZONE_FIELDS, ZoneField, read_zone_cells};
use crate::study::sizing::{SizedSystem, SizingError, SizingLimits, size_system};
use std::collections::{BTreeMap, BTreeSet};

/// Most zones that are reckoned at each change.
pub(super) const LIVE_ZONES: usize = 50;

/// Where a fault lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    /// A cell by row and column, from 0.
    Cell(usize, usize),
    /// A figure of the plant.
    Plant(Figure),
    /// Nowhere in particular.
    Whole,
}

/// Something wrong.
#[derive(Clone, Debug)]
pub(super) struct Fault {
    pub(super) place: Place,
    pub(super) message: String,
    /// Something is only not there yet.
    pub(super) is_missing: bool,
}

/// What the sheet comes to.
#[derive(Debug, Default)]
pub(super) struct Outcome {
    pub(super) faults: Vec<Fault>,
    /// The faults of cells, by row and column.
    pub(super) at: BTreeMap<(usize, usize), (bool, String)>,
    pub(super) zones: usize,
    pub(super) system: Option<Box<(SizedSystem, SizingLimits)>>,
    /// The list is sound, but too long to be reckoned unasked.
    pub(super) waits: bool,
}

impl Outcome {
    /// Reads the sheet and, if it is sound, reckons the system; a long list only when asked.
    pub(super) fn of(contents: &Contents, plant: &Plant, units: &Units, is_asked: bool) -> Self {
        let mut found = Self::default();
        let is_filled = |row: &Vec<String>| row.iter().any(|cell| !cell.trim().is_empty());
        let rows: Vec<usize> =
            contents.rows().iter().enumerate().filter(|(_, row)| is_filled(row)).map(|(index, _)| index).collect();
        found.zones = rows.len();
        let zones = match read_zone_cells(contents.rows(), units) {
            Ok(zones) => Some(zones),
            Err(error) => {
                found.take_table(&error, contents);
                None
            }
        };
        found.need_distances(contents, plant, &rows);
        // The figures of the plant are looked at even if the zones cannot be read.
        let task = plant.task(zones.clone().unwrap_or_default(), units);
        if let Err(faults) = &task {
            found.faults.extend(faults.iter().map(|fault| Fault {
                place: Place::Plant(fault.figure),
                message: fault.message.clone(),
                is_missing: fault.is_missing,
            }));
        }
        if let (Some(zones), Ok(task), true) = (zones, task, found.faults.is_empty()) {
            found.waits = zones.len() > LIVE_ZONES && !is_asked;
            if !found.waits {
                match size_system(&task.plan, &task.series, &task.limits) {
                    Ok(system) => found.system = Some(Box::new((system, task.limits))),
                    Err(error) => found.take_sizing(&error, &task, &rows),
                }
            }
        }
        found.mark();
        found
    }

    /// Distances are needed by the arrangement, which the list does not tell.
    fn need_distances(&mut self, contents: &Contents, plant: &Plant, rows: &[usize]) {
        let Some(column) = column(ZoneField::Before) else { return };
        for (index, row) in rows.iter().enumerate() {
            let is_needed = index == 0 || plant.arrangement != Arrangement::Manifold;
            if is_needed && contents.cell(*row, column).trim().is_empty() {
                let message =
                    "the cell is empty: type the length from the tee before, for the first zone from the plant";
                self.faults.push(Fault {
                    place: Place::Cell(*row, column),
                    message: message.to_owned(),
                    is_missing: true,
                });
            }
        }
    }

    fn take_table(&mut self, error: &TableError, contents: &Contents) {
        let TableError::Faults { faults, .. } = error else {
            self.faults.push(Fault { place: Place::Whole, message: error.to_string(), is_missing: false });
            return;
        };
        for fault in faults {
            let cell = fault.row.and_then(|row| row.checked_sub(1)).zip(fault.column_index());
            let is_missing = match cell {
                Some((row, column)) => contents.cell(row, column).trim().is_empty(),
                None => contents.is_empty(),
            };
            let place = cell.map_or(Place::Whole, |(row, column)| Place::Cell(row, column));
            let message = match place {
                Place::Whole if is_missing => "there is no zone in it yet".to_owned(),
                _ => fault.message.clone(),
            };
            self.faults.push(Fault { place, message, is_missing });
        }
    }

    fn take_sizing(&mut self, error: &SizingError, task: &Task, rows: &[usize]) {
        let SizingError::Plan(flaws) = error else {
            self.faults.push(Fault { place: Place::Whole, message: error.to_string(), is_missing: false });
            return;
        };
        // The first of each name, as a flaw calls it.
        let mut named: BTreeMap<String, (&PlannedZone, usize)> = BTreeMap::new();
        for (zone, row) in task.plan.zones.iter().zip(rows) {
            named.entry(format!("zone {}", zone.name)).or_insert((zone, *row));
        }
        let mut zones_with: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
        for flaw in flaws.iter().filter(|flaw| named.contains_key(&flaw.place)) {
            zones_with.entry(&flaw.what).or_default().insert(&flaw.place);
        }
        let of_all = |what: &str| named.len() > 1 && zones_with.get(what).is_some_and(|has| has.len() == named.len());
        for flaw in flaws {
            let zone = named.get(&flaw.place);
            let place = match (flaw.place.as_str(), zone) {
                // What is wrong with all zones is wrong with the temperatures that they share.
                (_, Some(_)) if of_all(&flaw.what) => Place::Plant(Figure::Drop),
                (_, Some((zone, row))) => {
                    column(field_of(task, zone)).map_or(Place::Whole, |column| Place::Cell(*row, column))
                }
                ("design", None) => Place::Plant(Figure::Supply),
                ("fluid", None) if task.plan.fluid.is_water() => Place::Plant(Figure::Supply),
                ("fluid", None) => Place::Plant(Figure::Glycol),
                _ => Place::Whole,
            };
            let message = match place {
                Place::Whole => format!("{}: {}", flaw.place, flaw.what),
                _ => flaw.what.clone(),
            };
            if !self.faults.iter().any(|fault| fault.place == place && fault.message == message) {
                self.faults.push(Fault { place, message, is_missing: false });
            }
        }
    }

    fn mark(&mut self) {
        // Row by row, then the plant.
        self.faults.sort_by_key(|fault| match fault.place {
            Place::Cell(row, column) => (0, row, column),
            Place::Plant(figure) => (1, figure as usize, 0),
            Place::Whole => (2, 0, 0),
        });
        for fault in &self.faults {
            if let Place::Cell(row, column) = fault.place {
                let (is_missing, text) = self.at.entry((row, column)).or_insert((true, String::new()));
                *is_missing &= fault.is_missing;
                if !text.is_empty() {
                    text.push('\n');
                }
                *text += &fault.message;
            }
        }
    }
}

/// Place of a field among the columns.
pub(super) fn column(field: ZoneField) -> Option<usize> {
    ZONE_FIELDS.iter().position(|other| *other == field)
}

/// The cell that a flaw of a planned zone points at.
fn field_of(task: &Task, zone: &PlannedZone) -> ZoneField {
    let lacks_outdoors = zone.valve == PlannedValve::Thermostatic && task.plan.design.outdoor_c.is_none();
    if lacks_outdoors { ZoneField::Valve } else { ZoneField::Name }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A thousand thermostatic valves without the outdoor temperature that all of them need.
    #[test]
    fn what_all_zones_lack_is_told_once() {
        let typed = [
            (ZoneField::Load, "1"),
            (ZoneField::Emitter, "radiator"),
            (ZoneField::Loss, "5"),
            (ZoneField::Branch, "4"),
            (ZoneField::Before, "3"),
            (ZoneField::Valve, "thermostatic"),
        ];
        let row = |number: usize| {
            let mut row = vec![String::new(); ZONE_FIELDS.len()];
            row[column(ZoneField::Name).unwrap()] = format!("Room {number}");
            typed.iter().for_each(|(field, text)| row[column(*field).unwrap()] = (*text).to_owned());
            row
        };
        let mut contents = Contents::default();
        contents.replace((1..=1000).map(row).collect());
        let mut plant = Plant::default();
        *plant.text(Figure::Supply) = "50".to_owned();
        *plant.text(Figure::Drop) = "8".to_owned();
        let outcome = Outcome::of(&contents, &plant, &Units::si(), true);
        assert_eq!(outcome.faults.len(), 1, "{:?}", outcome.faults.first());
        assert!(outcome.faults[0].message.contains("outdoor"), "{:?}", outcome.faults);
    }
}

//! The scenarios of a record: what the circulators do in each, what it takes, and the zone that is worst off.

use super::super::energy::shown_parts;
use super::sheet::{Cell, Column, Sheet};
use super::solved::Solved;
use crate::document::{ComponentId, ZoneId};
use crate::engine::units::{Quantity, Units};
use crate::study::{PumpResult, Results, ZoneResult, ZoneState, limit_name};

/// A row a scenario and running circulator.
pub(super) fn scenarios(solved: &Solved, units: &Units) -> Sheet {
    let project = &solved.project;
    let running = solved.running();
    let several = running.len() > 1;
    let number = |heading: &str, quantity| Column::number(heading, quantity, units);
    let mut columns = vec![Column::text("Scenario"), number("Hours", Quantity::Time)];
    columns.extend(several.then(|| Column::text("Circulator")));
    columns.extend([
        number("Flow", Quantity::Flow),
        number("Head", Quantity::Head),
        number("Speed", Quantity::Speed),
        number("Power", Quantity::Power),
        number("Energy", Quantity::Energy),
        Column::text("Governing"),
        Column::text("Zone").under("Worst zone"),
        number("Of design", Quantity::Share).under("Worst zone"),
        Column::text("State").under("Worst zone"),
    ]);
    let solved_rows: Vec<(usize, ComponentId, &PumpResult)> = (0..project.scenarios.len())
        .flat_map(|index| running.iter().map(move |pump| (index, *pump)))
        .filter_map(|(index, pump)| Some((index, pump, solved.scenarios.get(index)?.pumps.get(&pump)?)))
        .collect();
    let energies: Vec<f64> = solved_rows
        .iter()
        .map(|(index, _, pump)| pump.electric_w * 3600.0 * project.scenarios[*index].hours_per_year)
        .collect();
    let mut rows = Vec::new();
    for ((index, id, pump), energy_j) in solved_rows.iter().zip(shown_parts(units, &energies)) {
        let (scenario, results) = (&project.scenarios[*index], &solved.scenarios[*index]);
        let mut cells =
            vec![Cell::text(&*scenario.name), Cell::number(units, Quantity::Time, 3600.0 * scenario.hours_per_year)];
        cells.extend(several.then(|| Cell::text(solved.name(*id))));
        cells.extend([
            Cell::number(units, Quantity::Flow, pump.flow),
            Cell::number(units, Quantity::Head, pump.head),
            Cell::number(units, Quantity::Speed, pump.speed),
            Cell::number(units, Quantity::Power, pump.electric_w),
            Cell::number(units, Quantity::Energy, energy_j),
            Cell::text(if results.converged() { pump.governing.map_or("–", limit_name) } else { "NOT CONVERGED" }),
        ]);
        cells.extend(match worst(results) {
            Some((zone, result)) => [
                Cell::text(solved.zone(zone)),
                Cell::share(units, result.share, result.state, &project.acceptance),
                Cell::state(result.state),
            ],
            None => [Cell::text("no zone open"), Cell::none(), Cell::text("")],
        });
        rows.push(cells);
    }
    let notes = match rows.is_empty() {
        true => Vec::new(),
        false => vec![
            "Worst zone: the one that gets too little, by the least share of its design flow; where none does, the one \
             that gets most too much; else the one with the least share."
                .to_owned(),
        ],
    };
    let intro = String::new();
    Sheet { key: "scenarios", title: "Scenarios", intro, columns, rows, notes }
}

/// The open zone that is worst off: short of flow or heat before too much before merely least.
pub(super) fn worst(results: &Results) -> Option<(ZoneId, &ZoneResult)> {
    let rank = |zone: &ZoneResult| match zone.state {
        state if state.is_short() => (0, zone.share),
        ZoneState::Overflowed => (1, -zone.share),
        ZoneState::Throttled => (3, zone.share),
        _ => (2, zone.share),
    };
    let open = results.zones.iter().filter(|(_, zone)| zone.state != ZoneState::Shut);
    let worse = |a: &ZoneResult, b: &ZoneResult| {
        let ((first, share), (other, other_share)) = (rank(a), rank(b));
        first.cmp(&other).then(share.total_cmp(&other_share))
    };
    open.map(|(id, zone)| (*id, zone)).min_by(|a, b| worse(a.1, b.1))
}

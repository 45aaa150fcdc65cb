//! The scenarios of a record: what the circulators do in each, what it takes, and the zone that is worst off.

use super::super::energy::{HOUR_S, power_w, shown_parts};
use super::sheet::{Cell, Column, Sheet};
use super::solved::Solved;
use crate::document::{ComponentId, ZoneId};
use crate::engine::units::{Quantity, Units};
use crate::study::{PumpResult, Results, ZoneResult, ZoneState, ill_sources, limit_name};

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
    let marks: Vec<String> = solved.scenarios.iter().map(|results| ill_sources(project, results).join(", ")).collect();
    let is_marked = marks.iter().any(|mark| !mark.is_empty());
    columns.extend(is_marked.then(|| Column::mark("Sources")));
    let solved_rows: Vec<(usize, ComponentId, &PumpResult)> = (0..project.scenarios.len())
        .flat_map(|index| running.iter().map(move |pump| (index, *pump)))
        .filter_map(|(index, pump)| Some((index, pump, solved.scenarios.get(index)?.pumps.get(&pump)?)))
        .collect();
    let powers = solved.scenarios.iter().zip(&project.scenarios);
    let energies: Vec<f64> =
        powers.map(|(results, scenario)| power_w(results) * HOUR_S * scenario.hours_per_year).collect();
    let energies = shown_parts(units, &energies);
    let mut rows = Vec::new();
    for (index, id, pump) in &solved_rows {
        let is_first = running.first() == Some(id);
        let (scenario, results) = (&project.scenarios[*index], &solved.scenarios[*index]);
        let mut cells =
            vec![Cell::text(&*scenario.name), Cell::number(units, Quantity::Time, HOUR_S * scenario.hours_per_year)];
        cells.extend(several.then(|| Cell::text(solved.name(*id))));
        cells.extend([
            Cell::number(units, Quantity::Flow, pump.flow),
            Cell::number(units, Quantity::Head, pump.head),
            Cell::number(units, Quantity::Speed, pump.speed),
            Cell::number(units, Quantity::Power, pump.electric_w),
            if is_first { Cell::number(units, Quantity::Energy, energies[*index]) } else { Cell::none() },
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
        cells.extend(is_marked.then(|| Cell::mark(if is_first { &*marks[*index] } else { "" })));
        rows.push(cells);
    }
    let mut notes = Vec::new();
    if !rows.is_empty() {
        notes.push(
            "Worst zone: the one that gets too little, by the least share of its design flow; where none does, the one \
             that gets most too much; else the one with the least share."
                .to_owned(),
        );
        if project.pumps().count() > 1 {
            notes.push("Energy is that of all circulators together, those that stand by too.".to_owned());
        }
    }
    let intro = String::new();
    Sheet { key: "scenarios", title: "Scenarios", intro, columns, rows, notes }
}

/// The open zone that is worst off: short of flow or heat before too much before merely least.
pub(in crate::report) fn worst(results: &Results) -> Option<(ZoneId, &ZoneResult)> {
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

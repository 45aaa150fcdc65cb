//! Zones of a record: what each is meant to get and is predicted to, the tolerance as flows that a meter shows, and what each gets
//! over all scenarios.

use super::super::margins::{There, margins as margins_of};
use super::basis::sourced;
use super::sheet::{Cell, Column, Sheet};
use super::solved::Solved;
use crate::document::Duty;
use crate::engine::units::{Quantity, Units};
use crate::study::{ROOM_MISS_K, limit_name, share_as_set};

/// Design and predicted flow, tolerance, and place for what is measured.
pub(super) fn zones(solved: &Solved, units: &Units) -> Sheet {
    let project = &solved.project;
    let band = &project.acceptance;
    let heat = match project.design.duty {
        Duty::Heating => "Heat load",
        Duty::Cooling => "Cooling load",
    };
    let number = |heading: &str, quantity| Column::number(heading, quantity, units);
    let columns = vec![
        Column::text("Zone"),
        number(heat, Quantity::Heat).under("Design"),
        number("Flow", Quantity::Flow).under("Design"),
        number("At least", Quantity::Flow).under("Accepted"),
        number("At most", Quantity::Flow).under("Accepted"),
        number("Flow", Quantity::Flow).under("Predicted"),
        number("Of design", Quantity::Share).under("Predicted"),
        Column::text("State").under("Predicted"),
        Column::reading("Flow", Quantity::Flow, units).under("Measured"),
        Column::reading("Of design", Quantity::Share, units).under("Measured"),
        Column::blank("Remark").under("Measured"),
    ];
    let mut rows = Vec::new();
    for (id, zone) in &project.zones {
        let Some(result) = solved.results().zones.get(id) else { continue };
        let flow = |inside| Cell::number(units, Quantity::Flow, inside);
        rows.push(vec![
            Cell::text(&*zone.name),
            Cell::number(units, Quantity::Heat, zone.load),
            flow(result.design_flow),
            flow(band.low * result.design_flow),
            flow(band.high * result.design_flow),
            flow(result.flow),
            Cell::share(units, result.share, result.state, band),
            Cell::state(result.state),
            Cell::Blank,
            Cell::Blank,
            Cell::Blank,
        ]);
    }
    let [low, high] = [band.low, band.high].map(|share| share_as_set(share, units));
    let source = sourced(&band.source);
    let mut notes = vec![format!("Accepted: {low} to {high} of design flow; {source}.")];
    if solved.results().zones.values().any(|zone| zone.room_c.is_some()) {
        let miss = units.format(Quantity::TemperatureDifference, ROOM_MISS_K);
        notes.push(format!(
            "Rooms with a thermostatic valve: served within {miss} of what it is set to; common practice, no source."
        ));
    }
    let intro =
        "All zones open, settings and presettings as in this record; measured flows are written beside.".to_owned();
    Sheet { key: "zones", title: "Zones", intro, columns, rows, notes }
}

/// The least and the greatest that every zone gets over the scenarios.
pub(super) fn margins(solved: &Solved, units: &Units) -> Sheet {
    let project = &solved.project;
    let names: Vec<&str> = project.scenarios.iter().map(|scenario| scenario.name.as_str()).collect();
    let share = |heading: &str| Column::number(heading, Quantity::Share, units);
    let columns = vec![
        Column::text("Zone"),
        share("Of design").under("Least flow"),
        Column::text("In").under("Least flow"),
        Column::text("Governing").under("Least flow"),
        share("Of design").under("Greatest flow"),
        Column::text("In").under("Greatest flow"),
        Column::text("Governing").under("Greatest flow"),
        Column::text("Over all"),
    ];
    let there = |there: &There<'_>| {
        [
            Cell::share(units, there.zone.share, there.zone.state, &project.acceptance),
            Cell::text(there.scenario),
            Cell::text(there.governing.map_or("–", limit_name)),
        ]
    };
    let rows = margins_of(project, &names, &solved.scenarios, solved.pump).into_iter().map(|margin| {
        let ends = [there(margin.least_flow()), there(margin.greatest_flow())].into_iter().flatten();
        [Cell::text(margin.name())].into_iter().chain(ends).chain([Cell::text(margin.verdict())]).collect()
    });
    let rows: Vec<Vec<Cell>> = rows.collect();
    let intro = "The least and the greatest that each zone gets over all scenarios in which it is open.".to_owned();
    Sheet { key: "margins", title: "Zones over the scenarios", intro, columns, rows, notes: Vec::new() }
}

//! What a record leaves to be written in on site: the water as filled, readings in every state, instruments, signatures.

use super::sheet::{Cell, Column, Sheet};
use super::solved::Solved;
use crate::document::{ComponentKind, StartingStep};
use crate::engine::units::{Quantity, Units};
use crate::study::{Results, ill_sources};

/// Instruments that a page has room for.
const INSTRUMENTS: usize = 4;

/// What is in the pipes: by design, and as filled.
pub(super) fn water(solved: &Solved, units: &Units) -> Sheet {
    let columns = vec![
        Column::text("Water as filled"),
        Column::text("By design"),
        Column::blank("Read"),
        Column::blank("Date, by"),
    ];
    let project = &solved.project;
    let starting = &project.starting;
    let row = |what: &str, design: String| vec![Cell::text(what), Cell::text(design), Cell::Blank, Cell::Blank];
    let mut rows = vec![row("Fluid", project.fluid.to_string())];
    if !project.fluid.is_water() {
        let freezes = units.format(Quantity::Temperature, project.fluid.freezing_point_c());
        rows.push(row("Freezing point", freezes));
        rows.push(row("Inhibitor", String::new()));
    }
    for component in project.components.values() {
        if let ComponentKind::ExpansionVessel { pressure } = component.kind {
            let what = format!("Pressure, cold, at {}", component.name);
            let design = pressure.map_or_else(String::new, |pressure| units.format(Quantity::Pressure, pressure));
            let mut cells = row(&what, design);
            if let (Some(filled), Some(tick)) = (starting.fill_pressure, starting.ticks.get(&StartingStep::Filled)) {
                cells[2] = Cell::text(units.format(Quantity::Pressure, filled));
                let signed = [&*tick.date, &*tick.by].into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>();
                cells[3] = if signed.is_empty() { Cell::Blank } else { Cell::text(signed.join(", ")) };
            }
            rows.push(cells);
        }
    }
    rows.push(row("pH", String::new()));
    Sheet { key: "water", title: "Water", intro: String::new(), columns, rows, notes: Vec::new() }
}

/// All zones open, each alone, all shut: what is predicted, and place for what is read.
pub(super) fn readings(solved: &Solved, units: &Units) -> Sheet {
    let running = solved.running();
    let several = running.len() > 1;
    let number = |heading: &str, quantity| Column::number(heading, quantity, units).under("Predicted");
    let reading = |heading: &str, quantity| Column::reading(heading, quantity, units).under("Read");
    let mut states = vec![("All zones open".to_owned(), solved.results())];
    states.extend(solved.alone.iter().map(|(zone, results)| (format!("{} alone", solved.zone(*zone)), results)));
    states.extend(solved.shut.iter().map(|results| ("All zones shut".to_owned(), results)));
    let marks: Vec<String> = states.iter().map(|(_, results)| mark(solved, results)).collect();
    let is_marked = marks.iter().any(|mark| !mark.is_empty());
    let mut columns = vec![Column::text("Open")];
    columns.extend(several.then(|| Column::text("Circulator")));
    columns.extend([
        number("Flow", Quantity::Flow),
        number("Head", Quantity::Head),
        number("Speed", Quantity::Speed),
        number("Power", Quantity::Power),
    ]);
    columns.extend(is_marked.then(|| Column::mark("State").under("Predicted")));
    columns.extend([
        reading("Flow", Quantity::Flow),
        reading("Head", Quantity::Head),
        reading("Speed", Quantity::Speed),
        reading("Power", Quantity::Power),
        reading("Supply", Quantity::Temperature),
        reading("Return", Quantity::Temperature),
        Column::blank("Noise, remark").under("Read"),
    ]);
    let mut rows = Vec::new();
    for ((name, results), mark) in states.iter().zip(&marks) {
        for pump in &running {
            let Some(result) = results.pumps.get(pump) else { continue };
            let is_first = running.first() == Some(pump);
            let mut cells = vec![Cell::text(&**name)];
            cells.extend(several.then(|| Cell::text(solved.name(*pump))));
            cells.extend([
                Cell::number(units, Quantity::Flow, result.flow),
                Cell::number(units, Quantity::Head, result.head),
                Cell::number(units, Quantity::Speed, result.speed),
                Cell::number(units, Quantity::Power, result.electric_w),
            ]);
            cells.extend(is_marked.then(|| Cell::mark(if is_first { &**mark } else { "" })));
            cells.extend(std::iter::repeat_n(Cell::Blank, 7));
            rows.push(cells);
        }
    }
    if !rows.is_empty() {
        // For a state that somebody on site finds worth reading.
        rows.push(vec![Cell::Blank; columns.len()]);
    }
    let unvalved: Vec<&str> =
        solved.project.zones.values().filter(|zone| zone.valve.is_none()).map(|zone| zone.name.as_str()).collect();
    let notes = match unvalved.as_slice() {
        [] => Vec::new(),
        names => vec![format!("Without a valve, and so always open: {}.", names.join(", "))],
    };
    let intro = "One state after the other, each read when it has settled.".to_owned();
    Sheet { key: "readings", title: "Readings", intro, columns, rows, notes }
}

/// What calls for a look in a state: that it is not solved, or that a source comes to harm.
fn mark(solved: &Solved, results: &Results) -> String {
    if results.converged() { ill_sources(&solved.project, results).join(", ") } else { "NOT CONVERGED".to_owned() }
}

/// Instruments and their calibration.
pub(super) fn instruments() -> Sheet {
    let columns =
        ["Instrument", "Make and serial number", "Calibrated", "Valid until", "Uncertainty"].map(Column::blank);
    let rows = vec![vec![Cell::Blank; columns.len()]; INSTRUMENTS];
    let (title, intro) = ("Instruments and calibration", String::new());
    Sheet { key: "instruments", title, intro, columns: columns.into(), rows, notes: Vec::new() }
}

/// Who answers for what.
pub(super) fn signatures() -> Sheet {
    let columns =
        vec![Column::text(""), Column::blank("Name, company"), Column::blank("Date"), Column::blank("Signature")];
    let rows = ["Designed by", "Set and measured by", "Witnessed by", "Accepted by"];
    let rows = rows.iter().map(|who| vec![Cell::text(*who), Cell::Blank, Cell::Blank, Cell::Blank]).collect();
    Sheet { key: "signatures", title: "Signatures", intro: String::new(), columns, rows, notes: Vec::new() }
}

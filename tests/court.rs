//! The sample court against an independent solution of the whole of it (`data/thornwick.csv`): two circulators, separator, four
//! radiators with rooms and thermostatic valves, each circuit's water. Made with scipy from physics and the project file alone,
//! all unknowns together to 1e-12 of each equation: Darcy–Weisbach with 64/Re, Colebrook–White and a straight line between;
//! EN 442 with logarithmic mean difference; IAPWS-IF97 and the viscosity of 2008 by the package iapws at 3 bar; pump curve and
//! power by least squares through the catalogue. Heat balances take ρ c_p at the design's mean temperature, as the program does.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

use headwise::document::{Command, Project};
use headwise::file;
use headwise::study::Study;
use serde::Deserialize;
use std::path::Path;

#[derive(Debug, Deserialize)]
struct Row {
    case: String,
    quantity: String,
    name: String,
    value: f64,
}

/// What a case of the table changes.
fn commands(project: &Project, case: &str) -> Vec<Command> {
    let id = |name: &str| project.component_named(name).unwrap();
    let weak = Command::SetHeadLimit(id("Boiler circulator"), Some(0.6));
    match case {
        "design" => Vec::new(),
        "outdoor 0" => vec![Command::SetOutdoor(Some(0.0))],
        "outdoor 8" => vec![Command::SetOutdoor(Some(8.0))],
        "outdoor 14" => vec![Command::SetOutdoor(Some(14.0))],
        "weak boiler circulator" => vec![weak],
        "weak boiler circulator, outdoor 8" => vec![weak, Command::SetOutdoor(Some(8.0))],
        "flat 1 set to 23" => vec![Command::SetRoomTemperature(id("Flat 1 thermostatic valve"), 23.0)],
        "flats circulator 1.0 m" => vec![Command::SetHeadLimit(id("Flats circulator"), Some(1.0))],
        _ => unreachable!("{case}"),
    }
}

/// The program's value of a row; `None` for what it does not tell by itself.
fn found(project: &Project, study: &Study, row: &Row) -> Option<f64> {
    let results = study.results();
    let valve = |name: &str| project.component_named(&format!("{name} thermostatic valve")).unwrap();
    if let Some(zone) = project.zone_named(&row.name) {
        let zone = &results.zones[&zone];
        let through = results.components[&valve(&row.name)];
        let flats = results.pumps[&project.component_named("Flats circulator").unwrap()];
        let density = flats.water.fluid.density_kg_per_m3;
        return Some(match row.quantity.as_str() {
            "flow" => 3600.0 * zone.flow,
            "supply" => zone.supply_c,
            "return" => zone.return_c,
            "heat" => zone.heat / 1000.0,
            "room" => zone.room_c.unwrap(),
            "valve drop" => through.drop / 1000.0,
            "valve Kv" => 3600.0 * through.flow / (through.drop / 1e5 * 1000.0 / density).sqrt(),
            other => unreachable!("{other}"),
        });
    }
    let component = project.component_named(&row.name).unwrap();
    let Some(pump) = results.pumps.get(&component) else {
        return (row.quantity == "flow down").then(|| 3600.0 * results.components[&component].flow);
    };
    Some(match row.quantity.as_str() {
        "flow" => 3600.0 * pump.flow,
        "head" => pump.head,
        "speed" => 100.0 * pump.speed,
        "electric power" => pump.electric_w,
        "hydraulic power" => pump.hydraulic_w,
        "circuit mean temperature" => pump.water.mean_c,
        "density" => pump.water.fluid.density_kg_per_m3,
        "viscosity" => 1000.0 * pump.water.fluid.dynamic_viscosity_pa_s,
        other => unreachable!("{other}"),
    })
}

#[test]
fn the_court_is_what_an_independent_solution_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/thornwick-court.ron");
    let court = file::load(&path).unwrap();
    let mut table = csv::Reader::from_reader(include_str!("data/thornwick.csv").as_bytes());
    let rows: Vec<Row> = table.deserialize().map(Result::unwrap).collect();
    let (mut compared, mut worst) = (0, (0.0, String::new()));
    for rows in rows.chunk_by(|a, b| a.case == b.case) {
        let mut project = court.clone();
        for command in commands(&court, &rows[0].case) {
            project.apply(&command).unwrap();
        }
        let study = Study::new(&project).unwrap();
        assert!(study.results().converged());
        for row in rows {
            let Some(found) = found(&project, &study, row) else { continue };
            // Power and speed lie between catalogue points by another curve there than here.
            let allowed = match row.quantity.as_str() {
                "electric power" => 1e-3,
                "speed" => 2e-5,
                _ => 1e-6,
            };
            let off = (found - row.value).abs() / row.value.abs();
            assert!(off <= allowed, "{row:?}: {found}");
            compared += 1;
            if allowed == 1e-6 && off > worst.0 {
                worst = (off, format!("{row:?}: {found}"));
            }
        }
    }
    assert!(compared > 350, "only {compared} compared; worst {worst:?}");
}

//! What part load and the search among settings cost, in milliseconds: a building of 12 zones with 8 scenarios. The map of 60 × 60
//! settings is to appear whole within 15 ms on two cores, the best setting over all 4,096 combinations in under 0.3 s.

#![expect(clippy::expect_used, reason = "a benchmark may stop at what it did not expect")]
#![expect(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "../plans/mod.rs"]
#[expect(dead_code, reason = "it takes one of the two buildings")]
mod plans;

use headwise::document::{Arrangement, CataloguePoint, ComponentKind, PlannedValve, Project, Scenario, compose};
use headwise::engine::units::Units;
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{
    Axes, CELLS, Deciding, Plane, SettingMap, Watch, best, explanation, robustness, why_none, with_presettings,
};
use headwise::study::sizing;
use std::time::Instant;

/// The library's zones over and over with scenarios of some of them shut.
fn building(zones: usize, scenarios: usize) -> Project {
    let mut plan = plans::library(Arrangement::DirectReturn, false);
    let pattern = plan.zones.clone();
    plan.zones = (0..zones)
        .map(|index| {
            let mut zone = pattern[index % pattern.len()].clone();
            zone.name = format!("Zone {index}");
            zone.valve = PlannedValve::Zone;
            zone
        })
        .collect();
    let mut project = compose(&plan).expect("the plan can be drawn").project;
    let ids: Vec<_> = project.zones.keys().copied().collect();
    project.scenarios = (0..scenarios)
        .map(|number| Scenario {
            name: format!("Scenario {number}"),
            hours_per_year: 500.0,
            shut: ids.iter().enumerate().filter(|(zone, _)| zone % (number + 1) == 1).map(|(_, id)| *id).collect(),
            outdoor_c: None,
        })
        .collect();
    // Mains as wide as so many zones ask for.
    for pipe in project.pipes.values_mut() {
        (pipe.size, pipe.bore) = (None, pipe.bore * (0.25 * zones as f64).powf(0.42));
    }
    let balance = sizing::balance(&project).expect("it can be balanced");
    for command in balance.commands() {
        project.apply(&command).expect("a presetting fits its valve");
    }
    let pump = project.pumps().next().expect("there is a pump").0;
    if let Some(ComponentKind::Pump(unit)) = project.components.get_mut(&pump).map(|c| &mut c.kind) {
        let (flow, head) = (2.1 * balance.flow, 1.5 * balance.head_m);
        let point = |share: f64| {
            let (q, h) = (share * flow, head * (1.0 - share * share));
            let efficiency = 0.5 * (2.0 * share / 0.6 - (share / 0.6).powi(2)).max(0.05);
            CataloguePoint { flow: q, head: h, power: 4.0 + 9810.0 * q * h / efficiency + 3e4 * balance.flow }
        };
        unit.catalogue = (0..=8).map(|k| point(f64::from(k) / 10.0)).collect();
        unit.regulation.head_limit_m = Some(1.05 * balance.head_m);
        unit.regulation.slope = 0.3;
    }
    // Wide enough that something serves.
    (project.acceptance.low, project.acceptance.high) = (0.8, 4.0);
    project.limits.velocity[1] = 9.0;
    project.limits.valve_drop = 800e3;
    project
}

/// Median and greatest of some runs, ms.
fn measured<T>(name: &str, runs: usize, mut work: impl FnMut() -> T) {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let begun = Instant::now();
            std::hint::black_box(work());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("{name:<58} {:>9.3} {:>9.3}", times[runs / 2], times[runs - 1]);
}

/// The best setting or why there is none.
fn told(project: &Project, part_load: &mut PartLoad) -> String {
    let found = best(part_load, &Watch::default());
    let deciding = Deciding::new(part_load);
    match found {
        Ok(found) => explanation(project, part_load, &deciding, &found, &Units::si()),
        Err(_) => why_none(project, part_load, &deciding, &Units::si()),
    }
}

fn main() {
    println!("{:<58} {:>9} {:>9}", "", "median", "most, ms");
    for (zones, scenarios) in [(4, 8), (12, 8), (100, 8)] {
        let project = building(zones, scenarios);
        let pump = project.pumps().next().expect("there is a pump").0;
        let case = format!("{zones} zones, {scenarios} scenarios: ");
        let part_load = PartLoad::new(&project, pump).expect("it can be studied");
        let deciding = Deciding::new(&part_load);
        measured(&format!("{case}probed"), 9, || PartLoad::new(&project, pump));
        let law = part_load.law(&part_load.regulation);
        measured(&format!("{case}margins and year of one setting"), 99, || {
            (part_load.margins(&law), part_load.year(&law))
        });
        for axes in Axes::ALL {
            let plane = Plane::new(&part_load, axes, part_load.regulation);
            let name = format!("{case}map 60 × 60, {axes:?}");
            measured(&name, 15, || SettingMap::new(&part_load, &deciding, plane, CELLS));
        }
        let mut searched = part_load.clone();
        measured(&format!("{case}best setting"), 9, || best(&mut searched, &Watch::default()));
        println!("  {}", told(&project, &mut searched));
    }
    let mut project = building(12, 8);
    project.every_combination = true;
    let pump = project.pumps().next().expect("there is a pump").0;
    measured("12 zones: 4,095 combinations probed and searched", 5, || {
        let mut part_load = PartLoad::new(&project, pump).expect("it can be studied");
        best(&mut part_load, &Watch::default())
    });
    let mut part_load = PartLoad::new(&project, pump).expect("it can be studied");
    measured("12 zones: of that the first look", 5, || PartLoad::new(&project, pump));
    println!("  {}", told(&project, &mut part_load));
    project.every_combination = false;
    let part_load = PartLoad::new(&project, pump).expect("it can be studied");
    measured("12 zones: how robust", 1, || robustness(&project, &part_load, &part_load.regulation, &Watch::default()));
    measured("12 zones: with presettings", 1, || with_presettings(&project, &part_load, &Watch::default()));
}

//! How long the checks of a drawing and of its results take, which a window asks for after every change.
//!
//! Buildings of 200 to 10,000 zones, in circuits of at most 1,000 with a circulator each, with mains in direct and in reverse return and from a manifold, with thermostatic
//! valves in half the branches. Each time stands beside the number of checks; the last column is the time over the number of
//! zones, which stays as it is where nothing grows with the square.

#![expect(clippy::expect_used, clippy::unwrap_used, reason = "a benchmark may stop at what it did not expect")]
#![expect(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "../plans/copies.rs"]
mod copies;
#[path = "../plans/mod.rs"]
#[expect(dead_code, reason = "it takes one of the two buildings")]
mod plans;

use copies::copies;
use headwise::document::{Arrangement, ComponentKind, Project, compose};
use headwise::engine::units::Units;
use headwise::problems;
use headwise::study::{Study, findings};
use std::hint::black_box;
use std::time::Instant;

/// The library's zones over and over, at known pressure.
fn circuit(arrangement: Arrangement, zones: usize) -> Project {
    let mut plan = plans::library(arrangement, false);
    let pattern = plan.zones.clone();
    plan.design.outdoor_c = Some(-10.0);
    plan.zones = (0..zones)
        .map(|index| {
            let mut zone = pattern[index % pattern.len()].clone();
            zone.name = format!("Zone {index}");
            zone
        })
        .collect();
    let mut project = compose(&plan).expect("a plan that can be drawn").project;
    for (index, component) in project.components.values_mut().enumerate() {
        component.height = 0.01 * (index % 1000) as f64;
        match &mut component.kind {
            ComponentKind::ExpansionVessel { pressure } => *pressure = Some(150e3),
            kind @ ComponentKind::BalancingValve { .. } if index % 2 == 0 => {
                *kind = ComponentKind::ThermostaticValve { kv: 2.0, kvs: 3.0, set_c: 20.0, band_k: 2.0 };
            }
            _ => {}
        }
    }
    project
}

/// Least milliseconds of some turns: what the work itself takes.
fn milliseconds(mut turn: impl FnMut()) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..7 {
        let start = Instant::now();
        turn();
        least = least.min(1e3 * start.elapsed().as_secs_f64());
    }
    least
}

fn main() {
    println!("Times in ms, and both together in µs a zone.");
    println!(
        "{:>16} {:>6} | {:>8} {:>6} | {:>8} {:>6} | {:>8}",
        "building", "zones", "drawing", "checks", "results", "checks", "a zone"
    );
    for arrangement in [Arrangement::DirectReturn, Arrangement::ReverseReturn, Arrangement::Manifold] {
        for zones in [200, 1_000, 5_000, 10_000] {
            let project = copies(&circuit(arrangement, zones.min(1_000)), zones.div_ceil(1_000));
            let study = Study::new(&project).expect("a study");
            let units = Units::si();
            let (drawn, told) = (problems::find(&project).len(), findings(&project, &study, &units).len());
            let drawing = milliseconds(|| drop(black_box(problems::find(&project))));
            let results = milliseconds(|| drop(black_box(findings(&project, &study, &units))));
            let each = 1e3 * (drawing + results) / zones as f64;
            let name = format!("{arrangement:?}");
            println!("{name:>16} {zones:>6} | {drawing:>8.2} {drawn:>6} | {results:>8.2} {told:>6} | {each:>8.2}");
        }
    }
}

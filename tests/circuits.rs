//! Circuits parted by a hydraulic separator, and rooms kept by thermostatic valves: balances that hold whatever the flows, on
//! the sample with both. Sources: identities of mixing, heat and friction; water's viscosity from the fluid's own tests.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

use headwise::document::{Command, ComponentId, ComponentKind, Project};
use headwise::engine::links::colebrook;
use headwise::engine::pump::GoverningLimit;
use headwise::engine::units::Units;
use headwise::file;
use headwise::study::{Study, ZoneState, findings};
use std::path::Path;

fn court() -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/thornwick-court.ron")).unwrap()
}

fn id(project: &Project, name: &str) -> ComponentId {
    project.component_named(name).unwrap()
}

fn near(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: {found} is not {expected}");
}

/// The sample with the boiler's circulator at one head and the weather at one temperature.
fn solved(boiler_head_m: f64, outdoor_c: f64) -> (Project, Study) {
    let mut project = court();
    let pump = id(&project, "Boiler circulator");
    project.apply(&Command::SetHeadLimit(pump, Some(boiler_head_m))).unwrap();
    project.apply(&Command::SetOutdoor(Some(outdoor_c))).unwrap();
    let study = Study::new(&project).unwrap();
    assert!(study.results().converged());
    (project, study)
}

/// What falls through the separator is what the boiler's circuit moves more than the flats'; the other way round the flats'
/// return rises and mixes: T = (q₁ T_boiler + (q₂ − q₁) T_return)/q₂.
#[test]
fn a_separator_mixes_what_it_passes_the_other_way() {
    let mut ways = [0, 0];
    for boiler_head_m in [0.3, 0.6, 1.0, 1.5, 2.2] {
        for outdoor_c in [-8.0, 0.0, 10.0] {
            let (project, study) = solved(boiler_head_m, outdoor_c);
            let results = study.results();
            let flow = |name: &str| results.component_flow(id(&project, name));
            let (primary, secondary) = (flow("Boiler circulator"), flow("Flats circulator"));
            let falls = flow("Separator");
            near("separator", falls, primary - secondary, 1e-12);
            ways[usize::from(falls > 0.0)] += 1;
            let zones = || results.zones.values();
            let return_c = zones().map(|zone| zone.flow * zone.return_c).sum::<f64>() / secondary;
            let mixed_c = if falls > 0.0 { 65.0 } else { (primary * 65.0 - falls * return_c) / secondary };
            for zone in zones() {
                near("supply", zone.supply_c, mixed_c, 1e-7);
            }
            // All heat of the boiler reaches the rooms.
            let boiler_c = if falls > 0.0 { (secondary * return_c + falls * 65.0) / primary } else { return_c };
            let boiler = &study.lowered().circuits[study.lowered().pumps[0].circuit];
            near("mean of the boiler's circuit", boiler.mean_c, 0.5 * (65.0 + boiler_c), 1e-6);
            let flats = &study.lowered().circuits[study.lowered().pumps[1].circuit];
            near("mean of the flats' circuit", flats.mean_c, 0.5 * (mixed_c + return_c), 1e-6);
            assert!(results.temperatures_agree);
        }
    }
    assert!(ways.iter().all(|count| *count > 2), "{ways:?}");
}

/// Each pipe's drop from its figures and its own circuit's water, with the friction factor found by bisection.
#[test]
fn friction_is_that_of_the_circuits_own_water() {
    let (project, study) = solved(0.3, -8.0);
    let lowered = study.lowered();
    let mut means = Vec::new();
    for (pump, names) in [(0, ["Boiler flow", "Boiler return"]), (1, ["Main 1 flow", "Riser return"])] {
        let circuit = lowered.circuits[lowered.pumps[pump].circuit];
        let water = project.fluid.properties(circuit.mean_c).unwrap();
        means.push(circuit.mean_c);
        for name in names {
            let (pipe_id, pipe) = project.pipes.iter().find(|(_, pipe)| pipe.name == name).unwrap();
            let result = study.results().pipes[pipe_id];
            let area = std::f64::consts::FRAC_PI_4 * pipe.bore * pipe.bore;
            let velocity = result.flow / area;
            let reynolds = water.density_kg_per_m3 * velocity * pipe.bore / water.dynamic_viscosity_pa_s;
            assert!(reynolds > 4000.0, "{name}: {reynolds}");
            near(name, result.reynolds, reynolds, 1e-9 * reynolds);
            let (mut low, mut high) = (0.005, 0.1);
            for _ in 0..100 {
                let factor: f64 = 0.5 * (low + high);
                let root = factor.sqrt();
                // Colebrook–White: 1/√f = −2 lg(k/(3.7 D) + 2.51/(Re √f)).
                let excess = 1.0 / root + 2.0 * (pipe.roughness / (3.7 * pipe.bore) + 2.51 / (reynolds * root)).log10();
                if excess > 0.0 { low = factor } else { high = factor }
            }
            near(name, colebrook(reynolds, pipe.roughness / pipe.bore), low, 1e-12);
            let dynamic_pa = 0.5 * water.density_kg_per_m3 * velocity * velocity;
            let expected = (low * pipe.length / pipe.bore + pipe.minor_k) * dynamic_pa;
            near(name, result.drop, expected, 1e-9 * expected);
        }
    }
    // The weak boiler circuit cools down further than the flats': two waters, not one.
    assert!((means[0] - means[1]).abs() > 5.0, "{means:?}");
}

/// Heat of each emitter = loss of its room; the valve's Kv is what the room's temperature says.
#[test]
fn flow_heat_and_room_agree() {
    for outdoor_c in [-8.0, -2.0, 5.0, 14.0] {
        let (project, study) = solved(1.5, outdoor_c);
        let valves = project.thermostatic_zones();
        assert_eq!(valves.len(), 4);
        for (valve, zone) in valves {
            let result = study.results().zones[&zone];
            let room_c = result.room_c.unwrap();
            let zone = &project.zones[&zone];
            near(&zone.name, result.heat, zone.load / 28.0 * (room_c - outdoor_c), 1e-6 * zone.load);
            let ComponentKind::ThermostaticValve { kv, kvs, set_c, band_k } = project.components[&valve].kind else {
                panic!("no thermostatic valve")
            };
            let through = study.results().components[&valve];
            let density = study.lowered().circuits[study.lowered().pumps[1].circuit].fluid.density_kg_per_m3;
            let found = 3600.0 * through.flow / (through.drop / 1e5 * 1000.0 / density).sqrt();
            let expected = (kv * (set_c + band_k - room_c) / band_k).min(kvs);
            near(&zone.name, found, expected, 1e-6 * kvs);
        }
    }
}

/// Mild weather throttles and is no lack; a pump that gives too little leaves rooms cold, which is one.
#[test]
fn throttled_is_not_starved() {
    let states = |study: &Study| study.results().zones.values().map(|zone| zone.state).collect::<Vec<_>>();
    assert_eq!(states(&solved(1.5, -8.0).1), [ZoneState::Served; 4]);
    assert_eq!(states(&solved(1.5, 10.0).1), [ZoneState::Throttled; 4]);
    // No boiler pump, nothing warm comes.
    let mut project = court();
    let pump = id(&project, "Boiler circulator");
    project.apply(&Command::SetRunning(pump, false)).unwrap();
    let study = Study::new(&project).unwrap();
    let cold = study
        .results()
        .zones
        .values()
        .filter(|zone| matches!(zone.state, ZoneState::TooCold | ZoneState::Starved))
        .count();
    assert_eq!(cold, 4, "{:?}", states(&study));
    // Warm enough without heating: the valves shut and the pump turns against them.
    let (project, study) = solved(1.5, 22.5);
    assert_eq!(states(&study), [ZoneState::Throttled; 4]);
    assert!(study.results().zones.values().all(|zone| zone.share < 1e-6));
    let told = findings(&project, &study, &Units::si());
    assert!(told.iter().any(|finding| finding.text().contains("no room asks for any")), "{told:?}");
}

/// The answer does not depend on the way to it.
#[test]
fn a_drag_ends_where_a_fresh_study_begins() {
    let mut project = court();
    let mut study = Study::new(&project).unwrap();
    let (boiler, flats) = (id(&project, "Boiler circulator"), id(&project, "Flats circulator"));
    let mut governed = Vec::new();
    for step in 0..40 {
        let share = f64::from(step) / 40.0;
        for command in [
            Command::SetHeadLimit(boiler, Some(0.4 + 2.0 * share)),
            Command::SetSlope(flats, 0.6 * share),
            Command::SetSpeedCap(flats, 0.55 + 0.4 * share),
            Command::SetOutdoor(Some(-8.0 + 24.0 * share)),
        ] {
            let changed = project.apply(&command).unwrap();
            study.update(&project, changed).unwrap();
        }
        let fresh = Study::new(&project).unwrap();
        for (id, zone) in &fresh.results().zones {
            let found = study.results().zones[id];
            near("flow", found.flow, zone.flow, 1e-8 * zone.design_flow);
            near("room", found.room_c.unwrap(), zone.room_c.unwrap(), 1e-6);
        }
        governed.extend(study.results().pumps[&flats].governing);
    }
    assert!(governed.contains(&GoverningLimit::SpeedCap) && governed.contains(&GoverningLimit::SetLine));
}

//! Robustness: what still serves when the system is not just as drawn serves in each such system, made here by hand and judged by the
//! study itself.

use crate::judge::Judge;
use crate::systems::sample;
use headwise::document::{ComponentId, ComponentKind, Project, Uncertainty};
use headwise::engine::fluid::Fluid;
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{Robustness, Watch, best, robustness};

fn pipes(project: &mut Project, length: f64, rough: f64) {
    for pipe in project.pipes.values_mut() {
        pipe.length *= length;
        pipe.roughness *= rough;
    }
}

/// Valves whose names begin so.
fn valves(project: &mut Project, factor: f64, of: &str) {
    for component in project.components.values_mut().filter(|component| component.name.starts_with(of)) {
        match &mut component.kind {
            ComponentKind::BalancingValve { kv } | ComponentKind::ZoneValve { kv, .. } => *kv *= factor,
            ComponentKind::PressureIndependentValve { set_flow, .. } => *set_flow *= factor,
            _ => {}
        }
    }
}

/// The systems by hand: pipes, roughness, glycol, valves, all at once, each zone's valves. Zones' valves begin with these names.
fn systems(project: &Project, part: f64, zones: &[&str]) -> Vec<Project> {
    let Uncertainty { length, roughness, glycol, valve } = project.uncertainty;
    let mut all = Vec::new();
    let mut add = |change: &dyn Fn(&mut Project)| {
        let mut system = project.clone();
        change(&mut system);
        all.push(system);
    };
    let fluid = |system: &mut Project, by: f64| {
        let share = system.fluid.glycol_mass_fraction();
        if share > 0.0 {
            system.fluid = Fluid::new(system.fluid.kind(), share + by).unwrap();
        }
    };
    for sign in [part, -part] {
        add(&|system| pipes(system, 1.0 + sign * length, 1.0));
        add(&|system| pipes(system, 1.0, 1.0 + sign * roughness));
        add(&|system| fluid(system, sign * glycol));
        add(&|system| valves(system, 1.0 + sign * valve, ""));
        add(&|system| {
            pipes(system, 1.0 + sign * length, 1.0 + sign * roughness);
            fluid(system, sign * glycol);
            valves(system, 1.0 - sign * valve, "");
        });
        for zone in zones {
            add(&|system| valves(system, 1.0 + sign * valve, zone));
        }
    }
    all
}

fn found(project: &Project, pump: ComponentId) -> Robustness {
    let mut part_load = PartLoad::new(project, pump).unwrap();
    let best = best(&mut part_load, &Watch::default()).unwrap();
    robustness(project, &part_load, &best.settings, &Watch::default()).unwrap()
}

/// Up to which part of the deviations there is a setting that still serves.
fn check(project: &Project, pump: ComponentId, zones: &[&str]) -> f64 {
    let robust = found(project, pump);
    let (part, still) = robust.still.unwrap();
    for system in systems(project, part, zones) {
        let clear = Judge::new(&system, pump).clearance(still.settings);
        assert!(clear.zones > -1e-5 && clear.quiet > -1e-3, "{part}: {clear:?}");
    }
    let mean_w = Judge::new(project, pump).weigh(still.settings, f64::NEG_INFINITY).unwrap().1;
    assert!((still.mean_w / mean_w - 1.0).abs() < 3e-4, "{still:?} {mean_w}");
    part
}

#[test]
fn what_still_serves_serves_in_every_system_that_is_off() {
    let (mut project, pump) = sample("fernhollow-library");
    // The office alone asks for most, the floors alone bear least.
    project.scenarios.retain(|scenario| !scenario.name.starts_with("Both") && !scenario.name.starts_with("Meeting"));
    let zones = ["Office", "Meeting", "Children", "Reading-room"];
    assert!(check(&project, pump, &zones) < 1.0);
}

#[test]
fn with_glycol_too() {
    let (mut project, pump) = sample("saltreed-growers");
    project.acceptance.high = 1.7;
    project.scenarios.truncate(5);
    project.uncertainty = Uncertainty { length: 0.05, roughness: 0.2, glycol: 0.02, valve: 0.03 };
    assert!(check(&project, pump, &["Propagation", "Bay 1", "Bay 2", "Bay 3", "Bay 4"]) > 0.0);
}

/// What is said to be missed is missed in that system, and the zone gets what is said.
#[test]
fn what_is_missed() {
    let (project, pump) = sample("fernhollow-library");
    let mut part_load = PartLoad::new(&project, pump).unwrap();
    let settings = best(&mut part_load, &Watch::default()).unwrap().settings;
    let robust = robustness(&project, &part_load, &settings, &Watch::default()).unwrap();
    let mut longer = project.clone();
    pipes(&mut longer, 1.1, 1.0);
    let mut shut = project.clone();
    valves(&mut shut, 0.9, "Office");
    let mut open = project.clone();
    valves(&mut open, 1.1, "Reading-room");
    for (name, system) in [
        ("pipes 10 % longer", longer),
        ("valves of Office radiators 10 % further shut", shut),
        ("valves of Reading-room floor 10 % further open", open),
    ] {
        let case = robust.cases.iter().find(|case| case.name == name).unwrap();
        let mut judge = Judge::new(&system, pump);
        let clear = judge.clearance(settings);
        match case.miss {
            Some((miss, share)) => {
                assert!(clear.least() < 0.0, "{name}: {miss:?} {clear:?}");
                let state = &part_load.tables[miss.state].state;
                let study = crate::systems::exact(&system, pump, settings, state);
                let there = study.results().zones[&miss.reason.zone().unwrap()].share;
                assert!((share.unwrap() - there).abs() < 1e-3, "{name}: {share:?} {there}");
            }
            None => assert!(clear.least() > 0.0, "{name}: {clear:?}"),
        }
    }
    // Nothing is off in water without glycol.
    assert!(robust.cases.iter().all(|case| !case.name.ends_with("glycol")));
}

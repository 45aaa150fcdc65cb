//! The power limit and the Kv at standstill from document to answer, on a drawing of one circuit.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::document::{Command, CommandError, Component, ComponentId, ComponentKind, Project, PumpUnit};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::pump::{GoverningLimit, RegulationError};
use headwise::engine::units::Units;
use headwise::file;
use headwise::study::{PumpResult, Study, findings, governing_at, governing_ranges};

/// Two circulators in series, the second at standstill, and one radiator.
const SERIES: &str = "(format: 1, title: \"Series\", design: (duty: heating, supply_c: 65, return_c: 55, room_c: 20), fluid: water,
    components: [
        (name: \"Running\", at: (4, 0), is: pump(catalogue: [(flow_m3_per_h: 0, head_m: 7.5, power_w: 21),
            (flow_m3_per_h: 1.6, head_m: 6.41, power_w: 44), (flow_m3_per_h: 3.2, head_m: 3.15, power_w: 52.5)],
            standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: None, slope_percent: 0,
            speed_cap_percent: 100, minimum_speed_percent: 20))),
        (name: \"Standing\", at: (8, 0), is: pump(catalogue: [(flow_m3_per_h: 0, head_m: 6, power_w: 60),
            (flow_m3_per_h: 2, head_m: 5.2, power_w: 70), (flow_m3_per_h: 4, head_m: 3, power_w: 80)],
            standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: Some(4), slope_percent: 0,
            speed_cap_percent: 100, power_limit_w: Some(50), minimum_speed_percent: 20), running: false)),
        (name: \"Emitter\", at: (12, 0), is: emitter(law: radiator(exponent: 1.3), loss_kpa: 20)),
        (name: \"Vessel\", at: (0, 4), is: expansion_vessel), (name: \"Return\", at: (0, 0), is: tee),
    ],
    pipes: [
        (from: (\"Return\", branch), to: (\"Running\", inlet)), (from: (\"Running\", outlet), to: (\"Standing\", inlet)),
        (from: (\"Standing\", outlet), to: (\"Emitter\", inlet)), (from: (\"Emitter\", outlet), to: (\"Return\", branch)),
        (from: (\"Vessel\", branch), to: (\"Return\", branch)),
    ],
    zones: [(name: \"Zone\", load_kw: 20, emitter: \"Emitter\")], scenarios: [])";

fn series() -> (Project, ComponentId, ComponentId) {
    let project = file::parse(SERIES, "series").unwrap();
    let of = |name| project.component_named(name).unwrap();
    let (running, standing) = (of("Running"), of("Standing"));
    (project, running, standing)
}

fn unit(project: &mut Project, id: ComponentId) -> &mut PumpUnit {
    match project.components.get_mut(&id) {
        Some(Component { kind: ComponentKind::Pump(unit), .. }) => Some(unit),
        _ => None,
    }
    .unwrap()
}

fn set(project: &mut Project, study: &mut Study, command: &Command) {
    let changed = project.apply(command).unwrap();
    study.update(project, changed).unwrap();
}

#[test]
fn the_power_limit_governs_one_circuit() {
    let (mut project, id, _) = series();
    let mut study = Study::new(&project).unwrap();
    let free = study.results().pumps[&id];
    assert_eq!(free.governing, Some(GoverningLimit::SpeedCap));
    assert!(study.curves(id).unwrap().power_limited.is_empty());
    set(&mut project, &mut study, &Command::SetPowerLimit(id, Some(30.0)));
    let held = study.results().pumps[&id];
    assert_eq!(held.governing, Some(GoverningLimit::PowerLimit));
    assert!((held.electric_w - 30.0).abs() < 1e-7, "{} W", held.electric_w);
    // In a circuit of quadratic losses alone the flow goes as the root of the head.
    assert!(((held.flow / free.flow).powi(2) - held.head / free.head).abs() < 1e-6);
    assert!(held.flow < 0.97 * free.flow && study.results().converged());
    assert_eq!(Study::new(&project).unwrap().results().pumps[&id].governing, held.governing);
    let curves = study.curves(id).unwrap();
    let along: Vec<f64> = curves.power.iter().map(|point| point[1]).collect();
    assert!(along.iter().all(|power| *power <= 30.0 + 1e-9) && along.iter().any(|power| *power > 30.0 - 1e-9));
    assert_eq!(curves.power_limited.len(), curves.capped.len());
    assert!(curves.power_limited.windows(2).all(|pair| pair[0][1] > pair[1][1]), "it falls to its end");
    assert!(curves.power_limited.last().unwrap()[1].abs() < 1e-9);
    let ranges: Vec<GoverningLimit> = curves.ranges.iter().map(|range| range.limit).collect();
    assert_eq!(ranges, [GoverningLimit::SpeedCap, GoverningLimit::PowerLimit]);
    let sentence = governing_at(&held, &curves.ranges, &Units::si());
    assert!(sentence.starts_with("The power limit governs from 0."), "{sentence}");
    assert!(sentence.ends_with("raising head limit or speed cap changes nothing."), "{sentence}");
    assert!(governing_ranges(&curves.ranges, &Units::si()).contains("speed cap 0.000–"));
    // What the sentence claims is tried out.
    let claimed = project.clone();
    for command in [Command::SetHeadLimit(id, Some(7.4)), Command::SetSpeedCap(id, 1.0)] {
        set(&mut project, &mut study, &command);
        assert!((study.results().pumps[&id].flow - held.flow).abs() < 1e-10);
    }
    project = claimed;
    // Taken away again, all is as before.
    set(&mut project, &mut study, &Command::SetPowerLimit(id, None));
    assert_eq!(study.results().pumps[&id].governing, free.governing);
}

#[test]
fn at_minimum_speed_the_power_limit_is_exceeded_and_said() {
    let (mut project, id, _) = series();
    for command in [Command::SetPowerLimit(id, Some(10.0)), Command::SetMinimumSpeed(id, 0.9)] {
        project.apply(&command).unwrap();
    }
    let study = Study::new(&project).unwrap();
    assert_eq!(study.results().pumps[&id].governing, Some(GoverningLimit::MinimumSpeed));
    let found = findings(&project, &study, &Units::si());
    let over = study.results().pumps[&id].electric_w - 10.0;
    let expected = format!("exceeds its power limit by {over:.1}\u{a0}W.");
    assert!(found.iter().any(|finding| finding.what.ends_with(&expected)), "{expected}: {found:?}");
}

#[test]
fn a_limit_at_or_below_standby_is_refused() {
    let (mut project, id, standing) = series();
    let before = project.clone();
    for limit_w in [3.0, 0.0, -1.0, f64::NAN] {
        let refused = project.apply(&Command::SetPowerLimit(id, Some(limit_w))).unwrap_err();
        let flaw = RegulationError::PowerLimit { standby_w: 3.0 };
        assert_eq!(refused, CommandError::Setting { pump: "Running".to_owned(), flaw });
        assert_eq!(project, before);
    }
    assert!(project.apply(&Command::SetPowerLimit(id, Some(3.1))).unwrap().settings);
    assert!(!project.apply(&Command::SetPowerLimit(id, Some(3.1))).unwrap().any());
    // One watt above standby up to the greatest of the catalogue; a pump that stands has its curve drawn too.
    assert_eq!(unit(&mut project, standing).ranges().power_limit, (4.0, 80.0));
    assert!(!Study::new(&project).unwrap().curves(standing).unwrap().power_limited.is_empty());
}

/// Kv is the flow in m³/h of water of 1000 kg/m³ at 1 bar (its definition): Δp = (ρ/1000) (Q/Kv)² bar. Without it the loss is the
/// greatest catalogue head, 6 m, at the greatest flow, 4 m³/h, and goes with the square of the flow.
#[test]
fn a_stopped_pump_takes_what_its_kv_says() {
    let (mut project, id, standing) = series();
    let of = |project: &Project| -> (f64, f64, PumpResult) {
        let study = Study::new(project).unwrap();
        let results = study.results();
        assert!(results.converged());
        let stopped = results.components[&standing];
        (3600.0 * stopped.flow, stopped.drop, results.pumps[&id])
    };
    let (flow, drop, pump) = of(&project);
    let density = pump.water.fluid.density_kg_per_m3;
    let expected = density * GRAVITY_M_PER_S2 * 6.0 * (flow / 4.0).powi(2);
    assert!((drop / expected - 1.0).abs() < 1e-6, "{drop} is not {expected}");
    let mut last = 0.0;
    for kv in [1.0, 3.0, 9.0] {
        unit(&mut project, standing).stopped_kv = Some(kv);
        let (flow, drop, pump) = of(&project);
        let density = pump.water.fluid.density_kg_per_m3;
        let expected = density / 1000.0 * (flow / kv).powi(2) * 1e5;
        assert!((drop / expected - 1.0).abs() < 1e-6, "{drop} is not {expected}");
        assert!(pump.flow > last);
        last = pump.flow;
    }
    // It stands: once it runs, the figure is of no use.
    project.apply(&Command::SetRunning(standing, true)).unwrap();
    assert!(!Study::new(&project).unwrap().results().components.contains_key(&standing));
}

//! Pressures from the vessel's, and what is told of them: hydrostatics against a table computed outside the program and closed
//! forms; boiling against the saturation line of IAPWS-IF97.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::document::{Command, ComponentId, ComponentKind, Limits, Port, PortRef, Project, PumpUnit};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::fluid::Fluid;
use headwise::engine::pump::{PumpInlet, STANDARD_ATMOSPHERE_PA};
use headwise::engine::units::Units;
use headwise::file;
use headwise::problems::{Check, Place, Severity};
use headwise::study::{Pressures, Study, checks};
use std::path::Path;

fn library() -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron")).unwrap()
}

fn vessel(project: &Project) -> ComponentId {
    let is_vessel = |kind: &ComponentKind| matches!(kind, ComponentKind::ExpansionVessel { .. });
    *project.components.iter().find(|(_, c)| is_vessel(&c.kind)).unwrap().0
}

/// The library with this pressure at its vessel, Pa.
fn under(pressure: f64) -> Project {
    let mut project = library();
    let vessel = vessel(&project);
    let kind = ComponentKind::ExpansionVessel { pressure: Some(pressure) };
    project.components.get_mut(&vessel).unwrap().kind = kind;
    project
}

fn emitter(project: &Project) -> ComponentId {
    project.zones.values().next().unwrap().emitter
}

fn unit(project: &mut Project) -> (ComponentId, &mut PumpUnit) {
    let (id, kind) = project
        .components
        .iter_mut()
        .find_map(|(id, c)| matches!(c.kind, ComponentKind::Pump(_)).then_some((*id, &mut c.kind)))
        .unwrap();
    match kind {
        ComponentKind::Pump(unit) => (id, unit),
        _ => panic!("it was a pump"),
    }
}

fn told(project: &Project, headings: &[&str]) -> Vec<Check> {
    let all = checks(project, &Study::new(project).unwrap(), &Units::si());
    all.into_iter().filter(|check| headings.contains(&check.heading)).collect()
}

const PRESSURE: [&str; 7] = [
    "Vessel pressure not given",
    "Water boils",
    "Close to boiling",
    "Below the air's pressure",
    "Inlet pressure too low",
    "NPSH too low",
    "NPSH short",
];

#[track_caller]
fn near(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: {found} instead of {expected}");
}

/// Height, m, and static pressure, kPa, for 1000 kg/m³: a table computed outside the program (ρ g h with g = 9.80665 m/s²).
const STATIC: [(f64, f64); 3] = [(8.0, 78.4532), (15.0, 147.0998), (25.0, 245.1662)];

#[test]
fn standing_water_presses_by_its_height() {
    for (height, kpa) in STATIC {
        let mut project = under(400e3);
        let pump = unit(&mut project).0;
        project.apply(&Command::SetRunning(pump, false)).unwrap();
        let (vessel, high) = (vessel(&project), emitter(&project));
        project.apply(&Command::SetHeight(high, height)).unwrap();
        let study = Study::new(&project).unwrap();
        let density = study.lowered().fluid.density_kg_per_m3;
        let pressures = Pressures::new(&project, &study);
        let [inlet, outlet] = pressures.of_component(high).unwrap();
        near("inlet", inlet, 400e3 - kpa * density, 1e-6 * 400e3);
        near("outlet", outlet, inlet, 1e-6);
        // Water that does not move has one pressure at one height; the vessel's own height counts as well.
        near("vessel", pressures.of_component(vessel).unwrap()[0], 400e3, 1e-9);
        project.apply(&Command::SetHeight(vessel, height)).unwrap();
        let pressures = Pressures::new(&project, &study);
        near("as high as the vessel", pressures.of_component(high).unwrap()[0], 400e3, 1e-6);
        assert_eq!(pressures.vessel(PortRef { component: high, port: Port::Inlet }), Some(vessel));
    }
}

/// Round the circuit: the pump adds ρ g H, every other component takes its drop, and pressure is one thing at one node whichever
/// way it is reached.
#[test]
fn moving_water_loses_what_the_pump_adds() {
    let mut project = under(150e3);
    let pump = unit(&mut project).0;
    let study = Study::new(&project).unwrap();
    let pressures = Pressures::new(&project, &study);
    let results = study.results();
    let [inlet, outlet] = pressures.of_component(pump).unwrap();
    let result = &results.pumps[&pump];
    let rise = result.head * result.water.fluid.density_kg_per_m3 * GRAVITY_M_PER_S2;
    near("rise", outlet - inlet, rise, 1e-6);
    for (id, component) in &results.components {
        let [inlet, outlet] = pressures.of_component(*id).unwrap();
        near(&project.components[id].name, inlet - outlet, component.drop, 1e-3);
    }
    for (id, pipe) in &results.pipes {
        let run = &project.pipes[id];
        let drop = pressures.at(run.from).unwrap() - pressures.at(run.to).unwrap();
        near(&project.pipe_label(run), drop, pipe.drop, 1e-3);
    }
}

#[test]
fn without_a_vessels_pressure_nothing_is_known_and_that_is_noted_only_where_it_matters() {
    let mut project = library();
    let study = Study::new(&project).unwrap();
    let pressures = Pressures::new(&project, &study);
    assert!(!pressures.any() && pressures.of_component(emitter(&project)).is_none());
    assert!(told(&project, &PRESSURE).is_empty());
    let high = emitter(&project);
    project.apply(&Command::SetHeight(high, 30.0)).unwrap();
    let found = told(&project, &PRESSURE);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].heading, found[0].severity), ("Vessel pressure not given", Severity::Note));
    assert_eq!(found[0].place, Place::Component(vessel(&project)));
    project.apply(&Command::SetHeight(high, 0.0)).unwrap();
    unit(&mut project).1.npsh_required = Some(1.0);
    assert_eq!(told(&project, &PRESSURE).len(), 1);
    assert!(told(&under(100e3), &PRESSURE).is_empty());
}

/// The library with an emitter so high that its inlet has this pressure, Pa; 100 kPa at the vessel.
fn raised(gauge: f64) -> (Project, ComponentId) {
    let mut project = under(100e3);
    let high = emitter(&project);
    // Without a loss of its own its outlet, where water is colder, has the same pressure.
    if let ComponentKind::Emitter(emitter) = &mut project.components.get_mut(&high).unwrap().kind {
        emitter.loss = 0.0;
    }
    let study = Study::new(&project).unwrap();
    let weight = study.lowered().fluid.density_kg_per_m3 * GRAVITY_M_PER_S2;
    let at_datum = Pressures::new(&project, &study).of_component(high).unwrap()[0];
    project.apply(&Command::SetHeight(high, (at_datum - gauge) / weight)).unwrap();
    (project, high)
}

/// At 45 °C, as it enters the library's emitters, water boils at 9.595 kPa absolute (IAPWS-IF97, saturation line): 91.73 kPa below the
/// standard atmosphere. The usual margin is 30 kPa.
#[test]
fn high_places_draw_air_come_close_to_boiling_and_boil() {
    near("saturation", Fluid::water().vapour_pressure_pa(45.0).unwrap(), 9595.0, 5.0);
    let air = "Below the air's pressure";
    for (gauge, headings, severity) in [
        (60e3, vec![], Severity::Note),
        (20e3, vec![air], Severity::Warning),
        (-20e3, vec![air], Severity::Warning),
        (-75e3, vec!["Close to boiling", air], Severity::Warning),
        (-91.7e3, vec!["Close to boiling", air], Severity::Warning),
        (-91.8e3, vec!["Water boils", air], Severity::Error),
    ] {
        let (project, high) = raised(gauge);
        let found = told(&project, &PRESSURE);
        assert_eq!(found.iter().map(|check| check.heading).collect::<Vec<_>>(), headings, "{gauge}");
        assert!(found.iter().all(|check| check.place == Place::Component(high)));
        assert!(found.first().is_none_or(|check| check.severity == severity));
    }
    // What the pump adds before the emitter is gone when it stands: p = p_vessel − ρ g h (hydrostatics).
    let (project, high) = raised(20e3);
    let found = told(&project, &PRESSURE);
    let study = Study::new(&project).unwrap();
    let weight = study.lowered().fluid.density_kg_per_m3 * GRAVITY_M_PER_S2;
    let stands = 100e3 - weight * project.components[&high].height;
    let inlet = PortRef { component: high, port: Port::Inlet };
    near("standing", Pressures::new(&project, &study).standing(inlet).unwrap(), stands, 1e-6);
    assert!(stands < 0.0 && found[0].what.starts_with("While no pump turns"), "{stands} {}", found[0].what);
    // The margin is the design's.
    let (mut project, _) = raised(-20e3);
    project.apply(&Command::SetLimits(Limits { boiling_margin: 80e3, ..Limits::default() })).unwrap();
    let found = told(&project, &PRESSURE);
    assert_eq!(found[0].heading, "Close to boiling");
    assert!(found[0].what.contains("boils at −9"), "{}", found[0].what);
}

/// What the check asks for is enough, but for what its figure is rounded by: raised so, water keeps its margin.
#[test]
fn the_pressure_asked_for_helps() {
    let (mut project, _) = raised(-95e3);
    let found = told(&project, &PRESSURE);
    let by: f64 =
        found[0].remedy.split_whitespace().find_map(|word| word.split('\u{a0}').next()?.parse().ok()).unwrap();
    near("margin", by, 30.0 + 95.0 - 91.73, 0.06);
    let vessel = vessel(&project);
    let pressure = Some(100e3 + 1e3 * (by + 0.06));
    project.components.get_mut(&vessel).unwrap().kind = ComponentKind::ExpansionVessel { pressure };
    let found = told(&project, &PRESSURE);
    assert_eq!(found.iter().map(|check| check.heading).collect::<Vec<_>>(), ["Below the air's pressure"]);
}

#[test]
fn pumps_have_what_they_need_or_it_is_told() {
    let mut project = under(60e3);
    let pump = unit(&mut project).0;
    let study = Study::new(&project).unwrap();
    let inlet = PortRef { component: pump, port: Port::Inlet };
    let gauge = Pressures::new(&project, &study).at(inlet).unwrap();
    for (least, expected) in [(gauge - 100.0, 0), (gauge + 100.0, 1)] {
        unit(&mut project).1.least_inlet_pressure = Some(least);
        let found = told(&project, &["Inlet pressure too low"]);
        assert_eq!(found.len(), expected);
        found
            .iter()
            .for_each(|check| assert_eq!((check.place, check.severity), (Place::Component(pump), Severity::Error)));
    }
    unit(&mut project).1.least_inlet_pressure = None;
    // The library's pump stands in the heat pump's flow or return; its water is the study's there.
    let temperature_c = study.results().temperatures[study.lowered().nodes[&inlet]];
    let at = PumpInlet {
        gauge_pressure_pa: gauge,
        air_pressure_pa: STANDARD_ATMOSPHERE_PA,
        velocity_m_per_s: 0.0,
        temperature_c,
    };
    let available = at.npsh_available_m(&Fluid::water()).unwrap();
    for (required, heading) in [
        (available - 0.6, None),
        (available - 0.4, Some("NPSH short")),
        (available - 0.1, Some("NPSH short")),
        (available + 0.1, Some("NPSH too low")),
    ] {
        unit(&mut project).1.npsh_required = Some(required);
        let found = told(&project, &["NPSH too low", "NPSH short"]);
        assert_eq!(found.iter().map(|check| check.heading).collect::<Vec<_>>(), Vec::from_iter(heading), "{required}");
    }
    // A pump that stands needs nothing.
    project.apply(&Command::SetRunning(pump, false)).unwrap();
    assert!(told(&project, &["NPSH too low", "NPSH short"]).is_empty());
}

/// Glycol keeps water's vapour pressure: the cautious one.
#[test]
fn glycol_is_judged_as_water_is() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/saltreed-growers.ron");
    let mut project = file::load(&path).unwrap();
    let vessel = vessel(&project);
    let high = emitter(&project);
    project.apply(&Command::SetHeight(high, 10.0)).unwrap();
    let mut headings = Vec::new();
    // 60 °C: water boils at 19.95 kPa absolute (IAPWS-IF97), 30 % propylene glycol at some 18 kPa.
    for gauge in [-81.0e3, -82.0e3] {
        project.components.get_mut(&vessel).unwrap().kind = ComponentKind::ExpansionVessel { pressure: Some(0.0) };
        let at = |project: &Project| {
            let study = Study::new(project).unwrap();
            Pressures::new(project, &study).of_component(high).unwrap()[0]
        };
        let zero = at(&project);
        let pressure = Some(gauge - zero);
        project.components.get_mut(&vessel).unwrap().kind = ComponentKind::ExpansionVessel { pressure };
        headings.extend(told(&project, &["Close to boiling", "Water boils"]).into_iter().map(|check| check.heading));
    }
    assert_eq!(headings, ["Close to boiling", "Water boils"]);
}

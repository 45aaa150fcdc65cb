//! The checks of results: each rule speaks on its fault and is silent without it. Figures by continuity, by hand sums over the
//! sample buildings' data sheets (invented buildings), and by closed forms.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::document::{
    Command, Component, ComponentId, ComponentKind, Limits, PipeId, PipeRun, Port, PortRef, Project, Turn,
};
use headwise::engine::links::Characteristic;
use headwise::engine::units::Units;
use headwise::file;
use headwise::problems::{Check, Place, Severity};
use headwise::study::{Study, checks};
use std::path::Path;

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn library() -> Project {
    sample("fernhollow-library.ron")
}

fn found(project: &Project) -> Vec<Check> {
    checks(project, &Study::new(project).unwrap(), &Units::si())
}

/// The checks of one heading.
fn headed(project: &Project, heading: &str) -> Vec<Check> {
    found(project).into_iter().filter(|check| check.heading == heading).collect()
}

fn id(project: &Project, name: &str) -> ComponentId {
    project.component_named(name).unwrap()
}

fn pipe(project: &Project, name: &str) -> PipeId {
    *project.pipes.iter().find(|(_, pipe)| pipe.name == name).unwrap().0
}

fn component<'a>(project: &'a mut Project, name: &str) -> &'a mut Component {
    let id = id(project, name);
    project.components.get_mut(&id).unwrap()
}

#[track_caller]
fn says(check: &Check, words: &[&str]) {
    let text = check.text();
    words.iter().for_each(|word| assert!(text.contains(word), "“{word}” is not in: {text}"));
}

/// The sample buildings have no fault. What is noted of them is true: the runs named carry less than their bore could at
/// 100 Pa/m, as their data sheets say (Meeting branch 0.372 m³/h in 20.2 mm, Bay 4's main 1.331 m³/h in 36 mm).
#[test]
fn the_samples_have_no_fault() {
    for name in ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron", "thornwick-court.ron"] {
        let project = sample(name);
        for check in found(&project) {
            assert_eq!(check.severity, Severity::Note, "{name}: {}: {}", check.title, check.text());
            assert!(
                ["Velocity too low", "Wider than it need be", "Viscous fluid"].contains(&check.heading),
                "{check:?}"
            );
        }
    }
    let named: Vec<String> = headed(&library(), "Velocity too low").into_iter().map(|check| check.title).collect();
    assert_eq!(named, ["Meeting branch flow", "Meeting branch return"]);
}

#[test]
fn the_gravest_comes_first_and_all_parts_are_there() {
    let mut project = library();
    // The office alone: less than the heat pump's least flow; and a thin pipe.
    let office = project.scenarios.iter().position(|scenario| scenario.name == "Office alone").unwrap();
    project.apply(&Command::EnterScenario(office)).unwrap();
    let thin = pipe(&project, "Office branch flow");
    project.pipes.get_mut(&thin).unwrap().bore = 0.0085;
    let found = found(&project);
    let graves: Vec<Severity> = found.iter().map(|check| check.severity).collect();
    assert!(graves.is_sorted(), "{graves:?}");
    assert_eq!((found[0].heading, found[0].severity), ("Below its minimum flow", Severity::Error));
    assert_eq!(found[0].place, Place::Component(id(&project, "Heat pump")));
    for check in &found {
        let parts = [&check.title, &check.what, &check.meaning, &check.remedy];
        assert!(parts.into_iter().all(|part| !part.is_empty()) && check.heading.len() < 40, "{check:?}");
        assert!([&check.what, &check.meaning, &check.remedy].into_iter().all(|part| part.ends_with('.')), "{check:?}");
    }
}

/// By continuity v = 4 q/(π d²): 1.2 m/s is passed in every bore below √(4 q/(1.2 π)).
#[test]
fn a_pipe_is_too_fast_just_above_its_velocity() {
    let mut project = library();
    let main = pipe(&project, "Main 2 flow");
    // Friction in so narrow a bore is above any limit too; velocity is told first.
    for (velocity, expected) in [(1.15, 0), (1.3, 1)] {
        let flow = Study::new(&project).unwrap().results().pipes[&main].flow;
        project.pipes.get_mut(&main).unwrap().bore = (4.0 * flow / (std::f64::consts::PI * velocity)).sqrt();
        let study = Study::new(&project).unwrap();
        let told = headed(&project, "Velocity too high");
        assert_eq!(told.len(), expected, "{told:?}");
        if let [check] = told.as_slice() {
            let run = &project.pipes[&main];
            let by_continuity = 4.0 * study.results().pipes[&main].flow / (std::f64::consts::PI * run.bore.powi(2));
            assert!(by_continuity > 1.2);
            assert_eq!((check.place, check.severity), (Place::Pipe(main), Severity::Warning));
            says(check, &[&format!("{by_continuity:.2}\u{a0}m/s"), "the most is 1.20\u{a0}m/s", "larger bore"]);
        }
    }
}

/// Above DN 50 friction alone decides: no velocity is too high for the clinic's 68.9 mm, and every one is for its smaller bores.
#[test]
fn velocity_is_bounded_up_to_dn_50() {
    let mut project = sample("alder-point-clinic.ron");
    let limits = Limits { velocity: [0.01, 0.05], ..Limits::default() };
    project.apply(&Command::SetLimits(limits)).unwrap();
    let told = headed(&project, "Velocity too high");
    let bore = |check: &Check| match check.place {
        Place::Pipe(id) => project.pipes[&id].bore,
        _ => panic!("{check:?}"),
    };
    assert!(!told.is_empty() && told.iter().all(|check| bore(check) < 0.056));
    let small = project.pipes.values().filter(|pipe| !pipe.is_joint() && pipe.bore > 0.0 && pipe.bore < 0.056);
    let study = Study::new(&project).unwrap();
    let flows = |pipe: &&PipeRun| {
        let (id, _) = project.pipes.iter().find(|(_, other)| std::ptr::eq(*other, *pipe)).unwrap();
        study.results().pipes[id].velocity.abs() > 0.06 && pipe.length > 0.0
    };
    assert_eq!(told.len(), small.filter(flows).count());
}

/// Friction of the office branch is 256 Pa/m (0.249 m³/h in 13.6 mm of copper).
#[test]
fn friction_outside_its_band() {
    let mut project = library();
    for (most, expected) in [(270.0, 0), (240.0, 2)] {
        let limits = Limits { friction: [10.0, most], ..Limits::default() };
        project.apply(&Command::SetLimits(limits)).unwrap();
        let told = headed(&project, "Friction too high");
        let office = told.iter().filter(|check| check.title.starts_with("Office branch"));
        assert_eq!(office.clone().count(), expected, "{told:?}");
        office.for_each(|check| says(check, &["256\u{a0}Pa/m", "the most is 240\u{a0}Pa/m"]));
    }
    // Too little is told while all zones are open, and not at part load, where less flow is as it should be.
    let limits = Limits { friction: [250.0, 400.0], velocity: [0.01, 1.2], ..Limits::default() };
    project.apply(&Command::SetLimits(limits)).unwrap();
    assert!(headed(&project, "Wider than it need be").len() > 4);
    let valve = project.zones[&project.zone_named("Office radiators").unwrap()].valve.unwrap();
    project.apply(&Command::SetOpen(valve, false)).unwrap();
    assert!(headed(&project, "Wider than it need be").is_empty());
}

/// The reading room's branch by hand at 0.869 m³/h: branch 5.0 kPa, emitter 17.0, valve of Kv 4.0 4.7, and the last main, which
/// no other zone shares, 2.1 (16 m at 101 Pa/m and Σζ 4 at 0.45 m/s): 4.7/28.8 = 16 %.
#[test]
fn authority_by_a_hand_sum() {
    let mut project = library();
    let valve = project.zones[&project.zone_named("Reading-room floor").unwrap()].valve.unwrap();
    let set = |project: &mut Project, kvs: f64| {
        let kind =
            ComponentKind::ControlValve { kvs, characteristic: Characteristic::Linear, position: 1.0, shut: false };
        project.components.get_mut(&valve).unwrap().kind = kind;
    };
    assert!(headed(&project, "Authority too low").is_empty(), "a valve of two positions regulates nothing");
    set(&mut project, 4.0);
    let told = headed(&project, "Authority too low");
    let [check] = told.as_slice() else { panic!("{told:?}") };
    assert_eq!((check.place, check.severity), (Place::Component(valve), Severity::Warning));
    says(
        check,
        &["0.869\u{a0}m³/h", "takes 4.7\u{a0}kPa of the 28.", "an authority of 16\u{a0}%, less than 30\u{a0}%"],
    );
    // The position it stands at is a state and changes nothing, and neither does shutting it.
    for command in [Command::SetPosition(valve, 0.4), Command::SetOpen(valve, false)] {
        project.apply(&command).unwrap();
        assert_eq!(headed(&project, "Authority too low")[0].what, check.what);
    }
    // Closed form: with rest R and valve V ∝ 1/Kv², authority 0.3 needs V = 3/7 R.
    let (valve_kpa, whole_kpa): (f64, f64) = (4.72, 28.7);
    let wanted = 4.0 * (valve_kpa / (3.0 / 7.0 * (whole_kpa - valve_kpa))).sqrt();
    set(&mut project, 0.98 * wanted);
    assert!(headed(&project, "Authority too low").is_empty());
    set(&mut project, 1.02 * wanted);
    assert_eq!(headed(&project, "Authority too low").len(), 1);
    let limits = Limits { authority: 0.1, ..Limits::default() };
    project.apply(&Command::SetLimits(limits)).unwrap();
    set(&mut project, 4.0);
    assert!(headed(&project, "Authority too low").is_empty());
}

/// A thermostatic valve far too large for its branch, and one beside a valve that keeps the flow itself.
#[test]
fn thermostatic_valves_are_judged_and_flow_controllers_are_not() {
    let mut project = sample("thornwick-court.ron");
    let is_valve = |c: &&Component| matches!(c.kind, ComponentKind::ThermostaticValve { .. });
    let name = project.components.values().find(is_valve).unwrap().name.clone();
    assert!(headed(&project, "Authority too low").is_empty());
    let wide = ComponentKind::ThermostaticValve { kv: 6.0, kvs: 9.0, set_c: 20.0, band_k: 2.0 };
    component(&mut project, &name).kind = wide;
    let told = headed(&project, "Authority too low");
    assert_eq!(told.iter().map(|check| &check.title).collect::<Vec<_>>(), [&name]);

    let mut project = sample("alder-point-clinic.ron");
    assert!(headed(&project, "Authority too low").is_empty());
    // A control valve too large for any branch, in front of the coil: the flow is kept by the valve behind it.
    let coil = PortRef { component: id(&project, "Floor 1 coil"), port: Port::Inlet };
    let added = ComponentId(1000);
    let [inlet, outlet] = [Port::Inlet, Port::Outlet].map(|port| PortRef { component: added, port });
    let run = project.pipes.values_mut().find(|pipe| pipe.to == coil).unwrap();
    run.to = inlet;
    let joint = PipeRun { bore: run.bore, roughness: run.roughness, ..PipeRun::joint(outlet, coil) };
    project.pipes.insert(PipeId(1000), joint);
    let kind = |kvs: f64| ComponentKind::ControlValve {
        kvs,
        characteristic: Characteristic::Linear,
        position: 1.0,
        shut: false,
    };
    project.components.insert(added, Component::new("Added valve", [0.0, 0.0], Turn::Right, kind(500.0)));
    assert!(headed(&project, "Authority too low").is_empty());
    let kept = id(&project, "Floor 1 valve");
    project.components.get_mut(&kept).unwrap().kind = ComponentKind::BalancingValve { kv: 8.0 };
    assert_eq!(headed(&project, "Authority too low").len(), 1);
}

/// Nothing flows, so that nothing is said of velocities and branches; what is wrong with the drawing is said as ever.
#[test]
fn a_stopped_circulator_is_one_check() {
    let mut project = library();
    let (pump, _) = project.pumps().next().unwrap();
    project.apply(&Command::SetRunning(pump, false)).unwrap();
    let told = found(&project);
    let [check] = told.as_slice() else { panic!("{told:?}") };
    assert_eq!((check.heading, check.severity, check.place), ("No circulator runs", Severity::Warning, Place::Project));
    says(check, &["No circulator runs. Nothing flows. Start "]);
    // Joined to nothing at one end, a valve is an error that comes first.
    let thin = pipe(&project, "Office branch flow");
    project.pipes.remove(&thin);
    let told = found(&project);
    assert!(told[0].severity == Severity::Error && told.iter().any(|check| check.heading == "Open end"), "{told:?}");
}

/// A strainer that is due is told by name; half fouled it is not.
#[test]
fn a_strainer_due_for_cleaning_is_told() {
    for (fouling, count) in [(0.5, 0), (1.0, 1)] {
        let mut project = library();
        component(&mut project, "Strainer").kind = ComponentKind::Strainer { kv: 12.0, fouled_kv: 6.0, fouling };
        assert_eq!(headed(&project, "Due for cleaning").len(), count, "{fouling}");
    }
}

/// A source's own supply decides what floors get, whatever the design says.
#[test]
fn a_floor_on_a_hot_source_is_told_though_the_design_is_cool() {
    let mut project = library();
    assert!(headed(&project, "Floor too hot").is_empty());
    if let ComponentKind::Source(source) = &mut component(&mut project, "Heat pump").kind {
        source.supply_c = Some(70.0);
    }
    assert_eq!(headed(&project, "Floor too hot").len(), 2, "both floors");
    if let ComponentKind::Source(source) = &mut component(&mut project, "Heat pump").kind {
        source.supply_c = Some(36.0);
    }
    let found = headed(&project, "Has its flow but not its heat");
    assert_eq!(found.len(), 1);
    says(&found[0], &["36.0", "45.0"]);
}

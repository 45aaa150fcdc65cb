//! Any sequence of changes, sensible or not: a command is carried out or refused whole, the study follows and balances, and
//! undoing all of it brings the first document back.

use headwise::document::{Command, ComponentId, History, Limits, Project, flaws};
use headwise::engine::pump::ReferenceFlow;
use headwise::file;
use headwise::study::Study;
use proptest::prelude::*;
use std::path::Path;

fn sample(index: usize) -> Project {
    let name = ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron"][index];
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

/// Values from everyday to absurd.
fn value() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => 0.0..1.0_f64,
        3 => 0.0..12.0_f64,
        1 => prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(-1.0), Just(0.0), Just(1e300), Just(1e-300)],
    ]
}

/// Identities from here on stand for the first pump, the second, …
const A_PUMP: u32 = 1000;

/// The command with a pump's place replaced by its identity.
fn of_project(command: &Command, project: &Project) -> Command {
    let pump = |id: ComponentId| match id.0.checked_sub(A_PUMP) {
        Some(place) => {
            let all: Vec<ComponentId> = project.pumps().map(|(id, _)| id).collect();
            all[place as usize % all.len()]
        }
        None => id,
    };
    match command.clone() {
        Command::SetHeadLimit(id, v) => Command::SetHeadLimit(pump(id), v),
        Command::SetSlope(id, v) => Command::SetSlope(pump(id), v),
        Command::SetSpeedCap(id, v) => Command::SetSpeedCap(pump(id), v),
        Command::SetPowerLimit(id, v) => Command::SetPowerLimit(pump(id), v),
        Command::SetMinimumSpeed(id, v) => Command::SetMinimumSpeed(pump(id), v),
        Command::SetReferenceFlow(id, r) => Command::SetReferenceFlow(pump(id), r),
        Command::SetRunning(id, on) => Command::SetRunning(pump(id), on),
        other => other,
    }
}

fn command() -> impl Strategy<Value = Command> {
    let id = (0_u32..40).prop_map(ComponentId);
    // Mostly a pump of the project, told by its place among them; sometimes whatever has that identity.
    let pump = prop_oneof![8 => A_PUMP..A_PUMP + 2, 2 => 0_u32..40].prop_map(ComponentId);
    let reference = prop_oneof![
        Just(ReferenceFlow::FullSpeed),
        Just(ReferenceFlow::CappedSpeed),
        value().prop_map(|v| ReferenceFlow::DesignFlow(v / 1000.0)),
    ];
    prop_oneof![
        (pump.clone(), proptest::option::weighted(0.9, value())).prop_map(|(id, v)| Command::SetHeadLimit(id, v)),
        (pump.clone(), value()).prop_map(|(id, v)| Command::SetSlope(id, v)),
        (pump.clone(), value()).prop_map(|(id, v)| Command::SetSpeedCap(id, v)),
        (pump.clone(), value()).prop_map(|(id, v)| Command::SetMinimumSpeed(id, v)),
        (pump.clone(), proptest::option::weighted(0.8, value().prop_map(|v| 30.0 * v)))
            .prop_map(|(id, v)| Command::SetPowerLimit(id, v)),
        (pump.clone(), reference).prop_map(|(id, r)| Command::SetReferenceFlow(id, r)),
        (pump, any::<bool>()).prop_map(|(id, on)| Command::SetRunning(id, on)),
        (id.clone(), any::<bool>()).prop_map(|(id, open)| Command::SetOpen(id, open)),
        (id.clone(), value()).prop_map(|(id, v)| Command::SetPosition(id, v)),
        (id, 10.0..25.0_f64).prop_map(|(id, v)| Command::SetRoomTemperature(id, v)),
        proptest::option::of(-20.0..90.0_f64).prop_map(Command::SetOutdoor),
        (0_usize..12).prop_map(Command::EnterScenario),
        Just(Command::OpenAllZones),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_study_follows_any_sequence(index in 0_usize..3, commands in proptest::collection::vec(command(), 1..24)) {
        let first = sample(index);
        let mut project = first.clone();
        let mut study = Study::new(&project).unwrap();
        let mut history = History::new(&project);
        for command in &commands {
            let before = project.clone();
            let command = &of_project(command, &project);
            match project.apply(command) {
                Err(_) => prop_assert_eq!(&project, &before, "{:?} was refused and changed something", command),
                Ok(changed) => {
                    prop_assert_eq!(changed.any(), project != before, "{:?} says it changed {:?}", command, changed);
                    prop_assert!(flaws(&project).is_empty(), "{:?} leaves {:?}", command, flaws(&project));
                    study.update(&project, changed).unwrap();
                    history.record("step", &project);
                }
            }
            let results = study.results();
            prop_assert!(results.converged(), "after {:?}", command);
            prop_assert!(results.mass_error <= 1e-9 && results.energy_error <= 1e-9);
            for pump in results.pumps.values() {
                prop_assert!(pump.flow.is_finite() && pump.head.is_finite() && pump.speed <= 1.0 + 1e-9);
            }
            for zone in results.zones.values() {
                prop_assert!(zone.flow.is_finite() && zone.heat.is_finite());
            }
        }
        let last = project.clone();
        let mut steps = Vec::new();
        while let Some(earlier) = history.undo() {
            steps.push((*earlier).clone());
        }
        prop_assert_eq!(steps.last().unwrap_or(&last), &first);
        let mut again = first;
        while let Some(later) = history.redo() {
            again = (*later).clone();
        }
        prop_assert_eq!(again, last);
    }
}

/// Heights change what gauges read, limits what is told; what cannot be is refused and changes nothing.
#[test]
fn heights_and_limits_are_set_or_refused() {
    let mut project = sample(0);
    let id = *project.components.keys().next().unwrap();
    let changed = project.apply(&Command::SetHeight(id, 6.5)).unwrap();
    assert!(changed.laws && !changed.structure);
    assert_eq!(project.components[&id].height, 6.5);
    assert!(!project.apply(&Command::SetHeight(id, 6.5)).unwrap().any());
    let limits = Limits { velocity: [0.3, 1.0], ..Limits::default() };
    assert!(project.apply(&Command::SetLimits(limits.clone())).unwrap().drawing);
    let before = project.clone();
    assert!(project.apply(&Command::SetHeight(id, f64::NAN)).is_err());
    assert!(project.apply(&Command::SetHeight(ComponentId(100_000), 1.0)).is_err());
    for wrong in [
        Limits { velocity: [1.0, 0.5], ..limits.clone() },
        Limits { friction: [-1.0, 200.0], ..limits.clone() },
        Limits { authority: 1.0, ..limits.clone() },
        Limits { boiling_margin: f64::INFINITY, ..limits },
    ] {
        assert!(project.apply(&Command::SetLimits(wrong)).is_err());
    }
    assert_eq!(project, before);
}

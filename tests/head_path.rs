//! Where the head goes on a zone's path: figures by hand, and the sum of all steps against the head of the pump.

use headwise::document::{Command, ComponentId, Project, ZoneId};
use headwise::file;
use headwise::problems::Place;
use headwise::study::{HeadPath, StepKind, Study, head_path, index_zone, least_served_zone, path_of, sizing};
use std::path::Path;

const SAMPLES: [&str; 4] =
    ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron", "thornwick-court.ron"];

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn named(project: &Project, name: &str) -> ComponentId {
    project.component_named(name).unwrap()
}

fn zone(project: &Project, name: &str) -> ZoneId {
    project.zone_named(name).unwrap()
}

/// The drawing as it is, and in each of its scenarios.
fn in_all_scenarios(project: &Project) -> impl Iterator<Item = Project> {
    let entered = (0..project.scenarios.len()).map(|index| {
        let mut project = project.clone();
        project.apply(&Command::EnterScenario(index)).unwrap();
        project
    });
    std::iter::once(project.clone()).chain(entered)
}

/// All paths of a drawing through which water flows; each must close.
fn paths(project: &Project) -> Vec<HeadPath> {
    let study = Study::new(project).unwrap();
    assert!(study.results().converged());
    let flows = |id: &ZoneId| study.results().zones[id].share > 1e-6;
    let path = |id| head_path(project, &study, id).unwrap_or_else(|| panic!("{}", project.zones[&id].name));
    project.zones.keys().copied().filter(flows).map(path).collect()
}

fn sums_to_the_head(path: &HeadPath, of: &str) {
    let sum = path.sum_pa();
    assert!((sum / path.head_pa - 1.0).abs() < 1e-6, "{of}: the steps take {sum} Pa of {} Pa", path.head_pa);
    let shares: f64 = path.steps.iter().map(|step| step.share).sum();
    assert!((shares - 1.0).abs() < 1e-6, "{of}: {shares}");
    let metres: f64 = path.steps.iter().map(|step| step.drop_m).sum();
    assert!((metres / path.head_m - 1.0).abs() < 1e-6, "{of}: {metres}");
}

/// Round a ring the pressures come back to where they began (Kirchhoff's second law).
#[test]
fn what_all_steps_take_is_the_head_of_the_pump_in_every_sample_and_scenario() {
    let mut count = 0;
    for name in SAMPLES {
        for project in in_all_scenarios(&sample(name)) {
            for path in paths(&project) {
                sums_to_the_head(&path, &format!("{name}, {}", project.zones[&path.zone].name));
                count += 1;
            }
        }
    }
    assert!(count > 50, "{count}");
}

/// The parts of Fernhollow's index circuit at design flow in kPa, reckoned by hand with Darcy and Weisbach's law from the table of
/// lengths, bores and loss coefficients that the sample was drawn from: common pipes 3.8, strainer 2.7, mains 14.2, branch 5.0,
/// floor loops 17.0, zone valve 4.7, together 47.4.
#[test]
fn fernhollows_index_circuit_takes_what_was_reckoned_by_hand() {
    let mut project = sample("fernhollow-library.ron");
    let balance = sizing::balance(&project).unwrap();
    let pump = named(&project, "Circulator");
    project.apply(&Command::SetSlope(pump, 0.0)).unwrap();
    project.apply(&Command::SetHeadLimit(pump, Some(balance.head_m))).unwrap();
    let study = Study::new(&project).unwrap();
    let reading_room = zone(&project, "Reading-room floor");
    assert_eq!(index_zone(&project, &study), Some(reading_room));
    let path = head_path(&project, &study, reading_room).unwrap();
    assert_eq!(path.pump, pump);
    let taken = |wanted: &dyn Fn(&str) -> bool| -> f64 {
        path.steps.iter().filter(|step| wanted(&step.name)).map(|step| step.drop_pa / 1e3).sum()
    };
    let begins = |word: &'static str| move |name: &str| name.starts_with(word);
    for (part, kpa, expected) in [
        ("common", taken(&begins("Common")), 3.8),
        ("strainer", taken(&begins("Strainer")), 2.7),
        ("mains", taken(&begins("Main")), 14.2),
        ("branch", taken(&begins("Reading-room branch")), 5.0),
        ("floor loops", taken(&begins("Reading-room floor loops")), 17.0),
        ("zone valve", taken(&begins("Reading-room zone valve")), 4.7),
        ("all", path.sum_pa() / 1e3, 47.4),
    ] {
        assert!((kpa / expected - 1.0).abs() < 0.02, "{part}: {kpa} kPa is not {expected} kPa");
    }
}

#[test]
fn steps_stand_in_the_order_of_the_water() {
    let project = sample("fernhollow-library.ron");
    let study = Study::new(&project).unwrap();
    let path = head_path(&project, &study, zone(&project, "Children's floor")).unwrap();
    let names: Vec<&str> = path.steps.iter().map(|step| step.name.as_str()).collect();
    let expected = [
        "Main 1 flow",
        "Main 2 flow",
        "Main 3 flow",
        "Children's branch flow",
        "Children's floor loops",
        "Children's balancing valve",
        "Children's zone valve",
        "Children's branch return",
        "Main 3 return",
        "Main 2 return",
        "Main 1 return",
        "Strainer",
        "Common return",
        "Heat pump",
        "Common flow",
    ];
    assert_eq!(names, expected);
    assert_eq!(path.steps[4].what, "emitter");
    assert_eq!(path.steps[0].what, "pipe");
    assert!(path.steps[0].flow > path.steps[2].flow, "mains carry less the further they reach");
}

/// The set that the window lights and the ordered steps are one walk.
#[test]
fn every_step_lies_on_the_path_of_the_zone() {
    for name in SAMPLES {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        for path in paths(&project) {
            let set = path_of(&project, &study, path.zone);
            for step in &path.steps {
                let is_there = match step.place {
                    Place::Pipe(id) => set.pipes.contains(&id),
                    Place::Component(id) => set.components.contains(&id),
                    Place::Zone(_) | Place::Project => false,
                };
                assert!(is_there, "{name}: {}", step.name);
            }
            assert!(set.components.contains(&path.pump), "{name}");
        }
    }
}

/// Behind the separator the flats' circulator begins the path; the boiler's closes it with a rise, or, where it moves less, the
/// separator itself.
#[test]
fn behind_a_separator_the_second_pump_is_a_rise_or_the_separator_closes_the_way() {
    let mut project = sample("thornwick-court.ron");
    let pumps: Vec<ComponentId> = project.pumps().map(|(id, _)| id).collect();
    let [boiler, flats] = pumps[..] else { panic!("{pumps:?}") };
    let mut closed_by = [0, 0];
    for cap in [1.0, 0.8, 0.6, 0.4, 0.3] {
        project.apply(&Command::SetSpeedCap(boiler, cap)).unwrap();
        for path in paths(&project) {
            sums_to_the_head(&path, &format!("cap {cap}"));
            assert_eq!(path.pump, flats);
            let rises: Vec<_> = path.rises().collect();
            let separator = named(&project, "Separator");
            let is_through = path.steps.iter().any(|step| step.place == Place::Component(separator));
            if is_through {
                assert!(rises.is_empty());
                closed_by[1] += 1;
            } else {
                assert_eq!(rises.len(), 1);
                assert_eq!(rises[0].place, Place::Component(boiler));
                assert_eq!(rises[0].kind, StepKind::Pump);
                assert!(rises[0].drop_pa < 0.0 && rises[0].share < 0.0);
                closed_by[0] += 1;
            }
        }
    }
    assert!(closed_by[0] > 0 && closed_by[1] > 0, "{closed_by:?}");
}

/// Two circulators side by side: the path goes through one of them, and the loop of that one closes at the tee before both.
#[test]
fn with_the_standby_pump_running_too_every_path_still_closes() {
    let mut project = sample("alder-point-clinic.ron");
    for id in project.pumps().map(|(id, _)| id).collect::<Vec<_>>() {
        project.apply(&Command::SetRunning(id, true)).unwrap();
    }
    let paths = paths(&project);
    assert!(!paths.is_empty());
    for path in paths {
        sums_to_the_head(&path, "both run");
        assert_eq!(path.rises().count(), 0);
    }
}

#[test]
fn a_shut_zone_has_no_path_and_is_no_index_zone() {
    let mut project = sample("fernhollow-library.ron");
    let valve = named(&project, "Reading-room zone valve");
    project.apply(&Command::SetOpen(valve, false)).unwrap();
    let study = Study::new(&project).unwrap();
    let reading_room = zone(&project, "Reading-room floor");
    assert_eq!(head_path(&project, &study, reading_room), None);
    assert_eq!(index_zone(&project, &study), None);
    let least = least_served_zone(&study).unwrap();
    let share = |id: ZoneId| study.results().zones[&id].share;
    assert!(project.zones.keys().filter(|id| **id != reading_room).all(|id| share(least) <= share(*id)));
    for id in project.zones.values().filter_map(|zone| zone.valve).collect::<Vec<_>>() {
        project.apply(&Command::SetOpen(id, false)).unwrap();
    }
    assert_eq!(least_served_zone(&Study::new(&project).unwrap()), None);
}

/// Nothing flows: all shares are zero, and no zone comes before another.
#[test]
fn while_no_pump_runs_no_zone_is_picked() {
    for name in SAMPLES {
        let mut project = sample(name);
        for id in project.pumps().map(|(id, _)| id).collect::<Vec<_>>() {
            project.apply(&Command::SetRunning(id, false)).unwrap();
        }
        let study = Study::new(&project).unwrap();
        assert_eq!((index_zone(&project, &study), least_served_zone(&study)), (None, None), "{name}");
    }
}

/// Two circulators side by side: what each zone takes of the head at design is not told by balancing.
#[test]
fn with_several_pumps_running_there_is_a_least_share_but_no_index_zone() {
    let mut project = sample("alder-point-clinic.ron");
    for id in project.pumps().map(|(id, _)| id).collect::<Vec<_>>() {
        project.apply(&Command::SetRunning(id, true)).unwrap();
    }
    let study = Study::new(&project).unwrap();
    assert_eq!(index_zone(&project, &study), None);
    let least = study.results().zones[&least_served_zone(&study).unwrap()].share;
    assert!(least > 0.0 && study.results().zones.values().all(|zone| least <= zone.share));
}

#[test]
fn while_no_pump_runs_there_is_no_path() {
    let mut project = sample("fernhollow-library.ron");
    let pump = named(&project, "Circulator");
    project.apply(&Command::SetRunning(pump, false)).unwrap();
    let study = Study::new(&project).unwrap();
    assert!(project.zones.keys().all(|id| head_path(&project, &study, *id).is_none()));
}

//! Edits of a drawing: no sequence of them makes a document that cannot be, a refused one changes nothing, and each does what a
//! designer expects of it. Expectations are worked by hand from the geometry and from sums that must stay.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where what it needs is missing")]

#[path = "editing/add.rs"]
mod add;
#[path = "editing/branch.rs"]
mod branch;
#[path = "editing/connect.rs"]
mod connect;
#[path = "editing/courses.rs"]
mod courses;
#[path = "editing/random.rs"]
mod random;
#[path = "editing/remove.rs"]
mod remove;
#[path = "editing/set.rs"]
mod set;
#[path = "editing/site.rs"]
mod site;
#[path = "editing/solve.rs"]
mod solve;
#[path = "editing/variants.rs"]
mod variants;

mod plans;

use headwise::document::*;
use headwise::file;
use std::collections::{BTreeMap, BTreeSet};

const SAMPLES: [&str; 4] = [
    include_str!("../sample-projects/alder-point-clinic.ron"),
    include_str!("../sample-projects/fernhollow-library.ron"),
    include_str!("../sample-projects/saltreed-growers.ron"),
    include_str!("../sample-projects/thornwick-court.ron"),
];

/// The clinic: four coils behind pressure-independent valves, two circulators side by side.
fn clinic() -> Project {
    file::parse(SAMPLES[0], "clinic").unwrap()
}

/// The library as composed: branches of emitter, balancing valve and zone valve in a row.
fn library() -> Project {
    let mut plan = plans::library(Arrangement::DirectReturn, true);
    plan.zones.iter_mut().for_each(|zone| zone.valve = PlannedValve::Zone);
    compose(&plan).unwrap().project
}

/// The greenhouse as composed, its return run on with the flow.
fn greenhouse() -> Project {
    compose(&plans::greenhouse(Arrangement::ReverseReturn, true)).unwrap().project
}

/// All buildings.
fn buildings() -> Vec<Project> {
    let samples = SAMPLES.map(|text| file::parse(text, "sample").unwrap());
    samples.into_iter().chain([library(), greenhouse()]).collect()
}

fn id(project: &Project, name: &str) -> ComponentId {
    project.component_named(name).unwrap_or_else(|| panic!("no {name}"))
}

fn pipe_id(project: &Project, label: &str) -> PipeId {
    let found = project.pipes.iter().find(|(_, pipe)| project.pipe_label(pipe) == label);
    *found.unwrap_or_else(|| panic!("no {label}")).0
}

fn pipe<'a>(project: &'a Project, label: &str) -> &'a PipeRun {
    &project.pipes[&pipe_id(project, label)]
}

fn port(project: &Project, name: &str, port: Port) -> PortRef {
    PortRef { component: id(project, name), port }
}

fn new(project: &Project, choice: ComponentChoice, at: [f64; 2]) -> Box<Component> {
    let kind = choice.with_usual_figures(project);
    Box::new(Component::new(project.new_component_name(&kind), at, Turn::Right, kind))
}

/// Carries out a command that must succeed and leave no flaw.
#[track_caller]
fn apply(project: &mut Project, command: &Command) -> Changed {
    let before = project.clone();
    let changed = project.apply(command).unwrap_or_else(|error| panic!("{command:?}: {error}"));
    assert_eq!(flaws(project), []);
    assert_eq!(changed.any(), before != *project, "{command:?}");
    assert!(covers(changed, Changed::between(&before, project)), "{command:?}: {changed:?}");
    changed
}

/// The sentence with which a command is refused; nothing may have changed.
#[track_caller]
fn refusal(project: &mut Project, command: &Command) -> String {
    let before = project.clone();
    let error = project.apply(command).expect_err("should be refused");
    assert_eq!(before, *project);
    error.to_string()
}

/// Whether a change tells at least as much as another: who lowers anew takes laws and settings with it.
fn covers(told: Changed, found: Changed) -> bool {
    (told.structure || !found.structure)
        && (told.structure || told.laws || !found.laws)
        && (told.structure || told.settings || !found.settings)
        && (told.structure || told.drawing || !found.drawing)
}

fn remove(names: &[&str], project: &mut Project) -> Changed {
    let components = names.iter().map(|name| id(project, name)).collect();
    apply(project, &Command::RemoveParts(components, BTreeSet::new()))
}

fn place(project: &mut Project, name: &str, at: [f64; 2]) -> Changed {
    let places = BTreeMap::from([(id(project, name), at)]);
    apply(project, &Command::MoveComponents(places))
}

/// Whether all segments of a course lie level or upright.
fn is_orthogonal(project: &Project, pipe: &PipeRun) -> bool {
    course(project, pipe).windows(2).all(|pair| {
        let [x, y] = [0, 1].map(|axis| (pair[0][axis] - pair[1][axis]).abs());
        x < 1e-6 || y < 1e-6
    })
}

/// Length and loss coefficients of all pipes together.
fn sums(project: &Project) -> [f64; 2] {
    [project.pipes.values().map(|pipe| pipe.length).sum(), project.pipes.values().map(|pipe| pipe.minor_k).sum()]
}

#[track_caller]
fn same_sums(before: [f64; 2], after: [f64; 2]) {
    for (a, b) in before.into_iter().zip(after) {
        assert!((a - b).abs() < 1e-9, "{before:?} {after:?}");
    }
}

//! The desk without a window: what is taken back, and studies beside it.

use super::{Desk, Standing};
use crate::document::{Command, Component, ComponentKind, Fragment, PipeFigures, Project, Turn};
use crate::engine::units::Units;
use crate::file;
use crate::problems;
use std::time::{Duration, Instant};

fn library() -> Project {
    file::parse(super::super::FIRST_SAMPLE, "the sample").unwrap()
}

fn tee(name: &str) -> Box<Component> {
    Box::new(Component::new(name, [90.0, 90.0], Turn::Right, ComponentKind::Junction))
}

/// A name moves no water; the list of problems follows it forth and back.
#[test]
fn problems_follow_what_is_taken_back() {
    let mut desk = Desk::new(library(), None).unwrap();
    let units = Units::si();
    desk.apply(&Command::AddComponent(tee("Lone tee")), &units).unwrap();
    desk.settle();
    let id = desk.project().component_named("Lone tee").unwrap();
    desk.apply(&Command::Rename(id, "Other name".to_owned()), &units).unwrap();
    desk.settle();
    let follows = |desk: &Desk, name: &str| {
        assert!(desk.problems().iter().any(|check| format!("{check:?}").contains(name)), "{name}");
        assert_eq!(desk.problems(), problems::find(desk.project()));
    };
    follows(&desk, "Other name");
    let seen = desk.revision();
    desk.undo(&units);
    desk.settle();
    follows(&desk, "Lone tee");
    assert_ne!(desk.revision(), seen);
    desk.redo(&units);
    desk.settle();
    follows(&desk, "Other name");
}

/// A drag goes on while a large drawing is studied: it starts no second study beside the first, and the last one is of its end.
#[test]
fn one_study_at_a_time_goes_on_beside_the_window() {
    let mut project = library();
    project.apply(&Command::AddComponent(tee("Tee"))).unwrap();
    let mut ids = std::collections::BTreeSet::from([project.component_named("Tee").unwrap()]);
    while project.components.len() <= 4000 {
        let newest = *project.components.keys().next_back().unwrap();
        let fragment = Fragment::of(&project, &ids);
        project.apply(&Command::Paste(Box::new(fragment), [90.0, 90.0])).unwrap();
        ids.extend(project.components.keys().filter(|id| **id > newest));
    }
    let mut desk = Desk::new(project, None).unwrap();
    let units = Units::si();
    desk.apply(&Command::AddComponent(tee("Last tee")), &units).unwrap();
    assert!(matches!(desk.standing(), Standing::Working(_)) && !desk.job_is_old);
    let pump = desk.pump().unwrap();
    for percent in 70..90 {
        desk.apply(&Command::SetSpeedCap(pump, f64::from(percent) / 100.0), &units).unwrap();
        assert!(desk.job_is_old);
    }
    let begun = Instant::now();
    while matches!(desk.standing(), Standing::Working(_)) {
        desk.poll(&units);
        assert!(begun.elapsed() < Duration::from_secs(120));
        std::thread::sleep(Duration::from_millis(1));
    }
    assert_eq!(*desk.standing(), Standing::Current);
    let fresh = crate::study::Study::new(desk.project()).unwrap();
    assert_eq!(desk.study().results().pumps[&pump].flow, fresh.results().pumps[&pump].flow);
}

/// One number for many: one step, or none of it.
#[test]
fn changes_that_belong_together_are_one_step() {
    let mut desk = Desk::new(library(), None).unwrap();
    let (before, units) = (desk.project().clone(), Units::si());
    let pipes: Vec<_> = before.pipes.iter().filter(|(_, pipe)| !pipe.is_joint()).map(|(id, _)| *id).collect();
    let set = |roughness: f64| -> Vec<Command> {
        let figures = |id| PipeFigures { roughness, ..PipeFigures::of(&before.pipes[id]) };
        pipes.iter().map(|id| Command::SetPipe(*id, figures(id))).collect()
    };
    // Two passes of one drag.
    for roughness in [1e-4, 2e-4] {
        assert_eq!(desk.apply_together(&set(roughness), &units), Ok(true));
    }
    let fresh = crate::study::Study::new(desk.project()).unwrap();
    let flow = |study: &crate::study::Study| study.results().pumps[&desk.pump().unwrap()].flow;
    assert!((flow(desk.study()) - flow(&fresh)).abs() < 1e-9 * flow(&fresh).abs());
    desk.settle();
    assert!(desk.history().undo_name().unwrap().ends_with(&format!("and {} more", pipes.len() - 1)));
    let mut wrong = set(3e-4);
    wrong.extend(set(-1.0));
    let now = desk.project().clone();
    assert!(desk.apply_together(&wrong, &units).is_err());
    assert_eq!(*desk.project(), now);
    desk.undo(&units);
    assert_eq!(*desk.project(), before);
}

#[test]
fn no_two_desks_share_a_count() {
    let (one, other) = (Desk::new(library(), None).unwrap(), Desk::new(library(), None).unwrap());
    assert_ne!(one.revision(), other.revision());
    assert_ne!(one.system_revision(), other.system_revision());
}

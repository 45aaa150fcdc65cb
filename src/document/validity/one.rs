//! Flaws of one part alone, for edits that touch no other: the first of them as a sentence with its place.

use super::{Found, figures, pipe, zone_figures};
use crate::document::{Component, PipeRun, Project, Zone};

/// The first flaw of a component's place and figures.
pub(in crate::document) fn component_flaw(project: &Project, component: &Component) -> Option<String> {
    first(&component.name, |found| figures(project, component, found))
}

/// The first flaw of a pipe's figures and ends.
pub(in crate::document) fn pipe_flaw(project: &Project, run: &PipeRun) -> Option<String> {
    first(&format!("pipe {}", project.pipe_label(run)), |found| pipe::figures(project, run, found))
}

/// The first flaw of a zone's figures, emitter and valve; names and what it shares with others are not looked at.
pub(in crate::document) fn zone_flaw(project: &Project, zone: &Zone) -> Option<String> {
    first(&format!("zone {}", zone.name), |found| zone_figures(project, zone, found))
}

fn first(place: &str, look: impl FnOnce(&mut Found)) -> Option<String> {
    let mut found = Found::default();
    found.at(place);
    look(&mut found);
    found.flaws.first().map(ToString::to_string)
}

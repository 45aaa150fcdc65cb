//! Checks: all that calls for a look, in one list for window and command line. Rules about the drawing are the matter of
//! [`crate::problems`]; the rules here read the present results. One rule a file; each looks at every part once.

mod authority;
mod floors;
mod pipes;
mod pressure;
mod pumps;
mod rooms;
mod sources;
mod valves;
mod verdict;

use super::Study;
use super::results::Results;
use crate::document::{ComponentId, PipeId, Project, ZoneId};
use crate::engine::units::{Quantity, Units};
use crate::problems::{self, Check, Place, Severity};

/// What the rules look at.
struct Sight<'a> {
    project: &'a Project,
    study: &'a Study,
    results: &'a Results,
    units: &'a Units,
}

/// All checks of a project and its study: the gravest first, the drawing before the results.
#[must_use]
pub fn checks(project: &Project, study: &Study, units: &Units) -> Vec<Check> {
    let mut found = problems::find(project);
    found.extend(findings(project, study, units));
    found.sort_by_key(|check| check.severity);
    found
}

/// What the results alone tell, the gravest first.
#[must_use]
pub fn findings(project: &Project, study: &Study, units: &Units) -> Vec<Check> {
    let results = study.results();
    let sight = Sight { project, study, results, units };
    let mut found = Vec::new();
    verdict::check(&sight, &mut found);
    if results.converged() {
        pumps::check(&sight, &mut found);
        sources::check(&sight, &mut found);
        rooms::check(&sight, &mut found);
        floors::check(&sight, &mut found);
        valves::check(&sight, &mut found);
        pressure::check(&sight, &mut found);
        authority::check(&sight, &mut found);
        pipes::check(&sight, &mut found);
    }
    found.sort_by_key(|check| check.severity);
    found
}

/// What a valve that regulates takes at its design flow and what all else in its branch takes, Pa: its authority. `None` where it
/// stands in no zone's branch.
pub(super) fn authority_drops(project: &Project, study: &Study, units: &Units, valve: ComponentId) -> Option<[f64; 2]> {
    authority::drops(&Sight { project, study, results: study.results(), units }, valve)
}

impl Sight<'_> {
    fn name(&self, id: ComponentId) -> &str {
        self.project.components.get(&id).map_or("", |component| component.name.as_str())
    }

    fn component(&self, severity: Severity, id: ComponentId, heading: &'static str) -> Check {
        Check::new(severity, Place::Component(id), self.name(id), heading)
    }

    fn zone(&self, severity: Severity, id: ZoneId, heading: &'static str) -> Check {
        let name = self.project.zones.get(&id).map_or("", |zone| zone.name.as_str());
        Check::new(severity, Place::Zone(id), name, heading)
    }

    fn pipe(&self, severity: Severity, id: PipeId, heading: &'static str) -> Check {
        let label = self.project.pipes.get(&id).map_or_else(String::new, |pipe| self.project.pipe_label(pipe));
        Check::new(severity, Place::Pipe(id), &label, heading)
    }

    fn says(&self, quantity: Quantity, value: f64) -> String {
        self.units.format(quantity, value)
    }
}

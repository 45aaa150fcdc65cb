//! The paths shown, made anew only when document, results or choice have changed. The study of a large drawing in another
//! scenario goes on beside the window.

use super::super::desk::is_large;
use super::super::job::{Job, Progress};
use super::super::view::View;
use super::rows::{Row, lay_over};
use super::{Beside, HeadPathState};
use crate::document::{Command, Project, ZoneId};
use crate::study::{HeadPath, Study, ZoneState, head_path, index_zone, least_served_zone};

/// A study beside the window, and what it is made for.
pub(super) type Aside = (Key, Job<Result<HeadPath, String>>);

/// What the paths were made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Key {
    revision: u64,
    zone: ZoneId,
    beside: Beside,
}

/// The paths shown.
#[derive(Debug)]
pub(super) struct Made {
    key: Key,
    pub(super) first: Option<HeadPath>,
    pub(super) second: Second,
    pub(super) rows: Vec<Row>,
}

/// What is laid beside the first path.
#[derive(Debug)]
pub(super) enum Second {
    /// Nothing.
    Nothing,
    /// A path.
    Path(HeadPath),
    /// A zone that no path leads through, and why.
    Missing(String),
    /// A path that is being reckoned in a scenario.
    Awaited(usize),
}

impl Second {
    pub(super) fn path(&self) -> Option<&HeadPath> {
        if let Self::Path(path) = self { Some(path) } else { None }
    }
}

impl HeadPathState {
    /// The zone chosen, or the one that is followed.
    pub(super) fn zone(&self, view: &View<'_>) -> Option<ZoneId> {
        let exists = |id: &ZoneId| view.project.zones.contains_key(id);
        self.zone.filter(exists).or(self.followed().filter(exists)).or(view.project.zones.keys().next().copied())
    }

    /// Finds the zone to follow anew if the results have changed; those of an earlier drawing change nothing.
    pub(super) fn look_for_followed(&mut self, view: &View<'_>) {
        if self.follows.0.is_none() || (self.follows.0 != Some(view.revision) && !view.is_stale()) {
            let index = index_zone(view.project, view.study).map(|zone| (zone, "index circuit"));
            let least = || least_served_zone(view.study).map(|zone| (zone, "least share"));
            self.follows = (Some(view.revision), index.or_else(least));
        }
    }

    /// The zone that is followed while none is chosen.
    pub(super) fn followed(&self) -> Option<ZoneId> {
        self.follows.1.map(|(zone, _)| zone)
    }

    /// Makes the paths anew if anything they depend on has changed.
    pub(super) fn make(&mut self, view: &View<'_>) {
        let Some(zone) = self.zone(view) else {
            self.made = None;
            return;
        };
        let wanted = Key { revision: view.revision, zone, beside: self.beside };
        let is_made = self.made.as_ref().is_some_and(|made| {
            // What is grey already stays until there are results again.
            made.key == wanted || (view.is_stale() && Key { revision: made.key.revision, ..wanted } == made.key)
        });
        if !is_made {
            let first = head_path(view.project, view.study, zone);
            let second = second(view, zone, self.beside);
            self.made = Some(Made { key: wanted, first, second, rows: Vec::new() });
            self.lay();
        }
        self.await_second(view, zone);
    }

    /// Asks after a study beside the window, one at a time: in a drag the next begins when the last has ended.
    fn await_second(&mut self, view: &View<'_>, zone: ZoneId) {
        let Some(Made { key, second: Second::Awaited(scenario), .. }) = &self.made else { return };
        let (key, scenario) = (*key, *scenario);
        let (began_for, answer) = match self.aside.take() {
            Some((began_for, job)) => match job.poll() {
                Progress::Working => {
                    self.aside = Some((began_for, job));
                    return;
                }
                Progress::Done(answer) => (Some(began_for), answer),
                Progress::Lost => (Some(began_for), Err("its study ended without an answer".to_owned())),
            },
            None => (None, Err(String::new())),
        };
        if began_for == Some(key) {
            if let Some(made) = &mut self.made {
                made.second = answer.map_or_else(Second::Missing, Second::Path);
            }
            self.lay();
        } else {
            let project = view.project.clone();
            self.aside = Some((key, Job::start(move || in_scenario(project, scenario, zone))));
        }
    }

    fn lay(&mut self) {
        if let Some(made) = &mut self.made {
            made.rows = made.first.as_ref().map_or(Vec::new(), |first| lay_over(first, made.second.path()));
        }
    }
}

fn second(view: &View<'_>, zone: ZoneId, beside: Beside) -> Second {
    let made = match beside {
        Beside::Nothing => return Second::Nothing,
        Beside::Zone(id) if id == zone || !view.project.zones.contains_key(&id) => return Second::Nothing,
        Beside::Zone(id) => path_or_why(view.project, view.study, id),
        Beside::Scenario(index) if index >= view.project.scenarios.len() => return Second::Nothing,
        Beside::Scenario(index) if is_large(view.project) => return Second::Awaited(index),
        Beside::Scenario(index) => in_scenario(view.project.clone(), index, zone),
    };
    made.map_or_else(Second::Missing, Second::Path)
}

fn in_scenario(mut project: Project, index: usize, zone: ZoneId) -> Result<HeadPath, String> {
    project.apply(&Command::EnterScenario(index)).map_err(|error| error.to_string())?;
    let study = Study::new(&project).map_err(|error| error.to_string())?;
    if !study.results().converged() {
        return Err("no answer was found there".to_owned());
    }
    path_or_why(&project, &study, zone)
}

fn path_or_why(project: &Project, study: &Study, zone: ZoneId) -> Result<HeadPath, String> {
    head_path(project, study, zone).ok_or_else(|| why_none(project, study, zone))
}

/// Why no path leads through a zone.
pub(super) fn why_none(project: &Project, study: &Study, zone: ZoneId) -> String {
    let name = project.zones.get(&zone).map_or("this zone", |zone| zone.name.as_str());
    let results = study.results();
    if results.zones.get(&zone).is_some_and(|result| result.state == ZoneState::Shut) {
        format!("{name} is shut: nothing flows there")
    } else if !results.pumps.values().any(|pump| pump.running) {
        "no pump runs".to_owned()
    } else {
        format!("no way leads from a running pump through {name} and back")
    }
}

//! The document at work: it is changed by commands, studied after each, and remembers its past.
//!
//! A drawing is never locked by what cannot be solved: the document changes all the same, the last good results stay, and
//! [`Standing`] says why they are old. Large drawings are studied beside the window; until that is done they are old too.

mod files;
mod studied;
#[cfg(test)]
mod tests;

pub(super) use files::Read;
pub(super) use studied::is_large;

use super::job::Job;
use crate::document::{Changed, Command, ComponentId, History, Project, ZoneId};
use crate::engine::units::Units;
use crate::file::Fingerprint;
use crate::problems::{self, Check, Place, Severity};
use crate::study::sizing::{self, Balance};
use crate::study::{Results, Study, change_since, findings};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};

/// How the results stand to the document.
#[derive(Clone, Debug, PartialEq)]
pub enum Standing {
    /// They are the document's.
    Current,
    /// The document cannot be solved, for this reason: they are of an earlier one.
    Failed(String),
    /// The document is being studied, for so many seconds: they are of an earlier one.
    Working(f64),
    /// The person has given up the study: they are of an earlier one.
    GivenUp,
}

/// A document, its study and its history.
#[derive(Debug)]
pub struct Desk {
    project: Project,
    study: Study,
    standing: Standing,
    /// A study that goes on beside the window: one at a time, for a drag asks for a new one in every pass.
    job: Option<Job<Result<Study, String>>>,
    /// Whether the document has changed since that study began: another follows it.
    job_is_old: bool,
    problems: Vec<Check>,
    /// Counts what the checks depend on: documents and studies.
    revision: u64,
    /// Counts changes that are more than a pump's settings.
    system_revision: u64,
    /// Whether the list of problems waits for the end of the step.
    checks_due: bool,
    history: History,
    /// What the file holds; `None` if nobody knows or it is gone.
    saved: Option<Project>,
    /// What the file looked like when it was last read or written here.
    mark: Option<Fingerprint>,
    /// Whether the document differs from the file; compared when it changes, not in every pass.
    is_changed: bool,
    path: Option<PathBuf>,
    pump: Option<ComponentId>,
    /// Results when the present step began.
    before: Results,
    /// Whether a step has begun that is not yet recorded.
    open_step: bool,
    step_name: String,
    last_change: String,
}

/// Where a desk's counts begin: no two desks ever come to the same, so that what is kept for a count is of one document.
fn first_revision() -> u64 {
    static DESKS: AtomicU64 = AtomicU64::new(0);
    DESKS.fetch_add(1, Ordering::Relaxed) << 32
}

impl Desk {
    /// Begins with a document.
    ///
    /// # Errors
    /// A document that cannot be studied.
    pub fn new(project: Project, path: Option<PathBuf>) -> Result<Self, String> {
        let study = Study::new(&project).map_err(|error| error.to_string())?;
        Ok(Self::with(project, study, path))
    }

    /// Begins with a document that has been studied.
    pub(super) fn with(project: Project, study: Study, path: Option<PathBuf>) -> Self {
        let first = first_revision();
        Self {
            history: History::new(&project),
            saved: Some(project.clone()),
            mark: None,
            is_changed: false,
            before: study.results().clone(),
            pump: first_pump(&project),
            problems: problems::find(&project),
            checks_due: false,
            revision: first,
            system_revision: first,
            standing: Standing::Current,
            job: None,
            job_is_old: false,
            project,
            study,
            path,
            open_step: false,
            step_name: String::new(),
            last_change: String::new(),
        }
    }

    /// Carries out a command and studies the document; `true` if anything changed.
    ///
    /// # Errors
    /// A command that does not fit; nothing has changed then.
    pub fn apply(&mut self, command: &Command, units: &Units) -> Result<bool, String> {
        let name = command.step_name(&self.project);
        let changed = self.project.apply(command).map_err(|error| error.to_string())?;
        Ok(self.changed(name, changed, units))
    }

    /// Follows what was changed as part of the present step; `true` if anything was.
    fn changed(&mut self, name: String, changed: Changed, units: &Units) -> bool {
        if changed.any() {
            self.begin_step();
            self.step_name = name;
            self.follow(changed);
            self.describe(units);
        }
        changed.any()
    }

    /// Carries out several commands as one step; at the first that does not fit, all are taken back.
    ///
    /// # Errors
    /// The command that did not fit.
    pub fn apply_all(&mut self, name: &str, commands: &[Command], units: &Units) -> Result<bool, String> {
        self.settle();
        let changed = self.carry_out_all(name.to_owned(), commands, units)?;
        self.settle();
        Ok(changed)
    }

    /// Carries out commands that are alike as part of the present step; at the first that does not fit, all are taken back.
    ///
    /// # Errors
    /// The command that did not fit.
    pub fn apply_together(&mut self, commands: &[Command], units: &Units) -> Result<bool, String> {
        let Some(first) = commands.first() else { return Ok(false) };
        let name = match commands.len() {
            1 => first.step_name(&self.project),
            count => format!("{} and {} more", first.step_name(&self.project), count - 1),
        };
        self.carry_out_all(name, commands, units)
    }

    fn carry_out_all(&mut self, name: String, commands: &[Command], units: &Units) -> Result<bool, String> {
        let before = self.project.clone();
        let mut changed = Changed::default();
        for command in commands {
            match self.project.apply(command) {
                Ok(more) => changed = changed.and(more),
                Err(error) => {
                    self.project = before;
                    return Err(error.to_string());
                }
            }
        }
        Ok(self.changed(name, changed, units))
    }

    fn begin_step(&mut self) {
        if !self.open_step {
            self.before = self.study.results().clone();
            self.open_step = true;
        }
    }

    /// Ends the present step: called when the hand has let go.
    pub fn settle(&mut self) {
        if self.open_step {
            self.history.record(&self.step_name, &self.project);
            self.open_step = false;
        }
        // A step taken back leaves none open.
        if self.checks_due {
            self.check();
        }
    }

    /// Takes back the last step.
    pub fn undo(&mut self, units: &Units) {
        self.settle();
        if let Some(project) = self.history.undo() {
            self.take(&project, units);
        }
    }

    /// Brings back the step last taken back.
    pub fn redo(&mut self, units: &Units) {
        self.settle();
        if let Some(project) = self.history.redo() {
            self.take(&project, units);
        }
    }

    fn take(&mut self, project: &Project, units: &Units) {
        self.before = self.study.results().clone();
        let changed = Changed::between(&self.project, project);
        self.project = project.clone();
        self.follow(changed);
        self.describe(units);
    }

    /// Sets the balancing valves so that every zone gets its design flow at the least head, as one step.
    ///
    /// # Errors
    /// Why that cannot be, in a sentence.
    pub fn balance(&mut self, units: &Units) -> Result<Balance, String> {
        self.settle();
        let balance = sizing::balance(&self.project).map_err(|error| error.to_string())?;
        self.apply_all("balance all zones", &balance.commands(), units)?;
        Ok(balance)
    }

    /// Forgets how the document came to be as it is: what was done so far is no step that could be taken back.
    pub fn forget_steps(&mut self) {
        self.settle();
        self.history = History::new(&self.project);
        self.before = self.study.results().clone();
        self.last_change.clear();
    }

    fn describe(&mut self, units: &Units) {
        self.last_change = match self.pump {
            Some(pump) if self.standing == Standing::Current => {
                change_since(&self.project, &self.before, self.study.results(), pump, units)
            }
            _ => String::new(),
        };
        if self.last_change.is_empty() && self.open_step {
            self.last_change = format!("Done: {}. No flow changes with it.", self.step_name);
        }
    }

    /// Takes another pump in hand.
    pub fn take_in_hand(&mut self, pump: ComponentId) {
        if self.project.pump(pump).is_some() {
            self.pump = Some(pump);
        }
    }

    /// The document.
    #[must_use]
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// Its study; of an earlier document while [`Desk::standing`] says so.
    #[must_use]
    pub fn study(&self) -> &Study {
        &self.study
    }

    /// How the results stand to the document.
    #[must_use]
    pub fn standing(&self) -> &Standing {
        &self.standing
    }

    /// What is wrong with the drawing.
    #[must_use]
    pub fn problems(&self) -> &[Check] {
        &self.problems
    }

    /// All that calls for a look, in the drawing and in what flows; the gravest first.
    #[must_use]
    pub fn checks(&self, units: &Units) -> Vec<Check> {
        let mut all = self.problems.clone();
        if self.standing == Standing::Current {
            // What cannot work as it is drawn explains what it does.
            let broken: BTreeSet<Place> =
                all.iter().filter(|check| check.severity == Severity::Error).map(|check| check.place).collect();
            let told = findings(&self.project, &self.study, units);
            all.extend(told.into_iter().filter(|check| !broken.contains(&check.place)));
        }
        all.sort_by_key(|check| check.severity);
        all
    }

    /// Another number after each change of what the checks depend on.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Another number after each change that is more than a pump's settings, and after each study that came of one.
    #[must_use]
    pub fn system_revision(&self) -> u64 {
        self.system_revision
    }

    /// Its history.
    #[must_use]
    pub fn history(&self) -> &History {
        &self.history
    }

    /// The file it came from or was saved to.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// What the file looked like when it was last read or written here.
    #[must_use]
    pub fn mark(&self) -> Option<Fingerprint> {
        self.mark
    }

    /// Whether a file is known to hold what was last opened or saved.
    #[must_use]
    pub fn has_file(&self) -> bool {
        self.saved.is_some()
    }

    /// The pump in hand.
    #[must_use]
    pub fn pump(&self) -> Option<ComponentId> {
        self.pump
    }

    /// What the last change did, in words.
    #[must_use]
    pub fn last_change(&self) -> &str {
        &self.last_change
    }

    /// Whether it differs from the file.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.is_changed
    }

    /// The system curve with one zone alone open.
    #[must_use]
    pub fn alone(&self, zone: ZoneId) -> Vec<[f64; 2]> {
        match self.pump {
            Some(pump) if self.standing == Standing::Current => self.study.system_alone(&self.project, pump, zone),
            _ => Vec::new(),
        }
    }
}

fn first_pump(project: &Project) -> Option<ComponentId> {
    project.pumps().find(|(_, unit)| unit.running).or(project.pumps().next()).map(|(id, _)| id)
}

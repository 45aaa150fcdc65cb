//! How the study follows the document: at once, or beside the window where the drawing is large.

use super::super::job::{Job, Progress};
use super::{Desk, Standing, first_pump};
use crate::document::{Changed, Project, PumpUnit};
use crate::engine::network::Verdict;
use crate::engine::units::Units;
use crate::problems;
use crate::study::Study;

/// Components and pipes from which on a changed drawing is studied beside the window.
const LARGE: usize = 4000;
/// Components and pipes from which on every change is: some 4,000 zones.
const HUGE: usize = 40_000;

impl Desk {
    /// Brings study, problems and the rest up to date with a changed document.
    pub(super) fn follow(&mut self, changed: Changed) {
        self.is_changed = self.differs();
        // With several pumps the others' settings are part of what one works in.
        if changed.laws || changed.structure || changed.drawing || self.project.pumps().count() > 1 {
            self.system_revision += 1;
        }
        if self.pump.is_none_or(|id| self.project.pump(id).is_none()) {
            self.pump = first_pump(&self.project);
        }
        if !changed.moves_water() {
            // Names, heights and limits: the list can wait until the hand has let go.
            self.checks_due = true;
            return;
        }
        if changed.laws || changed.structure {
            self.check();
        }
        self.revision += 1;
        let is_huge = self.project.components.len() + self.project.pipes.len() > HUGE;
        let is_whole = self.standing != Standing::Current || changed.structure || is_huge;
        if is_whole && self.is_large() {
            self.job_is_old = self.job.is_some();
            if !self.job_is_old {
                self.begin_job();
            }
            return;
        }
        self.job = None;
        // After a failure the study is of an earlier document, or of parts of two.
        if is_whole {
            self.adopt(Study::new(&self.project).map_err(|error| error.to_string()));
        } else if let Err(error) = self.study.update(&self.project, changed) {
            self.standing = Standing::Failed(error.to_string());
        }
    }

    fn begin_job(&mut self) {
        let project = self.project.clone();
        self.job = Some(Job::start(move || Study::new(&project).map_err(|error| error.to_string())));
        self.job_is_old = false;
        self.standing = Standing::Working(0.0);
    }

    pub(super) fn check(&mut self) {
        self.problems = problems::find(&self.project);
        self.checks_due = false;
        self.revision += 1;
    }

    /// Takes a study if it is of use; otherwise the last one stays.
    fn adopt(&mut self, study: Result<Study, String>) {
        self.revision += 1;
        self.system_revision += 1;
        self.standing = match study {
            Ok(study) if study.results().verdict == Verdict::NotConverged => Standing::Failed(format!(
                "after {} steps its balances still do not hold. Look at what was drawn last",
                study.results().iterations
            )),
            Ok(study) => {
                self.study = study;
                Standing::Current
            }
            Err(error) => Standing::Failed(error),
        };
    }

    fn is_large(&self) -> bool {
        is_large(&self.project)
    }

    /// Takes the answer of a study beside the window, if it has come; `true` if anything on screen changes with it.
    pub fn poll(&mut self, units: &Units) -> bool {
        let Some(job) = &self.job else { return false };
        match job.poll() {
            Progress::Working => {
                self.standing = Standing::Working(job.seconds());
                return false;
            }
            Progress::Done(study) if self.job_is_old => {
                // Old already, but newer than what is shown: it is on screen while the hand goes on.
                self.adopt(study);
                self.begin_job();
                return true;
            }
            Progress::Lost if self.job_is_old => {
                self.begin_job();
                return false;
            }
            Progress::Done(study) => self.adopt(study),
            Progress::Lost => self.adopt(Err("the study ended without an answer: undo the last change".to_owned())),
        }
        self.job = None;
        self.describe(units);
        true
    }

    /// Gives up a study beside the window; the last results stay.
    pub fn give_up(&mut self) {
        if self.job.take().is_some() {
            self.standing = Standing::GivenUp;
        }
    }

    /// Studies the document once more after the study was given up.
    pub fn study_again(&mut self) {
        if self.job.is_none() {
            self.follow(Changed::ALL);
        }
    }
}

/// Whether a study of it from the beginning takes so long that it belongs beside the window.
pub(in super::super) fn is_large(project: &Project) -> bool {
    // With several pumps on rising set-lines all ways in which they share their flow are searched.
    let sloped = |unit: &PumpUnit| unit.running && unit.regulation.slope > 0.0;
    project.components.len() + project.pipes.len() > LARGE
        || project.pumps().filter(|(_, unit)| sloped(unit)).count() > 2
}

//! Searches among settings beside the window: the best one as soon as a system is probed, the rest when it is asked for.

use super::super::desk::Desk;
use super::super::job::{Job, Progress};
use super::{Probed, base, beside};
use crate::document::Project;
use crate::engine::pump::Regulation;
use crate::engine::units::Units;
use crate::study::part_load::PartLoad;
use crate::study::settings::{
    Best, Deciding, NoBest, Preset, Remedy, Robustness, Watch, best, binding_zone, least_starving, remedies,
    robustness, with_presettings,
};
use std::sync::Arc;

/// What came of the search for the best setting.
#[derive(Debug)]
pub(in super::super) struct Found {
    /// What was searched: with combinations probed on the way.
    pub(in super::super) part_load: PartLoad,
    /// Which edges decided.
    pub(in super::super) deciding: Deciding,
    /// The best setting.
    pub(in super::super) best: Result<Best, NoBest>,
    /// Where there is none: the best of those that starve no zone.
    pub(in super::super) least_starving: Option<Best>,
}

impl Found {
    /// The setting to offer: the best, or else the best that starves no zone.
    pub(in super::super) fn offered(&self) -> Option<&Best> {
        self.best.as_ref().ok().or(self.least_starving.as_ref())
    }
}

/// What can be asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// How robust the best setting is.
    Robustness,
    /// What would help.
    Remedies,
    /// The best setting with other presettings.
    Presettings,
}

/// What came of what was asked for.
#[derive(Debug)]
pub(in super::super) enum Helped {
    /// See [`Task::Robustness`].
    Robustness(Robustness),
    /// See [`Task::Remedies`].
    Remedies(Vec<Remedy>),
    /// See [`Task::Presettings`].
    Presettings(Result<Preset, NoBest>),
}

/// What a search belongs to: the probing, and what of the settings it does not move.
type Key = (u64, Regulation);

impl Drop for Searches {
    fn drop(&mut self) {
        self.give_up();
    }
}

/// What is asked for and how far it has come.
#[derive(Debug)]
struct Asked {
    task: Task,
    watch: Watch,
    job: Job<Result<Helped, String>>,
}

/// All searches.
#[derive(Debug, Default)]
pub(in super::super) struct Searches {
    key: Option<Key>,
    watch: Watch,
    job: Option<Job<Found>>,
    found: Option<Arc<Found>>,
    /// Whether the person has given up the search for the best setting.
    is_given_up: bool,
    asked: Option<Asked>,
    helped: Option<Result<Helped, String>>,
}

impl Searches {
    /// Follows what is probed and set.
    pub(super) fn follow(&mut self, probed: Option<&Arc<Probed>>, desk: &Desk, is_busy: bool) {
        let settings = desk.pump().and_then(|pump| desk.project().pump(pump)).map(|unit| unit.regulation);
        let key = probed.zip(settings).map(|(probed, settings)| (probed.number, base(&settings)));
        if key != self.key {
            self.give_up();
            self.key = None;
            self.is_given_up = false;
            (self.found, self.helped) = (None, None);
            // What the hand drags is searched when it has let go.
            if let (Some(probed), Some(settings), false) = (probed, settings, is_busy) {
                self.key = key;
                self.watch = Watch::default();
                let (probed, watch) = (Arc::clone(probed), self.watch.clone());
                self.job = Some(Job::start(move || beside(|| find(&probed, &settings, &watch))));
            }
        }
        if let Some(job) = &self.job {
            match job.poll() {
                Progress::Working => {}
                Progress::Done(found) => (self.job, self.found) = (None, Some(Arc::new(found))),
                Progress::Lost => self.job = None,
            }
        }
        if let Some(asked) = &self.asked {
            match asked.job.poll() {
                Progress::Working => {}
                Progress::Done(helped) => (self.asked, self.helped) = (None, Some(helped)),
                Progress::Lost => {
                    let why = "The search ended without an answer: try once more.".to_owned();
                    (self.asked, self.helped) = (None, Some(Err(why)));
                }
            }
        }
    }

    /// Begins what is asked for; something asked for before is given up.
    pub(in super::super) fn ask(&mut self, task: Task, desk: &Desk, units: &Units) {
        let Some(found) = self.found.clone() else { return };
        self.give_up_asked();
        self.helped = None;
        let (project, units, watch) = (desk.project().clone(), *units, Watch::default());
        let watched = watch.clone();
        let job = Job::start(move || beside(|| help(task, &project, &found, &units, &watched)));
        self.asked = Some(Asked { task, watch, job });
    }

    /// Gives up what was asked for.
    pub(in super::super) fn give_up_asked(&mut self) {
        if let Some(asked) = self.asked.take() {
            asked.watch.give_up();
        }
    }

    /// Gives up the search for the best setting, until something changes or it is asked for again.
    pub(in super::super) fn give_up_best(&mut self) {
        self.watch.give_up();
        self.job = None;
        self.is_given_up = true;
    }

    /// Searches for the best setting once more.
    pub(in super::super) fn search_again(&mut self) {
        self.key = None;
    }

    /// Whether the search for the best setting was given up.
    pub(in super::super) fn is_given_up(&self) -> bool {
        self.is_given_up
    }

    fn give_up(&mut self) {
        self.watch.give_up();
        self.job = None;
        self.give_up_asked();
    }

    /// What came of the search for the best setting.
    pub(in super::super) fn found(&self) -> Option<&Arc<Found>> {
        self.found.as_ref()
    }

    /// What came of what was asked for last.
    pub(in super::super) fn helped(&self) -> Option<&Result<Helped, String>> {
        self.helped.as_ref()
    }

    /// What the last answer is of.
    pub(in super::super) fn answered(&self) -> Option<Task> {
        match self.helped.as_ref()?.as_ref().ok()? {
            Helped::Robustness(_) => Some(Task::Robustness),
            Helped::Remedies(_) => Some(Task::Remedies),
            Helped::Presettings(_) => Some(Task::Presettings),
        }
    }

    /// What is being worked at, and the share that is done.
    pub(in super::super) fn asked(&self) -> Option<(Task, f64)> {
        self.asked.as_ref().map(|asked| (asked.task, asked.watch.share()))
    }

    /// How far the search for the best setting has come.
    pub(in super::super) fn share(&self) -> Option<f64> {
        self.job.as_ref().map(|_| self.watch.share())
    }

    pub(super) fn is_working(&self) -> bool {
        self.job.is_some() || self.asked.is_some()
    }
}

fn find(probed: &Probed, settings: &Regulation, watch: &Watch) -> Found {
    let mut part_load = probed.part_load.clone();
    part_load.regulation = *settings;
    let found = best(&mut part_load, watch);
    let is_none = found == Err(NoBest::NoneServes);
    let least_starving = if is_none { least_starving(&mut part_load, watch).ok() } else { None };
    Found { deciding: Deciding::new(&part_load), part_load, best: found, least_starving }
}

fn help(task: Task, project: &Project, found: &Found, units: &Units, watch: &Watch) -> Result<Helped, String> {
    let nothing = || "There is no best setting to start from.".to_owned();
    let part_load = &found.part_load;
    let error = |error: crate::study::part_load::PartLoadError| error.to_string();
    match task {
        Task::Robustness => {
            let best = found.offered().ok_or_else(nothing)?;
            robustness(project, part_load, &best.settings, watch).map(Helped::Robustness).map_err(error)
        }
        Task::Remedies => {
            let best = found.best.as_ref().ok();
            let binding = best.and_then(|best| binding_zone(part_load, &found.deciding, best));
            // Where nothing serves, the zone that asks for most is the one to help.
            let hardest = || found.deciding.floors.first().and_then(|floor| floor.edge.reason.zone());
            let zone = binding.or_else(hardest).ok_or_else(nothing)?;
            remedies(project, part_load, best, zone, units, watch).map(Helped::Remedies).map_err(error)
        }
        Task::Presettings => with_presettings(project, part_load, watch).map(Helped::Presettings).map_err(error),
    }
}

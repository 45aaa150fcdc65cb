//! Part load in the window: all scenarios probed once for each change of the system, and read off anew in the frame of each change of
//! the settings. Probing goes on beside the window; where it is short, the pass that asks for it waits, so that nothing flickers.

mod essence;
mod present;
mod search;

pub(super) use present::Present;
pub use search::Task;
pub(super) use search::{Found, Helped, Searches};

use super::desk::{Desk, Standing};
use super::job::{Job, Progress};
use super::look;
use super::view::View;
use crate::document::{ComponentId, Project};
use crate::engine::pump::Regulation;
use crate::study::part_load::PartLoad;
use crate::study::settings::Deciding;
use egui::{RichText, Ui};
use rayon::{ThreadPool, ThreadPoolBuilder};
use std::sync::{Arc, OnceLock};
use std::time::Duration;

/// How long a pass waits for probing that may be done in it, and how long the last one may have taken to be worth that.
const WORTH_WAITING: Duration = Duration::from_millis(14);
const SHORT_S: f64 = 0.03;

/// A system probed.
#[derive(Debug)]
pub(super) struct Probed {
    /// What its settings can do.
    pub(super) part_load: PartLoad,
    /// Which edges decide.
    pub(super) deciding: Deciding,
    /// Another number for each probing.
    pub(super) number: u64,
}

/// What the window keeps of part load.
#[derive(Debug, Default)]
pub(super) struct PartLoadState {
    /// What was looked at last: the desk's count of changes of the system, and the pump in hand.
    seen: Option<(u64, Option<ComponentId>)>,
    /// What part load depends on in what was probed last, or is being probed.
    essence: Option<(Project, ComponentId)>,
    /// The project that is to be probed.
    wanted: Option<(Project, ComponentId)>,
    job: Option<Job<Result<PartLoad, String>>>,
    /// Whether the system has changed since that job began.
    job_is_old: bool,
    probed: Option<Arc<Probed>>,
    /// Why the system could not be probed.
    failure: Option<String>,
    /// Whether what was probed is of an earlier system.
    is_old: bool,
    /// Whether the drawing cannot be solved as it is, or is being studied.
    is_behind: bool,
    count: u64,
    /// How long the last probing took, seconds.
    lasted: f64,
    present: Option<Present>,
    /// Searches for settings.
    pub(super) searches: Searches,
}

impl PartLoadState {
    /// Follows the desk; `true` while something is awaited. `is_busy` tells that the hand is at something.
    pub(super) fn follow(&mut self, desk: &Desk, is_busy: bool) -> bool {
        let seen = (desk.system_revision(), desk.pump());
        self.is_behind = *desk.standing() != Standing::Current;
        if self.seen != Some(seen) && *desk.standing() == Standing::Current {
            self.seen = Some(seen);
            self.look(desk);
        }
        self.poll(Duration::ZERO);
        self.read(desk);
        self.searches.follow(self.probed.as_ref().filter(|_| !self.is_old), desk, is_busy);
        self.job.is_some() || self.searches.is_working()
    }

    /// Begins to probe if the system is another.
    fn look(&mut self, desk: &Desk) {
        let Some(pump) = desk.pump() else {
            self.failure = Some("There is no circulator to set: draw one first.".to_owned());
            (self.probed, self.present, self.essence) = (None, None, None);
            (self.job, self.job_is_old, self.is_old) = (None, false, false);
            return;
        };
        let essence = (essence::of(desk.project(), pump), pump);
        if self.essence.as_ref() == Some(&essence) {
            return;
        }
        self.is_old = self.probed.is_some();
        // Of another pump nothing is of use.
        if self.essence.as_ref().is_some_and(|(_, other)| *other != pump) {
            (self.probed, self.present) = (None, None);
        }
        self.essence = Some(essence);
        self.wanted = Some((desk.project().clone(), pump));
        self.job_is_old = self.job.is_some();
        if !self.job_is_old {
            self.begin();
            if self.lasted < SHORT_S {
                self.poll(WORTH_WAITING);
            }
        }
    }

    fn begin(&mut self) {
        self.job_is_old = false;
        if let Some((project, pump)) = self.wanted.take() {
            self.job =
                Some(Job::start(move || beside(|| PartLoad::new(&project, pump)).map_err(|error| error.to_string())));
        }
    }

    fn poll(&mut self, at_most: Duration) {
        let Some(job) = &self.job else { return };
        let answer = match job.wait(at_most) {
            Progress::Working => return,
            Progress::Done(answer) => answer,
            Progress::Lost => Err("Probing ended without an answer: undo the last change.".to_owned()),
        };
        self.lasted = job.seconds();
        self.job = None;
        if self.job_is_old {
            self.begin();
            return;
        }
        self.is_old = false;
        match answer {
            Ok(part_load) => {
                self.count += 1;
                let deciding = Deciding::new(&part_load);
                self.probed = Some(Arc::new(Probed { part_load, deciding, number: self.count }));
                self.failure = None;
            }
            Err(failure) => {
                (self.probed, self.present) = (None, None);
                self.failure = Some(failure);
            }
        }
    }

    /// Reads off what the present settings do.
    fn read(&mut self, desk: &Desk) {
        let settings = desk.pump().and_then(|pump| desk.project().pump(pump)).map(|unit| unit.regulation);
        let (Some(probed), Some(settings)) = (&self.probed, settings) else {
            self.present = None;
            return;
        };
        if !self.present.as_ref().is_some_and(|present| present.is_of(probed.number, &settings)) {
            self.present = Some(Present::new(probed, &settings));
        }
    }

    /// The system as it was probed last.
    pub(super) fn probed(&self) -> Option<&Arc<Probed>> {
        self.probed.as_ref()
    }

    /// What the present settings do in all scenarios.
    pub(super) fn present(&self) -> Option<&Present> {
        self.present.as_ref()
    }

    /// Whether what is shown is of an earlier system.
    pub(super) fn is_old(&self) -> bool {
        self.is_old || self.is_behind
    }

    /// What the map is made from: once the best setting was sought, with the combinations that were probed for it.
    pub(super) fn source(&self) -> Option<(&PartLoad, &Deciding)> {
        match self.searches.found() {
            Some(found) => Some((&found.part_load, &found.deciding)),
            None => self.probed.as_ref().map(|probed| (&probed.part_load, &probed.deciding)),
        }
    }

    /// Why there is nothing to show, or that it is on its way.
    pub(super) fn why_nothing(&self) -> &str {
        self.failure.as_deref().unwrap_or("All scenarios are being probed.")
    }
}

/// What the present settings do, for a pane that tells of it; pale where it is of an earlier system. Says why where there is nothing.
pub(super) fn shown<'v>(ui: &mut Ui, view: &View<'v>) -> Option<(&'v Present, &'v Arc<Probed>)> {
    let state = view.part_load;
    let found = state.present().zip(state.probed());
    if found.is_none() {
        ui.label(RichText::new(state.why_nothing()).color(view.palette.quiet));
    } else if state.is_old() {
        ui.set_opacity(look::OLD);
    }
    found
}

/// Whether part load is the same of two projects, whatever the settings of the pump in hand.
pub(super) fn is_same_system(one: &Project, other: &Project, pump: ComponentId) -> bool {
    essence::of(one, pump) == essence::of(other, pump)
}

/// Does work on cores of its own: the window's own maps must not wait in one queue with it.
fn beside<T: Send>(work: impl FnOnce() -> T + Send) -> T {
    static POOL: OnceLock<Option<ThreadPool>> = OnceLock::new();
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    // Where no threads are to be had it is done in the caller's.
    let pool = POOL.get_or_init(|| ThreadPoolBuilder::new().num_threads((cores - 1).max(1)).build().ok());
    match pool {
        Some(pool) => pool.install(work),
        None => work(),
    }
}

/// Settings without what the map's axes and the search move: what a search starts from.
pub(super) fn base(settings: &Regulation) -> Regulation {
    Regulation { head_limit_m: None, slope: 0.0, speed_cap: 1.0, ..*settings }
}

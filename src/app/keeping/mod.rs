//! Nothing is lost: recovery copies while changes are unsaved, copies that a crash left behind, and a file that another
//! program changes meanwhile. The window calls [`Keeping::after_pass`] and [`Keeping::show`] once a pass.

mod copies;
mod watch;

use super::desk::Desk;
use super::frame;
use super::view::Intent;
use crate::document::Project;
use crate::file::recovery::{Keeper, LeftBehind, left_behind};
use crate::file::{Fingerprint, Seen};
use copies::{Copies, Snapshot};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime};
use watch::{Watch, Watched};

/// How soon things are kept and looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pace {
    /// How long the hand rests before a change is copied.
    pub rest: Duration,
    /// How long a change waits while others follow.
    pub at_most: Duration,
    /// How often the file at work is looked at.
    pub look: Duration,
}

impl Default for Pace {
    fn default() -> Self {
        Self { rest: Duration::from_secs(2), at_most: Duration::from_secs(10), look: Duration::from_secs(2) }
    }
}

/// What a person decides about copies and about the file at work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decision {
    /// Open what this copy holds.
    Recover(PathBuf),
    /// Delete this copy, after being asked once more.
    Delete(PathBuf),
    /// Leave the copies for the next start.
    Later,
    /// Load what another program has written.
    LoadTheirs,
    /// Go on with what is in the window.
    KeepMine,
    /// Save over what another program has written.
    SaveOver(PathBuf),
    /// Save to another file instead.
    SaveElsewhere,
    /// Do not save.
    DoNotSave,
}

/// What has become of the file at work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum OnDisk {
    /// It holds something else.
    Changed(Fingerprint),
    /// It is gone.
    Gone,
}

/// Keeps what must not be lost.
#[derive(Debug, Default)]
pub(super) struct Keeping {
    pace: Pace,
    /// `None` where no copies are kept.
    copies: Option<Copies>,
    watch: Option<Watch>,
    watched: Option<Watched>,
    on_disk: Option<OnDisk>,
    /// What was left behind and is offered.
    left_behind: Vec<LeftBehind>,
    /// The copy that is to be deleted, once the person has said so twice.
    deleting: Option<PathBuf>,
    is_offering: bool,
    /// The changed file that a save would go over.
    saving_over: Option<PathBuf>,
    /// Number of the document among those of this window.
    document: u64,
    /// What was last given to be copied, and when.
    given: Option<(Arc<Project>, f64)>,
    /// It was given in the middle of a drag.
    within_drag: bool,
    recovered_from: Option<LeftBehind>,
    closing: bool,
}

impl Keeping {
    /// Keeps copies in a folder from now on, and offers what was left behind there.
    ///
    /// # Errors
    /// Why no copies can be kept, in a sentence. What was left behind is offered nevertheless.
    pub fn start(&mut self, folder: &Path, pace: Pace, ctx: &egui::Context) -> Result<(), String> {
        self.pace = pace;
        self.left_behind = left_behind(folder);
        let keeper = Keeper::new(folder).map_err(|error| error.to_string())?;
        let ctx = ctx.clone();
        self.copies = Some(Copies::start(keeper, pace, move || ctx.request_repaint()));
        Ok(())
    }

    /// After each pass: gives away what is to be copied, takes what was seen. Returns what the person must be told.
    pub fn after_pass(&mut self, ctx: &egui::Context, desk: &Desk) -> Option<String> {
        self.look_at_file(ctx, desk);
        self.give(ctx, desk);
        self.copies.as_ref().and_then(Copies::trouble)
    }

    fn give(&mut self, ctx: &egui::Context, desk: &Desk) {
        let Some(copies) = self.copies.as_ref().filter(|_| !self.closing) else { return };
        if !desk.is_changed() {
            if self.given.take().is_some() {
                copies.forget(self.document);
                self.document += 1;
            }
            self.recovered_from.take().into_iter().for_each(|copy| copies.delete(copy));
            return;
        }
        let (time, in_hand) = ctx.input(|i| (i.time, i.pointer.any_down()));
        let recorded = desk.history().snapshot();
        let is_new = self.given.as_ref().is_none_or(|(given, _)| !Arc::ptr_eq(given, recorded));
        let project = match &self.given {
            // A long drag is one step, which is recorded at its end: until then it is copied as it stands, now and then.
            Some((_, at)) if in_hand && time - at > self.pace.at_most.as_secs_f64() => Arc::new(desk.project().clone()),
            None if in_hand => Arc::new(desk.project().clone()),
            _ if is_new || (self.within_drag && !in_hand) => Arc::clone(recorded),
            _ => return,
        };
        self.within_drag = in_hand;
        self.given = Some((Arc::clone(recorded), time));
        copies.keep(Snapshot {
            document: self.document,
            project,
            path: desk.path().map(Path::to_owned),
            mark: desk.mark(),
            recovered_from: self.recovered_from.take(),
        });
    }

    fn look_at_file(&mut self, ctx: &egui::Context, desk: &Desk) {
        let now = desk.path().zip(desk.mark());
        if now != self.watched.as_ref().map(|(path, mark)| (path.as_path(), *mark)) {
            self.watched = now.map(|(path, mark)| (path.to_owned(), mark));
            self.on_disk = None;
            let (every, ctx) = (self.pace.look, ctx.clone());
            let watch = self.watch.get_or_insert_with(|| Watch::start(every, move || ctx.request_repaint()));
            watch.on(self.watched.clone());
        }
        // What was seen of another file, or before the last save, is past.
        if let Some((watched, seen)) = self.watch.as_ref().and_then(Watch::seen)
            && Some(&watched) == self.watched.as_ref()
        {
            self.on_disk = match seen {
                Seen::Changed(mark) => Some(OnDisk::Changed(mark)),
                Seen::Gone => Some(OnDisk::Gone),
                Seen::Same(_) | Seen::Unknown => None,
            };
        }
    }

    /// Shows what is to be decided. `free` tells that nothing else is asked now.
    pub fn show(&mut self, ctx: &egui::Context, desk: &Desk, free: bool, intents: &mut Vec<Intent>) {
        let mut decided = None;
        // A recovered document that is not yet saved would be lost under the next one: one after the other.
        self.is_offering = free && !self.left_behind.is_empty() && !desk.is_changed();
        if let Some(path) = &self.saving_over {
            decided = frame::ask_save_over(ctx, path);
        } else if self.is_offering {
            decided = frame::offer_recovery(ctx, &self.left_behind, self.deleting.as_deref(), SystemTime::now());
        } else if let (true, Some(on_disk), Some(path)) = (free, self.on_disk, desk.path()) {
            decided = frame::notice_on_disk(ctx, path, on_disk);
        }
        intents.extend(decided.map(Intent::Decide));
    }

    /// Whether something is asked that must be answered first.
    pub fn is_asking(&self) -> bool {
        self.is_offering || self.saving_over.is_some()
    }

    /// Asks before a save goes over what another program has written; `true` if it must wait for the answer.
    pub fn holds_save(&mut self, desk: &Desk, path: &Path) -> bool {
        let whole = |path: &Path| path.canonicalize().ok();
        let is_own = desk.path().is_some_and(|own| own == path || (path.exists() && whole(own) == whole(path)));
        let is_changed = match desk.mark() {
            Some(mark) => matches!(mark.look_inside(path), Seen::Changed(_)),
            None => path.exists(),
        };
        if is_own && is_changed {
            self.saving_over = Some(path.to_owned());
        }
        is_own && is_changed
    }

    /// The question about saving is answered.
    pub fn release_save(&mut self) {
        self.saving_over = None;
    }

    /// What the file looks like that another program has written; the notice of it goes.
    pub fn take_on_disk(&mut self) -> Option<OnDisk> {
        self.on_disk.take()
    }

    /// Whether the file at work is gone and the person has not yet taken note.
    pub fn is_gone(&self) -> bool {
        self.on_disk == Some(OnDisk::Gone)
    }

    /// The copy at a place, if it is offered.
    pub fn offered(&mut self, path: &Path) -> Option<&mut LeftBehind> {
        self.left_behind.iter_mut().find(|copy| copy.path() == path)
    }

    /// This copy is the document at work from now on; it goes when that has a copy of its own, or needs none.
    pub fn recovered(&mut self, path: &Path) {
        self.deleting = None;
        if let Some(index) = self.left_behind.iter().position(|copy| copy.path() == path) {
            self.recovered_from = Some(self.left_behind.remove(index));
        }
    }

    /// Deletes a copy if that was wanted twice.
    ///
    /// # Errors
    /// A copy that cannot be deleted, in a sentence.
    pub fn delete(&mut self, path: &Path) -> Result<(), String> {
        if self.deleting.as_deref() != Some(path) {
            self.deleting = Some(path.to_owned());
            return Ok(());
        }
        self.deleting = None;
        let Some(index) = self.left_behind.iter().position(|copy| copy.path() == path) else { return Ok(()) };
        self.left_behind.remove(index).delete().map_err(|error| error.to_string())
    }

    /// Leaves the copies to the next start, or to another window.
    pub fn later(&mut self) {
        self.deleting = None;
        self.left_behind.clear();
    }

    /// The window closes with all changes saved or given up: no copy is left behind.
    pub fn close(&mut self) {
        self.closing = true;
        if let Some(copies) = &self.copies {
            copies.forget(self.document);
        }
    }
}

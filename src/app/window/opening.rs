//! Opening, beginning and saving documents. A large file is read and studied beside the window, which can give it up.

use super::super::curves::CurvesState;
use super::super::desk::{Desk, Read, Standing};
use super::super::drawing::DrawingState;
use super::super::frame::Notice;
use super::super::head_path::HeadPathState;
use super::super::job::{Job, Progress};
use super::super::look::{self, size};
use super::super::map::MapState;
use super::super::part_load::PartLoadState;
use super::super::register::RegisterState;
use super::super::scenario_strip::StripState;
use super::super::selection::Selection;
use super::super::start_up::StartUpState;
use super::super::variants::VariantsState;
use super::super::view::Work;
use super::{AWAITED, NOTICE_FOR, Window};
use crate::document::Project;
use crate::engine::units::Units;
use egui::{Key, RichText};
use std::path::{Path, PathBuf};

/// Size of a file from which on it is read beside the window, bytes: some 500 zones.
const LARGE: u64 = 500_000;

/// A large file that is being read.
pub(super) struct Opening {
    path: PathBuf,
    job: Job<Result<Read, String>>,
}

impl Window {
    /// Opens a file; if it cannot be opened, says why and goes on with what it had.
    pub fn open(&mut self, path: &Path) {
        if std::fs::metadata(path).is_ok_and(|file| file.len() > LARGE) {
            let here = path.to_owned();
            self.opening = Some(Opening { path: path.to_owned(), job: Job::start(move || Desk::read(&here)) });
            return;
        }
        self.opened(path, Desk::read(path));
    }

    /// Asks after a large file; `true` if what is on screen changed with it.
    pub(super) fn watch_opening(&mut self, ctx: &egui::Context) -> bool {
        let Some(opening) = &self.opening else { return false };
        let answer = match opening.job.poll() {
            Progress::Working => {
                let name = opening.path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
                if give_up(ctx, &format!("Opening {name}"), opening.job.seconds()) {
                    self.opening = None;
                }
                ctx.request_repaint_after(AWAITED);
                return false;
            }
            Progress::Done(answer) => answer,
            Progress::Lost => Err("Reading it ended without an answer: try once more.".to_owned()),
        };
        if let Some(Opening { path, .. }) = self.opening.take() {
            self.opened(&path, answer);
        }
        true
    }

    fn opened(&mut self, path: &Path, answer: Result<Read, String>) {
        match answer {
            Ok(read) => {
                self.files.remember(path);
                self.begin(Desk::opened(read, path));
            }
            Err(error) => self.notice = Some(Notice::problem("This file was not opened.", &error)),
        }
    }

    /// Goes on with another desk of the person's own.
    pub(super) fn begin(&mut self, desk: Desk) {
        self.leave_lesson();
        self.lay(desk);
    }

    /// Lays a desk under the panes, which forget what they knew of the one before; returns that.
    pub(super) fn lay(&mut self, desk: Desk) -> Desk {
        let before = std::mem::replace(&mut self.desk, desk);
        // What was copied can be put into the next document.
        let mut editing = std::mem::take(&mut self.drawing.editing);
        editing.let_go();
        self.drawing = DrawingState::default();
        self.drawing.editing = editing;
        self.curves = CurvesState::default();
        self.head_path = HeadPathState::default();
        self.part_load = PartLoadState::default();
        self.map = MapState::default();
        self.strip = StripState::default();
        self.variants = VariantsState::default();
        self.start_up = StartUpState::default();
        self.register = RegisterState::default();
        self.presentation.forget();
        self.selection = Selection::default();
        self.hovered = None;
        self.lit = None;
        self.notice = None;
        self.checks.0 = None;
        self.forget_pointed();
        self.begin_first_run();
        before
    }

    /// Takes a new document that is in no file yet.
    pub(super) fn take(&mut self, project: &Project, words: &str) {
        let is_blank = project.components.is_empty();
        match Desk::new(project.clone(), None) {
            // An empty sheet has nothing to lose.
            Ok(desk) => {
                self.begin(if is_blank { desk } else { desk.unsaved() });
                if is_blank {
                    self.presentation.end();
                    self.work = Work::Draw;
                }
                if !words.is_empty() {
                    self.notice_until = self.now + 2.0 * NOTICE_FOR;
                    self.notice = Some(Notice::done(words));
                }
            }
            Err(error) => self.notice = Some(Notice::problem("This drawing was not taken.", &error)),
        }
    }

    /// Shows a document as it stands, to be pictured.
    pub(in super::super) fn show_still(&mut self, desk: Desk, units: Units) {
        self.begin(desk);
        self.units = units;
    }

    /// Whether anything on screen is still being reckoned beside the window.
    pub(in super::super) fn is_reckoning(&self) -> bool {
        matches!(self.desk.standing(), Standing::Working(_)) || self.awaits_part_load
    }

    /// Saves to a file.
    pub(super) fn save_to(&mut self, path: &Path) {
        if !self.keeping.holds_save(&self.desk, path) {
            self.save_over(path);
        }
    }

    /// Saves to the file the document came from, or asks for one.
    pub(super) fn save_here(&mut self) {
        match self.desk.path().map(Path::to_owned) {
            Some(path) => self.save_to(&path),
            None => self.files.ask_save(None, &self.desk.project().title),
        }
    }
}

/// Says what goes on and for how long; `true` once the person gives it up.
fn give_up(ctx: &egui::Context, what: &str, seconds: f64) -> bool {
    let mut gives_up = ctx.input(|i| i.key_pressed(Key::Escape));
    look::modal(ctx, "opening").show(ctx, |ui| {
        ui.set_width(360.0);
        ui.label(RichText::new(what).font(look::strong(size::LEAD)));
        ui.horizontal(|ui| {
            ui.spinner();
            ui.label(format!("for {seconds:.1} s"));
        });
        gives_up |= ui.button("Cancel").clicked();
    });
    gives_up
}

//! The window's one object: the desk, what is looked at and how, and the order of one pass.

use super::curves::CurvesState;
use super::desk::Desk;
use super::drawing::DrawingState;
use super::frame::{Answer, FilePanel, Leaving, Notice};
use super::look::{self, Palette};
use super::view::{Intent, View};
use super::{curves, drawing, frame, settings, zones};
use crate::document::ZoneId;
use crate::engine::units::{Quantity, Unit, Units};
use crate::file;
use crate::study::{Path, path_of};
use egui::{self, Ui};
use std::path::Path as FilePath;

/// How long the arrows on the pipes go on moving after a change, seconds.
const MOVING_FOR: f64 = 3.0;

/// How long a notice of success stays, seconds.
const NOTICE_FOR: f64 = 4.0;

/// The window.
pub struct Window {
    desk: Desk,
    units: Units,
    drawing: DrawingState,
    curves: CurvesState,
    files: FilePanel,
    notice: Option<Notice>,
    hovered: Option<ZoneId>,
    /// Path and lone system curve of the zone pointed at, kept while neither it nor the document changes.
    pointed: (Option<ZoneId>, Path, Vec<[f64; 2]>),
    /// What waits for an answer about unsaved changes, or for a file to save them to.
    leaving: Option<Leaving>,
    /// When a notice of success goes by itself.
    notice_until: f64,
    moving_until: f64,
    flow_time: f64,
    shown_title: String,
    theme: egui::Theme,
    /// The person has agreed to close.
    closing: bool,
    now: f64,
}

impl Window {
    /// Opens on the sample building.
    ///
    /// # Errors
    /// A sample that cannot be read: a fault of the program.
    pub fn new(ctx: &egui::Context) -> Result<Self, String> {
        look::install(ctx);
        let project = file::parse(super::FIRST_SAMPLE, "the sample project").map_err(|error| error.to_string())?;
        let desk = Desk::new(project, None).map_err(|error| error.to_string())?;
        Ok(Self {
            desk,
            units: Units::si(),
            drawing: DrawingState::default(),
            curves: CurvesState::default(),
            files: FilePanel::default(),
            notice: None,
            hovered: None,
            pointed: (None, Path::default(), Vec::new()),
            leaving: None,
            notice_until: 0.0,
            moving_until: MOVING_FOR,
            flow_time: 0.0,
            shown_title: String::new(),
            theme: egui::Theme::Light,
            closing: false,
            now: 0.0,
        })
    }

    /// The document at work.
    #[must_use]
    pub fn desk(&self) -> &Desk {
        &self.desk
    }

    /// Opens a file; if it cannot be opened, says why and goes on with what it had.
    pub fn open(&mut self, path: &FilePath) {
        match self.desk.open(path) {
            Ok(()) => {
                self.files.remember(path);
                self.drawing = DrawingState::default();
                self.curves = CurvesState::default();
                self.hovered = None;
                self.forget_pointed();
                self.notice = frame::problems_notice(self.desk.project());
            }
            Err(error) => self.notice = Some(Notice::problem("This file was not opened.", &error)),
        }
    }

    fn save(&mut self, path: &FilePath) {
        match self.desk.save(path) {
            Ok(()) => {
                self.files.remember(path);
                self.notice_until = self.now + NOTICE_FOR;
                self.notice = Some(Notice::done(&format!("Saved to {}.", path.display())));
            }
            Err(error) => self.notice = Some(Notice::problem("This project was not saved.", &error.to_string())),
        }
    }

    /// One pass: paint, collect, carry out; paint again in the same frame if anything moved.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let time = ctx.input(|i| i.time);
        self.now = time;
        let moving = self.advance_flow(&ctx, time);
        self.look_at_pointed();
        let mut intents = Vec::new();
        if self.leaving.is_none() && !self.files.is_asking() {
            if ctx.input(|i| i.key_pressed(egui::Key::Escape)) {
                self.notice = None;
            }
            frame::keys(&ctx, &mut intents);
            self.files.take_dropped(&ctx, &mut intents);
        }
        self.paint(ui, &mut intents);
        self.files.show(&ctx, self.desk.path(), &mut intents);
        self.watch_leaving(&ctx);
        self.theme = ctx.theme();
        if self.notice.as_ref().is_some_and(Notice::passes) {
            if time > self.notice_until {
                self.notice = None;
            }
            ctx.request_repaint_after(std::time::Duration::from_millis(500));
        }

        let pointed_at =
            intents.iter().rev().find_map(|i| if let Intent::Hover(zone) = i { Some(*zone) } else { None });
        let mut again = pointed_at != self.hovered;
        self.hovered = pointed_at;
        for intent in intents {
            again |= self.carry_out(intent);
        }
        if again {
            self.forget_pointed();
            self.moving_until = time + MOVING_FOR;
            ctx.request_discard("results belong in the frame of their change");
            ctx.request_repaint();
        } else if moving {
            ctx.request_repaint_after(std::time::Duration::from_millis(33));
        }
        if !ctx.input(|i| i.pointer.any_down()) {
            self.desk.settle();
        }
        self.title(&ctx);
    }

    fn paint(&mut self, ui: &mut Ui, intents: &mut Vec<Intent>) {
        let palette = Palette::of(ui.ctx().theme());
        let view = View {
            project: self.desk.project(),
            study: self.desk.study(),
            results: self.desk.study().results(),
            units: &self.units,
            palette,
            pump: self.desk.pump(),
            hovered: self.hovered,
            path: &self.pointed.1,
            alone: &self.pointed.2,
            flow_time: self.flow_time,
        };
        let size = ui.available_size();
        frame::header(ui, &view, &self.desk, intents);
        if let Some(notice) = &self.notice {
            frame::notice(ui.ctx(), &view, notice, intents);
        }
        frame::sentence(ui, &view, self.desk.last_change());
        egui::Panel::right("curves and settings")
            .resizable(false)
            .exact_size((0.45 * size.x).clamp(470.0, 1000.0))
            .frame(frame::pane(&palette))
            .show(ui, |ui| {
                settings::show(ui, &view, intents);
                curves::show(ui, &view, &mut self.curves, intents);
            });
        egui::Panel::bottom("zones")
            .resizable(false)
            .exact_size(zones::height(view.project.zones.len()).clamp(90.0, (0.4 * size.y).max(91.0)))
            .frame(frame::pane(&palette))
            .show(ui, |ui| zones::show(ui, &view, intents));
        egui::CentralPanel::default()
            .frame(frame::pane(&palette))
            .show(ui, |ui| drawing::show(ui, &view, &mut self.drawing, intents));
    }

    /// Carries out one intent; `true` if what is on screen changed with it.
    fn carry_out(&mut self, intent: Intent) -> bool {
        match intent {
            Intent::Change(command) => match self.desk.apply(&command, &self.units) {
                Ok(changed) => {
                    if changed {
                        self.curves.leave_trail(&self.desk);
                        self.notice.take_if(|notice| notice.passes());
                    }
                    return changed;
                }
                Err(error) => self.notice = Some(Notice::problem("Nothing was changed.", &error)),
            },
            Intent::Hover(_) => return false,
            Intent::TakeInHand(pump) => {
                self.desk.take_in_hand(pump);
                self.curves.clear_trail();
            }
            Intent::Undo => {
                self.desk.undo(&self.units);
                self.curves.clear_trail();
            }
            Intent::Redo => {
                self.desk.redo(&self.units);
                self.curves.clear_trail();
            }
            Intent::AskOpen => self.files.ask_open(),
            Intent::AskSave => self.files.ask_save(self.desk.path(), &self.desk.project().title),
            // A file that is not there is told at once; only for one that is are changes at stake.
            Intent::Open(path) if self.desk.is_changed() && path.is_file() => {
                self.leaving = Some(Leaving::Open(path));
            }
            Intent::Open(path) => self.open(&path),
            Intent::Save => self.save_here(),
            Intent::SaveTo(path) => self.save(&path),
            Intent::SetUnit(quantity, unit) => return self.units.set(quantity, unit),
            Intent::SetUnits(units) => self.units = units,
            Intent::FitDrawing => self.drawing.fit_again(),
            Intent::Reject(why) => {
                self.notice = Some(Notice::rejected(&why));
                self.notice_until = self.now + 2.0 * NOTICE_FOR;
            }
            Intent::Dismiss => self.notice = None,
        }
        true
    }

    /// Saves to the file the document came from, or asks for one.
    fn save_here(&mut self) {
        match self.desk.path().map(FilePath::to_owned) {
            Some(path) => self.save(&path),
            None => self.files.ask_save(None, &self.desk.project().title),
        }
    }

    /// Holds the window open while changes are unsaved, asks, and goes on once they are saved or given up.
    fn watch_leaving(&mut self, ctx: &egui::Context) {
        if ctx.input(|i| i.viewport().close_requested()) && self.desk.is_changed() && !self.closing {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.leaving = Some(Leaving::Close);
        }
        let Some(leaving) = self.leaving.clone() else { return };
        if !self.desk.is_changed() {
            self.leave(ctx, &leaving);
        } else if !self.files.is_asking() {
            match frame::ask_before_leaving(ctx, &self.desk.project().title, &leaving) {
                Some(Answer::Save) => self.save_here(),
                Some(Answer::Discard) => self.leave(ctx, &leaving),
                Some(Answer::Stay) => self.leaving = None,
                None => {}
            }
        }
    }

    fn leave(&mut self, ctx: &egui::Context, leaving: &Leaving) {
        self.leaving = None;
        match leaving {
            Leaving::Open(path) => self.open(path),
            Leaving::Close => {
                self.closing = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
        }
        ctx.request_repaint();
    }

    /// Moves the arrows for a while after each change, then lets the window rest.
    fn advance_flow(&mut self, ctx: &egui::Context, time: f64) -> bool {
        let moving = time < self.moving_until;
        if moving {
            self.flow_time += f64::from(ctx.input(|i| i.stable_dt.min(0.1)));
        }
        moving
    }

    fn look_at_pointed(&mut self) {
        if self.pointed.0 != self.hovered {
            self.pointed = match self.hovered {
                Some(zone) => {
                    (Some(zone), path_of(self.desk.project(), self.desk.study(), zone), self.desk.alone(zone))
                }
                None => (None, Path::default(), Vec::new()),
            };
        }
    }

    fn forget_pointed(&mut self) {
        self.pointed = (None, Path::default(), Vec::new());
    }

    fn title(&mut self, ctx: &egui::Context) {
        let mark = if self.desk.is_changed() { " (changed)" } else { "" };
        let title = format!("{}{mark} – Headwise", self.desk.project().title);
        if self.shown_title != title {
            self.shown_title.clone_from(&title);
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title));
        }
    }

    /// Takes units and theme from the last time.
    pub(super) fn restore(&mut self, ctx: &egui::Context, storage: &dyn eframe::Storage) {
        for quantity in Quantity::ALL.iter().copied() {
            let kept = storage.get_string(&format!("unit of {}", quantity.id()));
            if let Some(unit) = kept.as_deref().and_then(Unit::from_id) {
                self.units.set(quantity, unit);
            }
        }
        match storage.get_string("theme").as_deref() {
            Some("dark") => ctx.set_theme(egui::Theme::Dark),
            Some("light") => ctx.set_theme(egui::Theme::Light),
            _ => {}
        }
        self.files.restore(storage);
    }
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        for quantity in Quantity::ALL.iter().copied() {
            storage.set_string(&format!("unit of {}", quantity.id()), self.units.get(quantity).id().to_owned());
        }
        let theme = if self.theme == egui::Theme::Dark { "dark" } else { "light" };
        storage.set_string("theme", theme.to_owned());
        self.files.keep(storage);
    }
}

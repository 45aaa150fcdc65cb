//! The window's one object: the desk, what is looked at and how, and the order of one pass.

mod carry_out;
mod first_run;
mod kept;
mod layout;
mod leaving;
mod lesson;
mod opening;
mod pictures;
mod records;
mod storage;

use super::balanced::BalancedList;
use super::checklist::Checklist;
use super::curves::CurvesState;
use super::desk::{Desk, Standing};
use super::drawing::{DrawingState, Flowing};
use super::frame::{FilePanel, Leaving, Notice};
use super::head_path::HeadPathState;
use super::inspector::InspectorState;
use super::keeping::Keeping;
use super::lesson::{LessonAtWork, LessonList};
use super::look::Palette;
use super::map::MapState;
use super::part_load::PartLoadState;
use super::picture::Pictures;
use super::presentation::PresentationState;
use super::record::Records;
use super::register::RegisterState;
use super::scenario_strip::StripState;
use super::search::Search;
use super::selection::Selection;
use super::start_up::StartUpState;
use super::table::TableSheet;
use super::variants::VariantsState;
use super::view::{Above, Below, Intent, Work};
use super::{frame, look};
use crate::document::ZoneId;
use crate::engine::units::Units;
use crate::file;
use crate::problems::{Check, Place};
use crate::study::{Path, path_of};
use egui::{self, Ui};
pub(super) use kept::recovery_folder;
use lesson::PutBy;
use opening::Opening;
use std::time::Duration;

/// How long the arrows on the pipes go on moving after a change, seconds.
const MOVING_FOR: f64 = 3.0;

/// How far the arrows move in one pass at most, seconds: after a pause they go on from where they were.
const LONGEST_STEP: f64 = 0.1;

/// How long a notice of success stays, seconds.
const NOTICE_FOR: f64 = 4.0;

/// How often work beside the window is asked after.
const AWAITED: Duration = Duration::from_millis(50);

/// The window.
pub struct Window {
    desk: Desk,
    units: Units,
    drawing: DrawingState,
    curves: CurvesState,
    files: FilePanel,
    search: Search,
    checklist: Checklist,
    balanced: BalancedList,
    table: TableSheet,
    keeping: Keeping,
    pictures: Pictures,
    records: Records,
    inspector: InspectorState,
    work: Work,
    above: Above,
    below: Below,
    part_load: PartLoadState,
    /// Whether something of part load is being reckoned beside the window.
    awaits_part_load: bool,
    map: MapState,
    strip: StripState,
    variants: VariantsState,
    start_up: StartUpState,
    register: RegisterState,
    head_path: HeadPathState,
    presentation: PresentationState,
    selection: Selection,
    lessons: LessonList,
    /// The lesson at work.
    lesson: Option<LessonAtWork>,
    /// The person's own project while a lesson is at work.
    put_by: Option<PutBy>,
    /// A large file that is being read beside the window.
    opening: Option<Opening>,
    notice: Option<Notice>,
    /// Whether the caution before the first run is told.
    first_run: bool,
    /// What calls for a look, and what desk, change and units it was made for.
    checks: (Option<(u64, Units)>, Vec<Check>),
    hovered: Option<ZoneId>,
    /// What a pane points at on the drawing.
    lit: Option<Place>,
    /// Path and lone system curve of the zone pointed at, kept while neither it nor the document changes.
    pointed: (Option<ZoneId>, Path, Vec<[f64; 2]>),
    /// What waits for an answer about unsaved changes, or for a file to save them to.
    leaving: Option<Leaving>,
    /// Closing would lose a list that has not been drawn; waits for an answer.
    list_at_stake: bool,
    /// When a notice of success goes by itself.
    notice_until: f64,
    moving_until: f64,
    /// Arrows on the pipes, and until when they have moved.
    flowing: (Flowing, f64),
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
        let desk = Desk::new(project, None)?;
        Ok(Self {
            desk,
            units: Units::si(),
            drawing: DrawingState::default(),
            curves: CurvesState::default(),
            files: FilePanel::default(),
            search: Search::default(),
            checklist: Checklist::default(),
            balanced: BalancedList::default(),
            table: TableSheet::default(),
            keeping: Keeping::default(),
            pictures: Pictures::default(),
            records: Records::default(),
            inspector: InspectorState::default(),
            work: Work::default(),
            above: Above::default(),
            below: Below::default(),
            part_load: PartLoadState::default(),
            awaits_part_load: false,
            map: MapState::default(),
            strip: StripState::default(),
            variants: VariantsState::default(),
            start_up: StartUpState::default(),
            register: RegisterState::default(),
            head_path: HeadPathState::default(),
            presentation: PresentationState::default(),
            selection: Selection::default(),
            lessons: LessonList::default(),
            lesson: None,
            put_by: None,
            opening: None,
            notice: None,
            first_run: false,
            checks: (None, Vec::new()),
            hovered: None,
            lit: None,
            pointed: (None, Path::default(), Vec::new()),
            leaving: None,
            list_at_stake: false,
            notice_until: 0.0,
            moving_until: MOVING_FOR,
            flowing: (Flowing::default(), 0.0),
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

    /// What is selected on the drawing.
    #[must_use]
    pub fn selection(&self) -> &Selection {
        &self.selection
    }

    /// What a pane points at, lit on the drawing.
    #[must_use]
    pub fn lit(&self) -> Option<Place> {
        self.lit
    }

    /// One pass: paint, collect, carry out; paint again in the same frame if anything moved.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        let time = ctx.input(|i| i.time);
        self.now = time;
        let moving = self.advance_flow(&ctx, time);
        self.look_at_pointed();
        let (mut intents, mut asked) = (Vec::new(), Vec::new());
        let mut again = self.desk.poll(&self.units);
        let awaits =
            self.asks_for_part_load() && self.part_load.follow(&self.desk, ctx.input(|i| i.pointer.any_down()));
        self.awaits_part_load = awaits;
        if awaits || matches!(self.desk.standing(), Standing::Working(_)) {
            ctx.request_repaint_after(AWAITED);
        }
        if self.is_free() && !self.keeping.is_asking() {
            if ctx.input(|i| i.key_pressed(egui::Key::Escape)) {
                self.escape(&ctx, &mut asked);
            }
            frame::keys(&ctx, &mut asked);
            if self.lesson.is_some() {
                frame::lesson_keys(&ctx, &mut asked);
            }
            self.files.take_dropped(&ctx, &mut asked);
        }
        // What is half typed is in the document before that is saved or left.
        if !asked.is_empty() || ctx.input(|i| i.viewport().close_requested()) {
            frame::end_typing(&ctx);
        }
        self.look_over();
        self.follow_lesson(ctx.input(|i| i.pointer.any_down()));
        self.give_guess_the_keys(&ctx);
        self.paint(ui, &mut intents);
        self.table.show(&ctx, &self.units, &Palette::of(ctx.theme()), &mut intents);
        self.files.show(&ctx, self.desk.path(), &mut intents);
        self.search.show(&ctx, self.desk.project(), &mut intents);
        self.lessons.show(&ctx, &mut intents);
        self.balanced.show(&ctx, &self.desk, &self.units, &mut intents);
        self.pictures.dialog.show(&ctx, self.desk.pump().is_some(), &mut intents);
        self.records.show(&ctx, &mut intents);
        again |= self.watch_opening(&ctx);
        // What concerns the person's own project waits until the lesson is left.
        let free = self.leaving.is_none() && !self.files.is_asking() && self.lesson.is_none();
        self.keeping.show(&ctx, &self.desk, free, &mut intents);
        self.theme = ctx.theme();
        if self.notice.as_ref().is_some_and(Notice::passes) {
            if time > self.notice_until {
                self.notice = None;
            }
            ctx.request_repaint_after(Duration::from_millis(500));
        }

        let pointed_at =
            intents.iter().rev().find_map(|i| if let Intent::Hover(zone) = i { Some(*zone) } else { None });
        again |= pointed_at != self.hovered;
        self.hovered = pointed_at;
        let lit = intents.iter().rev().find_map(|i| if let Intent::PointAt(place) = i { Some(*place) } else { None });
        if std::mem::replace(&mut self.lit, lit) != lit {
            ctx.request_discard("what is pointed at lights up in the same frame");
            ctx.request_repaint();
        }
        for intent in intents.into_iter().chain(asked) {
            again |= self.carry_out(intent);
        }
        self.watch_leaving(&ctx);
        self.watch_pictures(&ctx);
        self.watch_records(&ctx);
        if again {
            self.forget_pointed();
            self.moving_until = time + MOVING_FOR;
            ctx.request_discard("results belong in the frame of their change");
            ctx.request_repaint();
        } else if moving {
            ctx.request_repaint_after(Duration::from_millis(33));
        }
        // What is played is one step, as a drag is.
        let plays = self.work == Work::Tune && self.strip.is_playing();
        if !ctx.input(|i| i.pointer.any_down()) && !plays {
            self.desk.settle();
        }
        self.keep_after_pass(&ctx);
        self.title(&ctx);
    }

    /// Makes the list of checks anew if anything it depends on has changed.
    fn look_over(&mut self) {
        let now = (self.desk.revision(), self.units);
        if self.checks.0 != Some(now) {
            self.checks = (Some(now), self.desk.checks(&self.units));
        }
    }

    /// Whether anything on screen tells of part load: without that nothing is probed.
    fn asks_for_part_load(&self) -> bool {
        let project = self.desk.project();
        let shows = self.above == Above::Map || matches!(self.below, Below::Margins | Below::Year | Below::Variants);
        let shows = shows && !self.presentation.is_on();
        self.work == Work::Tune && (shows || !project.scenarios.is_empty() || !project.variants.is_empty())
    }

    /// Whether nothing lies over the panes that wants an answer.
    fn is_free(&self) -> bool {
        self.leaving.is_none()
            && !self.files.is_asking()
            && self.opening.is_none()
            && !self.table.is_open()
            && !self.lessons.is_open()
    }

    /// Takes away what lies on top: a notice, the help of the presentation, the presentation.
    fn escape(&mut self, ctx: &egui::Context, asked: &mut Vec<Intent>) {
        let had_notice = self.notice.take().is_some();
        let is_on_top = self.presentation.is_on() && !frame::is_covered(ctx) && !had_notice;
        if is_on_top && !self.presentation.close_help() {
            asked.push(Intent::Present);
        }
    }

    /// Moves the arrows for a while after each change, and all the time while presenting; else the window rests.
    fn advance_flow(&mut self, ctx: &egui::Context, time: f64) -> bool {
        if self.presentation.poll() {
            ctx.request_repaint_after(AWAITED);
        }
        let moving = (time < self.moving_until || self.presentation.is_on()) && !self.presentation.is_still();
        let since = std::mem::replace(&mut self.flowing.1, time);
        if moving {
            self.flowing.0.advance(self.desk.study().results(), (time - since).clamp(0.0, LONGEST_STEP));
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
        let mark = if self.desk.is_changed() && self.lesson.is_none() { " (changed)" } else { "" };
        let title = format!("{}{mark} – Headwise", self.desk.project().title);
        if self.shown_title != title {
            self.shown_title.clone_from(&title);
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title));
        }
    }
}

impl eframe::App for Window {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.show(ui);
    }

    fn save(&mut self, storage: &mut dyn eframe::Storage) {
        self.keep(storage);
    }
}

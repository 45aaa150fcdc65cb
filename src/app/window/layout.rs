//! Where the panes lie: the sheet in the middle; beside it the curves while tuning, the shelf and the inspector while drawing. While
//! presenting all of them give way.

use super::super::checklist::Checklist;
use super::super::curves::CurvesState;
use super::super::drawing::DrawingState;
use super::super::head_path::HeadPathState;
use super::super::inspector::InspectorState;
use super::super::lesson::{self, LessonAtWork};
use super::super::look::{self, Palette};
use super::super::register::RegisterState;
use super::super::start_up::StartUpState;
use super::super::variants::VariantsState;
use super::super::view::{Above, Below, Intent, View, Work};
use super::super::{
    below, checklist, curves, drawing, frame, head_path, inspector, map, margins, presentation, register,
    scenario_strip, settings, shelf, start_up, variants, year, zones,
};
use super::Window;
use crate::lesson::Look;
use egui::{Panel, Rect, Ui};

/// Width of the shelf, and least and greatest width of the inspector, points.
const SHELF: f32 = 184.0;
const INSPECTOR: std::ops::RangeInclusive<f32> = 330.0..=420.0;

/// Height of the row that says what stands below the sheet, points.
const CHOICES: f32 = 32.0;

/// Share of a window's height that a lesson takes at most of what is presented.
const MOST_OF_LESSON: f32 = 0.34;

/// How large its type then is beside its strip: the step's text has room without being scrolled.
const TYPE_OF_LESSON: f32 = 0.84;

/// What the panes below the sheet remember.
type BelowStates<'a> = (&'a mut HeadPathState, &'a mut VariantsState, &'a mut StartUpState, &'a mut RegisterState);

/// What the panes beside the sheet remember while drawing.
type DrawStates<'a> = (&'a mut DrawingState, &'a mut Checklist, &'a mut InspectorState);

impl Window {
    pub(super) fn paint(&mut self, ui: &mut Ui, intents: &mut Vec<Intent>) {
        let palette = Palette::of(ui.ctx().theme());
        let presents = self.presentation.is_on();
        let units = self.presentation.units(&self.units);
        let tunes = self.work == Work::Tune && !presents;
        let view = View {
            project: self.desk.project(),
            study: self.desk.study(),
            results: self.desk.study().results(),
            units: &units,
            palette,
            pump: self.desk.pump(),
            hovered: self.hovered,
            path: &self.pointed.1,
            alone: &self.pointed.2,
            flowing: &self.flowing.0,
            work: self.work,
            standing: self.desk.standing(),
            checks: &self.checks.1,
            selection: &self.selection,
            below: if tunes { self.below } else { self.below.while_drawing() },
            lit: self.lit,
            revision: self.desk.revision(),
            scenario: self.strip.present(self.desk.project()),
            above: if tunes { self.above } else { Above::Drawing },
            // A lesson's system runs nowhere.
            first_run: self.first_run && self.lesson.is_none(),
            presents,
            scale: self.presentation.scale(ui.available_size()),
            part_load: &self.part_load,
            lesson: self.lesson.as_ref().map(LessonAtWork::shown),
        };
        let size = ui.available_size();
        if let Some(notice) = &self.notice {
            frame::notice(ui.ctx(), &view, notice, intents);
        }
        if presents {
            // What takes its room first takes it from all that is presented.
            if let Some(lesson) = &self.lesson {
                lesson_presented(ui, &view, lesson, size.y, intents);
            }
            presentation::show(ui, &view, &mut self.presentation, &mut self.drawing, &mut self.curves, intents);
            return;
        }
        frame::header(ui, &view, &self.desk, intents);
        if let Some(lesson) = &self.lesson {
            let ground = frame::pane(&palette).fill(look::between(palette.ground, palette.accent, 0.07));
            let strip = Panel::top("lesson").resizable(false).exact_size(lesson::height(size.y)).frame(ground);
            strip.show(ui, |ui| lesson::panel(ui, &view, lesson, 1.0, intents));
        }
        let sentence = frame::sentence(ui, &view, self.desk.last_change(), intents);
        point_out(ui, &view, Look::Sentence, sentence);
        let pane = frame::pane(&palette);
        if view.work == Work::Tune && view.lesson.is_none_or(|shown| shown.keeps_strip) {
            let strip = scenario_strip::show(ui, &view, &mut self.strip, intents);
            point_out(ui, &view, Look::Scenarios, strip);
        }
        match view.work {
            Work::Tune => tune_beside(ui, &view, size.x, &mut self.curves, intents),
            Work::Draw => {
                let states = (&mut self.drawing, &mut self.checklist, &mut self.inspector);
                draw_beside(ui, &view, size.x, states, intents);
            }
        }
        let lower = Panel::bottom("zones").resizable(false).exact_size(lower_height(&view, size.y)).frame(pane);
        let lower = lower.show(ui, |ui| {
            below::choose(ui, &view, intents);
            fade(ui, &view);
            let states = (&mut self.head_path, &mut self.variants, &mut self.start_up, &mut self.register);
            show_below(ui, &view, states, intents);
        });
        point_out(ui, &view, Look::Zones, lower.response.rect.shrink(2.0));
        let sheet = egui::CentralPanel::default().frame(pane).show(ui, |ui| {
            if tunes {
                below::choose_above(ui, &view, intents);
            }
            match view.above {
                Above::Drawing => drawing::show(ui, &view, &mut self.drawing, intents),
                Above::Map => map::show(ui, &view, &mut self.map, intents),
            }
        });
        point_out(ui, &view, Look::Drawing, sheet.response.rect.shrink(2.0));
    }
}

/// Settings and curves, beside the sheet while tuning.
fn tune_beside(ui: &mut Ui, view: &View<'_>, window: f32, curves: &mut CurvesState, intents: &mut Vec<Intent>) {
    let width = (0.45 * window).clamp(470.0, 1000.0);
    let pane = frame::pane(&view.palette);
    let beside = Panel::right("curves and settings").resizable(false).exact_size(width).frame(pane);
    beside.show(ui, |ui| {
        fade(ui, view);
        let settings = ui.scope(|ui| settings::show(ui, view, intents)).response.rect;
        point_out(ui, view, Look::Settings, settings.expand(3.0));
        curves::show(ui, view, curves, intents);
    });
}

/// The shelf at one side of the sheet, checks and inspector at the other, while drawing.
fn draw_beside(
    ui: &mut Ui,
    view: &View<'_>,
    window: f32,
    (drawing, checklist, inspector): DrawStates<'_>,
    intents: &mut Vec<Intent>,
) {
    let pane = frame::pane(&view.palette);
    let shelf = Panel::left("shelf").resizable(false).exact_size(SHELF).frame(pane);
    shelf.show(ui, |ui| shelf::show(ui, view, drawing, intents));
    let width = (0.27 * window).clamp(*INSPECTOR.start(), *INSPECTOR.end());
    let beside = Panel::right("inspector and checks").resizable(false).exact_size(width).frame(pane);
    beside.show(ui, |ui| {
        checklist::show(ui, view, checklist, intents);
        inspector::show(ui, view, view.selection, inspector, intents);
    });
}

/// What was chosen to stand below the sheet.
fn show_below(
    ui: &mut Ui,
    view: &View<'_>,
    (head_path, variants, start_up, register): BelowStates<'_>,
    intents: &mut Vec<Intent>,
) {
    match view.below {
        Below::Zones => zones::show(ui, view, intents),
        Below::Margins => margins::show(ui, view, intents),
        Below::HeadPath => head_path::show(ui, view, head_path, intents),
        Below::Year => year::show(ui, view, intents),
        Below::Variants => variants::show(ui, view, variants, intents),
        Below::StartUp => start_up::show(ui, view, start_up, intents),
        Below::Register => register::show(ui, view, register, intents),
    }
}

/// A lesson's strip at the foot of what is presented, in type as large as its share of the window lets it be.
fn lesson_presented(ui: &mut Ui, view: &View<'_>, lesson: &LessonAtWork, window: f32, intents: &mut Vec<Intent>) {
    let at_work = lesson::height(window);
    let height = (at_work * view.scale).min(MOST_OF_LESSON * window);
    let ground = frame::pane(&view.palette).fill(look::between(view.palette.ground, view.palette.accent, 0.07));
    let strip = Panel::bottom("lesson while presenting").resizable(false).exact_size(height).frame(ground);
    strip.show(ui, |ui| lesson::panel(ui, view, lesson, TYPE_OF_LESSON * height / at_work, intents));
}

/// Height of the pane below the sheet. While tuning it is one and the same, so that nothing jumps when another thing is shown there.
fn lower_height(view: &View<'_>, height: f32) -> f32 {
    if view.work == Work::Tune && view.lesson.is_none() {
        return (0.37 * height).max(91.0);
    }
    if view.lesson.is_some() {
        // A lesson takes its place from what the zones do not need.
        return (zones::height(view.project.zones.len()) + CHOICES).min(0.37 * height).max(91.0);
    }
    // With a row of words to choose from.
    let most = (0.3 * height).max(121.0);
    if view.below == Below::Zones {
        return (zones::height(view.project.zones.len()) + 30.0).clamp(120.0, most);
    }
    most
}

/// A ring about a part of the window that a lesson points out.
fn point_out(ui: &Ui, view: &View<'_>, look: Look, part: Rect) {
    if view.points_out(look) {
        lesson::ring::about(ui.painter(), &view.palette, part);
    }
}

/// Results of an earlier drawing are grey.
fn fade(ui: &mut Ui, view: &View<'_>) {
    if view.is_stale() {
        ui.set_opacity(look::OLD);
    }
}

//! The strip of scenarios: each with its hours and how many zones it leaves outside their band, to be entered, stepped through or
//! played; at its end what the year takes.

use super::look::{self, STEP, size};
use super::term_card::TermCard;
use super::view::{Intent, ProjectPart, View};
use crate::document::{Command, Project, Scenario};
use crate::engine::units::Quantity;
use crate::study::terms::Term;
use egui::{
    self, Align, Align2, Button, Layout, Margin, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind, Ui, vec2,
};
use std::time::Duration;

/// How long each scenario stays while they are played, seconds.
const STAYS: f64 = 1.8;
/// Height of the strip and of a scenario in it, points.
const HEIGHT: f32 = 50.0;
const CHIP: f32 = 38.0;
/// Least and greatest width of a scenario, points.
const WIDTHS: std::ops::RangeInclusive<f32> = 92.0..=178.0;

/// What the strip remembers between passes.
#[derive(Debug, Default)]
pub(super) struct StripState {
    /// When the next scenario is entered, while they are played.
    next_at: Option<f64>,
    /// The scenario that was entered last: where several are alike it tells which.
    entered: Option<usize>,
    /// The scenario that was brought into sight last.
    seen: Option<usize>,
}

impl StripState {
    /// Whether scenarios are being played.
    pub(super) fn is_playing(&self) -> bool {
        self.next_at.is_some()
    }

    /// Ends playing.
    pub(super) fn stop(&mut self) {
        self.next_at = None;
    }

    /// Notes which scenario was entered.
    pub(super) fn entered(&mut self, index: usize) {
        self.entered = Some(index);
    }

    /// The scenario that the valves and the weather stand in, if any: of several that are alike the one that was entered.
    pub(super) fn present(&self, project: &Project) -> Option<usize> {
        let is_here = |scenario: &Scenario| project.stands_in(scenario);
        let entered = self.entered.filter(|index| project.scenarios.get(*index).is_some_and(is_here));
        entered.or_else(|| project.scenarios.iter().position(is_here))
    }
}

/// Shows the strip; returns where it stands.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut StripState, intents: &mut Vec<Intent>) -> Rect {
    let frame = egui::Frame::NONE.fill(view.palette.ground).inner_margin(Margin::symmetric(3 * STEP as i8, 6));
    let panel = egui::Panel::top("scenarios").resizable(false).exact_size(HEIGHT).frame(frame);
    let shown = panel.show(ui, |ui| {
        let count = view.project.scenarios.len();
        if count == 0 {
            state.next_at = None;
            none(ui, view, intents);
            return;
        }
        let here = view.scenario;
        let after = here.map_or(0, |at| (at + 1) % count);
        play(ui, state, after, intents);
        ui.horizontal_centered(|ui| {
            let button = |ui: &mut Ui, word: &str, hint: &str| ui.add(Button::new(word)).on_hover_text(hint).clicked();
            if button(ui, "Back", "The scenario before") {
                state.next_at = None;
                let before = here.map_or(count - 1, |at| (at + count - 1) % count);
                intents.push(Intent::Change(Command::EnterScenario(before)));
            }
            let word = if state.is_playing() { "Pause" } else { "Play" };
            if button(ui, word, "Goes through all scenarios, one after the other") {
                state.next_at = if state.is_playing() { None } else { Some(0.0) };
            }
            if button(ui, "Next", "The scenario after") {
                state.next_at = None;
                intents.push(Intent::Change(Command::EnterScenario(after)));
            }
            let words = year_words(view);
            let width = (ui.available_width() - year_width(ui, &words) - 3.0 * STEP).max(120.0);
            ui.allocate_ui_with_layout(vec2(width, CHIP), Layout::left_to_right(Align::Center), |ui| {
                ScrollArea::horizontal().auto_shrink(false).show(ui, |ui| {
                    ui.spacing_mut().item_spacing.x = STEP;
                    for index in 0..count {
                        chip(ui, view, state, index, here, intents);
                    }
                });
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| year(ui, view, &words));
        });
    });
    shown.response.rect
}

/// Enters the next scenario when its time has come.
fn play(ui: &Ui, state: &mut StripState, after: usize, intents: &mut Vec<Intent>) {
    let Some(next_at) = state.next_at else { return };
    let now = ui.input(|i| i.time);
    if now >= next_at {
        intents.push(Intent::Change(Command::EnterScenario(after)));
        state.next_at = Some(now + STAYS);
    }
    let rest = (state.next_at.unwrap_or(now) - now).max(0.0);
    ui.ctx().request_repaint_after(Duration::from_secs_f64(rest));
}

/// What stands there without scenarios.
fn none(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    ui.horizontal_centered(|ui| {
        let words =
            "No scenario yet: states of the zone valves with their hours a year show part load and the year's energy.";
        ui.label(RichText::new(words).color(view.palette.quiet));
        if ui.button("Make scenarios").on_hover_text("Goes to the project's scenarios in Draw").clicked() {
            intents.push(Intent::ShowFigures(ProjectPart::Scenarios));
        }
    });
}

/// One scenario: its name; below it hours and how many zones are outside their band.
fn chip(
    ui: &mut Ui,
    view: &View<'_>,
    state: &mut StripState,
    index: usize,
    here: Option<usize>,
    intents: &mut Vec<Intent>,
) {
    let palette = &view.palette;
    let scenario = &view.project.scenarios[index];
    let galley = ui.painter().layout_no_wrap(scenario.name.clone(), look::strong(size::SMALL), palette.ink);
    let hours = format!("{:.0} h", scenario.hours_per_year);
    let below = ui.painter().layout_no_wrap(format!("{hours}  served !"), look::font(size::SMALL), palette.ink);
    let width = (galley.size().x.max(below.size().x + 6.0) + 18.0).clamp(*WIDTHS.start(), *WIDTHS.end());
    let (rect, response) = ui.allocate_exact_size(vec2(width, CHIP), Sense::click());
    let is_here = here == Some(index);
    let outside = view.part_load.present().and_then(|present| present.outside.get(index)).map(|outside| outside.counts);
    let (mut below, color) = state_words(view, outside);
    let mut told = match outside {
        Some([starved, over]) if starved + over > 0 => format!("{starved} starved, {over} overflowed"),
        _ => below.clone(),
    };
    if view.part_load.present().is_some_and(|present| present.sources_short.contains(&index)) {
        below.push_str(" !");
        told.push_str("; a source has less than its minimum flow");
    }
    response.widget_info(|| {
        egui::WidgetInfo::selected(
            egui::Role::RadioButton,
            true,
            is_here,
            format!("{}, {hours}, {told}", scenario.name),
        )
    });
    let fill = if is_here { look::between(palette.raised, palette.accent, 0.25) } else { palette.raised };
    let edge = if is_here || response.hovered() || response.has_focus() { palette.accent } else { palette.rule };
    ui.painter().rect(rect, 5, fill, Stroke::new(if is_here { 1.5 } else { 1.0 }, edge), StrokeKind::Inside);
    let mut job =
        egui::text::LayoutJob::simple_singleline(scenario.name.clone(), look::strong(size::SMALL), palette.ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(width - 14.0);
    let name = ui.painter().layout_job(job);
    ui.painter().galley(rect.min + vec2(8.0, 4.0), name, palette.ink);
    let small = look::font(size::SMALL);
    let at = rect.left_bottom() + vec2(8.0, -4.0);
    let hours = ui.painter().text(at, Align2::LEFT_BOTTOM, hours, small.clone(), palette.quiet);
    let at = hours.right_bottom() + vec2(8.0, 0.0);
    ui.painter().with_clip_rect(rect.shrink(3.0)).text(at, Align2::LEFT_BOTTOM, &below, small, color);
    if is_here && state.seen != Some(index) {
        state.seen = Some(index);
        response.scroll_to_me(None);
    }
    let told = format!("{}: {told}", scenario.name);
    TermCard::new(view, Term::Scenario).hint(&told).on(&response);
    if response.clicked() {
        state.next_at = None;
        intents.push(Intent::Change(Command::EnterScenario(index)));
    }
}

/// "▼ 1  ▲ 2": zones with too little and too much.
fn state_words(view: &View<'_>, outside: Option<[usize; 2]>) -> (String, egui::Color32) {
    let palette = &view.palette;
    if view.part_load.is_old() {
        return ("…".to_owned(), palette.quiet);
    }
    match outside {
        None => ("…".to_owned(), palette.quiet),
        Some([0, 0]) => ("served".to_owned(), palette.served),
        Some([starved, 0]) => (format!("▼ {starved}"), palette.starved),
        Some([0, over]) => (format!("▲ {over}"), palette.overflowed),
        Some([starved, over]) => (format!("▼ {starved}  ▲ {over}"), palette.starved),
    }
}

/// The year in one or two lines: energy, and money and CO₂ where the user has said what they cost.
fn year_words(view: &View<'_>) -> [String; 2] {
    let Some(present) = view.part_load.present() else { return [String::new(), String::new()] };
    if view.pump_result().is_some_and(|pump| !pump.running) {
        return [view.units.format(Quantity::Energy, present.year.total_j()), "as if the circulator ran".to_owned()];
    }
    if present.year.hours <= 0.0 {
        let mean = view.units.format(Quantity::Power, present.mean_w);
        return [mean, "mean, no hours given".to_owned()];
    }
    let energy_j = present.year.total_j();
    let more: Vec<String> = super::year::costs(&view.project.energy, energy_j).into_iter().flatten().collect();
    let more = if more.is_empty() { "a year, all pumps".to_owned() } else { more.join(" · ") };
    [view.units.format(Quantity::Energy, energy_j), more]
}

fn year_width(ui: &Ui, words: &[String; 2]) -> f32 {
    let width = |text: &str, font| ui.painter().layout_no_wrap(text.to_owned(), font, egui::Color32::BLACK).size().x;
    width(&words[0], look::strong(size::LEAD)).max(width(&words[1], look::font(size::SMALL))).max(84.0)
}

fn year(ui: &mut Ui, view: &View<'_>, words: &[String; 2]) {
    let width = year_width(ui, words);
    let (rect, response) = ui.allocate_exact_size(vec2(width, CHIP), Sense::hover());
    let old = view.part_load.is_old();
    let ink = if old { view.palette.quiet } else { view.palette.ink };
    let painter = ui.painter();
    let place = |at: Rect, align: Align2| align.pos_in_rect(&at);
    painter.text(place(rect, Align2::RIGHT_TOP), Align2::RIGHT_TOP, &words[0], look::strong(size::LEAD), ink);
    let small = look::font(size::SMALL);
    painter.text(place(rect, Align2::RIGHT_BOTTOM), Align2::RIGHT_BOTTOM, &words[1], small, view.palette.quiet);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, format!("{} {}", words[0], words[1])));
    let hint = "Electric energy of all circulators at the present settings over the hours of all scenarios, with standing by for \
                the rest of the year where the project counts it.";
    TermCard::new(view, Term::YearEnergy).hint(hint).on(&response);
}

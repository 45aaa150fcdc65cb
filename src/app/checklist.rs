//! The checks while drawing: one line for each, with a click to go there; the one that is open says beneath what it means and
//! what helps. Of many notes alike one line is shown until it is opened.

use super::drawing::mark_of;
use super::look::{self, STEP, size};
use super::view::{Intent, View};
use crate::problems::{Check, Place, Severity};
use egui::{self, Panel, RichText, ScrollArea, Sense, Ui};

/// What the list remembers.
#[derive(Debug, Default)]
pub(super) struct Checklist {
    /// Place and heading of the check that is open.
    open: Option<(Place, &'static str)>,
    /// The heading whose notes are all shown.
    unfolded: Option<&'static str>,
}

/// Height of a line, points.
const ROW: f32 = 22.0;
/// So many notes alike stand in the list one by one.
const ALIKE: usize = 2;

/// A line of the list.
enum Line<'a> {
    One(&'a Check),
    /// Several notes of one heading.
    Many(&'a Check, usize),
}

/// Shows the list at the foot of the column.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, list: &mut Checklist, intents: &mut Vec<Intent>) {
    let lines = lines(view.checks, list.unfolded);
    let has_open = view.checks.iter().any(|check| list.open == Some((check.place, check.heading)));
    let wanted = 56.0 + ROW * lines.len() as f32 + if has_open { 100.0 } else { 0.0 };
    let most = (0.36 * ui.available_height()).max(110.0);
    let frame = egui::Frame::NONE.fill(view.palette.ground);
    let panel = Panel::bottom("checks").resizable(false).frame(frame).exact_size(wanted.min(most));
    panel.show(ui, |ui| {
        ui.add_space(2.0 * STEP);
        let heading = match view.checks.len() {
            0 => "Nothing to look at".to_owned(),
            1 => "1 thing to look at".to_owned(),
            many => format!("{many} things to look at"),
        };
        ui.label(RichText::new(heading).font(look::strong(size::BODY)));
        ui.spacing_mut().item_spacing.y = 0.0;
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            for line in &lines {
                match line {
                    Line::One(check) => one(ui, view, check, list, intents),
                    Line::Many(first, count) => many(ui, view, first, *count, list),
                }
            }
        });
    });
}

/// The lines: notes alike are folded into one, unless they are unfolded or few.
fn lines<'a>(checks: &'a [Check], unfolded: Option<&'static str>) -> Vec<Line<'a>> {
    let alike = |check: &Check| {
        let same = |other: &&Check| other.severity == Severity::Note && other.heading == check.heading;
        if check.severity == Severity::Note { checks.iter().filter(same).count() } else { 0 }
    };
    let mut told: Vec<&'static str> = Vec::new();
    let mut lines = Vec::new();
    for check in checks {
        if check.severity == Severity::Note && told.contains(&check.heading) {
            if unfolded == Some(check.heading) {
                lines.push(Line::One(check));
            }
            continue;
        }
        let count = alike(check);
        if count > ALIKE {
            told.push(check.heading);
            lines.push(Line::Many(check, count));
            if unfolded == Some(check.heading) {
                lines.push(Line::One(check));
            }
        } else {
            lines.push(Line::One(check));
        }
    }
    lines
}

/// What the open check says: what is so, what it means, what helps.
fn words(ui: &mut Ui, view: &View<'_>, check: &Check) {
    let frame = egui::Frame::NONE.fill(view.palette.raised).corner_radius(5).inner_margin(2.0 * STEP);
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.spacing_mut().item_spacing.y = STEP;
        for (words, is_quiet) in [(&check.what, false), (&check.meaning, true), (&check.remedy, false)] {
            if !words.is_empty() {
                let color = if is_quiet { view.palette.quiet } else { view.palette.ink };
                ui.label(RichText::new(words).size(size::SMALL).color(color));
            }
        }
    });
}

/// A line to click on.
fn line(ui: &mut Ui, view: &View<'_>, severity: Severity, text: String, is_open: bool, told: &str) -> egui::Response {
    let (mark, color) = mark_of(view, severity);
    let (rect, response) = ui.allocate_exact_size(egui::vec2(ui.available_width(), ROW), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, told));
    if !ui.is_rect_visible(rect) {
        return response;
    }
    if is_open || response.hovered() || response.has_focus() {
        let edge = if response.has_focus() { view.palette.accent } else { view.palette.raised };
        let stroke = egui::Stroke::new(1.0, edge);
        ui.painter().rect(rect, 4, view.palette.raised, stroke, egui::StrokeKind::Inside);
    }
    let mut job = egui::text::LayoutJob::simple_singleline(text, look::font(size::SMALL + 0.5), view.palette.ink);
    job.wrap = egui::text::TextWrapping::truncate_at_width(rect.width() - 24.0);
    let galley = ui.painter().layout_job(job);
    let mark_at = rect.left_center() + egui::vec2(9.0, 0.0);
    ui.painter().text(mark_at, egui::Align2::CENTER_CENTER, mark, look::strong(size::SMALL), color);
    let at = egui::pos2(rect.left() + 20.0, rect.center().y - 0.5 * galley.size().y);
    ui.painter().galley(at, galley, view.palette.ink);
    response.on_hover_cursor(egui::CursorIcon::PointingHand)
}

fn one(ui: &mut Ui, view: &View<'_>, check: &Check, list: &mut Checklist, intents: &mut Vec<Intent>) {
    let key = (check.place, check.heading);
    let is_open = list.open == Some(key);
    let told = format!("{}: {}", check.title, check.text());
    let text = format!("{} · {}", check.heading, check.title);
    let response = line(ui, view, check.severity, text, is_open, &told).on_hover_text(&check.what);
    if response.clicked() {
        list.open = if is_open { None } else { Some(key) };
        intents.push(Intent::GoTo(check.place));
    }
    if is_open {
        words(ui, view, check);
    }
}

fn many(ui: &mut Ui, view: &View<'_>, first: &Check, count: usize, list: &mut Checklist) {
    let is_open = list.unfolded == Some(first.heading);
    let text = format!("{} · {count} places {}", first.heading, if is_open { "▲" } else { "▼" });
    let told = format!("{}, {count} places", first.heading);
    if line(ui, view, first.severity, text, is_open, &told).clicked() {
        list.unfolded = if is_open { None } else { Some(first.heading) };
    }
}

//! The checks while drawing: one line for each, with a click to go there; the one that is open says what it means and what
//! helps.

use super::drawing::mark_of;
use super::look::{self, STEP, size};
use super::view::{Intent, View};
use crate::problems::{Check, Place};
use egui::{self, Panel, RichText, ScrollArea, Sense, Ui};

/// What the list remembers.
#[derive(Debug, Default)]
pub(super) struct Checklist {
    /// Place and heading of the check that is open.
    open: Option<(Place, &'static str)>,
}

/// Height of a line, points.
const ROW: f32 = 22.0;

/// Shows the list at the foot of the column.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, list: &mut Checklist, intents: &mut Vec<Intent>) {
    let most = 0.42 * ui.available_height();
    let open = view.checks.iter().find(|check| list.open == Some((check.place, check.heading)));
    let wanted = 46.0 + ROW * view.checks.len() as f32 + if open.is_some() { 90.0 } else { 0.0 };
    let frame = egui::Frame::NONE;
    let panel = Panel::bottom("checks").resizable(false).frame(frame).exact_size(wanted.min(most.max(90.0)));
    panel.show(ui, |ui| {
        ui.add_space(2.0 * STEP);
        let heading = match view.checks.len() {
            0 => "Nothing to look at".to_owned(),
            1 => "1 thing to look at".to_owned(),
            many => format!("{many} things to look at"),
        };
        ui.label(RichText::new(heading).font(look::strong(size::BODY)));
        if let Some(check) = open {
            words(ui, view, check);
        }
        ui.spacing_mut().item_spacing.y = 0.0;
        ScrollArea::vertical().auto_shrink(false).show_rows(ui, ROW, view.checks.len(), |ui, rows| {
            for check in view.checks.get(rows).unwrap_or_default() {
                row(ui, view, check, list, intents);
            }
        });
    });
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

fn row(ui: &mut Ui, view: &View<'_>, check: &Check, list: &mut Checklist, intents: &mut Vec<Intent>) {
    let (mark, color) = mark_of(view, check.severity);
    let key = (check.place, check.heading);
    let (rect, response) = ui.allocate_exact_size(egui::vec2(ui.available_width(), ROW), Sense::click());
    let told = format!("{}: {}", check.title, check.text());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &told));
    let is_open = list.open == Some(key);
    if is_open || response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 4, view.palette.raised);
    }
    let line = |text: String, font: egui::FontId, color: egui::Color32| {
        let mut job = egui::text::LayoutJob::simple_singleline(text, font, color);
        job.wrap = egui::text::TextWrapping::truncate_at_width(rect.width() - 24.0);
        ui.painter().layout_job(job)
    };
    let text = format!("{} · {}", check.heading, check.title);
    let galley = line(text, look::font(size::SMALL + 0.5), view.palette.ink);
    let mark_at = rect.left_center() + egui::vec2(9.0, 0.0);
    ui.painter().text(mark_at, egui::Align2::CENTER_CENTER, mark, look::strong(size::SMALL), color);
    let at = egui::pos2(rect.left() + 20.0, rect.center().y - 0.5 * galley.size().y);
    ui.painter().galley(at, galley, view.palette.ink);
    if response.clicked() {
        list.open = if is_open { None } else { Some(key) };
        intents.push(Intent::GoTo(check.place));
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text(&check.what);
}

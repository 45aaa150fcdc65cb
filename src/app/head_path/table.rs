//! The stair itself: headings, the pump's head, a row for every step, and what they come to together.

use super::super::look::{self, STEP, size};
use super::super::term_card;
use super::super::view::{Intent, View};
use super::bars::{self, Axis};
use super::columns::{Columns, GAP, Widths};
use super::rows::Row;
use crate::document::ZoneId;
use crate::engine::units::Quantity;
use crate::problems::Place;
use crate::study::terms::Term;
use crate::study::{HeadPath, HeadStep};
use egui::text::{LayoutJob, TextWrapping};
use egui::{self, Align2, Color32, Pos2, Rangef, Rect, ScrollArea, Sense, Stroke, Ui, pos2, vec2};

const ROW: f32 = 22.0;

/// Width of what is told beside a row: there is room for it at the right of the pane.
const TOLD: f32 = 300.0;

/// Rows up to which all are laid out, those scrolled out of sight too, so that the keyboard reaches them.
const ALL_ROWS: usize = 200;

/// All that the rows are painted from.
struct Stair<'a> {
    view: &'a View<'a>,
    first: &'a HeadPath,
    second: Option<&'a HeadPath>,
    /// What is spent before and after each step of either.
    spent: [Vec<[f64; 2]>; 2],
    axis: Axis,
    widths: Widths,
}

/// Shows the stair.
pub(super) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    first: &HeadPath,
    second: Option<&HeadPath>,
    rows: &[Row],
    intents: &mut Vec<Intent>,
) {
    let spent = [bars::spent(first), second.map_or(Vec::new(), bars::spent)];
    let axis = Axis::new([Some(first), second].into_iter().flatten().zip(&spent));
    let stair = Stair { view, first, second, axis, widths: Widths::new(ui, view, first, second), spent };
    ui.spacing_mut().item_spacing.y = 0.0;
    stair.headings(ui);
    ScrollArea::vertical().id_salt("steps of the head path").auto_shrink(false).show(ui, |ui| {
        stair.pump(ui, intents);
        for row in rows {
            let here = Rect::from_min_size(ui.cursor().min, vec2(1.0, ROW));
            if rows.len() > ALL_ROWS && !ui.is_rect_visible(here) {
                ui.add_space(ROW);
            } else {
                stair.step(ui, *row, intents);
            }
        }
        stair.sum(ui);
    });
}

impl Stair<'_> {
    fn units(&self) -> &crate::engine::units::Units {
        self.view.units
    }

    fn pressure(&self, pa: f64) -> String {
        self.units().format(Quantity::Pressure, pa)
    }

    /// A line of the table: its place, and where its columns lie.
    fn line(&self, ui: &mut Ui, sense: Sense) -> (Rect, Columns, egui::Response) {
        let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), sense);
        (rect, Columns::new(rect, self.widths), response)
    }

    fn headings(&self, ui: &mut Ui) {
        let (rect, at, _) = self.line(ui, Sense::hover());
        let palette = &self.view.palette;
        let y = rect.center().y;
        let font = || look::font(size::SMALL);
        let write =
            |x: f32, align: Align2, text: &str| ui.painter().text(pos2(x, y), align, text, font(), palette.quiet);
        let explain = |rect: Rect, term: Term| {
            term_card::word(ui, rect, &format!("head path {}", rect.left()), self.view, term);
        };
        explain(write(at.name, Align2::LEFT_CENTER, "Step"), Term::HeadPath);
        let most = self.units().format(Quantity::Head, self.first.head_m);
        let head = write(at.bar.0, Align2::LEFT_CENTER, &format!("{most} left"));
        explain(head, Term::Head);
        let end = head.right();
        let zero = self.axis.x(at.bar, self.first.head_pa);
        if zero - end > 24.0 {
            write(zero, Align2::RIGHT_CENTER, "none");
        }
        explain(write(at.drop, Align2::RIGHT_CENTER, "takes"), Term::PressureDrop);
        explain(write(at.share, Align2::RIGHT_CENTER, "share"), Term::HeadPath);
        if let Some(x) = at.left {
            explain(write(x, Align2::RIGHT_CENTER, "left"), Term::Head);
        }
        if let Some(x) = at.beside {
            let words = write(x, Align2::RIGHT_CENTER, "beside");
            let swatch = Rect::from_center_size(pos2(words.left() - 10.0, y), vec2(12.0, 6.0));
            bars::hatched(ui.painter(), swatch, palette.beside);
        }
    }

    /// What the pump gives: the head at the top of the stair.
    fn pump(&self, ui: &mut Ui, intents: &mut Vec<Intent>) {
        let (view, first) = (self.view, self.first);
        let (rect, at, response) = self.line(ui, Sense::focusable_noninteractive());
        let name = view.project.components.get(&first.pump).map_or("", |pump| pump.name.as_str());
        let (head, pressure) = (self.units().format(Quantity::Head, first.head_m), self.pressure(first.head_pa));
        self.point(ui, rect, &response, Place::Component(first.pump), first.zone, intents);
        self.name(ui, rect, &at, &format!("{name} gives"), true, view.palette.ink);
        let whole = |path: &HeadPath| Rangef::new(self.axis.x(at.bar, 0.0), self.axis.x(at.bar, path.head_pa));
        let [above, below] = self.lanes(rect);
        let ink = Stroke::new(1.5, view.palette.ink);
        for (path, y) in [Some((first, above)), self.second.map(|path| (path, below))].into_iter().flatten() {
            let (x, y) = (whole(path), y.center());
            ui.painter().hline(x, y, ink);
            for end in [x.min, x.max] {
                ui.painter().vline(end, Rangef::new(y - 3.0, y + 3.0), ink);
            }
        }
        self.figure(ui, at.drop, rect, &pressure, view.palette.ink);
        self.figure(ui, at.share, rect, &self.units().format(Quantity::Share, 1.0), view.palette.ink);
        if let Some(x) = at.left {
            self.figure(ui, x, rect, &head, view.palette.quiet);
        }
        if let (Some(x), Some(second)) = (at.beside, self.second) {
            self.figure(ui, x, rect, &self.pressure(second.head_pa), view.palette.ink);
        }
        let words = format!("{name} gives {head}, {pressure}");
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
        tell(&response, words);
    }

    /// A row: the step of one path or of both.
    fn step(&self, ui: &mut Ui, row: Row, intents: &mut Vec<Intent>) {
        let mine = row.first.and_then(|i| Some((self.first.steps.get(i)?, *self.spent[0].get(i)?)));
        let other = row.second.and_then(|i| Some((self.second?.steps.get(i)?, *self.spent[1].get(i)?)));
        let (Some((step, _)), palette) = (mine.or(other), &self.view.palette) else { return };
        let zone = if mine.is_some() { self.first.zone } else { self.second.map_or(self.first.zone, |path| path.zone) };
        let (rect, at, response) = self.line(ui, Sense::focusable_noninteractive());
        self.point(ui, rect, &response, step.place, zone, intents);
        let rise = if step.is_rise() { ", rise" } else { "" };
        let ink = if mine.is_some() { palette.ink } else { palette.quiet };
        self.name(ui, rect, &at, &format!("{}{rise}", step.name), false, ink);
        let [above, below] = self.lanes(rect);
        if let Some((step, span)) = mine {
            if row.first.is_some_and(|i| i + 1 < self.first.steps.len()) {
                let down = Rangef::new(above.max, rect.bottom() + above.min - rect.top());
                ui.painter().vline(self.axis.x(at.bar, span[1]), down, Stroke::new(1.0, palette.quiet));
            }
            bars::first(ui.painter(), self.view, &self.axis, at.bar, above, step, span);
            self.figure(ui, at.drop, rect, &self.pressure(step.drop_pa), palette.ink);
            self.figure(ui, at.share, rect, &self.units().format(Quantity::Share, step.share), palette.quiet);
            if let Some(x) = at.left {
                let left_m = self.first.head_m * (1.0 - span[1] / self.first.head_pa);
                // The rounding of the solver is no head.
                let left_m = if left_m.abs() < 1e-6 * self.first.head_m { 0.0 } else { left_m };
                self.figure(ui, x, rect, &self.units().format(Quantity::Head, left_m), palette.quiet);
            }
        }
        if let Some((step, span)) = other {
            bars::second(ui.painter(), self.view, &self.axis, at.bar, below, span);
            if let Some(x) = at.beside {
                self.figure(ui, x, rect, &self.pressure(step.drop_pa), ink);
            }
        }
        let words = self.words(mine.map(|(step, _)| step), other.map(|(step, _)| step));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
        tell(&response, words);
    }

    /// A step in words.
    fn words(&self, mine: Option<&HeadStep>, other: Option<&HeadStep>) -> String {
        let takes = |step: &HeadStep| {
            let verb = if step.drop_pa < 0.0 { "adds" } else { "takes" };
            format!(
                "{verb} {} ({}, {}) at {}",
                self.pressure(step.drop_pa.abs()),
                self.units().format(Quantity::Head, step.drop_m.abs()),
                self.units().format(Quantity::Share, step.share.abs()),
                self.units().format(Quantity::Flow, step.flow)
            )
        };
        let Some(step) = mine.or(other) else { return String::new() };
        let is_told = step.name.to_lowercase().contains(step.what);
        let name = if is_told { step.name.clone() } else { format!("{} ({})", step.name, step.what) };
        let told = mine.map(takes).into_iter().chain(other.map(|step| format!("beside it {}", takes(step))));
        format!("{name}: {}", told.collect::<Vec<_>>().join("; "))
    }

    /// What all steps come to.
    fn sum(&self, ui: &mut Ui) {
        let (rect, at, response) = self.line(ui, Sense::hover());
        let palette = &self.view.palette;
        let rises: Vec<&str> = self.first.rises().map(|step| step.name.as_str()).collect();
        let words = if rises.is_empty() {
            "All steps together".to_owned()
        } else {
            format!("All steps, less the rise of {}", rises.join(" and "))
        };
        ui.painter().hline(rect.left()..=rect.right() - GAP, rect.top() + 0.5, Stroke::new(1.0, palette.rule));
        let sum = self.first.sum_pa();
        let wide = Columns { bar: (at.drop - 70.0, at.bar.1), ..at };
        self.name(ui, rect, &wide, &words, true, palette.ink);
        self.figure(ui, at.drop, rect, &self.pressure(sum), palette.ink);
        self.figure(ui, at.share, rect, &self.units().format(Quantity::Share, sum / self.first.head_pa), palette.ink);
        if let (Some(x), Some(second)) = (at.beside, self.second) {
            self.figure(ui, x, rect, &self.pressure(second.sum_pa()), palette.ink);
        }
        let label = format!("{words}: {}", self.pressure(sum));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &label));
    }

    /// Heights of the bars of a row: the first path's, the second's.
    fn lanes(&self, rect: Rect) -> [Rangef; 2] {
        let y = rect.center().y;
        if self.second.is_some() {
            [Rangef::new(y - 8.0, y + 1.0), Rangef::new(y + 3.0, y + 8.0)]
        } else {
            [Rangef::new(y - 7.0, y + 7.0); 2]
        }
    }

    /// Lights what a row stands for while the pointer is on it.
    fn point(
        &self,
        ui: &Ui,
        rect: Rect,
        response: &egui::Response,
        place: Place,
        zone: ZoneId,
        intents: &mut Vec<Intent>,
    ) {
        if response.gained_focus() {
            response.scroll_to_me(None);
        }
        // By keyboard too, but the pointer comes first.
        if response.contains_pointer() || (response.has_focus() && !ui.rect_contains_pointer(ui.clip_rect())) {
            intents.push(Intent::PointAt(place));
            intents.push(Intent::Hover(zone));
        }
        if self.view.lit == Some(place) {
            ui.painter().rect_filled(rect.expand2(vec2(STEP, 0.0)), 4, self.view.palette.raised);
        }
        if response.has_focus() {
            let ring = Stroke::new(2.0, self.view.palette.accent);
            ui.painter().rect_stroke(rect.shrink(1.0), 4, ring, egui::StrokeKind::Inside);
        }
    }

    fn name(&self, ui: &Ui, rect: Rect, at: &Columns, text: &str, strong: bool, ink: Color32) {
        let font = if strong { look::strong(size::BODY) } else { look::font(size::BODY) };
        let mut job = LayoutJob::simple_singleline(text.to_owned(), font, ink);
        job.wrap = TextWrapping::truncate_at_width(at.bar.0 - at.name - 6.0);
        let galley = ui.painter().layout_job(job);
        ui.painter().galley(Pos2::new(at.name, rect.center().y - 0.5 * galley.size().y), galley, ink);
    }

    fn figure(&self, ui: &Ui, x: f32, rect: Rect, text: &str, ink: Color32) {
        ui.painter().text(pos2(x, rect.center().y), Align2::RIGHT_CENTER, text, look::font(size::BODY), ink);
    }
}

/// Tells more beside the row, so that no other is covered.
fn tell(response: &egui::Response, words: String) {
    let mut tooltip = egui::Tooltip::for_enabled(response);
    tooltip.popup = tooltip.popup.align(egui::RectAlign::RIGHT);
    tooltip.show(|ui| {
        ui.set_max_width(TOLD);
        ui.label(words)
    });
}

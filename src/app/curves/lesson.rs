//! A lesson on the plots: the operating point that the learner places, the truth with its distance, what a device reads of
//! itself, and what a step points out.

use super::super::lesson::{LessonIntent, ring};
use super::super::look::{self, size};
use super::super::view::Intent;
use super::Chart;
use crate::engine::units::Quantity;
use crate::lesson::Look;
use egui::{
    self, Align2, CursorIcon, EventFilter, Id, Key, Modifiers, PointerButton, Pos2, Rect, Sense, Shape, Stroke,
    StrokeKind, Ui, vec2,
};

/// How far an arrow key moves the guess, as a share of the plot; with shift, finer.
const STRIDE: f64 = 0.02;
const FINE: f64 = 0.002;
/// Half the side of the guess's square, points.
const HALF: f32 = 8.0;

/// The square that stands where the learner expects the operating point.
fn guess_id() -> Id {
    Id::unique("guessed operating point")
}

/// Gives the square the keys.
pub(in super::super) fn focus_guess(ctx: &egui::Context) {
    ctx.memory_mut(|memory| memory.request_focus(guess_id()));
}

/// Whether the square has the keys.
pub(in super::super) fn guess_has_keys(ctx: &egui::Context) -> bool {
    ctx.memory(|memory| memory.has_focus(guess_id()))
}

/// Lets the guess be placed: a press anywhere on the plot puts it there, arrow keys move it, Enter takes it.
pub(super) fn place(ui: &mut Ui, chart: &Chart<'_>, intents: &mut Vec<Intent>) {
    let view = chart.view;
    let Some(shown) = view.lesson.filter(|shown| shown.is_placing()) else { return };
    let (Some(guess), Some(curves)) = (&shown.guess, view.curves()) else { return };
    let within = |[flow, head]: [f64; 2]| [flow.clamp(0.0, curves.frame[0]), head.clamp(0.0, curves.frame[1])];
    let id = guess_id();
    let response = ui.interact(chart.rect(), id, Sense::click_and_drag());
    let (flow, head) = (view.units.format(Quantity::Flow, guess.at[0]), view.units.format(Quantity::Head, guess.at[1]));
    response.widget_info(|| {
        let words = format!("Your operating point: {flow}, {head}. Arrow keys move it, Enter takes it.");
        egui::WidgetInfo::labeled(egui::Role::Slider, true, words)
    });
    if response.hovered() {
        ui.ctx().set_cursor_icon(CursorIcon::Crosshair);
    }
    let mut to = None;
    // A click may come and go within one pass.
    if response.is_pointer_button_down_on() || response.dragged() || response.clicked_by(PointerButton::Primary) {
        response.request_focus();
        to = response.interact_pointer_pos().map(|pos| chart.value(pos));
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(id, filter));
        let (right, up, fine, enter) = ui.input_mut(|i| {
            let pressed = |key| i.num_presses(key) as f64;
            let right = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
            let up = pressed(Key::ArrowUp) - pressed(Key::ArrowDown);
            (right, up, i.modifiers.shift, i.consume_key(Modifiers::NONE, Key::Enter))
        });
        let stride = if fine { FINE } else { STRIDE };
        if right != 0.0 || up != 0.0 {
            let [flow, head] = guess.at;
            to = Some([flow + stride * right * curves.frame[0], head + stride * up * curves.frame[1]]);
        }
        if enter {
            intents.push(Intent::Lesson(LessonIntent::TakeGuess));
        }
    }
    if let Some(to) = to.map(within).filter(|to| *to != guess.at) {
        intents.push(Intent::Lesson(LessonIntent::MoveGuess(to)));
    }
}

/// The guess and, once it is taken, the way to the truth; what the device reads; what the step points out.
pub(super) fn head(ui: &Ui, chart: &Chart<'_>) {
    let view = chart.view;
    let Some(shown) = view.lesson else { return };
    let palette = &view.palette;
    let painter = ui.painter().with_clip_rect(chart.rect().expand(6.0));
    if let Some(reading) = shown.reading {
        let at = chart.at([reading.flow, reading.head]);
        device_point(&painter, chart, at);
        let words = format!(
            "the device reads {} · {}",
            view.units.format(Quantity::Flow, reading.flow),
            view.units.format(Quantity::Head, reading.head)
        );
        let model = view.pump_result().map_or(at, |pump| chart.at([pump.flow, pump.head]));
        painter.line_segment([at, model], Stroke::new(1.5, palette.ink.gamma_multiply(0.6)));
        tag(&painter, chart, at, model, &words);
    }
    let Some(guess) = &shown.guess else { return };
    let at = chart.at(guess.at);
    let square = Rect::from_center_size(at, egui::Vec2::splat(2.0 * HALF));
    let ink = palette.ink;
    if let Some((truth, words)) = &guess.truth {
        let truth = chart.at(*truth);
        // Along the axes as well, for that is how the distance is told.
        let corner = Pos2::new(truth.x, at.y);
        painter.add(Shape::dashed_line(&[at, corner, truth], Stroke::new(1.0, ink.gamma_multiply(0.7)), 4.0, 3.0));
        painter.line_segment([at, truth], Stroke::new(2.5, ink));
        ring::round(&painter, palette, truth, 14.0);
        tag(&painter, chart, at, truth, words);
    } else {
        let hair = Stroke::new(1.0, ink.gamma_multiply(0.7));
        painter.line_segment([Pos2::new(chart.at([0.0, 0.0]).x, at.y), square.left_center()], hair);
        painter.line_segment([square.center_bottom(), Pos2::new(at.x, chart.rect().bottom())], hair);
        let words = format!(
            "your point {} · {}",
            view.units.format(Quantity::Flow, guess.at[0]),
            view.units.format(Quantity::Head, guess.at[1])
        );
        tag(&painter, chart, at, at + vec2(-1.0, 1.0), &words);
        if ui.memory(|memory| memory.has_focus(guess_id())) {
            painter.rect_stroke(square.expand(4.0), 3, Stroke::new(2.0, palette.accent), StrokeKind::Outside);
        }
    }
    painter.rect(square, 2, palette.sheet.gamma_multiply(0.7), Stroke::new(2.5, ink), StrokeKind::Inside);
    painter.circle_filled(at, 1.8, ink);
}

/// The device's power beside the model's.
pub(super) fn power(ui: &Ui, chart: &Chart<'_>) {
    let view = chart.view;
    let painter = ui.painter().with_clip_rect(chart.rect().expand(6.0));
    if let Some(reading) = view.lesson.and_then(|shown| shown.reading) {
        let at = chart.at([reading.flow, reading.power]);
        device_point(&painter, chart, at);
        let model = view.pump_result().map_or(at, |pump| chart.at([pump.flow, pump.electric_w]));
        tag(&painter, chart, at, model, &format!("reads {}", view.units.format(Quantity::Power, reading.power)));
    }
}

/// An upright cross in a square: told from the operating point and from every handle by its shape.
fn device_point(painter: &egui::Painter, chart: &Chart<'_>, at: Pos2) {
    let palette = &chart.view.palette;
    let square = Rect::from_center_size(at, vec2(15.0, 15.0));
    painter.rect(square, 2, palette.sheet, Stroke::new(2.0, palette.ink), StrokeKind::Inside);
    painter.line_segment([square.center_top(), square.center_bottom()], Stroke::new(1.5, palette.ink));
    painter.line_segment([square.left_center(), square.right_center()], Stroke::new(1.5, palette.ink));
}

/// Words beside a point, on the side away from another one and inside the plot.
fn tag(painter: &egui::Painter, chart: &Chart<'_>, at: Pos2, away_from: Pos2, words: &str) {
    let palette = &chart.view.palette;
    let room = (chart.rect().width() - 24.0).min(330.0);
    let galley = painter.layout(words.to_owned(), look::strong(size::SMALL), palette.ink, room);
    let bounds = chart.rect().shrink(4.0);
    let size = galley.size() + vec2(12.0, 6.0);
    let right = at.x >= away_from.x;
    let below = at.y >= away_from.y;
    let place = |right: bool, below: bool| {
        let align = match (right, below) {
            (true, true) => Align2::LEFT_TOP,
            (true, false) => Align2::LEFT_BOTTOM,
            (false, true) => Align2::RIGHT_TOP,
            (false, false) => Align2::RIGHT_BOTTOM,
        };
        let by = vec2(if right { 13.0 } else { -13.0 }, if below { 11.0 } else { -11.0 });
        align.anchor_size(at + by, size)
    };
    let tried = [place(right, below), place(!right, below), place(right, !below), place(!right, !below)];
    let fitting = tried.into_iter().find(|rect| bounds.contains_rect(*rect)).unwrap_or(tried[0]);
    let kept = |low: f32, high: f32, from: f32, to: f32| (high - to).min(0.0) + (low - from).max(0.0);
    let rect = fitting.translate(vec2(
        kept(bounds.left(), bounds.right(), fitting.left(), fitting.right()),
        kept(bounds.top(), bounds.bottom(), fitting.top(), fitting.bottom()),
    ));
    painter.rect(rect, 5, palette.raised, Stroke::new(1.0, palette.ink), StrokeKind::Inside);
    painter.galley(rect.min + vec2(6.0, 3.0), galley, palette.ink);
}

/// What the step points out on the plot of head: halos along lines, rings about handles and the operating point.
pub(super) fn point_out(ui: &Ui, chart: &Chart<'_>) {
    let view = chart.view;
    let (Some(shown), Some(curves)) = (view.lesson, view.curves()) else { return };
    let painter = ui.painter().with_clip_rect(chart.rect());
    let line = |points: &[[f64; 2]]| {
        let inside = points.iter().take_while(|p| p[1] <= 1.5 * curves.frame[1]);
        ring::along(&painter, &view.palette, inside.map(|point| chart.at(*point)).collect());
    };
    for look in &shown.looks {
        match look {
            Look::SetLine => line(&curves.set_line),
            Look::HeadLimit => {
                if let Some(limit) = view.unit().and_then(|unit| unit.regulation.head_limit_m) {
                    line(&[[0.0, limit], [curves.frame[0], limit]]);
                }
            }
            Look::SpeedCap => line(&curves.capped),
            Look::MinimumSpeed => line(&curves.minimum),
            Look::SystemCurve => line(&curves.system),
            Look::RegulatedCurve => line(&curves.regulated),
            Look::OperatingPoint => {
                if let Some(pump) = view.pump_result().filter(|pump| pump.running) {
                    ring::round(&painter, &view.palette, chart.at([pump.flow, pump.head]), 17.0);
                }
            }
            _ => {}
        }
    }
    if view.points_out(Look::Plot) {
        ring::about(ui.painter(), &view.palette, chart.rect().expand(2.0));
    }
}

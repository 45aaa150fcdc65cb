//! Bars of the stair: from the head left before a step to the head left after it. Components are solid, pipes pale, what adds
//! head is hollow; those of the second path are thinner and hatched.

use super::super::look;
use super::super::view::View;
use crate::study::{HeadPath, HeadStep, StepKind};
use egui::{Color32, Painter, Rect, Stroke, StrokeKind, pos2};

/// What is spent of a path's head before and after each step, as pressure, Pa.
pub(super) fn spent(path: &HeadPath) -> Vec<[f64; 2]> {
    let mut before = 0.0;
    let step = |step: &HeadStep| {
        let span = [before, before + step.drop_pa];
        before = span[1];
        span
    };
    path.steps.iter().map(step).collect()
}

/// From what is spent to a place on the screen.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    /// Least and most that is spent anywhere, Pa.
    pub(super) range: [f64; 2],
}

impl Axis {
    /// Shows all steps of both paths.
    pub(super) fn new<'a>(paths: impl Iterator<Item = (&'a HeadPath, &'a Vec<[f64; 2]>)>) -> Self {
        let mut range = [0.0_f64, 0.0_f64];
        for (path, spans) in paths {
            for pa in spans.iter().flatten().copied().chain([path.head_pa]).filter(|pa| pa.is_finite()) {
                range = [range[0].min(pa), range[1].max(pa)];
            }
        }
        Self { range }
    }

    /// Where that lies between the edges of the bars.
    pub(super) fn x(&self, (left, right): (f32, f32), pa: f64) -> f32 {
        let whole = (self.range[1] - self.range[0]).max(1e-9);
        left + (right - left) * ((pa - self.range[0]) / whole).clamp(0.0, 1.0) as f32
    }

    fn span(&self, edges: (f32, f32), [before, after]: [f64; 2]) -> egui::Rangef {
        let (a, b) = (self.x(edges, before), self.x(edges, after));
        // What takes next to nothing is still seen.
        egui::Rangef::new(a.min(b), a.max(b).max(a.min(b) + 1.0))
    }
}

/// The bar of a step of the first path.
pub(super) fn first(
    painter: &Painter,
    view: &View<'_>,
    axis: &Axis,
    edges: (f32, f32),
    y: egui::Rangef,
    step: &HeadStep,
    span: [f64; 2],
) {
    let color = view.palette.accent;
    let rect = Rect::from_x_y_ranges(axis.span(edges, span), y);
    if step.drop_pa < 0.0 {
        painter.rect(rect, 2, view.palette.ground, Stroke::new(1.5, color), StrokeKind::Inside);
    } else {
        let pale = look::between(view.palette.ground, color, 0.5);
        painter.rect_filled(rect, 2, if step.kind == StepKind::Pipe { pale } else { color });
    }
}

/// The bar of a step of the second path.
pub(super) fn second(
    painter: &Painter,
    view: &View<'_>,
    axis: &Axis,
    edges: (f32, f32),
    y: egui::Rangef,
    span: [f64; 2],
) {
    hatched(painter, Rect::from_x_y_ranges(axis.span(edges, span), y), view.palette.beside);
}

/// A frame filled with slanting lines.
pub(super) fn hatched(painter: &Painter, rect: Rect, color: Color32) {
    /// Distance between lines, points.
    const EVERY: f32 = 4.0;
    let stroke = Stroke::new(1.0, color);
    let inside = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    let mut x = rect.left() - rect.height();
    while x < rect.right() {
        inside.line_segment([pos2(x, rect.bottom()), pos2(x + rect.height(), rect.top())], stroke);
        x += EVERY;
    }
    painter.rect_stroke(rect, 0, stroke, StrokeKind::Inside);
}

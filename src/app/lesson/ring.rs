//! The ring that a lesson draws about what it points out.

use super::super::look::Palette;
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind};

/// Width of the ring and of its halo, points.
const LINE: f32 = 2.5;
const HALO: f32 = 7.0;

/// The colour of what a lesson adds to the panes.
pub(in super::super) fn color(palette: &Palette) -> Color32 {
    palette.accent
}

/// A ring about a part, drawn inside its edge so that no neighbour covers it.
pub(in super::super) fn about(painter: &Painter, palette: &Palette, part: Rect) {
    let color = color(palette);
    painter.rect_stroke(part, 8, Stroke::new(HALO, color.gamma_multiply(0.22)), StrokeKind::Inside);
    painter.rect_stroke(part, 8, Stroke::new(LINE, color), StrokeKind::Inside);
}

/// A ring about a point.
pub(in super::super) fn round(painter: &Painter, palette: &Palette, at: Pos2, radius: f32) {
    let color = color(palette);
    painter.circle_stroke(at, radius, Stroke::new(HALO, color.gamma_multiply(0.22)));
    painter.circle_stroke(at, radius, Stroke::new(LINE, color));
}

/// A halo along a line.
pub(in super::super) fn along(painter: &Painter, palette: &Palette, points: Vec<Pos2>) {
    painter.add(Shape::line(points, Stroke::new(13.0, color(palette).gamma_multiply(0.3))));
}

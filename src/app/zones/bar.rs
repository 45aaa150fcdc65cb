//! One bar: length is the share of design flow, the shaded stretch the tolerance band, the diamond the share of heat.

use super::super::look;
use super::super::view::View;
use crate::study::{ZoneResult, ZoneState};
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};

/// Share of design flow at the bar's right end.
const END: f64 = 1.5;

/// Paints the bar of a zone.
pub(in super::super) fn paint(painter: &Painter, view: &View<'_>, rect: Rect, result: &ZoneResult, color: Color32) {
    let palette = &view.palette;
    let x = |share: f64| rect.left() + rect.width() * (share / END).clamp(0.0, 1.0) as f32;
    painter.rect_filled(rect, 3, look::between(palette.ground, palette.rule, 0.45));
    let band = &view.project.acceptance;
    let band = Rect::from_x_y_ranges(x(band.low)..=x(band.high), rect.y_range());
    painter.rect_filled(band, 0, look::between(palette.ground, palette.served, 0.22));
    if result.state != ZoneState::Shut {
        let inner = rect.shrink2(vec2(0.0, 3.0));
        let filled = Rect::from_x_y_ranges(inner.left()..=x(result.share).max(inner.left() + 1.0), inner.y_range());
        painter.rect_filled(filled, 2, color);
        let heat = Pos2::new(x(result.heat_share), rect.center().y);
        let d = 5.0;
        let diamond = vec![heat - vec2(0.0, d), heat + vec2(d, 0.0), heat + vec2(0.0, d), heat - vec2(d, 0.0)];
        painter.add(Shape::convex_polygon(diamond, palette.sheet, Stroke::new(1.5, palette.ink)));
    }
    let one = x(1.0);
    painter.line_segment([pos2(one, rect.top() - 2.0), pos2(one, rect.bottom() + 2.0)], Stroke::new(1.0, palette.ink));
}

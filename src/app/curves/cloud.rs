//! The operating points of all scenarios, the worst of them named, and the curves of pinned variants.

use super::super::look::{self, size};
use super::super::view::View;
use super::Chart;
use crate::engine::pump::Regulated;
use crate::study::ZoneState;
use egui::{Align2, Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// Scenarios that are named at most.
const NAMED: usize = 2;
/// Points of a ghosted curve.
const POINTS: u32 = 80;

/// The regulated curves of the variants pinned for the pump in hand, m³/s and m, with their names.
pub(super) fn ghosts<'a>(view: &View<'a>) -> Vec<(&'a str, Vec<[f64; 2]>)> {
    let Some(probed) = view.part_load.probed() else { return Vec::new() };
    let variants = view.project.variants.iter().filter(|variant| Some(variant.pump) == view.pump);
    let ghost = |variant: &'a crate::document::Variant| {
        // What depends on power is left out of a ghost: it shows the three settings.
        let settings = crate::engine::pump::Regulation { power_limit_w: None, ..variant.regulation };
        let regulated = Regulated::new(&probed.part_load.curve, settings).ok()?;
        let end = regulated.end_m3_per_s();
        let flow = |k: u32| end * f64::from(k) / f64::from(POINTS);
        Some((variant.name.as_str(), (0..=POINTS).map(|k| [flow(k), regulated.head(flow(k)).0]).collect()))
    };
    variants.filter_map(ghost).collect()
}

/// A scenario's point with how it stands.
pub(super) struct Point {
    at: Pos2,
    state: usize,
    /// How far the worst zone is outside its band, and on which side.
    off: f64,
    kind: ZoneState,
}

/// The points of all scenarios, the worst first.
pub(super) fn points(chart: &Chart<'_>) -> Vec<Point> {
    let view = chart.view;
    let mut points: Vec<Point> = Vec::new();
    let Some(present) = view.part_load.present() else { return points };
    // A lesson that asks of one state must not show where it lies.
    let is_kept_back = view.lesson.is_some_and(|shown| shown.is_held || !shown.keeps_strip);
    if is_kept_back || view.part_load.is_old() || view.project.scenarios.is_empty() {
        return points;
    }
    for (state, (point, outside)) in present.year.points.iter().zip(&present.outside).enumerate() {
        let (off, kind) = outside.worst;
        points.push(Point { at: chart.at([point.flow, point.head]), state, off, kind });
    }
    points.sort_by(|a, b| b.off.total_cmp(&a.off));
    points
}

/// Keeps words off the points.
pub(super) fn keep_clear(points: &[Point], taken: &mut Vec<Rect>) {
    taken.extend(points.iter().map(|point| Rect::from_center_size(point.at, vec2(9.0, 9.0))));
}

/// Shows them, the worst with their names.
pub(super) fn show(painter: &Painter, chart: &Chart<'_>, points: &[Point], taken: &mut Vec<Rect>) {
    let view = chart.view;
    points.iter().rev().for_each(|point| mark(painter, view, point));
    let Some(probed) = view.part_load.probed() else { return };
    let here = view.scenario;
    for point in points.iter().filter(|point| point.off > 0.0 && here != Some(point.state)).take(NAMED) {
        let (color, sign) = look_of(view, point.kind);
        let text = format!("{sign} {}", probed.part_load.state_name(point.state));
        let galley = painter.layout_no_wrap(text, look::font(size::SMALL), color);
        // Below the curve first, in steps away from it: above stands what governs.
        let away = [6.0, 20.0, 34.0, 50.0].map(|by| (Align2::LEFT_TOP, vec2(4.0, by)));
        let places = away.into_iter().chain([26.0, 42.0].map(|by| (Align2::RIGHT_BOTTOM, vec2(-4.0, -by))));
        let rects = places.map(|(align, by)| align.anchor_size(point.at + by, galley.size()));
        let is_free = |rect: &Rect| {
            chart.rect().shrink(3.0).contains_rect(*rect) && !taken.iter().any(|other| other.intersects(*rect))
        };
        let Some(rect) = rects.into_iter().find(is_free) else { continue };
        let near = rect.clamp(point.at);
        if near.distance(point.at) > 8.0 {
            painter.line_segment([point.at, near], Stroke::new(1.0, color.gamma_multiply(0.6)));
        }
        painter.rect_filled(rect.expand2(vec2(3.0, 0.0)), 3, view.palette.sheet.gamma_multiply(0.85));
        painter.galley(rect.min, galley, color);
        taken.push(rect);
    }
}

fn look_of(view: &View<'_>, kind: ZoneState) -> (Color32, &'static str) {
    match kind {
        ZoneState::Starved => (view.palette.starved, "▼"),
        ZoneState::Overflowed => (view.palette.overflowed, "▲"),
        _ => (view.palette.served, ""),
    }
}

/// A disc where all is well, a triangle down or up where a zone gets too little or too much.
fn mark(painter: &Painter, view: &View<'_>, point: &Point) {
    let (color, _) = look_of(view, point.kind);
    let edge = Stroke::new(1.0, view.palette.sheet);
    let d = 5.0;
    let points = match point.kind {
        ZoneState::Starved => [vec2(-d, -d), vec2(d, -d), vec2(0.0, d)],
        ZoneState::Overflowed => [vec2(-d, d), vec2(0.0, -d), vec2(d, d)],
        _ => {
            painter.circle(point.at, 3.8, color, edge);
            return;
        }
    };
    painter.add(Shape::convex_polygon(points.map(|by| point.at + by).to_vec(), color, edge));
}

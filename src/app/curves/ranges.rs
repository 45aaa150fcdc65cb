//! Along the regulated curve stands what governs where: turned with the curve where the stretch is long enough, else beside it
//! with a line that leads to its middle. No stretch goes without its name.

use super::super::look::{self, size};
use super::Chart;
use crate::engine::pump::GoverningLimit;
use crate::study::limit_name;
use egui::epaint::TextShape;
use egui::{Galley, Painter, Pos2, Rect, Stroke, Vec2, vec2};
use std::sync::Arc;

/// Where a stretch of the regulated curve is named.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RangeLabel {
    /// What governs there.
    pub(super) limit: GoverningLimit,
    /// What the words cover: small boxes along them where they are turned.
    pub(super) boxes: Vec<Rect>,
}

/// Names every stretch; tells where.
pub(super) fn show(painter: &Painter, chart: &Chart<'_>, taken: &mut Vec<Rect>) -> Vec<RangeLabel> {
    let view = chart.view;
    let Some(curves) = view.curves() else { return Vec::new() };
    let curve: Vec<Pos2> = curves.regulated.iter().map(|point| chart.at(*point)).collect();
    let mut labels = Vec::new();
    let mut short = Vec::new();
    for range in &curves.ranges {
        let inside: Vec<Pos2> = curves
            .regulated
            .iter()
            .filter(|p| p[0] >= range.from_m3_per_s && p[0] <= range.to_m3_per_s)
            .map(|p| chart.at(*p))
            .collect();
        let text = format!("{} governs", limit_name(range.limit));
        let galley = painter.layout_no_wrap(text, look::strong(size::SMALL), view.palette.ink);
        match turned(painter, chart, &inside, &galley, taken) {
            Some(boxes) => labels.push(RangeLabel { limit: range.limit, boxes }),
            None => short.push((range, inside, galley)),
        }
    }
    // Those that stand beside the curve choose when all that lie along it are placed.
    for (range, inside, galley) in short {
        let middle = 0.5 * (range.from_m3_per_s + range.to_m3_per_s);
        let at = along(&inside, 0.5 * length(&inside), 0.0).map(|(at, _)| at);
        let Some(at) = at.or_else(|| Some(chart.at([middle, super::labels::on_curve(curves, middle)?]))) else {
            continue;
        };
        let rect = beside(chart, at, galley.size(), &curve, taken);
        lead(painter, chart, at, rect, galley);
        taken.push(rect);
        labels.push(RangeLabel { limit: range.limit, boxes: vec![rect] });
    }
    labels
}

fn length(points: &[Pos2]) -> f32 {
    points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

/// Writes along the curve at the first of a few places, above it or below it, where the words meet nothing else.
fn turned(
    painter: &Painter,
    chart: &Chart<'_>,
    inside: &[Pos2],
    galley: &Arc<Galley>,
    taken: &mut Vec<Rect>,
) -> Option<Vec<Rect>> {
    let length = length(inside);
    let width = galley.size().x;
    if length < width + 24.0 {
        return None;
    }
    let places =
        [0.5, 0.36, 0.66, 0.24, 0.8, 0.3, 0.43, 0.58, 0.73].into_iter().flat_map(|share| [(share, 1.0), (share, -1.0)]);
    for (share, side) in places {
        let Some((at, angle)) = along(inside, share * length, width) else { continue };
        let normal = Vec2::angled(angle).rot90();
        let up = if normal.y > 0.0 { -normal } else { normal };
        let center = at + side * up * (0.5 * galley.size().y + 6.0);
        let boxes = boxes(center, angle, width);
        let is_free =
            |part: &Rect| chart.rect().contains_rect(*part) && !taken.iter().any(|other| other.intersects(*part));
        if !boxes.iter().all(is_free) {
            continue;
        }
        let start = center - Vec2::angled(angle) * (0.5 * width) + up * (0.5 * galley.size().y);
        let ink = chart.view.palette.ink;
        painter.add(TextShape::new(start, Arc::clone(galley), ink).with_angle(angle));
        taken.extend(boxes);
        return Some(boxes.to_vec());
    }
    None
}

/// Distances from the curve at which words may stand, and directions, the best first: up and to the right the plot is empty.
const FAR: [f32; 9] = [16.0, 28.0, 42.0, 58.0, 76.0, 98.0, 124.0, 154.0, 190.0];
const WAYS: [[f32; 2]; 8] =
    [[0.7, -0.7], [0.0, -1.0], [1.0, 0.0], [-0.7, -0.7], [0.7, 0.7], [0.0, 1.0], [-1.0, 0.0], [-0.7, 0.7]];

/// A free place for words near a place of the curve: off all that is taken and off the curve itself. Where a full plot has none, off
/// what is taken alone; in the worst case within the plot.
fn beside(chart: &Chart<'_>, at: Pos2, words: Vec2, curve: &[Pos2], taken: &[Rect]) -> Rect {
    let bounds = chart.rect().shrink(3.0);
    let places = FAR.into_iter().flat_map(|far| {
        WAYS.into_iter().map(move |[x, y]| {
            let reach = vec2(x * (far + 0.5 * words.x * x.abs()), y * (far + 0.5 * words.y * y.abs()));
            Rect::from_center_size(at + reach, words).expand2(vec2(3.0, 1.0))
        })
    });
    let grid = grid(bounds, words, at);
    let is_free = |rect: &Rect| bounds.contains_rect(*rect) && !taken.iter().any(|other| other.intersects(*rect));
    let is_off = |rect: &Rect| !curve.iter().any(|point| rect.expand(2.0).contains(*point));
    let all: Vec<Rect> = places.chain(grid).collect();
    let clear = all.iter().find(|rect| is_free(rect) && is_off(rect));
    let found = clear.or_else(|| all.iter().find(|rect| is_free(rect)));
    found.copied().unwrap_or_else(|| Rect::from_center_size(bounds.center(), words))
}

/// Places all over the plot, the nearest first.
fn grid(bounds: Rect, words: Vec2, at: Pos2) -> Vec<Rect> {
    let step = vec2(12.0, 9.0);
    let room = bounds.size() - words;
    let count = |room: f32, step: f32| (room / step).max(0.0) as u32;
    let mut all: Vec<Rect> = (0..=count(room.x, step.x))
        .flat_map(|i| (0..=count(room.y, step.y)).map(move |j| vec2(i as f32 * step.x, j as f32 * step.y)))
        .map(|by| Rect::from_min_size(bounds.min + by, words))
        .collect();
    all.sort_by(|a, b| a.center().distance(at).total_cmp(&b.center().distance(at)));
    all
}

/// Writes there, with a line to the curve.
fn lead(painter: &Painter, chart: &Chart<'_>, at: Pos2, rect: Rect, galley: Arc<Galley>) {
    let palette = &chart.view.palette;
    let near = rect.clamp(at);
    painter.line_segment([at, near], Stroke::new(1.0, palette.ink.gamma_multiply(0.6)));
    painter.circle_filled(at, 2.0, palette.ink);
    painter.rect_filled(rect, 3, palette.sheet.gamma_multiply(0.85));
    painter.galley(rect.center() - 0.5 * galley.size(), galley, palette.ink);
}

/// What turned words cover, as small boxes along them: one upright box about them all would cover much more.
fn boxes(center: Pos2, angle: f32, width: f32) -> [Rect; 7] {
    std::array::from_fn(|part| {
        let along = (part as f32 - 3.0) / 7.0 * width;
        Rect::from_center_size(center + along * Vec2::angled(angle), Vec2::splat(13.0))
    })
}

/// A place along a line of points and the line's direction there, measured over the width of the words.
fn along(points: &[Pos2], distance: f32, width: f32) -> Option<(Pos2, f32)> {
    let at = |wanted: f32| {
        let mut gone = 0.0;
        for pair in points.windows(2) {
            let step = pair[0].distance(pair[1]);
            if gone + step >= wanted && step > 0.0 {
                return Some(pair[0] + (pair[1] - pair[0]) * ((wanted - gone) / step));
            }
            gone += step;
        }
        None
    };
    let (before, middle, after) = (at((distance - 0.5 * width).max(0.0))?, at(distance)?, at(distance + 0.5 * width)?);
    Some((middle, (after - before).angle()))
}

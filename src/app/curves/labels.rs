//! What stands on the plots beside lines and handles: speeds of the family, what governs where, the operating point and its
//! trail, the end of the catalogue data.

use super::super::look::{self, size};
use super::{Chart, CurvesState};
use crate::engine::units::Quantity;
use egui::{self, Align2, Color32, Galley, Pos2, Rect, Shape, Stroke, Ui, vec2};
use std::sync::Arc;

/// Labels of the head plot.
pub(super) fn head(ui: &Ui, chart: &Chart<'_>, state: &mut CurvesState) {
    let view = chart.view;
    let Some(curves) = view.curves() else { return };
    let painter = ui.painter().with_clip_rect(chart.rect());
    if view.presents {
        // In large type there is room for the settings, the point and what it has come from.
        trail(&painter, chart, state);
        return;
    }
    let end = chart.at(curves.data_end);
    painter.circle_filled(end, 2.5, view.palette.quiet);
    let mut taken = super::handles::places(chart);
    taken.push(operating_point_rect(chart, state.side));
    if let Some(limit) = view.unit().and_then(|unit| unit.regulation.head_limit_m) {
        let line = chart.at([0.0, limit]);
        let end = chart.at([curves.frame[0], limit]);
        taken.push(Rect::from_min_max(line + vec2(0.0, -3.0), end + vec2(0.0, 3.0)));
    }
    let cloud = super::cloud::points(chart);
    super::cloud::keep_clear(&cloud, &mut taken);
    // What governs where is named first: it may not be missing.
    state.ranges = match view.hides_governing() {
        true => Vec::new(),
        false => super::ranges::show(&painter, chart, &mut taken),
    };
    system(&painter, chart, &mut taken);
    family(&painter, chart, &mut taken);
    super::cloud::show(&painter, chart, &cloud, &mut taken);
    // Where the data reach down to no head there is nothing beyond them to warn of.
    if curves.data_end[1] > 0.05 * curves.frame[1] {
        let color = view.palette.quiet.gamma_multiply(0.85);
        let galley = painter.layout_no_wrap("end of data".to_owned(), look::font(10.5), color);
        let place = |align: Align2, by: egui::Vec2| align.anchor_size(end + by, galley.size());
        let places = [
            place(Align2::LEFT_BOTTOM, vec2(6.0, -4.0)),
            place(Align2::LEFT_TOP, vec2(6.0, 4.0)),
            place(Align2::RIGHT_BOTTOM, vec2(-6.0, -4.0)),
        ];
        if let Some(free) = places.into_iter().find(|place| taken.iter().all(|rect| !rect.intersects(*place))) {
            painter.galley(free.min, galley, color);
        }
    }
    possible_points(&painter, chart);
    trail(&painter, chart, state);
}

/// Speeds of the family, near the lower end of each curve; left out where something else stands.
fn family(painter: &egui::Painter, chart: &Chart<'_>, taken: &mut Vec<Rect>) {
    let Some(curves) = chart.view.curves() else { return };
    let color = chart.view.palette.quiet.gamma_multiply(0.85);
    for (speed, points) in &curves.family {
        let Some(point) = points.get(points.len() * 14 / 15) else { continue };
        let galley = painter.layout_no_wrap(chart.view.units.format(Quantity::Share, *speed), look::font(10.5), color);
        let rect = Align2::RIGHT_CENTER.anchor_size(chart.at(*point) + vec2(-4.0, 0.0), galley.size());
        if !taken.iter().any(|other| other.intersects(rect)) {
            painter.galley(rect.min, galley, color);
            taken.push(rect);
        }
    }
}

/// Names the system curve beside its upper end, and the lone zone's where one is shown.
fn system(painter: &egui::Painter, chart: &Chart<'_>, taken: &mut Vec<Rect>) {
    let view = chart.view;
    let Some(curves) = view.curves() else { return };
    let zone = view.hovered.and_then(|zone| view.project.zones.get(&zone));
    let lone = if view.shows_path() { zone.map(|zone| format!("{} alone", zone.name)) } else { None };
    let others = view.results.pumps.iter().filter(|(id, pump)| pump.running && Some(**id) != view.pump).count();
    let whole = if others > 0 { "system with the other pump running" } else { "system" };
    for (points, name) in [(&curves.system[..], Some(whole.to_owned())), (view.alone, lone)] {
        let (Some(name), true) = (name, points.len() > 2) else { continue };
        let galley = painter.layout_no_wrap(name, look::strong(size::SMALL), view.palette.system);
        for height in [0.97, 0.9, 0.83, 0.76, 0.7, 0.62, 0.54, 0.45, 0.36, 0.28] {
            let head = height * curves.frame[1];
            let Some(pair) = points.windows(2).find(|pair| pair[0][1] <= head && head <= pair[1][1]) else { continue };
            let share = (head - pair[0][1]) / (pair[1][1] - pair[0][1]).max(1e-9);
            let at = chart.at([pair[0][0] + share * (pair[1][0] - pair[0][0]), head]);
            let rect = Align2::LEFT_CENTER.anchor_size(at + vec2(8.0, 4.0), galley.size());
            if chart.rect().contains_rect(rect) && !taken.iter().any(|other| other.intersects(rect)) {
                painter.rect_filled(rect.expand2(vec2(3.0, 0.0)), 3, view.palette.sheet.gamma_multiply(0.85));
                painter.galley(rect.min, galley, view.palette.system);
                taken.push(rect);
                break;
            }
        }
    }
}

/// Where there are several operating points, the others: a ring for one that holds, a cross for one that does not.
fn possible_points(painter: &egui::Painter, chart: &Chart<'_>) {
    let stroke = Stroke::new(2.0, chart.view.palette.accent);
    for point in &chart.view.results.points {
        let Some(at) = chart.view.pump.and_then(|pump| point.pumps.get(&pump)).map(|point| chart.at(*point)) else {
            continue;
        };
        if point.stable {
            painter.circle_stroke(at, 6.0, stroke);
        } else {
            for side in [vec2(5.0, 5.0), vec2(5.0, -5.0)] {
                painter.line_segment([at - side, at + side], stroke);
            }
        }
    }
}

fn trail(painter: &egui::Painter, chart: &Chart<'_>, state: &CurvesState) {
    let count = state.trail.len().max(1) as f32;
    for (i, point) in state.trail.iter().enumerate() {
        let fresh = i as f32 / count;
        let ring = Stroke::new(1.2, chart.view.palette.ink.gamma_multiply(0.25 + 0.6 * fresh));
        painter.circle(chart.at(*point), chart.view.weight() * (2.0 + 1.5 * fresh), chart.view.palette.sheet, ring);
    }
}

fn operating_point_rect(chart: &Chart<'_>, side: usize) -> Rect {
    let Some(pump) = chart.view.pump_result().filter(|pump| pump.running) else { return Rect::NOTHING };
    let at = chart.at([pump.flow, pump.head]);
    point_label_rect(chart, at, vec2(130.0, 20.0), (side, false)).1.union(Rect::from_center_size(at, vec2(24.0, 24.0)))
}

/// The operating point with its words, laid out: handles must know of them before they are painted.
pub(super) struct PointWords {
    at: Pos2,
    galley: Arc<Galley>,
    /// What the words cover.
    pub(super) rect: Rect,
}

/// Lays out the operating point, unless none is to be shown.
///
/// While it walks it is shown at that flow on the regulated curve; its words tell where it goes.
pub(super) fn point_words(ui: &Ui, chart: &Chart<'_>, walking: Option<f64>, side: &mut usize) -> Option<PointWords> {
    let view = chart.view;
    let pump = view.pump_result().filter(|pump| pump.running)?;
    let on_the_way = walking.and_then(|flow| Some([flow, on_curve(view.curves()?, flow)?]));
    let at = chart.at(on_the_way.unwrap_or([pump.flow, pump.head]));
    let text =
        format!("{} · {}", view.units.format(Quantity::Flow, pump.flow), view.units.format(Quantity::Head, pump.head));
    let words = if view.presents { view.strong(size::LEAD) } else { view.strong(size::SMALL) };
    let galley = ui.painter().layout_no_wrap(text, words, view.palette.sheet);
    // While a hand drags before onlookers only the frame moves large words to another side.
    let holds = view.presents && ui.input(|i| i.pointer.any_down());
    let (place, rect) = point_label_rect(chart, at, galley.size() + vec2(12.0, 6.0), (*side, holds));
    *side = place;
    Some(PointWords { at, galley, rect })
}

/// The operating point, above lines and handles.
pub(super) fn operating_point(ui: &Ui, chart: &Chart<'_>, moving: bool, words: Option<PointWords>) {
    let Some(PointWords { at, galley, rect }) = words else { return };
    let painter = ui.painter().with_clip_rect(chart.rect().expand(10.0));
    let view = chart.view;
    let palette = &view.palette;
    let zero = chart.at([0.0, 0.0]);
    let thick = view.weight();
    let hair = Stroke::new(thick, palette.quiet.gamma_multiply(0.7));
    painter.add(Shape::dashed_line(&[at, Pos2::new(at.x, zero.y)], hair, 3.0 * thick, 3.0 * thick));
    painter.add(Shape::dashed_line(&[at, Pos2::new(zero.x, at.y)], hair, 3.0 * thick, 3.0 * thick));
    // Before onlookers it is what is looked at first.
    let radius = thick * if moving { 8.0 } else { 7.0 };
    painter.circle(at, radius, palette.accent, Stroke::new(2.5 * thick, palette.sheet));
    painter.circle_stroke(at, radius + 1.5 * thick, Stroke::new(thick, palette.ink));
    painter.rect_filled(rect, 5, palette.ink);
    painter.galley(rect.min + vec2(6.0, 3.0), galley, palette.sheet);
}

/// The head of the regulated curve at a flow, m.
pub(super) fn on_curve(curves: &crate::study::Curves, flow: f64) -> Option<f64> {
    let pair = curves.regulated.windows(2).find(|pair| pair[0][0] <= flow && flow <= pair[1][0])?;
    let share = (flow - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-15);
    Some(pair[0][1] + share * (pair[1][1] - pair[0][1]))
}

/// Where the words of the operating point stand: where they stood last, as long as they meet no handle there and stay on the plot; else
/// the first such place round the point, or one moved so far that they do not leave the plot. With the number of the place. Where they
/// are to be held, handles do not drive them off.
fn point_label_rect(chart: &Chart<'_>, at: Pos2, size: egui::Vec2, (last, holds): (usize, bool)) -> (usize, Rect) {
    // Large words give way to no other words, which are left out instead: they would jump about under the hand.
    let handles = if chart.view.presents { super::handles::knobs(chart) } else { super::handles::places(chart) };
    let around = [
        (Align2::LEFT_BOTTOM, vec2(13.0, -13.0)),
        (Align2::LEFT_TOP, vec2(15.0, 11.0)),
        (Align2::RIGHT_BOTTOM, vec2(-13.0, -13.0)),
        (Align2::LEFT_BOTTOM, vec2(13.0, -36.0)),
        (Align2::RIGHT_TOP, vec2(-13.0, 13.0)),
    ];
    let bounds = chart.rect().shrink(3.0);
    let thick = chart.view.weight();
    let place = |place: usize| {
        let (align, offset) = around[place];
        (place, align.anchor_size(at + thick * offset, size))
    };
    let last = last.min(around.len() - 1);
    if holds && bounds.contains_rect(place(last).1) {
        return place(last);
    }
    let order = || std::iter::once(last).chain((0..around.len()).filter(move |place| *place != last)).map(place);
    let moved = || order().map(|(place, rect)| (place, into(rect, bounds)));
    let is_free = |rect: &Rect| !handles.iter().any(|handle| handle.intersects(*rect));
    let point = Rect::from_center_size(at, egui::Vec2::splat(18.0 * thick));
    order()
        .find(|(_, rect)| bounds.contains_rect(*rect) && is_free(rect))
        .or_else(|| moved().find(|(_, rect)| is_free(rect) && !rect.intersects(point)))
        .or_else(|| moved().find(|(_, rect)| !rect.intersects(point)))
        .unwrap_or_else(|| (last, into(place(last).1, bounds)))
}

/// A rectangle moved until it lies within bounds.
fn into(rect: Rect, bounds: Rect) -> Rect {
    let x = (bounds.right() - rect.right()).min(0.0) + (bounds.left() - rect.left()).max(0.0);
    let y = (bounds.bottom() - rect.bottom()).min(0.0) + (bounds.top() - rect.top()).max(0.0);
    rect.translate(vec2(x, y))
}

/// Words on a filled ground, kept inside `bounds`.
fn pill(painter: &egui::Painter, bounds: Rect, at: Pos2, text: &str, ground: Color32, ink: Color32) {
    let galley = painter.layout_no_wrap(text.to_owned(), look::strong(size::SMALL), ink);
    let mut rect = Align2::LEFT_BOTTOM.anchor_size(at, galley.size() + vec2(12.0, 6.0));
    rect = rect
        .translate(vec2((bounds.right() - 4.0 - rect.right()).min(0.0), (bounds.top() + 4.0 - rect.top()).max(0.0)));
    painter.rect_filled(rect, 5, ground);
    painter.galley(rect.min + vec2(6.0, 3.0), galley, ink);
}

/// Labels of the power plot.
pub(super) fn power(ui: &Ui, chart: &Chart<'_>) {
    let view = chart.view;
    let Some(pump) = view.pump_result().filter(|pump| pump.running) else { return };
    let painter = ui.painter().with_clip_rect(chart.rect());
    let palette = &view.palette;
    let at = chart.at([pump.flow, pump.electric_w]);
    let zero = chart.at([0.0, 0.0]);
    let hair = Stroke::new(1.0, palette.quiet.gamma_multiply(0.7));
    painter.add(Shape::dashed_line(&[at, Pos2::new(at.x, zero.y)], hair, 3.0, 3.0));
    painter.add(Shape::dashed_line(&[at, Pos2::new(at.x, chart.rect().top())], hair, 3.0, 3.0));
    painter.circle(at, 5.5, palette.accent, Stroke::new(2.0, palette.sheet));
    let text = view.units.format(Quantity::Power, pump.electric_w);
    pill(&painter, chart.rect(), at + vec2(11.0, -6.0), &text, palette.ink, palette.sheet);
    let Some(unit) = view.unit() else { return };
    if let Some(point) = unit.catalogue.get(1) {
        let start = chart.at([point.flow, point.power]) + vec2(0.0, -3.0);
        let color = palette.quiet.gamma_multiply(0.85);
        painter.text(start, Align2::LEFT_BOTTOM, "at full speed", look::font(10.5), color);
    }
}

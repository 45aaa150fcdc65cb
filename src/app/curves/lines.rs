//! The lines of both plots, from the speed family behind to the regulated curve in front.

use super::super::look;
use super::super::view::View;
use crate::engine::units::Quantity;
use egui::{Color32, Stroke};
use egui_plot::{Line, LineStyle, PlotPoints, PlotUi};

/// A line through SI points.
fn line<'a>(view: &View<'_>, name: &str, points: &[[f64; 2]], quantity: Quantity, stroke: Stroke) -> Line<'a> {
    let units = view.units;
    let points: PlotPoints<'a> = points
        .iter()
        .map(|&[flow, value]| [units.from_si(Quantity::Flow, flow), units.from_si(quantity, value)])
        .collect();
    // An upright curve has many points in one column of pixels, which is no reason to draw a thin band in its place.
    Line::new(name, points).stroke(stroke).allow_hover(false).allow_band(false)
}

/// Head over flow.
pub(super) fn head(plot: &mut PlotUi<'_>, view: &View<'_>) {
    let (Some(curves), Some(unit)) = (view.curves(), view.unit()) else { return };
    let palette = &view.palette;
    let head = Quantity::Head;
    let thick = |width: f32, color: Color32| Stroke::new(view.weight() * width, color);
    // Those who look on need what the settings are, not what they could be.
    let family = if view.presents { &[][..] } else { &curves.family[..] };
    for (speed, points) in family {
        let stroke = Stroke::new(1.0, look::between(palette.sheet, palette.quiet, 0.38));
        plot.line(line(view, &format!("speed {:.0} %", 100.0 * speed), points, head, stroke));
    }
    if !curves.minimum.is_empty() && !view.presents {
        let stroke = Stroke::new(1.0, palette.quiet);
        plot.line(line(view, "minimum speed", &curves.minimum, head, stroke).style(LineStyle::dotted_dense()));
    }
    if !curves.power_limited.is_empty() {
        let stroke = thick(1.5, palette.cap);
        plot.line(line(view, "power limit", &curves.power_limited, head, stroke).style(LineStyle::dashed_loose()));
    }
    if let Some(limit) = unit.regulation.head_limit_m {
        let points = [[0.0, limit], [1.02 * curves.frame[0], limit]];
        let stroke = thick(1.5, palette.head_limit);
        plot.line(line(view, "head limit", &points, head, stroke).style(LineStyle::dashed_dense()));
    }
    let ghosts = if view.presents { Vec::new() } else { super::cloud::ghosts(view) };
    for (name, points) in ghosts {
        let stroke = Stroke::new(1.5, palette.quiet);
        plot.line(line(view, name, &points, head, stroke).style(LineStyle::dashed_loose()));
    }
    plot.line(line(view, "speed cap", &curves.capped, head, thick(2.0, palette.cap)));
    plot.line(line(view, "set-line", &curves.set_line, head, thick(2.0, palette.slope)));
    if view.shows_path() {
        let stroke = thick(2.0, palette.system.gamma_multiply(0.75));
        for piece in pieces(view.alone, curves.frame) {
            plot.line(line(view, "zone alone", piece, head, stroke).style(LineStyle::dashed_loose()));
        }
    }
    for piece in pieces(&curves.system, curves.frame) {
        plot.line(line(view, "system curve", piece, head, thick(2.2, palette.system)));
    }
    plot.line(line(view, "regulated curve", &curves.regulated, head, thick(4.0, palette.ink)));
}

/// A curve cut at its sharp corners, seen in the plot's frame: a thick line smears where it turns sharply.
fn pieces(points: &[[f64; 2]], frame: [f64; 2]) -> Vec<&[[f64; 2]]> {
    let direction = |a: [f64; 2], b: [f64; 2]| {
        let (x, y) = ((b[0] - a[0]) / frame[0], (b[1] - a[1]) / frame[1]);
        let length = x.hypot(y).max(1e-12);
        [x / length, y / length]
    };
    let mut all = Vec::new();
    let mut start = 0;
    for corner in 1..points.len().saturating_sub(1) {
        let before = direction(points[corner - 1], points[corner]);
        let after = direction(points[corner], points[corner + 1]);
        if before[0] * after[0] + before[1] * after[1] < 0.9 {
            all.push(&points[start..=corner]);
            start = corner;
        }
    }
    if start + 1 < points.len() {
        all.push(&points[start..]);
    }
    all
}

/// Electric power over flow.
pub(super) fn power(plot: &mut PlotUi<'_>, view: &View<'_>) {
    let (Some(curves), Some(unit)) = (view.curves(), view.unit()) else { return };
    let full: Vec<[f64; 2]> = unit.catalogue.iter().map(|p| [p.flow, p.power]).collect();
    let faint: Color32 = look::between(view.palette.sheet, view.palette.quiet, 0.45);
    plot.line(line(view, "power at full speed", &full, Quantity::Power, Stroke::new(1.0, faint)));
    let stroke = Stroke::new(2.5, view.palette.ink);
    plot.line(line(view, "power along the regulated curve", &curves.power, Quantity::Power, stroke));
}

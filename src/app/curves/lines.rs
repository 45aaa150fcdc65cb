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
    Line::new(name, points).stroke(stroke).allow_hover(false)
}

/// Head over flow.
pub(super) fn head(plot: &mut PlotUi<'_>, view: &View<'_>) {
    let (Some(curves), Some(unit)) = (view.curves(), view.unit()) else { return };
    let palette = &view.palette;
    let head = Quantity::Head;
    for (speed, points) in &curves.family {
        let stroke = Stroke::new(1.0, look::between(palette.sheet, palette.quiet, 0.38));
        plot.line(line(view, &format!("speed {:.0} %", 100.0 * speed), points, head, stroke));
    }
    if !curves.minimum.is_empty() {
        let stroke = Stroke::new(1.0, palette.quiet);
        plot.line(line(view, "minimum speed", &curves.minimum, head, stroke).style(LineStyle::dotted_dense()));
    }
    if let Some(limit) = unit.regulation.head_limit_m {
        let points = [[0.0, limit], [1.02 * curves.frame[0], limit]];
        let stroke = Stroke::new(1.5, palette.head_limit);
        plot.line(line(view, "head limit", &points, head, stroke).style(LineStyle::dashed_dense()));
    }
    plot.line(line(view, "speed cap", &curves.capped, head, Stroke::new(2.0, palette.cap)));
    plot.line(line(view, "set-line", &curves.set_line, head, Stroke::new(2.0, palette.slope)));
    if view.shows_path() && !view.alone.is_empty() {
        let stroke = Stroke::new(2.0, palette.system.gamma_multiply(0.75));
        plot.line(line(view, "zone alone", view.alone, head, stroke).style(LineStyle::dashed_loose()));
    }
    // An upright end is a line of its own: the join at so sharp a corner would smear.
    let upright = curves.system.windows(2).position(|pair| pair[1][0] - pair[0][0] < 1e-9 * curves.frame[0]);
    let bend = upright.unwrap_or(curves.system.len().saturating_sub(1));
    let stroke = Stroke::new(2.2, palette.system);
    plot.line(line(view, "system curve", curves.system.get(..=bend).unwrap_or_default(), head, stroke));
    plot.line(line(view, "system curve, upright", curves.system.get(bend..).unwrap_or_default(), head, stroke));
    plot.line(line(view, "regulated curve", &curves.regulated, head, Stroke::new(4.0, palette.ink)));
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

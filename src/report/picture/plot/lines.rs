//! The lines of both plots, from the speed family behind to the regulated curve in front.

use super::super::room::Room;
use super::super::svg::{Svg, path};
use super::Plot;
use crate::study::Curves;

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stroke {
    pub colour: &'static str,
    pub width: f64,
    /// Lengths of dashes and gaps; empty for a full line.
    pub dashes: &'static str,
}

impl Stroke {
    /// As attributes.
    pub(super) fn style(&self) -> String {
        let Self { colour, width, dashes } = self;
        let dashes = if dashes.is_empty() { String::new() } else { format!(r#" stroke-dasharray="{dashes}""#) };
        format!(r#"fill="none" stroke="{colour}" stroke-width="{width}" stroke-linejoin="round"{dashes}"#)
    }
}

/// What lines of the plot of heads mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Trace {
    Regulated,
    System,
    SetLine,
    HeadLimit,
    SpeedCap,
    PowerLimit,
    MinimumSpeed,
    Family,
}

impl Trace {
    /// From behind to the front.
    pub(super) const ALL: [Self; 8] = [
        Self::Family,
        Self::MinimumSpeed,
        Self::PowerLimit,
        Self::HeadLimit,
        Self::SpeedCap,
        Self::SetLine,
        Self::System,
        Self::Regulated,
    ];

    /// How it is drawn: no two are told apart by colour alone.
    pub(super) fn stroke(self, plot: &Plot<'_>) -> Stroke {
        let colours = &plot.colours;
        let (colour, width, dashes) = match self {
            Self::Family => (colours.rule, 1.2, ""),
            Self::MinimumSpeed => (colours.quiet, 1.4, "1.5 4"),
            Self::PowerLimit => (colours.cap, 2.0, "10 4 2 4"),
            Self::HeadLimit => (colours.head_limit, 2.0, "8 5"),
            Self::SpeedCap => (colours.cap, 2.2, ""),
            Self::SetLine => (colours.set_line, 2.2, ""),
            Self::System => (colours.system, 2.8, ""),
            Self::Regulated => (colours.ink, 5.0, ""),
        };
        Stroke { colour, width, dashes }
    }

    /// Its points, m³/s and m.
    pub(super) fn points(self, plot: &Plot<'_>) -> Vec<Vec<[f64; 2]>> {
        let curves: &Curves = plot.curves;
        match self {
            Self::Family => curves.family.iter().map(|(_, points)| points.clone()).collect(),
            Self::MinimumSpeed => vec![curves.minimum.clone()],
            Self::PowerLimit => vec![curves.power_limited.clone()],
            Self::HeadLimit => {
                let unit = plot.view.project.pump(plot.view.pump);
                let limit = unit.and_then(|unit| unit.regulation.head_limit_m);
                limit.map(|limit| vec![[0.0, limit], [1.02 * curves.frame[0], limit]]).into_iter().collect()
            }
            Self::SpeedCap => vec![curves.capped.clone()],
            Self::SetLine => vec![curves.set_line.clone()],
            Self::System => vec![curves.system.clone()],
            Self::Regulated => vec![curves.regulated.clone()],
        }
    }

    /// Its class in the picture.
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Regulated => "regulated",
            Self::System => "system",
            Self::SetLine => "set-line",
            Self::HeadLimit => "head-limit",
            Self::SpeedCap => "speed-cap",
            Self::PowerLimit => "power-limit",
            Self::MinimumSpeed => "minimum-speed",
            Self::Family => "family",
        }
    }

    /// How it is drawn, as attributes.
    pub(super) fn style(self, plot: &Plot<'_>) -> String {
        format!(r#"class="{}" {}"#, self.class(), self.stroke(plot).style())
    }

    /// Whether it is there.
    pub(super) fn is_drawn(self, plot: &Plot<'_>) -> bool {
        self.points(plot).iter().any(|points| points.len() > 1)
    }
}

/// Draws head over flow.
pub(super) fn head(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    svg.open("g", &format!(r#"class="heads" clip-path="url(#{})""#, plot.chart.clip(true, plot.view.pump.0)));
    for line in Trace::ALL {
        let is_present = line == Trace::System;
        if is_present {
            svg.open("g", r#"class="present""#);
        }
        for points in line.points(plot) {
            let points: Vec<[f64; 2]> = points.iter().map(|at| plot.chart.head_at(*at)).collect();
            if points.len() < 2 {
                continue;
            }
            if line != Trace::Family {
                room.line(&points);
            }
            svg.path(&path(points, false), &line.style(plot));
        }
        if is_present {
            svg.close("g");
        }
    }
    svg.close("g");
}

/// Draws power over flow.
pub(super) fn power(svg: &mut Svg, plot: &Plot<'_>) {
    let Some(unit) = plot.view.project.pump(plot.view.pump) else { return };
    svg.open("g", &format!(r#"class="powers" clip-path="url(#{})""#, plot.chart.clip(false, plot.view.pump.0)));
    let full: Vec<[f64; 2]> = unit.catalogue.iter().map(|point| [point.flow, point.power]).collect();
    let mut draw = |points: &[[f64; 2]], line: Trace| {
        let points = points.iter().map(|at| plot.chart.power_at(*at));
        svg.path(&path(points, false), &line.style(plot));
    };
    draw(&full, Trace::Family);
    if let Some(limit) = unit.regulation.power_limit_w {
        draw(&[[0.0, limit], [1.02 * plot.curves.frame[0], limit]], Trace::PowerLimit);
    }
    draw(&plot.curves.power, Trace::Regulated);
    svg.close("g");
}

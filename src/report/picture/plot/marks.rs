//! Points of a plot: the operating point with its figures, and a numbered one for each scenario, whose shape says how the zones stand.

use super::super::labels::Space;
use super::super::room::Room;
use super::super::svg::{Svg, Type, figure, path};
use super::super::width::text_width;
use super::{Plot, PlotState};
use crate::engine::units::Quantity;
use crate::study::ZoneState;

/// Size of the operating point's figures and of scenarios' numbers.
const LABEL: f64 = 15.0;
const NUMBER: f64 = 14.0;
/// Points nearer to each other than this share one label.
const SAME: f64 = 7.0;

/// Scenarios whose points lie at one place.
pub(super) struct Spot {
    at: [f64; 2],
    states: Vec<usize>,
}

/// How a scenario stands, the gravest last: as it should, a zone with too much or with too little, a source short of water.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Stands {
    Served,
    Over,
    Short,
    SourceShort,
}

impl Stands {
    /// How a state stands.
    pub(super) fn of(state: &PlotState) -> Self {
        match state.worst {
            _ if state.source_short => Self::SourceShort,
            state if state.is_short() => Self::Short,
            ZoneState::Overflowed => Self::Over,
            _ => Self::Served,
        }
    }
}

/// The scenarios' points; no label may lie on one, nor on the operating point.
pub(super) fn spots(plot: &Plot<'_>, room: &mut Room) -> Vec<Spot> {
    if let Some(pump) = plot.running() {
        room.take(about(plot.chart.head_at([pump.flow, pump.head]), 11.0));
    }
    let mut spots: Vec<Spot> = Vec::new();
    for (index, state) in plot.view.states.iter().enumerate().filter(|(_, state)| state.running) {
        let at = plot.chart.head_at([state.flow, state.head]);
        match spots.iter_mut().find(|spot| (spot.at[0] - at[0]).hypot(spot.at[1] - at[1]) < SAME) {
            Some(spot) => spot.states.push(index),
            None => spots.push(Spot { at, states: vec![index] }),
        }
    }
    for spot in &spots {
        room.take(about(spot.at, 6.0));
    }
    spots
}

fn about([x, y]: [f64; 2], half: f64) -> Space {
    [x - half, y - half, x + half, y + half]
}

/// Draws the scenarios' points with their numbers.
pub(super) fn states(svg: &mut Svg, plot: &Plot<'_>, spots: &[Spot], room: &mut Room) {
    svg.open("g", r#"class="states""#);
    for spot in spots {
        let worst = spot.states.iter().map(|index| Stands::of(&plot.view.states[*index]));
        let worst = worst.max().unwrap_or(Stands::Served);
        shape(svg, plot, spot.at, worst);
        let numbers: Vec<String> = spot.states.iter().map(|index| (index + 1).to_string()).collect();
        let text = numbers.join(", ");
        let [x, y] = spot.at;
        let width = text_width(&text, NUMBER);
        let space = |left: f64, middle: f64| [left, middle - 9.0, left + width, middle + 9.0];
        let mut places = Vec::new();
        for away in [0.0, 3.0, 10.0, 18.0, 30.0] {
            places.extend([
                space(x - 0.5 * width, y + 18.0 + away),
                space(x - 0.5 * width, y - 18.0 - away),
                space(x + 10.0 + away, y + 12.0),
                space(x - 10.0 - away - width, y + 12.0),
                space(x + 10.0 + away, y - 12.0),
                space(x - 10.0 - away - width, y - 12.0),
            ]);
        }
        let Some([left, top, ..]) = room.find_clear(&places) else { continue };
        let kind = Type { is_strong: true, rim: Some(plot.colours.sheet), ..Type::new(NUMBER, plot.colours.ink) };
        svg.text([left, top + 9.0 + 0.36 * NUMBER], &text, kind);
    }
    svg.close("g");
}

/// A disc where all is well, a triangle down or up where a zone gets too little or too much, a square with an exclamation mark where a
/// source is short of water.
pub(super) fn shape(svg: &mut Svg, plot: &Plot<'_>, [x, y]: [f64; 2], stands: Stands) {
    let [served, starved, overflowed] = plot.colours.words;
    let edge = format!(r#"stroke="{}" stroke-width="1.2""#, plot.colours.sheet);
    let d = 6.0;
    match stands {
        Stands::Served => {
            let [x, y] = [x, y].map(figure);
            svg.element("circle", &format!(r#"cx="{x}" cy="{y}" r="5" fill="{served}" {edge}"#));
        }
        Stands::Short => {
            let points = [[x - d, y - d], [x + d, y - d], [x, y + d]];
            svg.path(&path(points, true), &format!(r#"fill="{starved}" {edge}"#));
        }
        Stands::SourceShort => {
            let square = [[x - d, y - d], [x + d, y - d], [x + d, y + d], [x - d, y + d]];
            svg.path(&path(square, true), &format!(r#"class="source-short" fill="{starved}" {edge}"#));
            let mark = format!(r#"stroke="{}" stroke-width="2""#, plot.colours.sheet);
            svg.line([x, y - 4.0], [x, y + 1.0], &mark);
            svg.line([x, y + 2.4], [x, y + 4.4], &mark);
        }
        Stands::Over => {
            let points = [[x - d, y + d], [x, y - d], [x + d, y + d]];
            svg.path(&path(points, true), &format!(r#"fill="{overflowed}" {edge}"#));
        }
    }
}

/// Hair lines from the operating point to the axes.
pub(super) fn hairs(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    let Some(pump) = plot.running() else { return };
    let style = format!(r#"stroke="{}" stroke-width="1.2" stroke-dasharray="3 3""#, plot.colours.quiet);
    let ([x, y], [_, power]) =
        (plot.chart.head_at([pump.flow, pump.head]), plot.chart.power_at([pump.flow, pump.electric_w]));
    let ([left, _, _, bottom], [_, top, _, end]) = (plot.chart.head_frame(), plot.chart.power_frame());
    room.line(&[[left, y], [x, y], [x, bottom]]);
    svg.line([left, y], [x, y], &style);
    svg.line([x, y], [x, bottom], &style);
    svg.line([left, power], [x, power], &style);
    svg.line([x, top], [x, end], &style);
}

/// A full point with a ring.
pub(super) fn point(svg: &mut Svg, plot: &Plot<'_>, at: [f64; 2], radius: f64) {
    let [x, y] = at.map(figure);
    let colours = &plot.colours;
    let at = format!(r#"cx="{x}" cy="{y}""#);
    svg.element("circle", &format!(r#"{at} r="{}" fill="{}""#, radius + 2.5, colours.ink));
    svg.element("circle", &format!(r#"{at} r="{}" fill="{}""#, radius + 1.5, colours.sheet));
    svg.element("circle", &format!(r#"class="point" {at} r="{radius}" fill="{}""#, colours.present));
}

/// The operating point in both plots.
pub(super) fn operating_point(svg: &mut Svg, plot: &Plot<'_>) {
    let Some(pump) = plot.running() else { return };
    point(svg, plot, plot.chart.head_at([pump.flow, pump.head]), 8.0);
    point(svg, plot, plot.chart.power_at([pump.flow, pump.electric_w]), 6.0);
}

/// Its figures beside it, on a filled ground.
pub(super) fn label(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    let Some(pump) = plot.running() else { return };
    let units = plot.units;
    let text = format!("{} · {}", units.format(Quantity::Flow, pump.flow), units.format(Quantity::Head, pump.head));
    let [x, y] = plot.chart.head_at([pump.flow, pump.head]);
    let places = round([x, y], text_width(&text, LABEL) + 16.0);
    if let Some(space) = room.find(&places) {
        pill(svg, plot, space, &text);
    }
    let text = units.format(Quantity::Power, pump.electric_w);
    let [x, y] = plot.chart.power_at([pump.flow, pump.electric_w]);
    let mut below = Room::new(plot.chart.power_frame());
    let line: Vec<[f64; 2]> = plot.curves.power.iter().map(|at| plot.chart.power_at(*at)).collect();
    below.line(&line);
    if let Some(space) = below.find(&round([x, y], text_width(&text, LABEL) + 16.0)) {
        pill(svg, plot, space, &text);
    }
}

/// Places of a label of this width about a point, the nearest first.
fn round([x, y]: [f64; 2], width: f64) -> Vec<Space> {
    const HEIGHT: f64 = 25.0;
    let mut places = Vec::new();
    for away in [14.0, 24.0, 36.0, 52.0, 72.0] {
        for (left, top) in [
            (x + away, y - away - HEIGHT),
            (x + away, y + away),
            (x - away - width, y - away - HEIGHT),
            (x - away - width, y + away),
            (x + away, y - 0.5 * HEIGHT),
            (x - away - width, y - 0.5 * HEIGHT),
        ] {
            places.push([left, top, left + width, top + HEIGHT]);
        }
    }
    places
}

fn pill(svg: &mut Svg, plot: &Plot<'_>, [left, top, right, bottom]: Space, text: &str) {
    let colours = &plot.colours;
    svg.rect([left, top, right - left, bottom - top], &format!(r#"rx="5" fill="{}""#, colours.ink));
    let kind = Type { anchor: "middle", is_strong: true, ..Type::new(LABEL, colours.sheet) };
    svg.text([0.5 * (left + right), 0.5 * (top + bottom) + 0.36 * LABEL], text, kind);
}

//! The plot of one pump as a page holds it: what all states share, drawn once; a state's own curve and point are put in by the page's
//! script. Colours are classes, so that the page's light and dark hold here too.

use super::html::escaped;
use crate::engine::units::{Quantity, Units, round_step};
use crate::study::{CurvePoint, Curves};
use std::fmt::Write;

/// Left, top, right and bottom of the plane of heads.
const HEADS: [f64; 4] = [54.0, 30.0, 628.0, 352.0];
/// Of the plane of powers below it.
const POWERS: [f64; 4] = [54.0, 398.0, 628.0, 478.0];
/// Size of the whole.
const SIZE: [f64; 2] = [640.0, 530.0];

/// From flows, heads and powers to places in the plot.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    flow: f64,
    head: f64,
    power: f64,
}

/// A place in the plot.
pub(super) type Spot = [f64; 2];

impl Frame {
    /// Room for all curves of a pump.
    pub(super) fn of(curves: &Curves) -> Self {
        let most = curves.power.iter().map(|point| point[1]).fold(0.0, f64::max);
        Self { flow: 1.02 * curves.frame[0], head: 1.08 * curves.frame[1], power: 1.2 * most.max(1.0) }
    }

    fn place(&self, [flow, value]: CurvePoint, [left, top, right, bottom]: [f64; 4], end: f64) -> Spot {
        [left + flow / self.flow * (right - left), bottom - value / end * (bottom - top)]
    }

    /// The place of a flow (m³/s) and a head (m).
    pub(super) fn at_head(&self, point: CurvePoint) -> Spot {
        self.place(point, HEADS, self.head)
    }

    /// The place of a flow (m³/s) and a power (W).
    pub(super) fn at_power(&self, point: CurvePoint) -> Spot {
        self.place(point, POWERS, self.power)
    }
}

/// A place with one decimal, which is finer than a screen shows.
pub(super) fn rounded(spot: Spot) -> Spot {
    spot.map(|value| (value * 10.0).round() / 10.0)
}

/// Points as a path; nothing where there are none.
pub(super) fn path(points: impl IntoIterator<Item = Spot>) -> String {
    let mut text = String::new();
    for (index, spot) in points.into_iter().filter(|spot| spot.iter().all(|value| value.is_finite())).enumerate() {
        let [x, y] = rounded(spot);
        let _ = write!(text, "{}{x} {y}", if index == 0 { 'M' } else { 'L' });
    }
    text
}

/// A mark of a listed state.
pub(super) struct Mark<'a> {
    /// Its number in the list.
    pub listed: usize,
    pub name: &'a str,
    pub at: Spot,
    /// How its worst zone stands.
    pub class: &'static str,
}

/// The plot of the pump with a number on the page.
pub(super) fn plot(number: usize, name: &str, curves: &Curves, frame: &Frame, marks: &[Mark<'_>]) -> String {
    let heads = |points: &[CurvePoint]| path(points.iter().map(|point| frame.at_head(*point)));
    let [width, height] = SIZE;
    let mut text = format!(
        "<svg class=\"plot\" data-pump=\"{number}\" viewBox=\"0 0 {width} {height}\" role=\"img\" \
         aria-labelledby=\"plot-title-{number} plot-says-{number}\">\n<title id=\"plot-title-{number}\">Head and electric power \
         over flow: {}</title>\n<desc id=\"plot-says-{number}\"></desc>\n",
        escaped(name)
    );
    let _ = writeln!(text, "<defs>{}{}</defs>", clip(number, "heads", HEADS), clip(number, "powers", POWERS));
    for [left, top, right, bottom] in [HEADS, POWERS] {
        let _ = writeln!(
            text,
            r#"<rect class="sheet" x="{left}" y="{top}" width="{}" height="{}"/>"#,
            right - left,
            bottom - top
        );
    }
    for (which, units) in [("si", Units::si()), ("ip", Units::inch_pound())] {
        let _ = writeln!(text, "<g data-in=\"{which}\">{}</g>", grid(frame, &units));
    }
    let _ = writeln!(text, r#"<g clip-path="url(#heads-{number})">"#);
    for (speed, points) in &curves.family {
        let class = if *speed < 1.0 { "family" } else { "full" };
        curve(&mut text, class, &heads(points));
    }
    curve(&mut text, "capped", &heads(&curves.capped));
    curve(&mut text, "limited", &heads(&curves.power_limited));
    curve(&mut text, "set-line", &heads(&curves.set_line));
    text += "<path class=\"system\" d=\"\"/>\n";
    curve(&mut text, "regulated", &heads(&curves.regulated));
    text += "</g>\n";
    let _ = writeln!(text, r#"<g clip-path="url(#powers-{number})">"#);
    curve(&mut text, "drawn", &path(curves.power.iter().map(|point| frame.at_power(*point))));
    text += "</g>\n<g class=\"marks\">\n";
    for Mark { listed, name, at, class } in marks {
        let shape = shape(class, rounded(*at));
        let _ = writeln!(
            text,
            r#"<path class="mark {class}" data-listed="{listed}" d="{shape}"><title>{}</title></path>"#,
            escaped(name)
        );
    }
    text += "</g>\n<g class=\"here\">\n<path class=\"drop\" d=\"\"/>\n<circle class=\"at-power\" r=\"4.5\"/>\n\
             <circle class=\"point\" r=\"7\"/>\n<text class=\"says\"></text>\n</g>\n</svg>\n";
    text
}

/// A disc where all is well, a triangle down or up where a zone gets too little or too much: a path.
pub(super) fn shape(class: &str, [x, y]: Spot) -> String {
    match class {
        "short" => format!("M{x} {}l-6 -9h12z", y + 5.0),
        "over" => format!("M{x} {}l-6 9h12z", y - 5.0),
        _ => format!("M{} {y}a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0 -9 0z", x - 4.5),
    }
}

fn clip(number: usize, name: &str, [left, top, right, bottom]: [f64; 4]) -> String {
    let (width, height) = (right - left, bottom - top);
    format!(
        r#"<clipPath id="{name}-{number}"><rect x="{left}" y="{top}" width="{width}" height="{height}"/></clipPath>"#
    )
}

fn curve(text: &mut String, class: &str, path: &str) {
    if !path.is_empty() {
        let _ = writeln!(text, r#"<path class="{class}" d="{path}"/>"#);
    }
}

/// Grid lines, figures and names of the axes in one set of units.
fn grid(frame: &Frame, units: &Units) -> String {
    let mut text = String::new();
    let [left, top, right, bottom] = HEADS;
    let [_, low_top, _, low_bottom] = POWERS;
    for (flow, figure) in ticks(units, Quantity::Flow, frame.flow, 7.0) {
        let [x, _] = rounded(frame.at_head([flow, 0.0]));
        let _ = write!(text, r#"<path class="grid" d="M{x} {top}V{bottom}M{x} {low_top}V{low_bottom}"/>"#);
        let _ = write!(text, r#"<text class="figure along" x="{x}" y="{}">{figure}</text>"#, low_bottom + 19.0);
    }
    let planes = [(Quantity::Head, HEADS, frame.head, 7.0), (Quantity::Power, POWERS, frame.power, 3.0)];
    for (quantity, [_, top, _, bottom], end, about) in planes {
        for (value, figure) in ticks(units, quantity, end, about) {
            let y = ((bottom - value / end * (bottom - top)) * 10.0).round() / 10.0;
            let _ = write!(text, r#"<path class="grid" d="M{left} {y}H{right}"/>"#);
            let _ = write!(text, r#"<text class="figure up" x="{}" y="{}">{figure}</text>"#, left - 7.0, y + 4.5);
        }
    }
    for (name, quantity, class, [x, y]) in [
        ("Head", Quantity::Head, "name", [left, top - 11.0]),
        ("Electric power", Quantity::Power, "name", [left, low_top - 11.0]),
        ("Flow", Quantity::Flow, "name end", [right, low_bottom + 42.0]),
    ] {
        let _ = write!(text, r#"<text class="{class}" x="{x}" y="{y}">{name}, {}</text>"#, units.symbol(quantity));
    }
    text
}

/// Round numbers of a unit from zero to an inside value, with as many decimals as they need.
fn ticks(units: &Units, quantity: Quantity, end: f64, about: f64) -> Vec<(f64, String)> {
    let end = units.from_si(quantity, end);
    let Some(step) = round_step(end, about) else { return Vec::new() };
    let decimals = if step >= 1.0 { 0 } else { (-step.log10().floor()) as usize };
    let numbers = (0..).map(|k| f64::from(k) * step).take_while(|number| *number <= end * (1.0 + 1e-9));
    numbers.map(|number| (units.to_si(quantity, number), format!("{number:.decimals$}"))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_follow_the_axes() {
        let frame = Frame { flow: 2.0, head: 10.0, power: 100.0 };
        let [left, top, right, bottom] = HEADS;
        assert_eq!(frame.at_head([0.0, 10.0]), [left, top]);
        assert_eq!(frame.at_head([2.0, 0.0]), [right, bottom]);
        assert_eq!(frame.at_power([1.0, 50.0]), [0.5 * (left + right), 0.5 * (POWERS[1] + POWERS[3])]);
        assert_eq!(path([[1.04, 2.0], [f64::NAN, 1.0], [3.0, 4.25]]), "M1 2L3 4.3");
    }
}

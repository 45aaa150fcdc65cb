//! The frames of a plot: where flows, heads and powers lie, with grid, figures and names.

use super::super::axes::ticks;
use super::super::colours::Colours;
use super::super::heading::SIDES;
use super::super::svg::{Svg, Type, figure};
use crate::document::PumpUnit;
use crate::engine::units::{Quantity, Units};
use crate::study::Curves;

/// Left edge of both frames.
const LEFT: f64 = 92.0;
/// Heights of the two frames and what lies between.
const HEAD: f64 = 460.0;
const BETWEEN: f64 = 26.0;
const POWER: f64 = 140.0;
/// Height of figures and name below.
const FOOT: f64 = 62.0;
/// Size of figures and of names.
const FIGURES: f64 = 15.0;
const NAMES: f64 = 15.0;

/// Where everything lies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chart {
    top: f64,
    /// Ends of the axes: m³/s, m, W.
    ends: [f64; 3],
}

impl Chart {
    /// The ends are those of the window: a little more than the pump can do at full speed, whatever is set.
    pub(super) fn new(curves: &Curves, unit: &PumpUnit, top: f64) -> Self {
        let most_w = unit.catalogue.iter().map(|point| point.power).fold(1.0, f64::max);
        Self { top, ends: [1.02 * curves.frame[0], 1.08 * curves.frame[1], 1.12 * most_w] }
    }

    /// Left, top, right and bottom of the plot of heads.
    pub(super) fn head_frame(&self) -> [f64; 4] {
        [LEFT, self.top, SIDES[1], self.top + HEAD]
    }

    /// The same of powers.
    pub(super) fn power_frame(&self) -> [f64; 4] {
        let top = self.top + HEAD + BETWEEN;
        [LEFT, top, SIDES[1], top + POWER]
    }

    /// Height below which the rest may stand.
    pub(super) fn below(&self) -> f64 {
        self.power_frame()[3] + FOOT
    }

    fn along(&self, flow: f64) -> f64 {
        LEFT + flow / self.ends[0] * (SIDES[1] - LEFT)
    }

    /// Where a flow (m³/s) and a head (m) lie.
    pub(super) fn head_at(&self, [flow, head]: [f64; 2]) -> [f64; 2] {
        let [_, top, _, bottom] = self.head_frame();
        [self.along(flow), bottom - head / self.ends[1] * (bottom - top)]
    }

    /// Where a flow (m³/s) and a power (W) lie.
    pub(super) fn power_at(&self, [flow, power]: [f64; 2]) -> [f64; 2] {
        let [_, top, _, bottom] = self.power_frame();
        [self.along(flow), bottom - power / self.ends[2] * (bottom - top)]
    }

    /// The name of the clip of the plot of heads, or of powers. Several plots may stand on one page.
    pub(super) fn clip(&self, is_head: bool, pump: u32) -> String {
        format!("{}-frame-{pump}-{}", if is_head { "head" } else { "power" }, figure(self.top))
    }

    /// Draws sheets, grid, figures and names.
    pub(super) fn frames(&self, svg: &mut Svg, units: &Units, colours: &Colours, pump: u32) {
        let frames = [(self.head_frame(), true), (self.power_frame(), false)];
        svg.open("defs", "");
        for ([left, top, right, bottom], is_head) in frames {
            svg.open("clipPath", &format!(r#"id="{}""#, self.clip(is_head, pump)));
            svg.rect([left, top, right - left, bottom - top], "");
            svg.close("clipPath");
        }
        svg.close("defs");
        let flows = ticks(units, Quantity::Flow, [0.0, self.ends[0]], 9.0);
        for ([left, top, right, bottom], is_head) in frames {
            svg.rect([left, top, right - left, bottom - top], &format!(r#"fill="{}""#, colours.sheet));
            let grid = format!(r#"stroke="{}""#, colours.grid);
            for (flow, _) in &flows {
                svg.line([self.along(*flow), top], [self.along(*flow), bottom], &grid);
            }
            let (quantity, end, about) =
                if is_head { (Quantity::Head, self.ends[1], 8.0) } else { (Quantity::Power, self.ends[2], 5.0) };
            for (value, text) in ticks(units, quantity, [0.0, end], about) {
                let [_, y] = if is_head { self.head_at([0.0, value]) } else { self.power_at([0.0, value]) };
                svg.line([left, y], [right, y], &grid);
                svg.text(
                    [left - 9.0, y + 0.36 * FIGURES],
                    &text,
                    Type { anchor: "end", ..Type::new(FIGURES, colours.ink) },
                );
            }
            svg.rect([left, top, right - left, bottom - top], &format!(r#"fill="none" stroke="{}""#, colours.rule));
            let strong = Type { anchor: "middle", is_strong: true, ..Type::new(NAMES, colours.ink) };
            svg.upright_text([left - 58.0, 0.5 * (top + bottom)], &name(quantity, units), strong);
        }
        let [left, _, right, bottom] = self.power_frame();
        for (flow, text) in &flows {
            let at = [self.along(*flow), bottom + 20.0];
            svg.text(at, text, Type { anchor: "middle", ..Type::new(FIGURES, colours.ink) });
        }
        let strong = Type { anchor: "middle", is_strong: true, ..Type::new(NAMES, colours.ink) };
        svg.text([0.5 * (left + right), bottom + 44.0], &name(Quantity::Flow, units), strong);
    }

    /// Says for a script where zero and the ends of the axes lie, and what they are in m³/s, m and W.
    pub(super) fn scale(&self, svg: &mut Svg) {
        let ([left, top, right, bottom], [_, power_top, _, power_bottom]) = (self.head_frame(), self.power_frame());
        let [left, top, right, bottom, power_top, power_bottom] =
            [left, top, right, bottom, power_top, power_bottom].map(figure);
        let [flow, head, power] = self.ends;
        svg.open(
            "g",
            &format!(
                r#"class="scale" data-left="{left}" data-right="{right}" data-top="{top}" data-bottom="{bottom}" data-power-top="{power_top}" data-power-bottom="{power_bottom}" data-flow-end="{flow}" data-head-end="{head}" data-power-end="{power}""#
            ),
        );
        svg.close("g");
    }
}

fn name(quantity: Quantity, units: &Units) -> String {
    let mut letters = quantity.name().chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}, {}", letters.as_str(), units.symbol(quantity))
}

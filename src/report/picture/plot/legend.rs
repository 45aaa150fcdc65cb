//! What lines and points mean, below the plot; the scenarios by number with their figures.

use super::super::heading::SIDES;
use super::super::svg::{Svg, Type};
use super::super::width::{fitted, text_width};
use super::Plot;
use super::lines::Trace;
use super::marks::{self, Stands};
use crate::engine::units::Quantity;

/// Size and height of a row.
const SIZE: f64 = 14.0;
const LINE: f64 = 22.0;
/// Length of a sample of a line.
const SAMPLE: f64 = 30.0;
/// Space below everything.
const FOOT: f64 = 10.0;
/// Most scenarios that are told.
const MOST: usize = 16;

fn name(line: Trace) -> &'static str {
    match line {
        Trace::Regulated => "what the circulator gives",
        Trace::System => "system at the present valves",
        Trace::SetLine => "set-line",
        Trace::HeadLimit => "head limit",
        Trace::SpeedCap => "curve at the speed cap",
        Trace::PowerLimit => "curve at the power limit",
        Trace::MinimumSpeed => "minimum speed",
        Trace::Family => "constant speeds, % of full speed",
    }
}

/// Draws both; gives back the height of the whole picture.
pub(super) fn draw(svg: &mut Svg, plot: &Plot<'_>) -> f64 {
    let mut y = plot.chart.below() + 14.0;
    let mut x = SIDES[0];
    for line in Trace::ALL.into_iter().rev().filter(|line| line.is_drawn(plot)) {
        let text = name(line);
        let width = SAMPLE + 8.0 + text_width(text, SIZE);
        if x > SIDES[0] && x + width > SIDES[1] {
            (x, y) = (SIDES[0], y + LINE);
        }
        let style = line.stroke(plot).style();
        svg.line([x, y], [x + SAMPLE, y], &style);
        svg.text([x + SAMPLE + 8.0, y + 0.36 * SIZE], text, Type::new(SIZE, plot.colours.ink));
        x += width + 22.0;
    }
    y += LINE;
    if !plot.view.states.is_empty() {
        y = scenarios(svg, plot, y + 8.0);
    }
    y + FOOT
}

/// The scenarios in two columns.
fn scenarios(svg: &mut Svg, plot: &Plot<'_>, top: f64) -> f64 {
    let colours = &plot.colours;
    let heading = "Operating points of the scenarios";
    svg.text([SIDES[0], top + 0.36 * SIZE], heading, Type { is_strong: true, ..Type::new(SIZE, colours.quiet) });
    let mut signs =
        vec![(Stands::Served, "all served"), (Stands::Short, "a zone gets too little"), (Stands::Over, "too much")];
    if plot.view.states.iter().any(|state| state.source_short) {
        signs.push((Stands::SourceShort, "source short of water"));
    }
    let mut x = SIDES[1];
    for (stands, text) in signs.into_iter().rev() {
        x -= text_width(text, SIZE);
        svg.text([x, top + 0.36 * SIZE], text, Type::new(SIZE, colours.quiet));
        x -= 14.0;
        marks::shape(svg, plot, [x, top], stands);
        x -= 22.0;
    }
    let states = plot.view.states;
    let shown = states.len().min(MOST);
    let rows = shown.div_ceil(2);
    let gap = 28.0;
    let column = 0.5 * (SIDES[1] - SIDES[0] - gap);
    for (index, state) in states.iter().take(shown).enumerate() {
        let left = SIDES[0] + (index / rows.max(1)) as f64 * (column + gap);
        let y = top + (1 + index % rows.max(1)) as f64 * LINE + 4.0;
        marks::shape(svg, plot, [left + 30.0, y], Stands::of(state));
        let number = Type { anchor: "end", is_strong: true, ..Type::new(SIZE, colours.ink) };
        svg.text([left + 19.0, y + 0.36 * SIZE], &(index + 1).to_string(), number);
        let units = plot.units;
        let figures = match state.running {
            true => format!(
                "{} · {} · {}",
                units.format(Quantity::Flow, state.flow),
                units.format(Quantity::Head, state.head),
                units.format(Quantity::Power, state.electric_w)
            ),
            false => "off".to_owned(),
        };
        let most = column - 44.0 - text_width(&figures, SIZE) - 12.0;
        svg.text([left + 44.0, y + 0.36 * SIZE], &fitted(&state.name, SIZE, most), Type::new(SIZE, colours.ink));
        let end = Type { anchor: "end", ..Type::new(SIZE, colours.quiet) };
        svg.text([left + column, y + 0.36 * SIZE], &figures, end);
    }
    let mut y = top + (rows + 1) as f64 * LINE + 4.0;
    if states.len() > shown {
        let text = format!("and {} more", states.len() - shown);
        svg.text([SIDES[0] + 44.0, y + 0.36 * SIZE], &text, Type::new(SIZE, colours.quiet));
        y += LINE;
    }
    y
}

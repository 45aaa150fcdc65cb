//! The plot as a picture: head over flow with everything that is set, where each limit governs, the operating point and those of the
//! scenarios; below it electric power over the same flow.

mod chart;
mod governing;
mod legend;
mod lines;
mod marks;
mod names;
mod states;

pub use states::{PlotState, plot_states};

use super::Look;
use super::colours::Colours;
use super::heading::{self, Heading, Words};
use super::room::Room;
use super::svg::Svg;
use crate::document::{ComponentId, Project};
use crate::engine::units::{Quantity, Units};
use crate::study::{Curves, PumpResult, Study};
use chart::Chart;

/// What a plot shows.
#[derive(Clone, Copy)]
pub struct PlotView<'a> {
    /// The project.
    pub project: &'a Project,
    /// Its study.
    pub study: &'a Study,
    /// The circulator whose curves are drawn.
    pub pump: ComponentId,
    /// Other states whose operating points are shown, numbered from 1: the scenarios, as [`plot_states`] gives them.
    pub states: &'a [PlotState],
    /// Whether a page's script is to show and hide the states: each then stands in a group of its own, hidden, with its system curve
    /// and its point, `<g class="scenario" data-scenario="0">` for the first; what is of the present state stands in
    /// `<g class="present">`, and `<g class="scale">` says where flows, heads and powers lie.
    pub layers: bool,
}

impl PlotView<'_> {
    /// Whether the figures stand: the present state and all others that are shown converged.
    pub(super) fn converged(&self) -> bool {
        self.study.results().converged() && self.states.iter().all(|state| state.converged)
    }
}

/// Width of a plot in its own units.
const WIDTH: f64 = 1000.0;

/// One plot on its way to paper.
struct Plot<'a> {
    view: &'a PlotView<'a>,
    units: &'a Units,
    colours: Colours,
    curves: &'a Curves,
    chart: Chart,
}

impl Plot<'_> {
    /// What the pump does now, if it runs.
    fn running(&self) -> Option<&PumpResult> {
        self.view.study.results().pumps.get(&self.view.pump).filter(|pump| pump.running)
    }
}

/// Draws a plot; without a heading nothing stands above it.
#[must_use]
pub fn plot_svg(view: &PlotView<'_>, units: &Units, look: Look, heading: Option<&Heading<'_>>) -> String {
    let colours = Colours::new(look.dark);
    let mut svg = Svg::default();
    let name = view.project.components.get(&view.pump).map_or("", |component| component.name.as_str());
    let symbols = [Quantity::Flow, Quantity::Head, Quantity::Power].map(|quantity| units.symbol(quantity));
    // What a page's script shows is of one state after the other.
    let standing = if view.layers { String::new() } else { heading::standing(view.project, units) };
    let words = Words {
        project: &view.project.title,
        what: &format!("{name}{standing}: head and power over flow"),
        units: &format!("flow in {}, head in {}, power in {}", symbols[0], symbols[1], symbols[2]),
        stands: view.converged(),
    };
    // The ground goes first, but is as high as what stands on it.
    let mut body = Svg::default();
    let (top, title) = heading::draw(&mut body, heading, &words, &colours);
    let height = match (view.study.curves(view.pump), view.project.pump(view.pump)) {
        (Some(curves), Some(unit)) => {
            let chart = Chart::new(curves, unit, top);
            let plot = Plot { view, units, colours, curves, chart };
            draw(&mut body, &plot)
        }
        _ => top + 20.0,
    };
    svg.rect([0.0, 0.0, WIDTH, height], &format!(r#"fill="{}""#, colours.ground));
    svg.append(body);
    svg.finish([WIDTH, height], f64::from(look.width), &title)
}

/// Draws all below the heading; gives back the whole height.
fn draw(svg: &mut Svg, plot: &Plot<'_>) -> f64 {
    let chart = &plot.chart;
    chart.frames(svg, plot.units, &plot.colours, plot.view.pump.0);
    if plot.view.layers {
        chart.scale(svg);
    }
    let mut room = Room::new(chart.head_frame());
    lines::head(svg, plot, &mut room);
    let spots = marks::spots(plot, &mut room);
    lines::power(svg, plot);
    states::hidden(svg, plot);
    svg.open("g", r#"class="present""#);
    marks::hairs(svg, plot, &mut room);
    svg.close("g");
    let mut names = Svg::default();
    marks::label(&mut names, plot, &mut room);
    marks::states(svg, plot, &spots, &mut room);
    names::settings(svg, plot, &mut room);
    governing::names(svg, plot, &mut room);
    names::system(svg, plot, &mut room);
    names::family(svg, plot, &mut room);
    names::end_of_data(svg, plot, &mut room);
    names::full_power(svg, plot);
    svg.open("g", r#"class="present""#);
    marks::operating_point(svg, plot);
    svg.append(names);
    svg.close("g");
    legend::draw(svg, plot)
}

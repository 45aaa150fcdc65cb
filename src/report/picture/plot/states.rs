//! Other states than the present one: each scenario with its operating point and the system curve that the pump sees in it.

use super::super::svg::{Svg, path};
use super::Plot;
use super::lines::Trace;
use super::marks;
use crate::document::{Command, ComponentId, Project};
use crate::study::{CurvePoint, PumpResult, Study, SweepError, ZoneState, is_a_source_short};
use rayon::prelude::*;

/// A state of the valves and the weather, as the pump meets it.
#[derive(Clone, Debug, PartialEq)]
pub struct PlotState {
    /// What to call it.
    pub name: String,
    /// Flow, m³/s.
    pub flow: f64,
    /// Head, m.
    pub head: f64,
    /// Electric power, W.
    pub electric_w: f64,
    /// Whether the figures stand.
    pub converged: bool,
    /// Whether the pump runs.
    pub running: bool,
    /// The zone state that stands for it: one that gets too little before one that gets too much, served where all are.
    pub worst: ZoneState,
    /// Whether a source is short of water.
    pub source_short: bool,
    /// The system curve, m³/s and m.
    pub system: Vec<CurvePoint>,
}

impl PlotState {
    /// The state of a project's study.
    #[must_use]
    pub fn of(name: &str, project: &Project, study: &Study, pump: ComponentId) -> Self {
        let results = study.results();
        let of = |figure: fn(&PumpResult) -> f64| results.pumps.get(&pump).map_or(0.0, figure);
        let zones = || results.zones.values().map(|zone| zone.state);
        let worst = zones().find(|state| state.is_short()).or_else(|| zones().find(|s| *s == ZoneState::Overflowed));
        Self {
            name: name.to_owned(),
            flow: of(|pump| pump.flow),
            head: of(|pump| pump.head),
            electric_w: of(|pump| pump.electric_w),
            converged: results.converged(),
            running: results.pumps.get(&pump).is_some_and(|pump| pump.running),
            worst: worst.unwrap_or(ZoneState::Served),
            source_short: is_a_source_short(project, results),
            system: study.curves(pump).map(|curves| curves.system.clone()).unwrap_or_default(),
        }
    }
}

/// Every scenario of a project, each solved exactly.
///
/// # Errors
/// A scenario that cannot be studied.
pub fn plot_states(project: &Project, pump: ComponentId) -> Result<Vec<PlotState>, SweepError> {
    let state = |index: usize| -> Result<PlotState, SweepError> {
        let mut case = project.clone();
        case.apply(&Command::EnterScenario(index))?;
        Ok(PlotState::of(&project.scenarios[index].name, &case, &Study::new(&case)?, pump))
    };
    (0..project.scenarios.len()).into_par_iter().map(state).collect()
}

/// Writes what a page's script may show: each state's system curve and point, hidden.
pub(super) fn hidden(svg: &mut Svg, plot: &Plot<'_>) {
    if !plot.view.layers {
        return;
    }
    for (index, state) in plot.view.states.iter().enumerate() {
        svg.open("g", &format!(r#"class="scenario" data-scenario="{index}" visibility="hidden""#));
        svg.open("g", &format!(r#"clip-path="url(#{})""#, plot.chart.clip(true, plot.view.pump.0)));
        let points = state.system.iter().map(|at| plot.chart.head_at(*at));
        svg.path(&path(points, false), &Trace::System.style(plot));
        svg.close("g");
        if state.running {
            marks::point(svg, plot, plot.chart.head_at([state.flow, state.head]), 8.0);
            marks::point(svg, plot, plot.chart.power_at([state.flow, state.electric_w]), 6.0);
        }
        svg.close("g");
    }
}

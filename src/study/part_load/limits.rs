//! What must not be passed for the sake of quiet: velocities in pipes, pressure over the valves that zones regulate by. What the
//! design itself asks for is allowed, and as much more as the zones' band: a pipe that is too small is a matter of the checks.

use crate::document::{Component, ComponentId, ComponentKind, PipeId, Project};
use crate::problems::Place;
use crate::study::results::Results;

/// What comes nearest to its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// Where.
    pub place: Place,
    /// What is there, m/s in a pipe and Pa over a valve.
    pub value: f64,
    /// What may be.
    pub allowed: f64,
}

impl Worst {
    /// Share of what may be; above one it is passed.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.value / self.allowed
    }
}

/// What may be, pipe by pipe and valve by valve.
#[derive(Clone, Debug, Default)]
pub(super) struct Allowed {
    /// m/s.
    pub(super) pipes: Vec<(PipeId, f64)>,
    /// Pa.
    pub(super) valves: Vec<(ComponentId, f64)>,
    /// Sources with a minimum flow, m³/s.
    sources: Vec<(ComponentId, f64)>,
}

impl Allowed {
    /// From the project's limits and what flows at design.
    pub(super) fn new(project: &Project, at_design: &Results) -> Self {
        let more = project.acceptance.high;
        let pipes = project.pipes.iter().filter_map(|(id, pipe)| {
            let limit = project.limits.most_velocity(pipe.bore)?;
            let there = at_design.pipes.get(id)?.velocity.abs();
            there.is_finite().then_some((*id, if there > limit { more * there } else { limit }))
        });
        let valves = project.components.iter().filter(|(_, component)| regulates(component)).filter_map(|(id, _)| {
            let limit = project.limits.valve_drop;
            let there = at_design.components.get(id)?.drop.abs();
            Some((*id, if there > limit { more * more * there } else { limit }))
        });
        let sources = project.components.iter().filter_map(|(id, component)| match &component.kind {
            ComponentKind::Source(source) if source.minimum_flow > 0.0 => Some((*id, source.minimum_flow)),
            _ => None,
        });
        Self { pipes: pipes.collect(), valves: valves.collect(), sources: sources.collect() }
    }

    /// The least flow of a source over its minimum; infinite where none has one. One without any flow stands by.
    pub(super) fn source(&self, results: &Results) -> f64 {
        let ratio = |(id, minimum): &(ComponentId, f64)| Some(results.components.get(id)?.flow / minimum);
        self.sources.iter().filter_map(ratio).filter(|ratio| *ratio > 1e-6).fold(f64::INFINITY, f64::min)
    }

    /// What comes nearest to its limit.
    pub(super) fn worst(&self, results: &Results) -> Option<Worst> {
        let pipes = self.pipes.iter().filter_map(|(id, allowed)| {
            Some(Worst { place: Place::Pipe(*id), value: results.pipes.get(id)?.velocity.abs(), allowed: *allowed })
        });
        let valves = self.valves.iter().filter_map(|(id, allowed)| {
            let result = results.components.get(id)?;
            // Over a valve that passes nothing stands a pressure that nobody hears.
            let value = if result.flow == 0.0 { 0.0 } else { result.drop.abs() };
            Some(Worst { place: Place::Component(*id), value, allowed: *allowed })
        });
        let known = pipes.chain(valves).filter(|worst| worst.value.is_finite());
        known.max_by(|a, b| a.ratio().total_cmp(&b.ratio()))
    }
}

/// Whether a zone regulates by it; a pressure-independent valve takes what it is given without a sound of its own.
fn regulates(component: &Component) -> bool {
    matches!(
        component.kind,
        ComponentKind::ZoneValve { .. } | ComponentKind::ThermostaticValve { .. } | ComponentKind::ControlValve { .. }
    )
}

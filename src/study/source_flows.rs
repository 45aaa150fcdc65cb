//! What is wrong with the flow through a source: it stands by, water runs backwards through it, or it has too little. One rule for
//! the list of checks and for the sentence about the situation.

use super::results::{NOTHING, Results};
use crate::document::{ComponentId, ComponentKind, Project, Source};

/// What is wrong with the flow through a source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SourceFault {
    /// Nothing flows while another source has flow: it lacks nothing as long as it does not fire.
    StandsBy,
    /// Water runs backwards.
    Backwards,
    /// It has less than its minimum flow.
    Short,
}

/// A source with which something is wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SourceFlow {
    /// Which.
    pub(super) id: ComponentId,
    /// Flow from its inlet to its outlet, m³/s.
    pub(super) flow: f64,
    /// Its minimum flow, m³/s; above zero for one that has too little.
    pub(super) least: f64,
    /// What is wrong.
    pub(super) fault: SourceFault,
}

/// Rated flow below which a source counts as one of this, m³/s: what runs backwards is measured against it.
const LEAST_RATED: f64 = 1e-6;

/// The sources with which something is wrong, in the document's order; none while no pump runs.
pub(super) fn source_faults(project: &Project, results: &Results) -> Vec<SourceFlow> {
    if !results.pumps.values().any(|pump| pump.running) {
        return Vec::new();
    }
    let sources = || {
        project.components.iter().filter_map(|(id, component)| match &component.kind {
            ComponentKind::Source(source) => Some((*id, source, results.component_flow(*id))),
            _ => None,
        })
    };
    let greatest = sources().map(|(_, _, flow)| flow.abs()).fold(0.0, f64::max);
    let ill = |(id, source, flow): (ComponentId, &Source, f64)| {
        let least = source.minimum_flow;
        let fault = if greatest > 0.0 && flow.abs() <= NOTHING * greatest {
            SourceFault::StandsBy
        } else if flow < -NOTHING * source.rated_flow.max(LEAST_RATED) {
            SourceFault::Backwards
        } else if least > 0.0 && flow < least * (1.0 - 1e-6) {
            SourceFault::Short
        } else {
            return None;
        };
        Some(SourceFlow { id, flow, least, fault })
    };
    sources().filter_map(ill).collect()
}

/// Whether a source is short of water: it has less than its minimum flow, or water runs backwards through it.
#[must_use]
pub fn is_a_source_short(project: &Project, results: &Results) -> bool {
    source_faults(project, results).iter().any(|source| source.fault != SourceFault::StandsBy)
}

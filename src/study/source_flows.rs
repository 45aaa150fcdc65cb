//! What is wrong with the flow through a source: it stands by, water runs backwards through it, or it has too little. One rule for
//! the list of checks, for the sentence about the situation and for the marks beside states.

use super::results::{NOTHING, Results};
use super::zones::ZoneState;
use crate::document::{ComponentId, ComponentKind, Project, Source};
use crate::engine::units::{Quantity, Units};

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

/// The source with the gravest fault of its flow, in a few words, and what helps: water that runs backwards before the one
/// that lacks most of its minimum flow.
#[must_use]
pub fn ill_source(project: &Project, results: &Results, units: &Units) -> Option<(String, String)> {
    let faults = source_faults(project, results);
    let of = |fault| faults.iter().filter(move |source| source.fault == fault);
    let share = |source: &SourceFlow| source.flow / source.least;
    let backwards = of(SourceFault::Backwards).min_by(|a, b| a.flow.total_cmp(&b.flow));
    let short = || of(SourceFault::Short).min_by(|a, b| share(a).total_cmp(&share(b)));
    let source = backwards.or_else(short)?;
    let name = name_of(project, source.id);
    let says = |flow: f64| units.format(Quantity::Flow, flow);
    if source.fault == SourceFault::Backwards {
        let has_stopped_pump = results.pumps.values().any(|pump| !pump.running);
        let help = if has_stopped_pump {
            "fit a check valve in a row with its pump"
        } else {
            "turn the pump or the source round"
        };
        return Some((
            format!("{name}: {} backwards.", says(-source.flow)),
            format!("Control and safety devices of {name} sense the wrong end: {help}."),
        ));
    }
    let parted = project.components.values().any(|c| matches!(c.kind, ComponentKind::Separator { .. }));
    let help = if parted {
        "raise what governs its circulator"
    } else if results.zones.values().any(|zone| zone.state == ZoneState::Shut) {
        "open a zone or fit a bypass"
    } else if source.flow > NOTHING * source.least {
        "give more head or fit a bypass"
    } else {
        "open what is shut or fit a bypass"
    };
    let needs = says(source.least);
    let has = units.number(Quantity::Flow, source.flow.max(0.0));
    Some((
        format!("{name}: {has} of {needs}."),
        format!("{name} needs {needs} at least and trips or comes to harm with less: {help}."),
    ))
}

/// The sources that come to harm in a state, a few words each: "Heat pump short of water". None where the figures do not stand.
#[must_use]
pub fn ill_sources(project: &Project, results: &Results) -> Vec<String> {
    if !results.converged() {
        return Vec::new();
    }
    let words = |source: SourceFlow| {
        let what = match source.fault {
            SourceFault::StandsBy => return None,
            SourceFault::Backwards => "driven backwards",
            SourceFault::Short => "short of water",
        };
        Some(format!("{} {what}", name_of(project, source.id)))
    };
    source_faults(project, results).into_iter().filter_map(words).collect()
}

fn name_of(project: &Project, id: ComponentId) -> &str {
    project.components.get(&id).map_or("", |component| component.name.as_str())
}

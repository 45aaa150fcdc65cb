//! Temperatures: each source sends its supply temperature (its own, or else the design's), each emitter returns what its law
//! leaves, and where streams meet they mix by flow, T = Σ q T / Σ q (heat balance at equal ρ c_p, that of the design's mean
//! temperature: water that is 20 K off it carries 0.5 % more or less). Pipes lose no heat.
//!
//! Water runs from high pressure to low, so that taking the nodes in the order of their pressure finds every temperature in
//! one sweep; pumps lift water against that order, and streams that come round again (a separator fed from below, the bypass of a
//! mixing valve) settle over further sweeps: of a ring that takes in a hundredth of its flow, a hundredth a sweep.

use super::lower::{LinkOwner, Lowered};
use super::thermostats;
use crate::document::{Component, ComponentKind, Duty, Emitter, Project, Source, Zone};
use crate::engine::fluid::FluidProperties;
use crate::engine::links::emitter::{self, EmitterState};
use crate::engine::network::{Link, Outcome};

const MOST_SWEEPS: u32 = 5000;
/// Greatest change of a temperature in the last sweep, K.
const TOLERANCE: f64 = 1e-11;
/// Flows below this share of the greatest carry no heat worth reckoning.
const STILL: f64 = 1e-12;

/// What happens to the temperature of the water in a source or an emitter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Exchange {
    /// Its link in the network.
    pub(super) link: usize,
    /// Flow by size, m³/s.
    pub(super) flow: f64,
    /// Temperature before it, °C.
    pub(super) enters_c: f64,
    /// Temperature behind it, °C.
    pub(super) leaves_c: f64,
}

/// What sources and emitters do at the temperatures of the nodes.
pub(super) fn exchanges(project: &Project, lowered: &Lowered, outcome: &Outcome, nodes_c: &[f64]) -> Vec<Exchange> {
    let links = lowered.network.links.iter().zip(&lowered.owners).zip(&outcome.flows).enumerate();
    let exchange = |(link, ((ends, owner), &flow)): (usize, ((&Link, &LinkOwner), &f64))| {
        let enters_c = *nodes_c.get(if flow > 0.0 { ends.from } else { ends.to })?;
        let change = change(project, lowered, owner);
        if matches!(change, Change::None) || !enters_c.is_finite() {
            return None;
        }
        let flow = flow.abs();
        let leaves_c = change.leaves(project, &lowered.fluid, flow, enters_c);
        Some(Exchange { link, flow, enters_c, leaves_c })
    };
    links.filter_map(exchange).collect()
}

/// A stream from one node to the next and what happens to its temperature.
struct Stream<'a> {
    from: usize,
    to: usize,
    flow: f64,
    change: Change<'a>,
}

enum Change<'a> {
    None,
    Source(&'a Source),
    /// With whether a thermostatic valve serves it.
    Zone(&'a Zone, &'a Emitter, bool),
}

/// Temperature of each node of the network, °C, not a number where nothing flows; and whether they have settled.
pub(super) fn of_nodes(project: &Project, lowered: &Lowered, outcome: &Outcome) -> (Vec<f64>, bool) {
    let count = lowered.network.nodes;
    let mut rank: Vec<usize> = (0..count).collect();
    // Parts without known pressure come last, in any order.
    let pressure = |node: usize| outcome.pressures_pa.get(node).copied().filter(|p| p.is_finite()).unwrap_or(f64::MIN);
    rank.sort_by(|&a, &b| pressure(b).total_cmp(&pressure(a)));
    let mut place = vec![0; count];
    for (at, &node) in rank.iter().enumerate() {
        place[node] = at;
    }
    let mut streams = streams(project, lowered, outcome);
    streams.sort_by_key(|stream| place[stream.from]);
    let mut now = vec![f64::NAN; count];
    for _ in 0..MOST_SWEEPS {
        let before = now.clone();
        sweep(project, &lowered.fluid, &streams, &rank, &mut now);
        let settled = |(a, b): (&f64, &f64)| (a - b).abs() <= TOLERANCE || (a.is_nan() && b.is_nan());
        if now.iter().zip(&before).all(settled) {
            return (now, true);
        }
    }
    (now, false)
}

impl Change<'_> {
    /// Temperature behind it, °C.
    fn leaves(&self, project: &Project, fluid: &FluidProperties, flow: f64, enters_c: f64) -> f64 {
        match self {
            Self::Source(source) => behind_source(project, source, enters_c),
            Self::None => enters_c,
            Self::Zone(zone, emitter, throttled) => {
                state(project, fluid, (zone, emitter, *throttled), flow, enters_c).return_c
            }
        }
    }
}

/// Temperature behind a source, °C: its own or the design's, but what comes to it warmer is not cooled by a source of heat, nor
/// what comes colder warmed by a chiller.
fn behind_source(project: &Project, source: &Source, enters_c: f64) -> f64 {
    let supply_c = source.supply_c.unwrap_or(project.design.supply_c);
    // Where nothing is known of what enters, `max` and `min` leave the source's own.
    match project.design.duty {
        Duty::Heating => supply_c.max(enters_c),
        Duty::Cooling => supply_c.min(enters_c),
    }
}

fn streams<'a>(project: &'a Project, lowered: &Lowered, outcome: &Outcome) -> Vec<Stream<'a>> {
    let greatest = outcome.pumps.iter().map(|p| p.flow.abs()).fold(0.0, f64::max);
    let still = STILL * greatest;
    let directed = |from: usize, to: usize, flow: f64, change: Change<'a>| {
        let (from, to) = if flow > 0.0 { (from, to) } else { (to, from) };
        (flow.abs() > still).then_some(Stream { from, to, flow: flow.abs(), change })
    };
    let links = lowered.network.links.iter().zip(&lowered.owners).zip(&outcome.flows);
    let links =
        links.filter_map(|((link, owner), &flow)| directed(link.from, link.to, flow, change(project, lowered, owner)));
    let pumps = lowered.network.pumps.iter().zip(&outcome.pumps);
    let pumps = pumps.filter_map(|(pump, done)| directed(pump.suction, pump.discharge, done.flow, Change::None));
    links.chain(pumps).collect()
}

fn change<'a>(project: &'a Project, lowered: &Lowered, owner: &LinkOwner) -> Change<'a> {
    let LinkOwner::Component(id) = owner else { return Change::None };
    match project.components.get(id).map(|component: &Component| &component.kind) {
        Some(ComponentKind::Source(source)) => Change::Source(source),
        Some(ComponentKind::Emitter(emitter)) => {
            let zone = lowered.zone_of.get(id);
            let zone = zone.and_then(|id| Some((project.zones.get(id)?, lowered.is_throttled(*id))));
            zone.map_or(Change::None, |(zone, throttled)| Change::Zone(zone, emitter, throttled))
        }
        _ => Change::None,
    }
}

/// One sweep over all streams in the order of the pressure they start from.
fn sweep(project: &Project, fluid: &FluidProperties, streams: &[Stream<'_>], rank: &[usize], now: &mut [f64]) {
    let mut heat = vec![0.0; now.len()];
    let mut flow = vec![0.0; now.len()];
    let mut missing = vec![0_u32; now.len()];
    streams.iter().for_each(|stream| missing[stream.to] += 1);
    let mut next = streams.iter().peekable();
    for &node in rank {
        // Before all its streams have arrived a node passes on the whole mixture of the last sweep, not a part of this one's.
        if flow[node] > 0.0 && missing[node] == 0 {
            now[node] = heat[node] / flow[node];
        }
        while let Some(stream) = next.next_if(|stream| stream.from == node) {
            let leaves = stream.change.leaves(project, fluid, stream.flow, now[node]);
            missing[stream.to] -= 1;
            if leaves.is_finite() {
                heat[stream.to] += stream.flow * leaves;
                flow[stream.to] += stream.flow;
            }
        }
    }
    // Streams that pumps lift arrive at nodes already passed: those take them over for the next sweep.
    for (node, temperature) in now.iter_mut().enumerate() {
        if flow[node] > 0.0 {
            *temperature = heat[node] / flow[node];
        }
    }
}

/// What a zone's emitter gives at a flow (m³/s, by size) and the temperature of the water that enters it. With whether a
/// thermostatic valve serves the zone: its room is then as warm as the emitter makes it.
pub(super) fn state(
    project: &Project,
    fluid: &FluidProperties,
    (zone, emitter, throttled): (&Zone, &Emitter, bool),
    flow: f64,
    enters_c: f64,
) -> EmitterState {
    let room = if throttled { thermostats::room(project, fluid, zone, emitter, enters_c) } else { None };
    if let Some(room) = room {
        return room.emitter(flow);
    }
    let design_flow = project.design.flow(zone, fluid);
    let share = if design_flow > 0.0 { flow.abs() / design_flow } else { 0.0 };
    emitter::state(emitter.law, project.emitter_design(zone, emitter), share, enters_c)
}

//! What each zone needs: the pressure that its path from the circulator and back takes when every zone has its design flow.
//!
//! Without the emitters a tree-like drawing falls into two trees, one on the circulator's discharge and one on its suction;
//! the drops along a zone's way through both, and its emitter's, add up to what it needs.

use super::error::SizingError;
use super::flows::DesignFlows;
use crate::document::{ComponentId, ComponentKind, ZoneId};
use crate::engine::links::{LinkLaw, kv_for, kv_pressure_drop_pa, standard_kv_at_least};
use crate::study::LinkOwner;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Pressure that a balancing valve takes fully open, so that its size can be told from its flow, Pa (common practice, no
/// source).
const FULLY_OPEN_PA: f64 = 1e3;

/// The Kv of a fully open balancing valve for a flow (m³/s): the least of the standard series that takes no more than 1 kPa.
#[must_use]
pub(super) fn fully_open_kv(flow: f64, density: f64) -> f64 {
    standard_kv_at_least(kv_for(flow, FULLY_OPEN_PA, density))
}

/// A balancing valve on the way of a zone.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throttle {
    pub(super) flow: f64,
    pub(super) density: f64,
    /// Kv fully open, m³/h.
    pub(super) open_kv: f64,
    /// What it takes fully open, Pa.
    pub(super) open_pa: f64,
}

/// What a zone needs.
#[derive(Clone, Debug)]
pub(super) struct Need {
    /// Pressure with all its balancing valves fully open, Pa.
    pub(super) pressure_pa: f64,
    /// Its balancing valves, in the order of their identities.
    pub(super) valves: BTreeSet<ComponentId>,
    /// Whether a pressure-independent valve takes what is too much.
    pub(super) is_limited: bool,
}

/// All zones' needs, and the balancing valves.
pub(super) struct Needs {
    pub(super) zones: BTreeMap<ZoneId, Need>,
    pub(super) valves: BTreeMap<ComponentId, Throttle>,
}

impl Needs {
    /// # Errors
    /// A zone that does not lie between the circulator's discharge and suction.
    pub(super) fn new(design: &DesignFlows) -> Result<Self, SizingError> {
        let valves = throttles(design);
        let drops = drops(design, &valves);
        let ways = Ways::new(design);
        let mut zones = BTreeMap::new();
        for (zone, emitter) in &design.emitters {
            let link = &design.lowered.network.links[*emitter];
            let (Some(there), Some(back)) = (ways.to(link.from, true), ways.to(link.to, false)) else {
                return Err(design.no_way(*zone));
            };
            let mut need = Need { pressure_pa: 0.0, valves: BTreeSet::new(), is_limited: false };
            for index in there.into_iter().chain(back).chain([*emitter]) {
                need.pressure_pa += drops[index];
                need.is_limited |= matches!(design.lowered.network.links[index].law, LinkLaw::Limiter(_));
                if let LinkOwner::Component(id) = design.lowered.owners[index]
                    && valves.contains_key(&id)
                {
                    need.valves.insert(id);
                }
            }
            zones.insert(*zone, need);
        }
        Ok(Self { zones, valves })
    }
}

/// The balancing valves that carry water. One that is larger now than the series would have it stays as large.
fn throttles(design: &DesignFlows) -> BTreeMap<ComponentId, Throttle> {
    let mut valves = BTreeMap::new();
    for (index, owner) in design.lowered.owners.iter().enumerate() {
        let LinkOwner::Component(id) = owner else { continue };
        let Some(ComponentKind::BalancingValve { kv }) = design.project.components.get(id).map(|c| &c.kind) else {
            continue;
        };
        let (flow, density) = (design.flows[index].abs(), design.lowered.fluid_of(index).density_kg_per_m3);
        if flow > 0.0 {
            let open_kv = kv.max(fully_open_kv(flow, density));
            let open_pa = kv_pressure_drop_pa(open_kv, flow, density);
            valves.insert(*id, Throttle { flow, density, open_kv, open_pa });
        }
    }
    valves
}

/// What each link takes at its design flow, in the direction of that flow, Pa.
fn drops(design: &DesignFlows, valves: &BTreeMap<ComponentId, Throttle>) -> Vec<f64> {
    let of = |index: usize| {
        let (link, flow) = (&design.lowered.network.links[index], design.flows[index]);
        if let LinkOwner::Component(id) = design.lowered.owners[index] {
            if let Some(valve) = valves.get(&id) {
                return valve.open_pa;
            }
            // At design its room is as warm as set, so it stands at its nominal Kv.
            if let Some(ComponentKind::ThermostaticValve { kv, .. }) =
                design.project.components.get(&id).map(|c| &c.kind)
            {
                return kv_pressure_drop_pa(*kv, flow.abs(), design.lowered.fluid_of(index).density_kg_per_m3);
            }
        }
        if flow == 0.0 { 0.0 } else { link.law.drop(flow, &mut 0.0).pressure_pa * flow.signum() }
    };
    (0..design.flows.len()).map(of).collect()
}

/// The two trees: for each node by which link it is reached from the circulator's discharge, or reaches its suction.
struct Ways<'a> {
    design: &'a DesignFlows,
    /// The link towards the circulator and the node at its other end; the roots have none.
    towards: [BTreeMap<usize, Option<(usize, usize)>>; 2],
}

impl<'a> Ways<'a> {
    fn new(design: &'a DesignFlows) -> Self {
        let network = &design.lowered.network;
        let emitters: BTreeSet<usize> = design.emitters.values().copied().collect();
        let mut at_node: Vec<Vec<usize>> = vec![Vec::new(); network.nodes];
        for (index, link) in network.links.iter().enumerate() {
            if !emitters.contains(&index) && design.flows[index] != 0.0 {
                at_node[link.from].push(index);
                at_node[link.to].push(index);
            }
        }
        let grown = |root: usize| {
            let mut towards = BTreeMap::from([(root, None)]);
            let mut next = VecDeque::from([root]);
            while let Some(node) = next.pop_front() {
                for &index in &at_node[node] {
                    let link = &network.links[index];
                    let other = if link.from == node { link.to } else { link.from };
                    if let std::collections::btree_map::Entry::Vacant(entry) = towards.entry(other) {
                        entry.insert(Some((index, node)));
                        next.push_back(other);
                    }
                }
            }
            towards
        };
        let ends = network.pumps.first().map_or([0, 0], |pump| [pump.discharge, pump.suction]);
        Self { design, towards: ends.map(grown) }
    }

    /// The links between a node and the circulator: its discharge or its suction. `None` where water does not run that way.
    fn to(&self, node: usize, discharge: bool) -> Option<Vec<usize>> {
        let towards = &self.towards[usize::from(!discharge)];
        let mut way = Vec::new();
        let mut at = node;
        while let Some((index, next)) = *towards.get(&at)? {
            // Away from the discharge and towards the suction, or the zone is joined the wrong way round.
            let link = &self.design.lowered.network.links[index];
            let is_towards = (link.from == at) == (self.design.flows[index] > 0.0);
            if is_towards == discharge {
                return None;
            }
            way.push(index);
            at = next;
        }
        Some(way)
    }
}

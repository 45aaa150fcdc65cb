//! Design flows by continuity: what every pipe and component carries when each zone has its design flow.
//!
//! The zones' emitters are known. At a node where all links but one are known, Σq = 0 tells the last; so flows are found from
//! the ends of the tree inwards. A ring of unknown links cannot be peeled: there the drawing is not tree-like. Bypass valves
//! count as shut, because they are set to open at part load only; so do stopped circulators and valves that are shut, but for
//! those of the zones, which are taken as open. Three-way valves stand fully open to their controlled way.

use super::error::SizingError;
use crate::document::{Command, ComponentKind, Project, ZoneId};
use crate::engine::links::LinkLaw;
use crate::study::{LinkOwner, Lowered};
use std::collections::BTreeMap;

/// Share of the whole flow below which a misfit is rounding.
const ROUNDING: f64 = 1e-9;

/// By how much a pressure-independent valve may be set below its design flow: its scale is no finer (common practice, no source).
const SETTING: f64 = 0.01;

/// What every link carries at design.
#[derive(Clone, Debug)]
pub struct DesignFlows {
    /// The document with all zones open.
    pub project: Project,
    /// Its network.
    pub lowered: Lowered,
    /// Flow of each link in the network's order, m³/s.
    pub flows: Vec<f64>,
    /// Flow of the circulator, m³/s.
    pub pump: f64,
    /// The link of each zone's emitter.
    pub emitters: BTreeMap<ZoneId, usize>,
}

impl DesignFlows {
    /// The flow of what a link stands for, m³/s; zero for what is no link.
    #[must_use]
    pub fn of(&self, owner: LinkOwner) -> f64 {
        self.lowered.owners.iter().position(|other| *other == owner).map_or(0.0, |link| self.flows[link])
    }
}

/// The design flows of a drawing.
///
/// # Errors
/// A drawing that is not tree-like, or that has none or several running circulators.
pub fn design_flows(project: &Project) -> Result<DesignFlows, SizingError> {
    let mut project = project.clone();
    // It cannot fail; a valve that cannot be shut is open.
    let _ = project.apply(&Command::OpenAllZones);
    let three_way = |kind: &ComponentKind| matches!(kind, ComponentKind::ThreeWayValve(_));
    let valves: Vec<_> = project.components.iter().filter(|(_, c)| three_way(&c.kind)).map(|(id, _)| *id).collect();
    for valve in valves {
        let _ = project.apply(&Command::SetPosition(valve, 1.0));
    }
    let lowered = Lowered::new(&project)?;
    let [_] = lowered.network.pumps.as_slice() else { return Err(SizingError::Pumps(lowered.network.pumps.len())) };
    if project.zones.is_empty() {
        return Err(SizingError::NoZone);
    }
    let links = lowered.network.links.len();
    let mut known: Vec<Option<f64>> = vec![None; links + 1];
    let mut emitters = BTreeMap::new();
    for (index, (link, owner)) in lowered.network.links.iter().zip(&lowered.owners).enumerate() {
        let zone = match owner {
            LinkOwner::Component(id) => project.zones.iter().find(|(_, zone)| zone.emitter == *id),
            LinkOwner::Pipe(_) | LinkOwner::Bypass(_) => None,
        };
        if let Some((id, zone)) = zone {
            emitters.insert(*id, index);
            known[index] = Some(project.design.flow(zone, &lowered.fluid));
        } else if is_shut_at_design(&project, *owner, &link.law) {
            known[index] = Some(0.0);
        }
    }
    peel(&lowered, &mut known);
    if let Some(open) = known.iter().position(Option::is_none) {
        return Err(SizingError::WayRound(name(&project, &lowered, open)));
    }
    let flows: Vec<f64> = known.into_iter().flatten().collect();
    let found = DesignFlows { pump: flows[links], flows: flows[..links].to_vec(), project, lowered, emitters };
    found.closes()?;
    found.passes()?;
    Ok(found)
}

fn is_shut_at_design(project: &Project, owner: LinkOwner, law: &LinkLaw) -> bool {
    let id = match owner {
        LinkOwner::Component(id) => id,
        LinkOwner::Bypass(_) => return law.range().is_shut(),
        LinkOwner::Pipe(_) => return false,
    };
    let kind = project.components.get(&id).map(|component| &component.kind);
    *law == LinkLaw::Shut || matches!(kind, Some(ComponentKind::Pump(_) | ComponentKind::BypassValve { .. }))
}

/// Ends of a link; the one after the last is the circulator.
fn ends(lowered: &Lowered, link: usize) -> (usize, usize) {
    match lowered.network.links.get(link) {
        Some(link) => (link.from, link.to),
        None => lowered.network.pumps.first().map_or((0, 0), |pump| (pump.suction, pump.discharge)),
    }
}

/// Finds flows from the ends of the tree inwards.
fn peel(lowered: &Lowered, known: &mut [Option<f64>]) {
    let nodes = lowered.network.nodes;
    let mut at_node: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    // What flows into each node by links that are known, m³/s.
    let mut surplus = vec![0.0; nodes];
    for (link, flow) in known.iter_mut().enumerate() {
        let (from, to) = ends(lowered, link);
        if from == to {
            // Both ends at one water: nothing drives it.
            *flow = Some(flow.unwrap_or(0.0));
            continue;
        }
        match *flow {
            Some(flow) => {
                surplus[from] -= flow;
                surplus[to] += flow;
            }
            None => {
                at_node[from].push(link);
                at_node[to].push(link);
            }
        }
    }
    let mut ready: Vec<usize> = (0..nodes).collect();
    while let Some(node) = ready.pop() {
        at_node[node].retain(|link| known[*link].is_none());
        let &[link] = at_node[node].as_slice() else { continue };
        let (from, to) = ends(lowered, link);
        let flow = if from == node { surplus[node] } else { -surplus[node] };
        known[link] = Some(flow);
        surplus[from] -= flow;
        surplus[to] += flow;
        ready.push(if from == node { to } else { from });
    }
}

/// The name of what a link stands for; the one after the last is the circulator.
pub(super) fn name(project: &Project, lowered: &Lowered, link: usize) -> String {
    let component = |id| project.components.get(&id).map_or(String::new(), |c| c.name.clone());
    match lowered.owners.get(link) {
        Some(LinkOwner::Pipe(id)) => {
            project.pipes.get(id).map_or(String::new(), |pipe| format!("pipe {}", project.pipe_label(pipe)))
        }
        Some(LinkOwner::Component(id) | LinkOwner::Bypass(id)) => component(*id),
        None => lowered.pumps.first().map_or(String::new(), |pump| component(pump.id)),
    }
}

impl DesignFlows {
    /// Whether as much flows to every node as away from it: not so where a zone hangs on a dead end.
    fn closes(&self) -> Result<(), SizingError> {
        let mut surplus = vec![0.0; self.lowered.network.nodes];
        let all = self.flows.iter().copied().chain([self.pump]);
        for (link, flow) in all.enumerate() {
            let (from, to) = ends(&self.lowered, link);
            surplus[from] -= flow;
            surplus[to] += flow;
        }
        let total: f64 = self.emitters.values().map(|link| self.flows[*link]).sum();
        for (zone, link) in &self.emitters {
            let (from, to) = ends(&self.lowered, *link);
            if surplus[from].abs().max(surplus[to].abs()) > ROUNDING * total {
                return Err(self.no_way(*zone));
            }
        }
        Ok(())
    }

    pub(super) fn no_way(&self, zone: ZoneId) -> SizingError {
        SizingError::NoWay(self.project.zones.get(&zone).map_or(String::new(), |zone| zone.name.clone()))
    }

    /// Whether every part lets its design flow through.
    fn passes(&self) -> Result<(), SizingError> {
        let total: f64 = self.emitters.values().map(|link| self.flows[*link]).sum();
        if self.pump < -ROUNDING * total {
            return Err(SizingError::Against(name(&self.project, &self.lowered, self.flows.len())));
        }
        for (index, (link, flow)) in self.lowered.network.links.iter().zip(&self.flows).enumerate() {
            let range = link.law.range();
            if *flow < range.low - ROUNDING * total {
                return Err(SizingError::Against(name(&self.project, &self.lowered, index)));
            }
            if *flow > range.high * (1.0 + SETTING) + ROUNDING * total {
                return Err(SizingError::Holds(name(&self.project, &self.lowered, index)));
            }
        }
        Ok(())
    }
}

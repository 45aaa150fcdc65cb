//! Flow through bare joints. They take no pressure and so are no links of the network; their flow follows from the balance of
//! the ports they join: a port with one joint left passes on what reaches it, and so on inwards.

use super::lower::{LinkOwner, Lowered};
use crate::document::{Component, PipeId, PipeRun, Port, PortRef, Project};
use std::collections::BTreeMap;

/// The port that stands for all that are one water inside a component.
fn standing_for(project: &Project, port: PortRef) -> PortRef {
    let component = project.components.get(&port.component);
    PortRef { port: component.map_or(port.port, |component| component.joined_port(port.port)), ..port }
}

/// Flow of each bare joint from its start to its end, m³/s. Joints that form a ring are left without flow: nothing decides it.
pub(super) fn flows(
    project: &Project,
    lowered: &Lowered,
    link_flows: &[f64],
    pump_flows: impl Iterator<Item = f64>,
) -> BTreeMap<PipeId, f64> {
    let mut inflow: BTreeMap<PortRef, f64> = BTreeMap::new();
    let mut pass = |from: PortRef, to: PortRef, flow: f64| {
        *inflow.entry(from).or_default() -= flow;
        *inflow.entry(to).or_default() += flow;
    };
    let through = |component, port| PortRef { component, port };
    for (owner, flow) in lowered.owners.iter().zip(link_flows) {
        match owner {
            LinkOwner::Pipe(id) => {
                if let Some(pipe) = project.pipes.get(id) {
                    pass(standing_for(project, pipe.from), standing_for(project, pipe.to), *flow);
                }
            }
            LinkOwner::Component(id) => pass(through(*id, Port::Inlet), through(*id, Port::Outlet), *flow),
            LinkOwner::Bypass(id) => {
                if let Some([from, to]) = project.components.get(id).and_then(Component::bypass_ends) {
                    pass(through(*id, from), through(*id, to), *flow);
                }
            }
        }
    }
    for (pump, flow) in lowered.pumps.iter().zip(pump_flows) {
        pass(through(pump.id, Port::Inlet), through(pump.id, Port::Outlet), flow);
    }
    let ends = |pipe: &PipeRun| (standing_for(project, pipe.from), standing_for(project, pipe.to));
    let mut open: BTreeMap<PipeId, (PortRef, PortRef)> =
        project.pipes.iter().filter(|(_, p)| p.is_joint()).map(|(id, p)| (*id, ends(p))).collect();
    let mut at_port: BTreeMap<PortRef, Vec<PipeId>> = BTreeMap::new();
    for (id, (from, to)) in &open {
        at_port.entry(*from).or_default().push(*id);
        at_port.entry(*to).or_default().push(*id);
    }
    let mut ends: Vec<PortRef> = at_port.iter().filter(|(_, joints)| joints.len() == 1).map(|(p, _)| *p).collect();
    let mut flows: BTreeMap<PipeId, f64> = open.keys().map(|id| (*id, 0.0)).collect();
    while let Some(port) = ends.pop() {
        let Some(id) = at_port.get(&port).and_then(|joints| joints.iter().find(|id| open.contains_key(id)).copied())
        else {
            continue;
        };
        let Some((from, to)) = open.remove(&id) else { continue };
        let reaches = inflow.get(&port).copied().unwrap_or(0.0);
        let (other, flow) = if port == from { (to, reaches) } else { (from, -reaches) };
        flows.insert(id, flow);
        *inflow.entry(other).or_default() += reaches;
        let left = at_port.get(&other).map_or(0, |joints| joints.iter().filter(|id| open.contains_key(id)).count());
        if left == 1 {
            ends.push(other);
        }
    }
    flows
}

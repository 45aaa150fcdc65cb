//! The path of a zone: the components and pipes that its water passes from the pump and back, found by following the greatest
//! flow upstream and downstream from its emitter.

use super::Study;
use super::lower::{LinkOwner, Lowered};
use crate::document::{ComponentId, ComponentKind, PipeId, Port, PortRef, Project, ZoneId};
use crate::engine::network::PumpLink;
use std::collections::BTreeSet;

/// What lies on a path.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Path {
    /// Components.
    pub components: BTreeSet<ComponentId>,
    /// Pipe runs, bare joints too.
    pub pipes: BTreeSet<PipeId>,
}

/// The path of a zone at the present flows; only its own components where nothing flows.
#[must_use]
pub fn path_of(project: &Project, study: &Study, zone: ZoneId) -> Path {
    let mut path = Path::default();
    let Some(zone) = project.zones.get(&zone) else { return path };
    path.components.insert(zone.emitter);
    path.components.extend(zone.valve);
    let lowered = study.lowered();
    let node = |port| lowered.nodes.get(&PortRef { component: zone.emitter, port }).copied();
    let (Some(inlet), Some(outlet)) = (node(Port::Inlet), node(Port::Outlet)) else { return path };
    follow(study, inlet, true, &mut path);
    follow(study, outlet, false, &mut path);
    // Tees and joints belong to the path where two of its pieces meet in them.
    let on_path: BTreeSet<usize> = nodes_of(study, project, &path);
    for (id, component) in &project.components {
        if component.kind == ComponentKind::Junction
            && lowered.nodes.get(&PortRef { component: *id, port: Port::Branch }).is_some_and(|n| on_path.contains(n))
        {
            path.components.insert(*id);
        }
    }
    for (id, pipe) in project.pipes.iter().filter(|(_, pipe)| pipe.is_joint()) {
        if path.components.contains(&pipe.from.component) && path.components.contains(&pipe.to.component) {
            path.pipes.insert(*id);
        }
    }
    path
}

/// Follows the greatest flow from a node, against the flow or with it, until a pump is met or water comes round again.
fn follow(study: &Study, start: usize, upstream: bool, path: &mut Path) {
    let lowered = study.lowered();
    let network = &lowered.network;
    let mut here: Vec<Vec<(f64, usize, LinkOwner)>> = vec![Vec::new(); network.nodes];
    for (link, owner) in network.links.iter().zip(&lowered.owners) {
        let flow = study.results().flow_of(owner);
        let (tail, head) = if flow >= 0.0 { (link.from, link.to) } else { (link.to, link.from) };
        let (at, next) = if upstream { (head, tail) } else { (tail, head) };
        if flow != 0.0 {
            here[at].push((flow.abs(), next, *owner));
        }
    }
    let mut seen = vec![false; network.nodes];
    let mut node = start;
    while !std::mem::replace(&mut seen[node], true) {
        let meets = |p: &PumpLink| if upstream { p.discharge == node } else { p.suction == node };
        if let Some(pump) = network.pumps.iter().position(meets) {
            path.components.insert(lowered.pumps[pump].id);
            return;
        }
        let Some((_, next, owner)) = here[node].iter().max_by(|a, b| a.0.total_cmp(&b.0)) else { return };
        match owner {
            LinkOwner::Pipe(id) => path.pipes.insert(*id),
            LinkOwner::Component(id) => path.components.insert(*id),
        };
        node = *next;
    }
}

fn nodes_of(study: &Study, project: &Project, path: &Path) -> BTreeSet<usize> {
    let lowered = study.lowered();
    let of_pipes = path.pipes.iter().filter_map(|id| project.pipes.get(id)).flat_map(|pipe| [pipe.from, pipe.to]);
    let of_components =
        path.components.iter().flat_map(|id| [Port::Inlet, Port::Outlet].map(|port| PortRef { component: *id, port }));
    of_pipes.chain(of_components).filter_map(|port| lowered.nodes.get(&port).copied()).collect()
}

/// For each node whether it lies on the supply side: joined to a source's outlet without passing a source, an emitter, a
/// bypass valve or a separator.
pub(super) fn supply_side(project: &Project, lowered: &Lowered) -> Vec<bool> {
    let mut supply = vec![false; lowered.network.nodes];
    for (id, component) in &project.components {
        let outlet = PortRef { component: *id, port: Port::Outlet };
        if let (ComponentKind::Source(_), Some(&node)) = (&component.kind, lowered.nodes.get(&outlet)) {
            supply[node] = true;
        }
    }
    let passes = |owner: &LinkOwner| match owner {
        LinkOwner::Pipe(_) => true,
        LinkOwner::Component(id) => !project.components.get(id).is_some_and(|c| {
            matches!(
                c.kind,
                ComponentKind::Source(_)
                    | ComponentKind::Emitter(_)
                    | ComponentKind::BypassValve { .. }
                    | ComponentKind::Separator { .. }
            )
        }),
    };
    let links = lowered.network.links.iter().zip(&lowered.owners).filter(|(_, owner)| passes(owner));
    let links = links.map(|(link, _)| (link.from, link.to));
    let ends: Vec<(usize, usize)> =
        links.chain(lowered.network.pumps.iter().map(|p| (p.suction, p.discharge))).collect();
    let mut grew = true;
    while grew {
        grew = false;
        for &(a, b) in &ends {
            if supply[a] != supply[b] {
                supply[a] = true;
                supply[b] = true;
                grew = true;
            }
        }
    }
    supply
}

//! The path of a zone: the components and pipes that its water passes from the pump and back. [`super::walk`] finds them in order;
//! here they are sets, with the tees and bare joints between them.

use super::Study;
use super::lower::{LinkOwner, Lowered};
use super::walk::{Passed, Walk};
use crate::document::{ComponentId, ComponentKind, PipeId, Port, PortRef, Project, ZoneId};
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
    let lowered = study.lowered();
    path.components.insert(zone.emitter);
    path.components.extend(zone.valve);
    let walk = Walk::through(study, zone.emitter);
    let pump = |index: usize| lowered.pumps.get(index).map(|pump| pump.id);
    path.components.extend(walk.pump.and_then(pump));
    for current in &walk.way {
        match current.passed {
            Passed::Link(LinkOwner::Pipe(id)) => _ = path.pipes.insert(id),
            Passed::Link(LinkOwner::Component(id) | LinkOwner::Bypass(id)) => _ = path.components.insert(id),
            Passed::Pump(index) => path.components.extend(pump(index)),
        }
    }
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

/// Ports that water passes which goes through a component.
const PASSED: [Port; 3] = [Port::Inlet, Port::Outlet, Port::Branch];

fn nodes_of(study: &Study, project: &Project, path: &Path) -> BTreeSet<usize> {
    let lowered = study.lowered();
    let of_pipes = path.pipes.iter().filter_map(|id| project.pipes.get(id)).flat_map(|pipe| [pipe.from, pipe.to]);
    let of_components = path.components.iter().flat_map(|id| PASSED.map(|port| PortRef { component: *id, port }));
    of_pipes.chain(of_components).filter_map(|port| lowered.nodes.get(&port).copied()).collect()
}

/// For each node whether it lies on the supply side: joined to a source's outlet without passing a source, an emitter, a
/// bypass valve, a separator, or the bypass of a three-way valve. What neither a source's outlet nor its inlet is joined to
/// that way lies on the side from which such a bypass leads there.
pub(super) fn supply_side(project: &Project, lowered: &Lowered) -> Vec<bool> {
    let mut ends: Vec<(usize, usize)> = lowered.network.pumps.iter().map(|p| (p.suction, p.discharge)).collect();
    let mut bypasses = Vec::new();
    for (link, owner) in lowered.network.links.iter().zip(&lowered.owners) {
        match owner {
            LinkOwner::Bypass(_) => bypasses.push((link.from, link.to)),
            LinkOwner::Component(id) if parts_supply_from_return(project, *id) => {}
            LinkOwner::Component(_) | LinkOwner::Pipe(_) => ends.push((link.from, link.to)),
        }
    }
    let of_sources = |port| {
        let mut side = vec![false; lowered.network.nodes];
        let sources = project.components.iter().filter(|(_, c)| matches!(c.kind, ComponentKind::Source(_)));
        for node in sources.filter_map(|(id, _)| lowered.nodes.get(&PortRef { component: *id, port })) {
            side[*node] = true;
        }
        side
    };
    let nowhere = vec![false; lowered.network.nodes];
    let [mut supply, mut back] = [Port::Outlet, Port::Inlet].map(of_sources);
    spread(&mut supply, &ends, &nowhere);
    spread(&mut back, &ends, &supply);
    ends.extend(bypasses);
    spread(&mut supply, &ends, &back);
    supply
}

fn parts_supply_from_return(project: &Project, id: ComponentId) -> bool {
    project.components.get(&id).is_some_and(|component| {
        matches!(
            component.kind,
            ComponentKind::Source(_)
                | ComponentKind::Emitter(_)
                | ComponentKind::BypassValve { .. }
                | ComponentKind::Separator { .. }
        )
    })
}

/// Spreads a side along links to all nodes that are not the other's.
fn spread(side: &mut [bool], ends: &[(usize, usize)], others: &[bool]) {
    let mut neighbours: Vec<Vec<usize>> = vec![Vec::new(); side.len()];
    for &(a, b) in ends {
        neighbours[a].push(b);
        neighbours[b].push(a);
    }
    let mut waiting: Vec<usize> = (0..side.len()).filter(|node| side[*node]).collect();
    while let Some(node) = waiting.pop() {
        for &next in &neighbours[node] {
            if !side[next] && !others[next] {
                side[next] = true;
                waiting.push(next);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::spread;

    #[test]
    fn a_side_spreads_along_a_chain_drawn_backwards_but_not_over_the_other() {
        const LAST: usize = 100_000;
        let ends: Vec<(usize, usize)> = (0..LAST).rev().map(|node| (node, node + 1)).collect();
        let (mut side, mut others) = (vec![false; LAST + 1], vec![false; LAST + 1]);
        (side[0], others[LAST]) = (true, true);
        spread(&mut side, &ends, &others);
        assert!(side[..LAST].iter().all(|is_reached| *is_reached) && !side[LAST]);
    }
}

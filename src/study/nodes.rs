//! Nodes: bare joints, and components that are one water inside, make one node of several ports.

use crate::document::{PortRef, Project};
use crate::engine::network::NodeId;
use std::collections::BTreeMap;

/// Gives each port its node; tells how many there are.
pub(super) fn number(project: &Project) -> (BTreeMap<PortRef, NodeId>, usize) {
    let ports: Vec<PortRef> = project
        .components
        .iter()
        .flat_map(|(id, c)| c.ports().iter().map(|port| PortRef { component: *id, port: *port }))
        .collect();
    let index: BTreeMap<PortRef, usize> = ports.iter().enumerate().map(|(i, p)| (*p, i)).collect();
    let mut parent: Vec<usize> = (0..ports.len()).collect();
    let joints = project.pipes.values().filter(|pipe| pipe.is_joint()).map(|pipe| (pipe.from, pipe.to));
    let inside = ports.iter().filter_map(|port| {
        let component = project.components.get(&port.component)?;
        Some((*port, PortRef { port: component.joined_port(port.port), ..*port }))
    });
    for (from, to) in joints.chain(inside) {
        if let (Some(&a), Some(&b)) = (index.get(&from), index.get(&to)) {
            let (a, b) = (root(&mut parent, a), root(&mut parent, b));
            parent[a] = b;
        }
    }
    let mut number = vec![usize::MAX; ports.len()];
    let mut count = 0;
    let mut nodes = BTreeMap::new();
    for (i, port) in ports.iter().enumerate() {
        let r = root(&mut parent, i);
        if number[r] == usize::MAX {
            number[r] = count;
            count += 1;
        }
        nodes.insert(*port, number[r]);
    }
    (nodes, count)
}

/// What stands for the group of `i`; shortens the ways to it.
pub(super) fn root(parent: &mut [usize], mut i: usize) -> usize {
    while parent[i] != i {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    i
}

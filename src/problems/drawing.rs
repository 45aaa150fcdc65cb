//! The drawing as a graph, for the rules: what is joined to what, in which part, and on which loops.
//!
//! Bare joints and tees make one node of several ports, as they do when the document is solved; every other pipe and every
//! component with inlet and outlet is an edge. Two edges lie on a common loop exactly if they lie in the same block (the
//! greatest piece that no single node can cut; Tarjan 1972, textbook). A pump moves water in its own block and nowhere else:
//! two loops that touch in one node only do not drive each other.

use super::{Check, Place, Severity};
use crate::document::{Component, ComponentId, ComponentKind, Port, PortRef, Project, ZoneId};
use std::collections::BTreeMap;

/// An edge of the drawing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Edge {
    /// Node of its start: a component's inlet.
    pub from: usize,
    /// Node of its end: a component's outlet.
    pub to: usize,
    /// The component it stands for; `None` for a pipe.
    pub component: Option<ComponentId>,
    /// Whether it is the bypass of a three-way valve.
    pub is_bypass: bool,
}

/// A project with its graph.
pub(super) struct Drawing<'a> {
    /// The project.
    pub project: &'a Project,
    /// Components with inlet and outlet, in order of identity, then pipes.
    pub edges: Vec<Edge>,
    /// The block of each edge.
    pub blocks: Vec<usize>,
    /// How many edges are components.
    components: usize,
    /// Whether each block is a loop.
    looped: Vec<bool>,
    /// All ports in order.
    ports: Vec<PortRef>,
    /// How many pipes meet each port.
    met: Vec<usize>,
    /// The node of each port.
    nodes: Vec<usize>,
    /// The connected part of each node, counted from zero.
    parts: Vec<usize>,
}

impl<'a> Drawing<'a> {
    /// Reads a project.
    pub fn new(project: &'a Project) -> Self {
        let mut ports: Vec<PortRef> = project
            .components
            .iter()
            .flat_map(|(id, c)| c.ports().iter().map(|port| PortRef { component: *id, port: *port }))
            .collect();
        ports.sort_unstable();
        let index = |port: &PortRef| ports.binary_search(port).ok();
        let pipes: Vec<(bool, usize, usize)> = project
            .pipes
            .values()
            .filter_map(|pipe| Some((pipe.is_joint(), index(&pipe.from)?, index(&pipe.to)?)))
            .collect();
        let mut met = vec![0; ports.len()];
        for &(_, from, to) in &pipes {
            met[from] += 1;
            met[to] += 1;
        }
        let joints = pipes.iter().filter(|(is_joint, ..)| *is_joint).map(|&(_, from, to)| (from, to));
        let inside = ports.iter().enumerate().filter_map(|(i, port)| {
            let joined = project.components.get(&port.component)?.joined_port(port.port);
            Some((i, index(&PortRef { port: joined, ..*port }).filter(|_| joined != port.port)?))
        });
        let nodes = united(ports.len(), joints.chain(inside));
        let node = |component, port| index(&PortRef { component, port }).map(|i| nodes[i]);
        let mut edges: Vec<Edge> = Vec::new();
        for (id, component) in &project.components {
            let ways = [Some([Port::Inlet, Port::Outlet]), component.bypass_ends()];
            for (ends, is_bypass) in ways.into_iter().zip([false, true]) {
                if let Some([Some(from), Some(to)]) = ends.map(|ends| ends.map(|port| node(*id, port))) {
                    edges.push(Edge { from, to, component: Some(*id), is_bypass });
                }
            }
        }
        let components = edges.len();
        let long = pipes.iter().filter(|(is_joint, ..)| !is_joint);
        edges.extend(long.map(|&(_, from, to)| Edge {
            from: nodes[from],
            to: nodes[to],
            component: None,
            is_bypass: false,
        }));
        let count = nodes.iter().max().map_or(0, |greatest| greatest + 1);
        let parts = united(count, edges.iter().map(|edge| (edge.from, edge.to)));
        let blocks = blocks(count, &edges);
        let mut sizes = vec![0; blocks.iter().max().map_or(0, |greatest| greatest + 1)];
        blocks.iter().for_each(|block| sizes[*block] += 1);
        let mut looped: Vec<bool> = sizes.into_iter().map(|size: usize| size > 1).collect();
        for (edge, block) in edges.iter().zip(&blocks) {
            looped[*block] |= edge.from == edge.to;
        }
        Self { project, edges, blocks, components, looped, ports, met, nodes, parts }
    }

    /// The node of a port.
    pub fn node(&self, component: ComponentId, port: Port) -> Option<usize> {
        self.nodes.get(self.ports.binary_search(&PortRef { component, port }).ok()?).copied()
    }

    /// How many pipes meet a port.
    pub fn pipes_at(&self, component: ComponentId, port: Port) -> usize {
        let index = self.ports.binary_search(&PortRef { component, port });
        index.ok().and_then(|index| self.met.get(index).copied()).unwrap_or(0)
    }

    /// The connected part in which a component lies.
    pub fn part(&self, id: ComponentId) -> Option<usize> {
        let port = self.project.components.get(&id)?.ports().first()?;
        self.node(id, *port).map(|node| self.parts[node])
    }

    /// The block of a component with inlet and outlet.
    pub fn block(&self, id: ComponentId) -> Option<usize> {
        let components = self.edges.get(..self.components)?;
        let index = components.binary_search_by_key(&Some(id), |edge| edge.component).ok()?;
        self.blocks.get(index).copied()
    }

    /// Whether a block is a loop: a single edge is one only if both its ends are one node.
    pub fn is_loop(&self, block: usize) -> bool {
        self.looped.get(block).copied().unwrap_or(false)
    }

    /// The connected parts that hold a loop, each with the first component on one: where water could go round.
    pub fn loops(&self) -> BTreeMap<usize, ComponentId> {
        let mut loops = BTreeMap::new();
        for (edge, block) in self.edges.iter().zip(&self.blocks) {
            if let Some(id) = edge.component
                && self.is_loop(*block)
            {
                loops.entry(self.parts[edge.from]).or_insert(id);
            }
        }
        loops
    }

    /// The group of each node when no water passes a valve that is shut.
    pub fn parts_with_shut_valves(&self) -> Vec<usize> {
        let passes = |edge: &&Edge| !self.is_way_shut(edge);
        united(self.parts.len(), self.edges.iter().filter(passes).map(|edge| (edge.from, edge.to)))
    }

    /// Whether an edge is a valve that is shut, or a way of a three-way valve that is.
    pub fn is_way_shut(&self, edge: &Edge) -> bool {
        match edge.component.and_then(|id| self.component(id)) {
            Some(Component { kind: ComponentKind::ThreeWayValve(valve), .. }) => {
                valve.ways().kv_m3_per_h(valve.position)[usize::from(edge.is_bypass)] <= 0.0
            }
            component => component.and_then(Component::is_open) == Some(false),
        }
    }

    /// A component of the project.
    pub fn component(&self, id: ComponentId) -> Option<&'a Component> {
        self.project.components.get(&id)
    }

    /// Name of a component.
    pub fn name(&self, id: ComponentId) -> &'a str {
        self.component(id).map_or("", |component| component.name.as_str())
    }

    /// A check of a component.
    pub fn at(&self, severity: Severity, id: ComponentId, heading: &'static str) -> Check {
        Check::new(severity, Place::Component(id), self.name(id), heading)
    }

    /// A check of a zone.
    pub fn zone(&self, severity: Severity, id: ZoneId, heading: &'static str) -> Check {
        let name = self.project.zones.get(&id).map_or("", |zone| zone.name.as_str());
        Check::new(severity, Place::Zone(id), name, heading)
    }

    /// A check of the project as a whole.
    pub fn whole(&self, severity: Severity, heading: &'static str) -> Check {
        Check::new(severity, Place::Project, &self.project.title, heading)
    }
}

/// Unites pairs of things; gives each thing the number of its group, groups counted in order of their first member.
fn united(count: usize, pairs: impl Iterator<Item = (usize, usize)>) -> Vec<usize> {
    let mut parent: Vec<usize> = (0..count).collect();
    for (a, b) in pairs {
        let (a, b) = (root(&mut parent, a), root(&mut parent, b));
        parent[a.max(b)] = a.min(b);
    }
    // A root is the least of its group, so its number is known when its members ask.
    let mut number: Vec<usize> = vec![0; count];
    let mut groups = 0;
    for i in 0..count {
        let r = root(&mut parent, i);
        number[i] = if r == i { groups } else { number[r] };
        groups += usize::from(r == i);
    }
    number
}

fn root(parent: &mut [usize], mut i: usize) -> usize {
    while parent[i] != i {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    i
}

/// The block of each edge, by a depth-first walk that keeps its own stack (a drawing may be one long chain).
fn blocks(nodes: usize, edges: &[Edge]) -> Vec<usize> {
    const NEW: usize = usize::MAX;
    let mut at_node: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    for (index, edge) in edges.iter().enumerate() {
        at_node[edge.from].push(index);
        at_node[edge.to].push(index);
    }
    let mut block = vec![NEW; edges.len()];
    let mut count = 0;
    let mut order = vec![NEW; nodes];
    let mut low = vec![NEW; nodes];
    let mut visited = 0;
    let mut waiting: Vec<usize> = Vec::new();
    for start in 0..nodes {
        if order[start] != NEW {
            continue;
        }
        (order[start], low[start], visited) = (visited, visited, visited + 1);
        // Each entry: a node, the edge it was reached by, how many of its edges are done.
        let mut path: Vec<(usize, usize, usize)> = vec![(start, NEW, 0)];
        while let Some((node, by, done)) = path.last_mut() {
            let (node, by) = (*node, *by);
            if let Some(&index) = at_node[node].get(*done) {
                *done += 1;
                let edge = edges[index];
                let next = if edge.from == node { edge.to } else { edge.from };
                if index == by {
                } else if next == node {
                    (block[index], count) = (count, count + 1);
                } else if order[next] == NEW {
                    waiting.push(index);
                    (order[next], low[next], visited) = (visited, visited, visited + 1);
                    path.push((next, index, 0));
                } else if order[next] < order[node] {
                    waiting.push(index);
                    low[node] = low[node].min(order[next]);
                }
                continue;
            }
            path.pop();
            let Some(&(above, ..)) = path.last() else { break };
            low[above] = low[above].min(low[node]);
            if low[node] >= order[above] {
                while let Some(index) = waiting.pop() {
                    block[index] = count;
                    if index == by {
                        break;
                    }
                }
                count += 1;
            }
        }
    }
    block
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(pairs: &[(usize, usize)]) -> Vec<usize> {
        let edges: Vec<Edge> =
            pairs.iter().map(|&(from, to)| Edge { from, to, component: None, is_bypass: false }).collect();
        let nodes = pairs.iter().map(|p| p.0.max(p.1) + 1).max().unwrap_or(0);
        blocks(nodes, &edges)
    }

    #[test]
    fn two_loops_that_touch_in_one_node_are_two_blocks() {
        let found = of(&[(0, 1), (1, 2), (2, 0), (2, 3), (3, 4), (4, 2)]);
        assert!(found[..3].iter().all(|b| *b == found[0]));
        assert!(found[3..].iter().all(|b| *b == found[3]));
        assert_ne!(found[0], found[3]);
    }

    #[test]
    fn a_bridge_is_a_block_of_its_own_and_parallel_edges_are_one() {
        let found = of(&[(0, 1), (1, 0), (1, 2), (2, 3), (3, 2), (3, 3)]);
        assert_eq!(found[0], found[1]);
        assert_eq!(found[3], found[4]);
        let mut different = [found[0], found[2], found[3], found[5]].to_vec();
        different.sort_unstable();
        different.dedup();
        assert_eq!(different.len(), 4);
    }

    #[test]
    fn a_chain_of_a_hundred_thousand_edges_is_walked() {
        let pairs: Vec<(usize, usize)> = (0..100_000).map(|i| (i, (i + 1) % 100_000)).collect();
        assert!(of(&pairs).iter().all(|block| *block == 0));
    }

    /// Marks all edges of every simple cycle that begins with edge `first` as one group.
    fn cycles(edges: &[Edge], first: usize, path: &mut Vec<usize>, at: usize, group: &mut [usize]) {
        if at == edges[first].from {
            for &index in path.iter() {
                let (old, new) = (group[index], group[first]);
                group.iter_mut().filter(|g| **g == old).for_each(|g| *g = new);
            }
            return;
        }
        for (index, edge) in edges.iter().enumerate() {
            let next = match at {
                node if node == edge.from => edge.to,
                node if node == edge.to => edge.from,
                _ => continue,
            };
            let passed = |&i: &usize| edges[i].to == next || edges[i].from == next;
            let crosses = next != edges[first].from && path.iter().any(passed);
            if !path.contains(&index) && !crosses {
                path.push(index);
                cycles(edges, first, path, next, group);
                path.pop();
            }
        }
    }

    proptest::proptest! {
        /// Two edges are in one block exactly if a chain of simple cycles joins them (the definition, by enumeration).
        #[test]
        fn blocks_are_what_cycles_join(pairs in proptest::collection::vec((0..6_usize, 0..6_usize), 1..10)) {
            let edges: Vec<Edge> = pairs.iter().map(|&(from, to)| Edge { from, to, component: None, is_bypass: false }).collect();
            let mut group: Vec<usize> = (0..edges.len()).collect();
            for first in 0..edges.len() {
                cycles(&edges, first, &mut vec![first], edges[first].to, &mut group);
            }
            let found = blocks(6, &edges);
            for a in 0..edges.len() {
                for b in 0..edges.len() {
                    proptest::prop_assert_eq!(found[a] == found[b], group[a] == group[b]);
                }
            }
        }
    }
}

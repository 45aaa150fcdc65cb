//! Which nodes hang together through links that follow their laws: between such nodes alone pressures can be compared. A link that is
//! shut, a check valve without flow and a limiter at its set flow leave the pressure across them to others.

use super::NodeId;
use super::chains::Chains;

/// Groups of nodes that hang together (union by path halving; nothing is allocated after [`Reach::new`]).
#[derive(Clone, Debug)]
pub(super) struct Reach {
    group: Vec<u32>,
    /// Nodes inside chains get their pressure with their chain and do not count here.
    is_inside: Vec<bool>,
    /// The nodes outside the base's group.
    unreached: Vec<u32>,
    is_reached: Vec<bool>,
}

impl Reach {
    pub(super) fn new(chains: &Chains, nodes: usize) -> Self {
        let mut is_inside = vec![false; nodes];
        for chain in &chains.chains {
            let (forwards, backwards) = chain.runs();
            if forwards == backwards {
                for part in &chains.parts[chain.parts().start..forwards] {
                    is_inside[part.node()] = true;
                }
            }
        }
        for chain in &chains.chains {
            is_inside[chain.from()] = false;
            is_inside[chain.to()] = false;
        }
        let outside = is_inside.iter().filter(|inside| !**inside).count();
        Self {
            group: (0..nodes as u32).collect(),
            is_inside,
            unreached: Vec::with_capacity(outside),
            is_reached: vec![true; nodes],
        }
    }

    /// Finds the groups anew from what joins nodes; `base` is in the group that counts as reached.
    pub(super) fn find(&mut self, base: NodeId, joins: impl Iterator<Item = (NodeId, NodeId)>) {
        for (node, group) in (0..).zip(&mut self.group) {
            *group = node;
        }
        for (a, b) in joins {
            let (a, b) = (self.root(a), self.root(b));
            self.group[a.max(b)] = a.min(b) as u32;
        }
        let base = self.root(base);
        self.unreached.clear();
        for node in 0..self.group.len() {
            let root = self.root(node);
            self.group[node] = root as u32;
            self.is_reached[node] = self.is_inside[node] || root == base;
            if !self.is_reached[node] {
                self.unreached.push(node as u32);
            }
        }
    }

    fn root(&mut self, mut node: usize) -> usize {
        while self.group[node] as usize != node {
            self.group[node] = self.group[self.group[node] as usize];
            node = self.group[node] as usize;
        }
        node
    }

    /// Whether two nodes, neither of them inside a chain, hang together.
    pub(super) fn is_joined(&self, a: NodeId, b: NodeId) -> bool {
        self.group[a] == self.group[b]
    }

    /// Whether the pressure of a node is known.
    pub(super) fn is_reached(&self, node: NodeId) -> bool {
        self.is_reached[node]
    }

    /// The nodes without a known pressure.
    pub(super) fn unreached(&self) -> impl Iterator<Item = NodeId> {
        self.unreached.iter().map(|&node| node as usize)
    }
}

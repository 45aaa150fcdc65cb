//! What no pump can move. Water goes round: a chain carries flow only if it lies on a closed way through a pump. With what is shut
//! taken out, the network falls into blocks that hang together at single nodes (the biconnected components of a graph: Hopcroft,
//! Tarjan, Comm. ACM 16 (1973) 372; from memory), and a block without a pump stands still, whatever its laws.
//!
//! The equations say so too, but badly: where a law goes with the square of flow, a pressure at the rounding of doubles, 1e-16 of
//! the pump's, still stands for 1e-8 of its flow.

use super::NodeId;
use super::chains::Chains;
use super::pumps::PumpLink;

/// Not yet met.
const UNSEEN: u32 = u32::MAX;

/// The search for blocks; nothing is allocated after [`Rest::new`].
#[derive(Clone, Debug)]
pub(super) struct Rest {
    /// The edges, chains first, then pumps, and for each node those that meet there.
    ends: Vec<[u32; 2]>,
    start: Vec<u32>,
    edges: Vec<u32>,
    chains: usize,
    /// Which chains let any flow pass, as last looked at.
    passed: Vec<bool>,
    is_known: bool,
    pump_nodes: Vec<NodeId>,
    /// When each node was met, the earliest node met from it and beyond, and how many of its edges were looked at.
    met: Vec<u32>,
    earliest: Vec<u32>,
    looked: Vec<u32>,
    /// The way from the first node, each with the edge by which it was entered.
    way: Vec<(u32, u32)>,
    /// Edges that belong to blocks not yet complete.
    open: Vec<u32>,
    is_moved: Vec<bool>,
    resting: Vec<u32>,
}

impl Rest {
    pub(super) fn new(chains: &Chains, pumps: &[PumpLink], nodes: usize) -> Self {
        let of_chains = chains.chains.iter().map(|chain| [chain.from() as u32, chain.to() as u32]);
        let of_pumps = pumps.iter().map(|pump| [pump.suction as u32, pump.discharge as u32]);
        let ends: Vec<[u32; 2]> = of_chains.chain(of_pumps).collect();
        let mut start = vec![0; nodes + 1];
        for &node in ends.iter().flatten() {
            start[node as usize + 1] += 1;
        }
        for node in 0..nodes {
            start[node + 1] += start[node];
        }
        let mut next = start.clone();
        let mut edges = vec![0; 2 * ends.len()];
        for (index, ends) in (0_u32..).zip(&ends) {
            for &node in ends {
                edges[next[node as usize] as usize] = index;
                next[node as usize] += 1;
            }
        }
        Self {
            start,
            edges,
            chains: chains.chains.len(),
            passed: vec![true; chains.chains.len()],
            is_known: false,
            pump_nodes: pumps.iter().map(|pump| pump.suction).collect(),
            met: vec![UNSEEN; nodes],
            earliest: vec![0; nodes],
            looked: vec![0; nodes],
            way: Vec::with_capacity(nodes),
            open: Vec::with_capacity(ends.len()),
            is_moved: vec![false; ends.len()],
            resting: Vec::with_capacity(chains.chains.len()),
            ends,
        }
    }

    /// Finds what stands still; `passes` tells which chains let any flow pass. Looks anew only if other chains do than before.
    pub(super) fn find(&mut self, passes: impl Fn(usize) -> bool) {
        let mut is_known = std::mem::replace(&mut self.is_known, true);
        for (chain, passed) in self.passed.iter_mut().enumerate() {
            let now = passes(chain);
            is_known &= std::mem::replace(passed, now) == now;
        }
        if is_known {
            return;
        }
        self.met.fill(UNSEEN);
        self.looked.fill(0);
        self.is_moved.fill(false);
        let mut count = 0;
        for pump in 0..self.pump_nodes.len() {
            self.search(self.pump_nodes[pump], &mut count);
        }
        self.resting.clear();
        let resting = (0..self.chains as u32).filter(|&chain| !self.is_moved[chain as usize]);
        self.resting.extend(resting);
    }

    /// Looks along every way from a node, depth first.
    fn search(&mut self, first: NodeId, count: &mut u32) {
        if self.met[first] != UNSEEN {
            return;
        }
        self.meet(first, UNSEEN, count);
        while let Some(&(node, entered)) = self.way.last() {
            let here = node as usize;
            let at = self.start[here] + self.looked[here];
            if at == self.start[here + 1] {
                self.way.pop();
                if let Some(&(before, _)) = self.way.last() {
                    self.leave(here, before as usize, entered);
                }
                continue;
            }
            self.looked[here] += 1;
            let edge = self.edges[at as usize];
            let [a, b] = self.ends[edge as usize];
            let is_open = self.passed.get(edge as usize).is_none_or(|passed| *passed);
            if edge == entered || a == b || !is_open {
                continue;
            }
            let other = (if a == node { b } else { a }) as usize;
            if self.met[other] == UNSEEN {
                self.open.push(edge);
                self.meet(other, edge, count);
            } else if self.met[other] < self.met[here] {
                self.open.push(edge);
                self.earliest[here] = self.earliest[here].min(self.met[other]);
            }
        }
    }

    fn meet(&mut self, node: NodeId, entered: u32, count: &mut u32) {
        (self.met[node], self.earliest[node]) = (*count, *count);
        *count += 1;
        self.way.push((node as u32, entered));
    }

    /// Goes back from a node, by the edge that led to it: if nothing beyond leads further back, a block is complete.
    fn leave(&mut self, node: NodeId, before: NodeId, entered: u32) {
        self.earliest[before] = self.earliest[before].min(self.earliest[node]);
        if self.earliest[node] < self.met[before] {
            return;
        }
        let first = self.open.iter().rposition(|&edge| edge == entered).unwrap_or(0);
        let block = &self.open[first..];
        // A pump in a block of its own moves nothing either.
        if block.len() > 1 && block.iter().any(|&edge| edge as usize >= self.chains) {
            for &edge in block {
                self.is_moved[edge as usize] = true;
            }
        }
        self.open.truncate(first);
    }

    /// The chains that stand still.
    pub(super) fn chains(&self) -> impl Iterator<Item = usize> {
        self.resting.iter().map(|&chain| chain as usize)
    }

    /// Whether a pump moves nothing, because no closed way leads through it. One across a single node is such a way itself.
    pub(super) fn is_pump_at_rest(&self, pump: usize) -> bool {
        let [suction, discharge] = self.ends[self.chains + pump];
        suction != discharge && !self.is_moved[self.chains + pump]
    }
}

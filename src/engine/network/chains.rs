//! Series chains: links one after another without a branch carry one flow, so their drops add and they enter the equations
//! as one. The reduction is exact and halves the unknowns of a two-pipe system.

use super::{Link, Network, NodeId};
use crate::engine::links::{Drop, FlowRange};
use std::ops::Range;

/// One link of a chain.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    pub(super) link: usize,
    /// Whether the link is drawn against the chain's direction.
    pub(super) reversed: bool,
}

impl Part {
    /// The flows that this part lets pass, in the chain's direction.
    pub(super) fn range(self, links: &[Link]) -> FlowRange {
        let own = links[self.link].law.range();
        if self.reversed { FlowRange { low: -own.high, high: -own.low } } else { own }
    }

    /// Its drop in the chain's direction. `warm` is the link's friction start.
    pub(super) fn drop(self, links: &[Link], warm: &mut f64, flow: f64) -> Drop {
        let law = &links[self.link].law;
        if self.reversed {
            let own = law.drop(-flow, warm);
            Drop { pressure_pa: -own.pressure_pa, slope: own.slope }
        } else {
            law.drop(flow, warm)
        }
    }

    /// The node at its start, in the chain's direction.
    pub(super) fn start(self, links: &[Link]) -> NodeId {
        if self.reversed { links[self.link].to } else { links[self.link].from }
    }

    /// The node at its end, in the chain's direction.
    pub(super) fn end(self, links: &[Link]) -> NodeId {
        if self.reversed { links[self.link].from } else { links[self.link].to }
    }
}

/// Links in series between two nodes where something branches, a pump stands or the line ends.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    pub(super) from: NodeId,
    pub(super) to: NodeId,
    /// Where its links stand, in order, in the list of parts.
    pub(super) parts: Range<usize>,
}

/// A network as chains.
#[derive(Clone, Debug, Default)]
pub(super) struct Chains {
    pub(super) chains: Vec<Chain>,
    pub(super) parts: Vec<Part>,
    /// The chain of each link.
    pub(super) chain_of: Vec<usize>,
    /// The last drop of each part, Pa, in its chain's direction.
    pub(super) part_drops: Vec<f64>,
    /// A friction start for each link.
    pub(super) warm: Vec<f64>,
}

impl Chains {
    /// Sum of a chain's drops at a flow; notes what each part takes.
    pub(super) fn drop(&mut self, chain: usize, links: &[Link], flow: f64) -> Drop {
        let mut sum = Drop::default();
        for at in self.chains[chain].parts.clone() {
            let part = self.parts[at];
            let own = part.drop(links, &mut self.warm[part.link], flow);
            self.part_drops[at] = own.pressure_pa;
            sum.pressure_pa += own.pressure_pa;
            sum.slope += own.slope;
        }
        sum
    }

    /// The parts of a chain.
    pub(super) fn parts_of(&self, chain: usize) -> &[Part] {
        &self.parts[self.chains[chain].parts.clone()]
    }

    /// The flows that every link of a chain lets pass.
    pub(super) fn range(&self, chain: usize, links: &[Link]) -> FlowRange {
        let mut range = FlowRange::ANY;
        for part in self.parts_of(chain) {
            let own = part.range(links);
            range.low = range.low.max(own.low);
            range.high = range.high.min(own.high);
        }
        // A bound that is not a number fails this test too.
        if range.low <= range.high { range } else { FlowRange::NONE }
    }

    /// The least of the links' nominal flows.
    pub(super) fn nominal_flow(&self, chain: usize, links: &[Link]) -> f64 {
        self.parts_of(chain).iter().map(|part| links[part.link].law.nominal_flow()).fold(f64::INFINITY, f64::min)
    }
}

/// Cuts a network of `nodes` nodes into chains.
pub(super) fn reduce(network: &Network, nodes: usize) -> Chains {
    let mut at_node: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    for (index, link) in network.links.iter().enumerate() {
        at_node[link.from].push(index);
        at_node[link.to].push(index);
    }
    let mut is_end: Vec<bool> = at_node.iter().map(|links| links.len() != 2).collect();
    for pump in &network.pumps {
        is_end[pump.suction] = true;
        is_end[pump.discharge] = true;
    }
    let mut used = vec![false; network.links.len()];
    let mut found = Chains::default();
    for node in 0..nodes {
        if is_end[node] {
            follow_all(network, &at_node, &is_end, &mut used, node, &mut found);
        }
    }
    // What is left are rings on which nothing branches: any node of them serves as an end.
    for index in 0..network.links.len() {
        if !used[index] {
            let node = network.links[index].from;
            is_end[node] = true;
            follow_all(network, &at_node, &is_end, &mut used, node, &mut found);
        }
    }
    found.chain_of = vec![0; network.links.len()];
    for (index, chain) in found.chains.iter().enumerate() {
        for part in &found.parts[chain.parts.clone()] {
            found.chain_of[part.link] = index;
        }
    }
    found.part_drops = vec![0.0; found.parts.len()];
    found.warm = vec![0.0; network.links.len()];
    found
}

fn follow_all(
    network: &Network,
    at_node: &[Vec<usize>],
    is_end: &[bool],
    used: &mut [bool],
    start: NodeId,
    found: &mut Chains,
) {
    for &first in &at_node[start] {
        if used[first] {
            continue;
        }
        let mut end = start;
        let first_part = found.parts.len();
        let mut next = Some(first);
        while let Some(link) = next {
            used[link] = true;
            let part = Part { link, reversed: network.links[link].from != end };
            end = part.end(&network.links);
            found.parts.push(part);
            next = if is_end[end] { None } else { at_node[end].iter().copied().find(|&i| !used[i]) };
        }
        found.chains.push(Chain { from: start, to: end, parts: first_part..found.parts.len() });
    }
}

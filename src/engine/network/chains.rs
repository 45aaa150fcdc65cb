//! Series chains: links one after another without a branch carry one flow, so their drops add and they enter the equations
//! as one. The reduction is exact and halves the unknowns of a two-pipe system.

use super::{Link, Network, NodeId};
use crate::engine::links::{Drop, FlowRange};

/// Links in series between two nodes where something branches, a pump stands or the line ends.
#[derive(Clone, Debug)]
pub(super) struct Chain {
    pub(super) from: NodeId,
    pub(super) to: NodeId,
    /// The links in order; `true` when the link is drawn against the chain's direction.
    pub(super) parts: Vec<(usize, bool)>,
}

impl Chain {
    /// Sum of the drops at a flow. `warm` holds one friction start for each link of the network.
    pub(super) fn drop(&self, links: &[Link], warm: &mut [f64], flow: f64) -> Drop {
        let mut sum = Drop::default();
        for &(index, reversed) in &self.parts {
            let own = part_drop(&links[index], &mut warm[index], flow, reversed);
            sum.pressure_pa += own.pressure_pa;
            sum.slope += own.slope;
        }
        sum
    }

    /// The flows that every link lets pass.
    pub(super) fn range(&self, links: &[Link]) -> FlowRange {
        let mut range = FlowRange::ANY;
        for &(index, reversed) in &self.parts {
            let own = links[index].law.range();
            let (low, high) = if reversed { (-own.high, -own.low) } else { (own.low, own.high) };
            range.low = range.low.max(low);
            range.high = range.high.min(high);
        }
        if range.low > range.high { FlowRange::NONE } else { range }
    }

    /// The least of the links' nominal flows.
    pub(super) fn nominal_flow(&self, links: &[Link]) -> f64 {
        self.parts.iter().map(|&(index, _)| links[index].law.nominal_flow()).fold(f64::INFINITY, f64::min)
    }
}

/// Drop of one link of a chain, in the chain's direction.
pub(super) fn part_drop(link: &Link, warm: &mut f64, flow: f64, reversed: bool) -> Drop {
    if reversed {
        let own = link.law.drop(-flow, warm);
        Drop { pressure_pa: -own.pressure_pa, slope: own.slope }
    } else {
        link.law.drop(flow, warm)
    }
}

/// Cuts a network into chains.
pub(super) fn reduce(network: &Network) -> Vec<Chain> {
    let mut at_node: Vec<Vec<usize>> = vec![Vec::new(); network.nodes];
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
    let mut chains = Vec::new();
    for node in 0..network.nodes {
        if is_end[node] {
            follow_all(network, &at_node, &is_end, &mut used, node, &mut chains);
        }
    }
    // What is left are rings on which nothing branches: any node of them serves as an end.
    for index in 0..network.links.len() {
        if !used[index] {
            let node = network.links[index].from;
            is_end[node] = true;
            follow_all(network, &at_node, &is_end, &mut used, node, &mut chains);
        }
    }
    chains
}

fn follow_all(
    network: &Network,
    at_node: &[Vec<usize>],
    is_end: &[bool],
    used: &mut [bool],
    start: NodeId,
    chains: &mut Vec<Chain>,
) {
    for &first in &at_node[start] {
        if used[first] {
            continue;
        }
        let mut chain = Chain { from: start, to: start, parts: Vec::new() };
        let mut next = Some(first);
        while let Some(index) = next {
            used[index] = true;
            let link = &network.links[index];
            let reversed = link.from != chain.to;
            chain.to = if reversed { link.from } else { link.to };
            chain.parts.push((index, reversed));
            next = if is_end[chain.to] { None } else { at_node[chain.to].iter().copied().find(|&i| !used[i]) };
        }
        chains.push(chain);
    }
}

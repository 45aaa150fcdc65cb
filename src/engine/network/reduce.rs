//! Cuts a network into [`super::chains`].

use super::chains::{Chain, Cutting, Part};
use super::{Network, NodeId};

/// The links at each node, one list after another.
struct Stars {
    start: Vec<u32>,
    links: Vec<u32>,
}

impl Stars {
    fn new(network: &Network, nodes: usize) -> Self {
        let mut start = vec![0_u32; nodes + 1];
        for link in &network.links {
            start[link.from + 1] += 1;
            start[link.to + 1] += 1;
        }
        for node in 0..nodes {
            start[node + 1] += start[node];
        }
        let mut next = start.clone();
        let mut links = vec![0; 2 * network.links.len()];
        for (index, link) in (0_u32..).zip(&network.links) {
            for node in [link.from, link.to] {
                links[next[node] as usize] = index;
                next[node] += 1;
            }
        }
        Self { start, links }
    }

    fn at(&self, node: NodeId) -> &[u32] {
        &self.links[self.start[node] as usize..self.start[node + 1] as usize]
    }
}

/// Cuts a network of `nodes` nodes at every node where not exactly two links meet, at the pumps and at the reference node.
pub(super) fn reduce(network: &Network, nodes: usize) -> (Vec<Chain>, Vec<Part>) {
    let stars = Stars::new(network, nodes);
    let mut is_end: Vec<bool> = (0..nodes).map(|node| stars.at(node).len() != 2).collect();
    is_end[network.reference] = true;
    for pump in &network.pumps {
        is_end[pump.suction] = true;
        is_end[pump.discharge] = true;
    }
    let mut used = vec![false; network.links.len()];
    let mut found = Cutting::default();
    for node in 0..nodes {
        if is_end[node] {
            follow_all(network, &stars, &is_end, &mut used, node, &mut found);
        }
    }
    // What is left are rings on which nothing branches: any node of them serves as an end.
    for index in 0..network.links.len() {
        if !used[index] {
            let node = network.links[index].from;
            is_end[node] = true;
            follow_all(network, &stars, &is_end, &mut used, node, &mut found);
        }
    }
    (found.chains, found.parts)
}

fn follow_all(
    network: &Network,
    stars: &Stars,
    is_end: &[bool],
    used: &mut [bool],
    start: NodeId,
    found: &mut Cutting,
) {
    for &first in stars.at(start) {
        if used[first as usize] {
            continue;
        }
        let mut end = start;
        let first_part = found.parts.len();
        let mut next = Some(first);
        while let Some(link) = next {
            used[link as usize] = true;
            end = found.add(link as usize, &network.links, end);
            next = if is_end[end] { None } else { stars.at(end).iter().copied().find(|&i| !used[i as usize]) };
        }
        found.finish(start, end, first_part);
    }
}

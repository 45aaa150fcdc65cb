//! What is done once for a topology: chains, the order of elimination, where each chain's numbers go.

use super::chains::Chains;
use super::curve::Curve;
use super::dense::Dense;
use super::elimination::Elimination;
use super::general::{ChainState, GROUND, General};
use super::judge::{Floors, Mode, Passing};
use super::outcome::Outcome;
use super::reach::Reach;
use super::rest::Rest;
use super::stability::Seen;
use super::tree::Change;
use super::{Network, NodeId};
use crate::engine::links::{Drop, FlowRange};

impl General {
    /// Prepares the work for a network's topology.
    pub(super) fn new(network: &Network) -> Self {
        let nodes = node_count(network);
        let chains = Chains::new(network, nodes);
        let ground: NodeId = network.pumps.first().map_or(network.reference, |pump| pump.suction);
        let (order, terminal_count) = unknowns(network, &chains, ground, nodes);
        let mut unknown_of = vec![None; nodes];
        for (unknown, &node) in order.iter().enumerate() {
            unknown_of[node] = Some(unknown);
        }
        let end = |node: NodeId| if node == ground { None } else { unknown_of[node] };
        let mut pairs = Vec::new();
        let mut pair_of = vec![None; chains.chains.len()];
        for (index, chain) in chains.chains.iter().enumerate() {
            if let (Some(a), Some(b)) = (end(chain.from()), end(chain.to()))
                && a != b
            {
                pair_of[index] = Some(pairs.len());
                pairs.push((a, b));
            }
        }
        let (elimination, slots) = Elimination::new(order.len(), terminal_count, &pairs);
        let position = |node: NodeId| end(node).map_or(GROUND, |unknown| elimination.position(unknown));
        let states: Vec<ChainState> = chains
            .chains
            .iter()
            .zip(&pair_of)
            .map(|(chain, pair)| at_rest(position(chain.from()), position(chain.to()), pair.map(|p| slots[p])))
            .collect();
        let interior = order.len() - terminal_count;
        let terminal = |node: NodeId| end(node).map(|unknown| unknown - interior);
        let terminals = network.pumps.iter().map(|p| (terminal(p.suction), terminal(p.discharge))).collect();
        for unknown in unknown_of.iter_mut().flatten() {
            *unknown = elimination.position(*unknown);
        }
        let mut solver = Self {
            reach: Reach::new(&chains, nodes),
            is_reach_known: false,
            passing: vec![Passing::Pressure; states.len()],
            rest: Rest::new(&chains, &network.pumps, nodes),
            reuse: false,
            leaves_unstable: true,
            dense: Dense::default(),
            seen: Seen::default(),
            balance: vec![0.0; nodes],
            dirty: vec![true; states.len()],
            curves: vec![Curve::NONE; states.len()],
            states,
            unknown_of,
            pressures: vec![0.0; order.len()],
            rhs: vec![0.0; order.len()],
            terminals,
            pump_flows: vec![0.0; network.pumps.len()],
            easing: vec![None; network.pumps.len()],
            pump_nodes: network.pumps.iter().map(|p| (p.suction, p.discharge)).collect(),
            nodes: network.nodes,
            reference: network.reference,
            laws: network.links.clone(),
            cold: true,
            outcome: Outcome::new(nodes, network.links.len(), network.pumps.len()),
            chains,
            elimination,
        };
        solver.take_laws();
        solver
    }

    /// Whether a network has the nodes, the number of links and the pumps' places that this was prepared for.
    pub(super) fn fits(&self, network: &Network) -> bool {
        let pumps = network.pumps.iter().map(|pump| (pump.suction, pump.discharge));
        self.nodes == network.nodes
            && self.laws.len() == network.links.len()
            && self.reference == network.reference
            && pumps.eq(self.pump_nodes.iter().copied())
    }

    /// Takes over what changed in the network since the last solve.
    pub(super) fn follow(&mut self, network: &Network) -> Change {
        if !self.fits(network) {
            return Change::Topology;
        }
        let mut change = Change::Nothing;
        for (index, (known, link)) in self.laws.iter_mut().zip(&network.links).enumerate() {
            if known == link {
                continue;
            }
            if (known.from, known.to) != (link.from, link.to) {
                return Change::Topology;
            }
            known.law.clone_from(&link.law);
            self.dirty[self.chains.chain_of[index] as usize] = true;
            change = Change::Laws;
        }
        if change == Change::Laws {
            self.take_laws();
        }
        change
    }
}

/// As many nodes as the network names, should it name more than it has.
pub(super) fn node_count(network: &Network) -> usize {
    let links = network.links.iter().map(|link| link.from.max(link.to));
    let pumps = network.pumps.iter().map(|pump| pump.suction.max(pump.discharge));
    links.chain(pumps).fold(network.nodes.max(network.reference + 1), |most, node| most.max(node + 1))
}

/// The nodes whose pressure is sought: ends of chains, then, last, the pumps' nodes; and how many the latter are.
fn unknowns(network: &Network, chains: &Chains, ground: NodeId, nodes: usize) -> (Vec<NodeId>, usize) {
    let mut is_unknown = vec![false; nodes];
    for chain in &chains.chains {
        is_unknown[chain.from()] = true;
        is_unknown[chain.to()] = true;
    }
    let mut terminal_nodes: Vec<NodeId> = Vec::new();
    for pump in &network.pumps {
        for node in [pump.suction, pump.discharge] {
            if node != ground && !terminal_nodes.contains(&node) {
                terminal_nodes.push(node);
            }
            is_unknown[node] = true;
        }
    }
    let inner = (0..nodes).filter(|n| is_unknown[*n] && *n != ground && !terminal_nodes.contains(n));
    (inner.chain(terminal_nodes.iter().copied()).collect(), terminal_nodes.len())
}

fn at_rest(from: usize, to: usize, slot: Option<usize>) -> ChainState {
    ChainState {
        from,
        to,
        slot,
        range: FlowRange::ANY,
        nominal: 0.0,
        floors: Floors::default(),
        first_conductance: 0.0,
        mode: Mode::Free,
        flow: 0.0,
        law: Drop::default(),
        conductance: 0.0,
        carried: 0.0,
        low_force: 0.0,
        high_force: 0.0,
        stiffness: 0.0,
    }
}

//! The solver of tree-like networks with one pump: Newton by series and parallel, without a matrix.
//!
//! Each chain is linear at its present flow, Δp = r q − e (in series: r and e add) or q = g Δp + c (in parallel: g and c add).
//! One sweep from the far ends to the pump leaves the whole system as one such line, which meets the pump's true curve as in
//! [`super::terminals`]; one sweep back gives every flow, and in the same pass every law at its new flow, whether it fits, and its
//! next line. This is the Newton step of [`super::general`] with its elimination written out for a tree, about twenty
//! operations a zone and no more memory than the tree itself; steps, floors, active set and what counts as an answer are the same.
//!
//! A cold start begins at flows as if every law went with the square of flow (`cold`). Before the first step of a warm start all flows are scaled by what the pump's new curve does to a system that follows one
//! power of the flow; a drag is then mostly two steps. What the steps do not settle is left to [`super::general`].
//!
//! A drag of two steps takes 50 ns a zone of six links (generic x86-64 of about 3 GHz, one core): two sweeps back with the laws 18 ns, the report
//! of every link and node 15 ns, two sweeps together 7 ns, scaling 5 ns, balances 2 ns. The sweeps wait for arithmetic (divisions and
//! polynomials), the report for its scattered writes. From some 10,000 zones on memory is the limit: a zone holds about 800
//! bytes, thirteen cache lines, which a solve goes through three times; at 50,000 zones that is 40 MB, more than caches hold, and 70 ns a
//! zone. Doing without the second step would need flows foreseen to 3e-6, which one factor for all is not.

mod cold;
mod layout;
mod report;
mod rest;
mod shape;
mod start;
mod sweep;
#[cfg(test)]
mod tests;

use super::chains::Chains;
use super::judge::{Limits, MOST_STEPS, Mode, is_answer};
use super::pumps::PumpLink;
use super::reach::Reach;
use super::terminals::one_pump;
use super::{Link, Network, Outcome, PumpLaw, Verdict, node_count};
use crate::engine::links::FlowRange;
use layout::{Cell, Layout};
use shape::Shape;
use sweep::{Leaf, Line, Sum};

/// What a solver finds changed since its last solve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Change {
    /// No law, the pumps' aside.
    Nothing,
    Laws,
    /// What is connected to what; the solver is of no use any more.
    Topology,
}

/// The bounds of one chain.
#[derive(Clone, Copy, Debug)]
struct Bounds {
    range: FlowRange,
    mode: Mode,
}

/// A tree-like network with one pump, prepared.
#[derive(Clone, Debug)]
pub(super) struct Tree {
    cells: Vec<Cell>,
    /// Nodes at which only resting chains end, each with one whose pressure it has.
    resting_nodes: Vec<(u32, u32)>,
    chains: Chains,
    /// Chains from here on carry no flow: they lead nowhere.
    moving: usize,
    laws: Vec<Link>,
    dirty: Vec<u32>,
    // One of each chain.
    leaves: Vec<Leaf>,
    /// What the cold start takes each for, m³/s per √Pa.
    kvs: Vec<f64>,
    bounds: Vec<Bounds>,
    // One of each cell; pressures across bundles, and beyond them those across the second cells of joints.
    sums: Vec<Sum>,
    gathered: Vec<Line>,
    across_cells: Vec<f64>,
    cell_flows: Vec<f64>,
    balance: Vec<f64>,
    /// Which cells stand still because something before or behind them blocks.
    resting: Vec<bool>,
    nodes: usize,
    reference: usize,
    pump_nodes: (usize, usize),
    pump_flow: f64,
    pump_rise: f64,
    /// The greatest difference between a law and the pressure across it, after the last sweep.
    worst_pa: f64,
    /// Whether a chain took or left an end of its range since the last report.
    is_regrouped: bool,
    reach: Reach,
    pub(super) cold: bool,
    pub(super) outcome: Outcome,
}

impl Tree {
    /// Prepares a network if it is a tree with one pump. `was_bounded` names links that ended their ranges before, so
    /// that a main that is shut and opened is laid out once only.
    pub(super) fn new(network: &Network, was_bounded: &[bool]) -> Option<Self> {
        let [pump] = network.pumps.as_slice() else { return None };
        let nodes = node_count(network);
        let chains = Chains::new(network, nodes);
        let shape = Shape::find(&chains.chains, nodes, [pump.discharge, pump.suction])?;
        let is_free = |chain: usize| {
            let bounded_before =
                chains.parts_of(chain).iter().any(|part| was_bounded.get(part.link()).is_some_and(|bounded| *bounded));
            chains.range(chain, &network.links) == FlowRange::ANY && !bounded_before
        };
        let free: Vec<bool> = (0..chains.chains.len()).map(is_free).collect();
        let layout = Layout::new(&shape, pump.discharge, &free);
        let chains = chains.regrouped(layout.groups());
        let Layout { cells, moving, .. } = layout;
        let count = chains.chains.len();
        let mut leaves = vec![Leaf::new(false); count];
        for cell in cells.iter().filter(|cell| cell.has_series) {
            leaves[cell.end as usize] = Leaf::new(true);
        }
        let mut tree = Self {
            resting_nodes: report::resting_nodes(&chains, moving, nodes),
            reach: Reach::new(&chains, nodes),
            moving,
            laws: network.links.clone(),
            dirty: (0..count as u32).collect(),
            leaves,
            kvs: vec![0.0; count],
            bounds: vec![Bounds { range: FlowRange::ANY, mode: Mode::Free }; count],
            sums: vec![Sum::default(); cells.len()],
            gathered: vec![Line::default(); cells.len()],
            across_cells: vec![0.0; 2 * cells.len()],
            cell_flows: vec![0.0; cells.len()],
            balance: vec![0.0; cells.len()],
            resting: Vec::with_capacity(cells.len()),
            nodes: network.nodes,
            reference: network.reference,
            pump_nodes: (pump.suction, pump.discharge),
            pump_flow: 0.0,
            pump_rise: 0.0,
            worst_pa: 0.0,
            is_regrouped: true,
            cold: true,
            outcome: Outcome::new(nodes, network.links.len(), 1),
            cells,
            chains,
        };
        tree.take_laws().then_some(tree)
    }

    /// Whether a network has the nodes, the number of links and the pump's place that this was prepared for.
    pub(super) fn fits(&self, network: &Network) -> bool {
        let pumps = network.pumps.iter().map(|pump| (pump.suction, pump.discharge));
        self.nodes == network.nodes
            && self.laws.len() == network.links.len()
            && self.reference == network.reference
            && pumps.eq([self.pump_nodes])
    }

    /// Takes over what changed in the network.
    pub(super) fn follow(&mut self, network: &Network) -> Change {
        if !self.fits(network) {
            return Change::Topology;
        }
        for (index, (known, link)) in self.laws.iter_mut().zip(&network.links).enumerate() {
            if known == link {
                continue;
            }
            if (known.from, known.to) != (link.from, link.to) {
                return Change::Topology;
            }
            known.law.clone_from(&link.law);
            let chain = self.chains.chain_of[index];
            if self.dirty.last() != Some(&chain) {
                self.dirty.push(chain);
            }
        }
        if self.dirty.is_empty() {
            return Change::Nothing;
        }
        if self.take_laws() { Change::Laws } else { Change::Topology }
    }

    /// Which links ended the range of their chain.
    pub(super) fn bounded_links(&self) -> Vec<bool> {
        self.chains.chain_of.iter().map(|&chain| self.leaves[chain as usize].is_bounded).collect()
    }

    /// Solves from the last answer where there is one; whether it gave an answer.
    pub(super) fn solve(&mut self, network: &Network) -> bool {
        let Some(pump) = network.pumps.first() else { return false };
        self.outcome.iterations = 0;
        let warm = !self.cold;
        let solved = self.settle(network, pump) || (warm && self.settle(network, pump));
        self.outcome.verdict = if solved { Verdict::Converged } else { Verdict::NotConverged };
        solved
    }

    /// Newton from the present start; whether it gave an answer. If not, the next start is a cold one.
    fn settle(&mut self, network: &Network, pump: &PumpLink) -> bool {
        if std::mem::replace(&mut self.cold, true) {
            self.take_cold_start(pump);
            self.outcome.iterations += 1;
        } else {
            self.foresee(pump);
        }
        if !self.iterate(pump) {
            return false;
        }
        self.report(pump);
        self.cold = !is_answer(&self.outcome, network);
        !self.cold
    }

    /// Steps until all laws fit; `false` if they do not.
    fn iterate(&mut self, pump: &PumpLink) -> bool {
        let (rated, _) = pump.scale();
        for _ in 0..MOST_STEPS {
            self.outcome.iterations += 1;
            let Some(Line { factor: conductance, offset: outflow }) = self.gather() else { return false };
            let rise = match pump.law {
                PumpLaw::FixedFlow(flow) => {
                    self.pump_flow = flow;
                    (flow - outflow) / conductance
                }
                PumpLaw::Regulated(_) => {
                    let flow = one_pump(pump, None, conductance, outflow, 0.0, self.pump_flow);
                    self.pump_flow = flow;
                    pump.rise(flow).map_or(0.0, |(rise, _)| rise)
                }
            };
            if !(rise.is_finite() && self.pump_flow.is_finite()) {
                return false;
            }
            self.pump_rise = rise;
            let limits = Limits::new(rise.abs(), self.pump_flow.abs(), rated);
            if self.spread(rise, &limits) {
                return true;
            }
        }
        false
    }
}

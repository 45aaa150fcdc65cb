//! Newton on flows and node pressures together.
//!
//! Each chain is linear at its present flow, q = q₀ + g (Δp − Δp(q₀)), g the inverse of the slope of its law; node balances
//! then give a sparse symmetric system ([`super::ldl`]), in which the pumps stand outside ([`super::terminals`]). Flows that
//! come out balance at every node to rounding from the first step on; what the steps drive to zero is the difference between
//! each law and the pressure across it.
//!
//! - A chain at the end of its range (a shut check valve, a satisfied flow limiter) is held there with g = 0 until the pressure
//!   across it calls it back: an active set, exact rather than a steep slope.
//! - The slope of a law is never taken below a thousandth of its slope at nominal flow: a main without flow would otherwise
//!   make a singular matrix.
//! - The first step of a cold start is linear, each chain by its drop at nominal flow: directions come out right unaided.
//! - A step that does not settle within some rounds is halved from then on.
//!
//! Not guaranteed: convergence with several pumps on rising set-lines, and which point is found where several exist. The
//! outcome then says what it found: its balances and whether the point is stable.

use super::chains::{Chain, reduce};
use super::ldl::Elimination;
use super::outcome::{Outcome, Verdict};
use super::terminals::{many_pumps, one_pump};
use super::{Network, NodeId, PumpLaw};
use crate::engine::links::FlowRange;

const MOST_STEPS: u32 = 100;
/// From this step on, flows move half the way.
const HALVE_FROM: u32 = 25;
/// Head error over pump pressure at which a solve is done.
const TOLERANCE: f64 = 1e-11;
/// Least slope of a law over its slope at nominal flow.
const SLOPE_FLOOR: f64 = 1e-3;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mode {
    Free,
    AtLow,
    AtHigh,
}

#[derive(Clone, Debug)]
pub(super) struct ChainState {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) slot: Option<usize>,
    pub(super) range: FlowRange,
    pub(super) nominal: f64,
    pub(super) least_slope: f64,
    pub(super) first_conductance: f64,
    pub(super) mode: Mode,
    pub(super) flow: f64,
    pub(super) conductance: f64,
    /// Flow at zero change of pressure: what the linear chain carries at the present node pressures.
    pub(super) carried: f64,
}

/// Prepared work for one topology, with the last answer as the next start.
#[derive(Clone, Debug)]
pub struct Solver {
    pub(super) chains: Vec<Chain>,
    pub(super) states: Vec<ChainState>,
    pub(super) elimination: Elimination,
    /// For each node: its unknown, or `None` for the ground node and for nodes inside chains.
    pub(super) ground: usize,
    pub(super) unknown_of: Vec<Option<usize>>,
    /// Position in the elimination order for each unknown; pressures are kept in that order.
    pub(super) pressures: Vec<f64>,
    pub(super) rhs: Vec<f64>,
    pub(super) terminals: Vec<(Option<usize>, Option<usize>)>,
    pub(super) pump_flows: Vec<f64>,
    pub(super) warm: Vec<f64>,
    pub(super) laws: Vec<super::Link>,
    pub(super) cold: bool,
    pub(super) outcome: Outcome,
    pub(super) reached: Vec<bool>,
    pub(super) balance: Vec<f64>,
}

/// Index of the ground in a chain's ends.
pub(super) const GROUND: usize = usize::MAX;

impl Solver {
    /// Prepares the work for a network's topology.
    #[must_use]
    pub fn new(network: &Network) -> Self {
        let chains = reduce(network);
        let ground: NodeId = network.pumps.first().map_or(network.reference, |pump| pump.suction);
        let mut is_unknown = vec![false; network.nodes];
        for chain in &chains {
            is_unknown[chain.from] = true;
            is_unknown[chain.to] = true;
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
        let inner = (0..network.nodes).filter(|n| is_unknown[*n] && *n != ground && !terminal_nodes.contains(n));
        let order: Vec<NodeId> = inner.chain(terminal_nodes.iter().copied()).collect();
        let mut unknown_of = vec![None; network.nodes];
        for (unknown, &node) in order.iter().enumerate() {
            unknown_of[node] = Some(unknown);
        }
        let end = |node: NodeId| if node == ground { None } else { unknown_of[node] };
        let mut pairs = Vec::new();
        let mut pair_of = vec![None; chains.len()];
        for (index, chain) in chains.iter().enumerate() {
            if let (Some(a), Some(b)) = (end(chain.from), end(chain.to))
                && a != b
            {
                pair_of[index] = Some(pairs.len());
                pairs.push((a, b));
            }
        }
        let (elimination, slots) = Elimination::new(order.len(), terminal_nodes.len(), &pairs);
        let position = |node: NodeId| end(node).map_or(GROUND, |unknown| elimination.position(unknown));
        let states = chains
            .iter()
            .zip(&pair_of)
            .map(|(chain, pair)| ChainState {
                from: position(chain.from),
                to: position(chain.to),
                slot: pair.map(|p| slots[p]),
                range: FlowRange::ANY,
                nominal: 0.0,
                least_slope: 0.0,
                first_conductance: 0.0,
                mode: Mode::Free,
                flow: 0.0,
                conductance: 0.0,
                carried: 0.0,
            })
            .collect();
        let interior = order.len() - terminal_nodes.len();
        let terminal = |node: NodeId| end(node).map(|unknown| unknown - interior);
        let terminals = network.pumps.iter().map(|p| (terminal(p.suction), terminal(p.discharge))).collect();
        for unknown in unknown_of.iter_mut().flatten() {
            *unknown = elimination.position(*unknown);
        }
        Self {
            ground,
            states,
            unknown_of,
            pressures: vec![0.0; order.len()],
            rhs: vec![0.0; order.len()],
            terminals,
            pump_flows: vec![0.0; network.pumps.len()],
            warm: vec![0.0; network.links.len()],
            laws: Vec::new(),
            cold: true,
            outcome: Outcome::new(network.nodes, network.links.len(), network.pumps.len()),
            reached: vec![false; network.nodes],
            balance: vec![0.0; network.nodes],
            chains,
            elimination,
        }
    }

    /// Forgets the last answer: the next solve starts as from rest.
    pub fn start_cold(&mut self) {
        self.cold = true;
    }

    /// The last answer.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        &self.outcome
    }

    /// Solves the network, from the last answer where there is one. The topology must be the one this solver was made for;
    /// laws and pump settings may differ.
    pub fn solve(&mut self, network: &Network) -> &Outcome {
        if self.laws != network.links {
            self.laws.clone_from(&network.links);
            self.take_laws();
        }
        if self.cold {
            self.take_cold_start(network);
        }
        for (flow, pump) in self.pump_flows.iter_mut().zip(&network.pumps) {
            if let PumpLaw::FixedFlow(held) = pump.law {
                *flow = held;
            }
        }
        let mut verdict = if network.pumps.is_empty() { Verdict::NoPump } else { Verdict::NotConverged };
        self.outcome.iterations = 0;
        if verdict == Verdict::NoPump {
            self.stand_still();
        } else {
            let warm = !self.cold;
            if self.iterate(network) {
                verdict = Verdict::Converged;
            } else if warm {
                self.take_cold_start(network);
                if self.iterate(network) {
                    verdict = Verdict::Converged;
                }
            }
        }
        self.outcome.verdict = verdict;
        self.report(network);
        // A start from a point that did not settle leads nowhere.
        self.cold = verdict != Verdict::Converged;
        &self.outcome
    }

    /// Newton steps until all laws fit; `false` if they do not.
    fn iterate(&mut self, network: &Network) -> bool {
        let rated = network.pumps.iter().map(|p| p.scale().1).fold(0.0, f64::max);
        let traces_a_flow = network.pumps.iter().any(|p| matches!(p.law, PumpLaw::FixedFlow(_)));
        for step in 0..MOST_STEPS {
            let first = self.cold;
            self.linearise(first);
            self.outcome.iterations += 1;
            self.cold = false;
            if !self.step(network) {
                return false;
            }
            let share = if step > HALVE_FROM { 0.5 } else { 1.0 };
            let scale = if traces_a_flow { self.greatest_pressure() } else { rated };
            if self.accept(share, scale.max(1e-6)) && !first {
                return true;
            }
        }
        false
    }

    /// Takes ranges and nominal slopes from changed laws.
    fn take_laws(&mut self) {
        for (chain, state) in self.chains.iter().zip(&mut self.states) {
            let range = chain.range(&self.laws);
            let was_shut = state.range.is_shut();
            state.range = range;
            state.nominal = chain.nominal_flow(&self.laws);
            let flow = state.nominal.clamp(range.low, range.high);
            let at_nominal = chain.drop(&self.laws, &mut self.warm, if flow == 0.0 { state.nominal } else { flow });
            state.least_slope = (SLOPE_FLOOR * at_nominal.slope).max(1e-6);
            state.first_conductance = state.nominal / at_nominal.pressure_pa.abs().max(1e-3);
            if range.is_shut() {
                state.mode = Mode::AtLow;
                state.flow = range.low;
            } else if was_shut || (state.mode == Mode::AtLow && range.low.is_infinite()) {
                state.mode = Mode::Free;
                state.flow = flow;
            } else {
                state.flow = state.flow.clamp(range.low, range.high);
                if state.mode == Mode::AtHigh {
                    if range.high.is_infinite() { state.mode = Mode::Free } else { state.flow = range.high }
                }
            }
        }
    }

    fn take_cold_start(&mut self, network: &Network) {
        self.cold = true;
        self.pressures.fill(0.0);
        for (flow, pump) in self.pump_flows.iter_mut().zip(&network.pumps) {
            *flow = match pump.law {
                PumpLaw::FixedFlow(flow) => flow,
                PumpLaw::Regulated(_) => 0.3 * pump.scale().0,
            };
        }
        for state in &mut self.states {
            state.mode = if state.range.is_shut() { Mode::AtLow } else { Mode::Free };
            state.flow = 0.0;
        }
    }

    fn stand_still(&mut self) {
        self.pressures.fill(0.0);
        for state in &mut self.states {
            state.flow = 0.0;
        }
    }

    fn greatest_pressure(&self) -> f64 {
        self.pressures.iter().fold(0.0, |most, p| p.abs().max(most))
    }

    pub(super) fn pressure_at(&self, position: usize) -> f64 {
        if position == GROUND { 0.0 } else { self.pressures[position] }
    }

    /// Makes each chain linear and fills matrix and right-hand side.
    fn linearise(&mut self, first: bool) {
        self.elimination.diagonal.fill(0.0);
        self.elimination.values.fill(0.0);
        self.rhs.fill(0.0);
        for index in 0..self.states.len() {
            let across = self.pressure_at(self.states[index].from) - self.pressure_at(self.states[index].to);
            let state = &mut self.states[index];
            (state.conductance, state.carried) = match state.mode {
                Mode::Free if first => (state.first_conductance, state.first_conductance * across),
                Mode::Free => {
                    let drop = self.chains[index].drop(&self.laws, &mut self.warm, state.flow);
                    let conductance = 1.0 / drop.slope.max(state.least_slope);
                    (conductance, state.flow + conductance * (across - drop.pressure_pa))
                }
                Mode::AtLow => (0.0, state.range.low),
                Mode::AtHigh => (0.0, state.range.high),
            };
            let (from, to, g) = (state.from, state.to, state.conductance);
            if from != GROUND {
                self.elimination.diagonal[from] += g;
                self.rhs[from] -= state.carried;
            }
            if to != GROUND {
                self.elimination.diagonal[to] += g;
                self.rhs[to] += state.carried;
            }
            if let Some(slot) = state.slot {
                self.elimination.values[slot] -= g;
            } else if from == to && from != GROUND {
                self.elimination.diagonal[from] -= 2.0 * g;
            }
        }
    }

    /// Eliminates, meets the pumps, finds the change of pressure. `false` where the numbers break down.
    fn step(&mut self, network: &Network) -> bool {
        self.elimination.factorise();
        self.elimination.forward(&mut self.rhs);
        let terminals = self.rhs.len() - self.terminals_start();
        let start = self.terminals_start();
        if network.pumps.len() == 1 && terminals == 1 {
            let conductance = self.elimination.schur[0];
            let pressure = self.pressures[start];
            let pump = &network.pumps[0];
            // Flow that the network takes from the discharge node at its present pressure.
            let outflow = -self.rhs[start];
            let flow = one_pump(pump, conductance, outflow, pressure, self.pump_flows[0]);
            self.pump_flows[0] = flow;
            self.rhs[start] = match pump.rise(flow) {
                Some((rise, _)) => rise - pressure,
                None if conductance > 0.0 => (flow - outflow) / conductance,
                None => return false,
            };
        } else {
            let solved = many_pumps(
                &network.pumps,
                &self.terminals,
                &self.elimination.schur,
                &self.rhs[start..],
                &self.pressures[start..],
                &mut self.pump_flows,
            );
            let Some(change) = solved else { return false };
            self.rhs[start..].copy_from_slice(&change);
        }
        self.elimination.backward(&mut self.rhs);
        self.rhs.iter().all(|x| x.is_finite())
    }

    pub(super) fn terminals_start(&self) -> usize {
        let schur = self.elimination.schur.len();
        self.rhs.len() - schur.isqrt()
    }

    /// Moves pressures and flows, changes modes, and says whether every law fits the pressure across it.
    fn accept(&mut self, share: f64, scale: f64) -> bool {
        for (pressure, change) in self.pressures.iter_mut().zip(&self.rhs) {
            *pressure += change;
        }
        let flow_scale = self.pump_flows.iter().fold(0.0_f64, |most, q| q.abs().max(most));
        let mut settled = true;
        for index in 0..self.states.len() {
            let (from, to) = (self.states[index].from, self.states[index].to);
            let change =
                if from == GROUND { 0.0 } else { self.rhs[from] } - if to == GROUND { 0.0 } else { self.rhs[to] };
            let across = self.pressure_at(from) - self.pressure_at(to);
            let state = &mut self.states[index];
            let moved = state.carried + state.conductance * change;
            let chain = &self.chains[index];
            match state.mode {
                Mode::Free => {
                    let next = state.flow + share * (moved - state.flow);
                    if next < state.range.low || next > state.range.high {
                        let low = next < state.range.low;
                        state.mode = if low { Mode::AtLow } else { Mode::AtHigh };
                        state.flow = if low { state.range.low } else { state.range.high };
                        settled = false;
                    } else {
                        // The move in pressure terms bounds the error left; on steep laws the move in flow decides.
                        let left = (next - state.flow).abs();
                        state.flow = next;
                        let slope = 1.0 / state.conductance;
                        if left * slope > TOLERANCE.sqrt() * scale && left > 1e-13 * flow_scale {
                            settled = false;
                        } else if settled && left > 1e-13 * flow_scale {
                            let law = chain.drop(&self.laws, &mut self.warm, next);
                            let error = (across - law.pressure_pa).abs();
                            settled = error <= TOLERANCE * scale || error <= 1e-12 * flow_scale * law.slope;
                        }
                    }
                }
                Mode::AtLow | Mode::AtHigh if !state.range.is_shut() => {
                    let law = chain.drop(&self.laws, &mut self.warm, state.flow);
                    let margin = across - law.pressure_pa;
                    let called_back =
                        if state.mode == Mode::AtLow { margin > 1e-12 * scale } else { margin < -1e-12 * scale };
                    if called_back {
                        state.mode = Mode::Free;
                        settled = false;
                    }
                }
                Mode::AtLow | Mode::AtHigh => {}
            }
        }
        settled
    }
}

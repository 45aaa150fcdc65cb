//! From the solver's inner state to an [`super::Outcome`]: pressures of every node, also inside chains, flows of every link,
//! what each pump does, and the balances, computed afresh from laws and pressures rather than taken over from the iteration.

use super::chains::{Chains, Part};
use super::solver::{ChainState, Mode, Solver};
use super::stability::holds;
use super::terminals::seen_by_each;
use super::{Link, Network, Outcome, PumpOutcome};
use std::ops::Range;

impl Solver {
    /// Writes flows, pressures and balances of the last step into the outcome.
    pub(super) fn report(&mut self, network: &Network) {
        self.mark_reached(network);
        for (node, pressure) in self.outcome.pressures_pa.iter_mut().enumerate() {
            *pressure = match self.unknown_of[node] {
                _ if !self.reached[node] => f64::NAN,
                Some(position) => self.pressures[position],
                None => 0.0,
            };
        }
        for (index, state) in self.states.iter().enumerate() {
            spread(&self.laws, &self.chains, index, state, &mut self.outcome);
        }
        let reference = self.outcome.pressures_pa[network.reference];
        if reference.is_finite() && reference != 0.0 {
            for pressure in &mut self.outcome.pressures_pa {
                *pressure -= reference;
            }
        } else if reference.is_nan() {
            // Nothing flows to the reference node: no pressure is known.
            self.outcome.pressures_pa.fill(f64::NAN);
        }
        for (index, link) in network.links.iter().enumerate() {
            self.outcome.drops_pa[index] = self.outcome.pressures_pa[link.from] - self.outcome.pressures_pa[link.to];
        }
        self.report_pumps(network);
        self.report_balances(network);
    }

    /// Marks the ends of chains that hang together with the ground node, not across shut links.
    fn mark_reached(&mut self, network: &Network) {
        self.reached.fill(false);
        self.reached[self.ground] = true;
        loop {
            let mut grew = false;
            let mut join = |reached: &mut [bool], a: usize, b: usize| {
                if reached[a] != reached[b] {
                    reached[a] = true;
                    reached[b] = true;
                    grew = true;
                }
            };
            for (chain, state) in self.chains.chains.iter().zip(&self.states) {
                if !is_blocked(state) {
                    join(&mut self.reached, chain.from, chain.to);
                }
            }
            for pump in &network.pumps {
                join(&mut self.reached, pump.suction, pump.discharge);
            }
            if !grew {
                return;
            }
        }
    }

    fn report_pumps(&mut self, network: &Network) {
        let start = self.terminals_start();
        let single = network.pumps.len() == 1 && self.rhs.len() - start == 1;
        let slopes = if single {
            None
        } else {
            Some(seen_by_each(&self.terminals, &self.elimination.schur, self.rhs.len() - start))
        };
        for (index, pump) in network.pumps.iter().enumerate() {
            let flow = self.pump_flows[index];
            let pressures = &self.outcome.pressures_pa;
            let (rise_pa, pump_slope) =
                pump.rise(flow).unwrap_or((pressures[pump.discharge] - pressures[pump.suction], 0.0));
            let system_slope = match &slopes {
                None if self.elimination.schur[0] > 0.0 => 1.0 / self.elimination.schur[0],
                None => f64::INFINITY,
                Some(slopes) => slopes[index],
            };
            self.outcome.pumps[index] = PumpOutcome { flow, rise_pa, system_slope, pump_slope };
        }
        self.outcome.stable = match self.outcome.pumps.as_slice() {
            [] => true,
            [pump] => pump.is_stable(),
            pumps => {
                let slopes: Vec<f64> = pumps.iter().map(|pump| pump.pump_slope).collect();
                holds(&self.terminals, &self.elimination.schur, self.rhs.len() - start, &slopes)
            }
        };
    }

    fn report_balances(&mut self, network: &Network) {
        self.balance.fill(0.0);
        let mut greatest = 0.0_f64;
        for (link, &flow) in network.links.iter().zip(&self.outcome.flows) {
            self.balance[link.from] -= flow;
            self.balance[link.to] += flow;
            greatest = greatest.max(flow.abs());
        }
        for (pump, &flow) in network.pumps.iter().zip(&self.pump_flows) {
            self.balance[pump.suction] -= flow;
            self.balance[pump.discharge] += flow;
            greatest = greatest.max(flow.abs());
        }
        let off = self.balance.iter().fold(0.0_f64, |most, b| b.abs().max(most));
        // Against a thousandth of the pump's greatest flow at least, so that rounding around standstill is not an error.
        let rated = network.pumps.iter().map(|p| p.scale().0).fold(0.0, f64::max);
        self.outcome.mass_error = off / greatest.max(1e-3 * rated).max(1e-12);
        let scale = self.outcome.pumps.iter().map(|p| p.rise_pa.abs()).fold(1.0, f64::max);
        let mut worst = 0.0_f64;
        for index in 0..self.states.len() {
            let state = &self.states[index];
            let over = self.across(index) - state.law.pressure_pa;
            let error = match state.mode {
                Mode::Free => over.abs(),
                Mode::AtLow if !state.range.is_shut() => over.max(0.0),
                Mode::AtHigh => (-over).max(0.0),
                Mode::AtLow => 0.0,
            };
            // `max` would pass over what is not a number.
            worst = if error.is_nan() { f64::INFINITY } else { worst.max(error) };
        }
        for (index, pump) in self.outcome.pumps.iter().enumerate() {
            let error = (pump.rise_pa - self.present_rise(index)).abs();
            worst = if error.is_nan() { f64::INFINITY } else { worst.max(error) };
        }
        self.outcome.energy_error = worst / scale;
    }
}

/// Whether pressure does not pass along a chain: a shut link, or a check valve without flow.
fn is_blocked(state: &ChainState) -> bool {
    state.range.is_shut() || (state.mode == Mode::AtLow && state.flow == 0.0)
}

/// The parts of a chain, first to last, that hold a pressure of their own: shut, or at the end of their range.
fn holding(links: &[Link], chains: &Chains, index: usize, state: &ChainState) -> Option<Range<usize>> {
    let parts = chains.parts_of(index);
    let holds = |part: &Part| match state.mode {
        Mode::Free => false,
        Mode::AtLow => part.range(links).low >= state.flow,
        Mode::AtHigh => part.range(links).high <= state.flow,
    };
    let first = parts.iter().position(holds)?;
    let last = parts.iter().rposition(holds)?;
    let start = chains.chains[index].parts.start;
    Some(start + first..start + last + 1)
}

/// Writes a chain's flow to its links and pressures to the nodes inside it: from its start up to the first part that holds a
/// pressure, from its end back to the last; what lies between two such parts is known only where flow passes them.
fn spread(links: &[Link], chains: &Chains, index: usize, state: &ChainState, outcome: &mut Outcome) {
    let chain = &chains.chains[index];
    let all = chain.parts.clone();
    let between = holding(links, chains, index, state).unwrap_or(all.end..all.end);
    let mut pressure = outcome.pressures_pa[chain.from];
    for at in all.clone() {
        let part = chains.parts[at];
        outcome.flows[part.link] = if part.reversed { -state.flow } else { state.flow };
        pressure -= chains.part_drops[at];
        if at + 1 < all.end {
            outcome.pressures_pa[part.end(links)] = if at < between.start { pressure } else { f64::NAN };
        }
    }
    let mut pressure = outcome.pressures_pa[chain.to];
    for at in (between.end..all.end).rev() {
        let part = chains.parts[at];
        pressure += chains.part_drops[at];
        outcome.pressures_pa[part.start(links)] = pressure;
    }
}

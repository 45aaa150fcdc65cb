//! From the solvers' inner state to an [`Outcome`]: flows, drops and pressures along chains, for both solvers; the rest for
//! [`super::general`], whose balances are computed from laws and pressures rather than taken over from the iteration.

use super::chains::{Chains, Part};
use super::curve::Curve;
use super::general::{ChainState, General};
use super::judge::Mode;
use super::{Link, Network, Outcome, PumpOutcome};
use std::ops::Range;

/// What a chain does.
#[derive(Clone, Copy, Debug)]
pub(super) struct Carried {
    pub(super) mode: Mode,
    pub(super) flow: f64,
    /// Pressure between its ends.
    pub(super) across: f64,
}

/// Writes a chain's flow and drops to its links and pressures to the nodes inside it, its ends being known.
#[inline(always)]
pub(super) fn write_chain(
    chains: &mut Chains,
    links: &[Link],
    index: usize,
    curve: &Curve,
    state: Carried,
    outcome: &mut Outcome,
) {
    let Carried { mode, flow, across } = state;
    if mode != Mode::Free {
        write_held(chains, links, index, curve, state, outcome);
        return;
    }
    let chain = chains.chains[index];
    let (forwards, backwards) = chain.runs();
    let Outcome { flows, drops_pa, pressures_pa: pressures, .. } = outcome;
    let mut pressure = pressures[chain.from()];
    let behind = if forwards < backwards { pressures[chain.to()] } else { pressure };
    let mut drops = chains.drops(chain, flow, across);
    for at in chain.parts() {
        let part = chains.parts[at];
        let drop = chains.part_drop(&mut drops, at, links, curve);
        flows[part.link()] = part.turn(flow);
        if at == forwards {
            pressure = behind;
        }
        // Zero times what is not a number is none either: without a pressure there is no drop.
        drops_pa[part.link()] = part.turn(drop + 0.0 * pressure);
        if at < backwards {
            pressure += if at < forwards { -drop } else { drop };
            pressures[part.node()] = pressure;
        }
    }
}

/// Which parts of a chain, first to last, hold a pressure of their own: shut, or at the end of their range.
fn holding(links: &[Link], parts: &[Part], mode: Mode, flow: f64) -> Option<Range<usize>> {
    let holds = |part: &Part| match mode {
        Mode::Free => false,
        Mode::AtLow => part.range(links).low >= flow,
        Mode::AtHigh => part.range(links).high <= flow,
    };
    let first = parts.iter().position(holds)?;
    let last = parts.iter().rposition(holds)?;
    Some(first..last + 1)
}

/// A chain at the end of its range: pressures from its start up to the first part that holds one, from its end back to the
/// last; what lies between two such parts is known only where flow passes them.
#[inline(never)]
fn write_held(chains: &mut Chains, links: &[Link], index: usize, curve: &Curve, state: Carried, outcome: &mut Outcome) {
    let Carried { mode, flow, .. } = state;
    let whole = chains.drop(index, links, curve, flow).pressure_pa;
    let chain = chains.chains[index];
    let mut each = chains.drops(chain, flow, whole);
    for at in chain.parts() {
        let drop = chains.part_drop(&mut each, at, links, curve);
        let part = chains.parts[at];
        outcome.drops_pa[part.link()] = part.turn(drop);
    }
    let parts = chains.parts_of(index);
    let between = holding(links, parts, mode, flow).unwrap_or(parts.len()..parts.len());
    let Outcome { flows, drops_pa: drops, pressures_pa: pressures, .. } = outcome;
    let mut pressure = pressures[chain.from()];
    for (at, part) in parts[..parts.len() - 1].iter().enumerate() {
        pressure -= part.turn(drops[part.link()]);
        pressures[part.node()] = if at < between.start { pressure } else { f64::NAN };
    }
    let mut pressure = pressures[chain.to()];
    for at in (between.end.max(1)..parts.len()).rev() {
        pressure += parts[at].turn(drops[parts[at].link()]);
        pressures[parts[at - 1].node()] = pressure;
    }
    for part in parts {
        let link = &links[part.link()];
        flows[part.link()] = part.turn(flow);
        drops[part.link()] = pressures[link.from] - pressures[link.to];
    }
}

impl General {
    /// Writes flows, pressures and balances of the last step into the outcome.
    pub(super) fn report(&mut self, network: &Network) {
        self.find_reached(network);
        for (pressure, position) in self.outcome.pressures_pa.iter_mut().zip(&self.unknown_of) {
            *pressure = position.map_or(0.0, |position| self.pressures[position]);
        }
        for node in self.reach.unreached() {
            self.outcome.pressures_pa[node] = f64::NAN;
        }
        for index in 0..self.states.len() {
            let across = self.across(index);
            let ChainState { mode, flow, .. } = self.states[index];
            let carried = Carried { mode, flow, across };
            write_chain(&mut self.chains, &self.laws, index, &self.curves[index], carried, &mut self.outcome);
        }
        self.outcome.shift_to(network.reference);
        self.report_pumps(network);
        self.report_balances(network);
    }

    /// Finds what hangs together with the ground node, if any chain came to block or ceased to.
    fn find_reached(&mut self, network: &Network) {
        let mut changed = false;
        for (blocks, state) in self.blocks.iter_mut().zip(&self.states) {
            let now = state.mode.blocks(state.flow);
            changed |= std::mem::replace(blocks, now) != now;
        }
        if changed || !std::mem::replace(&mut self.is_reach_known, true) {
            let passing = self.chains.chains.iter().zip(&self.blocks).filter(|(_, blocks)| !**blocks);
            let joins = passing.map(|(chain, _)| (chain.from(), chain.to()));
            self.reach.find(self.ground, joins.chain(network.pumps.iter().map(|p| (p.suction, p.discharge))));
        }
    }

    fn report_pumps(&mut self, network: &Network) {
        let start = self.terminals_start();
        let single = network.pumps.len() == 1 && self.rhs.len() - start == 1;
        if !single {
            self.seen.compute(&self.terminals, &self.elimination.schur, self.rhs.len() - start);
        }
        for (index, pump) in network.pumps.iter().enumerate() {
            let flow = self.pump_flows[index];
            let pressures = &self.outcome.pressures_pa;
            let (rise_pa, pump_slope) =
                pump.rise(flow).unwrap_or((pressures[pump.discharge] - pressures[pump.suction], 0.0));
            let system_slope = match single {
                true if self.elimination.schur[0] > 0.0 => 1.0 / self.elimination.schur[0],
                true => f64::INFINITY,
                false => self.seen.slope(index),
            };
            self.outcome.pumps[index] = PumpOutcome { flow, rise_pa, system_slope, pump_slope };
        }
        self.outcome.stable = match self.outcome.pumps.as_slice() {
            [] => true,
            [pump] => pump.is_stable(),
            pumps => self.seen.holds(|pump| pumps[pump].pump_slope),
        };
    }

    /// Flows inside a chain are one number: mass can be lost only where chains meet.
    fn report_balances(&mut self, network: &Network) {
        self.balance.fill(0.0);
        let mut greatest = 0.0_f64;
        let chains = self.chains.chains.iter().map(|chain| (chain.from(), chain.to()));
        let pumps = network.pumps.iter().map(|pump| (pump.suction, pump.discharge));
        let flows = self.states.iter().map(|state| state.flow).chain(self.pump_flows.iter().copied());
        for ((from, to), flow) in chains.chain(pumps).zip(flows) {
            self.balance[from] -= flow;
            self.balance[to] += flow;
            greatest = greatest.max(flow.abs());
        }
        let off = self.balance.iter().fold(0.0_f64, |most, b| greater(most, b.abs()));
        // Against a thousandth of the pump's greatest flow at least, so that rounding around standstill is not an error.
        let rated = network.pumps.iter().map(|p| p.scale().0).fold(0.0, f64::max);
        self.outcome.mass_error = off / greatest.max(1e-3 * rated).max(1e-12);
        let scale = self.outcome.pumps.iter().map(|p| p.rise_pa.abs()).fold(1.0, f64::max);
        let mut worst = 0.0_f64;
        for index in 0..self.states.len() {
            let state = &self.states[index];
            let over = self.across(index) - state.law.pressure_pa;
            worst = greater(worst, state.mode.error(over, state.range.is_shut()));
        }
        for (index, pump) in self.outcome.pumps.iter().enumerate() {
            worst = greater(worst, (pump.rise_pa - self.present_rise(index)).abs());
        }
        self.outcome.energy_error = worst / scale;
    }
}

/// The greater of two errors; what is not a number counts as greatest, where `max` would pass over it.
pub(super) fn greater(a: f64, b: f64) -> f64 {
    if b.is_nan() { f64::INFINITY } else { a.max(b) }
}

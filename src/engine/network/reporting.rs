//! From the solvers' inner state to an [`Outcome`]: flows, drops and pressures along chains, for both solvers; the rest for
//! [`super::general`], whose balances are computed from laws and pressures rather than taken over from the iteration.

use super::chains::{Chains, Part};
use super::curve::Curve;
use super::general::{ChainState, General};
use super::judge::{Mode, Passing};
use super::{Link, Network, Outcome, PumpLaw, PumpOutcome};
use std::ops::Range;

/// What a chain does.
#[derive(Clone, Copy, Debug)]
pub(super) struct Carried {
    pub(super) mode: Mode,
    pub(super) flow: f64,
    /// Pressure between its ends; for a chain that is held not a number where they do not hang together otherwise.
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
        drops_pa[part.link()] = part.turn(drop);
        if at < backwards {
            pressure += if at < forwards { -drop } else { drop };
            pressures[part.node()] = pressure;
        }
    }
}

/// Whether a part of a held chain holds a pressure of its own: shut, or at the end of its range. Without flow that is either end: of
/// two check valves face to face each may hold.
fn holds(links: &[Link], part: Part, mode: Mode, flow: f64) -> bool {
    let range = part.range(links);
    let (at_low, at_high) = (range.low >= flow, range.high <= flow);
    match mode {
        _ if flow == 0.0 => at_low || at_high,
        Mode::AtLow => at_low,
        _ => at_high,
    }
}

/// Which parts of a held chain, first to last, hold a pressure of their own.
fn holding(links: &[Link], parts: &[Part], mode: Mode, flow: f64) -> Range<usize> {
    let first = parts.iter().position(|&part| holds(links, part, mode, flow));
    let last = parts.iter().rposition(|&part| holds(links, part, mode, flow));
    first.unwrap_or(parts.len())..last.map_or(parts.len(), |last| last + 1)
}

/// A chain at the end of its range: pressures from its start up to the first part that holds one, from its end back to the
/// last. Nothing tells how several such parts share what they hold together, nor the pressures between them.
#[inline(never)]
fn write_held(chains: &mut Chains, links: &[Link], index: usize, curve: &Curve, state: Carried, outcome: &mut Outcome) {
    let Carried { mode, flow, across } = state;
    let whole = chains.drop(index, links, curve, flow).pressure_pa;
    let chain = chains.chains[index];
    let mut each = chains.drops(chain, flow, whole);
    let Outcome { flows, drops_pa: drops, pressures_pa: pressures, .. } = outcome;
    let (mut held, mut lawful) = (0, 0.0);
    for at in chain.parts() {
        let drop = chains.part_drop(&mut each, at, links, curve);
        let part = chains.parts[at];
        flows[part.link()] = part.turn(flow);
        drops[part.link()] = part.turn(drop);
        if holds(links, part, mode, flow) { held += 1 } else { lawful += drop }
    }
    let parts = chains.parts_of(index);
    let between = holding(links, parts, mode, flow);
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
    let left = if held == 1 { across - lawful } else { f64::NAN };
    for &part in parts {
        if holds(links, part, mode, flow) {
            drops[part.link()] = part.turn(left);
        }
    }
}

impl General {
    /// Writes flows, pressures and balances of the last step into the outcome.
    pub(super) fn report(&mut self, network: &Network) {
        self.find_reached(network);
        let inner = |position: &Option<usize>| position.map_or(0.0, |position| self.pressures[position]);
        let at_reference = inner(&self.unknown_of[self.reference]);
        for (pressure, position) in self.outcome.pressures_pa.iter_mut().zip(&self.unknown_of) {
            *pressure = inner(position) - at_reference;
        }
        for node in self.reach.unreached() {
            self.outcome.pressures_pa[node] = f64::NAN;
        }
        for index in 0..self.states.len() {
            let ChainState { mode, flow, .. } = self.states[index];
            let chain = self.chains.chains[index];
            let is_known = mode == Mode::Free || self.reach.is_joined(chain.from(), chain.to());
            let across = if is_known { self.across(index) } else { f64::NAN };
            let carried = Carried { mode, flow, across };
            write_chain(&mut self.chains, &self.laws, index, &self.curves[index], carried, &mut self.outcome);
        }
        self.report_pumps(network);
        self.report_balances(network);
    }

    /// Finds what no pump moves and what hangs together with the reference node, if any chain came to pass less or more.
    fn find_reached(&mut self, network: &Network) {
        if self.has_passing_changed() || !self.is_reach_known {
            self.rest.find(|chain| self.passing[chain] != Passing::Nothing);
        }
        self.still_chains();
        for (index, pump) in network.pumps.iter().enumerate() {
            if self.rest.is_pump_at_rest(index) && matches!(pump.law, PumpLaw::Regulated(_)) {
                self.pump_flows[index] = 0.0;
            }
        }
        // A check valve that came to rest blocks.
        if self.has_passing_changed() || !std::mem::replace(&mut self.is_reach_known, true) {
            let passing =
                self.chains.chains.iter().zip(&self.passing).filter(|(_, passing)| **passing == Passing::Pressure);
            let joins = passing.map(|(chain, _)| (chain.from(), chain.to()));
            self.reach.find(self.reference, joins.chain(network.pumps.iter().map(|p| (p.suction, p.discharge))));
        }
    }

    fn has_passing_changed(&mut self) -> bool {
        let mut has_changed = false;
        for (passing, state) in self.passing.iter_mut().zip(&self.states) {
            let now = state.mode.passing(state.flow);
            has_changed |= std::mem::replace(passing, now) != now;
        }
        self.is_reach_known &= !has_changed;
        has_changed
    }

    /// Sets to nothing what flows where no pump moves anything: what the steps leave there, halving it each time, depends on
    /// where they started.
    pub(super) fn still_chains(&mut self) {
        for index in self.rest.chains() {
            let state = &mut self.states[index];
            let mode = Mode::at_rest(state.range);
            self.reuse &= state.mode == mode;
            if state.flow != 0.0 || state.mode != mode {
                (state.mode, state.flow) = (mode, 0.0);
                state.law = self.chains.drop(index, &self.laws, &self.curves[index], 0.0);
            }
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
            let (rise_pa, pump_slope) = pump.rise(flow).unwrap_or((self.present_rise(index), 0.0));
            let system_slope = match single {
                true if self.elimination.schur[0] > 0.0 => 1.0 / self.elimination.schur[0],
                true => f64::INFINITY,
                false => self.seen.slope(index),
            };
            self.outcome.pumps[index] = PumpOutcome { flow, rise_pa, system_slope, pump_slope, is_share_open: false };
        }
        self.outcome.stable = match self.outcome.pumps.as_slice() {
            [] => true,
            [pump] => pump.is_stable(),
            pumps => self.seen.holds(|pump| pumps[pump].pump_slope),
        };
        self.outcome.dependence = if network.pumps.len() > 1 { self.seen.dependence() } else { 0.0 };
        if !single {
            for (index, pump) in self.outcome.pumps.iter_mut().enumerate() {
                pump.is_share_open = self.outcome.stable && self.seen.is_open(index);
            }
        }
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

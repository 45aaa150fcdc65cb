//! The safeguard: the least content of the network.
//!
//! Among all flows that balance at every node, those that solve the network make the content
//!
//! ```text
//! F = Σ ∫ Δp(q) dq  −  Σ ∫ ρ g H(Q) dQ      (links, pumps; W)
//! ```
//!
//! least (Millar's content, Phil. Mag. 42 (1951) 1150; for water networks Collins and others, Management Science 24 (1978)
//! 747). A law that never falls makes it convex, whatever its kinks, and so does a pump curve that never rises; then Newton
//! steps with a line search along F cannot cycle and cannot miss.
//!
//! - Ends of ranges enter as forces, by the method of multipliers (Hestenes; Powell, 1969): beyond its end a law goes on steeply
//!   rather than straight up; what the steep part has to hold becomes a constant force of the next round, until nothing is
//!   left beyond the end. Each round the chains that are held are handed to the exact active set of [`super::newton`],
//!   which settles from so near a start in two or three steps.
//! - Where a pump curve rises, each round holds it level at the head of the round before, to both sides of that flow, up to where the
//!   true curve falls through that level; at first at its peak. The levelled content lies above the true one and touches it (a
//!   majorant), so F falls from round to round, and the point reached is a stable one, mostly the one with the greatest flow.
//!   There is a guarantee of descent here, not of a number of rounds.
//!
//! Citations from memory.

use super::Network;
use super::general::{ChainState, General};
use super::judge::Mode;
use super::pumps::PumpLink;
use super::terminals::{Easing, rise};
use crate::engine::links::Drop;

/// Rounds for the forces at the ends of ranges; two to four do where there is an answer.
const MOST_ROUNDS: u32 = 12;
/// Rounds where a rising pump curve has to be followed down.
const MOST_ROUNDS_RISING: u32 = 80;
const MOST_STEPS: u32 = 60;
/// Steepness beyond the end of a range over the pump's pressure per flow, and over the law's own slope.
const STEEPNESS: f64 = 1e4;
/// Pressure error over the greatest pump pressure at which a round is done.
const TOLERANCE: f64 = 1e-12;

impl General {
    /// Solves by rounds of least content; whether it gave an answer. Rising curves are held level at their peak at first; where a
    /// pump is to `lead`, those of all others are held level at their head at rest.
    pub(super) fn minimise_content(&mut self, network: &Network, lead: Option<usize>) -> bool {
        self.take_cold_start(network);
        let rising: Vec<_> = network.pumps.iter().map(PumpLink::rising_stretch).collect();
        let leads = |pump: usize| lead.is_none_or(|lead| lead == pump);
        let starts: Vec<f64> = (0..rising.len()).map(|pump| if leads(pump) { f64::INFINITY } else { 0.0 }).collect();
        self.ease_pumps(network, &rising, &starts);
        let unit = network.pumps.iter().map(|p| p.scale()).map(|(q, p)| p / q).fold(0.0, f64::max);
        for state in &mut self.states {
            (state.low_force, state.high_force) = (0.0, 0.0);
            state.stiffness = STEEPNESS * state.floors.nominal_slope().max(unit);
        }
        let rounds = if rising.iter().any(Option::is_some) { MOST_ROUNDS_RISING } else { MOST_ROUNDS };
        let mut solved = false;
        for _ in 0..rounds {
            if !self.least_content(network) {
                break;
            }
            self.renew_forces();
            let kept = (self.states.clone(), self.pressures.clone(), self.pump_flows.clone());
            self.easing.fill(None);
            self.hold_by_forces();
            self.cold = false;
            solved = self.is_answer(network) || (self.iterate(network) && self.is_answer(network));
            if solved {
                break;
            }
            (self.states, self.pressures, self.pump_flows) = kept;
            let flows = self.pump_flows.clone();
            self.ease_pumps(network, &rising, &flows);
        }
        self.easing.fill(None);
        if !solved {
            self.hold_by_forces();
            // A slope of 100 % leaves rest itself as an answer, and rounds that creep towards it do not get there.
            let kept = (self.states.clone(), self.pressures.clone(), self.pump_flows.clone());
            solved = self.rest(network);
            if !solved {
                (self.states, self.pressures, self.pump_flows) = kept;
                self.report(network);
            }
        }
        solved
    }

    /// Tries rest as the answer.
    fn rest(&mut self, network: &Network) -> bool {
        if network.pumps.iter().any(|pump| pump.rise(0.0).is_none()) {
            return false;
        }
        self.stand_still();
        self.pump_flows.fill(0.0);
        self.is_answer(network)
    }

    /// Holds each rising pump curve level around a flow, or around the nearest flow at which it rises.
    fn ease_pumps(&mut self, network: &Network, rising: &[Option<(f64, f64)>], flows: &[f64]) {
        for (index, pump) in network.pumps.iter().enumerate() {
            self.easing[index] = rising[index].and_then(|(from, to)| {
                let around = flows[index].max(from).min(to);
                pump.rise(around).map(|(level, _)| Easing { around, level })
            });
        }
    }

    /// Newton steps with a line search along the content of this round; `false` where the numbers break down.
    fn least_content(&mut self, network: &Network) -> bool {
        for _ in 0..MOST_STEPS {
            let first = self.cold;
            self.linearise_softly(first);
            self.outcome.iterations += 1;
            self.cold = false;
            let before = self.pump_flows.clone();
            self.reuse = false;
            if !(self.elimination.factorise() && self.step(network, true)) {
                return false;
            }
            // From here on `carried` is the direction in which the chain's flow moves.
            for index in 0..self.states.len() {
                let moved = self.moved(index);
                self.states[index].carried = moved - self.states[index].flow;
            }
            for (pressure, change) in self.pressures.iter_mut().zip(&self.rhs) {
                *pressure += change;
            }
            let turns: Vec<f64> = self.pump_flows.iter().zip(&before).map(|(after, before)| after - before).collect();
            let share = if first { 1.0 } else { self.search(network, &before, &turns) };
            for ((flow, before), turn) in self.pump_flows.iter_mut().zip(&before).zip(&turns) {
                *flow = before + share * turn;
            }
            let mut error = 0.0_f64;
            for index in 0..self.states.len() {
                let state = &mut self.states[index];
                state.flow += share * state.carried;
                let flow = state.flow;
                let law = self.soft_law(index, flow);
                self.states[index].law = law;
                if !self.states[index].range.is_shut() {
                    error = error.max((self.across(index) - law.pressure_pa).abs());
                }
            }
            for (index, pump) in network.pumps.iter().enumerate() {
                if let Some((rise, _)) = rise(pump, self.easing[index], self.pump_flows[index]) {
                    error = error.max((self.present_rise(index) - rise).abs());
                }
            }
            if !error.is_finite() {
                return false;
            }
            if share == 0.0 || (!first && error <= TOLERANCE * self.pressure_scale(network)) {
                return true;
            }
        }
        true
    }

    /// As in [`super::newton`], but no chain is held except the shut ones.
    fn linearise_softly(&mut self, first: bool) {
        self.clear_equations();
        for index in 0..self.states.len() {
            let across = self.across(index);
            let state = &mut self.states[index];
            let conductance = match state.range.is_shut() {
                true => 0.0,
                false if first => state.first_conductance,
                false => 1.0 / state.law.slope.max(state.floors.least),
            };
            let law = if first { 0.0 } else { state.law.pressure_pa };
            state.conductance = conductance;
            state.carried = state.flow + conductance * (across - law);
            self.enter(index);
        }
    }

    /// How far to go along the directions: to where the content no longer falls, one at most; zero when it does not fall.
    fn search(&mut self, network: &Network, before: &[f64], turns: &[f64]) -> f64 {
        let start = self.fall(network, before, turns, 0.0);
        if start.is_nan() || start >= 0.0 {
            return 0.0;
        }
        let (mut low, mut high, mut share) = (0.0, 1.0, 1.0);
        for _ in 0..40 {
            let here = self.fall(network, before, turns, share);
            if here.abs() <= -0.3 * start || (share == 1.0 && here < 0.0) {
                return share;
            }
            if here < 0.0 {
                low = share
            } else {
                high = share
            }
            share = 0.5 * (low + high);
        }
        low
    }

    /// Derivative of the content along the directions, after a share of the way. Along balanced directions the pressures of the
    /// nodes cancel; taking them off first keeps their rounding out.
    fn fall(&mut self, network: &Network, before: &[f64], turns: &[f64], share: f64) -> f64 {
        let mut sum = 0.0;
        for index in 0..self.states.len() {
            let (flow, direction) = (self.states[index].flow, self.states[index].carried);
            if direction != 0.0 {
                sum += (self.soft_law(index, flow + share * direction).pressure_pa - self.across(index)) * direction;
            }
        }
        for (index, pump) in network.pumps.iter().enumerate() {
            let flow = before[index] + share * turns[index];
            if let Some((rise, _)) = rise(pump, self.easing[index], flow) {
                sum -= (rise - self.present_rise(index)) * turns[index];
            }
        }
        sum
    }

    /// A chain's law with its forces.
    fn soft_law(&mut self, index: usize, flow: f64) -> Drop {
        let range = self.states[index].range;
        let inside = flow.max(range.low).min(range.high);
        let mut law = self.chains.drop(index, &self.laws, &self.curves[index], inside);
        if inside != flow {
            law.slope = 0.0;
        }
        let (low, high) = forces(&self.states[index], flow);
        law.pressure_pa += high - low;
        if low > 0.0 || high > 0.0 {
            law.slope += self.states[index].stiffness;
        }
        law
    }

    fn renew_forces(&mut self) {
        for state in &mut self.states {
            if !state.range.is_shut() {
                (state.low_force, state.high_force) = forces(state, state.flow);
            }
        }
    }

    /// Holds the chains on which a force acts, exactly at the end of their range, and takes the true laws.
    fn hold_by_forces(&mut self) {
        for (index, state) in self.states.iter_mut().enumerate() {
            (state.mode, state.flow) = match state.range {
                range if range.is_shut() => (Mode::AtLow, range.low),
                range if state.low_force > 0.0 => (Mode::AtLow, range.low),
                range if state.high_force > 0.0 => (Mode::AtHigh, range.high),
                range => (Mode::Free, state.flow.max(range.low).min(range.high)),
            };
            state.law = self.chains.drop(index, &self.laws, &self.curves[index], state.flow);
        }
    }
}

/// The pressures with which the ends of its range push on a chain's flow.
fn forces(state: &ChainState, flow: f64) -> (f64, f64) {
    let range = state.range;
    let push =
        |force: f64, beyond: f64| if beyond.is_finite() { (force + state.stiffness * beyond).max(0.0) } else { 0.0 };
    (push(state.low_force, range.low - flow), push(state.high_force, flow - range.high))
}

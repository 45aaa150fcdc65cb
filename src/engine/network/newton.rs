//! Newton on flows and node pressures together.
//!
//! Each chain is linear at its present flow, q = q₀ + g (Δp − Δp(q₀)), g the inverse of the slope of its law; node balances
//! then give a sparse symmetric system ([`super::elimination`]), in which the pumps stand outside ([`super::terminals`]). Flows that
//! come out of a step balance at every node to rounding; what the steps drive to zero is the difference between each law and the
//! pressure across it.
//!
//! - A chain at the end of its range (a shut check valve, a satisfied flow limiter) is held there with g = 0 until the pressure
//!   across it calls it back: an active set, exact rather than a steep slope.
//! - The slope of a law is never taken below a share of its slope at nominal flow.
//! - The first step of a cold start is linear, each chain by its drop at nominal flow: directions come out right unaided. Its
//!   pressures are kept; each flow becomes the one that takes them if its law goes with the square of flow: at small flows a law is far
//!   less steep than its drop at nominal flow makes it, and flows of the right size save Newton up to four steps.
//! - Each law is evaluated once a step: what tells whether a step was the last serves the next step and the report.
//! - In rings and meshes factorising costs many substitutions. Once the error falls fast, steps go on with the slopes and the
//!   factor of an earlier step, also one of an earlier solve (the chord method): their error falls by a constant factor each, and
//!   what counts as settled is the same.
//! - Before the first step of a warm start with one pump all flows and pressures are scaled by what the pump's new curve does to
//!   a system that follows one power of the flow.

use super::Network;
use super::general::{ChainState, GROUND, General};
use super::judge::{Limits, MOST_STEPS, Mode};
use super::terminals::{many_pumps, one_pump, rise};

impl General {
    /// Newton steps until all laws fit; `false` if they do not. Where factorising costs much more than substituting, the factor of
    /// an earlier step serves once a step has taken the error down to a fiftieth and as long as each takes it down to a tenth.
    pub(super) fn iterate(&mut self, network: &Network) -> bool {
        let mut before = self.pressure_scale(network);
        for _ in 0..MOST_STEPS {
            let first = self.cold;
            let kept = !first && self.reuse && self.elimination.is_costly();
            if kept {
                self.linearise_anew();
            } else {
                self.linearise(first);
            }
            self.outcome.iterations += 1;
            self.cold = false;
            if !(kept || self.elimination.factorise()) || !self.step(network, false) {
                return false;
            }
            self.reuse = !first;
            let limits = self.limits(network);
            let (settled, worst) = self.accept(&limits, first);
            if settled && !first {
                return true;
            }
            self.reuse &= worst <= if kept { 0.1 } else { 0.02 } * before;
            before = worst;
        }
        false
    }

    /// Scales flows and pressures to what the pump's new curve is foreseen to do, as long as there is one pump.
    pub(super) fn foresee(&mut self, network: &Network) {
        let start = self.terminals_start();
        let ([pump], 1) = (network.pumps.as_slice(), self.rhs.len() - start) else { return };
        let Some(seen) = pump.foresee(self.pump_flows[0], self.present_rise(0), self.elimination.schur[0]) else {
            return;
        };
        self.pump_flows[0] *= seen.flow;
        for pressure in &mut self.pressures {
            *pressure *= seen.pressure;
        }
        for (index, state) in self.states.iter_mut().enumerate() {
            if state.mode == Mode::Free {
                let before = state.flow;
                state.flow = (before * seen.flow).max(state.range.low).min(state.range.high);
                state.law = self.chains.follow(index, &self.laws, &mut self.curves[index], state.flow, before);
            }
        }
    }

    /// Makes each chain linear and fills matrix and right-hand side.
    fn linearise(&mut self, first: bool) {
        self.clear_equations();
        for index in 0..self.states.len() {
            let across = self.across(index);
            let state = &mut self.states[index];
            (state.conductance, state.carried) = match state.mode {
                Mode::Free if first => (state.first_conductance, state.first_conductance * across),
                Mode::Free => {
                    let conductance = 1.0 / state.law.slope.max(state.floors.least);
                    (conductance, state.flow + conductance * (across - state.law.pressure_pa))
                }
                Mode::AtLow => (0.0, state.range.low),
                Mode::AtHigh => (0.0, state.range.high),
            };
            self.enter(index);
        }
    }

    /// New right-hand sides for the factor at hand, with the slopes that it was made from.
    fn linearise_anew(&mut self) {
        self.rhs.fill(0.0);
        for index in 0..self.states.len() {
            let across = self.across(index);
            let state = &mut self.states[index];
            if state.mode == Mode::Free {
                state.carried = state.flow + state.conductance * (across - state.law.pressure_pa);
            }
            self.enter_carried(index);
        }
    }

    pub(super) fn clear_equations(&mut self) {
        self.elimination.diagonal.fill(0.0);
        self.elimination.values.fill(0.0);
        self.rhs.fill(0.0);
    }

    /// Adds a linear chain to matrix and right-hand side.
    pub(super) fn enter(&mut self, index: usize) {
        let ChainState { from, to, slot, conductance, .. } = self.states[index];
        if from == to {
            return;
        }
        for end in [from, to] {
            if end != GROUND {
                self.elimination.diagonal[end] += conductance;
            }
        }
        if let Some(slot) = slot {
            self.elimination.values[slot] -= conductance;
        }
        self.enter_carried(index);
    }

    /// Adds a linear chain to the right-hand side.
    fn enter_carried(&mut self, index: usize) {
        let ChainState { from, to, carried, .. } = self.states[index];
        // What a ring on one node carries leaves and comes back.
        if from == to {
            return;
        }
        if from != GROUND {
            self.rhs[from] -= carried;
        }
        if to != GROUND {
            self.rhs[to] += carried;
        }
    }

    /// Substitutes, meets the pumps, finds the change of pressure. `false` where the numbers break down. With `tangents` the
    /// pumps are met on their tangents where there are several.
    pub(super) fn step(&mut self, network: &Network, tangents: bool) -> bool {
        self.elimination.forward(&mut self.rhs);
        let start = self.terminals_start();
        if network.pumps.len() == 1 && self.rhs.len() - start == 1 {
            let conductance = self.elimination.schur[0];
            let pressure = self.pressures[start];
            let pump = &network.pumps[0];
            // Flow that the network takes from the discharge node at its present pressure.
            let outflow = -self.rhs[start];
            let flow = one_pump(pump, self.easing[0], conductance, outflow, pressure, self.pump_flows[0]);
            self.pump_flows[0] = flow;
            self.rhs[start] = match rise(pump, self.easing[0], flow) {
                Some((rise, _)) => rise - pressure,
                None if conductance > 0.0 => (flow - outflow) / conductance,
                None => return false,
            };
        } else {
            let solved = many_pumps(
                &network.pumps,
                &self.easing,
                &self.terminals,
                &self.elimination.schur,
                &mut self.rhs[start..],
                &self.pressures[start..],
                &mut self.pump_flows,
                if tangents { 1 } else { 60 },
                &mut self.dense,
            );
            if !solved {
                return false;
            }
        }
        self.elimination.backward(&mut self.rhs);
        self.rhs.iter().all(|x| x.is_finite())
    }

    /// What the linear chain carries after the step.
    pub(super) fn moved(&self, index: usize) -> f64 {
        let state = &self.states[index];
        let change = |position: usize| if position == GROUND { 0.0 } else { self.rhs[position] };
        state.carried + state.conductance * (change(state.from) - change(state.to))
    }

    /// Moves pressures and flows, changes modes, and says whether every law fits the pressure across it, and the greatest error.
    fn accept(&mut self, limits: &Limits, first: bool) -> (bool, f64) {
        for (pressure, change) in self.pressures.iter_mut().zip(&self.rhs) {
            *pressure += change;
        }
        let (mut settled, mut worst) = (true, 0.0_f64);
        for index in 0..self.states.len() {
            let across = self.across(index);
            let state = &self.states[index];
            if state.mode != Mode::Free {
                if state.range.is_shut() {
                    continue;
                }
                let margin = across - state.law.pressure_pa;
                let called_back = if state.mode == Mode::AtLow { margin } else { -margin };
                if called_back > limits.call_back {
                    self.states[index].mode = Mode::Free;
                    self.reuse = false;
                    settled = false;
                }
                continue;
            }
            let mut next = self.moved(index);
            let state = &mut self.states[index];
            if first {
                next = (state.nominal * next.abs()).sqrt().copysign(next);
            }
            let fits = next >= state.range.low && next <= state.range.high;
            if next < state.range.low {
                (state.mode, next) = (Mode::AtLow, state.range.low);
            } else if next > state.range.high {
                (state.mode, next) = (Mode::AtHigh, state.range.high);
            }
            self.reuse &= fits;
            let before = std::mem::replace(&mut state.flow, next);
            let law = self.chains.follow(index, &self.laws, &mut self.curves[index], next, before);
            let state = &mut self.states[index];
            state.law = law;
            let error = (across - law.pressure_pa).abs();
            settled &= fits && limits.is_met(error, law.slope, state.floors);
            worst = worst.max(error);
        }
        (settled, worst)
    }
}

//! Newton on flows and node pressures together.
//!
//! Each chain is linear at its present flow, q = q₀ + g (Δp − Δp(q₀)), g the inverse of the slope of its law; node balances
//! then give a sparse symmetric system ([`super::ldl`]), in which the pumps stand outside ([`super::terminals`]). Flows that
//! come out balance at every node to rounding from the first step on; what the steps drive to zero is the difference between
//! each law and the pressure across it.
//!
//! - A chain at the end of its range (a shut check valve, a satisfied flow limiter) is held there with g = 0 until the pressure
//!   across it calls it back: an active set, exact rather than a steep slope.
//! - The slope of a law is never taken below a share of its slope at nominal flow.
//! - The first step of a cold start is linear, each chain by its drop at nominal flow: directions come out right unaided.
//! - Each law is evaluated once a step: what tells whether a step was the last serves the next step and the report.

use super::Network;
use super::solver::{ChainState, GROUND, Mode, Solver};
use super::terminals::{many_pumps, one_pump, rise};

const MOST_STEPS: u32 = 30;
/// Pressure error over the greatest pump pressure at which a solve is done, if the flow error is small as well.
const TOLERANCE: f64 = 1e-11;
/// Flow error over the greatest flow, made from pressure error and slope, at which a solve is done.
const FLOW_TOLERANCE: f64 = 1e-9;

impl Solver {
    /// Newton steps until all laws fit; `false` if they do not.
    pub(super) fn iterate(&mut self, network: &Network) -> bool {
        for _ in 0..MOST_STEPS {
            let first = self.cold;
            self.linearise(first);
            self.outcome.iterations += 1;
            self.cold = false;
            if !self.step(network, false) {
                return false;
            }
            if self.accept(self.pressure_scale(network), self.flow_scale(network)) && !first {
                return true;
            }
        }
        false
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
                    let conductance = 1.0 / state.law.slope.max(state.least_slope);
                    (conductance, state.flow + conductance * (across - state.law.pressure_pa))
                }
                Mode::AtLow => (0.0, state.range.low),
                Mode::AtHigh => (0.0, state.range.high),
            };
            self.enter(index);
        }
    }

    pub(super) fn clear_equations(&mut self) {
        self.elimination.diagonal.fill(0.0);
        self.elimination.values.fill(0.0);
        self.rhs.fill(0.0);
    }

    /// Adds a linear chain to matrix and right-hand side.
    pub(super) fn enter(&mut self, index: usize) {
        let ChainState { from, to, slot, conductance, carried, .. } = self.states[index];
        if from == to {
            // A ring on one node: what it carries leaves and comes back.
            return;
        }
        if from != GROUND {
            self.elimination.diagonal[from] += conductance;
            self.rhs[from] -= carried;
        }
        if to != GROUND {
            self.elimination.diagonal[to] += conductance;
            self.rhs[to] += carried;
        }
        if let Some(slot) = slot {
            self.elimination.values[slot] -= conductance;
        }
    }

    /// Eliminates, meets the pumps, finds the change of pressure. `false` where the numbers break down. With `tangents` the
    /// pumps are met on their tangents where there are several.
    pub(super) fn step(&mut self, network: &Network, tangents: bool) -> bool {
        self.elimination.factorise();
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
                &self.rhs[start..],
                &self.pressures[start..],
                &mut self.pump_flows,
                if tangents { 1 } else { 60 },
            );
            let Some(change) = solved else { return false };
            self.rhs[start..].copy_from_slice(&change);
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

    /// Moves pressures and flows, changes modes, and says whether every law fits the pressure across it.
    fn accept(&mut self, scale: f64, flow_scale: f64) -> bool {
        for (pressure, change) in self.pressures.iter_mut().zip(&self.rhs) {
            *pressure += change;
        }
        let mut settled = true;
        for index in 0..self.states.len() {
            let across = self.across(index);
            let state = &self.states[index];
            if state.mode != Mode::Free {
                if state.range.is_shut() {
                    continue;
                }
                let margin = across - state.law.pressure_pa;
                let called_back = if state.mode == Mode::AtLow { margin } else { -margin };
                if called_back > 1e-12 * scale {
                    self.states[index].mode = Mode::Free;
                    settled = false;
                }
                continue;
            }
            let mut next = self.moved(index);
            let state = &mut self.states[index];
            let fits = if next < state.range.low {
                (state.mode, next) = (Mode::AtLow, state.range.low);
                false
            } else if next > state.range.high {
                (state.mode, next) = (Mode::AtHigh, state.range.high);
                false
            } else {
                true
            };
            state.flow = next;
            let law = self.chains.drop(index, &self.laws, next);
            self.states[index].law = law;
            settled &=
                fits && is_met((across - law.pressure_pa).abs(), law.slope, &self.states[index], scale, flow_scale);
        }
        settled
    }
}

/// Whether a law fits the pressure across it: the error is rounding, or, on a steep law, amounts to a flow of the order of
/// rounding, or is small both as pressure and as the flow it stands for.
fn is_met(error: f64, slope: f64, state: &ChainState, scale: f64, flow_scale: f64) -> bool {
    error <= 1e-14 * scale
        || error <= 1e-12 * flow_scale * slope
        || (error <= TOLERANCE * scale && error <= FLOW_TOLERANCE * flow_scale * slope.max(state.judged_slope))
}

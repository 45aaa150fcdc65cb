//! The solver of networks of any shape: Newton on flows and node pressures first ([`super::newton`]), and where that does not
//! settle, the content function ([`super::content`]).
//!
//! Newton takes two to ten steps and settles nearly always, but nothing guarantees it: chains may jump between "held at the
//! end of its range" and "free" for ever. Whatever it reaches is therefore checked: the balances of the outcome, which are
//! made from laws and pressures rather than from the iteration, must hold to 1e-10, or the answer does not count.
//! The content function has a guarantee for every network in which no pump's curve rises; its module says what holds beyond.
//! Of 120,000 random networks of 1 to 23 zones solved from rest (the generator of `tests/networks`, the trees among them by
//! [`super::tree`]) 1 % came to it (0.03 % where nothing opens late, 2.5 % with check valves, bypasses, rising set-lines and second
//! pumps together, the search for a stable point of several pumps included); none stayed unanswered.
//!
//! Not guaranteed: an answer where a held flow cannot pass at all (there is none), an answer within the rounds allowed where
//! laws differ by more than some ten orders of magnitude, and which point is found where several exist. No answer is reported
//! as [`Verdict::NotConverged`], and each pump tells whether its point is stable.

use super::chains::Chains;
use super::curve::Curve;
use super::dense::Dense;
use super::elimination::Elimination;
use super::judge::{Floors, Limits, Mode, Passing, balances, is_answer};
use super::outcome::{Outcome, Verdict};
use super::reach::Reach;
use super::rest::Rest;
use super::stability::Seen;
use super::terminals::Easing;
use super::{Link, Network, NodeId, PumpLaw, PumpLink};
use crate::engine::links::{Drop, FlowRange};

/// One chain in the iteration.
#[derive(Clone, Debug)]
pub(super) struct ChainState {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) slot: Option<usize>,
    pub(super) range: FlowRange,
    pub(super) nominal: f64,
    pub(super) floors: Floors,
    pub(super) first_conductance: f64,
    pub(super) mode: Mode,
    pub(super) flow: f64,
    /// Its law at `flow`.
    pub(super) law: Drop,
    pub(super) conductance: f64,
    /// Flow at zero change of pressure: what the linear chain carries at the present node pressures.
    pub(super) carried: f64,
    /// Pressures by which the ends of the range hold the flow, and how steeply they rise beyond; used by the content function.
    pub(super) low_force: f64,
    pub(super) high_force: f64,
    pub(super) stiffness: f64,
}

/// Prepared work for one topology, with the last answer as the next start.
#[derive(Clone, Debug)]
pub(super) struct General {
    pub(super) chains: Chains,
    pub(super) states: Vec<ChainState>,
    /// Each chain's law near its present flow.
    pub(super) curves: Vec<Curve>,
    /// Chains whose laws changed since they were last taken.
    pub(super) dirty: Vec<bool>,
    pub(super) elimination: Elimination,
    pub(super) unknown_of: Vec<Option<usize>>,
    /// Position in the elimination order for each unknown; pressures are kept in that order.
    pub(super) pressures: Vec<f64>,
    pub(super) rhs: Vec<f64>,
    pub(super) terminals: Vec<(Option<usize>, Option<usize>)>,
    pub(super) pump_flows: Vec<f64>,
    pub(super) easing: Vec<Option<Easing>>,
    pub(super) pump_nodes: Vec<(NodeId, NodeId)>,
    pub(super) nodes: usize,
    pub(super) reference: NodeId,
    pub(super) laws: Vec<Link>,
    pub(super) cold: bool,
    pub(super) outcome: Outcome,
    pub(super) reach: Reach,
    pub(super) is_reach_known: bool,
    /// What each chain hands on, as last reported.
    pub(super) passing: Vec<Passing>,
    pub(super) rest: Rest,
    /// Whether the factor at hand may serve further steps.
    pub(super) reuse: bool,
    /// Whether several pumps at a point that does not hold look for one that does.
    pub(super) leaves_unstable: bool,
    pub(super) dense: Dense,
    pub(super) seen: Seen,
    pub(super) balance: Vec<f64>,
}

/// Index of the ground in a chain's ends.
pub(super) const GROUND: usize = usize::MAX;

impl General {
    /// Solves the network, from the last answer where there is one.
    pub(super) fn solve(&mut self, network: &Network) {
        self.outcome.iterations = 0;
        if network.pumps.is_empty() {
            self.stand_still();
            self.report(network);
            self.outcome.verdict = Verdict::NoPump;
            return;
        }
        let warm = !self.cold;
        let solved = self.settle(network) || (warm && self.settle(network)) || self.minimise_content(network, None);
        let solved = if solved && !self.outcome.stable && network.pumps.len() > 1 && self.leaves_unstable {
            self.look_for_a_stable_point(network)
        } else {
            solved
        };
        self.outcome.verdict = if solved { Verdict::Converged } else { Verdict::NotConverged };
        // A start from a point that did not settle leads nowhere.
        self.cold = !solved;
    }

    /// Several pumps stand at a point that no disturbance leaves alone, as pumps side by side on rising set-lines do at equal
    /// shares. In reality one of them comes first and the others follow what it leaves them: each is tried as the first, the one
    /// with the most head at rest before the others. If none leads to a stable point, the unstable one is kept and told as such.
    fn look_for_a_stable_point(&mut self, network: &Network) -> bool {
        let kept = self.clone();
        let at_rest = |pump: &PumpLink| pump.rise(0.0).map_or(0.0, |(rise, _)| rise);
        let mut leads: Vec<usize> = (0..network.pumps.len()).collect();
        leads.sort_by(|&a, &b| at_rest(&network.pumps[b]).total_cmp(&at_rest(&network.pumps[a])));
        for lead in leads {
            if self.minimise_content(network, Some(lead)) && self.outcome.stable {
                return true;
            }
        }
        *self = kept;
        true
    }

    /// Newton from the present start; whether it gave an answer. If not, the next start is a cold one.
    fn settle(&mut self, network: &Network) -> bool {
        if self.cold {
            self.take_cold_start(network);
        } else {
            self.foresee(network);
            for (flow, pump) in self.pump_flows.iter_mut().zip(&network.pumps) {
                if let PumpLaw::FixedFlow(held) = pump.law {
                    *flow = held;
                }
            }
        }
        let solved = self.iterate(network) && self.report_if(network, is_answer);
        self.cold = !solved;
        solved
    }

    /// Writes the outcome and says whether it balances.
    pub(super) fn is_answer(&mut self, network: &Network) -> bool {
        self.report_if(network, |outcome, _| balances(outcome))
    }

    fn report_if(&mut self, network: &Network, accepts: impl Fn(&Outcome, &Network) -> bool) -> bool {
        self.report(network);
        accepts(&self.outcome, network)
    }

    /// Takes ranges and nominal slopes from changed laws.
    pub(super) fn take_laws(&mut self) {
        let mut has_shut = false;
        for index in 0..self.states.len() {
            if !std::mem::take(&mut self.dirty[index]) {
                continue;
            }
            self.chains.renew(index, &self.laws);
            self.curves[index] = Curve::NONE;
            let range = self.chains.range(index, &self.laws);
            let nominal = self.chains.nominal_flow(index, &self.laws);
            let ordinary = nominal.max(range.low).min(range.high);
            let at = if ordinary == 0.0 { nominal } else { ordinary };
            let at_nominal = self.chains.drop(index, &self.laws, &Curve::NONE, at);
            let state = &mut self.states[index];
            let was_shut = state.range.is_shut();
            has_shut |= was_shut != range.is_shut();
            state.range = range;
            state.nominal = nominal;
            state.floors = Floors::new(at_nominal.slope);
            state.first_conductance = nominal / at_nominal.pressure_pa.abs().max(1e-3);
            (state.mode, state.flow) = state.mode.under(range, was_shut, state.flow, ordinary);
            let flow = state.flow;
            self.states[index].law = self.chains.follow(index, &self.laws, &mut self.curves[index], flow, flow);
        }
        self.reuse = false;
        if has_shut {
            self.rest.find(|chain| !self.states[chain].range.is_shut());
            self.is_reach_known = false;
            self.still_chains();
        }
    }

    /// Everything as at rest; the first step is then a linear one.
    pub(super) fn take_cold_start(&mut self, network: &Network) {
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

    /// Lets the next solve start as warm from rest.
    pub(super) fn start_at_rest(&mut self) {
        self.stand_still();
        self.pump_flows.fill(0.0);
        self.reuse = false;
        self.cold = false;
    }

    /// No flow, no pressure difference.
    pub(super) fn stand_still(&mut self) {
        self.cold = true;
        self.pressures.fill(0.0);
        for (index, state) in self.states.iter_mut().enumerate() {
            state.flow = 0.0;
            state.mode = Mode::at_rest(state.range);
            state.law = self.chains.drop(index, &self.laws, &self.curves[index], 0.0);
        }
    }

    /// The greatest pressure that a pump gives now.
    pub(super) fn pressure_scale(&self, network: &Network) -> f64 {
        let mut scale = 1.0_f64;
        for (index, pump) in network.pumps.iter().enumerate() {
            let rise = match pump.rise(self.pump_flows[index]) {
                Some((rise, _)) => rise,
                None => self.present_rise(index),
            };
            scale = scale.max(rise.abs());
        }
        scale
    }

    /// The errors allowed now.
    pub(super) fn limits(&self, network: &Network) -> Limits {
        let run_out = network.pumps.iter().map(|p| p.scale().0).fold(0.0, f64::max);
        let flow = self.pump_flows.iter().fold(0.0_f64, |most, q| q.abs().max(most));
        Limits::new(self.pressure_scale(network), flow, run_out)
    }

    /// Pressure across a pump as the nodes have it.
    pub(super) fn present_rise(&self, pump: usize) -> f64 {
        let start = self.terminals_start();
        let at = |terminal: Option<usize>| terminal.map_or(0.0, |i| self.pressures[start + i]);
        at(self.terminals[pump].1) - at(self.terminals[pump].0)
    }

    pub(super) fn pressure_at(&self, position: usize) -> f64 {
        if position == GROUND { 0.0 } else { self.pressures[position] }
    }

    /// Pressure across a chain.
    pub(super) fn across(&self, index: usize) -> f64 {
        self.pressure_at(self.states[index].from) - self.pressure_at(self.states[index].to)
    }

    pub(super) fn terminals_start(&self) -> usize {
        self.rhs.len() - self.elimination.terminals()
    }
}

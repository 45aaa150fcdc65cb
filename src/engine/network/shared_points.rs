//! All operating points of several pumps, where there may be several: pumps side by side on rising set-lines can share their flow
//! in more than one way.
//!
//! One pump after the other that has a rising stretch is held at flows from nothing to run-out, while the others settle; where
//! what the system takes from it crosses what it would give, all pumps have their point. For two pumps these are all points,
//! but for two nearer to each other than the scan's step; for three and more only those which the others reach from the
//! neighbouring point of the scan. Whether a point holds is told of all pumps together ([`super::stability`]).

use super::{Network, PumpLaw, Solver, Verdict};

/// Steps of the scan from nothing to run-out.
const SCAN: u32 = 48;
/// Halvings of a step in which a point lies.
const HALVINGS: u32 = 40;
/// The least flow looked at, a share of run-out.
const LEAST: f64 = 1e-6;
/// Two points whose flows differ by less than this share of run-out are one.
const SAME: f64 = 1e-5;
/// How far, in shares of run-out, the point may lie from where it was looked for.
const NEAR: f64 = 1e-3;
/// How much pumps must depend on each other to be looked at: pumps that only meet in a separator cannot push each other aside.
const DEPENDENCE: f64 = 0.2;

/// One operating point of several pumps.
#[derive(Clone, Debug, PartialEq)]
pub struct SharedPoint {
    /// Flow of each pump, m³/s.
    pub flows: Vec<f64>,
    /// Pressure rise of each pump, Pa.
    pub rises_pa: Vec<f64>,
    /// Whether it holds when disturbed, all pumps together.
    pub stable: bool,
}

impl Solver {
    /// Whether several pumps, one of them on a rising curve, depend so much on each other at the last answer that they may share
    /// their flow in more than one way.
    #[must_use]
    pub fn may_have_shared_points(&self, network: &Network) -> bool {
        network.pumps.len() > 1
            && self.outcome().dependence > DEPENDENCE
            && network.pumps.iter().any(|pump| pump.rising_stretch().is_some())
    }

    /// The ways in which several pumps share their flow, by rising flow of the first; empty where they cannot be several. The
    /// solver stands anywhere afterwards.
    pub fn shared_points(&mut self, network: &Network) -> Vec<SharedPoint> {
        let mut points: Vec<SharedPoint> = Vec::new();
        if !self.may_have_shared_points(network) {
            return points;
        }
        for index in 0..network.pumps.len() {
            if network.pumps[index].rising_stretch().is_some() {
                self.scan(network, index, &mut points);
            }
        }
        points.sort_by(|a, b| a.flows[0].total_cmp(&b.flows[0]));
        points
    }

    fn scan(&mut self, network: &Network, index: usize, points: &mut Vec<SharedPoint>) {
        let pump = &network.pumps[index];
        let end = pump.scale().0;
        let mut held = network.clone();
        let mut surplus = |solver: &mut Self, flow: f64| {
            held.pumps[index].law = PumpLaw::FixedFlow(flow);
            let outcome = solver.solve_settings(&held);
            let taken = outcome.pumps[index].rise_pa;
            // A flow that cannot pass asks for more than any pressure.
            let taken = if outcome.verdict == Verdict::Converged && taken.is_finite() { taken } else { f64::INFINITY };
            taken - pump.rise(flow).map_or(0.0, |(rise, _)| rise)
        };
        let mut before = (LEAST * end, surplus(self, LEAST * end));
        if before.1 >= 0.0 {
            self.take_point(network, index, 0.0, points);
        }
        for step in 1..=SCAN {
            let flow = end * f64::from(step) / f64::from(SCAN);
            let value = surplus(self, flow);
            if (value >= 0.0) != (before.1 >= 0.0) {
                let rising = value >= 0.0;
                let (mut low, mut high) = (before.0, flow);
                for _ in 0..HALVINGS {
                    let middle = 0.5 * (low + high);
                    if (surplus(self, middle) >= 0.0) == rising { high = middle } else { low = middle }
                }
                // The last one that passed, so that the solver stands beside the point.
                let beside = if rising { low } else { high };
                surplus(self, beside);
                self.take_point(network, index, beside, points);
                surplus(self, flow);
            }
            before = (flow, value);
        }
    }

    /// Solves all pumps from where the solver stands, and keeps the point if it is the one looked for and a new one.
    fn take_point(&mut self, network: &Network, index: usize, flow: f64, points: &mut Vec<SharedPoint>) {
        let scale = |pump: usize| network.pumps[pump].scale().0;
        let outcome = self.solve_here(network);
        let off = outcome.pumps[index].flow - flow;
        // A pump that is pushed shut at no flow is driven backwards where no check valve stands beside it.
        let is_it = off.abs() <= NEAR * scale(index) || (flow == 0.0 && off < 0.0);
        if outcome.verdict != Verdict::Converged || !is_it {
            return;
        }
        let point = SharedPoint {
            flows: outcome.pumps.iter().map(|pump| pump.flow).collect(),
            rises_pa: outcome.pumps.iter().map(|pump| pump.rise_pa).collect(),
            stable: outcome.stable,
        };
        let is_same = |other: &SharedPoint| {
            let pairs = point.flows.iter().zip(&other.flows).enumerate();
            pairs.into_iter().all(|(pump, (a, b))| (a - b).abs() <= SAME * scale(pump))
        };
        if !points.iter().any(is_same) {
            points.push(point);
        }
    }
}

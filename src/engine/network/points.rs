//! All operating points of one pump, where there may be several.
//!
//! With F(Q) = H_sys(Q) − H_reg(Q), the system taken at a held flow Q, each zero of F is an operating point, and one where F
//! rises is stable. A system curve that never bends down and a regulated curve that never bends up cross once; a valve that
//! opens on pressure (bypass, check valve with a cracking pressure) together with a rising set-line can cross three times. A
//! scan over flow finds the crossings, bisection sharpens them. Rest is a point too where the pump's head at zero flow opens no
//! way. Two crossings nearer to each other than the scan's step are missed.

use super::{Network, PumpLaw, Solver, Verdict};
use crate::engine::links::LinkLaw;

/// Steps of the scan from zero to run-out.
const SCAN: u32 = 96;
/// The least flow looked at, a share of run-out.
const LEAST: f64 = 1e-7;

/// One operating point of a pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OperatingPoint {
    /// Flow in m³/s.
    pub flow: f64,
    /// Pressure rise in Pa.
    pub rise_pa: f64,
    /// Whether it holds when disturbed.
    pub stable: bool,
}

impl Network {
    /// Whether one pump of it may have several operating points: it rises with flow, and something opens on pressure.
    #[must_use]
    pub fn may_have_several_points(&self) -> bool {
        let opens_late = |law: &LinkLaw| match law {
            LinkLaw::Bypass(_) => true,
            LinkLaw::Check(check) => check.cracking_pa() > 0.0,
            _ => false,
        };
        let [pump] = self.pumps.as_slice() else { return false };
        self.links.iter().any(|link| opens_late(&link.law)) && pump.rising_stretch().is_some()
    }
}

impl Solver {
    /// All operating points of a network with one pump, by rising flow. The solver stands anywhere afterwards.
    pub fn operating_points(&mut self, network: &Network) -> Vec<OperatingPoint> {
        let mut held = network.clone();
        let [pump] = network.pumps.as_slice() else { return Vec::new() };
        let end = pump.scale().0;
        self.follow(network);
        let mut surplus = |solver: &mut Self, flow: f64| {
            held.pumps[0].law = PumpLaw::FixedFlow(flow);
            let outcome = solver.solve_settings(&held);
            let taken = outcome.pumps[0].rise_pa;
            // A flow that cannot pass asks for more than any pressure.
            let taken = if outcome.verdict == Verdict::Converged && taken.is_finite() { taken } else { f64::INFINITY };
            (taken - pump.rise(flow).map_or(0.0, |(rise, _)| rise), taken)
        };
        let mut points = Vec::new();
        let mut before = (LEAST * end, surplus(self, LEAST * end).0);
        if before.1 >= 0.0 {
            let rise_pa = pump.rise(0.0).map_or(0.0, |(rise, _)| rise);
            points.push(OperatingPoint { flow: 0.0, rise_pa, stable: true });
        }
        for step in 1..=SCAN {
            let flow = end * f64::from(step) / f64::from(SCAN);
            let value = surplus(self, flow).0;
            if (value >= 0.0) != (before.1 >= 0.0) {
                let rising = value >= 0.0;
                let (mut low, mut high) = (before.0, flow);
                for _ in 0..60 {
                    let middle = 0.5 * (low + high);
                    if (surplus(self, middle).0 >= 0.0) == rising { high = middle } else { low = middle }
                }
                let flow = 0.5 * (low + high);
                let rise_pa = pump.rise(flow).map_or(0.0, |(rise, _)| rise);
                points.push(OperatingPoint { flow, rise_pa, stable: rising });
            }
            before = (flow, value);
        }
        points
    }

    /// Solves a network with one pump at one of its operating points: from the network as it is with that flow held.
    pub fn solve_at(&mut self, network: &Network, point: &OperatingPoint) -> &super::Outcome {
        if point.flow > 0.0 && network.pumps.len() == 1 {
            let mut held = network.clone();
            held.pumps[0].law = PumpLaw::FixedFlow(point.flow);
            self.solve(&held);
            return self.solve(network);
        }
        // As before the pump starts: everything that opens on pressure is shut.
        self.solve_from_rest(network)
    }
}

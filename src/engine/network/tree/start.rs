//! Where a solve of a tree starts: laws taken over, everything at rest, or flows foreseen from the pump's new curve. A cold start
//! has sweeps of its own ([`super::cold`]).

use super::super::curve::Curve;
use super::super::judge::{Floors, Mode};
use super::super::pumps::PumpLink;
use super::Tree;
use crate::engine::links::FlowRange;

impl Tree {
    /// Takes ranges and nominal slopes from changed laws. `false` if a chain in series got a range that ends: the cells then
    /// no longer fit.
    pub(super) fn take_laws(&mut self) -> bool {
        while let Some(chain) = self.dirty.pop() {
            let chain = chain as usize;
            let range = self.chains.range(chain, &self.laws);
            if self.leaves[chain].in_series && range != FlowRange::ANY {
                return false;
            }
            self.chains.renew(chain, &self.laws);
            self.leaves[chain].curve = Curve::NONE;
            let nominal = self.chains.nominal_flow(chain, &self.laws);
            let ordinary = nominal.max(range.low).min(range.high);
            let at = if ordinary == 0.0 { nominal } else { ordinary };
            let at_nominal = self.chains.drop(chain, &self.laws, &Curve::NONE, at);
            self.leaves[chain].floors = Floors::new(at_nominal.slope);
            self.kvs[chain] = at.abs() / at_nominal.pressure_pa.abs().max(1e-3).sqrt();
            let bounds = &mut self.bounds[chain];
            let was_shut = bounds.range.is_shut();
            bounds.range = range;
            self.leaves[chain].is_bounded = range != FlowRange::ANY;
            self.is_regrouped = true;
            if chain >= self.moving {
                bounds.mode = Mode::at_rest(range);
                continue;
            }
            let before = self.leaves[chain].flow;
            (bounds.mode, self.leaves[chain].flow) = bounds.mode.under(range, was_shut, before, ordinary);
            self.renew_line(chain, before);
        }
        true
    }

    /// Lets the next solve start as warm from rest.
    pub(in super::super) fn start_at_rest(&mut self) {
        (self.pump_flow, self.pump_rise) = (0.0, 0.0);
        for chain in 0..self.moving {
            self.leaves[chain].flow = 0.0;
            self.bounds[chain].mode = Mode::at_rest(self.bounds[chain].range);
            self.renew_line(chain, 0.0);
        }
        self.is_regrouped = true;
        self.cold = false;
    }

    /// Scales all flows to what the pump's new curve is foreseen to do; all lines are then tangents at the scaled flows.
    pub(super) fn foresee(&mut self, pump: &PumpLink) {
        let conductance = self.sums.first().map_or(0.0, |sum| sum.whole.factor);
        if let Some(seen) = pump.foresee(self.pump_flow, self.pump_rise, conductance) {
            self.pump_flow *= seen.flow;
            self.scale(seen.flow);
        }
    }
}

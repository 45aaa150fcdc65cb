//! The cold start of a tree: flows as if every law went with the square of flow.
//!
//! Each chain then lets pass q = K √Δp, with K from its law at nominal flow (a Kv in SI units: m³/s per √Pa). In parallel K adds, in
//! series 1/K² does, so that one sweep to the pump and one back solve the whole tree, however unlike the flows in it are. Laws
//! of pipes differ from that by their friction factor alone: Newton then takes three to five steps, where from flows of one size it
//! halves what the far ends of a long row see too much, thirteen times in a row of 50,000 zones.

use super::super::PumpLaw;
use super::super::judge::Mode;
use super::super::pumps::PumpLink;
use super::super::terminals::one_pump;
use super::Tree;
use super::layout::NONE;
use super::sweep::{Line, Sum};

/// Tangents taken of the system's curve to meet the pump's.
const MEETINGS: u32 = 3;

impl Tree {
    /// Flows as if every law went with the square of flow, and the tangents there.
    pub(super) fn take_cold_start(&mut self, pump: &PumpLink) {
        for (chain, (leaf, bounds)) in self.leaves[..self.moving].iter_mut().zip(&self.bounds).enumerate() {
            let kv = self.kvs[chain];
            let factor = match leaf.in_series {
                true => 1.0 / (kv * kv),
                false if bounds.range.high > 0.0 => kv,
                false => 0.0,
            };
            leaf.line = Line { factor, offset: 0.0 };
        }
        let kv = self.gather_kvs();
        self.pump_flow = meet(pump, kv);
        self.pump_rise = if kv > 0.0 { self.pump_flow * self.pump_flow.abs() / (kv * kv) } else { 0.0 };
        self.spread_kvs(self.pump_rise);
        for chain in 0..self.moving {
            let bounds = &mut self.bounds[chain];
            let (flow, range) = (self.leaves[chain].flow, bounds.range);
            (bounds.mode, self.leaves[chain].flow) = if range.is_shut() || flow < range.low {
                (Mode::AtLow, range.low)
            } else if flow > range.high {
                (Mode::AtHigh, range.high)
            } else {
                (Mode::Free, flow)
            };
            self.renew_line(chain, 0.0);
        }
        self.is_regrouped = true;
    }

    /// Sweeps to the pump: the K of every cell, in place of its line's factor, and that of the whole.
    fn gather_kvs(&mut self) -> f64 {
        for (index, cell) in self.cells.iter().enumerate().rev() {
            let beyond = std::mem::take(&mut self.gathered[index]).factor;
            let (kv, share) = if cell.second == NONE {
                let (first, end) = (cell.first as usize, cell.end as usize);
                let kv = self.leaves[first..end].iter().fold(beyond, |sum, leaf| sum + leaf.line.factor);
                let before = if cell.has_series { self.leaves[end].line.factor } else { 0.0 };
                let share = 1.0 / (1.0 + before * kv * kv);
                (kv * share.sqrt(), share)
            } else {
                let [a, b] = [index + 1, cell.second as usize].map(|half| self.sums[half].whole.factor);
                let both = a.hypot(b);
                if both > 0.0 { (a * b / both, (b / both).powi(2)) } else { (0.0, 0.0) }
            };
            self.sums[index] = Sum { whole: Line { factor: kv, offset: 0.0 }, share, shift: 0.0 };
            if let Some(gathered) = self.gathered.get_mut(cell.parent as usize) {
                gathered.factor += kv;
            }
        }
        self.sums.first().map_or(0.0, |sum| sum.whole.factor)
    }

    /// Sweeps back with the pressure across the system.
    fn spread_kvs(&mut self, rise_pa: f64) {
        let root = |pressure: f64| pressure.abs().sqrt().copysign(pressure);
        let count = self.cells.len();
        for (index, (cell, sum)) in self.cells.iter().zip(&self.sums).enumerate() {
            let across = if index == 0 { rise_pa } else { self.across_cells[cell.source as usize] };
            let inner = across * sum.share;
            self.across_cells[index] = inner;
            if cell.second != NONE {
                self.across_cells[count + index] = across - inner;
                continue;
            }
            let (first, end) = (cell.first as usize, cell.end as usize);
            for leaf in &mut self.leaves[first..end] {
                leaf.flow = leaf.line.factor * root(inner);
            }
            if cell.has_series {
                self.leaves[end].flow = sum.whole.factor * root(across);
            }
        }
    }
}

/// About the flow of a pump through a system of one K.
fn meet(pump: &PumpLink, kv: f64) -> f64 {
    let ordinary = 0.3 * pump.scale().0;
    let mut flow = match (&pump.law, pump.rise(ordinary)) {
        (PumpLaw::FixedFlow(flow), _) => return *flow,
        (_, Some((rise, _))) if kv > 0.0 && rise > 0.0 => kv * rise.sqrt(),
        _ => ordinary,
    };
    for _ in 0..MEETINGS {
        // The tangent at q₀: q = q₀/2 + K² Δp/(2 q₀).
        flow = one_pump(pump, None, 0.5 * kv * kv / flow, 0.5 * flow, 0.0, flow);
        if flow <= 0.0 {
            return 0.0;
        }
    }
    flow
}

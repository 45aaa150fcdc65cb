//! From the sweeps to an outcome: node pressures from the pump outwards, flows and drops of every link, balances.

use super::super::PumpOutcome;
use super::super::chains::Chains;
use super::super::judge::Mode;
use super::super::pumps::PumpLink;
use super::super::reporting::{Carried, write_chain};
use super::Tree;
use super::layout::NONE;
use super::sweep::Leaf;

impl Tree {
    /// Writes flows, pressures and balances of the last sweep into the outcome.
    #[inline(never)]
    pub(super) fn report(&mut self, pump: &PumpLink) {
        let (suction, discharge) = self.pump_nodes;
        if std::mem::take(&mut self.is_regrouped) {
            self.come_to_rest();
            let (bounds, leaves, parts) = (&self.bounds, &self.leaves, &self.chains.parts);
            let all = self.chains.chains.iter().enumerate();
            let plain = all
                .clone()
                .filter(|&(index, _)| !leaves[index].in_series && bounds[index].mode == Mode::Free)
                .map(|(_, chain)| (chain.from(), chain.to()));
            let in_series = all.filter(|&(index, _)| leaves[index].in_series).flat_map(|(_, chain)| {
                let (forwards, _) = chain.runs();
                let base = move |at: usize| if at < forwards { chain.from() } else { chain.to() };
                chain.parts().map(move |at| (base(at), parts[at].node()))
            });
            self.reach.find(suction, plain.chain(in_series).chain([(suction, discharge)]));
        }
        self.outcome.pressures_pa[suction] = 0.0;
        self.outcome.pressures_pa[discharge] = self.pump_rise;
        for node in self.reach.unreached() {
            self.outcome.pressures_pa[node] = f64::NAN;
        }
        let cells = std::mem::take(&mut self.cells);
        for (index, cell) in cells.iter().enumerate() {
            if cell.second != NONE {
                let [from, between, end] = cell.nodes.map(|node| node as usize);
                if self.reach.is_reached(between) {
                    let [before, behind] = [index, cells.len() + index].map(|at| self.across_cells[at]);
                    let pressures = &mut self.outcome.pressures_pa;
                    // One of the two may hang on nothing.
                    pressures[between] =
                        if pressures[from].is_nan() { pressures[end] + behind } else { pressures[from] - before };
                }
                continue;
            }
            let series = if cell.has_series { Some(cell.end as usize) } else { None };
            for chain in series.into_iter().chain(cell.first as usize..cell.end as usize) {
                self.write(chain);
            }
        }
        self.cells = cells;
        self.report_resting();
        let at_reference = self.outcome.pressures_pa[self.reference];
        if at_reference.is_nan() {
            self.report_apart();
        } else if at_reference != 0.0 {
            for pressure in &mut self.outcome.pressures_pa {
                *pressure -= at_reference;
            }
        }
        let conductance = self.sums.first().map_or(0.0, |sum| sum.whole.factor);
        let flow = self.pump_flow;
        let (rise_pa, pump_slope) = pump.rise(flow).unwrap_or((self.pump_rise, 0.0));
        let system_slope = if conductance > 0.0 { 1.0 / conductance } else { f64::INFINITY };
        self.outcome.pumps[0] = PumpOutcome { flow, rise_pa, system_slope, pump_slope, is_share_open: false };
        self.outcome.stable = self.outcome.pumps[0].is_stable();
        self.report_balances(pump);
    }

    /// Where nothing flows the pressure is that of the node nearer to the pump.
    fn report_resting(&mut self) {
        for &(node, base) in &self.resting_nodes {
            self.outcome.pressures_pa[node as usize] = self.outcome.pressures_pa[base as usize];
        }
        if self.moving == self.leaves.len() {
            return;
        }
        for node in self.reach.unreached() {
            self.outcome.pressures_pa[node] = f64::NAN;
        }
        for chain in self.moving..self.leaves.len() {
            self.write(chain);
        }
    }

    /// Writes what a chain does, the pressures at its ends being known.
    #[inline(always)]
    fn write(&mut self, chain: usize) {
        let Leaf { ref curve, flow, mut across, is_bounded, .. } = self.leaves[chain];
        let mode = if is_bounded { self.bounds[chain].mode } else { Mode::Free };
        if mode != Mode::Free {
            let ends = self.chains.chains[chain];
            if !self.reach.is_joined(ends.from(), ends.to()) {
                across = f64::NAN;
            }
        }
        let carried = Carried { mode, flow, across };
        write_chain(&mut self.chains, &self.laws, chain, curve, carried, &mut self.outcome);
    }

    /// The reference node hangs on nothing that the pump moves: only what hangs together with it has a pressure, and stands still.
    #[inline(never)]
    fn report_apart(&mut self) {
        for (node, pressure) in self.outcome.pressures_pa.iter_mut().enumerate() {
            *pressure = if self.reach.is_joined(node, self.reference) { 0.0 } else { f64::NAN };
        }
        for chain in 0..self.leaves.len() {
            self.write(chain);
        }
    }

    /// Mass at every node where chains meet, energy around every chain. Flows inside a chain, and those of chains in series in a
    /// cell, are one number.
    #[inline(never)]
    fn report_balances(&mut self, pump: &PumpLink) {
        let mut greatest = self.pump_flow.abs();
        let mut off = (self.cell_flows.first().map_or(0.0, |flow| flow - self.pump_flow)).abs();
        // From the far ends, so that what each bundle hands on to further cells is known when its turn comes.
        for (index, (cell, &own)) in self.cells.iter().zip(&self.cell_flows).enumerate().rev() {
            let beyond = std::mem::take(&mut self.balance[index]);
            let error = if cell.second == NONE {
                let mut left = own - beyond;
                for leaf in &self.leaves[cell.first as usize..cell.end as usize] {
                    left -= leaf.flow;
                    greatest = greatest.max(leaf.flow.abs());
                }
                left.abs()
            } else {
                // Each half carries all of it.
                (own - self.cell_flows[index + 1]).abs() + (own - self.cell_flows[cell.second as usize]).abs()
            };
            off = if error > off || error.is_nan() { error } else { off };
            if let Some(balance) = self.balance.get_mut(cell.parent as usize) {
                *balance += own;
            }
        }
        let (run_out, _) = pump.scale();
        self.outcome.mass_error = off / greatest.max(1e-3 * run_out).max(1e-12);
        self.outcome.energy_error = self.worst_pa / self.outcome.pumps[0].rise_pa.abs().max(1.0);
    }
}

/// Nodes beyond the moving chains, each with a node nearer to them: without flow their pressures are the same.
pub(super) fn resting_nodes(chains: &Chains, moving: usize, nodes: usize) -> Vec<(u32, u32)> {
    let resting = &chains.chains[moving..];
    if resting.is_empty() {
        return Vec::new();
    }
    let mut known = vec![false; nodes];
    let mut star: Vec<Vec<usize>> = vec![Vec::new(); nodes];
    for chain in resting {
        star[chain.from()].push(chain.to());
        star[chain.to()].push(chain.from());
    }
    let mut waiting: Vec<usize> = Vec::new();
    for (index, chain) in chains.chains[..moving].iter().enumerate() {
        waiting.extend([chain.from(), chain.to()]);
        waiting.extend(chains.parts_of(index).iter().map(|part| part.node()));
    }
    for &node in &waiting {
        known[node] = true;
    }
    let mut found = Vec::new();
    while let Some(base) = waiting.pop() {
        for &node in &star[base] {
            if !known[node] {
                known[node] = true;
                found.push((node as u32, base as u32));
                waiting.push(node);
            }
        }
    }
    found
}

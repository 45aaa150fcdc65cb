//! A second way to the same answer, slow and plain: unknowns are node pressures, each law is inverted by bisection, the nodes are
//! balanced for a given pump pressure by damped Newton with an exact line search, and the pump pressure is found by bisection.
//!
//! It shares the link laws and the regulated curve with the solver, and nothing else: no chains, no active set, no elimination
//! order, no Newton on flows. For small networks with one pump.

use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::LinkLaw;
use headwise::engine::network::{Network, PumpLaw};

/// Flows of links and of the pump.
pub struct Answer {
    pub flows: Vec<f64>,
    pub pump_flow: f64,
}

/// Solves; `None` where the nodes could not be balanced.
pub fn solve(network: &Network) -> Option<Answer> {
    let pump = &network.pumps[0];
    let PumpLaw::Regulated(regulated) = &pump.law else { return None };
    let pascal = pump.density_kg_per_m3 * GRAVITY_M_PER_S2;
    let run_out = regulated.curve().run_out_m3_per_s();
    let greatest = (0..400).map(|i| regulated.head(run_out * f64::from(i) / 400.0).0).fold(0.0, f64::max) * pascal;
    let mut balance = Balance::new(network, greatest, run_out);
    let (mut low, mut high) = (0.0, 1.01 * greatest);
    // More pressure, more flow: where the curve falls, its pressure at that flow crosses the given one once. Where it rises, this
    // finds the highest crossing only if there is but one.
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        let flow = balance.pump_flow(middle)?;
        if regulated.head(flow).0 * pascal > middle { low = middle } else { high = middle }
    }
    let pump_flow = balance.pump_flow(0.5 * (low + high))?;
    Some(Answer { flows: balance.flows(), pump_flow })
}

struct Balance<'a> {
    network: &'a Network,
    pressures: Vec<f64>,
    /// Row of each node among the unknowns.
    row: Vec<Option<usize>>,
    flow_scale: f64,
    pressure_scale: f64,
}

impl<'a> Balance<'a> {
    fn new(network: &'a Network, pressure_scale: f64, flow_scale: f64) -> Self {
        let pump = &network.pumps[0];
        let mut next = 0;
        let row = (0..network.nodes)
            .map(|node| {
                (node != pump.suction && node != pump.discharge).then(|| {
                    next += 1;
                    next - 1
                })
            })
            .collect();
        Self { network, pressures: vec![0.0; network.nodes], row, flow_scale, pressure_scale }
    }

    fn flows(&self) -> Vec<f64> {
        self.network
            .links
            .iter()
            .map(|l| flow_at(&l.law, self.pressures[l.from] - self.pressures[l.to], self.flow_scale))
            .collect()
    }

    /// The flow through the pump at a pressure across it.
    fn pump_flow(&mut self, pressure: f64) -> Option<f64> {
        let pump = &self.network.pumps[0];
        self.pressures[pump.suction] = 0.0;
        self.pressures[pump.discharge] = pressure;
        for _ in 0..300 {
            let flows = self.flows();
            let off = self.imbalance(&flows);
            let worst =
                self.row.iter().zip(&off).filter(|(row, _)| row.is_some()).fold(0.0_f64, |m, (_, o)| m.max(o.abs()));
            if worst <= 1e-10 * self.flow_scale {
                return Some(-off[pump.discharge]);
            }
            let step = self.newton_step(&flows, &off)?;
            let share = self.line_search(&step);
            for (pressure, change) in self.pressures.iter_mut().zip(&step) {
                *pressure += share * change;
            }
            let greatest = step.iter().fold(0.0_f64, |m, s| m.max(s.abs()));
            if share * greatest <= 1e-15 * self.pressure_scale {
                // Pressures cannot be told apart any more.
                return (worst <= 1e-6 * self.flow_scale).then(|| -off[pump.discharge]);
            }
        }
        None
    }

    /// What flows into each node.
    fn imbalance(&self, flows: &[f64]) -> Vec<f64> {
        let mut off = vec![0.0; self.network.nodes];
        for (link, flow) in self.network.links.iter().zip(flows) {
            off[link.from] -= flow;
            off[link.to] += flow;
        }
        off
    }

    fn newton_step(&self, flows: &[f64], off: &[f64]) -> Option<Vec<f64>> {
        let size = self.row.iter().flatten().count();
        let mut matrix = vec![vec![0.0; size + 1]; size];
        let unit = self.flow_scale / self.pressure_scale;
        for (link, &flow) in self.network.links.iter().zip(flows) {
            let range = link.law.range();
            let held = range.is_shut() || flow <= range.low || flow >= range.high;
            let slope = link.law.drop(flow, &mut 0.0).slope;
            let g = if held { 0.0 } else { 1.0 / slope.max(1e-9 / unit) };
            for (a, b) in [(link.from, link.to), (link.to, link.from)] {
                if let Some(i) = self.row[a] {
                    matrix[i][i] += g;
                    if let Some(j) = self.row[b] {
                        matrix[i][j] -= g;
                    }
                }
            }
        }
        for (node, row) in self.row.iter().enumerate() {
            if let Some(i) = *row {
                matrix[i][i] += 1e-9 * unit;
                matrix[i][size] = off[node];
            }
        }
        let solution = eliminate(matrix)?;
        Some(self.row.iter().map(|row| row.map_or(0.0, |i| solution[i])).collect())
    }

    /// Where along the step the content is least: its derivative is the imbalance times the step.
    fn line_search(&self, step: &[f64]) -> f64 {
        let still_falls = |share: f64| {
            let at = |node: usize| self.pressures[node] + share * step[node];
            let flow = |l: &headwise::engine::network::Link| flow_at(&l.law, at(l.from) - at(l.to), self.flow_scale);
            let flows: Vec<f64> = self.network.links.iter().map(flow).collect();
            self.imbalance(&flows).iter().zip(step).map(|(o, s)| o * s).sum::<f64>() > 0.0
        };
        let (mut low, mut high) = (0.0, 1.0);
        if still_falls(1.0) {
            return 1.0;
        }
        for _ in 0..12 {
            let middle = 0.5 * (low + high);
            if still_falls(middle) { low = middle } else { high = middle }
        }
        if low > 0.0 { low } else { high }
    }
}

/// The flow that a law lets pass at a pressure drop, by bisection.
fn flow_at(law: &LinkLaw, pressure: f64, flow_scale: f64) -> f64 {
    let range = law.range();
    if range.is_shut() {
        return 0.0;
    }
    let mut warm = 0.0;
    let mut drop = |flow: f64| law.drop(flow, &mut warm).pressure_pa;
    let (mut low, mut high) = (range.low.max(-1e4 * flow_scale), range.high.min(1e4 * flow_scale));
    if range.low.is_finite() && drop(range.low) >= pressure {
        return range.low;
    }
    if range.high.is_finite() && drop(range.high) <= pressure {
        return range.high;
    }
    if range.low.is_infinite() && range.high.is_infinite() {
        if pressure >= 0.0 { low = 0.0 } else { high = 0.0 }
    }
    // Bisect the magnitude by halves first, so that small flows come out to full relative precision.
    let mut flow = 0.5 * (low + high);
    for _ in 0..200 {
        if drop(flow) < pressure {
            low = flow
        } else {
            high = flow
        }
        flow = 0.5 * (low + high);
        if high - low <= 1e-15 * (high.abs() + low.abs()) || high - low < 1e-30 {
            break;
        }
    }
    flow
}

/// Gaussian elimination with row exchange on rows that hold the right-hand side last.
fn eliminate(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let size = rows.len();
    for k in 0..size {
        let pivot = (k..size).max_by(|&i, &j| rows[i][k].abs().total_cmp(&rows[j][k].abs()))?;
        rows.swap(k, pivot);
        let (above, below) = rows.split_at_mut(k + 1);
        let above = &above[k];
        for row in below {
            let factor = row[k] / above[k];
            if factor != 0.0 {
                row.iter_mut().zip(above).skip(k).for_each(|(x, a)| *x -= factor * a);
            }
        }
    }
    let mut solution = vec![0.0; size];
    for k in (0..size).rev() {
        let known: f64 = (k + 1..size).map(|j| rows[k][j] * solution[j]).sum();
        solution[k] = (rows[k][size] - known) / rows[k][k];
    }
    solution.iter().all(|x| x.is_finite()).then_some(solution)
}

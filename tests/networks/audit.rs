//! An outcome recomputed from nothing but the network's laws: balances, and which pressures and drops can be known at all.

use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::{FlowRange, LinkLaw};
use headwise::engine::network::{Network, Outcome, PumpLaw};

/// What the figures of an outcome amount to.
#[derive(Debug, Default)]
pub struct Audit {
    /// As the outcome tells them, but from its figures alone.
    pub mass_error: f64,
    pub energy_error: f64,
    /// Figures that contradict one another.
    pub contradictions: Vec<String>,
}

/// Nodes that hang together.
struct Groups(Vec<usize>);

impl Groups {
    fn root(&mut self, mut node: usize) -> usize {
        while self.0[node] != node {
            self.0[node] = self.0[self.0[node]];
            node = self.0[node];
        }
        node
    }

    fn join(&mut self, a: usize, b: usize) {
        let (a, b) = (self.root(a), self.root(b));
        self.0[a] = b;
    }
}

/// Whether a flow lies at an end of its range, where the law leaves the drop to others.
fn is_held(range: FlowRange, flow: f64) -> bool {
    range.is_shut() || flow <= range.low || flow >= range.high
}

/// Recomputes.
pub fn audit(network: &Network, outcome: &Outcome) -> Audit {
    let nodes = outcome.pressures_pa.len();
    let mut audit = Audit::default();
    let mut groups = Groups((0..nodes).collect());
    let mut into = vec![0.0; nodes];
    let rise = outcome.pumps.iter().map(|pump| pump.rise_pa.abs()).fold(1.0, f64::max);
    let mut greatest = 1e-12_f64;
    for (index, link) in network.links.iter().enumerate() {
        let flow = outcome.flows[index];
        greatest = greatest.max(flow.abs());
        into[link.from] -= flow;
        into[link.to] += flow;
        if !is_held(link.law.range(), flow) {
            groups.join(link.from, link.to);
        }
        audit.look_at_link(index, &link.law, flow, outcome, [link.from, link.to], rise);
    }
    for (index, (pump, done)) in network.pumps.iter().zip(&outcome.pumps).enumerate() {
        into[pump.suction] -= done.flow;
        into[pump.discharge] += done.flow;
        greatest = greatest.max(done.flow.abs());
        groups.join(pump.suction, pump.discharge);
        if let PumpLaw::Regulated(regulated) = &pump.law {
            greatest = greatest.max(1e-3 * regulated.curve().run_out_m3_per_s());
            let on_curve = regulated.head(done.flow).0 * pump.density_kg_per_m3 * GRAVITY_M_PER_S2;
            let across = outcome.pressures_pa[pump.discharge] - outcome.pressures_pa[pump.suction];
            for given in [done.rise_pa, across] {
                // Not a number where the pump does not hang together with the reference node.
                audit.energy_error = audit.energy_error.max((given - on_curve).abs() / rise);
            }
        }
        if !(done.flow.is_finite() && done.rise_pa.is_finite()) {
            audit.contradictions.push(format!("pump {index}: {} m³/s, {} Pa", done.flow, done.rise_pa));
        }
    }
    audit.mass_error = into.iter().fold(0.0_f64, |most, flow| most.max(flow.abs())) / greatest;
    let base = groups.root(network.reference);
    for (node, pressure) in outcome.pressures_pa.iter().enumerate() {
        if pressure.is_nan() == (groups.root(node) == base) {
            audit.contradictions.push(format!("node {node}: {pressure} Pa"));
        }
    }
    if outcome.pressures_pa[network.reference] != 0.0 {
        audit.contradictions.push("the reference node has a pressure".to_owned());
    }
    audit
}

impl Audit {
    fn look_at_link(
        &mut self,
        index: usize,
        law: &LinkLaw,
        flow: f64,
        outcome: &Outcome,
        [from, to]: [usize; 2],
        rise_pa: f64,
    ) {
        let range = law.range();
        let across = outcome.pressures_pa[from] - outcome.pressures_pa[to];
        let drop = outcome.drops_pa[index];
        if !(flow >= range.low && flow <= range.high) {
            self.contradictions.push(format!("link {index}: {flow:e} m³/s is outside its range"));
            return;
        }
        let lawful = law.drop(flow, &mut 0.0).pressure_pa;
        let held = is_held(range, flow);
        let expected = if held { across } else { lawful };
        // A drop that pressures tell must be told; one that they do not tell may be: a part apart from the reference node.
        if !((drop - expected).abs() <= 1e-9 * rise_pa || (held && across.is_nan())) {
            self.contradictions.push(format!("link {index}: drop {drop}, expected {expected}"));
        }
        if !across.is_nan() {
            let over = across - lawful;
            let error = match held {
                _ if range.is_shut() => 0.0,
                false => over.abs(),
                true if flow <= range.low => over.max(0.0),
                true => (-over).max(0.0),
            };
            self.energy_error = self.energy_error.max(error / rise_pa);
        }
    }
}

//! The systems that the benchmark solves: two-pipe systems with direct return. Each zone has a branch pipe, an emitter, a
//! balancing valve and a zone valve; mains are sized for 0.8 m/s at the flow they are there for.

use super::figures::{DENSITY, Figures};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::network::{Link, Network, NodeId, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};

/// Design flow of one zone, m³/s (300 l/h).
const ZONE_FLOW: f64 = 300.0 / 3.6e6;

/// How the zones hang together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// One row of zones on two mains.
    Riser,
    /// Risers on a header, as many as each has zones.
    Branched,
    /// A square mesh of flow mains and one of return mains, a zone between each pair of nodes.
    Grid,
}

impl Kind {
    /// Its name in the table.
    pub fn name(self) -> &'static str {
        match self {
            Self::Riser => "riser",
            Self::Branched => "branched",
            Self::Grid => "grid",
        }
    }
}

/// A system with its pump at design flow.
pub struct System {
    /// The network.
    pub network: Network,
    /// What the law of each link is made from.
    pub figures: Vec<Figures>,
    /// The zone valve of a zone in the middle.
    pub valve: usize,
    /// What joins the nodes at which something branches: the pattern of the reduced matrix.
    pub meshes: Vec<(NodeId, NodeId)>,
}

#[derive(Default)]
struct Builder {
    nodes: usize,
    links: Vec<Link>,
    figures: Vec<Figures>,
    valves: Vec<usize>,
    meshes: Vec<(NodeId, NodeId)>,
}

impl Builder {
    fn node(&mut self) -> NodeId {
        self.nodes += 1;
        self.nodes - 1
    }

    fn link(&mut self, from: NodeId, to: NodeId, figures: Figures) {
        self.links.push(Link { from, to, law: figures.law() });
        self.figures.push(figures);
    }

    fn pipe(&mut self, from: NodeId, to: NodeId, length_m: f64, flow: f64, minor_k: f64) {
        let bore_m = (flow / 0.8 * 4.0 / std::f64::consts::PI).sqrt().max(0.012);
        self.link(from, to, Figures::Pipe { length_m, bore_m, roughness_m: 4.5e-5, minor_k });
    }

    /// A flow and a return main beside each other.
    fn mains(&mut self, from: [NodeId; 2], to: [NodeId; 2], zones: f64) {
        self.pipe(from[0], to[0], 6.0, zones * ZONE_FLOW, 0.6);
        self.pipe(to[1], from[1], 6.0, zones * ZONE_FLOW, 0.6);
        self.meshes.extend([(from[0], to[0]), (from[1], to[1])]);
    }

    fn zone(&mut self, between: [NodeId; 2]) {
        let (a, b, c) = (self.node(), self.node(), self.node());
        self.pipe(between[0], a, 12.0, ZONE_FLOW, 4.0);
        self.link(a, b, Figures::Fixed { loss_pa: 4e3, flow_m3_per_s: ZONE_FLOW });
        self.valves.push(self.links.len());
        self.link(b, c, Figures::Valve { kv_m3_per_h: 1.2 });
        self.link(c, between[1], Figures::Valve { kv_m3_per_h: 0.8 });
        self.meshes.push((between[0], between[1]));
    }

    fn riser(&mut self, mut at: [NodeId; 2], zones: usize) {
        for zone in 0..zones {
            let next = [self.node(), self.node()];
            self.mains(at, next, (zones - zone) as f64);
            at = next;
            self.zone(at);
        }
    }

    fn grid(&mut self, side: usize) {
        let zones = (side * side) as f64;
        let nodes: Vec<[NodeId; 2]> = (0..side * side).map(|_| [self.node(), self.node()]).collect();
        self.mains([1, 0], nodes[0], zones);
        for (index, &here) in nodes.iter().enumerate() {
            let (row, column) = (index / side, index % side);
            // About what crosses the mesh at this distance from its corner.
            let carried = (0.7 * zones / (1 + row + column) as f64).max(2.0);
            for (is_inside, next) in [(column + 1 < side, index + 1), (row + 1 < side, index + side)] {
                if is_inside {
                    self.mains(here, nodes[next], carried);
                }
            }
            self.zone(here);
        }
    }
}

/// A system of about so many zones.
pub fn system(kind: Kind, zones: usize) -> System {
    let mut builder = Builder { nodes: 2, ..Builder::default() };
    let side = (zones as f64).sqrt().round() as usize;
    match kind {
        Kind::Riser => builder.riser([1, 0], zones),
        Kind::Grid => builder.grid(side),
        Kind::Branched => {
            let mut at = [1, 0];
            for riser in 0..side {
                let next = [builder.node(), builder.node()];
                builder.mains(at, next, ((side - riser) * side) as f64);
                at = next;
                builder.riser(at, side);
            }
        }
    }
    let Builder { nodes, links, figures, valves, meshes } = builder;
    let law = PumpLaw::FixedFlow(valves.len() as f64 * ZONE_FLOW);
    let pump = PumpLink { suction: 0, discharge: 1, law, density_kg_per_m3: DENSITY };
    let network = Network { nodes, links, pumps: vec![pump], reference: 0 };
    System { network, figures, valve: valves[valves.len() / 2], meshes }
}

/// Flow (m³/s) and head (m) of the pump at design.
pub fn design(network: &Network) -> (f64, f64) {
    let pump = Solver::new(network).solve(network).pumps[0];
    (pump.flow, pump.rise_pa / (DENSITY * GRAVITY_M_PER_S2))
}

/// A pump that has a third in hand over the head that the design flow takes, its slope 50 %.
pub fn pump(design_flow: f64, design_head_m: f64, head_limit_m: f64) -> PumpLaw {
    let head = 1.5 * design_head_m;
    let points = [[0.0, head], [design_flow, 0.87 * head], [2.0 * design_flow, 0.48 * head]];
    let settings = Regulation {
        head_limit_m: Some(head_limit_m),
        slope: 0.5,
        speed_cap: 0.97,
        power_limit_w: None,
        minimum_speed: 0.2,
        reference: ReferenceFlow::FullSpeed,
    };
    let curve = PumpCurve::fit(&points).expect("an ordinary curve");
    PumpLaw::Regulated(Box::new(Regulated::new(&curve, settings).expect("ordinary settings")))
}

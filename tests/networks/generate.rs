//! Random closed networks from a seed: two-pipe trees, reverse return, ladders and grids with every link law, dead ends and
//! islands, one regulated pump with random settings and sometimes a second one at fixed speed beside or behind it.

use headwise::engine::links::{BypassValve, CheckValve, FixedLoss, FlowLimiter, LinkLaw, Pipe, Valve};
use headwise::engine::network::{Link, Network, NodeId, PumpLaw, PumpLink};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};

const DENSITY: f64 = 983.2;
const VISCOSITY: f64 = 4.66e-4;
const LITRE_PER_HOUR: f64 = 1.0 / 3.6e6;

/// The splitmix64 generator (Steele, Lea, Flood, OOPSLA 2014): tiny, and the same on every machine.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// Evenly spread over orders of magnitude.
    pub fn log_between(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.share())
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.next() % end as u64) as usize
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.share() < share
    }

    /// A random order of `0..count`.
    pub fn order(&mut self, count: usize) -> Vec<usize> {
        let mut order: Vec<usize> = (0..count).collect();
        for i in (1..count).rev() {
            order.swap(i, self.below(i + 1));
        }
        order
    }
}

/// What a network is made for.
#[derive(Clone, Copy, Debug)]
pub struct Recipe {
    /// About how many zones, or the side of a grid squared.
    pub zones: usize,
    /// Whether check valves and bypass valves occur: with a rising set-line they may make several operating points.
    pub one_way: bool,
    /// Whether the set-line may rise.
    pub rising: bool,
    /// Whether a second pump may stand beside or behind the first.
    pub second_pump: bool,
}

/// How the zones of one network are held.
#[derive(Clone, Copy, PartialEq)]
enum Mood {
    Ordinary,
    AllShut,
    AllLimited,
}

struct Builder<'a> {
    random: &'a mut Random,
    recipe: Recipe,
    mood: Mood,
    nodes: usize,
    links: Vec<Link>,
}

/// A random network after a recipe.
pub fn network(seed: u64, recipe: Recipe) -> Network {
    let mut random = Random::new(seed);
    let mood = match random.share() {
        x if x < 0.06 => Mood::AllShut,
        x if x < 0.14 => Mood::AllLimited,
        _ => Mood::Ordinary,
    };
    let kind = random.below(4);
    let mut builder = Builder { random: &mut random, recipe, mood, nodes: 2, links: Vec::new() };
    match kind {
        0 => builder.tree(1, 0, recipe.zones),
        1 => builder.reverse_return(),
        2 => builder.ladder(),
        _ => builder.grid(),
    }
    builder.oddities();
    let (mut nodes, links) = (builder.nodes, builder.links);
    let mut network = Network { nodes, links, pumps: vec![regulated_pump(&mut random, recipe)], reference: 0 };
    if recipe.second_pump && random.chance(0.35) {
        add_second_pump(&mut random, &mut network, &mut nodes);
    }
    network.reference = if random.chance(0.7) { 0 } else { random.below(nodes) };
    network
}

impl Builder<'_> {
    fn node(&mut self) -> NodeId {
        self.nodes += 1;
        self.nodes - 1
    }

    fn link(&mut self, from: NodeId, to: NodeId, law: LinkLaw) {
        let symmetric = !matches!(law, LinkLaw::Check(_) | LinkLaw::Bypass(_) | LinkLaw::Limiter(_));
        let (from, to) = if symmetric && self.random.chance(0.2) { (to, from) } else { (from, to) };
        self.links.push(Link { from, to, law });
    }

    fn pipe(&mut self, wide: bool) -> LinkLaw {
        let r = &mut *self.random;
        let bore = if wide { r.between(0.02, 0.05) } else { r.between(0.008, 0.02) };
        let roughness = [1.5e-6, 7e-6, 4.5e-5, 2e-4][r.below(4)];
        let length = r.log_between(0.3, 40.0);
        let minor_k = if r.chance(0.3) { 0.0 } else { r.between(0.0, 8.0) };
        LinkLaw::Pipe(Pipe::new(length, bore, roughness, minor_k, DENSITY, VISCOSITY))
    }

    fn valve(&mut self, shut_share: f64) -> LinkLaw {
        let r = &mut *self.random;
        match r.share() {
            x if x < 0.5 * shut_share => LinkLaw::Shut,
            x if x < shut_share => LinkLaw::Valve(Valve::new(0.0, DENSITY)),
            _ => LinkLaw::Valve(Valve::new(r.log_between(0.05, 10.0), DENSITY)),
        }
    }

    fn fixed(&mut self) -> LinkLaw {
        let r = &mut *self.random;
        let exponent = if r.chance(0.5) { 2.0 } else { r.between(1.3, 2.0) };
        let flow = r.log_between(30.0, 600.0) * LITRE_PER_HOUR;
        LinkLaw::Fixed(FixedLoss::new(r.log_between(300.0, 2e4), flow, exponent))
    }

    fn check(&mut self) -> LinkLaw {
        let r = &mut *self.random;
        let cracking = if r.chance(0.4) { 0.0 } else { r.between(0.0, 4e3) };
        LinkLaw::Check(CheckValve::new(r.log_between(0.5, 10.0), cracking, DENSITY))
    }

    fn limiter(&mut self) -> LinkLaw {
        let r = &mut *self.random;
        let flow = if r.chance(0.04) { 0.0 } else { r.log_between(15.0, 700.0) * LITRE_PER_HOUR };
        LinkLaw::Limiter(FlowLimiter::new(flow, r.between(3e3, 3e4)))
    }

    fn bypass(&mut self) -> LinkLaw {
        let r = &mut *self.random;
        let (set, band) = (r.between(3e3, 5e4), r.log_between(100.0, 2e4));
        LinkLaw::Bypass(BypassValve::new(set, band, r.log_between(0.3, 6.0), DENSITY))
    }

    /// One zone between a flow tee and a return tee: pipe, emitter and valves in any order.
    fn zone(&mut self, from: NodeId, to: NodeId) {
        let mut laws = vec![self.pipe(false)];
        if self.random.chance(0.8) {
            laws.push(self.fixed());
        }
        if self.random.chance(0.6) {
            laws.push(self.valve(0.0));
        }
        match self.mood {
            Mood::AllShut => laws.push(LinkLaw::Shut),
            Mood::AllLimited => laws.push(self.limiter()),
            Mood::Ordinary if self.random.chance(0.3) => laws.push(self.limiter()),
            Mood::Ordinary => laws.push(self.valve(0.25)),
        }
        if self.recipe.one_way && self.random.chance(0.12) {
            laws.push(self.check());
        }
        let order = self.random.order(laws.len());
        let mut at = from;
        for (i, &which) in order.iter().enumerate() {
            let next = if i + 1 == laws.len() { to } else { self.node() };
            self.link(at, next, laws[which].clone());
            at = next;
        }
    }

    /// A main: a pipe, sometimes with a valve that is sometimes shut.
    fn main(&mut self, from: NodeId, to: NodeId) {
        let pipe = self.pipe(true);
        if self.mood != Mood::Ordinary || self.random.chance(0.85) {
            self.link(from, to, pipe);
            return;
        }
        let between = self.node();
        self.link(from, between, pipe);
        let valve = self.valve(0.3);
        self.link(between, to, valve);
    }

    fn tree(&mut self, flow: NodeId, ret: NodeId, zones: usize) {
        let (next_flow, next_return) = (self.node(), self.node());
        self.main(flow, next_flow);
        self.main(next_return, ret);
        if zones <= 1 {
            self.zone(next_flow, next_return);
            return;
        }
        let left = 1 + self.random.below(zones - 1);
        self.tree(next_flow, next_return, left);
        self.tree(next_flow, next_return, zones - left);
    }

    fn reverse_return(&mut self) {
        let zones = self.recipe.zones;
        let (mut flow, mut ret) = (1, self.node());
        for zone in 0..zones {
            let next_flow = self.node();
            self.main(flow, next_flow);
            flow = next_flow;
            self.zone(flow, ret);
            let next_return = if zone + 1 == zones { 0 } else { self.node() };
            self.main(ret, next_return);
            ret = next_return;
        }
    }

    /// Direct return with cross links between the far tees: rings among the mains.
    fn ladder(&mut self) {
        let (mut flow, mut ret) = (1, 0);
        let (mut flows, mut returns) = (vec![flow], vec![ret]);
        for _ in 0..self.recipe.zones {
            let (next_flow, next_return) = (self.node(), self.node());
            self.main(flow, next_flow);
            self.main(next_return, ret);
            self.zone(next_flow, next_return);
            (flow, ret) = (next_flow, next_return);
            flows.push(flow);
            returns.push(ret);
        }
        for tees in [flows, returns] {
            let (a, b) = (self.random.below(tees.len()), self.random.below(tees.len()));
            if a != b {
                self.main(tees[a], tees[b]);
            }
        }
    }

    /// A square mesh with any law on any link, the pump across opposite corners.
    fn grid(&mut self) {
        let side = ((self.recipe.zones as f64).sqrt().ceil() as usize).max(2);
        let ids: Vec<NodeId> = (0..side * side)
            .map(|i| match i {
                0 => 1,
                i if i + 1 == side * side => 0,
                _ => self.node(),
            })
            .collect();
        for row in 0..side {
            for column in 0..side {
                let here = ids[row * side + column];
                if column + 1 < side {
                    self.any(here, ids[row * side + column + 1]);
                }
                if row + 1 < side {
                    self.any(here, ids[(row + 1) * side + column]);
                }
            }
        }
    }

    fn any(&mut self, from: NodeId, to: NodeId) {
        let law = match self.random.below(10) {
            0..4 => self.pipe(false),
            4..6 => self.valve(if self.mood == Mood::AllShut { 0.7 } else { 0.2 }),
            6..8 => self.fixed(),
            8 if self.recipe.one_way => self.check(),
            _ => self.limiter(),
        };
        let (from, to) = if self.random.chance(0.15) { (to, from) } else { (from, to) };
        self.link(from, to, law);
    }

    /// Bypasses, dead ends, rings on a dead end, islands: what half-drawn systems hold.
    fn oddities(&mut self) {
        if self.recipe.one_way && self.random.chance(0.3) {
            let bypass = self.bypass();
            let (from, to) = if self.random.chance(0.5) { (1, 0) } else { (self.random.below(self.nodes), 0) };
            if from != to {
                self.link(from, to, bypass);
            }
        }
        if self.random.chance(0.2) {
            let (at, end) = (self.random.below(self.nodes), self.node());
            self.main(at, end);
            if self.random.chance(0.5) {
                let other = self.node();
                self.main(end, other);
                let valve = self.valve(0.0);
                self.link(end, other, valve);
            }
        }
        if self.random.chance(0.1) {
            let (a, b) = (self.node(), self.node());
            self.main(a, b);
            let emitter = self.fixed();
            self.link(b, a, emitter);
        }
    }
}

/// A pump with random curve and settings from node 0 to node 1.
pub fn regulated_pump(random: &mut Random, recipe: Recipe) -> PumpLink {
    let curve = curve(random, recipe.zones);
    let greatest = curve.full_speed(0.0).0;
    let speed_cap = if random.chance(0.4) { 1.0 } else { random.between(0.4, 1.0) };
    let slope = match random.share() {
        _ if !recipe.rising => 0.0,
        x if x < 0.25 => 0.0,
        x if x < 0.35 => 1.0,
        _ => random.share(),
    };
    let reference = match random.below(3) {
        0 => ReferenceFlow::FullSpeed,
        1 => ReferenceFlow::CappedSpeed,
        _ => ReferenceFlow::DesignFlow(random.between(0.1, 1.2) * curve.run_out_m3_per_s()),
    };
    let settings = Regulation {
        head_limit_m: if random.chance(0.1) { None } else { Some(greatest * random.between(0.1, 1.05)) },
        slope,
        speed_cap,
        power_limit_w: None,
        minimum_speed: if random.chance(0.4) { 0.0 } else { speed_cap * random.between(0.0, 0.6) },
        reference,
    };
    pump(1, 0, &curve, settings)
}

/// A falling curve: sometimes a parabola, sometimes too angular for one.
fn curve(random: &mut Random, zones: usize) -> PumpCurve {
    let head = random.between(2.0, 12.0);
    let flow = zones as f64 * random.log_between(100.0, 800.0) * LITRE_PER_HOUR;
    let points = if random.chance(0.7) {
        let start = random.between(0.0, 0.3);
        (0..4)
            .map(f64::from)
            .map(|i| [flow * i / 3.0, head * (1.0 - start * i / 3.0 - (0.9 - start) * i * i / 9.0)])
            .collect()
    } else {
        vec![
            [0.0, head],
            [0.4 * flow, 0.97 * head],
            [0.6 * flow, 0.9 * head],
            [0.8 * flow, 0.5 * head],
            [flow, 0.3 * head],
        ]
    };
    PumpCurve::fit(&points).unwrap()
}

fn pump(discharge: NodeId, suction: NodeId, curve: &PumpCurve, settings: Regulation) -> PumpLink {
    let law = PumpLaw::Regulated(Box::new(Regulated::new(curve, settings).unwrap()));
    PumpLink { suction, discharge, law, density_kg_per_m3: DENSITY }
}

/// A second pump at fixed speed: beside the first, mostly behind a check valve, or in series with it.
fn add_second_pump(random: &mut Random, network: &mut Network, nodes: &mut usize) {
    let PumpLaw::Regulated(first) = &network.pumps[0].law else { return };
    let settings = Regulation {
        head_limit_m: None,
        slope: 0.0,
        speed_cap: random.between(0.3, 1.0),
        power_limit_w: None,
        minimum_speed: 0.0,
        reference: ReferenceFlow::FullSpeed,
    };
    let curve = first.curve().clone();
    let new = *nodes;
    *nodes += 1;
    if random.chance(0.5) {
        let law = match random.chance(0.8) {
            true => LinkLaw::Check(CheckValve::new(random.log_between(1.0, 10.0), 0.0, DENSITY)),
            false => LinkLaw::Valve(Valve::new(random.log_between(1.0, 10.0), DENSITY)),
        };
        network.links.push(Link { from: new, to: 1, law });
        network.pumps.push(pump(new, 0, &curve, settings));
    } else {
        network.pumps[0].discharge = new;
        network.pumps.push(pump(1, new, &curve, settings));
    }
    network.nodes = *nodes;
}

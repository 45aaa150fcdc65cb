//! Series chains: links one after another without a branch carry one flow, so their drops add and they enter the equations
//! as one. The reduction is exact and halves the unknowns of a two-pipe system.

use super::curve::{Curve, LEAST_ANCHOR, by_flow};
use super::{Link, Network, NodeId};
use crate::engine::links::{Drop, FlowRange, TERMS};
use std::ops::Range;

/// One link of a chain.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    /// k where its law is k q |q|, else not a number.
    square: f64,
    /// The link, with [`TURNED`] if it is drawn against the chain's direction.
    turned_link: u32,
    /// The node at its end, in the chain's direction; at its start where the chain is written backwards.
    node: u32,
}

/// The bit that says so.
const TURNED: u32 = 1 << 31;

impl Part {
    fn new(link: u32, node: u32, reversed: bool) -> Self {
        Self { square: f64::NAN, turned_link: link | if reversed { TURNED } else { 0 }, node }
    }

    pub(super) fn link(self) -> usize {
        (self.turned_link & !TURNED) as usize
    }

    pub(super) fn node(self) -> NodeId {
        self.node as usize
    }

    fn is_reversed(self) -> bool {
        self.turned_link & TURNED != 0
    }

    /// A value of its link in the chain's direction.
    #[inline(always)]
    pub(super) fn turn(self, value: f64) -> f64 {
        // The sign bit of a double is that of its upper half.
        f64::from_bits(value.to_bits() ^ (u64::from(self.turned_link & TURNED) << 32))
    }

    /// The flows that this part lets pass, in the chain's direction.
    pub(super) fn range(self, links: &[Link]) -> FlowRange {
        let own = links[self.link()].law.range();
        if self.is_reversed() { FlowRange { low: -own.high, high: -own.low } } else { own }
    }

    /// Its drop in the chain's direction. `warm` is the link's friction start.
    fn drop(self, links: &[Link], warm: &mut f64, flow: f64) -> Drop {
        let own = links[self.link()].law.drop(self.turn(flow), warm);
        Drop { pressure_pa: self.turn(own.pressure_pa), slope: own.slope }
    }
}

/// Links in series between two nodes where something branches, a pump stands or the line ends. In [`super::tree`] also links in
/// series before and behind something that branches: they carry one flow as well.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chain {
    from: u32,
    to: u32,
    /// Where its links stand in the list of parts: those from whose start in the direction of flow the pressure of the node at
    /// their end follows, those from whose end the pressure at their start does, in the opposite direction, and the last.
    first: u32,
    forwards: u32,
    backwards: u32,
    end: u32,
    /// How many parts have a law other than k q |q|, and the sum of k over those that have not.
    others: u32,
    squares: f64,
}

impl Chain {
    fn new(ends: [u32; 2], first: u32, forwards: u32, backwards: u32, end: u32) -> Self {
        Self { from: ends[0], to: ends[1], first, forwards, backwards, end, others: 0, squares: 0.0 }
    }

    pub(super) fn from(self) -> NodeId {
        self.from as usize
    }

    pub(super) fn to(self) -> NodeId {
        self.to as usize
    }

    /// Where all its links stand.
    #[inline(always)]
    pub(super) fn parts(self) -> Range<usize> {
        self.first as usize..self.end as usize
    }

    /// Where the links end that lead forwards, and those that lead backwards.
    #[inline(always)]
    pub(super) fn runs(self) -> (usize, usize) {
        (self.forwards as usize, self.backwards as usize)
    }
}

/// Chains of another list, each with whether it is turned round, that become one chain: those before something that branches,
/// and those behind it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Group<'a> {
    pub(super) before: &'a [(usize, bool)],
    pub(super) behind: &'a [(usize, bool)],
    /// Whether anything branches between.
    pub(super) around: bool,
}

/// A network as chains, with their laws.
#[derive(Clone, Debug, Default)]
pub(super) struct Chains {
    pub(super) chains: Vec<Chain>,
    pub(super) parts: Vec<Part>,
    /// The chain of each link.
    pub(super) chain_of: Vec<u32>,
    /// For each other part of a chain but the last its own series, around the chain's anchor.
    part_series: Vec<[f64; TERMS]>,
    /// A friction start for each part.
    warm: Vec<f64>,
}

impl Chains {
    /// Cuts a network of `nodes` nodes into chains.
    pub(super) fn new(network: &Network, nodes: usize) -> Self {
        let (chains, parts) = super::reduce::reduce(network, nodes);
        Self::of(chains, parts, network.links.len())
    }

    fn of(chains: Vec<Chain>, parts: Vec<Part>, links: usize) -> Self {
        let mut chain_of = vec![0; links];
        for (index, chain) in (0_u32..).zip(&chains) {
            for part in &parts[chain.parts()] {
                chain_of[part.link()] = index;
            }
        }
        Self { chain_of, part_series: vec![[0.0; TERMS]; parts.len()], warm: vec![0.0; parts.len()], chains, parts }
    }

    /// The same links in other chains.
    pub(super) fn regrouped<'a>(&self, groups: impl Iterator<Item = Group<'a>>) -> Self {
        let mut cutting = Cutting::default();
        let turned = |&(index, turned): &(usize, bool)| {
            let Chain { from, to, .. } = self.chains[index];
            if turned { (to, from) } else { (from, to) }
        };
        for Group { before, behind, around } in groups {
            let first = cutting.parts.len() as u32;
            for item in before {
                cutting.parts.extend(self.along(item).map(|(part, [_, end])| Part { node: end, ..part }));
            }
            let forwards = cutting.parts.len() as u32;
            for item in behind.iter().rev() {
                let start = cutting.parts.len();
                cutting.parts.extend(self.along(item).map(|(part, [start, _])| Part { node: start, ..part }));
                cutting.parts[start..].reverse();
            }
            let end = cutting.parts.len() as u32;
            let (start, last) = (before.first().map(|item| turned(item).0), before.last().map(|item| turned(item).1));
            let stop = behind.last().map(|item| turned(item).1);
            let from = start.or(stop).unwrap_or(0);
            let to = stop.or(if around { start } else { last }).unwrap_or(0);
            let (forwards, backwards) = if around { (forwards, end) } else { (end - 1, end - 1) };
            cutting.chains.push(Chain::new([from, to], first, forwards, backwards, end));
        }
        Self::of(cutting.chains, cutting.parts, self.chain_of.len())
    }

    /// The parts of a plain chain in the direction of flow, each with the nodes at its start and end.
    fn along(&self, &(index, turned): &(usize, bool)) -> impl Iterator<Item = (Part, [u32; 2])> {
        let (chain, parts) = (self.chains[index], self.parts_of(index));
        (0..parts.len()).map(move |i| {
            let at = if turned { parts.len() - 1 - i } else { i };
            let start = if at == 0 { chain.from } else { parts[at - 1].node };
            let nodes = [start, parts[at].node];
            let reversed = parts[at].is_reversed() != turned;
            (
                Part::new(parts[at].link() as u32, parts[at].node, reversed),
                if turned { [nodes[1], nodes[0]] } else { nodes },
            )
        })
    }

    /// Takes over changed laws of a chain.
    pub(super) fn renew(&mut self, chain: usize, links: &[Link]) {
        let (mut squares, mut others) = (0.0, 0);
        for at in self.chains[chain].parts() {
            let square = links[self.parts[at].link()].law.square().filter(|k| !k.is_nan());
            self.parts[at].square = square.unwrap_or(f64::NAN);
            match square {
                Some(k) => squares += k,
                None => others += 1,
            }
        }
        (self.chains[chain].squares, self.chains[chain].others) = (squares, others);
    }

    /// A chain's law at a flow.
    pub(super) fn drop(&mut self, chain: usize, links: &[Link], curve: &Curve, flow: f64) -> Drop {
        if curve.holds(flow) { curve.at(flow) } else { self.ask(chain, links, flow) }
    }

    /// A chain's law at a flow not far from where it was before: worth a new anchor.
    #[inline(always)]
    pub(super) fn follow(&mut self, chain: usize, links: &[Link], curve: &mut Curve, flow: f64, before: f64) -> Drop {
        if curve.holds(flow) { curve.at(flow) } else { self.follow_far(chain, links, curve, flow, before) }
    }

    #[inline(never)]
    fn follow_far(&mut self, chain: usize, links: &[Link], curve: &mut Curve, flow: f64, before: f64) -> Drop {
        let is_near = (flow - before).abs() <= 0.1 * flow.abs() && flow.abs() > LEAST_ANCHOR;
        match if is_near { self.anchor(chain, links, flow) } else { None } {
            Some(new) => {
                *curve = new;
                curve.at(flow)
            }
            None => self.ask(chain, links, flow),
        }
    }

    /// Sum of what the laws themselves give.
    fn ask(&mut self, chain: usize, links: &[Link], flow: f64) -> Drop {
        let mut sum = Drop::default();
        for at in self.chains[chain].parts() {
            let own = self.parts[at].drop(links, &mut self.warm[at], flow);
            sum.pressure_pa += own.pressure_pa;
            sum.slope += own.slope;
        }
        sum
    }

    /// Makes the series around a flow; `None` where a law has none.
    fn anchor(&mut self, chain: usize, links: &[Link], flow: f64) -> Option<Curve> {
        let Chain { squares, mut others, .. } = self.chains[chain];
        let at = squares * flow * flow.abs();
        let mut series = [at, 2.0 * at, at, 0.0, 0.0, 0.0];
        let mut reach = 0.5_f64;
        for index in self.chains[chain].parts() {
            let part = self.parts[index];
            if !part.square.is_nan() {
                continue;
            }
            let law = &links[part.link()].law;
            let own = law.expand(part.turn(flow), &mut self.warm[index])?;
            let coefficients = own.coefficients.map(|c| part.turn(c));
            reach = reach.min(own.reach);
            for (all, own) in series.iter_mut().zip(&coefficients) {
                *all += own;
            }
            // What the last takes is what the others leave.
            others -= 1;
            if others > 0 {
                self.part_series[index] = by_flow(&coefficients, flow);
            }
        }
        Some(Curve::new(flow, reach, &series))
    }

    /// The drops of a chain's parts one after another, the whole being known.
    #[inline(always)]
    pub(super) fn drops(&self, chain: Chain, flow: f64, whole: f64) -> Drops {
        let square = flow * flow.abs();
        Drops { flow, square, left: chain.others, rest: whole - chain.squares * square }
    }

    /// What a part without k takes; to be asked for in order. The last takes what the others leave.
    #[inline(always)]
    fn other(&mut self, drops: &mut Drops, at: usize, links: &[Link], curve: &Curve) -> f64 {
        if drops.left == 1 {
            return drops.rest;
        }
        let drop = match curve.holds(drops.flow) {
            true => curve.other(&self.part_series[at], drops.flow),
            false => self.parts[at].drop(links, &mut self.warm[at], drops.flow).pressure_pa,
        };
        drops.left -= 1;
        drops.rest -= drop;
        drop
    }

    /// What a part takes.
    #[inline(always)]
    pub(super) fn part_drop(&mut self, drops: &mut Drops, at: usize, links: &[Link], curve: &Curve) -> f64 {
        let square = self.parts[at].square;
        if square.is_nan() { self.other(drops, at, links, curve) } else { square * drops.square }
    }

    /// The parts of a chain.
    pub(super) fn parts_of(&self, chain: usize) -> &[Part] {
        &self.parts[self.chains[chain].parts()]
    }

    /// The flows that every link of a chain lets pass.
    pub(super) fn range(&self, chain: usize, links: &[Link]) -> FlowRange {
        let mut range = FlowRange::ANY;
        for part in self.parts_of(chain) {
            let own = part.range(links);
            range.low = range.low.max(own.low);
            range.high = range.high.min(own.high);
        }
        // A bound that is not a number fails this test too.
        if range.low <= range.high { range } else { FlowRange::NONE }
    }

    /// The least of the links' nominal flows.
    pub(super) fn nominal_flow(&self, chain: usize, links: &[Link]) -> f64 {
        self.parts_of(chain).iter().map(|part| links[part.link()].law.nominal_flow()).fold(f64::INFINITY, f64::min)
    }
}

/// What the parts of a chain take.
#[derive(Debug)]
pub(super) struct Drops {
    flow: f64,
    square: f64,
    /// How many parts without k are left, and what they take together.
    left: u32,
    rest: f64,
}

/// Collects chains one after another.
#[derive(Debug, Default)]
pub(super) struct Cutting {
    pub(super) chains: Vec<Chain>,
    pub(super) parts: Vec<Part>,
}

impl Cutting {
    /// Adds a link to the chain at work; returns its other end.
    pub(super) fn add(&mut self, link: usize, links: &[Link], start: NodeId) -> NodeId {
        let reversed = links[link].from != start;
        let end = if reversed { links[link].from } else { links[link].to };
        self.parts.push(Part::new(link as u32, end as u32, reversed));
        end
    }

    /// Ends the chain at work, whose parts begin at `first`.
    pub(super) fn finish(&mut self, from: NodeId, to: NodeId, first: usize) {
        let end = self.parts.len() as u32;
        self.chains.push(Chain::new([from as u32, to as u32], first as u32, end - 1, end - 1, end));
    }
}

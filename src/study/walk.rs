//! The walk round: from a zone's emitter against the flow to the pump that drives its water, with the flow to a pump's suction, and
//! on until the way is closed. At every tee it takes the greatest flow.
//!
//! The pump it comes from need not be the one it leads to: behind a separator or a mixing valve a second pump moves the water on.
//! Then the way goes on against the flow from the suction of the first until it meets the way down, through other pumps if they
//! lie there. So every walk that closes is a ring, round which what pumps add and all else takes come to nothing.

use super::Study;
use super::lower::LinkOwner;
use crate::document::ComponentId;
use std::collections::BTreeMap;

/// What water passes between two nodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Passed {
    /// A link of the network, by what it stands for.
    Link(LinkOwner),
    /// A running pump, by its number in the network.
    Pump(usize),
}

/// A flow from node to node.
#[derive(Clone, Copy, Debug)]
pub(super) struct Current {
    /// What it passes.
    pub(super) passed: Passed,
    /// Flow, m³/s: above zero, or below where a running pump is driven backwards or water runs against a link's direction.
    pub(super) flow: f64,
    from: usize,
    to: usize,
}

impl Current {
    /// The pump that drives this flow.
    fn driven_by(&self) -> Option<usize> {
        match self.passed {
            Passed::Pump(index) if self.flow > 0.0 => Some(index),
            _ => None,
        }
    }
}

/// A walk round through an emitter.
#[derive(Clone, Debug, Default)]
pub(super) struct Walk {
    /// The pump that drives the emitter's water, by its number in the network.
    pub(super) pump: Option<usize>,
    /// What the water passes from that pump's discharge round to its suction, in order.
    pub(super) way: Vec<Current>,
    /// Whether it leads back to the pump.
    pub(super) closes: bool,
}

impl Walk {
    /// Walks through an emitter at the present flows; empty where nothing flows through it.
    pub(super) fn through(study: &Study, emitter: ComponentId) -> Self {
        let currents = Currents::new(study);
        let own = Passed::Link(LinkOwner::Component(emitter));
        let Some(own) = currents.all.iter().find(|current| current.passed == own) else { return Self::default() };
        let is_driven = |_: usize, last: Option<&Current>| last.is_some_and(|current| current.driven_by().is_some());
        let (up, _) = currents.follow(own.from, Way::Up, is_driven);
        let (mut down, _) = currents.follow(own.to, Way::Down, is_driven);
        let pump = up.last().and_then(Current::driven_by);
        let mut back = Vec::new();
        let mut closes = false;
        if let Some(suction) = up.last().filter(|_| pump.is_some()).map(|current| current.from) {
            // How much of the way down lies before each of its nodes.
            let before: BTreeMap<usize, usize> =
                down.iter().enumerate().map(|(i, current)| (current.to, i + 1)).chain([(own.to, 0)]).collect();
            let (way, met) = currents.follow(suction, Way::Up, |node, _| before.contains_key(&node));
            back = way;
            if let Some(length) = met.and_then(|node| before.get(&node)) {
                down.truncate(*length);
                closes = true;
            }
        }
        let driven = up.len() - usize::from(pump.is_some());
        let supply = up[..driven].iter().rev();
        let way = supply.chain([own]).chain(&down).chain(back.iter().rev()).copied().collect();
        Self { pump, way, closes }
    }
}

/// Which way a walk goes at every node.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Up,
    Down,
}

/// All that flows.
struct Currents {
    all: Vec<Current>,
    /// For each node the greatest of what flows to it, and of what flows from it.
    greatest: [Vec<Option<usize>>; 2],
}

impl Currents {
    fn new(study: &Study) -> Self {
        let (lowered, results) = (study.lowered(), study.results());
        let links = lowered.network.links.iter().zip(&lowered.owners);
        let links = links.map(|(link, owner)| (Passed::Link(*owner), results.flow_of(owner), link.from, link.to));
        let pumps = lowered.network.pumps.iter().zip(&lowered.pumps).enumerate();
        let pumps = pumps.map(|(index, (link, pump))| {
            (Passed::Pump(index), results.component_flow(pump.id), link.suction, link.discharge)
        });
        let along = |(passed, flow, from, to): (Passed, f64, usize, usize)| {
            let (from, to) = if flow >= 0.0 { (from, to) } else { (to, from) };
            Current { passed, flow, from, to }
        };
        let all: Vec<Current> = links.chain(pumps).filter(|(_, flow, ..)| *flow != 0.0).map(along).collect();
        let nothing: Vec<Option<usize>> = vec![None; lowered.network.nodes];
        let mut greatest = [nothing.clone(), nothing];
        for (index, current) in all.iter().enumerate() {
            for (at, greatest) in [current.to, current.from].into_iter().zip(&mut greatest) {
                let is_more = |other: &usize| all[*other].flow.abs() <= current.flow.abs();
                if greatest[at].as_ref().is_none_or(is_more) {
                    greatest[at] = Some(index);
                }
            }
        }
        Self { all, greatest }
    }

    fn at(&self, node: usize, way: Way) -> Option<&Current> {
        let index = (*self.greatest[usize::from(way == Way::Down)].get(node)?)?;
        self.all.get(index)
    }

    /// Follows the greatest flow from a node until an end is met: a node, and what was passed last on the way there. Tells the
    /// node it stopped at, if that is an end.
    fn follow(
        &self,
        start: usize,
        way: Way,
        is_end: impl Fn(usize, Option<&Current>) -> bool,
    ) -> (Vec<Current>, Option<usize>) {
        let mut passed: Vec<Current> = Vec::new();
        let mut met = vec![false; self.greatest[0].len()];
        let mut node = start;
        loop {
            if is_end(node, passed.last()) {
                return (passed, Some(node));
            }
            match self.at(node, way) {
                Some(current) if !std::mem::replace(&mut met[node], true) => {
                    passed.push(*current);
                    node = if way == Way::Up { current.from } else { current.to };
                }
                _ => return (passed, None),
            }
        }
    }
}

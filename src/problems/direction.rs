//! Directions that the drawing forces: which way every pump, check valve and bypass valve of a loop stands to the pump that
//! drives it.
//!
//! A block is reduced step by step: two edges in a row become one, and so do two edges side by side. An edge remembers the
//! pumps and valves in it and which way they point along it; one with a pump has a drive. Edges side by side are united
//! only if both have no drive or both drive the same way, so that along every edge the direction of flow stays beyond doubt.
//! Where nothing more can be reduced (meshes, circuits that push against each other over a common pipe) no more is claimed.

use super::drawing::{Drawing, Edge};
use crate::document::{ComponentId, ComponentKind, Port};
use std::collections::{BTreeSet, HashMap};

/// A pump, check valve or bypass valve within a run of the drawing.
#[derive(Clone, Copy, Debug)]
pub(super) struct Member {
    /// The component.
    pub id: ComponentId,
    /// Whether it points along the run.
    forward: bool,
}

/// A run of edges whose direction of flow is beyond doubt.
#[derive(Clone, Debug)]
pub(super) struct Run {
    from: usize,
    to: usize,
    members: Vec<Member>,
    /// The first pump in it by identity, and whether it drives along the run.
    drive: Option<Member>,
}

impl Run {
    fn turned(mut self) -> Self {
        std::mem::swap(&mut self.from, &mut self.to);
        self.members.iter_mut().chain(&mut self.drive).for_each(|member| member.forward = !member.forward);
        self
    }

    fn with(mut self, other: Self) -> Self {
        self.members.extend(other.members);
        self.drive = self.drive.into_iter().chain(other.drive).min_by_key(|drive| drive.id);
        self
    }

    /// The driving pump and all members that point against it.
    pub fn against(&self) -> Option<(ComponentId, Vec<ComponentId>)> {
        let drive = self.drive?;
        let against = self.members.iter().filter(|m| m.forward != drive.forward && m.id != drive.id);
        Some((drive.id, against.map(|member| member.id).collect()))
    }
}

/// The runs of a block, given by its edges, after all that can be reduced has been.
pub(super) fn runs(drawing: &Drawing, edges: &[Edge]) -> Vec<Run> {
    // Nodes are counted from the first of the block: a building of many circuits has many nodes.
    let first = edges.iter().map(|edge| edge.from.min(edge.to)).min().unwrap_or(0);
    let nodes = edges.iter().map(|edge| edge.from.max(edge.to) + 1 - first).max().unwrap_or(0);
    let mut reduced =
        Reduced { at_node: vec![BTreeSet::new(); nodes], round: vec![false; nodes], ..Reduced::default() };
    for edge in edges {
        let kind = edge.component.and_then(|id| Some((id, &drawing.component(id)?.kind)));
        let (member, drives) = match kind {
            Some((id, ComponentKind::Pump(_))) => (Some(Member { id, forward: true }), true),
            Some((id, ComponentKind::CheckValve { .. } | ComponentKind::BypassValve { .. })) => {
                (Some(Member { id, forward: true }), false)
            }
            _ => (None, false),
        };
        let drive = member.filter(|_| drives);
        reduced.add(Run { from: edge.from - first, to: edge.to - first, members: member.into_iter().collect(), drive });
    }
    reduced.unite_rows();
    reduced.runs.into_iter().flatten().collect()
}

/// Both ends of a run and the end to which a drive points, if there is one: runs of one key lie side by side.
type Key = (usize, usize, Option<bool>);

/// A block in the making: runs side by side are united as they come, runs in a row node by node, each once.
#[derive(Default)]
struct Reduced {
    runs: Vec<Option<Run>>,
    /// The runs that end at each node, but for those that begin there too.
    at_node: Vec<BTreeSet<usize>>,
    /// Whether a run begins and ends at the node.
    round: Vec<bool>,
    beside: HashMap<Key, usize>,
    /// Nodes where runs may have come to lie in a row.
    waiting: Vec<usize>,
}

impl Reduced {
    fn key(run: &Run) -> Key {
        (run.from, run.to, run.drive.map(|drive| drive.forward))
    }

    fn add(&mut self, run: Run) {
        if run.from == run.to {
            self.round[run.from] = true;
            self.runs.push(Some(run));
            return;
        }
        let run = if run.from > run.to { run.turned() } else { run };
        let ends = [run.from, run.to];
        let beside = self.beside.get(&Self::key(&run)).and_then(|index| self.runs.get_mut(*index));
        if let Some(slot) = beside
            && let Some(first) = slot.take()
        {
            *slot = Some(first.with(run));
        } else {
            let index = self.runs.len();
            self.beside.insert(Self::key(&run), index);
            for end in ends {
                self.at_node[end].insert(index);
            }
            self.runs.push(Some(run));
        }
        self.waiting.extend(ends);
    }

    fn take(&mut self, index: usize) -> Option<Run> {
        let run = self.runs.get_mut(index)?.take()?;
        self.beside.remove(&Self::key(&run));
        for end in [run.from, run.to] {
            self.at_node[end].remove(&index);
        }
        Some(run)
    }

    /// Unites runs in a row at every node where exactly two ends meet.
    fn unite_rows(&mut self) {
        while let Some(node) = self.waiting.pop() {
            let mut at = self.at_node[node].iter().copied();
            let (Some(a), Some(b), None) = (at.next(), at.next(), at.next()) else { continue };
            if self.round[node] {
                continue;
            }
            if let (Some(first), Some(second)) = (self.take(a), self.take(b)) {
                let first = if first.to == node { first } else { first.turned() };
                let second = if second.from == node { second } else { second.turned() };
                let end = second.to;
                self.add(Run { to: end, ..first.with(second) });
            }
        }
    }
}

/// The block of a component, if it lies on a loop.
pub(super) fn loop_of(drawing: &Drawing, id: ComponentId) -> Option<usize> {
    drawing.node(id, Port::Inlet)?;
    drawing.block(id).filter(|block| drawing.is_loop(*block))
}

//! Directions that the drawing forces: which way every pump, check valve and bypass valve of a loop stands to the pump that
//! drives it.
//!
//! A block is reduced step by step: two edges in a row become one, and so do two edges side by side. An edge remembers the
//! pumps and valves in it and which way they point along it; one with a pump has a drive. Edges side by side are united
//! only if both have no drive or both drive the same way, so that along every edge the direction of flow stays beyond doubt.
//! Where nothing more can be reduced (meshes, circuits that push against each other over a common pipe) no more is claimed.

use super::drawing::Drawing;
use crate::document::{ComponentId, ComponentKind, Port};
use std::collections::BTreeMap;

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

/// The runs of a block after all that can be reduced has been.
pub(super) fn runs(drawing: &Drawing, block: usize) -> Vec<Run> {
    let of_block = drawing.edges.iter().zip(&drawing.blocks).filter(|(_, b)| **b == block);
    let mut runs: Vec<Run> = of_block
        .map(|(edge, _)| {
            let kind = edge.component.and_then(|id| Some((id, &drawing.component(id)?.kind)));
            let (member, drives) = match kind {
                Some((id, ComponentKind::Pump(_))) => (Some(Member { id, forward: true }), true),
                Some((id, ComponentKind::CheckValve { .. } | ComponentKind::BypassValve { .. })) => {
                    (Some(Member { id, forward: true }), false)
                }
                _ => (None, false),
            };
            let drive = member.filter(|_| drives);
            Run { from: edge.from, to: edge.to, members: member.into_iter().collect(), drive }
        })
        .collect();
    while side_by_side(&mut runs) || in_a_row(&mut runs) {}
    runs
}

/// Unites edges side by side; whether there were any.
fn side_by_side(runs: &mut Vec<Run>) -> bool {
    let before = runs.len();
    // By both ends and the end to which a drive points, if there is one.
    let mut kept: BTreeMap<(usize, usize, Option<bool>), Run> = BTreeMap::new();
    let mut round: Vec<Run> = Vec::new();
    for run in runs.drain(..) {
        if run.from == run.to {
            round.push(run);
            continue;
        }
        let run = if run.from > run.to { run.turned() } else { run };
        let key = (run.from, run.to, run.drive.map(|drive| drive.forward));
        let run = match kept.remove(&key) {
            Some(first) => first.with(run),
            None => run,
        };
        kept.insert(key, run);
    }
    runs.extend(kept.into_values());
    runs.extend(round);
    runs.len() < before
}

/// Unites edges in a row, at every node where exactly two ends meet; whether there were any.
fn in_a_row(runs: &mut Vec<Run>) -> bool {
    let mut at_node: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut slots: Vec<Option<Run>> = runs.drain(..).map(Some).collect();
    for (index, run) in slots.iter().enumerate() {
        let ends = run.iter().flat_map(|run| [run.from, run.to]);
        ends.for_each(|node| at_node.entry(node).or_default().push(index));
    }
    let mut any = false;
    // Where an edge was swallowed its slot is empty; such nodes wait for the next round.
    for (node, at) in at_node {
        let &[a, b] = at.as_slice() else { continue };
        if a == b || slots[a].is_none() || slots[b].is_none() {
            continue;
        }
        if let (Some(first), Some(second)) = (slots[a].take(), slots[b].take()) {
            let first = if first.to == node { first } else { first.turned() };
            let second = if second.from == node { second } else { second.turned() };
            let end = second.to;
            slots[a] = Some(Run { to: end, ..first.with(second) });
            any = true;
        }
    }
    runs.extend(slots.into_iter().flatten());
    any
}

/// The block of a component, if it lies on a loop.
pub(super) fn loop_of(drawing: &Drawing, id: ComponentId) -> Option<usize> {
    drawing.node(id, Port::Inlet)?;
    drawing.block(id).filter(|block| drawing.is_loop(*block))
}

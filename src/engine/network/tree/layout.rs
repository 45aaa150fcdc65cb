//! The tree as a list of cells in the order of the sweeps.
//!
//! A cell is a bundle of what lies in parallel between two nodes, with the chains that lie in series before and behind it, which
//! are one chain more: in a two-pipe system a cell is a zone with all that lies beyond it, behind one length of flow and return
//! main. Two bundles in series make a pair of cells under a joint. Cells stand parents first, and chains in the order of their
//! cells, so that both sweeps and the evaluation of the laws pass through memory from one end to the other.

use super::super::NodeId;
use super::super::chains::Group;
use super::shape::{Joined, Kind, Shape};

/// No cell, no chain.
pub(super) const NONE: u32 = u32::MAX;

/// One cell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    /// The chains of its bundle. The chain in series with the bundle, if there is one, is the next.
    pub(super) first: u32,
    pub(super) end: u32,
    /// Which cell's bundle, or half of which joint, it is.
    pub(super) parent: u32,
    /// Where the pressure across it is found: at its parent, or, for the second cell of a joint, as many places further as there
    /// are cells.
    pub(super) source: u32,
    /// For a joint: its second cell. The first is the next one.
    pub(super) second: u32,
    /// For a joint: the nodes before it, between its cells and behind it.
    pub(super) nodes: [u32; 3],
    pub(super) has_series: bool,
}

/// Something with whether it is turned round.
type Turned = (usize, bool);

/// Cells, and the chains they hold.
#[derive(Debug, Default)]
pub(super) struct Layout {
    pub(super) cells: Vec<Cell>,
    /// How many chains can carry flow.
    pub(super) moving: usize,
    chains: Vec<Turned>,
    /// For each chain of the cells: where it begins in `chains`, where what lies behind the bundle begins, and where it ends.
    groups: Vec<[usize; 3]>,
}

/// What is to become a cell.
struct Item {
    elements: Vec<Turned>,
    parent: u32,
    is_second: bool,
}

struct Building<'a> {
    shape: &'a Shape,
    layout: Layout,
    is_placed: Vec<bool>,
    items: Vec<Item>,
}

impl Layout {
    /// Lays out a tree from `discharge` to suction. `is_free` tells of each chain whether it passes any flow: only such lie in
    /// series with a bundle.
    pub(super) fn new(shape: &Shape, discharge: NodeId, is_free: &[bool]) -> Self {
        let root = (shape.root, shape.joined[shape.root].from as usize != discharge);
        let is_placed = vec![false; is_free.len()];
        let mut building = Building { shape, layout: Self::default(), is_placed, items: Vec::new() };
        let elements = building.flat(root, |kind| matches!(kind, Kind::Series(_)));
        building.items.push(Item { elements, parent: NONE, is_second: false });
        while let Some(item) = building.items.pop() {
            building.cell(item, is_free);
        }
        let Building { mut layout, is_placed, .. } = building;
        let cells = layout.cells.len() as u32;
        for cell in layout.cells.iter_mut().filter(|cell| cell.source == NONE && cell.parent != NONE) {
            cell.source = cells + cell.parent;
        }
        layout.moving = layout.groups.len();
        for chain in (0..is_free.len()).filter(|&chain| !is_placed[chain]) {
            layout.group(&[(chain, false)], &[]);
        }
        layout
    }

    /// The chains in order; those that can carry no flow last.
    pub(super) fn groups(&self) -> impl Iterator<Item = Group<'_>> {
        let mut series = vec![false; self.groups.len()];
        for cell in self.cells.iter().filter(|cell| cell.has_series) {
            series[cell.end as usize] = true;
        }
        self.groups.iter().zip(series).map(|(&[first, behind, end], around)| Group {
            before: &self.chains[first..behind],
            behind: &self.chains[behind..end],
            around,
        })
    }

    fn group(&mut self, before: &[Turned], behind: &[Turned]) {
        let first = self.chains.len();
        self.chains.extend_from_slice(before);
        self.chains.extend_from_slice(behind);
        self.groups.push([first, first + before.len(), self.chains.len()]);
    }
}

impl Building<'_> {
    fn joined(&self, index: usize) -> Joined {
        self.shape.joined[index]
    }

    /// The node behind something.
    fn end(&self, (index, turned): Turned) -> u32 {
        self.start((index, !turned))
    }

    /// The node before something.
    fn start(&self, (index, turned): Turned) -> u32 {
        let Joined { from, to, .. } = self.joined(index);
        if turned { to } else { from }
    }

    /// What something is made of, taken apart as long as it is of a kind; in its direction.
    fn flat(&self, whole: Turned, is_kind: impl Fn(Kind) -> bool) -> Vec<Turned> {
        let mut flat = Vec::new();
        let mut left = vec![whole];
        while let Some((index, turned)) = left.pop() {
            let kind = self.joined(index).kind;
            match kind {
                Kind::Series([a, b]) | Kind::Parallel([a, b]) if is_kind(kind) => {
                    let (a, b) = ((a.0, a.1 != turned), (b.0, b.1 != turned));
                    let backwards = turned && matches!(kind, Kind::Series(_));
                    left.extend(if backwards { [a, b] } else { [b, a] });
                }
                _ => flat.push((index, turned)),
            }
        }
        flat
    }

    fn cell(&mut self, item: Item, is_free: &[bool]) {
        let Item { mut elements, parent, is_second } = item;
        let here = self.layout.cells.len() as u32;
        if is_second {
            self.layout.cells[parent as usize].second = here;
        }
        let first = self.layout.groups.len() as u32;
        let source = if is_second { NONE } else { parent };
        let mut cell =
            Cell { first, end: first, parent, source, second: NONE, nodes: [NONE; 3], has_series: elements.len() > 1 };
        let is_bundle = |&(index, _): &Turned| !is_free.get(index).is_some_and(|free| *free);
        let bundle = elements.iter().position(is_bundle).unwrap_or(elements.len() - 1);
        if let Some(next) = elements.iter().skip(bundle + 1).position(is_bundle) {
            let rest = elements.split_off(bundle + 1 + next);
            cell.nodes = [self.start(elements[0]), self.start(rest[0]), self.end(rest[rest.len() - 1])];
            cell.has_series = false;
            self.layout.cells.push(cell);
            self.items.push(Item { elements: rest, parent: here, is_second: true });
            self.items.push(Item { elements, parent: here, is_second: false });
            return;
        }
        for child in self.flat(elements[bundle], |kind| matches!(kind, Kind::Parallel(_))) {
            if let Kind::Chain(chain) = self.joined(child.0).kind {
                self.is_placed[chain] = true;
                self.layout.group(&[child], &[]);
            } else {
                let elements = self.flat(child, |kind| matches!(kind, Kind::Series(_)));
                self.items.push(Item { elements, parent: here, is_second: false });
            }
        }
        cell.end = self.layout.groups.len() as u32;
        if cell.has_series {
            let (before, behind) = (&elements[..bundle], &elements[bundle + 1..]);
            for &(chain, _) in before.iter().chain(behind) {
                self.is_placed[chain] = true;
            }
            self.layout.group(before, behind);
        }
        self.layout.cells.push(cell);
    }
}

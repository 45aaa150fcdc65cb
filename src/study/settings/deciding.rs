//! The edges that decide: of all states' ends, those that no other makes superfluous.
//!
//! A state is served when the settings bring the pump up to its least edge and keep it from passing its greatest. A set-line never
//! falls with flow; so an edge with more flow, less head and less speed than another is reached whenever the other is, and
//! thousands of combinations come down to a few.

use crate::study::part_load::{Edge, Law, PartLoad, Reason, Served};

/// How far a ratio of heads may miss one: rounding of edges that are solved to 1e-9.
const ROUNDING: f64 = 1e-8;

/// An edge with the number of its state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StateEdge {
    /// The state, in the order of [`PartLoad::served`].
    pub state: usize,
    /// Its edge.
    pub edge: Edge,
    /// Whether even full speed does not come up to it: every setting misses it.
    pub is_beyond: bool,
}

/// A setting's fault in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Miss {
    /// The state, in the order of [`PartLoad::served`].
    pub state: usize,
    /// What happens there.
    pub reason: Reason,
    /// By how much the head is off, as a share; below zero by how much it is not.
    pub by: f64,
}

impl Miss {
    /// Whether it is more than rounding.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.by > ROUNDING
    }
}

/// The edges that decide.
#[derive(Clone, Debug, Default)]
pub struct Deciding {
    /// What must be reached.
    pub floors: Vec<StateEdge>,
    /// What must not be passed.
    pub ceilings: Vec<StateEdge>,
    /// States that no setting serves, with what they lack.
    pub impossible: Vec<(usize, Served)>,
}

impl Deciding {
    /// The deciding edges of all states.
    #[must_use]
    pub fn new(part_load: &PartLoad) -> Self {
        let mut deciding = Self::default();
        for (state, served) in part_load.served() {
            deciding.floors.extend(served.least.map(|edge| StateEdge { state, edge, is_beyond: served.beyond }));
            deciding.ceilings.extend(served.most.map(|edge| StateEdge { state, edge, is_beyond: false }));
            if !served.is_possible() {
                deciding.impossible.push((state, *served));
            }
        }
        deciding.pruned()
    }

    /// The edges of both: what serves in two systems alike.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.floors.extend(other.floors);
        self.ceilings.extend(other.ceilings);
        self.impossible.extend(other.impossible);
        self.pruned()
    }

    /// The same where zones may have more than their greatest flow: nobody starves, and what is too loud stays forbidden.
    #[must_use]
    pub fn letting_overflow(part_load: &PartLoad) -> Self {
        let mut deciding = Self::default();
        for (state, served) in part_load.served() {
            let loud = served.loud;
            deciding.floors.extend(served.least.map(|edge| StateEdge { state, edge, is_beyond: served.beyond }));
            deciding.ceilings.extend(loud.map(|edge| StateEdge { state, edge, is_beyond: false }));
            let served = Served { most: loud, always: false, ..*served };
            if !served.is_possible() {
                deciding.impossible.push((state, served));
            }
        }
        deciding.pruned()
    }

    fn pruned(mut self) -> Self {
        let harder_floor = |a: &Edge, b: &Edge| {
            a.speed >= b.speed && a.flow <= b.flow && a.head >= b.head && a.electric_w >= b.electric_w
        };
        let harder_ceiling = |a: &Edge, b: &Edge| {
            a.speed <= b.speed && a.flow >= b.flow && a.head <= b.head && a.electric_w <= b.electric_w
        };
        self.floors = front(self.floors, |a, b| b.speed.total_cmp(&a.speed), harder_floor);
        self.ceilings = front(self.ceilings, |a, b| a.speed.total_cmp(&b.speed), harder_ceiling);
        self
    }

    /// Whether settings reach all that must be.
    #[inline]
    pub(super) fn reaches_all(&self, law: &Law) -> bool {
        self.floors.iter().all(|floor| law.reach(&floor.edge) >= 1.0 - ROUNDING)
    }

    /// Whether settings pass nothing that must not be.
    #[inline]
    pub(super) fn passes_none(&self, law: &Law) -> bool {
        self.ceilings.iter().all(|ceiling| law.reach(&ceiling.edge) <= 1.0 + ROUNDING)
    }

    /// Whether settings serve every zone in every state.
    #[must_use]
    pub fn serves(&self, law: &Law) -> bool {
        self.impossible.is_empty() && self.reaches_all(law) && self.passes_none(law)
    }

    /// The worst of what settings miss; `None` where they serve all.
    #[must_use]
    pub fn worst(&self, law: &Law) -> Option<Miss> {
        self.nearest(law).filter(Miss::counts)
    }

    /// The worst of what settings miss, or what they come nearest to missing.
    #[must_use]
    pub fn nearest(&self, law: &Law) -> Option<Miss> {
        let miss = |at: &StateEdge, by: f64| Miss { state: at.state, reason: at.edge.reason, by };
        let least = |at: &StateEdge| if at.is_beyond { 2.0 * ROUNDING } else { f64::MIN };
        let short = self.floors.iter().map(|at| miss(at, (1.0 - law.reach(&at.edge)).max(least(at))));
        let over = self.ceilings.iter().map(|at| miss(at, law.reach(&at.edge) - 1.0));
        short.chain(over).max_by(|a, b| a.by.total_cmp(&b.by))
    }
}

/// Those that nothing before them makes superfluous, the hardest first; of equal ones the first.
fn front(
    mut edges: Vec<StateEdge>,
    order: impl Fn(&Edge, &Edge) -> std::cmp::Ordering,
    is_harder: impl Fn(&Edge, &Edge) -> bool,
) -> Vec<StateEdge> {
    edges.sort_by(|a, b| order(&a.edge, &b.edge).then(a.state.cmp(&b.state)));
    let mut kept: Vec<StateEdge> = Vec::new();
    for edge in edges {
        if !kept.iter().any(|other| is_harder(&other.edge, &edge.edge)) {
            kept.push(edge);
        }
    }
    kept
}

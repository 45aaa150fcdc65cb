//! The solver of a network, whatever its shape: tree-like networks with one pump by [`super::tree`], all others, and what the
//! former does not settle, by [`super::general`].

use super::general::General;
use super::tree::{Change, Tree};
use super::{Network, Outcome};

/// Most solves left to the general solver before the tree is tried again.
const LONGEST_LEAVE: u32 = 64;

/// Prepared work for one topology, with the last answer as the next start.
#[derive(Clone, Debug)]
pub struct Solver {
    tree: Option<Box<Tree>>,
    /// For a tree made only when first needed.
    general: Option<Box<General>>,
    /// Whether the last answer came from the general solver.
    is_general: bool,
    /// How many solves are left to the general solver before the tree is tried again, and how many were the last time.
    left: u32,
    leave: u32,
    /// The answer before the first solve.
    none: Outcome,
}

impl Solver {
    /// Prepares the work for a network's topology.
    #[must_use]
    pub fn new(network: &Network) -> Self {
        Self::prepare(network, &[])
    }

    fn prepare(network: &Network, was_bounded: &[bool]) -> Self {
        let tree = Tree::new(network, was_bounded).map(Box::new);
        let general = if tree.is_none() { Some(Box::new(General::new(network))) } else { None };
        Self { is_general: general.is_some(), tree, general, left: 0, leave: 0, none: Outcome::new(0, 0, 0) }
    }

    /// Forgets the last answer: the next solve starts as from rest.
    pub fn start_cold(&mut self) {
        if let Some(tree) = &mut self.tree {
            tree.cold = true;
            self.left = 0;
        }
        if let Some(general) = &mut self.general {
            general.cold = true;
        }
    }

    /// The last answer.
    #[must_use]
    pub fn outcome(&self) -> &Outcome {
        match (&self.tree, &self.general) {
            (_, Some(general)) if self.is_general => &general.outcome,
            (Some(tree), _) => &tree.outcome,
            _ => &self.none,
        }
    }

    /// Solves the network, from the last answer where there is one. Laws and pump settings may differ from the last solve; a
    /// network of another topology is prepared anew. Looks at every link for what changed: where only pumps did,
    /// [`Self::solve_settings`] saves that.
    pub fn solve(&mut self, network: &Network) -> &Outcome {
        self.follow(network);
        self.settle(network, false)
    }

    /// Solves the network where nothing but the pumps' laws changed since the last solve by this solver: the links are not
    /// looked at, and a change there may go unnoticed until [`Self::solve`].
    pub fn solve_settings(&mut self, network: &Network) -> &Outcome {
        let fits = match (&self.tree, &self.general) {
            (Some(tree), _) => tree.fits(network),
            (None, Some(general)) => general.fits(network),
            (None, None) => false,
        };
        if fits { self.settle(network, false) } else { self.solve(network) }
    }

    /// Solves the network from rest, everything that opens on pressure shut, and keeps to the answer nearest to that.
    pub(super) fn solve_from_rest(&mut self, network: &Network) -> &Outcome {
        self.follow(network);
        self.left = 0;
        match (&mut self.tree, &mut self.general) {
            (Some(tree), _) => tree.start_at_rest(),
            (None, Some(general)) => general.start_at_rest(),
            (None, None) => {}
        }
        self.settle(network, true)
    }

    /// Solves the network from where the solver stands, and stays at a point even if it does not hold.
    pub(super) fn solve_here(&mut self, network: &Network) -> &Outcome {
        self.follow(network);
        if let Some(general) = &mut self.general {
            general.leaves_unstable = false;
        }
        self.settle(network, false);
        if let Some(general) = &mut self.general {
            general.leaves_unstable = true;
        }
        self.outcome()
    }

    /// Takes over what changed in the network.
    pub(super) fn follow(&mut self, network: &Network) {
        let change = match (&mut self.tree, &mut self.general) {
            (Some(tree), _) => tree.follow(network),
            (None, Some(general)) => general.follow(network),
            (None, None) => Change::Topology,
        };
        match change {
            Change::Nothing => {}
            // What defeated the tree may be gone.
            Change::Laws => self.left = 0,
            Change::Topology => {
                let was_bounded = self.tree.as_ref().map(|tree| tree.bounded_links()).unwrap_or_default();
                *self = Self::prepare(network, &was_bounded);
            }
        }
    }

    fn settle(&mut self, network: &Network, is_from_rest: bool) -> &Outcome {
        if let Some(tree) = self.tree.as_mut().filter(|_| self.left == 0) {
            self.is_general = !tree.solve(network);
            if !self.is_general {
                self.leave = 0;
                return self.outcome();
            }
            self.leave = (2 * self.leave).clamp(1, LONGEST_LEAVE);
            self.left = self.leave;
            let general = self.general.get_or_insert_with(|| Box::new(General::new(network)));
            general.cold = true;
            if general.follow(network) == Change::Topology {
                **general = General::new(network);
            }
            if is_from_rest {
                general.start_at_rest();
            }
        }
        self.left = self.left.saturating_sub(1);
        if let Some(general) = &mut self.general {
            general.solve(network);
        }
        self.is_general = true;
        self.outcome()
    }
}

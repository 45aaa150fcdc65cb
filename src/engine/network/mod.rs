//! The network: nodes, links, pumps, and the solver that finds every flow.
//!
//! [`Network`] is what is there, [`Solver`] is the prepared work for one topology, [`Outcome`] is the answer together with
//! how far it can be trusted. A change of a law's numbers or of a pump's settings costs a few steps from the last
//! answer; a change of what is connected to what is noticed and prepared anew.
//!
//! Links in series become chains, whose laws near their present flow are polynomials (`curve`). Tree-like networks with
//! one pump are solved by two sweeps a step (`tree`), all others by sparse elimination (`general`, `newton`, `ldl`), and what
//! neither settles by the least content (`content`). What counts as an answer is the same everywhere (`judge`).

mod chains;
mod content;
mod curve;
mod dense;
mod general;
mod judge;
mod ldl;
mod newton;
mod outcome;
mod points;
mod prepare;
mod pumps;
mod reach;
mod reduce;
mod reporting;
mod rest;
mod solver;
mod stability;
mod terminals;
mod tree;

pub use outcome::{Outcome, PumpOutcome, Verdict};
pub use points::OperatingPoint;
pub use pumps::{PumpLaw, PumpLink};
pub use solver::Solver;

use crate::engine::links::LinkLaw;
use prepare::node_count;

/// A node, counted from zero.
pub type NodeId = usize;

/// A link between two nodes; flow is positive from `from` to `to`.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// Where positive flow comes from.
    pub from: NodeId,
    /// Where positive flow goes to.
    pub to: NodeId,
    /// Its law.
    pub law: LinkLaw,
}

/// A closed network.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Network {
    /// How many nodes there are.
    pub nodes: usize,
    /// Passive links.
    pub links: Vec<Link>,
    /// Running pumps.
    pub pumps: Vec<PumpLink>,
    /// The node whose pressure is known (the expansion vessel); pressures are relative to it.
    pub reference: NodeId,
}

//! The network: nodes, links, pumps, and the solver that finds every flow.
//!
//! [`Network`] is what is there, [`Solver`] is the prepared work for one topology, [`Outcome`] is the answer together with
//! how far it can be trusted. A change of a law's numbers or of a pump's settings costs a few steps from the last
//! answer; a change of what is connected to what is noticed and prepared anew.
//!
//! Links in series become chains, whose laws near their present flow are polynomials (`curve`). Tree-like networks with
//! one pump are solved by two sweeps a step (`tree`), all others by sparse elimination (`general`, `newton`, `elimination`),
//! and what neither settles by the least content (`content`). What counts as an answer is the same everywhere (`judge`).
//!
//! # What is guaranteed
//!
//! [`Verdict::Converged`] means: at every node what flows in flows out, to 1e-10 of the greatest flow; every link's drop is its law's, and
//! every pump's rise its curve's, to 1e-10 of the greatest pump pressure; every flow lies in its link's range, and what holds a
//! flow at an end of its range pushes the right way. `tests/networks_audit.rs` recomputes this from flows, pressures and laws
//! alone. No other answer is called one; what has none (a held flow that cannot pass) is [`Verdict::NotConverged`].
//!
//! - *Where it is reached.* With one pump curve or several, none of which rises, flows are unique, and the content leads to them from any
//!   start. With rising set-lines there is descent but no such proof; of some hundred thousand random networks from rest (trees, rings,
//!   grids, check valves, limiters, bypasses, second pumps, most of them half shut) none stayed unanswered. Of graphs drawn without
//!   any plan with two or three pumps anywhere, some 3 in 10,000 did: pumps that push each other far back beyond rest or run-out.
//! - *Where it starts does not matter*: flows from two unlike starts agree to 1e-9 of the greatest pump flow (a tenth of run-out at
//!   least), on 400,000 solves to 5e-10. It cannot be better than doubles allow where a link whose law goes with the square of
//!   flow carries next to nothing though it lies between live parts, a bridge in balance: its flow is the root of a pressure
//!   difference, and 1e-16 of the pump's pressure is then 1e-8 of its flow. What no pump moves at all is set to nothing (`rest`).
//! - *Several operating points*: a rising set-line with something that opens late. [`Solver::operating_points`] finds them for one
//!   pump, [`Solver::shared_points`] for several, to within the step of their scans; each pump and [`Outcome::stable`] say whether a point holds.
//!
//! # Where there is no unique answer
//!
//! | what is open | what the outcome says | what is chosen |
//! |---|---|---|
//! | pressures of a part that hangs together with the reference node through nothing that follows its law | not a number, node by node | nothing |
//! | pressure between two parts in a row that hold one flow (shut valves, check valves face to face, limiters at one set flow), and the drop of each | not a number | nothing |
//! | shares of pumps side by side at one level head | [`PumpOutcome::is_share_open`] | nearest to the start; equal pumps equally |
//! | which of two equal pumps that fight leads | [`Outcome::stable`] after the search | the first in order |
//! | flow around a ring of links that take no pressure at all | nothing: give them a loss, as `study` does | as it was |
//!
//! Flows of paths that stand still behind shut check valves are unique (none), and so are all other flows.

mod chains;
mod content;
mod curve;
mod dense;
mod elimination;
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
mod shared_points;
mod solver;
mod stability;
mod supernodal;
mod terminals;
mod tree;

pub use outcome::{Outcome, PumpOutcome, Verdict};
pub use points::OperatingPoint;
pub use pumps::{PumpLaw, PumpLink};
pub use shared_points::SharedPoint;
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

//! Flows and temperatures settled together.
//!
//! Flows follow from the laws, temperatures from the flows, and the laws from the temperatures: of each circuit's water by
//! viscosity and density ([`super::circuits`]), of thermostatic valves by the water that warms their rooms
//! ([`super::thermostats`]). The study goes round until nothing moves any more. Each round starts from the
//! last one's answer and costs a step or two of the solver.

use super::circuits;
use super::lower::Lowered;
use super::temperatures::{self, Exchange};
use super::thermostats;
use crate::document::Project;
use crate::engine::network::{Network, OperatingPoint, SharedPoint, Solver};

/// Rounds after which the answer is given up as unsettled.
const MOST_ROUNDS: u32 = 40;

/// What goes with the flows of a settled study.
#[derive(Clone, Debug, Default)]
pub(super) struct Settled {
    /// All operating points where there may be several.
    pub(super) points: Vec<OperatingPoint>,
    /// All ways in which several pumps share their flow, where there may be several.
    pub(super) shared: Vec<SharedPoint>,
    /// Temperature of each node, °C; not a number where nothing flows.
    pub(super) nodes_c: Vec<f64>,
    /// What sources and emitters do.
    pub(super) exchanges: Vec<Exchange>,
    /// Whether flows and temperatures agree.
    pub(super) agree: bool,
    /// Steps of the solver over all rounds.
    pub(super) steps: u32,
}

/// Settles flows and temperatures, from the last answer where there is one. `settings_only` tells that since the last time
/// nothing but settings of pumps changed.
pub(super) fn settle(project: &Project, lowered: &mut Lowered, solver: &mut Solver, settings_only: bool) -> Settled {
    let mut settled = Settled::default();
    for round in 0..MOST_ROUNDS {
        settled.points = solve(solver, &lowered.network, settings_only && round == 0);
        let outcome = solver.outcome();
        settled.steps += outcome.iterations;
        let nodes_settled;
        (settled.nodes_c, nodes_settled) = temperatures::of_nodes(project, lowered, outcome);
        settled.exchanges = temperatures::exchanges(project, lowered, outcome, &settled.nodes_c);
        let water_moved = circuits::follow(project, lowered, &settled.exchanges);
        let rooms_moved = thermostats::follow(project, lowered, &settled.exchanges);
        let moved = water_moved || rooms_moved;
        settled.agree = !moved && nodes_settled;
        if !moved || !outcome.converged() {
            break;
        }
        lowered.take_laws(project);
    }
    if solver.may_have_shared_points(&lowered.network) {
        settled.shared = solver.clone().shared_points(&lowered.network);
    }
    settled
}

/// Solves; where there may be several operating points, finds them all and goes to the one that start-up from rest reaches.
fn solve(solver: &mut Solver, network: &Network, settings_only: bool) -> Vec<OperatingPoint> {
    if settings_only {
        solver.solve_settings(network);
    } else {
        solver.solve(network);
    }
    if !network.may_have_several_points() {
        return Vec::new();
    }
    let points = solver.operating_points(network);
    match points.first() {
        Some(first) => solver.solve_at(network, first),
        None => solver.solve(network),
    };
    points
}

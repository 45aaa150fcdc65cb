//! A warm solve allocates nothing: dragging a setting or toggling a valve runs in memory that the solver already holds. Counted
//! by an allocator, on trees, rings and grids of up to 99 zones with every kind of link, with one pump and with two. Where
//! Newton does not settle the safeguard may allocate; that is rare. The same drags show that a solver which is told that only
//! settings changed ends where a new one does.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop at what it did not expect")]

mod networks {
    pub mod generate;
}

use headwise::engine::links::LinkLaw;
use headwise::engine::network::{Network, PumpLaw, Solver};
use headwise::engine::pump::Regulated;
use networks::generate::{Recipe, network};
use stats_alloc::{INSTRUMENTED_SYSTEM, Region, StatsAlloc};
use std::alloc::System;

#[global_allocator]
static ALLOCATOR: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

/// The network with the head limit of its first pump, or else the speed cap, multiplied.
fn turned(network: &Network, share: f64) -> Network {
    let mut turned = network.clone();
    let PumpLaw::Regulated(regulated) = &network.pumps[0].law else { panic!("not a regulated pump") };
    let mut settings = *regulated.settings();
    match &mut settings.head_limit_m {
        Some(limit) => *limit *= share,
        None => settings.speed_cap = (settings.speed_cap * share).min(1.0),
    }
    settings.minimum_speed = settings.minimum_speed.min(settings.speed_cap);
    turned.pumps[0].law = PumpLaw::Regulated(Box::new(Regulated::new(regulated.curve(), settings).unwrap()));
    turned
}

/// The network with its last valve shut.
fn shut(network: &Network) -> Option<Network> {
    let mut shut = network.clone();
    let valve = shut.links.iter_mut().rev().find(|link| matches!(link.law, LinkLaw::Valve(_)))?;
    valve.law = LinkLaw::Shut;
    Some(shut)
}

/// One test alone, so that no other allocates meanwhile.
#[test]
fn warm_solves_allocate_nothing() {
    let plain = Recipe { zones: 0, one_way: false, rising: true, second_pump: false };
    let falling = Recipe { rising: false, ..plain };
    let recipes = [plain, Recipe { one_way: true, ..falling }, Recipe { second_pump: true, ..falling }];
    let (mut counted, mut two_pumps, mut allocating) = (0, 0, Vec::new());
    for (recipe, seed) in recipes.iter().flat_map(|recipe| (0..60).map(move |seed| (*recipe, seed))) {
        let zones = [1, 3, 10, 30, 99][seed as usize % 5];
        let network = network(seed, Recipe { zones, ..recipe });
        let states: Vec<Network> =
            [1.0, 0.99, 0.97, 0.9].iter().map(|share| turned(&network, *share)).chain(shut(&network)).collect();
        let mut solver = Solver::new(&network);
        // Twice round: the second round starts where the first did.
        for state in states.iter().chain(&states) {
            assert!(solver.solve(state).converged(), "seed {seed}, {recipe:?}");
        }
        counted += 1;
        two_pumps += usize::from(network.pumps.len() == 2);
        let region = Region::new(ALLOCATOR);
        for state in &states {
            solver.solve(state);
        }
        for state in states[..4].iter().rev() {
            solver.solve_settings(state);
        }
        let change = region.change();
        if change.allocations + change.reallocations > 0 {
            allocating.push((seed, network.links.len(), change.allocations));
        }
    }
    assert!(two_pumps > 10);
    assert!(allocating.len() <= counted / 30, "{} of {counted}: {allocating:?}", allocating.len());
    settings_alone_lead_where_a_new_solver_ends();
}

fn settings_alone_lead_where_a_new_solver_ends() {
    for seed in 0..60 {
        let first = network(seed, Recipe { zones: 12, one_way: false, rising: true, second_pump: false });
        let mut solver = Solver::new(&first);
        solver.solve(&first);
        for share in [0.99, 0.95, 0.7, 1.02] {
            let moved = turned(&first, share);
            let expected = Solver::new(&moved).solve(&moved).clone();
            let outcome = solver.solve_settings(&moved);
            assert!(outcome.converged(), "seed {seed}");
            let scale = expected.pumps[0].flow.abs().max(1e-5);
            for (link, (a, b)) in outcome.flows.iter().zip(&expected.flows).enumerate() {
                assert!((a - b).abs() <= 1e-7 * scale, "seed {seed}, share {share}: link {link}: {a:e}, {b:e}");
            }
        }
        // Told nothing true: another topology is noticed all the same.
        let mut other = first.clone();
        other.links.truncate(1);
        assert_eq!(solver.solve_settings(&other).flows.len(), 1);
    }
}

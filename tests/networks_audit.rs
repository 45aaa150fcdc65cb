//! What the solver tells, held against the laws alone: every figure of every outcome recomputed, through sequences of shut and
//! opened links; what stands still; what is unknown; what has no unique answer.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

mod networks {
    pub mod audit;
    pub mod generate;
}

use headwise::engine::links::{CheckValve, FlowLimiter, LinkLaw, Pipe, Valve};
use headwise::engine::network::{Link, Network, Outcome, PumpLaw, PumpLink, Solver, Verdict};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};
use networks::audit::audit;
use networks::generate::{Random, Recipe, network, regulated_pump};

const DENSITY: f64 = 983.2;
const EVERYTHING: Recipe = Recipe { zones: 0, one_way: true, rising: true, second_pump: true };

fn assert_sound(network: &Network, outcome: &Outcome, what: &str) {
    assert_eq!(outcome.verdict, Verdict::Converged, "{what}");
    let found = audit(network, outcome);
    assert!(found.contradictions.is_empty(), "{what}: {:?}", found.contradictions);
    assert!(found.mass_error <= 1.2e-10, "{what}: mass {:e}, told {:e}", found.mass_error, outcome.mass_error);
    assert!(found.energy_error <= 1.2e-10, "{what}: energy {:e}, told {:e}", found.energy_error, outcome.energy_error);
}

#[test]
fn every_figure_follows_from_the_laws_whatever_is_shut_and_opened() {
    for seed in 0..250 {
        let recipe = Recipe { zones: 1 + (seed as usize * 7) % 16, ..EVERYTHING };
        let recipe = if seed % 2 == 0 { recipe } else { Recipe { second_pump: false, ..recipe } };
        let mut network = network(seed, recipe);
        let original = network.links.clone();
        let mut random = Random::new(seed ^ 0x77aa);
        let mut solver = Solver::new(&network);
        for step in 0..8 {
            let is_drag = random.chance(0.3);
            if is_drag {
                network.pumps[0].law = regulated_pump(&mut random, recipe).law;
            }
            for _ in 0..if is_drag { 0 } else { 1 + random.below(3) } {
                let link = random.below(network.links.len());
                network.links[link].law = match random.below(4) {
                    0 | 1 => LinkLaw::Shut,
                    2 => LinkLaw::Check(CheckValve::new(random.log_between(0.5, 5.0), 300.0, DENSITY)),
                    _ => original[link].law.clone(),
                };
                if random.chance(0.1) {
                    network.reference = random.below(network.nodes);
                }
            }
            let outcome = if is_drag { solver.solve_settings(&network) } else { solver.solve(&network) };
            assert_sound(&network, outcome, &format!("seed {seed} step {step}"));
        }
    }
}

fn valve(from: usize, to: usize, kv_m3_per_h: f64) -> Link {
    Link { from, to, law: LinkLaw::Valve(Valve::new(kv_m3_per_h, DENSITY)) }
}

fn check(from: usize, to: usize) -> Link {
    Link { from, to, law: LinkLaw::Check(CheckValve::new(2.0, 200.0, DENSITY)) }
}

fn shut(from: usize, to: usize) -> Link {
    Link { from, to, law: LinkLaw::Shut }
}

/// A pump from one node to another that holds a head, m, or a share of it at no flow.
fn pump(suction: usize, discharge: usize, head_limit_m: f64, slope: f64) -> PumpLink {
    let curve = PumpCurve::fit(&[[0.0, 6.0], [5e-4, 5.0], [1e-3, 2.0]]).unwrap();
    let settings = Regulation {
        head_limit_m: Some(head_limit_m),
        slope,
        speed_cap: 1.0,
        minimum_speed: 0.0,
        power_limit_w: None,
        reference: ReferenceFlow::FullSpeed,
    };
    let law = PumpLaw::Regulated(Box::new(Regulated::new(&curve, settings).unwrap()));
    PumpLink { suction, discharge, law, density_kg_per_m3: DENSITY }
}

fn closed(nodes: usize, links: Vec<Link>, pumps: Vec<PumpLink>) -> Network {
    Network { nodes, links, pumps, reference: 0 }
}

/// Two boilers side by side and a ring behind a shut zone: what no pump moves stands still, to the last digit.
#[test]
fn what_no_pump_moves_stands_still() {
    let links = vec![
        valve(1, 2, 3.0),
        valve(1, 2, 3.1),
        valve(2, 3, 1.0),
        valve(3, 0, 1.0),
        valve(2, 4, 1.0),
        valve(4, 3, 1.1),
    ];
    // As a tree, and with a ring that makes it none.
    for ring in [vec![], vec![valve(2, 5, 1.0), valve(5, 3, 1.0), valve(4, 5, 1.0)]] {
        let mut network = closed(6, [links.clone(), ring].concat(), vec![pump(0, 1, 4.0, 0.0)]);
        let mut solver = Solver::new(&network);
        solver.solve(&network);
        network.links[3].law = LinkLaw::Shut;
        let outcome = solver.solve(&network);
        assert_sound(&network, outcome, "shut");
        assert!(outcome.flows.iter().all(|flow| *flow == 0.0), "{:?}", outcome.flows);
        assert_eq!(outcome.pumps[0].flow, 0.0);
        network.links[3].law = valve(3, 0, 1.0).law;
        assert_sound(&network, solver.solve(&network), "opened again");
        assert!(solver.outcome().pumps[0].flow > 1e-5);
    }
}

/// The expansion vessel stands behind shut valves: pressures of the system are unknown, its drops and flows are not, and a system
/// curve can be traced.
#[test]
fn a_reference_node_that_is_shut_off_leaves_flows_and_drops_known() {
    let links = vec![valve(1, 2, 1.0), valve(2, 0, 1.0), shut(0, 3), valve(3, 4, 1.0), shut(4, 2)];
    let meshed = vec![valve(1, 5, 1.0), valve(5, 0, 1.0), valve(5, 2, 1.0)];
    for links in [links.clone(), [links, meshed].concat()] {
        let mut network = Network { reference: 3, ..closed(6, links, vec![pump(0, 1, 4.0, 0.5)]) };
        let mut solver = Solver::new(&network);
        assert_sound(&network, solver.solve(&network), "regulated");
        assert_eq!(solver.outcome().pressures_pa[4], 0.0);
        assert!(solver.outcome().drops_pa[0] > 1e3);
        network.pumps[0].law = PumpLaw::FixedFlow(1e-4);
        let outcome = solver.solve_settings(&network);
        assert_sound(&network, outcome, "held flow");
        assert!(outcome.pumps[0].rise_pa > 1e3);
    }
}

#[test]
fn two_circuits_apart_are_both_solved() {
    let links = vec![valve(1, 0, 1.0), valve(3, 4, 1.0), valve(4, 2, 1.0), shut(4, 2)];
    let network = closed(5, links, vec![pump(0, 1, 4.0, 0.5), pump(2, 3, 3.0, 0.0)]);
    let mut solver = Solver::new(&network);
    let outcome = solver.solve(&network);
    assert_sound(&network, outcome, "two circuits");
    assert!(outcome.pressures_pa[2].is_nan() && outcome.pressures_pa[4].is_nan());
    // Half of 3 m each.
    assert!((outcome.drops_pa[1] - 0.5 * outcome.pumps[1].rise_pa).abs() < 1e-6);
    assert!((outcome.drops_pa[3] - outcome.drops_pa[2]).abs() < 1e-6);
    // The first without a way for its water, the second so wide that its pump runs out.
    for kv in [10.0, 100.0, 1000.0] {
        let links = vec![valve(0, 1, 1.0), valve(2, 2, 1.0), valve(4, 3, kv)];
        let network = closed(6, links, vec![pump(0, 5, 4.0, 0.0), pump(3, 4, 1.5, 0.0)]);
        assert_sound(&network, Solver::new(&network).solve(&network), &format!("one shut, one of Kv {kv}"));
    }
}

/// Between two check valves face to face, and between two limiters that hold one flow, nothing tells the pressure.
#[test]
fn a_pressure_that_nothing_tells_is_told_as_none() {
    let limiter = |from, to| Link { from, to, law: LinkLaw::Limiter(FlowLimiter::new(1e-5, 2e3)) };
    let links =
        vec![valve(1, 0, 1.0), check(1, 2), check(0, 2), check(3, 1), check(3, 0), limiter(1, 4), limiter(4, 0)];
    let network = closed(5, links, vec![pump(0, 1, 4.0, 0.0)]);
    let outcome = Solver::new(&network).solve(&network).clone();
    assert_eq!(outcome.verdict, Verdict::Converged);
    for node in 2..5 {
        assert!(outcome.pressures_pa[node].is_nan(), "node {node}");
    }
    assert_eq!(outcome.flows[1..5], [0.0; 4]);
    assert!(outcome.drops_pa[1..].iter().all(|drop| drop.is_nan()), "{:?}", outcome.drops_pa);
}

/// Two equal pumps at one level head share a flow anyhow: the answer is equal shares, and says so. With heads that fall or that
/// differ, or with a length of pipe each, the shares are given.
#[test]
fn open_shares_are_told() {
    let flows = |pumps: Vec<PumpLink>, links: Vec<Link>| {
        let network = closed(4, links, pumps);
        let outcome = Solver::new(&network).solve(&network).clone();
        assert_sound(&network, &outcome, "two pumps");
        assert!(outcome.stable);
        let [a, b] = outcome.pumps.as_slice() else { panic!("two pumps") };
        assert_eq!(a.is_share_open, b.is_share_open);
        (a.flow, b.flow, a.is_share_open)
    };
    let level = || pump(0, 1, 4.0, 0.0);
    let (a, b, is_open) = flows(vec![level(), level()], vec![valve(1, 0, 1.0)]);
    assert!(is_open && (a - b).abs() < 1e-12 && a > 1e-5);
    // Beyond the level stretch the curves fall.
    let (a, b, is_open) = flows(vec![level(), level()], vec![valve(1, 0, 9.0)]);
    assert!(!is_open && (a - b).abs() < 1e-10);
    let (a, b, is_open) = flows(vec![level(), pump(0, 1, 3.9, 0.0)], vec![valve(1, 0, 1.0)]);
    assert!(!is_open && a > b);
    let apart = vec![valve(2, 1, 5.0), valve(3, 1, 5.0), valve(1, 0, 1.0)];
    let (a, b, is_open) = flows(vec![pump(0, 2, 4.0, 0.0), pump(0, 3, 4.0, 0.0)], apart);
    assert!(!is_open && (a - b).abs() < 1e-10);
}

/// Pumps side by side on a short circuit run out: their curves are level there, at no head, until the flow has come back.
#[test]
fn pumps_on_a_short_circuit_are_solved() {
    let pipe = LinkLaw::Pipe(Pipe::new(0.5, 0.05, 4.5e-5, 0.0, DENSITY, 4.66e-4));
    let network = closed(2, vec![Link { from: 1, to: 0, law: pipe }], vec![pump(0, 1, 6.0, 0.0), pump(0, 1, 5.0, 0.5)]);
    assert_sound(&network, Solver::new(&network).solve(&network), "short circuit");
}

/// Graphs without any plan: rings on one node, parallel and lonely links, pumps anywhere, parts apart.
#[test]
fn no_graph_makes_the_solver_stumble() {
    for seed in 0..1500 {
        let mut random = Random::new(seed);
        let (named, recipe) = (random.below(8), Recipe { zones: 2, ..EVERYTHING });
        let nodes = named.max(1);
        let mut links = Vec::new();
        for _ in 0..random.below(2 * nodes + 4) {
            let (from, to) = (random.below(nodes), random.below(nodes));
            links.push(match random.below(4) {
                0 => shut(from, to),
                1 => check(from, to),
                2 => Link { from, to, law: LinkLaw::Limiter(FlowLimiter::new(1e-4 * random.share(), 1e4)) },
                _ => valve(from, to, random.log_between(0.05, 10.0)),
            });
        }
        let mut pumps = Vec::new();
        for _ in 0..[1, 1, 2, 0][random.below(4)] {
            let mut pump = regulated_pump(&mut random, recipe);
            (pump.suction, pump.discharge) = (random.below(nodes), random.below(nodes));
            pumps.push(pump);
        }
        let has_short = pumps.iter().any(|pump| pump.suction == pump.discharge);
        let mut network = Network { nodes: named, links, pumps, reference: random.below(nodes) };
        let mut solver = Solver::new(&network);
        for step in 0..4 {
            if let (true, count @ 1..) = (step > 0, network.links.len()) {
                network.links[random.below(count)].law =
                    if random.chance(0.5) { LinkLaw::Shut } else { valve(0, 0, 1.0).law };
            }
            let outcome = solver.solve(&network);
            if !(has_short || outcome.verdict == Verdict::NoPump) {
                assert_sound(&network, outcome, &format!("seed {seed} step {step}"));
            }
        }
    }
}

/// Two meshes of mains so wide that they are factorised block by block, a valve between each pair of nodes; then with a corner of four
/// pairs cut off, which nothing but shut valves joins to the rest.
#[test]
fn a_large_mesh_is_solved_also_with_a_part_cut_off() {
    const SIDE: usize = 72;
    let node = |row: usize, column: usize, mesh: usize| 2 + 2 * (row * SIDE + column) + mesh;
    let mut links = vec![valve(1, node(0, 0, 0), 40.0), valve(node(0, 0, 1), 0, 40.0)];
    let mut around = Vec::new();
    for (row, column) in (0..SIDE).flat_map(|row| (0..SIDE).map(move |column| (row, column))) {
        links.push(valve(node(row, column, 0), node(row, column, 1), 0.005));
        for (next_row, next_column) in [(row + 1, column), (row, column + 1)] {
            if next_row < SIDE && next_column < SIDE {
                if (row.min(column) >= SIDE - 2) != (next_row.min(next_column) >= SIDE - 2) {
                    around.extend([links.len(), links.len() + 1]);
                }
                links.push(valve(node(row, column, 0), node(next_row, next_column, 0), 3.0));
                links.push(valve(node(next_row, next_column, 1), node(row, column, 1), 3.0));
            }
        }
    }
    let pumps = vec![pump(0, 1, 4.0, 0.3)];
    let mut network = Network { nodes: 2 + 2 * SIDE * SIDE, links, pumps, reference: 0 };
    let mut solver = Solver::new(&network);
    assert_sound(&network, solver.solve(&network), "whole");
    assert_eq!(around.len(), 8);
    for &link in &around {
        network.links[link].law = LinkLaw::Shut;
    }
    assert_sound(&network, solver.solve(&network), "cut off, warm");
    assert!(solver.outcome().pressures_pa[node(SIDE - 1, SIDE - 1, 0)].is_nan());
    let warm = solver.outcome().clone();
    solver.start_cold();
    let cold = solver.solve(&network);
    assert_sound(&network, cold, "cut off, cold");
    let flow = cold.pumps[0].flow;
    for (link, (a, b)) in warm.flows.iter().zip(&cold.flows).enumerate() {
        assert!((a - b).abs() <= 1e-9 * flow, "link {link}: {a:e}, {b:e}");
    }
}

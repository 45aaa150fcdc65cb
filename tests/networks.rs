//! The solver against laws of its own: random closed networks from a seed, what must hold on every one of them, and a second,
//! independent way of solving the small ones.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop at what it did not expect")]

mod networks {
    pub mod generate;
    pub mod reference;
}

use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::{CheckValve, FixedLoss, FlowLimiter, LinkLaw, Pipe, Valve};
use headwise::engine::network::{Link, Network, Outcome, PumpLaw, PumpLink, Solver, Verdict};
use headwise::engine::pump::{GoverningLimit, PowerModel, Pump, Regulated, Regulation};
use networks::generate::{Random, Recipe, network, regulated_pump};
use networks::reference;

/// Agreement of two solves of one network, over the greatest flow.
const AGREEMENT: f64 = 1e-9;

const EVERYTHING: Recipe = Recipe { zones: 0, one_way: true, rising: true, second_pump: true };
/// Pump curves fall: one solution, whatever the links.
const FALLING: Recipe = Recipe { rising: false, ..EVERYTHING };
/// Set-lines rise, but nothing opens late: one solution with flow.
const RISING: Recipe = Recipe { one_way: false, second_pump: false, ..EVERYTHING };

/// Networks of 1 to 16 zones after a recipe.
fn samples(recipe: Recipe, count: u64) -> impl Iterator<Item = (u64, Network)> {
    (0..count).map(move |seed| (seed, network(seed, Recipe { zones: 1 + (seed as usize * 7) % 16, ..recipe })))
}

fn regulated(network: &Network, pump: usize) -> &Regulated {
    match &network.pumps[pump].law {
        PumpLaw::Regulated(regulated) => regulated,
        PumpLaw::FixedFlow(_) => panic!("not a regulated pump"),
    }
}

/// The greatest pump flow, a tenth of run-out at least: near standstill a q |q| law turns an error of pressure into its root.
fn flow_scale(network: &Network, outcome: &Outcome) -> f64 {
    let run_out = regulated(network, 0).curve().run_out_m3_per_s();
    outcome.pumps.iter().fold(0.1 * run_out, |most, pump| most.max(pump.flow.abs()))
}

fn solve(network: &Network) -> Outcome {
    Solver::new(network).solve(network).clone()
}

fn assert_solved(outcome: &Outcome, what: &str) {
    assert_eq!(outcome.verdict, Verdict::Converged, "{what}: after {} steps", outcome.iterations);
    assert!(outcome.mass_error <= 1e-10, "{what}: mass {:e}", outcome.mass_error);
    assert!(outcome.energy_error <= 1e-10, "{what}: energy {:e}", outcome.energy_error);
}

fn assert_same_flows(network: &Network, a: &Outcome, flows: impl Iterator<Item = f64>, what: &str) {
    let scale = flow_scale(network, a);
    for (link, (a, b)) in a.flows.iter().zip(flows).enumerate() {
        let off = (a - b).abs() / scale;
        assert!(off <= AGREEMENT, "{what}: link {link} differs by {off:e}");
    }
}

#[test]
fn every_network_is_solved_and_every_law_holds() {
    for (seed, network) in samples(EVERYTHING, 600) {
        let outcome = solve(&network);
        assert_solved(&outcome, &format!("seed {seed}"));
        let scale = flow_scale(&network, &outcome);
        let mut into = vec![0.0; network.nodes];
        for (link, flow) in network.links.iter().zip(&outcome.flows) {
            into[link.from] -= flow;
            into[link.to] += flow;
            let range = link.law.range();
            assert!(*flow >= range.low && *flow <= range.high, "seed {seed}: a flow outside its range");
        }
        for (pump, done) in network.pumps.iter().zip(&outcome.pumps) {
            into[pump.suction] -= done.flow;
            into[pump.discharge] += done.flow;
        }
        assert!(into.iter().all(|flow| flow.abs() <= 1e-9 * scale), "seed {seed}: a node does not balance");
    }
}

#[test]
fn the_operating_point_lies_on_the_curve_and_within_the_limits() {
    for (seed, network) in samples(EVERYTHING, 600) {
        let outcome = solve(&network);
        for (index, (pump, done)) in network.pumps.iter().zip(&outcome.pumps).enumerate() {
            let regulated = regulated(&network, index);
            let pascal = pump.density_kg_per_m3 * GRAVITY_M_PER_S2;
            let (head, _) = regulated.head(done.flow);
            let across = outcome.pressures_pa[pump.discharge] - outcome.pressures_pa[pump.suction];
            assert!((done.rise_pa - head * pascal).abs() <= 1e-9 * pascal, "seed {seed}: off the curve");
            // Not a number where the reference node hangs on nothing.
            assert!(across.is_nan() || (across - head * pascal).abs() <= 1e-4, "seed {seed}: nodes off the curve");
            if done.flow < 0.0 {
                continue;
            }
            let by_minimum = regulated.governing(done.flow) == GoverningLimit::MinimumSpeed;
            let limit = regulated.settings().head_limit_m.filter(|_| regulated.reference_m3_per_s().is_some());
            assert!(
                by_minimum || limit.is_none_or(|limit| head <= limit * (1.0 + 1e-12)),
                "seed {seed}: above the limit"
            );
            // Pushed past its run-out by another pump it gives no head, and its speed is not told by flow and head.
            assert!(
                head == 0.0 || regulated.speed(done.flow) <= regulated.settings().speed_cap * (1.0 + 1e-9),
                "seed {seed}: above the cap"
            );
        }
        if network.pumps.len() == 1 {
            assert!(outcome.pumps[0].is_stable(), "seed {seed}: unstable");
        }
    }
}

#[test]
fn a_warm_start_ends_where_a_cold_one_does() {
    for (recipe, count) in [(FALLING, 300), (RISING, 200)] {
        for (seed, mut network) in samples(recipe, count) {
            let mut random = Random::new(seed ^ 0xabcd);
            let mut solver = Solver::new(&network);
            solver.solve(&network);
            for change in 0..4 {
                match change {
                    0 | 2 => network.pumps[0].law = regulated_pump(&mut random, Recipe { zones: 8, ..recipe }).law,
                    _ => {
                        let link = random.below(network.links.len());
                        network.links[link].law = if random.chance(0.5) {
                            LinkLaw::Shut
                        } else {
                            LinkLaw::Valve(Valve::new(random.log_between(0.1, 5.0), 983.2))
                        };
                    }
                }
                let what = format!("seed {seed} change {change}");
                let warm = solver.solve(&network);
                assert_solved(warm, &what);
                assert_same_flows(&network, warm, solve(&network).flows.iter().copied(), &what);
            }
        }
    }
}

#[test]
fn order_direction_and_numbering_do_not_matter() {
    for (recipe, count) in [(FALLING, 300), (RISING, 200)] {
        for (seed, network) in samples(recipe, count) {
            let mut random = Random::new(seed ^ 0x5555);
            let (nodes, order) = (random.order(network.nodes), random.order(network.links.len()));
            let mut other = network.clone();
            other.reference = nodes[network.reference];
            for pump in &mut other.pumps {
                (pump.suction, pump.discharge) = (nodes[pump.suction], nodes[pump.discharge]);
            }
            let mut flipped = vec![false; network.links.len()];
            for (link, flipped) in other.links.iter_mut().zip(&mut flipped) {
                let range = link.law.range();
                *flipped = range.low == -range.high && random.chance(0.5);
                let (from, to) = (nodes[link.from], nodes[link.to]);
                (link.from, link.to) = if *flipped { (to, from) } else { (from, to) };
            }
            other.links = order.iter().map(|&link| other.links[link].clone()).collect();
            let changed = solve(&other);
            let mut flows = vec![0.0; order.len()];
            for (&link, flow) in order.iter().zip(&changed.flows) {
                flows[link] = if flipped[link] { -flow } else { *flow };
            }
            assert_same_flows(&network, &solve(&network), flows.into_iter(), &format!("seed {seed}"));
        }
    }
}

#[test]
fn closing_a_valve_never_raises_its_flow() {
    for (seed, mut network) in samples(FALLING, 200) {
        let mut random = Random::new(seed ^ 0x1234);
        let link = random.below(network.links.len());
        let mut solver = Solver::new(&network);
        let mut last = f64::INFINITY;
        let mut kv = random.log_between(0.5, 5.0);
        for turn in 0..4 {
            network.links[link].law = LinkLaw::Valve(Valve::new(if turn < 3 { kv } else { 0.0 }, 983.2));
            kv *= 0.6;
            let what = format!("seed {seed} turn {turn}");
            let outcome = solver.solve(&network);
            assert_solved(outcome, &what);
            let flow = outcome.flows[link].abs();
            assert!(flow <= last + AGREEMENT * flow_scale(&network, outcome), "{what}: {last:e} to {flow:e}");
            assert_same_flows(&network, outcome, solve(&network).flows.iter().copied(), &what);
            last = flow;
        }
    }
}

#[test]
fn raising_the_head_limit_never_lowers_the_flow() {
    for (seed, mut network) in samples(Recipe { second_pump: false, ..FALLING }, 200) {
        let mut solver = Solver::new(&network);
        let mut settings = *regulated(&network, 0).settings();
        let curve = regulated(&network, 0).curve().clone();
        let mut last = 0.0;
        for share in [0.1, 0.3, 0.31, 0.5, 0.8, 1.0] {
            settings.head_limit_m = Some(share * curve.full_speed(0.0).0);
            network.pumps[0].law = PumpLaw::Regulated(Box::new(Regulated::new(&curve, settings).unwrap()));
            let outcome = solver.solve(&network);
            assert_solved(outcome, &format!("seed {seed}"));
            let flow = outcome.pumps[0].flow;
            assert!(flow >= last - AGREEMENT * flow_scale(&network, outcome), "seed {seed}: {last:e} to {flow:e}");
            last = flow;
        }
    }
}

#[test]
fn a_second_way_of_solving_agrees() {
    let mut compared = 0;
    for (recipe, count) in [(Recipe { second_pump: false, ..FALLING }, 300), (RISING, 100)] {
        for seed in 0..count {
            let network = network(seed + 10_000, Recipe { zones: 1 + seed as usize % 4, ..recipe });
            let outcome = solve(&network);
            let Some(expected) = reference::solve(&network) else { continue };
            compared += 1;
            let scale = flow_scale(&network, &outcome);
            let flow = outcome.pumps[0].flow;
            assert!(
                (flow - expected.pump_flow).abs() <= 1e-6 * scale,
                "seed {seed}: {flow:e}, {:e}",
                expected.pump_flow
            );
            for (link, (a, b)) in outcome.flows.iter().zip(&expected.flows).enumerate() {
                assert!((a - b).abs() <= 1e-6 * scale, "seed {seed}: link {link}: {a:e}, {b:e}, scale {scale:e}");
            }
        }
    }
    assert!(compared >= 330, "only {compared} compared");
}

/// Gives the first pump a power that rises with flow, and a limit somewhere in it.
fn limit_power(network: &mut Network, seed: u64) -> Pump {
    let mut random = Random::new(seed ^ 0x90e7);
    let regulated = regulated(network, 0);
    let curve = regulated.curve().clone();
    let (end, most_w, share) = (curve.run_out_m3_per_s(), random.log_between(20.0, 500.0), random.between(0.3, 0.8));
    let points = [[0.0, share * most_w], [0.5 * end, (0.4 + 0.6 * share) * most_w], [end, most_w]];
    let power = PowerModel::new(&points, 0.03 * most_w).unwrap();
    let limit_w = most_w * random.between(0.1, 0.9);
    let settings = Regulation { power_limit_w: Some(limit_w), ..*regulated.settings() };
    let pump = Pump { curve, power, full_speed_rpm: 3000.0 };
    network.pumps[0].law = PumpLaw::Regulated(Box::new(Regulated::of_pump(&pump, settings).unwrap()));
    pump
}

#[test]
fn a_power_limit_is_kept_cold_warm_and_by_the_second_way() {
    let (mut compared, mut governed) = (0, 0);
    for (recipe, count) in [(EVERYTHING, 100), (FALLING, 100), (RISING, 100)] {
        for seed in 0..count {
            let recipe = Recipe { zones: 1 + seed as usize % 6, ..recipe };
            let mut network = network(seed + 20_000, recipe);
            let mut solver = Solver::new(&network);
            solver.solve(&network);
            let pump = limit_power(&mut network, seed);
            let (what, outcome) = (format!("seed {seed}"), solve(&network));
            assert_solved(&outcome, &what);
            let (flow, regulated) = (outcome.pumps[0].flow, regulated(&network, 0));
            let limit_w = regulated.settings().power_limit_w.unwrap();
            if flow >= 0.0 && regulated.head(flow).0 > 0.0 {
                let takes_w = pump.power.electric_w(flow, regulated.speed(flow));
                match regulated.governing(flow) {
                    GoverningLimit::PowerLimit => {
                        governed += 1;
                        assert!((takes_w - limit_w).abs() <= 1e-7 * limit_w, "{what}: {takes_w} W, not {limit_w} W");
                    }
                    GoverningLimit::MinimumSpeed => {}
                    _ => assert!(takes_w <= limit_w * (1.0 + 1e-9), "{what}: {takes_w} W, more than {limit_w} W"),
                }
            }
            if recipe.second_pump || network.pumps.len() > 1 {
                continue;
            }
            let warm = solver.solve(&network);
            assert_solved(warm, &what);
            assert_same_flows(&network, warm, outcome.flows.iter().copied(), &what);
            let Some(expected) = reference::solve(&network) else { continue };
            compared += 1;
            let off = (flow - expected.pump_flow).abs() / flow_scale(&network, &outcome);
            assert!(off <= 1e-6, "{what}: off by {off:e}");
        }
    }
    assert!(compared > 80 && governed > 80, "{compared} compared, {governed} governed by power");
}

/// A pump at constant head from node 0 to node 1, and links.
fn with_pump(nodes: usize, links: Vec<Link>) -> Network {
    let recipe = Recipe { zones: 4, rising: false, ..EVERYTHING };
    Network { nodes, links, pumps: vec![regulated_pump(&mut Random::new(5), recipe)], reference: 0 }
}

fn valve(from: usize, to: usize, kv_m3_per_h: f64) -> Link {
    Link { from, to, law: LinkLaw::Valve(Valve::new(kv_m3_per_h, 983.2)) }
}

#[test]
fn odd_networks_end_in_an_answer() {
    let check = |from, to| Link { from, to, law: LinkLaw::Check(CheckValve::new(1.0, 0.0, 983.2)) };
    let limiter = |from, to, flow| Link { from, to, law: LinkLaw::Limiter(FlowLimiter::new(flow, 1e4)) };
    let odd = [
        ("no links", with_pump(2, vec![])),
        ("a pump across a ring", with_pump(4, vec![valve(2, 3, 1.0), valve(3, 2, 1.0)])),
        ("a link onto itself", with_pump(3, vec![valve(1, 2, 1.0), valve(2, 2, 1.0), valve(2, 0, 1.0)])),
        ("two check valves face to face", with_pump(3, vec![check(1, 2), check(0, 2)])),
        ("two check valves back to back", with_pump(3, vec![check(2, 1), check(2, 0)])),
        (
            "limiters that feed a smaller one",
            with_pump(3, vec![limiter(1, 2, 1e-4), limiter(1, 2, 1e-4), limiter(2, 0, 5e-5)]),
        ),
        ("limiters that feed a sum", with_pump(3, vec![limiter(1, 2, 1e-5), limiter(1, 2, 2e-5), limiter(2, 0, 3e-5)])),
        ("a dead end behind a check valve", with_pump(4, vec![valve(1, 0, 1.0), check(1, 2), valve(2, 3, 1.0)])),
        ("everything limited to nothing", with_pump(2, vec![limiter(1, 0, 0.0)])),
    ];
    for (name, network) in odd {
        let mut solver = Solver::new(&network);
        for _ in 0..2 {
            assert_solved(solver.solve(&network), name);
        }
    }
}

#[test]
fn what_has_no_answer_is_reported_and_forgotten() {
    let good = with_pump(2, vec![valve(1, 0, 1.0)]);
    let mut solver = Solver::new(&good);
    let held = |flow: f64, kv: f64| {
        let mut network = with_pump(2, vec![valve(1, 0, kv)]);
        network.pumps[0].law = PumpLaw::FixedFlow(flow);
        network
    };
    let mut not_numbers = with_pump(2, vec![valve(1, 0, f64::NAN)]);
    let mut no_density = good.clone();
    no_density.pumps[0].density_kg_per_m3 = f64::NAN;
    let endless = with_pump(2, vec![valve(1, 0, 1e-200), valve(1, 0, 1e200)]);
    for bad in [held(1e-4, 0.0), held(f64::NAN, 1.0), not_numbers.clone(), no_density] {
        assert_eq!(solver.solve(&bad).verdict, Verdict::NotConverged);
        assert_solved(solver.solve(&good), "after a network without an answer");
    }
    // No promise here but to come back.
    let pipe = Pipe::new(f64::INFINITY, 0.0, f64::NAN, -1.0, 983.2, 0.0);
    not_numbers.links.push(Link { from: 1, to: 0, law: LinkLaw::Pipe(pipe) });
    not_numbers.links.push(Link { from: 1, to: 0, law: LinkLaw::Fixed(FixedLoss::new(0.0, 0.0, f64::NAN)) });
    not_numbers.links.push(Link { from: 1, to: 0, law: LinkLaw::Limiter(FlowLimiter::new(f64::NAN, f64::NAN)) });
    for bad in [not_numbers, endless, held(f64::INFINITY, 1.0), held(0.0, 0.0), held(-1e-4, 1.0)] {
        solver.solve(&bad);
        assert_solved(solver.solve(&good), "after a network of odd numbers");
    }
}

#[test]
fn another_topology_is_noticed() {
    let mut network = with_pump(2, vec![valve(1, 0, 1.0)]);
    let mut solver = Solver::new(&network);
    solver.solve(&network);
    network.links.push(valve(1, 2, 1.0));
    network.links.push(valve(2, 0, 1.0));
    network.nodes = 3;
    let outcome = solver.solve(&network).clone();
    assert_solved(&outcome, "two links more");
    assert_eq!(outcome, solve(&network));
    network.links[0].from = 2;
    assert_eq!(*solver.solve(&network), solve(&network));
    network.reference = 2;
    assert_eq!(solver.solve(&network).pressures_pa[2], 0.0);
    // Named, but not counted.
    network.links.push(valve(1, 7, 1.0));
    assert_solved(solver.solve(&network), "a node beyond the last");
    let second = PumpLink { suction: 0, discharge: 0, ..network.pumps[0].clone() };
    network.pumps.push(second);
    solver.solve(&network);
    network.pumps.clear();
    assert_eq!(solver.solve(&network).verdict, Verdict::NoPump);
}

#[test]
fn large_networks_are_solved() {
    for (recipe, seeds) in [(EVERYTHING, 0..24), (RISING, 24..40)] {
        for seed in seeds {
            let network = network(seed, Recipe { zones: 200, ..recipe });
            assert_solved(&solve(&network), &format!("seed {seed}"));
        }
    }
}

//! The tree against the general solver, which shares the laws with it but neither cells nor sweeps.

use super::super::general::General;
use super::super::{Link, Network, PumpLaw, PumpLink};
use super::{Change, Tree};
use crate::engine::links::{BypassValve, CheckValve, FixedLoss, FlowLimiter, LinkLaw, Pipe, Valve};
use crate::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};

const DENSITY: f64 = 983.2;

fn pipe(length_m: f64, bore_m: f64) -> LinkLaw {
    LinkLaw::Pipe(Pipe::new(length_m, bore_m, 4.5e-5, 1.5, DENSITY, 4.66e-4))
}

fn valve(kv_m3_per_h: f64) -> LinkLaw {
    LinkLaw::Valve(Valve::new(kv_m3_per_h, DENSITY))
}

fn limiter(flow_l_per_h: f64) -> LinkLaw {
    LinkLaw::Limiter(FlowLimiter::new(flow_l_per_h / 3.6e6, 1e4))
}

fn network(links: Vec<(usize, usize, LinkLaw)>) -> Network {
    let links: Vec<Link> = links.into_iter().map(|(from, to, law)| Link { from, to, law }).collect();
    let nodes = 1 + links.iter().map(|link| link.from.max(link.to)).max().unwrap_or(1);
    let curve = PumpCurve::fit(&[[0.0, 6.0], [5e-4, 5.0], [1e-3, 2.0]]).unwrap();
    let settings = Regulation {
        head_limit_m: Some(4.0),
        slope: 0.3,
        speed_cap: 0.95,
        power_limit_w: None,
        minimum_speed: 0.2,
        reference: ReferenceFlow::FullSpeed,
    };
    let law = PumpLaw::Regulated(Box::new(Regulated::new(&curve, settings).unwrap()));
    let pump = PumpLink { suction: 0, discharge: 1, law, density_kg_per_m3: DENSITY };
    Network { nodes, links, pumps: vec![pump], reference: 0 }
}

/// Two boilers side by side, a main with a dead end, three zones of which one is limited, a bypass that stays shut.
fn plant() -> Network {
    network(vec![
        (1, 2, pipe(2.0, 0.03)),
        (2, 3, valve(8.0)),
        (2, 4, pipe(1.0, 0.025)),
        (4, 3, valve(6.0)),
        (3, 5, pipe(8.0, 0.03)),
        (5, 20, pipe(3.0, 0.02)),
        (20, 21, valve(1.0)),
        (20, 21, pipe(1.0, 0.02)),
        (5, 6, pipe(6.0, 0.016)),
        (7, 6, LinkLaw::Fixed(FixedLoss::new(5e3, 1e-4, 1.8))),
        (7, 8, valve(0.9)),
        (5, 9, pipe(5.0, 0.02)),
        (9, 10, pipe(4.0, 0.014)),
        (10, 11, limiter(150.0)),
        (11, 12, pipe(4.0, 0.014)),
        (9, 13, pipe(9.0, 0.014)),
        (13, 12, valve(0.7)),
        (12, 8, pipe(5.0, 0.02)),
        (8, 0, pipe(9.0, 0.03)),
        (1, 0, LinkLaw::Bypass(BypassValve::new(6e4, 5e3, 2.0, DENSITY))),
    ])
}

/// Compares every figure; where one has none, the other must have none.
fn compare(tree: &Tree, general: &General, what: &str) {
    let (a, b) = (&tree.outcome, &general.outcome);
    let flow = b.pumps[0].flow.abs().max(1e-6);
    let rise = b.pumps[0].rise_pa.abs().max(1.0);
    let same = |a: f64, b: f64, scale: f64| (a.is_nan() && b.is_nan()) || (a - b).abs() <= 1e-8 * scale;
    for (link, ((qa, qb), (da, db))) in a.flows.iter().zip(&b.flows).zip(a.drops_pa.iter().zip(&b.drops_pa)).enumerate()
    {
        assert!(same(*qa, *qb, flow), "{what}: flow of link {link}: {qa:e}, {qb:e}");
        assert!(same(*da, *db, rise), "{what}: drop of link {link}: {da}, {db}");
    }
    for (node, (pa, pb)) in a.pressures_pa.iter().zip(&b.pressures_pa).enumerate() {
        assert!(same(*pa, *pb, rise), "{what}: pressure of node {node}: {pa}, {pb}");
    }
    assert!(same(a.pumps[0].flow, b.pumps[0].flow, flow) && same(a.pumps[0].rise_pa, b.pumps[0].rise_pa, rise));
    // Infinite, up to rounding, where nothing more can pass.
    let (sa, sb) = (a.pumps[0].system_slope, b.pumps[0].system_slope);
    assert!(sa.min(sb) > 1e15 || (sa / sb - 1.0).abs() < 1e-6, "{what}: slope {sa:e}, {sb:e}");
}

#[test]
fn every_figure_is_that_of_the_general_solver() {
    let mut changed = plant();
    let mut tree = Tree::new(&changed, &[]).unwrap();
    let mut general = General::new(&changed);
    // Valves, a limiter that lets go, a shut zone, a shut main before everything, a check valve in a main, another reference.
    let changes: [(usize, LinkLaw); 9] = [
        (1, valve(8.0)),
        (13, limiter(3000.0)),
        (10, LinkLaw::Shut),
        (13, limiter(100.0)),
        (17, LinkLaw::Check(CheckValve::new(4.0, 500.0, DENSITY))),
        (16, LinkLaw::Shut),
        (10, valve(0.3)),
        (13, LinkLaw::Shut),
        (4, LinkLaw::Shut),
    ];
    for (turn, (link, law)) in changes.into_iter().enumerate() {
        changed.links[link].law = law;
        changed.reference = turn % 4;
        if tree.follow(&changed) == Change::Topology {
            tree = Tree::new(&changed, &tree.bounded_links()).unwrap();
        }
        if general.follow(&changed) == Change::Topology {
            general = General::new(&changed);
        }
        for start in ["first", "warm"] {
            let what = format!("change {turn}, {start}");
            assert!(tree.solve(&changed), "{what}");
            general.solve(&changed);
            assert!(general.outcome.converged(), "{what}");
            compare(&tree, &general, &what);
        }
    }
}

#[test]
fn what_is_no_tree_is_told_apart() {
    let mut rings = plant();
    assert!(Tree::new(&rings, &[]).is_some());
    // From one zone's middle to another's.
    rings.links.push(Link { from: 6, to: 13, law: valve(1.0) });
    assert!(Tree::new(&rings, &[]).is_none());
    let mut two_pumps = plant();
    two_pumps.pumps.push(two_pumps.pumps[0].clone());
    assert!(Tree::new(&two_pumps, &[]).is_none());
    assert!(Tree::new(&network(vec![(1, 2, valve(1.0))]), &[]).is_none());
}

/// A row of zones so long that its parts, merged one into the other, would overflow a stack.
#[test]
fn a_long_row_is_one_tree() {
    let mut links = Vec::new();
    let mut at = [1, 0];
    for zone in 0..20_000 {
        let next = [2 + 2 * zone, 3 + 2 * zone];
        links.extend([(at[0], next[0], valve(1e4)), (next[1], at[1], valve(1e4)), (next[0], next[1], valve(0.001))]);
        at = next;
    }
    let network = network(links);
    let mut tree = Tree::new(&network, &[]).unwrap();
    assert!(tree.solve(&network));
    assert!(tree.outcome.mass_error < 1e-12 && tree.outcome.energy_error < 1e-9);
}

/// Flows held on both sides of a joint that contradict one another end a sweep half-way: nothing of it may stay.
#[test]
fn a_sweep_that_ends_half_way_leaves_nothing() {
    let contradiction =
        network(vec![(1, 2, limiter(40.0)), (1, 2, limiter(40.0)), (2, 0, limiter(20.0)), (2, 0, limiter(20.0))]);
    let mut tree = Tree::new(&contradiction, &[]).unwrap();
    tree.take_cold_start(&contradiction.pumps[0]);
    for (bounds, leaf) in tree.bounds.iter_mut().zip(&mut tree.leaves) {
        bounds.mode = super::Mode::AtHigh;
        leaf.line = super::Line::held(bounds.range.high);
    }
    assert!(tree.gather().is_none());
    assert!(tree.gathered.iter().all(|line| line.factor == 0.0 && line.offset == 0.0));
    assert!(tree.solve(&contradiction), "two limiters let go");
}

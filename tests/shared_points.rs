//! Several pumps that can share their flow in more than one way: two alike, side by side behind check valves on rising set-lines,
//! whose points follow from one equation each (identities, no source needed), and random networks with two pumps.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

mod networks {
    pub mod generate;
}

use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::{CheckValve, FixedLoss, LinkLaw};
use headwise::engine::network::{Link, Network, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};
use networks::generate::{Recipe, network};

const DENSITY: f64 = 983.2;
const LIMIT_M: f64 = 4.0;
const REFERENCE: f64 = 2.0 / 3600.0;
/// Loss of the system at 2 m³/h, Pa.
const LOSS_PA: f64 = 45e3;

fn side_by_side(slope: f64) -> Network {
    let points = [[0.0, 6.0], [1.5 / 3600.0, 5.4], [3.0 / 3600.0, 3.6]];
    let settings = Regulation {
        head_limit_m: Some(LIMIT_M),
        slope,
        speed_cap: 1.0,
        minimum_speed: 0.0,
        power_limit_w: None,
        reference: ReferenceFlow::DesignFlow(REFERENCE),
    };
    let law = PumpLaw::Regulated(Box::new(Regulated::new(&PumpCurve::fit(&points).unwrap(), settings).unwrap()));
    let pump = |discharge| PumpLink { suction: 0, discharge, law: law.clone(), density_kg_per_m3: DENSITY };
    let check = |from| Link { from, to: 3, law: LinkLaw::Check(CheckValve::new(60.0, 0.0, DENSITY)) };
    let system = Link { from: 3, to: 0, law: LinkLaw::Fixed(FixedLoss::new(LOSS_PA, REFERENCE, 2.0)) };
    Network { nodes: 4, links: vec![check(1), check(2), system], pumps: vec![pump(1), pump(2)], reference: 0 }
}

/// Flow of a pump that is one of `count` alike in the same point, by bisection: set-line less check valve and system.
fn alike(slope: f64, count: f64) -> f64 {
    let surplus = |q: f64| {
        let set_pa = DENSITY * GRAVITY_M_PER_S2 * LIMIT_M * (1.0 - slope * (1.0 - q / REFERENCE));
        let check_pa = 1e5 * (3600.0 * q / 60.0).powi(2) * DENSITY / 1000.0;
        set_pa - check_pa - LOSS_PA * (count * q / REFERENCE).powi(2)
    };
    let (mut low, mut high) = (0.0, REFERENCE);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if surplus(middle) > 0.0 { low = middle } else { high = middle }
    }
    low
}

#[test]
fn two_alike_share_in_three_ways() {
    for slope in [0.35, 0.5, 0.8] {
        let network = side_by_side(slope);
        let mut solver = Solver::new(&network);
        let shown = solver.solve(&network).clone();
        assert!(shown.converged() && shown.stable && shown.dependence > 0.5, "{slope}");
        let points = solver.shared_points(&network);
        let (alone, both) = (alike(slope, 1.0), alike(slope, 2.0));
        let expected = [([0.0, alone], true), ([both, both], false), ([alone, 0.0], true)];
        assert_eq!(points.len(), 3, "{slope}: {points:?}");
        for (point, (flows, stable)) in points.iter().zip(expected) {
            assert_eq!(point.stable, stable, "{slope}: {point:?}");
            for (found, expected) in point.flows.iter().zip(flows) {
                assert!((found - expected).abs() < 1e-8 * REFERENCE, "{slope}: {found} is not {expected}");
            }
        }
        // The first of two equals comes first.
        assert!((shown.pumps[0].flow - alone).abs() < 1e-8 * REFERENCE && shown.pumps[1].flow == 0.0);
    }
}

#[test]
fn level_or_hardly_dependent_pumps_have_no_such_points() {
    let level = side_by_side(0.0);
    let mut solver = Solver::new(&level);
    solver.solve(&level);
    assert!(solver.shared_points(&level).is_empty());
    // Two circuits that meet in one wide passage.
    let mut apart = side_by_side(0.5);
    let wide = |from, to| Link { from, to, law: LinkLaw::Fixed(FixedLoss::new(1.0, 1e-3, 2.0)) };
    let circuit = |from, to| Link { from, to, law: LinkLaw::Fixed(FixedLoss::new(LOSS_PA, REFERENCE, 2.0)) };
    apart.links = vec![circuit(1, 3), circuit(2, 3), wide(3, 0)];
    let mut solver = Solver::new(&apart);
    assert!(solver.solve(&apart).converged());
    assert!(solver.shared_points(&apart).is_empty());
}

/// Whatever is shown is among the points found, and each point balances by itself.
#[test]
fn what_is_shown_is_among_them() {
    let recipe = Recipe { zones: 6, one_way: false, rising: true, second_pump: true };
    let (mut scanned, mut several) = (0, 0);
    for seed in 0..400 {
        let network = network(seed, recipe);
        let mut solver = Solver::new(&network);
        let shown = solver.solve(&network).clone();
        let points = solver.shared_points(&network);
        if !shown.converged() || points.is_empty() {
            continue;
        }
        scanned += 1;
        several += usize::from(points.len() > 1);
        let greatest = shown.pumps.iter().map(|pump| pump.flow.abs()).fold(1e-6, f64::max);
        let is_shown = |flows: &[f64]| {
            flows.iter().zip(&shown.pumps).all(|(flow, pump)| (flow - pump.flow).abs() < 1e-4 * greatest)
        };
        assert!(points.iter().any(|point| is_shown(&point.flows)), "seed {seed}: {points:?} without {:?}", shown.pumps);
        assert!(points.iter().any(|point| point.stable) || !shown.stable, "seed {seed}");
    }
    assert!(scanned > 20 && several > 3, "{scanned} scanned, {several} with several points");
}

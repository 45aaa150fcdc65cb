//! How long a solve takes: two-pipe direct-return systems with one regulated pump, from rest, after a drag of the head limit
//! by 1 %, and after a zone valve is toggled.
//!
//! Each zone has a flow main and a return main of its own, a branch pipe, an emitter, a balancing valve and a zone valve. The
//! warm cases alternate between two states, so that every timed solve has work to do. Time is one core's.

#![expect(clippy::expect_used, reason = "a benchmark may stop at what it did not expect")]

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::{FixedLoss, LinkLaw, Pipe, Valve};
use headwise::engine::network::{Link, Network, NodeId, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{GoverningLimit, PumpCurve, ReferenceFlow, Regulated, Regulation};
use std::hint::black_box;

const DENSITY: f64 = 983.2;
const VISCOSITY: f64 = 4.66e-4;
const ZONES: [usize; 3] = [12, 100, 1000];
/// Design flow of one zone, m³/s (300 l/h).
const ZONE_FLOW: f64 = 300.0 / 3.6e6;

/// A pipe sized for 0.8 m/s at its design flow.
fn pipe(length_m: f64, flow: f64, minor_k: f64) -> LinkLaw {
    let bore_m = (flow / 0.8 * 4.0 / std::f64::consts::PI).sqrt().max(0.012);
    LinkLaw::Pipe(Pipe::new(length_m, bore_m, 4.5e-5, minor_k, DENSITY, VISCOSITY))
}

/// A pump that has a third in hand over the head that the design flow takes, its slope 50 %.
fn pump(design_flow: f64, design_head_m: f64, head_limit_m: f64) -> PumpLaw {
    let head = 1.5 * design_head_m;
    let points = [[0.0, head], [design_flow, 0.87 * head], [2.0 * design_flow, 0.48 * head]];
    let settings = Regulation {
        head_limit_m: Some(head_limit_m),
        slope: 0.5,
        speed_cap: 0.97,
        minimum_speed: 0.2,
        reference: ReferenceFlow::FullSpeed,
    };
    let curve = PumpCurve::fit(&points).expect("an ordinary curve");
    PumpLaw::Regulated(Box::new(Regulated::new(&curve, settings).expect("ordinary settings")))
}

/// The network, and the index of the zone valve of the zone in the middle.
fn two_pipe(zones: usize) -> (Network, usize) {
    let mut links = Vec::new();
    let mut nodes = 2;
    let mut node = || {
        nodes += 1;
        nodes - 1
    };
    let (mut flow_tee, mut return_tee): (NodeId, NodeId) = (1, 0);
    let mut middle = 0;
    for zone in 0..zones {
        let downstream = (zones - zone) as f64 * ZONE_FLOW;
        let (next_flow, next_return) = (node(), node());
        links.push(Link { from: flow_tee, to: next_flow, law: pipe(6.0, downstream, 0.6) });
        links.push(Link { from: next_return, to: return_tee, law: pipe(6.0, downstream, 0.6) });
        (flow_tee, return_tee) = (next_flow, next_return);
        let (a, b, c) = (node(), node(), node());
        links.push(Link { from: flow_tee, to: a, law: pipe(12.0, ZONE_FLOW, 4.0) });
        links.push(Link { from: a, to: b, law: LinkLaw::Fixed(FixedLoss::new(4e3, ZONE_FLOW, 2.0)) });
        if zone == zones / 2 {
            middle = links.len();
        }
        links.push(Link { from: b, to: c, law: LinkLaw::Valve(Valve::new(1.2, DENSITY)) });
        links.push(Link { from: c, to: return_tee, law: LinkLaw::Valve(Valve::new(0.8, DENSITY)) });
    }
    let flow = zones as f64 * ZONE_FLOW;
    let pump = PumpLink { suction: 0, discharge: 1, law: PumpLaw::FixedFlow(flow), density_kg_per_m3: DENSITY };
    (Network { nodes, links, pumps: vec![pump], reference: 0 }, middle)
}

fn solves(criterion: &mut Criterion) {
    for (name, warm, toggles) in [("cold", false, false), ("warm", true, false), ("valve toggled", true, true)] {
        let mut group = criterion.benchmark_group(name);
        for zones in ZONES {
            let (mut network, valve) = two_pipe(zones);
            let design_flow = zones as f64 * ZONE_FLOW;
            let design_head_m = Solver::new(&network).solve(&network).pumps[0].rise_pa / (DENSITY * GRAVITY_M_PER_S2);
            network.pumps[0].law = pump(design_flow, design_head_m, design_head_m);
            let mut states = [network.clone(), network];
            if toggles {
                states[1].links[valve].law = LinkLaw::Shut;
            } else {
                states[1].pumps[0].law = pump(design_flow, design_head_m, 1.01 * design_head_m);
            }
            let mut solver = Solver::new(&states[0]);
            let governing = [0, 1].map(|state| {
                let outcome = solver.solve(&states[state]);
                assert!(outcome.converged());
                let PumpLaw::Regulated(regulated) = &states[state].pumps[0].law else { unreachable!() };
                regulated.governing(outcome.pumps[0].flow)
            });
            // A limit that does not govern would leave nothing to solve.
            assert_eq!(governing, [GoverningLimit::SetLine; 2]);
            let mut turn = 0;
            group.bench_function(BenchmarkId::from_parameter(zones), |bencher| {
                bencher.iter(|| {
                    turn = 1 - turn;
                    if !warm {
                        solver.start_cold();
                    }
                    black_box(solver.solve(&states[turn]).iterations)
                });
            });
        }
        group.finish();
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(40).measurement_time(std::time::Duration::from_secs(2));
    targets = solves
}
criterion_main!(benches);

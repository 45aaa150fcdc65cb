//! How long a solve takes, beside what the numbers alone would take.
//!
//! Systems of 10 to 50,000 zones: a riser (one row of zones), a branched system (a header with risers) and a grid (meshes of flow
//! and of return mains), each with one regulated pump. Four solves: from rest; after a drag of the head limit by 1 % there and
//! back; along a drag that goes on through 20 % in steps of 1 %, so that every flow keeps moving; after the valve of a zone is
//! shut and opened. In the drags the solver is told that only settings changed; `+ look` is what looking at every link adds.
//!
//! Beside each time stands, as a multiple, its ratio to the limit: steps taken × (numeric factorisation + substitution) of the
//! reduced network's matrix by faer's sparse Cholesky, measured in the same run. Trees are solved without a matrix: there the
//! ratio may fall below one.
//!
//! `cargo bench --bench solve` takes about a minute; with `-- large` the grid of 50,000 zones comes too, which takes another. With
//! `-- write FOLDER [NAME …]` it writes systems, answers and times for `tests/compare` instead.

#![expect(clippy::expect_used, reason = "a benchmark may stop at what it did not expect")]
#![expect(clippy::print_stdout, reason = "a benchmark prints its table")]

#[path = "solve/figures.rs"]
mod figures;
#[path = "solve/limit.rs"]
mod limit;
#[path = "solve/systems.rs"]
mod systems;
#[path = "solve/write.rs"]
mod write;

use headwise::engine::links::LinkLaw;
use headwise::engine::network::{Network, PumpLaw, Solver};
use headwise::engine::pump::GoverningLimit;
use std::hint::black_box;
use std::time::Instant;
use systems::{Kind, System};

/// Seconds that one figure may take.
const PATIENCE_S: f64 = 0.3;

/// Median seconds of a turn, and the most steps that one took.
fn measure(mut turn: impl FnMut(usize) -> u32) -> (f64, u32) {
    let start = Instant::now();
    let mut steps = turn(0).max(turn(1));
    let once = start.elapsed().as_secs_f64() / 2.0;
    // Whole batches of both states, long enough for the clock.
    let batch = ((1e-3 / once / 2.0) as usize).clamp(1, 1000) * 2;
    let runs = ((PATIENCE_S / (once * batch as f64)) as usize).clamp(3, 100);
    let mut times = Vec::new();
    for _ in 0..runs {
        let start = Instant::now();
        for index in 0..batch {
            steps = steps.max(black_box(turn(index)));
        }
        times.push(start.elapsed().as_secs_f64() / batch as f64);
    }
    times.sort_by(f64::total_cmp);
    (times[times.len() / 2], steps)
}

/// Solves a state and makes sure that the set-line governs: a limit that does not would leave nothing to solve.
fn check(solver: &mut Solver, network: &Network) {
    let outcome = solver.solve(network);
    assert!(outcome.converged());
    let PumpLaw::Regulated(regulated) = &network.pumps[0].law else { unreachable!("a regulated pump") };
    assert_eq!(regulated.governing(outcome.pumps[0].flow), GoverningLimit::SetLine);
}

/// One line of the table.
fn report(kind: Kind, zones: usize) {
    let System { network, valve, meshes, .. } = systems::system(kind, zones);
    let limit_s = limit::seconds(&meshes);
    let (design_flow, design_head) = systems::design(&network);
    let with_limit = |share: f64| {
        let mut network = network.clone();
        network.pumps[0].law = systems::pump(design_flow, design_head, share * design_head);
        network
    };
    let states = [with_limit(1.0), with_limit(1.01)];
    let start = Instant::now();
    let mut solver = Solver::new(&states[0]);
    let prepare_s = start.elapsed().as_secs_f64();
    for state in &states {
        check(&mut solver, state);
    }
    print!("{:>8} {zones:>6} {:>9.1} {:>9.1} |", kind.name(), 1e3 * prepare_s, 1e6 * limit_s);
    let figure = |(seconds, steps): (f64, u32)| {
        let ratio = seconds / (f64::from(steps) * limit_s);
        print!(" {:>9.2} {steps:>2} {ratio:>5.2} |", 1e6 * seconds);
    };
    figure(measure(|turn| {
        solver.start_cold();
        solver.solve(&states[turn % 2]).iterations
    }));
    let (looked_s, _) = measure(|turn| solver.solve(&states[turn % 2]).iterations);
    let told = measure(|turn| solver.solve_settings(&states[turn % 2]).iterations);
    figure(told);
    print!(" {:>7.2} |", 1e6 * (looked_s - told.0));
    // There and back again: 0, 1, … 20, 19, … 1.
    let laws: Vec<PumpLaw> = (0..40_u32)
        .map(|step| 1.0 - 0.01 * f64::from(step.min(40 - step)))
        .map(|share| systems::pump(design_flow, design_head, share * design_head))
        .collect();
    let mut moved = states[0].clone();
    let mut at = 0;
    figure(measure(|_| {
        at = (at + 1) % laws.len();
        moved.pumps[0].law.clone_from(&laws[at]);
        solver.solve_settings(&moved).iterations
    }));
    let mut toggled = [states[0].clone(), states[0].clone()];
    toggled[1].links[valve].law = LinkLaw::Shut;
    for state in &toggled {
        check(&mut solver, state);
    }
    figure(measure(|turn| solver.solve(&toggled[turn % 2]).iterations));
    println!();
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|argument| argument != "--bench").collect();
    if let [write, folder, names @ ..] = &arguments[..]
        && write == "write"
    {
        return write::all(std::path::Path::new(folder), names);
    }
    let is_large = std::env::args().any(|argument| argument == "large");
    println!("Times in µs with the most steps and the ratio to the limit; preparation in ms.");
    println!(
        "{:>8} {:>6} {:>9} {:>9} | {:^18} | {:^18} | {:^7} | {:^18} | {:^18} |",
        "system", "zones", "prepare", "limit/st.", "cold", "drag by 1 %", "+ look", "drag on and on", "valve toggled"
    );
    for kind in [Kind::Riser, Kind::Branched, Kind::Grid] {
        for zones in [10, 100, 1_000, 10_000, 50_000] {
            if kind != Kind::Grid || zones <= 10_000 || is_large {
                report(kind, zones);
            }
        }
    }
}

//! What a prepared solver holds in memory, counted by an allocator: a system of 50,000 zones, tree or grid, takes less than 1 GiB, and what
//! a zone takes does not grow with their number (on a grid a little: the factor of a square mesh of n nodes holds of the order of
//! n log n numbers). Measured: 160 MiB for a tree, 310 MiB for a grid; with what is asked for and given back while preparing 380 and
//! 730 MiB.

#![expect(clippy::expect_used, reason = "a test may stop at what it did not expect")]
#![expect(dead_code, reason = "the systems are those of the benchmark, which uses more of them")]

#[path = "benches/solve/figures.rs"]
mod figures;
#[path = "benches/solve/systems.rs"]
mod systems;

use headwise::engine::network::Solver;
use stats_alloc::{INSTRUMENTED_SYSTEM, Region, StatsAlloc};
use std::alloc::System;
use systems::{Kind, system};

#[global_allocator]
static ALLOCATOR: &StatsAlloc<System> = &INSTRUMENTED_SYSTEM;

const GIBIBYTE: isize = 1 << 30;

/// Bytes that a network and its solver hold, and the most that they ask for together on the way.
fn held(kind: Kind, zones: usize) -> (isize, isize) {
    let region = Region::new(ALLOCATOR);
    let system = system(kind, zones);
    let mut solver = Solver::new(&system.network);
    if kind != Kind::Grid {
        assert!(solver.solve(&system.network).converged());
    }
    let change = region.change();
    let asked = change.bytes_allocated as isize + change.bytes_reallocated.max(0);
    (change.bytes_allocated as isize - change.bytes_deallocated as isize, asked)
}

/// One test alone, so that no other allocates meanwhile.
#[test]
fn fifty_thousand_zones_fit_and_memory_grows_with_them() {
    for (kind, growth) in [(Kind::Riser, 1.1), (Kind::Branched, 1.1), (Kind::Grid, 1.6)] {
        let (few, _) = held(kind, 12_500);
        let (many, asked) = held(kind, 50_000);
        assert!(asked < GIBIBYTE, "{}: {} MiB asked for", kind.name(), asked >> 20);
        let ratio = many as f64 / few as f64 / 4.0;
        assert!(ratio < growth, "{}: a zone takes {ratio} times as much", kind.name());
    }
}

"""Compares Headwise's network solver with general-purpose Newton solvers: the same equations, the same networks.

To run it (Debian 12 or later; not part of the tests or of continuous integration):

    apt install gcc libsundials-dev libsuitesparse-dev
    python3 -m venv target/compare && target/compare/bin/pip install numpy scipy
    target/compare/bin/python tests/compare/compare.py

`--large` adds 50,000 zones (ten minutes more), `--only grid-100 riser-10` takes some, `--without-kinsol` needs no apt packages.
It ends with an error if a flow differs by more than 1e-7 of itself and 1e-10 of the pump's.

What is compared. `cargo bench --bench solve -- write` writes the benchmark's networks (two-pipe risers, branched systems, grids; a
pump with a rising set-line) as figures in SI, this solver's flows and its times, in the same run, one network after the other. The
laws are written anew from their sources in `laws.py` and, for KINSOL, in `laws.h`: what agrees was computed twice by different code.
All three kinds of flow come up, laminar, turbulent and between, from 1,000 zones on. The pump is always on its set-line.

- `scipy`: Newton's method in numpy, with splu (`newton.py`).
- `KINSOL`: SUNDIALS' Newton with KLU, in C (`kinsol.c`). The fastest of three ways: a new Jacobian each step (newton), every ten steps
  (modified), or never, the one of an earlier answer (kept; warm only).

Both get links in series merged, flows eliminated from their linear systems, exact Jacobians and the order of elimination from before;
the C program is compiled for the machine it runs on (Headwise is not).

How it is measured. Cold: from 0.5 m/s in the narrowest pipe of each chain, no pressures, half the set-line's reference flow in the
pump (Headwise: from a start of its own). Warm: from the answer at a head limit 1 % higher or lower, there and back. Solved is what
misses no law by more than 1e-9 of the head limit and no balance by more than 1e-9 of the pump's flow (Headwise asks for more: 1e-11
and, as flow, 1e-9). One thread, medians over both states; Headwise's is the least of three medians by the wall clock, the others'
processor time, so that on a busy machine the comparison errs in their favour. Counted are laws, matrix, factorisation,
substitution and tests; not counted are reading, merging, the order of elimination and the symbolic factorisation (scipy cannot keep
that: there it counts), nor Headwise's preparation. In the warm case Headwise is told that only settings changed; the others need
no telling.

How to read it. Times in µs with the most steps taken; × is a time over Headwise's. Below 1,000 zones scipy's is mostly the
interpreter's. `differ` is the greatest difference of any link's flow from Headwise's, over that flow itself, after three steps more
than the tolerance asks for: the last zones of a long riser see a millionth of the pump's head or less, and a residual of 1e-9 leaves
their flows wrong in the fifth digit.

Measured in November 2026 on a virtual machine with two cores of a server processor (AMD EPYC, family 26) and 23 GB, little else
running; Debian 12 with SUNDIALS 6.4.1 and SuiteSparse 5.12, numpy 2.4.6, scipy 1.17.1, Python 3.11. Headwise in µs, then what the
others take over that, each with its steps, and `differ` for scipy. Large systems repeat within a third, scipy's within a factor of two.

    system    zones | cold Headwise | scipy     | KINSOL             | warm Headwise | scipy     | KINSOL             | differ
    riser        10 |        4.8  6 | × 77.2  5 | ×  3.2  5 newton   |        0.6  2 | ×342.5  3 | × 10.0  3 kept     | 6e-16
    riser       100 |       42.3  6 | × 17.2  6 | ×  3.8  6 newton   |        5.3  2 | × 63.0  3 | × 11.5  3 kept     | 1e-12
    riser      1000 |      502.6  7 | × 12.0  7 | ×  3.8  7 newton   |       50.6  2 | × 49.7  3 | × 14.5  3 newton   | 2e-12
    riser     10000 |     7919.5  9 | × 11.1  9 | ×  3.0  9 newton   |      576.3  2 | × 51.2  3 | × 12.1  3 newton   | 2e-08
    riser     50000 |    65821.3 13 | ×  7.2 12 | ×  2.6 12 newton   |     4056.0  2 | × 31.4  3 | × 10.0  3 newton   | 7e-09
    branched     10 |        4.8  6 | × 74.6  5 | ×  3.1  5 newton   |        0.6  2 | ×334.6  3 | × 10.2  3 kept     | 4e-16
    branched    100 |       45.8  6 | × 13.7  5 | ×  3.2  5 newton   |        5.1  2 | × 70.6  3 | × 11.9  3 kept     | 5e-14
    branched   1000 |      456.0  6 | ×  7.6  6 | ×  3.7  6 newton   |       52.1  2 | × 32.6  3 | × 12.0  3 kept     | 2e-13
    branched  10000 |     5236.7  6 | ×  6.5  6 | ×  3.6  6 newton   |      595.2  2 | × 29.1  3 | × 10.5  3 kept     | 3e-11
    branched  50000 |    32099.6  7 | ×  8.7  7 | ×  3.4  7 newton   |     3952.3  2 | × 29.7  3 | × 11.8  3 newton   | 1e-13
    grid         10 |        8.9  6 | × 42.6  5 | ×  2.0  5 newton   |        2.1  2 | ×104.4  3 | ×  3.5  3 kept     | 7e-16
    grid        100 |      137.8  7 | ×  6.2  5 | ×  1.9  5 newton   |       31.1  4 | × 15.7  3 | ×  2.8  3 kept     | 6e-11
    grid       1000 |     3361.4  8 | ×  3.8  6 | ×  1.9 12 modified |      381.6  4 | × 17.1  3 | ×  2.6  3 kept     | 2e-10
    grid      10000 |   171436.5  9 | ×  1.3  6 | ×  1.1 17 modified |     6842.1  4 | × 17.2  3 | ×  2.6  3 kept     | 5e-09
    grid      50000 |  2545125.3  7 | ×  1.1  7 | ×  3.4  7 newton   |    54882.1  3 | × 22.5  3 | ×  2.4  3 kept     | 2e-07

Measured before two changes of the solver: cold starts that take a step or two less on grids and a third of the time on trees, with
blocks for the factor of large grids (half the time of a cold solve at 10,000 zones, a seventh at 50,000), and a stricter end of the
iteration. At 50,000 zones of the grid the warm answers differ most: the flow of mains in which next to no pressure falls is settled no
better than the greatest flow.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

# Before numpy is there; and nothing is left beside the sources.
sys.dont_write_bytecode = True
os.environ.update({name: "1" for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")})

import time  # noqa: E402

import numpy as np  # noqa: E402

import kinsol  # noqa: E402
from laws import Laws, Pump  # noqa: E402
from network import Network  # noqa: E402
from newton import Newton  # noqa: E402

HERE = Path(__file__).resolve().parent
TOLERANCE = 1e-9
# Of the flow itself, and of the pump's flow: a tenth of what Headwise stops at.
AGREEMENT, FLOOR = 1e-7, 1e-10
KINDS = ("riser", "branched", "grid")


def written(name, folder):
    """The network of a name, with Headwise's answers and times of this moment."""
    command = ["cargo", "bench", "--quiet", "--no-default-features", "--bench", "solve", "--", "write", folder, name]
    subprocess.run(command, cwd=HERE, check=True)
    return Network(folder / f"{name}.json")


def measure(turn):
    """Median processor seconds of a turn, and the most steps that one took."""
    begin = time.process_time()
    steps = max(turn(0), turn(1))
    once = (time.process_time() - begin) / 2
    times = []
    for _ in range(min(max(int(0.3 / once / 2), 3), 100)):
        begin = time.process_time()
        steps = max(steps, turn(0), turn(1))
        times.append((time.process_time() - begin) / 2)
    return float(np.median(times)), steps


def by_scipy(network):
    """Flows of chains and pump in both states, and `(seconds, steps)` cold and warm."""
    newton = Newton(network, Laws(network), TOLERANCE)
    pumps = [Pump(network, limit) for limit in network.pump["head_limits_m"]]
    states = [newton.solve(pump, newton.start(pump))[0] for pump in pumps]
    states = [newton.polish(pump, state) for pump, state in zip(pumps, states)]
    cold = measure(lambda turn: newton.solve(pumps[turn], newton.start(pumps[turn]))[1])
    last = [states[1]]

    def warm(turn):
        last[0], steps = newton.solve(pumps[turn], last[0])
        return steps

    return [(q, flow) for q, _, flow in states], cold, measure(warm)


def by_kinsol(network, program, folder):
    """The same, with the name of the fastest way behind the steps."""
    states, ways = kinsol.run(program, network, TOLERANCE, folder)

    def fastest(at):
        done = [(figures[at], int(figures[at + 1]), name) for name, figures in ways.items() if figures[at] > 0]
        return min(done)

    return states, fastest(0), fastest(2)


def differences(network, states):
    """How far flows lie from Headwise's: the greatest difference over the flow itself, and over what is allowed."""
    relative = allowed = 0.0
    for (chain_flows, pump_flow), answer in zip(states, network.answers):
        expected = np.append(answer["flows_m3_per_s"], answer["pump_flow_m3_per_s"])
        missed = np.abs(np.append(network.link_flows(chain_flows), pump_flow) - expected)
        relative = max(relative, float((missed / np.abs(expected)).max()))
        limit = AGREEMENT * np.abs(expected) + FLOOR * pump_flow
        allowed = max(allowed, float((missed / limit).max()))
    return relative, allowed


def heading(others):
    """Two lines above the table."""
    groups = [f"{'Headwise':<12}"] + [f"{name:<{20 if name == 'scipy' else 29}}" for name in others]
    width = len(" | ".join(groups))
    differ = " | ".join(f"{name:<6}" for name in others)
    print(f"{'':<15} | {'cold, µs':<{width}} | {'warm, µs':<{width}} | differ")
    print(" | ".join([f"{'system  zones':<15}", *groups, *groups, differ]))


def line(network, results):
    """One line of the table."""
    cells = [f"{network.name:<8} {network.zones:>6}"]
    for index, key in ((1, "cold"), (2, "warm")):
        own = network.times[f"{key}_s"]
        cells.append(f"{1e6 * own:>9.1f} {network.times[f'{key}_steps']:>2}")
        for result in results:
            seconds, steps, *name = result[index]
            cells.append(f"{1e6 * seconds:>9.0f} {steps:>2} ×{seconds / own:<6.1f}" + "".join(f" {way:<8}" for way in name))
    return " | ".join(cells + [f"{differences(network, result[0])[0]:.0e} " for result in results])


def main():
    parser = argparse.ArgumentParser(description="Headwise beside general-purpose Newton solvers")
    parser.add_argument("--large", action="store_true", help="with 50,000 zones")
    parser.add_argument("--only", nargs="+", metavar="NAME", help="such as grid-100")
    parser.add_argument("--without-kinsol", action="store_true")
    arguments = parser.parse_args()
    sizes = [10, 100, 1_000, 10_000] + [50_000] * arguments.large
    names = arguments.only or [f"{kind}-{zones}" for kind in KINDS for zones in sizes]
    others = ["scipy"] + ["KINSOL"] * (not arguments.without_kinsol)
    heading(others)
    has_failed = False
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        program = None if arguments.without_kinsol else kinsol.build(HERE / "kinsol.c", folder)
        for name in names:
            network = written(name, folder)
            results = [by_scipy(network)]
            if program is not None:
                results.append(by_kinsol(network, program, folder))
            print(line(network, results), flush=True)
            has_failed |= any(differences(network, result[0])[1] > 1 for result in results)
    if has_failed:
        raise SystemExit(f"flows differ by more than {AGREEMENT:g} of themselves and {FLOOR:g} of the pump's")


if __name__ == "__main__":
    main()

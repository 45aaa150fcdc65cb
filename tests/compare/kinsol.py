"""Builds `kinsol.c` with the system's compiler and runs it on a network."""

import subprocess

import numpy as np

LIBRARIES = ["-lsundials_kinsol", "-lsundials_sunlinsolklu", "-lsundials_sunmatrixsparse", "-lsundials_nvecserial", "-lklu", "-lm"]


def build(source, folder):
    """The program's path. From SUNDIALS 7 on there is one more library."""
    program = folder / "kinsol"
    command = ["cc", "-O3", "-march=native", "-o", program, source, "-I/usr/include/suitesparse"]
    for more in ([], ["-lsundials_core"]):
        built = subprocess.run([*command, *LIBRARIES, *more], capture_output=True, text=True)
        if built.returncode == 0:
            return program
    raise SystemExit(f"kinsol.c does not build:\n{built.stderr}")


def run(program, network, tolerance, folder):
    """Flows of chains and pump in both states, and for each way of solving `(cold s, steps, warm s, steps)`."""
    limits = network.pump["head_limits_m"]
    head = [network.chains, network.nodes, len(network.bore), network.discharge, network.density, network.viscosity, tolerance]
    head += [network.pressure_scale(), *network.curve(), network.pump["speed_cap"], network.pump["minimum_speed"]]
    head += [network.pump["slope"], *limits, *(network.reference_flow(limit) for limit in limits)]
    rows = [head, network.from_, network.to, network.square, network.start, network.pipe_chain]
    rows += [network.length, network.bore, network.roughness, network.minor]
    given, answer = folder / "network.bin", folder / "answer.bin"
    np.concatenate([np.asarray(row, dtype=float) for row in rows]).tofile(given)
    done = subprocess.run([program, given, answer], capture_output=True, text=True)
    if done.returncode != 0:
        raise ArithmeticError(f"kinsol ended with {done.returncode}: {done.stderr}")
    ways = {}
    for line in done.stdout.splitlines():
        name, *figures = line.split()
        ways[name] = [float(figure) for figure in figures]
    states = np.fromfile(answer).reshape(2, -1)
    return [(state[: network.chains], state[network.chains]) for state in states], ways

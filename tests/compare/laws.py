"""The laws, vectorised: pressure drop and its derivative by flow for all chains, head and derivative for the pump.

Darcy–Weisbach Δp = (f L/D + Σζ) ρ v²/2. Friction factor: 64/Re up to Re = 2000, Colebrook–White (1939) from Re = 4000, a straight
line in f between. Pump: the greater of the curve at minimum speed and the lesser of set-line and curve at capped speed.
"""

import numpy as np

from network import GRAVITY_M_PER_S2

K = 2 / np.log(10)


class Laws:
    """Chains' laws. The last 1/√f is kept as the next start of its iteration."""

    def __init__(self, network):
        area = np.pi * network.bore**2 / 4
        self.chain, self.chains, self.square = network.pipe_chain, network.chains, network.square
        self.dynamic = network.density / (2 * area**2)
        self.reynolds_per_flow = network.density * network.bore / (network.viscosity * area)
        self.slender, self.minor = network.length / network.bore, network.minor
        self.rough = network.roughness / network.bore / 3.7
        self.root = np.full(len(area), 6.0)
        at_4000, _ = self._colebrook(np.full(len(area), 4000.0))
        self.rise = (at_4000 - 0.032) / 2000

    def _colebrook(self, reynolds):
        """f and Re f′/f by Newton's method on x + K ln(rough + 2.51 x/Re) = 0 for x = 1/√f."""
        b, x = 2.51 / reynolds, self.root
        for _ in range(30):
            inside = self.rough + b * x
            share = K * b / inside
            step = (x + K * np.log(inside)) / (1 + share)
            x = np.maximum(x - step, 0.1)
            # Quadratic convergence: the next error is the square of this step.
            if np.abs(step).max() < 1e-8:
                break
        self.root = x
        share = K * b / (self.rough + b * x)
        return 1 / (x * x), -2 * share / (1 + share)

    def __call__(self, flow):
        """Drops (Pa) and slopes (Pa per m³/s) of all chains."""
        q = np.abs(flow)
        pipe_q = q[self.chain]
        reynolds = np.maximum(pipe_q * self.reynolds_per_flow, 1e-30)
        f, relative = self._colebrook(np.maximum(reynolds, 4000))
        if reynolds.min() < 4000:
            line = 0.032 + self.rise * (reynolds - 2000)
            between = reynolds < 4000
            f = np.where(between, line, f)
            relative = np.where(between, self.rise * reynolds / line, relative)
            laminar = reynolds <= 2000
            f = np.where(laminar, 64 / reynolds, f)
            relative = np.where(laminar, -1.0, relative)
        friction = self.slender * f
        scale = self.dynamic * pipe_q
        per_flow = self._sum(scale * (friction + self.minor)) + self.square * q
        slope = self._sum(scale * (friction * (2 + relative) + 2 * self.minor)) + 2 * self.square * q
        return per_flow * flow, slope

    def _sum(self, of_pipes):
        return np.bincount(self.chain, weights=of_pipes, minlength=self.chains)


class Pump:
    """Pressure rise (Pa) and derivative by flow at one head limit."""

    def __init__(self, network, head_limit_m):
        self.curve, self.limit = [float(a) for a in network.curve()], head_limit_m
        self.slope, self.cap = network.pump["slope"], network.pump["speed_cap"]
        self.minimum = network.pump["minimum_speed"]
        self.reference = float(network.reference_flow(head_limit_m))
        self.pressure = network.density * GRAVITY_M_PER_S2

    def _at_speed(self, flow, n):
        a0, a1, a2 = self.curve
        head = n * n * a0 + n * a1 * flow + a2 * flow * flow
        return (head, n * a1 + 2 * a2 * flow) if head > 0 else (0.0, 0.0)

    def __call__(self, flow):
        flow = max(flow, 0.0)
        line = (self.limit, 0.0)
        if flow < self.reference:
            fall = self.limit * self.slope
            line = (self.limit - fall * (1 - flow / self.reference), fall / self.reference)
        head, by_flow = max(min(line, self._at_speed(flow, self.cap)), self._at_speed(flow, self.minimum))
        return head * self.pressure, by_flow * self.pressure

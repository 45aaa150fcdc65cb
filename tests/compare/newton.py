"""Newton's method with scipy's sparse LU on flows and pressures, the flows eliminated from the linear systems by hand.

Unknowns: flow q of each chain, pressure p of each node, flow Q of the pump. With r = Δp(q) − Aᵀp, what the laws miss, and
g = 1/(dΔp/dq), a step solves

    [ A g Aᵀ  −e ] [δp]   [ e Q − A q + A g r ]
    [  −eᵀ    H′ ] [δQ] = [      eᵀp − H       ]

A being the nodes' balances, e the pump's discharge; then δq = g (Aᵀδp − r). Steps, not new values, are what is solved for: that
keeps the small flows at the end of a long riser exact. The order of elimination is found once, as is where each number goes; scipy
offers no way of keeping SuperLU's symbolic factorisation, so that every step makes it anew.
"""

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

SYMMETRIC = dict(diag_pivot_thresh=0.0, options=dict(SymmetricMode=True))
MOST_STEPS = 60


class Newton:
    """Prepared work for one network."""

    def __init__(self, network, laws, tolerance):
        self.network, self.laws, self.tolerance = network, laws, tolerance
        a, b, n = network.from_, network.to, network.nodes
        order = self._order(a, b, n)
        # Ground gets a number of its own behind all others; the pump comes last, after the nodes.
        place = np.append(order, n + 1)
        self.place, self.discharge = place, place[network.discharge]
        self.a, self.b, self.n = place[a], place[b], n
        chain = np.arange(network.chains)
        row = np.concatenate([self.a, self.b, self.a, self.b])
        column = np.concatenate([self.a, self.b, self.b, self.a])
        source, factor = np.tile(chain, 4), np.repeat([1.0, 1.0, -1.0, -1.0], network.chains)
        keep = (row <= n) & (column <= n)
        fixed = [self.discharge, n, n]
        row = np.concatenate([row[keep], fixed])
        column = np.concatenate([column[keep], [n, self.discharge, n]])
        keys, self.slot = np.unique(column * (n + 1) + row, return_inverse=True)
        self.source, self.factor = source[keep], factor[keep]
        self.rows = (keys % (n + 1)).astype(np.int32)
        self.pointers = np.searchsorted(keys // (n + 1), np.arange(n + 2)).astype(np.int32)

    @staticmethod
    def _order(a, b, n):
        """SuperLU's minimum degree order of the nodes."""
        inner = (a >= 0) & (b >= 0)
        row = np.concatenate([a[inner], b[inner], np.arange(n)])
        column = np.concatenate([b[inner], a[inner], np.arange(n)])
        value = np.concatenate([np.full(2 * inner.sum(), -1.0), np.full(n, 2.0 * len(a))])
        return splu(csc_matrix((value, (row, column))), permc_spec="MMD_AT_PLUS_A", **SYMMETRIC).perm_c

    def start(self, pump):
        """From rest: an ordinary flow everywhere, no pressures."""
        return self.network.start, np.zeros(self.n + 2), 0.5 * pump.reference

    def solve(self, pump, state):
        """The state that solves the network, and the steps taken."""
        limits = self.tolerance * self.network.pressure_scale(), self.tolerance
        for step in range(MOST_STEPS):
            seen = self._look(pump, state)
            missed, outflow, _, short, _ = seen
            if max(np.abs(missed).max(), abs(short)) <= limits[0] and np.abs(outflow).max() <= limits[1] * state[2]:
                return state, step
            state = self._step(state, seen)
        raise ArithmeticError("no convergence")

    def polish(self, pump, state):
        """Three steps more than the tolerance asks for."""
        for _ in range(3):
            state = self._step(state, self._look(pump, state))
        return state

    def _look(self, pump, state):
        """What laws, balances and pump miss, with the slopes of laws and pump."""
        q, p, flow = state
        drop, slope = self.laws(q)
        rise, by_flow = pump(flow)
        outflow = self._balance(q)[: self.n + 1]
        outflow[self.discharge] -= flow
        outflow[self.n] = 0.0
        return drop - (p[self.a] - p[self.b]), outflow, slope, p[self.discharge] - rise, by_flow

    def _step(self, state, seen):
        q, p, flow = state
        missed, outflow, slope, short, by_flow = seen
        n, g = self.n, 1 / slope
        values = np.concatenate([self.factor * g[self.source], [-1.0, -1.0, by_flow]])
        data = np.bincount(self.slot, weights=values, minlength=len(self.rows))
        matrix = csc_matrix((data, self.rows, self.pointers), shape=(n + 1, n + 1))
        right = self._balance(g * missed)[: n + 1] - outflow
        right[n] = short
        found = splu(matrix, permc_spec="NATURAL", **SYMMETRIC).solve(right)
        change = np.append(found, 0.0)
        change[n] = 0.0
        # The ground keeps its number behind the pump's.
        return q + g * (change[self.a] - change[self.b] - missed), p + change, flow + found[n]

    def _balance(self, q):
        size = self.n + 2
        return np.bincount(self.a, weights=q, minlength=size) - np.bincount(self.b, weights=q, minlength=size)

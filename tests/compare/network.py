"""A network as the benchmark wrote it, with links in series merged into chains of one flow.

A chain's law is the sum of its links' laws: its pipes, each with friction and minor losses, and one term k q|q| that holds
valves and fixed losses. That saves unknowns for whoever solves it, as a careful user of a general solver would.
"""

import json

import numpy as np

GRAVITY_M_PER_S2 = 9.80665
# 1 bar = 1e5 Pa at Kv m³/h of water of 1000 kg/m³ (the definition of Kv), flow in m³/s.
KV_PA = 1e5 * 3600.0**2 / 1000.0


class Network:
    """Chains, their pipes and the pump. Nodes are those where chains end, without the pump's suction, which is the ground (−1)."""

    def __init__(self, path):
        data = json.loads(path.read_text())
        self.name, self.zones = data["name"], data["zones"]
        self.answers, self.times = data["answers"], data["times"]
        self.density, self.viscosity = data["density_kg_per_m3"], data["viscosity_pa_s"]
        self.pump = data["pump"]
        self._merge(data)
        self._take_laws(data)

    def _merge(self, data):
        """Walks from every node that is more than a passage to the next one."""
        ends = list(zip(data["from"], data["to"]))
        at_node = [[] for _ in range(data["nodes"])]
        for link, (a, b) in enumerate(ends):
            at_node[a].append(link)
            at_node[b].append(link)
        pump_ends = {self.pump["suction"], self.pump["discharge"]}
        is_end = [len(links) != 2 or node in pump_ends for node, links in enumerate(at_node)]
        number = {self.pump["suction"]: -1}
        chain_of, sign = np.full(len(ends), -1), np.ones(len(ends))
        starts, stops = [], []
        for node in (node for node, holds in enumerate(is_end) if holds):
            number.setdefault(node, len(number) - 1)
            for link in at_node[node]:
                if chain_of[link] >= 0:
                    continue
                at = node
                while True:
                    chain_of[link] = len(starts)
                    a, b = ends[link]
                    sign[link] = 1.0 if a == at else -1.0
                    at = b if a == at else a
                    if is_end[at]:
                        break
                    one, other = at_node[at]
                    link = other if link == one else one
                starts.append(node)
                stops.append(at)
        assert (chain_of >= 0).all(), "a loop without a branch"
        self.chain_of, self.sign = chain_of, sign
        self.from_ = np.array([number[node] for node in starts])
        self.to = np.array([number[node] for node in stops])
        self.nodes, self.chains = len(number) - 1, len(starts)
        self.discharge = number[self.pump["discharge"]]

    def _take_laws(self, data):
        kind, figures = np.array(data["kind"]), np.array(data["figures"])
        pipe, fixed, valve = (kind == name for name in ("pipe", "fixed", "valve"))
        k = np.zeros(len(kind))
        k[fixed] = figures[fixed, 0] / figures[fixed, 1] ** 2
        k[valve] = KV_PA * self.density / figures[valve, 0] ** 2
        self.square = np.bincount(self.chain_of, weights=k, minlength=self.chains)
        self.pipe_chain = self.chain_of[pipe]
        self.length, self.bore, self.roughness, self.minor = figures[pipe].T
        # A start from rest knows no flows: half a metre a second in the narrowest pipe of each chain.
        self.start = np.full(self.chains, np.inf)
        np.minimum.at(self.start, self.pipe_chain, 0.5 * np.pi * self.bore**2 / 4)
        assert np.isfinite(self.start).all(), "a chain without a pipe"

    def curve(self):
        """a0, a1, a2 of the full-speed curve H = a0 + a1 Q + a2 Q², exact through three catalogue points (m, m³/s)."""
        flow, head = np.array(self.pump["points_m3_per_s_m"]).T
        assert len(flow) == 3
        a2, a1, a0 = np.linalg.solve(np.vander(flow / flow[-1], 3), head)
        return a0, a1 / flow[-1], a2 / flow[-1] ** 2

    def reference_flow(self, head_limit_m):
        """Where the full-speed curve falls through the head limit, m³/s."""
        a0, a1, a2 = self.curve()
        return (-a1 - np.sqrt(a1 * a1 - 4 * a2 * (a0 - head_limit_m))) / (2 * a2)

    def pressure_scale(self):
        """The pressure of the first head limit, Pa."""
        return self.density * GRAVITY_M_PER_S2 * self.pump["head_limits_m"][0]

    def link_flows(self, chain_flows):
        """Flows of the links as drawn."""
        return self.sign * chain_flows[self.chain_of]

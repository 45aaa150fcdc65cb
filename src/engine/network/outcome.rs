//! The answer of a solve, and how far it can be trusted.

/// Whether the answer stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// All balances hold: both errors are 1e-10 at most.
    Converged,
    /// The iteration ended before the balances held; the figures are the last ones reached.
    NotConverged,
    /// No pump runs: nothing flows.
    NoPump,
}

/// What one pump does.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PumpOutcome {
    /// Flow in m³/s.
    pub flow: f64,
    /// Pressure rise in Pa.
    pub rise_pa: f64,
    /// Slope of the system curve as this pump sees it at this point with the other pumps' flows held, Pa per m³/s;
    /// infinite where nothing can pass.
    pub system_slope: f64,
    /// Slope of the pump's regulated curve at this point, Pa per m³/s.
    pub pump_slope: f64,
    /// Whether nothing tells its share: with other pumps beside it at the same level head, any division of their common flow is an
    /// answer. The one given lies nearest to where the solve began: equal shares of equal pumps.
    pub is_share_open: bool,
}

impl PumpOutcome {
    /// Whether the point holds when disturbed: the system curve must be steeper than the regulated curve.
    #[must_use]
    pub fn is_stable(&self) -> bool {
        self.system_slope > self.pump_slope
    }
}

/// A solved network; kept by the solver and filled anew at each solve.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Whether the answer stands.
    pub verdict: Verdict,
    /// Newton steps taken.
    pub iterations: u32,
    /// Flow of each link, m³/s.
    pub flows: Vec<f64>,
    /// Pressure drop of each link from `from` to `to`, Pa; not a number where nothing tells it: across a shut link (a check valve
    /// without flow, a limiter at its set flow) whose ends do not hang together otherwise, or one of several of them in a row.
    pub drops_pa: Vec<f64>,
    /// Pressure of each node relative to the reference node, Pa; not a number for a part that hangs together with it through nothing
    /// but shut links, check valves without flow and limiters at their set flow.
    pub pressures_pa: Vec<f64>,
    /// The pumps.
    pub pumps: Vec<PumpOutcome>,
    /// Whether the point holds when disturbed, all pumps together.
    pub stable: bool,
    /// How much the pumps depend on each other: of two pumps, how far the pressure at one follows the other's flow, over the
    /// geometric mean of how far each follows its own; the greatest, 0 for a single pump, 1 where one of several moves nothing.
    pub dependence: f64,
    /// Greatest flow that appears or vanishes at a node, over the greatest flow.
    pub mass_error: f64,
    /// Greatest difference between a law (of links in series, or a pump's curve) and the pressure across it, over the greatest pump
    /// pressure, 1 Pa at least.
    pub energy_error: f64,
}

impl Outcome {
    pub(super) fn new(nodes: usize, links: usize, pumps: usize) -> Self {
        Self {
            verdict: Verdict::NoPump,
            iterations: 0,
            flows: vec![0.0; links],
            drops_pa: vec![0.0; links],
            pressures_pa: vec![0.0; nodes],
            pumps: vec![PumpOutcome::default(); pumps],
            stable: true,
            dependence: 0.0,
            mass_error: 0.0,
            energy_error: 0.0,
        }
    }

    /// Whether all balances hold.
    #[must_use]
    pub fn converged(&self) -> bool {
        self.verdict != Verdict::NotConverged
    }
}

//! The power limit: the head that a pump gives at a flow when its motor takes no more than a set electric power.
//!
//! ```text
//! x = Q/n,  p(x) = P_full(x) − P₀,  P₁(Q, n) = P₀ + n³ p(x)
//! n³ p(Q/n) = P_lim − P₀             the speed n that takes just the limit
//! H_pow(Q) = n² H₁(Q/n)
//! dn/dQ    = −p′/(3 p − x p′)        differentiated implicitly
//! dH_pow/dQ = n (3 p H₁′ − 2 H₁ p′)/(3 p − x p′)
//! ```
//!
//! Q flow in m³/s, n speed as a fraction of full speed, P₁ electric power in W, P_full the same at full speed, P₀ the part that does
//! not follow speed, P_lim the limit, H₁ head in m at full speed; p′ and H₁′ derivatives by x. All of it follows from the affinity
//! laws (textbook identities); where the limit is not reached at full speed, H_pow is the full-speed curve.
//!
//! The curve falls wherever 3 H₁′/H₁ < 2 p′/p: always where the head falls and the power rises with flow, as in a radial impeller.
//! Where the power falls with flow a limited pump speeds up as flow grows, and H_pow may rise.
//!
//! P₁ grows with n as long as p grows more slowly than the cube of x. Where a catalogue says otherwise (its power leaps, or its
//! extrapolation beyond the data does), several speeds take the limit at one flow; a pump that speeds up from rest meets the lowest
//! and stays there. So p is replaced by the smallest curve that lies nowhere below it and grows nowhere faster than x^2.97: its
//! crossing is the first from below, and the head stays continuous, if steep, where that first crossing leaps.

use super::{PowerModel, PumpCurve};

/// Fastest growth of p with x that is kept, as an exponent: just below 3, at which the speed would no longer follow from the flow.
const FASTEST_GROWTH: f64 = 2.97;
/// Steps by which faster growth is looked for.
const GRID: u32 = 400;
/// Steps of Newton's method, or of halving where it strays; three or four are usual.
const MOST_STEPS: u32 = 100;

/// An electric power that a pump holds, with the power model that it holds it by.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PowerLimit {
    power: PowerModel,
    /// ∛(P_lim − P₀).
    cube_root: f64,
    /// Where p grows too fast; empty for all but odd catalogues.
    stretches: Vec<Stretch>,
}

/// Flows at full speed over which p is replaced by `end_w (x/to)^2.97`.
#[derive(Clone, Debug, PartialEq)]
struct Stretch {
    from: f64,
    to: f64,
    end_w: f64,
}

impl PowerLimit {
    /// Lays a limit (W, above the standby power) over a power model.
    pub(super) fn new(power: &PowerModel, limit_w: f64) -> Self {
        let cube_root = (limit_w - power.standby_w()).max(0.0).cbrt();
        Self { power: power.clone(), cube_root, stretches: fast_stretches(power) }
    }

    /// Head (m) and derivative by flow at the speed that takes the limit; `None` where it is not below `most`.
    #[inline(never)] // The head of a pump without limit stays as short as it was.
    pub(super) fn head(&self, curve: &PumpCurve, flow: f64, most: f64) -> Option<(f64, f64)> {
        let n = self.speed(flow, most)?;
        if flow < 0.0 {
            // Water driven backwards: the power is that at no flow.
            return Some(curve.at_speed(flow, n));
        }
        let x = flow / n;
        let (head, head_slope) = curve.full_speed(x);
        let (p, p_slope) = self.above_standby(x);
        let slope = n * (3.0 * p * head_slope - 2.0 * head * p_slope) / (3.0 * p - x * p_slope);
        Some((n * n * head, slope))
    }

    /// The speed fraction that takes the limit at `flow` (m³/s), the first from rest up; `None` where it is not below `most`.
    ///
    /// Newton's method on `n ∛p(Q/n) = ∛(P_lim − P₀)`, nearly a straight line in n, kept inside a bracket.
    pub(super) fn speed(&self, flow: f64, most: f64) -> Option<f64> {
        let flow = flow.max(0.0);
        let (mut excess, mut slope) = self.excess(flow, most);
        if excess <= 0.0 {
            return None;
        }
        let (mut low, mut high, mut n) = (0.0, most, most);
        for _ in 0..MOST_STEPS {
            let newton = n - excess / slope;
            if (newton - n).abs() <= 2.0 * f64::EPSILON * n {
                break;
            }
            n = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
            (excess, slope) = self.excess(flow, n);
            if excess > 0.0 { high = n } else { low = n }
        }
        Some(n)
    }

    /// The flow at which the limited curve reaches zero head, m³/s; not beyond run-out at full speed.
    pub(super) fn end_m3_per_s(&self, curve: &PumpCurve) -> f64 {
        let run_out = curve.run_out_m3_per_s();
        let n = self.cube_root / self.above_standby(run_out).0.cbrt();
        run_out * n.min(1.0)
    }

    /// n ∛p(Q/n) − ∛(P_lim − P₀) and its derivative by n.
    fn excess(&self, flow: f64, n: f64) -> (f64, f64) {
        let x = flow / n;
        let (p, p_slope) = self.above_standby(x);
        if p <= 0.0 {
            return (-self.cube_root, 0.0);
        }
        let root = p.cbrt();
        (n * root - self.cube_root, root * (1.0 - x * p_slope / (3.0 * p)))
    }

    /// p(x) in W and its derivative, growing nowhere too fast.
    fn above_standby(&self, x: f64) -> (f64, f64) {
        for stretch in &self.stretches {
            if x > stretch.from && x < stretch.to {
                let p = stretch.end_w * (x / stretch.to).powf(FASTEST_GROWTH);
                return (p, FASTEST_GROWTH * p / x);
            }
        }
        self.power.above_standby_w(x)
    }
}

/// Where p grows faster than x^2.97, and on from there towards smaller x until p is no longer below what that growth leads back to.
/// Beyond twice the data no straight extrapolation grows so fast.
fn fast_stretches(power: &PowerModel) -> Vec<Stretch> {
    let end = 2.0 * power.data_end_m3_per_s();
    let at = |i: u32| end * f64::from(i) / f64::from(GRID);
    let too_fast = |x: f64| {
        let (p, slope) = power.above_standby_w(x);
        x * slope > FASTEST_GROWTH * p
    };
    let mut stretches = Vec::new();
    let mut i = GRID;
    while i > 1 {
        i -= 1;
        if !too_fast(at(i)) {
            continue;
        }
        let to = last_where(at(i), at(i + 1), too_fast);
        let end_w = power.above_standby_w(to).0;
        let above = |x: f64| power.above_standby_w(x).0 >= end_w * (x / to).powf(FASTEST_GROWTH);
        let mut j = i - 1;
        while j > 0 && !above(at(j)) {
            j -= 1;
        }
        let from = if j == 0 && !above(0.0) { 0.0 } else { last_where(at(j), at(j + 1), above) };
        stretches.push(Stretch { from, to, end_w });
        i = j + 1;
    }
    stretches
}

/// Bisects for where something ceases to hold that holds at `low`.
fn last_where(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if holds(middle) { low = middle } else { high = middle }
    }
    low
}

//! The pumps' side of a Newton step: the network, linear at the present flows, meets the pumps' true curves.
//!
//! On the pumps' nodes the network is S δ = ρ + E Q, with S its Schur complement, E the incidence of the pumps and Q their
//! flows; each pump adds p_d − p_s = H_reg(Q). A rising set-line would make a matrix that holds the pumps indefinite, so
//! they are kept outside it. One pump leaves one equation in Q, met exactly on the curve with all its kinks; several are met
//! by Newton on the small dense system, whose unknowns are node pressures and flows, so that parallel pumps at constant head,
//! pumps in series and pumps behind shut check valves need no special case.

use super::dense::Dense;
use super::pumps::{PumpLaw, PumpLink};

/// A change to a pump's curve for one round of [`super::content`], so that it does not rise: held at `level` (Pa) from `around`
/// (m³/s) onwards until it falls below, and backwards until it rises above.
#[derive(Clone, Copy, Debug)]
pub(super) struct Easing {
    pub(super) around: f64,
    pub(super) level: f64,
}

impl Easing {
    /// The changed rise and derivative at a flow.
    fn ease(self, rise: f64, slope: f64, flow: f64) -> (f64, f64) {
        let as_it_is = if flow >= self.around { rise < self.level } else { rise > self.level };
        if as_it_is { (rise, slope) } else { (self.level, 0.0) }
    }
}

/// Pressure rise and derivative of a pump under an easing; `None` for a fixed flow.
pub(super) fn rise(pump: &PumpLink, easing: Option<Easing>, flow: f64) -> Option<(f64, f64)> {
    let (own, slope) = pump.rise(flow)?;
    Some(easing.map_or((own, slope), |e| e.ease(own, slope, flow)))
}

/// One pump: finds Q with `outflow + conductance · (H(Q) − pressure) = Q`, where `outflow` is what the network draws with the
/// pump's pressure as it is and `conductance` how much more it draws per Pa.
pub(super) fn one_pump(
    pump: &PumpLink,
    easing: Option<Easing>,
    conductance: f64,
    outflow: f64,
    pressure: f64,
    start: f64,
) -> f64 {
    if let PumpLaw::FixedFlow(flow) = pump.law {
        return flow;
    }
    let error = |q: f64| {
        let (rise, slope) = rise(pump, easing, q).unwrap_or((0.0, 0.0));
        (q - outflow - conductance * (rise - pressure), 1.0 - conductance * slope)
    };
    let (scale, _) = pump.scale();
    let (mut low, mut high) = bracket(&error, scale, start);
    // Newton kept inside a bracket; the curve's kinks cost a bisection at worst.
    let mut q = start.max(low).min(high);
    for _ in 0..200 {
        let (value, slope) = error(q);
        if value < 0.0 {
            low = q
        } else {
            high = q
        }
        let newton = if slope > 0.0 { q - value / slope } else { f64::NAN };
        let next = if newton >= low && newton <= high { newton } else { 0.5 * (low + high) };
        if (next - q).abs() <= 1e-15 * scale {
            return next;
        }
        q = next;
    }
    q
}

/// Flow over run-out flow that counts as rest: rounding.
const AT_REST: f64 = 1e-13;

/// A flow where the network wants more than the pump gives below and less above. Where the pump gives no pressure at zero flow
/// (a slope of 100 %), zero is an answer too, but one that any disturbance leaves: a flow beyond it is looked for first.
fn bracket(error: &impl Fn(f64) -> (f64, f64), scale: f64, start: f64) -> (f64, f64) {
    let upwards = |low: f64| {
        let mut high = 1.5 * scale;
        while error(high).0 < 0.0 && high < 1e6 * scale {
            high *= 2.0;
        }
        (low, high)
    };
    let at_zero = error(0.0).0;
    if at_zero < -AT_REST * scale {
        return upwards(0.0);
    }
    if at_zero <= AT_REST * scale {
        let tries = [1e-4, 1e-3, 1e-2, 0.1, 0.3, 1.0];
        let found = tries.iter().map(|share| share * scale).chain([start]).find(|&q| q > 0.0 && error(q).0 < 0.0);
        return found.map_or((0.0, 0.0), upwards);
    }
    // Two answers beside rest: the one that the pump stands at is kept.
    if start > 0.0 && error(0.999 * start).0 < 0.0 {
        return upwards(0.999 * start);
    }
    let mut low = -0.1 * scale;
    while error(low).0 > 0.0 && low > -1e6 * scale {
        low *= 2.0;
    }
    (low, 0.0)
}

/// Least fall of a pump curve in the equations of several pumps, over the greatest shut-off pressure and run-out flow: side by side at the
/// same level head, or beyond run-out, nothing tells their shares. Each step then keeps the shares as near as can be to what
/// they were; the curve itself is met all the same, because the fall is taken around the flow at hand.
const LEVEL: f64 = 1e-6;

/// Several pumps at once. `terminals` maps each pump to the rows of its suction and discharge (`None` for the ground node),
/// `schur` and `rhs` are the network's, `pressures` the terminals' present pressures, `flows` the pumps' flows, changed to the
/// new ones. Leaves in `rhs` the pressure changes of the terminals; `false` where the system has no solution.
#[expect(clippy::too_many_arguments, reason = "the parts of one system of equations")]
pub(super) fn many_pumps(
    pumps: &[PumpLink],
    easing: &[Option<Easing>],
    terminals: &[(Option<usize>, Option<usize>)],
    schur: &[f64],
    rhs: &mut [f64],
    pressures: &[f64],
    flows: &mut [f64],
    rounds: u32,
    dense: &mut Dense,
) -> bool {
    let t = rhs.len();
    // Equations are scaled to pressures of the greatest pump and flows of the greatest pump.
    let flow_scale = pumps.iter().map(|p| p.scale().0).fold(1e-12, f64::max);
    let pressure_scale = pumps.iter().map(|p| p.scale().1).fold(1.0, f64::max);
    for round in 0..rounds {
        dense.clear(t + pumps.len(), 1);
        for i in 0..t {
            for j in 0..t {
                *dense.at(i, j) = schur[i * t + j] * pressure_scale / flow_scale;
            }
            // A node that hangs on nothing but a shut valve, whose pressure follows the pump equation alone, and a circuit apart from the
            // ground node, whose level nothing tells: what is added must stand out from the rounding of the rest.
            *dense.at(i, i) += 1e-13 * (1.0 + schur[i * t + i] * pressure_scale / flow_scale);
            *dense.right(i, 0) = rhs[i] / flow_scale;
        }
        for (p, (pump, &(suction, discharge))) in pumps.iter().zip(terminals).enumerate() {
            let row = t + p;
            let mut present = 0.0;
            for (node, sign) in [(suction, -1.0), (discharge, 1.0)] {
                if let Some(node) = node {
                    *dense.at(node, row) -= sign;
                    *dense.at(row, node) += sign;
                    present += sign * pressures[node];
                }
            }
            match rise(pump, easing[p], flows[p]) {
                Some((rise, slope)) => {
                    let slope = if slope > 0.0 { slope } else { slope.min(-LEVEL * pressure_scale / flow_scale) };
                    *dense.at(row, row) = -slope * flow_scale / pressure_scale;
                    *dense.right(row, 0) = (rise - slope * flows[p] - present) / pressure_scale;
                }
                None => {
                    for node in 0..t {
                        *dense.at(row, node) = 0.0;
                    }
                    *dense.at(row, row) = 1.0;
                    *dense.right(row, 0) = flows[p] / flow_scale;
                }
            }
        }
        dense.solve();
        // After ten rounds on kinks, half steps settle what whole steps jump across.
        let share = if round < 10 { 1.0 } else { 0.5 };
        let mut moved: f64 = 0.0;
        for (p, flow) in flows.iter_mut().enumerate() {
            let next = dense.solution(t + p, 0) * flow_scale;
            if !next.is_finite() {
                return false;
            }
            moved = moved.max((next - *flow).abs());
            *flow += share * (next - *flow);
        }
        if moved <= 1e-13 * flow_scale {
            break;
        }
    }
    for (i, value) in rhs.iter_mut().enumerate() {
        *value = dense.solution(i, 0) * pressure_scale;
    }
    true
}

//! Radiators and floors: heat by a power of the logarithmic mean temperature difference, `φ = (ΔT_m / ΔT_m,d)^n`.
//!
//! With y = ln((t_s − t_room)/(t_r − t_room)), the mean difference is `ΔT_m = a (1 − e^−y) / y` and the water's drop
//! `a (1 − e^−y)`, a being the supply's excess over the room. Both equations for φ together leave, in u = ln y,
//!
//! `n u + (1 − n) ln(1 − e^−y) + c = 0`, `c = ln(x r / d) − n ln(r y_d / d)`
//!
//! with x the flow share, r the supply excess and d the drop, both as a fraction of the design's supply excess. The slope
//! in u lies between 1 and n everywhere, so Newton's steps shrink the error by `max(n − 1, 1/n − 1)` or better from any
//! start: for n from 0.5 to 2 it always converges, with neither bracket nor good first guess.
//!
//! Source: EN 442 for the exponent law (from memory), where the arithmetic mean difference is used; the logarithmic
//! one stays meaningful at small flow, where the return comes near the room.

/// Steps that suffice for the slowest exponent in use (about 6 at n = 1.3); a stop, not a tolerance.
const MOST_STEPS: usize = 60;

/// Heat share φ at flow share `x`, for a drop of `drop_fraction` of the design's supply excess, when the supply excess
/// is `excess_ratio` of the design's.
pub(super) fn heat_share(exponent: f64, drop_fraction: f64, x: f64, excess_ratio: f64) -> f64 {
    let n = exponent;
    let design_y = -(-drop_fraction).ln_1p();
    let constant = (x * excess_ratio / drop_fraction).ln() - n * (excess_ratio * design_y / drop_fraction).ln();
    let mut u = -constant / n;
    for _ in 0..MOST_STEPS {
        let y = u.exp();
        let error = n * u + (1.0 - n) * cooled(y).ln() + constant;
        // d ln(1 − e^−y)/du = y/(e^y − 1), which tends to 0 where e^y overflows.
        let cooled_slope = if y < 700.0 { y / y.exp_m1() } else { 0.0 };
        let step = error / (n + (1.0 - n) * cooled_slope);
        u -= step;
        if step.abs() < 1e-13 * (1.0 + u.abs()) {
            break;
        }
    }
    x * excess_ratio * cooled(u.exp()) / drop_fraction
}

/// Share of its supply excess that the water gives up, 1 − e^−y.
fn cooled(y: f64) -> f64 {
    -(-y).exp_m1()
}

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
//! A room whose loss rises with its temperature adds one unknown, the excess a, and one equation, which gives a by y alone:
//! `a = κ A/(κ + p)`, `p = x (1 − e^−y)/D`, with A the supply's excess over the unheated room, κ the room's loss in shares
//! of design heat per K and D the design drop in K. What is left is again one equation in u with a slope between 1 and n,
//!
//! `n u + (1 − n) ln((1 − e^−y) a) + ln(x/D) + n ln M = 0`, with M the design's mean difference.
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
        let step = error / (n + (1.0 - n) * cooled_slope(y));
        u -= step;
        if step.abs() < 1e-13 * (1.0 + u.abs()) {
            break;
        }
    }
    x * excess_ratio * cooled(u.exp()) / drop_fraction
}

/// A surface and the room that it heats.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SurfaceInRoom {
    exponent: f64,
    /// Design drop of the water D, K.
    drop_k: f64,
    /// n ln M − ln D.
    constant: f64,
    /// The room's loss κ in shares of design heat per K.
    loss: f64,
    /// Excess A of the supply over the unheated room, K.
    excess_k: f64,
}

impl SurfaceInRoom {
    /// From the exponent, the design's drop of the water (K) and the fraction of its supply excess that it is, κ and A.
    pub(super) fn new(exponent: f64, drop_k: f64, drop_fraction: f64, loss: f64, excess_k: f64) -> Self {
        let mean_k = drop_k / -(-drop_fraction).ln_1p();
        Self { exponent, drop_k, constant: exponent * mean_k.ln() - drop_k.ln(), loss, excess_k }
    }

    /// Heat share per K of present supply excess, p, at flow share `x`, and its derivative by ln x.
    pub(super) fn conductance(&self, x: f64) -> (f64, f64) {
        let (n, loss) = (self.exponent, self.loss);
        let per_k = x / self.drop_k;
        let excess = |cooled: f64| loss * self.excess_k / (loss + per_k * cooled);
        let constant = self.constant + x.ln();
        let mut u = -(constant + (1.0 - n) * excess(1.0).ln()) / n;
        for _ in 0..MOST_STEPS {
            let y = u.exp();
            let cooled = cooled(y);
            let error = n * u + (1.0 - n) * (cooled * excess(cooled)).ln() + constant;
            let weight = loss / (loss + per_k * cooled);
            let step = error / (n + (1.0 - n) * weight * cooled_slope(y));
            u -= step;
            // What is left after a step of Newton is of the order of its square.
            if step.abs() < 1e-9 * (1.0 + u.abs()) {
                break;
            }
        }
        let y = u.exp();
        let p = per_k * cooled(y);
        // With s = d ln(1 − e^−y)/du: dp/d ln x = p (1 + s du/d ln x), which is p (1 − s) times the factor here.
        let slope = cooled_slope(y);
        let share = n * (loss + p) / (n * (loss + p) + (1.0 - n) * slope * loss);
        (p, p * share * slope_left(y))
    }
}

/// d ln(1 − e^−y)/d ln y = y/(e^y − 1), which tends to 0 where e^y overflows.
fn cooled_slope(y: f64) -> f64 {
    if y < 700.0 { y / y.exp_m1() } else { 0.0 }
}

/// 1 − y/(e^y − 1), by its series where the difference would lose digits.
fn slope_left(y: f64) -> f64 {
    if y < 0.03 { y / 2.0 - y * y / 12.0 + y.powi(4) / 720.0 } else { 1.0 - cooled_slope(y) }
}

/// Share of its supply excess that the water gives up, 1 − e^−y.
fn cooled(y: f64) -> f64 {
    -(-y).exp_m1()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_is_the_difference() {
        for y in [0.002, 0.01, 0.0299] {
            let difference = 1.0 - cooled_slope(y);
            assert!((slope_left(y) / difference - 1.0).abs() < 1e-11, "{y}");
        }
    }
}

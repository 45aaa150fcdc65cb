//! The Darcy friction factor f(Re, ε/D) and its derivative by Re.
//!
//! - laminar, Re ≤ 2000: f = 64/Re (Hagen–Poiseuille, exact for round tubes);
//! - turbulent, Re ≥ 4000: Colebrook–White, 1/√f = −2 log₁₀( (ε/D)/3.7 + 2.51/(Re √f) ) (J. Inst. Civ. Eng. 11 (1939) 133);
//! - between: a straight line in f. No standard fixes this stretch; the line keeps pressure drop continuous and rising
//!   with flow, so that a dragged setting never makes a flow jump.

use std::f64::consts::LN_10;

/// Reynolds number up to which flow is laminar.
pub const LAMINAR_END: f64 = 2000.0;
/// Reynolds number from which Colebrook–White holds.
pub const TURBULENT_START: f64 = 4000.0;

/// Friction of one pipe: the roughness term and the transition line are computed once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    roughness_term: f64,
    transition_slope: f64,
}

impl Friction {
    /// For a relative roughness ε/D.
    #[must_use]
    pub fn new(relative_roughness: f64) -> Self {
        let at_start = colebrook(TURBULENT_START, relative_roughness);
        Self {
            roughness_term: relative_roughness / 3.7,
            transition_slope: (at_start - 64.0 / LAMINAR_END) / (TURBULENT_START - LAMINAR_END),
        }
    }

    /// f and df/dRe at Re > 0. `warm` holds 1/√f of the last call to start the iteration from.
    #[must_use]
    pub fn factor(&self, reynolds: f64, warm: &mut f64) -> (f64, f64) {
        if reynolds <= LAMINAR_END {
            let f = 64.0 / reynolds;
            return (f, -f / reynolds);
        }
        if reynolds < TURBULENT_START {
            let f = 64.0 / LAMINAR_END + self.transition_slope * (reynolds - LAMINAR_END);
            return (f, self.transition_slope);
        }
        let b = 2.51 / reynolds;
        let start = if *warm > 0.0 { *warm } else { rough_start(reynolds, self.roughness_term) };
        let x = colebrook_root(self.roughness_term, b, start);
        *warm = x;
        let share = b / (self.roughness_term + b * x);
        let slope_x = (2.0 / LN_10) * share * x / reynolds / (1.0 + (2.0 / LN_10) * share);
        let f = 1.0 / (x * x);
        (f, -2.0 * f / x * slope_x)
    }
}

/// Colebrook–White's friction factor at any Re > 0.
#[must_use]
pub fn colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    let a = relative_roughness / 3.7;
    let x = colebrook_root(a, 2.51 / reynolds, rough_start(reynolds, a));
    1.0 / (x * x)
}

/// The friction factor with the three stretches of this module.
#[must_use]
pub fn darcy_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    Friction::new(relative_roughness).factor(reynolds, &mut 0.0).0
}

/// Newton on x + 2 log₁₀(a + b x) = 0, x = 1/√f: concave and rising, so from any positive start the first
/// step lands at or below the root (or on the floor) and the others climb to it.
fn colebrook_root(a: f64, b: f64, start: f64) -> f64 {
    let mut x = start;
    for _ in 0..20 {
        let inside = a + b * x;
        let step = (x + (2.0 / LN_10) * inside.ln()) / (1.0 + (2.0 / LN_10) * b / inside);
        x = (x - step).max(0.1);
        // Newton squares its error: a step this small leaves nothing to correct.
        if step.abs() < 3e-8 * x {
            break;
        }
    }
    x
}

/// Haaland's explicit form (J. Fluids Eng. 105 (1983) 89), within about 1.5 %: a start only.
fn rough_start(reynolds: f64, roughness_term: f64) -> f64 {
    let inside: f64 = roughness_term.powf(1.11) + 6.9 / reynolds;
    (-1.8 / LN_10 * inside.ln()).max(1.0)
}

//! The Darcy friction factor f(Re, ε/D) and its derivative by Re.
//!
//! - laminar, Re ≤ 2000: f = 64/Re (Hagen–Poiseuille, exact for round tubes);
//! - turbulent, Re ≥ 4000: Colebrook–White, 1/√f = −2 log₁₀( (ε/D)/3.7 + 2.51/(Re √f) ) (J. Inst. Civ. Eng. 11 (1939) 133);
//! - between: a straight line in f. No standard fixes this stretch; the line keeps pressure drop continuous and rising
//!   with flow, so that a dragged setting never makes a flow jump.

use std::f64::consts::LN_10;

/// x = −K ln(a + b x) with K = 2/ln 10 is Colebrook–White for x = 1/√f.
const K: f64 = 2.0 / LN_10;
/// Terms of a law's series around a flow; with [`REACH`] the first term left out is below 1e-12 of the drop.
pub(crate) const TERMS: usize = 6;
/// How far from its middle, as a share of the flow, the series of a turbulent law holds.
pub(crate) const REACH: f64 = 1.0 / 45.0;

/// Reynolds number up to which flow is laminar.
pub const LAMINAR_END: f64 = 2000.0;
/// Reynolds number from which Colebrook–White holds.
pub const TURBULENT_START: f64 = 4000.0;

/// Friction of one pipe: the roughness term and the transition line are computed once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Friction {
    roughness_term: f64,
    /// The roughness term to the power 1.11, for the start.
    roughness_power: f64,
    transition_slope: f64,
}

impl Friction {
    /// For a relative roughness ε/D.
    #[must_use]
    pub fn new(relative_roughness: f64) -> Self {
        let at_start = colebrook(TURBULENT_START, relative_roughness);
        Self {
            roughness_term: relative_roughness / 3.7,
            roughness_power: (relative_roughness / 3.7).powf(1.11),
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
        let x = self.inverse_root(reynolds, warm);
        let b = 2.51 / reynolds;
        let share = K * b / (self.roughness_term + b * x);
        let slope_x = share * x / (reynolds * (1.0 + share));
        let f = 1.0 / (x * x);
        (f, -2.0 * f / x * slope_x)
    }

    /// 1/√f of turbulent flow, from `warm` where that holds a value, and kept there.
    fn inverse_root(&self, reynolds: f64, warm: &mut f64) -> f64 {
        let start = if *warm > 0.0 { *warm } else { rough_start(reynolds, self.roughness_power) };
        *warm = colebrook_root(self.roughness_term, 2.51 / reynolds, start);
        *warm
    }

    /// f(Re (1+s)) (1+s)² as a power series in s, and the greatest |s| for which it holds. Laminar and transition flow are
    /// polynomials; turbulent flow is Colebrook–White differentiated term by term.
    #[must_use]
    pub(crate) fn series(&self, reynolds: f64, warm: &mut f64) -> ([f64; TERMS], f64) {
        if reynolds <= LAMINAR_END {
            let f = 64.0 / reynolds;
            return ([f, f, 0.0, 0.0, 0.0, 0.0], (LAMINAR_END / reynolds - 1.0).min(0.5));
        }
        if reynolds < TURBULENT_START {
            let (f, slope) = self.factor(reynolds, warm);
            let by_s = slope * reynolds;
            let reach = (1.0 - LAMINAR_END / reynolds).min(TURBULENT_START / reynolds - 1.0);
            return ([f, 2.0 * f + by_s, f + 2.0 * by_s, by_s, 0.0, 0.0], reach.min(0.5));
        }
        let x0 = self.inverse_root(reynolds, warm);
        let b = 2.51 / reynolds;
        // x(s), m(s) = x/(1+s) and y(s) = a + b m; x′ y = −K y′ gives one coefficient of x after the other.
        let y0 = self.roughness_term + b * x0;
        let (kb, per) = (K * b, 1.0 / (y0 + K * b));
        let m0 = x0;
        let x1 = kb * m0 * per;
        let m1 = x1 - m0;
        let y1 = b * m1;
        let x2 = (kb * m1 - x1 * y1 / 2.0) * per;
        let m2 = x2 - m1;
        let y2 = b * m2;
        let x3 = (kb * m2 - (x1 * y2 + 2.0 * x2 * y1) / 3.0) * per;
        let m3 = x3 - m2;
        let y3 = b * m3;
        let x4 = (kb * m3 - (x1 * y3 + 2.0 * x2 * y2 + 3.0 * x3 * y1) / 4.0) * per;
        let m4 = x4 - m3;
        let y4 = b * m4;
        let x5 = (kb * m4 - (x1 * y4 + 2.0 * x2 * y3 + 3.0 * x3 * y2 + 4.0 * x4 * y1) / 5.0) * per;
        let m5 = x5 - m4;
        // n = 1/m, and f (1+s)² = n².
        let n0 = 1.0 / m0;
        let n1 = -n0 * (m1 * n0);
        let n2 = -n0 * (m1 * n1 + m2 * n0);
        let n3 = -n0 * (m1 * n2 + m2 * n1 + m3 * n0);
        let n4 = -n0 * (m1 * n3 + m2 * n2 + m3 * n1 + m4 * n0);
        let n5 = -n0 * (m1 * n4 + m2 * n3 + m3 * n2 + m4 * n1 + m5 * n0);
        let loss = [
            n0 * n0,
            2.0 * n0 * n1,
            2.0 * n0 * n2 + n1 * n1,
            2.0 * (n0 * n3 + n1 * n2),
            2.0 * (n0 * n4 + n1 * n3) + n2 * n2,
            2.0 * (n0 * n5 + n1 * n4 + n2 * n3),
        ];
        (loss, REACH.min(1.0 - TURBULENT_START / reynolds))
    }
}

/// Colebrook–White's friction factor at any Re > 0.
#[must_use]
pub fn colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    let a = relative_roughness / 3.7;
    let x = colebrook_root(a, 2.51 / reynolds, rough_start(reynolds, a.powf(1.11)));
    1.0 / (x * x)
}

/// The friction factor with the three stretches of this module.
#[must_use]
pub fn darcy_factor(reynolds: f64, relative_roughness: f64) -> f64 {
    Friction::new(relative_roughness).factor(reynolds, &mut 0.0).0
}

/// The root of F(x) = x + K ln(a + b x), x = 1/√f. F is concave and rising, so that Newton from any positive start lands at or
/// below the root (or on the floor) and climbs to it; near the root Householder's step of the third order takes its place,
/// which raises the error to its fourth power: mostly two logarithms, one where the start is close.
fn colebrook_root(a: f64, b: f64, start: f64) -> f64 {
    let mut x = start;
    for _ in 0..20 {
        let inside = a + b * x;
        let beta = b / inside;
        let slope = 1.0 + K * beta;
        let newton = -(x + K * inside.ln()) / slope;
        let relative = (beta * newton).abs();
        if relative > 0.3 || relative.is_nan() {
            x = (x + newton).max(0.1);
            continue;
        }
        // F″/F′ and F‴/F′ times powers of Newton's step.
        let second = -K * beta * beta / slope * newton;
        let third = -2.0 * beta * newton * second;
        x += newton * (1.0 + 0.5 * second) / (1.0 + second + third / 6.0);
        // The error left is about (β step)⁴/5.
        if relative < 2e-4 {
            break;
        }
    }
    x.max(0.1)
}

/// Haaland's explicit form (J. Fluids Eng. 105 (1983) 89), within about 1.5 %: a start only. `roughness_power` is
/// ((ε/D)/3.7)^1.11.
fn rough_start(reynolds: f64, roughness_power: f64) -> f64 {
    let inside: f64 = roughness_power + 6.9 / reynolds;
    (-1.8 / LN_10 * inside.ln()).max(1.0)
}

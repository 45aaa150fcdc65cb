//! A chain's law near its present flow as one polynomial.
//!
//! Between two solves of a drag, and between the last steps of one solve, flows change by a per cent or two. There the sum of a
//! chain's laws is taken from a series around an anchor flow (Taylor's, six terms, from [`LinkLaw::expand`]) instead of from the
//! laws: no logarithm, whatever the chain holds. The series is used only within its reach, where the terms left out are below 1e-12 of
//! the drop; outside, the laws are asked and, if the flow has not moved far, become the new anchor.
//!
//! [`LinkLaw::expand`]: crate::engine::links::LinkLaw

use crate::engine::links::{Drop, TERMS};

/// Flows below this have no series, m³/s: the powers of a flow would leave the range of numbers.
pub(super) const LEAST_ANCHOR: f64 = 1e-12;

/// A polynomial in q − anchor. One cache line.
#[derive(Clone, Copy, Debug)]
#[repr(align(64))]
pub(super) struct Curve {
    anchor: f64,
    reach: f64,
    coefficients: [f64; TERMS],
}

impl Curve {
    /// A curve that holds nowhere.
    pub(super) const NONE: Self = Self { anchor: 0.0, reach: -1.0, coefficients: [0.0; TERMS] };

    /// From the sum of the series in s = (q − anchor)/anchor.
    pub(super) fn new(anchor: f64, relative_reach: f64, series: &[f64; TERMS]) -> Self {
        Self { anchor, reach: relative_reach * anchor.abs(), coefficients: by_flow(series, anchor) }
    }

    /// Whether it holds at a flow.
    #[inline(always)]
    pub(super) fn holds(&self, flow: f64) -> bool {
        (flow - self.anchor).abs() <= self.reach
    }

    /// The law at a flow at which it holds.
    #[inline(always)]
    pub(super) fn at(&self, flow: f64) -> Drop {
        let d = flow - self.anchor;
        let mut pressure_pa = self.coefficients[TERMS - 1];
        let mut slope = 0.0;
        for k in (0..TERMS - 1).rev() {
            slope = slope * d + pressure_pa;
            pressure_pa = pressure_pa * d + self.coefficients[k];
        }
        Drop { pressure_pa, slope }
    }

    #[inline(always)]
    /// The drop that another series around the same anchor gives at a flow.
    pub(super) fn other(&self, coefficients: &[f64; TERMS], flow: f64) -> f64 {
        let d = flow - self.anchor;
        let mut sum = coefficients[TERMS - 1];
        for k in (0..TERMS - 1).rev() {
            sum = sum * d + coefficients[k];
        }
        sum
    }
}

/// Coefficients in q − anchor from those in s.
pub(super) fn by_flow(series: &[f64; TERMS], anchor: f64) -> [f64; TERMS] {
    let per = 1.0 / anchor;
    let mut power = 1.0;
    series.map(|c| {
        let scaled = c * power;
        power *= per;
        scaled
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::links::{CheckValve, FixedLoss, LAMINAR_END, LinkLaw, Pipe, TURBULENT_START, Valve};

    /// The series against the laws themselves, value and slope, to the edge of its reach, in every kind of flow.
    #[test]
    fn the_series_is_the_law() {
        let pipe = |roughness_m: f64, minor_k: f64| Pipe::new(7.0, 0.02, roughness_m, minor_k, 983.2, 4.66e-4);
        let per_reynolds = 1.0 / pipe(0.0, 0.0).reynolds(1.0);
        let reynolds = [10.0, 900.0, LAMINAR_END, 2001.0, 3000.0, 3990.0, TURBULENT_START, 4100.0, 2e4, 3e5, 1e7];
        let laws = [0.0, 1.5e-6, 4.5e-5, 1e-3].map(|roughness| LinkLaw::Pipe(pipe(roughness, 1e3 * roughness)));
        let others = [
            LinkLaw::Fixed(FixedLoss::new(5e3, 1e-4, 1.0)),
            LinkLaw::Fixed(FixedLoss::new(5e3, 1e-4, 1.35)),
            LinkLaw::Fixed(FixedLoss::new(5e3, 1e-4, 2.0)),
            LinkLaw::Valve(Valve::new(0.8, 983.2)),
            LinkLaw::Check(CheckValve::new(1.2, 800.0, 983.2)),
        ];
        let mut compared = 0;
        for law in laws.iter().chain(&others) {
            for anchor in reynolds.iter().flat_map(|re| [re * per_reynolds, -re * per_reynolds]) {
                if anchor < law.range().low {
                    continue;
                }
                let expansion = law.expand(anchor, &mut 0.0).unwrap();
                let curve = Curve::new(anchor, expansion.reach, &expansion.coefficients);
                for share in [-1.0, -0.6, -0.1, 0.0, 0.3, 0.9, 1.0] {
                    let flow = anchor * (1.0 + share * expansion.reach);
                    if !curve.holds(flow) {
                        continue;
                    }
                    let (found, expected) = (curve.at(flow), law.drop(flow, &mut 0.0));
                    let off = (found.pressure_pa - expected.pressure_pa).abs() / expected.pressure_pa.abs();
                    let off_slope = (found.slope - expected.slope).abs() / expected.slope;
                    assert!(off < 1e-12, "{law:?} at {anchor:e}, {share}: off by {off:e}");
                    // At its very end a kind of flow gives way to the next, and the law has a kink.
                    assert!(
                        off_slope < 5e-10 || share.abs() == 1.0,
                        "{law:?} at {anchor:e}, {share}: slope off by {off_slope:e}"
                    );
                    compared += 1;
                }
            }
        }
        assert!(compared > 700, "only {compared} compared");
    }
}

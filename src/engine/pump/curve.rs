//! The catalogue curve H₁(Q) at full speed and its speed family H(Q, n) = n² H₁(Q/n) (affinity laws, textbook identity).
//!
//! Through catalogue points goes a quadratic by least squares when it passes every point within 2 % of the greatest
//! head, otherwise a shape-preserving cubic (Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238). Beyond the last
//! point the curve goes on to zero head and stays there; [`PumpCurve::data_end_m3_per_s`] says where the data stop.

use thiserror::Error;

/// How far a quadratic may miss a catalogue point, as a share of the greatest catalogue head.
const QUADRATIC_TOLERANCE: f64 = 0.02;

/// What is wrong with a set of catalogue points.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum CurveError {
    /// Fewer than two points.
    #[error("a pump curve needs at least two catalogue points, but {0} given: add points from the catalogue")]
    TooFewPoints(usize),
    /// A flow or a head that is negative or not a number.
    #[error(
        "catalogue point {0} has a flow or value that is negative or not a number: type it again from the catalogue"
    )]
    BadPoint(usize),
    /// A constant power that is negative or not a number.
    #[error("the standby power must be zero or more watts")]
    BadStandby,
    /// Flows that do not rise.
    #[error("catalogue point {0} does not lie at a greater flow than the point before it: sort the points by flow")]
    FlowNotRising(usize),
    /// The curve does not fall at its end.
    #[error("the pump curve does not fall towards high flow: check the heads of the last two catalogue points")]
    NotFalling,
}

/// A full-speed curve, flows in m³/s, heads in m.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpCurve {
    shape: Shape,
    points: Vec<[f64; 2]>,
    run_out: f64,
}

#[derive(Clone, Debug, PartialEq)]
enum Shape {
    /// H₁ = a0 + a1 Q + a2 Q².
    Quadratic([f64; 3]),
    /// A monotone cubic through the points.
    Cubic(MonotoneCubic),
}

impl PumpCurve {
    /// Fits a curve through `(flow m³/s, head m)` points, flows rising.
    ///
    /// # Errors
    /// Points that are too few, not sorted, negative, or that do not fall towards high flow.
    pub fn fit(points: &[[f64; 2]]) -> Result<Self, CurveError> {
        check_points(points)?;
        let greatest = points.iter().map(|p| p[1]).fold(0.0, f64::max);
        let (before, last) = (points[points.len() - 2], points[points.len() - 1]);
        // A curve that ends level or rising would go on to infinite flow.
        if last[1] >= before[1] {
            return Err(CurveError::NotFalling);
        }
        let quadratic = least_squares_quadratic(points).filter(|a| {
            let falls_at_end = a[1] + 2.0 * a[2] * last[0] < 0.0 && a[2] <= 0.0;
            let fits = points
                .iter()
                .all(|p| (a[0] + p[0] * (a[1] + p[0] * a[2]) - p[1]).abs() <= QUADRATIC_TOLERANCE * greatest);
            falls_at_end && fits
        });
        let shape = match quadratic {
            Some(a) => Shape::Quadratic(a),
            None => Shape::Cubic(MonotoneCubic::new(points)),
        };
        let run_out = match &shape {
            Shape::Quadratic(a) => quadratic_run_out(*a),
            Shape::Cubic(c) => c.zero_beyond_end(),
        };
        Ok(Self { shape, points: points.to_vec(), run_out })
    }

    /// The catalogue points it was fitted through, `(m³/s, m)`.
    #[must_use]
    pub fn points(&self) -> &[[f64; 2]] {
        &self.points
    }

    /// The coefficients a0, a1, a2 (m, s/m², s²/m⁵) when the curve is a quadratic.
    #[must_use]
    pub fn quadratic(&self) -> Option<[f64; 3]> {
        match &self.shape {
            Shape::Quadratic(a) => Some(*a),
            Shape::Cubic(_) => None,
        }
    }

    /// The greatest flow of the catalogue data at full speed, m³/s.
    #[must_use]
    pub fn data_end_m3_per_s(&self) -> f64 {
        self.points[self.points.len() - 1][0]
    }

    /// The flow at which the full-speed head reaches zero, m³/s.
    #[must_use]
    pub fn run_out_m3_per_s(&self) -> f64 {
        self.run_out
    }

    /// Head (m) and its derivative by flow (m per m³/s) at full speed; zero beyond run-out.
    #[must_use]
    pub fn full_speed(&self, flow: f64) -> (f64, f64) {
        if flow >= self.run_out {
            return (0.0, 0.0);
        }
        match &self.shape {
            Shape::Quadratic(a) => (a[0] + flow * (a[1] + flow * a[2]), a[1] + 2.0 * a[2] * flow),
            Shape::Cubic(c) => c.value(flow),
        }
    }

    /// Head (m) and derivative by flow at speed fraction `n`: n² H₁(Q/n). Below zero flow it stays at or above the
    /// shut-off head, so that an iteration which strays there is led back.
    #[must_use]
    pub fn at_speed(&self, flow: f64, n: f64) -> (f64, f64) {
        if n <= 0.0 {
            return (0.0, 0.0);
        }
        if flow < 0.0 {
            let (shut_off, _) = self.full_speed(0.0);
            let rise = shut_off / (self.run_out * self.run_out);
            return (n * n * shut_off + rise * flow * flow, 2.0 * rise * flow);
        }
        let (head, slope) = self.full_speed(flow / n);
        (n * n * head, n * slope)
    }

    /// The greatest flow at which the curve at speed `n` still reaches `head` (m); `None` if it never does.
    #[must_use]
    pub fn crossing(&self, n: f64, head: f64) -> Option<f64> {
        if n <= 0.0 || head < 0.0 {
            return None;
        }
        let target = head / (n * n);
        if let Shape::Quadratic([a0, a1, a2]) = self.shape
            && a2 < 0.0
        {
            let discriminant = a1 * a1 - 4.0 * a2 * (a0 - target);
            if discriminant < 0.0 {
                return None;
            }
            let flow = (-a1 - discriminant.sqrt()) / (2.0 * a2);
            return (flow >= 0.0).then_some(flow * n);
        }
        let (mut low, mut high) = (self.falling_from(), self.run_out);
        if self.full_speed(low).0 < target {
            return None;
        }
        // Illinois' regula falsi on the falling part, with a halving now and then.
        let over = |flow: f64| self.full_speed(flow).0 - target;
        let (mut above, mut below) = (over(low), over(high));
        for round in 0..200 {
            if high - low <= 1e-15 * self.run_out || below == 0.0 {
                break;
            }
            let line = (low * below - high * above) / (below - above);
            let middle = if round % 8 == 7 || !(line > low && line < high) { 0.5 * (low + high) } else { line };
            let value = over(middle);
            if value.abs() <= 1e-15 * target {
                (low, high) = (middle, middle);
            } else if value > 0.0 {
                (low, above, below) = (middle, value, 0.5 * below);
            } else {
                (high, below, above) = (middle, value, 0.5 * above);
            }
        }
        Some(0.5 * (low + high) * n)
    }

    /// The speed fraction at which the pump gives `head` (m) at `flow` (m³/s), from n² H₁(Q/n) = H. Greater than one
    /// where the duty lies beyond the pump.
    #[must_use]
    pub fn speed_for(&self, flow: f64, head: f64) -> f64 {
        let flow = flow.max(0.0);
        let head = head.max(0.0);
        if let Shape::Quadratic([a0, a1, a2]) = self.shape
            && a0 > 0.0
        {
            let b = a1 * flow;
            let c = a2 * flow * flow - head;
            return (-b + (b * b - 4.0 * a0 * c).max(0.0).sqrt()) / (2.0 * a0);
        }
        // The head rises with speed from zero at n = Q/run-out on.
        let mut low = flow / self.run_out;
        let mut high = low.max(1.0);
        while self.at_speed(flow, high).0 < head && high < 1e6 {
            high *= 2.0;
        }
        for _ in 0..100 {
            let middle = 0.5 * (low + high);
            if self.at_speed(flow, middle).0 < head { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// The flow of the greatest head, from which on the curve falls.
    fn falling_from(&self) -> f64 {
        self.points.iter().fold([0.0, f64::MIN], |best, p| if p[1] > best[1] { *p } else { best })[0]
    }
}

pub(super) fn check_points(points: &[[f64; 2]]) -> Result<(), CurveError> {
    if points.len() < 2 {
        return Err(CurveError::TooFewPoints(points.len()));
    }
    for (i, p) in points.iter().enumerate() {
        if !(p[0] >= 0.0 && p[1] >= 0.0 && p[0].is_finite() && p[1].is_finite()) {
            return Err(CurveError::BadPoint(i + 1));
        }
        if i > 0 && p[0] <= points[i - 1][0] {
            return Err(CurveError::FlowNotRising(i + 1));
        }
    }
    Ok(())
}

/// Least squares for a0 + a1 Q + a2 Q²; exact through three points. Flows are scaled by the greatest to keep the
/// normal equations well conditioned.
fn least_squares_quadratic(points: &[[f64; 2]]) -> Option<[f64; 3]> {
    if points.len() < 3 {
        return None;
    }
    let scale = points[points.len() - 1][0];
    let mut normal = [[0.0; 4]; 3];
    for p in points {
        let x = p[0] / scale;
        let powers = [1.0, x, x * x];
        for (row, weight) in normal.iter_mut().zip(powers) {
            for (cell, power) in row.iter_mut().zip(powers) {
                *cell += weight * power;
            }
            row[3] += weight * p[1];
        }
    }
    let c = solve_three(normal)?;
    Some([c[0], c[1] / scale, c[2] / (scale * scale)])
}

/// Gaussian elimination with row exchange for three equations.
fn solve_three(mut m: [[f64; 4]; 3]) -> Option<[f64; 3]> {
    for k in 0..3 {
        let pivot = (k..3).max_by(|&i, &j| m[i][k].abs().total_cmp(&m[j][k].abs()))?;
        m.swap(k, pivot);
        if m[k][k].abs() < 1e-14 {
            return None;
        }
        let above = m[k];
        for row in m.iter_mut().skip(k + 1) {
            let factor = row[k] / above[k];
            for (cell, value) in row.iter_mut().zip(above) {
                *cell -= factor * value;
            }
        }
    }
    let z = m[2][3] / m[2][2];
    let y = (m[1][3] - m[1][2] * z) / m[1][1];
    Some([(m[0][3] - m[0][1] * y - m[0][2] * z) / m[0][0], y, z])
}

fn quadratic_run_out([a0, a1, a2]: [f64; 3]) -> f64 {
    if a2 == 0.0 {
        return -a0 / a1;
    }
    (-a1 - (a1 * a1 - 4.0 * a2 * a0).max(0.0).sqrt()) / (2.0 * a2)
}

/// A piecewise cubic that keeps the data's rise and fall between points.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MonotoneCubic {
    x: Vec<f64>,
    y: Vec<f64>,
    slope: Vec<f64>,
}

impl MonotoneCubic {
    /// Through at least two points with rising abscissae.
    pub(super) fn new(points: &[[f64; 2]]) -> Self {
        let x: Vec<f64> = points.iter().map(|p| p[0]).collect();
        let y: Vec<f64> = points.iter().map(|p| p[1]).collect();
        let n = x.len();
        let secant: Vec<f64> = (0..n - 1).map(|i| (y[i + 1] - y[i]) / (x[i + 1] - x[i])).collect();
        let slope = (0..n)
            .map(|i| match i {
                0 => secant[0],
                _ if i == n - 1 => secant[n - 2],
                _ if secant[i - 1] * secant[i] <= 0.0 => 0.0,
                _ => {
                    // Weighted harmonic mean (Fritsch and Butland 1984): never overshoots.
                    let (h0, h1) = (x[i] - x[i - 1], x[i + 1] - x[i]);
                    let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
                    (w0 + w1) / (w0 / secant[i - 1] + w1 / secant[i])
                }
            })
            .collect();
        Self { x, y, slope }
    }

    /// Value and derivative; straight on beyond both ends.
    pub(super) fn value(&self, at: f64) -> (f64, f64) {
        let n = self.x.len();
        if at <= self.x[0] {
            return (self.y[0] + self.slope[0] * (at - self.x[0]), self.slope[0]);
        }
        if at >= self.x[n - 1] {
            return (self.y[n - 1] + self.slope[n - 1] * (at - self.x[n - 1]), self.slope[n - 1]);
        }
        let i = self.x.partition_point(|&x| x <= at) - 1;
        let h = self.x[i + 1] - self.x[i];
        let t = (at - self.x[i]) / h;
        let (y0, y1, m0, m1) = (self.y[i], self.y[i + 1], h * self.slope[i], h * self.slope[i + 1]);
        let c2 = 3.0 * (y1 - y0) - 2.0 * m0 - m1;
        let c3 = 2.0 * (y0 - y1) + m0 + m1;
        (y0 + t * (m0 + t * (c2 + t * c3)), (m0 + t * (2.0 * c2 + t * 3.0 * c3)) / h)
    }

    /// The abscissa of the last point.
    pub(super) fn end(&self) -> f64 {
        self.x[self.x.len() - 1]
    }

    /// Where the straight continuation beyond the last point reaches zero.
    fn zero_beyond_end(&self) -> f64 {
        let n = self.x.len();
        let (y, slope) = (self.y[n - 1], self.slope[n - 1]);
        if slope < 0.0 { self.x[n - 1] - y / slope } else { self.x[n - 1] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Invented curve of the check table "g_affinity": through (0, 6), (2, 5.2), (4, 3).
    fn curve() -> PumpCurve {
        PumpCurve::fit(&[[0.0, 6.0], [2.0, 5.2], [4.0, 3.0]]).unwrap()
    }

    #[test]
    fn three_points_are_met_exactly() {
        let a = curve().quadratic().unwrap();
        assert!((a[0] - 6.0).abs() < 1e-12 && (a[1] + 0.05).abs() < 1e-12 && (a[2] + 0.175).abs() < 1e-12);
    }

    #[test]
    fn speed_inverts_affinity() {
        // Check table "g_speed_from_duty", closed form.
        assert!((curve().speed_for(2.0, 2.0) - 0.679_205_485_4).abs() < 1e-9);
        assert!((curve().speed_for(3.0, 4.0) - 0.976_513_960_9).abs() < 1e-9);
    }

    #[test]
    fn a_cubic_keeps_falling_and_inverts_its_speed() {
        let points = [[0.0, 6.0], [1.0, 5.9], [2.0, 5.7], [3.0, 3.0], [4.0, 1.0]];
        let cubic = PumpCurve::fit(&points).unwrap();
        assert!(cubic.quadratic().is_none());
        for i in 0..400 {
            let q = f64::from(i) * 0.0125;
            assert!(cubic.full_speed(q).0 >= cubic.full_speed(q + 0.0125).0 - 1e-12);
            let (head, _) = cubic.at_speed(q, 0.8);
            if head > 0.0 {
                assert!((cubic.speed_for(q, head) - 0.8).abs() < 1e-9);
            }
        }
        let crossing = cubic.crossing(0.8, 2.0).unwrap();
        assert!((cubic.at_speed(crossing, 0.8).0 - 2.0).abs() < 1e-9);
    }

    #[test]
    fn bad_points_are_named() {
        assert_eq!(PumpCurve::fit(&[[0.0, 6.0]]), Err(CurveError::TooFewPoints(1)));
        assert_eq!(PumpCurve::fit(&[[0.0, 6.0], [0.0, 5.0]]), Err(CurveError::FlowNotRising(2)));
        assert_eq!(PumpCurve::fit(&[[0.0, 3.0], [1.0, 5.0]]), Err(CurveError::NotFalling));
        assert_eq!(PumpCurve::fit(&[[0.0, 6.0], [1.0, 5.0], [2.0, 5.0]]), Err(CurveError::NotFalling));
        assert_eq!(PumpCurve::fit(&[[0.0, 6.0], [0.5, 5.0], [1.0, 5.5]]), Err(CurveError::NotFalling));
        assert_eq!(PumpCurve::fit(&[[0.0, 3.0], [1.0, f64::NAN]]), Err(CurveError::BadPoint(2)));
    }
}

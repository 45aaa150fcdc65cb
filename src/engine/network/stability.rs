//! Whether a point holds when disturbed. Water in front of each pump speeds up by what the pump gives more than the system
//! takes, so that a small disturbance q of the pumps' flows dies out exactly if the matrix R − diag(H′) is positive definite:
//! R is the system as the pumps see it (the slope of pressure at pump i by the flow of pump j), H′ the slopes of the pumps'
//! regulated curves. For one pump that is "the system curve is steeper than the set-line"; two pumps side by side on rising
//! set-lines can each pass that test and yet fight, because what one gives more the other gives less.

use faer::linalg::solvers::Solve;

/// A slope (over the greatest conductance) from which on nothing passes: that pump's flow is fixed and cannot be disturbed.
const BLOCKED: f64 = 1e10;

/// Whether all pumps together hold their point. `terminals` maps each pump to the rows of its suction and discharge, `schur` is
/// the network's conductance on `size` terminals, `slopes` the pumps' own in Pa per m³/s.
pub(super) fn holds(terminals: &[(Option<usize>, Option<usize>)], schur: &[f64], size: usize, slopes: &[f64]) -> bool {
    if size == 0 {
        return true;
    }
    let scale = (0..size).map(|i| schur[i * size + i].abs()).fold(1e-300, f64::max);
    let matrix = faer::Mat::from_fn(size, size, |i, j| schur[i * size + j] / scale + if i == j { 1e-13 } else { 0.0 });
    let incidence = |i: usize, p: usize| {
        let (suction, discharge) = terminals[p];
        f64::from(u8::from(discharge == Some(i))) - f64::from(u8::from(suction == Some(i)))
    };
    let right = faer::Mat::from_fn(size, terminals.len(), incidence);
    let seen = matrix.partial_piv_lu().solve(&right);
    let resistance = |p: usize, q: usize| (0..size).map(|i| incidence(i, p) * seen[(i, q)]).sum::<f64>();
    let free: Vec<usize> = (0..terminals.len()).filter(|&p| resistance(p, p) < BLOCKED).collect();
    let mut left: Vec<Vec<f64>> = free
        .iter()
        .map(|&p| free.iter().map(|&q| resistance(p, q) - if p == q { slopes[p] * scale } else { 0.0 }).collect())
        .collect();
    // Positive definite exactly if every pivot of the elimination is.
    for k in 0..left.len() {
        let pivot = left[k][k];
        if pivot <= 0.0 {
            return false;
        }
        let above = left[k].clone();
        for row in left.iter_mut().skip(k + 1) {
            let factor = row[k] / pivot;
            for (cell, value) in row.iter_mut().zip(&above) {
                *cell -= factor * value;
            }
        }
    }
    true
}

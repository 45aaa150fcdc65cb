//! The system as the pumps see it, and whether a point holds when disturbed. Water in front of each pump speeds up by what the pump gives more than the system
//! takes, so that a small disturbance q of the pumps' flows dies out exactly if the matrix R − diag(H′) is positive definite:
//! R is the system as the pumps see it (the slope of pressure at pump i by the flow of pump j), H′ the slopes of the pumps'
//! regulated curves. For one pump that is "the system curve is steeper than the set-line"; two pumps side by side on rising
//! set-lines can each pass that test and yet fight, because what one gives more the other gives less.

use super::dense::Dense;

/// A slope (over the greatest conductance) from which on nothing passes: that pump's flow is fixed and cannot be disturbed.
const BLOCKED: f64 = 1e10;

/// A pivot over what it was made from, below which it counts as none: rounding.
const OPEN: f64 = 1e-9;

/// R: how the pressure at one pump follows the flow of another, with the other pumps' flows held.
#[derive(Clone, Debug, Default)]
pub(super) struct Seen {
    dense: Dense,
    resistances: Vec<f64>,
    left: Vec<f64>,
    shift: Vec<f64>,
    is_open: Vec<bool>,
    pumps: usize,
    scale: f64,
}

impl Seen {
    /// Computes R. `terminals` maps each pump to the rows of its suction and discharge, `schur` is the network's conductance on
    /// `size` terminals.
    pub(super) fn compute(&mut self, terminals: &[(Option<usize>, Option<usize>)], schur: &[f64], size: usize) {
        self.pumps = terminals.len();
        self.scale = (0..size).map(|i| schur[i * size + i].abs()).fold(1e-300, f64::max);
        self.dense.clear(size, self.pumps);
        let incidence = |i: usize, p: usize| {
            let (suction, discharge) = terminals[p];
            f64::from(u8::from(discharge == Some(i))) - f64::from(u8::from(suction == Some(i)))
        };
        for i in 0..size {
            for j in 0..size {
                *self.dense.at(i, j) = schur[i * size + j] / self.scale + if i == j { 1e-13 } else { 0.0 };
            }
            for p in 0..self.pumps {
                *self.dense.right(i, p) = incidence(i, p);
            }
        }
        self.dense.solve();
        self.resistances.clear();
        for p in 0..self.pumps {
            for q in 0..self.pumps {
                self.resistances.push((0..size).map(|i| incidence(i, p) * self.dense.solution(i, q)).sum());
            }
        }
        if size == 0 {
            self.resistances.fill(f64::INFINITY);
        }
    }

    fn resistance(&self, p: usize, q: usize) -> f64 {
        self.resistances[p * self.pumps + q]
    }

    /// The slope of the system curve that a pump sees, Pa per m³/s; infinite where nothing passes.
    pub(super) fn slope(&self, pump: usize) -> f64 {
        let own = self.resistance(pump, pump);
        if own > BLOCKED { f64::INFINITY } else { own / self.scale }
    }

    /// The greatest |R_pq|/√(R_pp R_qq) of two pumps; 1 where one is blocked.
    pub(super) fn dependence(&self) -> f64 {
        let blocked = (0..self.pumps).any(|p| self.resistance(p, p) > BLOCKED);
        let pairs = (0..self.pumps).flat_map(|p| (0..p).map(move |q| (p, q)));
        let of = |(p, q): (usize, usize)| {
            self.resistance(p, q).abs() / (self.resistance(p, p) * self.resistance(q, q)).abs().sqrt().max(1e-300)
        };
        if blocked { 1.0 } else { pairs.map(of).fold(0.0, f64::max) }
    }

    /// Whether all pumps together hold their point; `slopes` are the pumps' own in Pa per m³/s. Where the matrix is neither, because
    /// pumps at level head stand side by side, their shares are open, which is no fight.
    pub(super) fn holds(&mut self, slopes: impl Fn(usize) -> f64) -> bool {
        let pumps = self.pumps;
        self.left.clear();
        self.left.resize(pumps * pumps, 0.0);
        self.is_open.clear();
        self.is_open.resize(pumps, false);
        // Passive links never push: where every pump gives less the more flows, whatever R is in rounding, the point holds.
        if (0..pumps).all(|p| slopes(p) < 0.0) {
            return true;
        }
        let is_free = |seen: &Self, p: usize| seen.resistance(p, p) < BLOCKED;
        for p in 0..pumps {
            for q in 0..pumps {
                self.left[p * pumps + q] = match is_free(self, p) && is_free(self, q) {
                    true => self.resistance(p, q) - if p == q { slopes(p) * self.scale } else { 0.0 },
                    false => f64::from(u8::from(p == q)),
                };
            }
        }
        // Positive definite exactly if every pivot of the elimination is.
        for k in 0..pumps {
            let pivot = self.left[k * pumps + k];
            let whole = self.resistance(k, k).abs() + (slopes(k) * self.scale).abs();
            if pivot.abs() <= OPEN * whole && is_free(self, k) {
                self.mark_open(k);
                continue;
            }
            if pivot <= 0.0 {
                return false;
            }
            for row in k + 1..pumps {
                let factor = self.left[row * pumps + k] / pivot;
                for column in k..pumps {
                    self.left[row * pumps + column] -= factor * self.left[k * pumps + column];
                }
            }
        }
        true
    }

    /// Marks the pumps among which flow can shift when pivot `k` vanishes: those that the vector which the matrix takes to nothing moves.
    fn mark_open(&mut self, k: usize) {
        let pumps = self.pumps;
        self.shift.clear();
        self.shift.resize(pumps, 0.0);
        self.shift[k] = 1.0;
        for row in (0..k).rev() {
            let pivot = self.left[row * pumps + row];
            let beyond: f64 = (row + 1..=k).map(|p| self.left[row * pumps + p] * self.shift[p]).sum();
            self.shift[row] = if self.is_open[row] { 0.0 } else { -beyond / pivot };
        }
        for (is_open, shift) in self.is_open.iter_mut().zip(&self.shift) {
            *is_open |= shift.abs() > 1e-6;
        }
    }

    /// Whether a pump's share is open, as [`Self::holds`] found.
    pub(super) fn is_open(&self, pump: usize) -> bool {
        self.is_open.get(pump).is_some_and(|open| *open)
    }
}

//! Sparse symmetric factorisation with a static schedule, up-looking (the row-by-row scheme of Davis, "Direct Methods for
//! Sparse Linear Systems", SIAM 2006, ch. 4): the interior's part of [`super::elimination`] for all networks but large meshes.

use super::elimination::Pattern;

/// The schedule of one pattern, and its numbers.
#[derive(Clone, Debug)]
pub(super) struct Ldl {
    /// For each row: which interior columns its elimination touches, in topological order.
    reach_start: Vec<usize>,
    reach: Vec<u32>,
    /// Columns of L: where each begins, up to where it is filled, and its entries.
    column_start: Vec<usize>,
    column_end: Vec<usize>,
    l_rows: Vec<u32>,
    l_values: Vec<f64>,
    pivots: Vec<f64>,
    work: Vec<f64>,
}

impl Ldl {
    /// Prepares a pattern.
    pub(super) fn new(pattern: &Pattern) -> Self {
        let (reach_start, reach, column_start) = schedule(pattern);
        let fill = column_start[pattern.interior];
        Self {
            reach_start,
            reach,
            column_end: vec![0; pattern.interior],
            column_start,
            l_rows: vec![0; fill],
            l_values: vec![0.0; fill],
            pivots: vec![0.0; pattern.interior],
            work: vec![0.0; pattern.size],
        }
    }

    /// Entries of the factor.
    pub(super) fn entries(&self) -> usize {
        self.l_rows.len()
    }

    /// Products in a factorisation.
    pub(super) fn products(&self) -> usize {
        self.column_start.windows(2).map(|ends| (ends[1] - ends[0]).pow(2)).sum()
    }

    /// Factorises and leaves the Schur complement of the terminals.
    pub(super) fn factorise(&mut self, pattern: &Pattern, diagonals: &[f64], values: &[f64], schur: &mut [f64]) {
        let &Pattern { interior, size, .. } = pattern;
        self.column_end.copy_from_slice(&self.column_start[..interior]);
        let terminals = size - interior;
        for (k, &whole) in diagonals.iter().enumerate() {
            for (column, value) in pattern.row(k, values) {
                self.work[column] = value;
            }
            let mut diagonal = whole;
            for &column in &self.reach[self.reach_start[k]..self.reach_start[k + 1]] {
                let column = column as usize;
                let y = std::mem::take(&mut self.work[column]);
                let end = self.column_end[column];
                let filled = self.column_start[column]..end;
                for (&row, &l) in self.l_rows[filled.clone()].iter().zip(&self.l_values[filled]) {
                    self.work[row as usize] -= l * y;
                }
                let l = y / self.pivots[column];
                diagonal -= l * y;
                self.l_rows[end] = k as u32;
                self.l_values[end] = l;
                self.column_end[column] = end + 1;
            }
            if k < interior {
                self.pivots[k] = match diagonal > 1e-14 * whole {
                    true => diagonal,
                    false if whole > 0.0 => whole,
                    false => 1.0,
                };
            } else {
                let row = k - interior;
                schur[row * terminals + row] = diagonal;
                for other in 0..row {
                    let value = std::mem::take(&mut self.work[interior + other]);
                    schur[row * terminals + other] = value;
                    schur[other * terminals + row] = value;
                }
            }
        }
    }

    fn column(&self, column: usize) -> impl Iterator<Item = (usize, f64)> {
        let filled = self.column_start[column]..self.column_start[column + 1];
        let rows = self.l_rows[filled.clone()].iter().map(|&row| row as usize);
        rows.zip(self.l_values[filled].iter().copied())
    }

    /// Eliminates the interior from a right-hand side; its last entries become the terminals' reduced right-hand side.
    pub(super) fn forward(&self, rhs: &mut [f64]) {
        for column in 0..self.pivots.len() {
            let y = rhs[column];
            for (row, l) in self.column(column) {
                rhs[row] -= l * y;
            }
        }
    }

    /// With the terminals' solution in the last entries, finds the interior's.
    pub(super) fn backward(&self, rhs: &mut [f64]) {
        for column in (0..self.pivots.len()).rev() {
            let x = rhs[column] / self.pivots[column];
            rhs[column] = self.column(column).fold(x, |x, (row, l)| x - l * rhs[row]);
        }
    }
}

/// Elimination tree, the columns each row touches in topological order, and where each column of L begins.
fn schedule(pattern: &Pattern) -> (Vec<usize>, Vec<u32>, Vec<usize>) {
    let Pattern { interior, size, row_start, row_columns } = pattern;
    let (interior, size) = (*interior, *size);
    let mut parent = vec![usize::MAX; interior];
    let mut mark = vec![usize::MAX; interior];
    let mut counts = vec![0; interior];
    let mut reach_start = vec![0];
    let mut reach: Vec<u32> = Vec::new();
    for k in 0..size {
        let first = reach.len();
        for &column in &row_columns[row_start[k]..row_start[k + 1]] {
            let path = reach.len();
            let mut i = column as usize;
            while i < interior && i < k && mark[i] != k {
                reach.push(i as u32);
                mark[i] = k;
                counts[i] += 1;
                if parent[i] == usize::MAX {
                    if k < interior {
                        parent[i] = k;
                    }
                    break;
                }
                i = parent[i];
            }
            reach[path..].reverse();
        }
        // Paths found later must come before those found earlier.
        reach[first..].reverse();
        reach_start.push(reach.len());
    }
    let mut column_start = vec![0];
    for count in counts {
        column_start.push(column_start[column_start.len() - 1] + count);
    }
    (reach_start, reach, column_start)
}

//! Sparse symmetric elimination with a static schedule, up-looking (the row-by-row scheme of Davis, "Direct Methods for
//! Sparse Linear Systems", SIAM 2006, ch. 4).
//!
//! The unknowns are the interior nodes in a fill-reducing order (approximate minimum degree, from faer), then the
//! terminals: the pumps' nodes. Interior nodes are eliminated; what remains on the terminals is their Schur complement,
//! the whole network as the pumps see it. Nothing is allocated after [`Elimination::new`].

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::linalg::amd;
use faer::sparse::{SymbolicSparseColMat, SymbolicSparseColMatRef};

/// Products in a factorisation over entries of the factor from which on steps that only substitute are worth a trial.
const COSTLY: usize = 6;

/// The prepared elimination of one pattern, and its numbers.
#[derive(Clone, Debug)]
pub(super) struct Elimination {
    interior: usize,
    size: usize,
    /// Position of each original index in the elimination order.
    position: Vec<usize>,
    /// For each row in order: its off-diagonal entries to earlier rows, as (column, index into `values`).
    row_start: Vec<usize>,
    row_columns: Vec<u32>,
    /// For each row: which interior columns its elimination touches, in topological order.
    reach_start: Vec<usize>,
    reach: Vec<u32>,
    /// Columns of L: where each begins, up to where it is filled, and its entries.
    column_start: Vec<usize>,
    column_end: Vec<usize>,
    l_rows: Vec<u32>,
    l_values: Vec<f64>,
    /// Whether factorising costs many times what substituting does.
    is_costly: bool,
    pivots: Vec<f64>,
    work: Vec<f64>,
    /// Diagonal and off-diagonal entries to be filled by the caller.
    pub(super) diagonal: Vec<f64>,
    pub(super) values: Vec<f64>,
    /// Schur complement on the terminals, row by row.
    pub(super) schur: Vec<f64>,
}

impl Elimination {
    /// Prepares the pattern of `size` unknowns, the last `terminals` of which stay, joined by `pairs`. Returns with it,
    /// for each pair, the index into `values` where its entry is to be added.
    pub(super) fn new(size: usize, terminals: usize, pairs: &[(usize, usize)]) -> (Self, Vec<usize>) {
        let interior = size - terminals;
        let position = order(size, interior, pairs);
        let mut entries: Vec<(u32, u32)> = pairs
            .iter()
            .map(|&(a, b)| {
                let (low, high) = ordered(position[a], position[b]);
                (high as u32, low as u32)
            })
            .collect();
        entries.sort_unstable();
        entries.dedup();
        let mut row_start = vec![0; size + 1];
        for &(row, _) in &entries {
            row_start[row as usize + 1] += 1;
        }
        for row in 0..size {
            row_start[row + 1] += row_start[row];
        }
        let row_columns: Vec<u32> = entries.iter().map(|&(_, column)| column).collect();
        let slots = pairs
            .iter()
            .map(|&(a, b)| {
                let (low, high) = ordered(position[a], position[b]);
                let row = &row_columns[row_start[high]..row_start[high + 1]];
                row_start[high] + row.partition_point(|&c| (c as usize) < low)
            })
            .collect();
        let (reach_start, reach, column_start) = schedule(size, interior, &row_start, &row_columns);
        let fill = column_start[interior];
        let products: usize = column_start.windows(2).map(|ends| (ends[1] - ends[0]).pow(2)).sum();
        let new = Self {
            interior,
            size,
            position,
            values: vec![0.0; row_columns.len()],
            row_start,
            row_columns,
            reach_start,
            reach,
            column_end: vec![0; interior],
            column_start,
            l_rows: vec![0; fill],
            l_values: vec![0.0; fill],
            is_costly: products > COSTLY * (fill + size),
            pivots: vec![0.0; interior],
            work: vec![0.0; size],
            diagonal: vec![0.0; size],
            schur: vec![0.0; terminals * terminals],
        };
        (new, slots)
    }

    /// Whether factorising costs many times what substituting does.
    pub(super) fn is_costly(&self) -> bool {
        self.is_costly
    }

    /// How many unknowns stay.
    pub(super) fn terminals(&self) -> usize {
        self.size - self.interior
    }

    /// Where an unknown stands in the elimination order; `diagonal` and right-hand sides are indexed by it.
    pub(super) fn position(&self, unknown: usize) -> usize {
        self.position[unknown]
    }

    /// Factorises what `diagonal` and `values` hold; whether what is left for the terminals is finite. An interior pivot that
    /// vanishes belongs to a part without any conductance; it is replaced by one, so that nothing moves there.
    pub(super) fn factorise(&mut self) -> bool {
        self.column_end.copy_from_slice(&self.column_start[..self.interior]);
        let terminals = self.size - self.interior;
        for k in 0..self.size {
            let entries = self.row_start[k]..self.row_start[k + 1];
            for (&column, &value) in self.row_columns[entries.clone()].iter().zip(&self.values[entries]) {
                self.work[column as usize] = value;
            }
            let mut diagonal = self.diagonal[k];
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
            if k < self.interior {
                let whole = self.diagonal[k];
                self.pivots[k] = match diagonal > 1e-14 * whole {
                    true => diagonal,
                    false if whole > 0.0 => whole,
                    false => 1.0,
                };
            } else {
                let row = k - self.interior;
                self.schur[row * terminals + row] = diagonal;
                for other in 0..row {
                    let value = std::mem::take(&mut self.work[self.interior + other]);
                    self.schur[row * terminals + other] = value;
                    self.schur[other * terminals + row] = value;
                }
            }
        }
        self.schur.iter().all(|value| value.is_finite())
    }

    fn column(&self, column: usize) -> impl Iterator<Item = (usize, f64)> {
        let filled = self.column_start[column]..self.column_start[column + 1];
        let rows = self.l_rows[filled.clone()].iter().map(|&row| row as usize);
        rows.zip(self.l_values[filled].iter().copied())
    }

    /// Eliminates the interior from a right-hand side; its last entries become the terminals' reduced right-hand side.
    pub(super) fn forward(&self, rhs: &mut [f64]) {
        for column in 0..self.interior {
            let y = rhs[column];
            for (row, l) in self.column(column) {
                rhs[row] -= l * y;
            }
        }
    }

    /// With the terminals' solution in the last entries, finds the interior's.
    pub(super) fn backward(&self, rhs: &mut [f64]) {
        for column in (0..self.interior).rev() {
            let x = rhs[column] / self.pivots[column];
            rhs[column] = self.column(column).fold(x, |x, (row, l)| x - l * rhs[row]);
        }
    }
}

fn ordered(a: usize, b: usize) -> (usize, usize) {
    if a < b { (a, b) } else { (b, a) }
}

/// Approximate minimum degree on the interior, terminals last.
fn order(size: usize, interior: usize, pairs: &[(usize, usize)]) -> Vec<usize> {
    let natural = || (0..size).collect();
    if interior < 3 {
        return natural();
    }
    let mut columns: Vec<Vec<usize>> = vec![Vec::new(); interior];
    for &(a, b) in pairs {
        if a < interior && b < interior {
            columns[a].push(b);
            columns[b].push(a);
        }
    }
    let mut start = vec![0];
    let mut rows = Vec::new();
    for column in &mut columns {
        column.sort_unstable();
        column.dedup();
        rows.extend_from_slice(column);
        start.push(rows.len());
    }
    let nonzeros = rows.len();
    let pattern: SymbolicSparseColMat<usize> = SymbolicSparseColMat::new_checked(interior, interior, start, None, rows);
    let reference: SymbolicSparseColMatRef<'_, usize> = pattern.as_ref();
    let mut forward = vec![0; interior];
    let mut inverse = vec![0; interior];
    let mut memory = MemBuffer::new(amd::order_scratch::<usize>(interior, nonzeros));
    let done = amd::order(&mut forward, &mut inverse, reference, amd::Control::default(), MemStack::new(&mut memory));
    if done.is_err() {
        return natural();
    }
    let mut position: Vec<usize> = natural();
    position[..interior].copy_from_slice(&inverse);
    position
}

/// Elimination tree, the columns each row touches in topological order, and where each column of L begins.
fn schedule(
    size: usize,
    interior: usize,
    row_start: &[usize],
    row_columns: &[u32],
) -> (Vec<usize>, Vec<u32>, Vec<usize>) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use faer::linalg::solvers::Solve;

    /// A grid of 6 × 5 nodes with unlike conductances and three terminals, against faer's dense LU of the same matrix.
    #[test]
    fn agrees_with_a_dense_solution() {
        let (wide, high) = (6, 5);
        let size = wide * high;
        let mut pairs = Vec::new();
        for y in 0..high {
            for x in 0..wide {
                let here = y * wide + x;
                if x + 1 < wide {
                    pairs.push((here, here + 1));
                }
                if y + 1 < high {
                    pairs.push((here + wide, here));
                }
            }
        }
        let (mut elimination, slots) = Elimination::new(size, 3, &pairs);
        let mut dense = faer::Mat::<f64>::zeros(size, size);
        for (i, (&(a, b), &slot)) in pairs.iter().zip(&slots).enumerate() {
            let g = 0.3 + (i as f64 * 0.7).sin().abs();
            elimination.values[slot] -= g;
            for (r, c, v) in [(a, a, g), (b, b, g), (a, b, -g), (b, a, -g)] {
                dense[(r, c)] += v;
            }
            let (pa, pb) = (elimination.position(a), elimination.position(b));
            elimination.diagonal[pa] += g;
            elimination.diagonal[pb] += g;
        }
        let ground = elimination.position(size - 1);
        elimination.diagonal[ground] += 1.0;
        dense[(size - 1, size - 1)] += 1.0;
        let b = faer::Mat::from_fn(size, 1, |i, _| (i as f64 * 1.3).cos());
        let expected = dense.partial_piv_lu().solve(&b);

        elimination.factorise();
        let mut rhs = vec![0.0; size];
        for i in 0..size {
            rhs[elimination.position(i)] = b[(i, 0)];
        }
        elimination.forward(&mut rhs);
        let schur = faer::Mat::from_fn(3, 3, |i, j| elimination.schur[i * 3 + j]);
        let reduced = faer::Mat::from_fn(3, 1, |i, _| rhs[size - 3 + i]);
        let terminals = schur.partial_piv_lu().solve(&reduced);
        for i in 0..3 {
            rhs[size - 3 + i] = terminals[(i, 0)];
        }
        elimination.backward(&mut rhs);
        for i in 0..size {
            assert!((rhs[elimination.position(i)] - expected[(i, 0)]).abs() < 1e-10, "node {i}");
        }
    }
}

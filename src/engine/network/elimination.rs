//! Elimination of the nodes from a network that is linear: what is left stands on the pumps' nodes.
//!
//! The unknowns are the interior nodes in a fill-reducing order (approximate minimum degree, from faer), then the
//! terminals: the pumps' nodes. Interior nodes are eliminated; what remains on the terminals is their Schur complement,
//! the whole network as the pumps see it. Small networks and those of few rings are eliminated row by row ([`super::ldl`]),
//! large meshes, whose factor has dense blocks, block by block ([`super::supernodal`]), as long as no pivot is in doubt. Nothing is
//! allocated after [`Elimination::new`] but the rows of a large mesh when first needed.

use super::ldl::Ldl;
use super::supernodal::Supernodal;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::sparse::linalg::amd;
use faer::sparse::{SymbolicSparseColMat, SymbolicSparseColMatRef};

/// Products in a factorisation over entries of the factor from which on steps that only substitute are worth a trial.
const COSTLY: usize = 6;
/// The same from which on the factor is made block by block. Square meshes have 65 at 6,000 unknowns, where both ways take the same
/// time, and 135 at 20,000.
const BLOCKS: usize = 80;

/// Which unknowns are joined, in the order of elimination.
#[derive(Clone, Debug)]
pub(super) struct Pattern {
    pub(super) interior: usize,
    pub(super) size: usize,
    /// For each row its off-diagonal entries to earlier rows, as (column, index into the values).
    pub(super) row_start: Vec<usize>,
    pub(super) row_columns: Vec<u32>,
}

/// The prepared elimination of one pattern, and its numbers.
#[derive(Clone, Debug)]
pub(super) struct Elimination {
    pattern: Pattern,
    /// Position of each original index in the elimination order.
    position: Vec<usize>,
    /// For a large mesh made only when first needed.
    rows: Option<Ldl>,
    blocks: Option<Supernodal>,
    /// Which of the two the numbers are in.
    is_in_blocks: bool,
    /// Whether factorising costs many times what substituting does.
    is_costly: bool,
    /// Diagonal and off-diagonal entries to be filled by the caller.
    pub(super) diagonal: Vec<f64>,
    pub(super) values: Vec<f64>,
    /// Schur complement on the terminals, row by row.
    pub(super) schur: Vec<f64>,
}

impl Pattern {
    /// The entries of a row: columns and values.
    pub(super) fn row<'a>(&'a self, row: usize, values: &'a [f64]) -> impl Iterator<Item = (usize, f64)> + 'a {
        let entries = self.row_start[row]..self.row_start[row + 1];
        let columns = self.row_columns[entries.clone()].iter().map(|&column| column as usize);
        columns.zip(values[entries].iter().copied())
    }
}

impl Elimination {
    /// Prepares the pattern of `size` unknowns, the last `terminals` of which stay, joined by `pairs`. Returns with it,
    /// for each pair, the index into `values` where its entry is to be added.
    pub(super) fn new(size: usize, terminals: usize, pairs: &[(usize, usize)]) -> (Self, Vec<usize>) {
        Self::with_blocks_from(BLOCKS, size, terminals, pairs)
    }

    fn with_blocks_from(blocks: usize, size: usize, terminals: usize, pairs: &[(usize, usize)]) -> (Self, Vec<usize>) {
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
        let pattern = Pattern { interior, size, row_start, row_columns };
        let rows = Ldl::new(&pattern);
        let (products, entries) = (rows.products(), rows.entries() + size);
        let blocks = if products > blocks.saturating_mul(entries) { Supernodal::new(&pattern) } else { None };
        let new = Self {
            rows: if blocks.is_none() { Some(rows) } else { None },
            blocks,
            is_in_blocks: false,
            is_costly: products > COSTLY * entries,
            position,
            diagonal: vec![0.0; size],
            values: vec![0.0; pattern.row_columns.len()],
            schur: vec![0.0; terminals * terminals],
            pattern,
        };
        (new, slots)
    }

    /// Whether factorising costs many times what substituting does.
    pub(super) fn is_costly(&self) -> bool {
        self.is_costly
    }

    /// How many unknowns stay.
    pub(super) fn terminals(&self) -> usize {
        self.pattern.size - self.pattern.interior
    }

    /// Where an unknown stands in the elimination order; `diagonal` and right-hand sides are indexed by it.
    pub(super) fn position(&self, unknown: usize) -> usize {
        self.position[unknown]
    }

    /// Factorises what `diagonal` and `values` hold; whether what is left for the terminals is finite. An interior pivot that
    /// vanishes belongs to a part without any conductance; it is replaced by one, so that nothing moves there.
    pub(super) fn factorise(&mut self) -> bool {
        let Self { pattern, diagonal, values, schur, .. } = self;
        self.is_in_blocks =
            self.blocks.as_mut().is_some_and(|blocks| blocks.factorise(pattern, diagonal, values, schur));
        if !self.is_in_blocks {
            let rows = self.rows.get_or_insert_with(|| Ldl::new(pattern));
            rows.factorise(pattern, diagonal, values, schur);
        }
        self.schur.iter().all(|value| value.is_finite())
    }

    /// Eliminates the interior from a right-hand side; its last entries become the terminals' reduced right-hand side.
    pub(super) fn forward(&mut self, rhs: &mut [f64]) {
        match (&mut self.blocks, &self.rows) {
            (Some(blocks), _) if self.is_in_blocks => blocks.forward(rhs),
            (_, Some(rows)) => rows.forward(rhs),
            _ => {}
        }
    }

    /// With the terminals' solution in the last entries, finds the interior's.
    pub(super) fn backward(&self, rhs: &mut [f64]) {
        match (&self.blocks, &self.rows) {
            (Some(blocks), _) if self.is_in_blocks => blocks.backward(rhs),
            (_, Some(rows)) => rows.backward(rhs),
            _ => {}
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

#[cfg(test)]
mod tests {
    use super::*;
    use faer::linalg::solvers::Solve;

    /// A grid of 6 × 5 nodes with unlike conductances and three terminals, against faer's dense LU of the same matrix.
    fn compare_with_a_dense_solution(blocks: usize) {
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
        let (mut elimination, slots) = Elimination::with_blocks_from(blocks, size, 3, &pairs);
        let mut dense = faer::Mat::<f64>::zeros(size, size);
        for (i, (&(a, b), &slot)) in pairs.iter().zip(&slots).enumerate() {
            let g = 10_f64.powf(2.0 * (i as f64 * 0.7).sin());
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
        let expected = dense.full_piv_lu().solve(&b);

        assert!(elimination.factorise());
        assert_eq!(elimination.is_in_blocks, blocks == 0);
        let mut rhs = vec![0.0; size];
        for i in 0..size {
            rhs[elimination.position(i)] = b[(i, 0)];
        }
        elimination.forward(&mut rhs);
        let schur = faer::Mat::from_fn(3, 3, |i, j| elimination.schur[i * 3 + j]);
        let reduced = faer::Mat::from_fn(3, 1, |i, _| rhs[size - 3 + i]);
        let terminals = schur.full_piv_lu().solve(&reduced);
        for i in 0..3 {
            rhs[size - 3 + i] = terminals[(i, 0)];
        }
        elimination.backward(&mut rhs);
        let greatest = (0..size).fold(0.0_f64, |most, i| most.max(expected[(i, 0)].abs()));
        for i in 0..size {
            let off = rhs[elimination.position(i)] - expected[(i, 0)];
            assert!(off.abs() < 1e-8 * greatest, "node {i}: off by {off:e} of {greatest:e}");
        }
    }

    #[test]
    fn agrees_with_a_dense_solution() {
        compare_with_a_dense_solution(usize::MAX);
        compare_with_a_dense_solution(0);
    }

    /// A terminal with a node, two nodes joined with each other only, and one joined with nothing: what hangs on no terminal takes
    /// what it is given and leaves the rest alone.
    #[test]
    fn parts_without_conductance_do_no_harm() {
        for blocks in [usize::MAX, 0] {
            let pairs = [(0, 4), (1, 2), (2, 3), (3, 4)];
            let (mut elimination, slots) = Elimination::with_blocks_from(blocks, 5, 1, &pairs);
            for (conductance, (&(a, b), &slot)) in [2.0, 3.0, 0.0, 0.0].iter().zip(pairs.iter().zip(&slots)) {
                elimination.values[slot] -= conductance;
                for node in [a, b] {
                    let at = elimination.position(node);
                    elimination.diagonal[at] += conductance;
                }
            }
            let terminal = elimination.position(4);
            elimination.diagonal[terminal] += 5.0;
            assert!(elimination.factorise());
            assert!((elimination.schur[0] - 5.0).abs() < 1e-12, "{:?}", elimination.schur);
            let mut rhs = vec![0.0; 5];
            rhs[elimination.position(0)] = 4.0;
            elimination.forward(&mut rhs);
            assert!((rhs[4] - 4.0).abs() < 1e-12);
            rhs[4] = 1.0;
            elimination.backward(&mut rhs);
            let found: Vec<f64> = (0..5).map(|node| rhs[elimination.position(node)]).collect();
            for (node, expected) in [3.0, 0.0, 0.0, 0.0, 1.0].iter().enumerate() {
                assert!((found[node] - expected).abs() < 1e-12, "{found:?}");
            }
        }
    }
}

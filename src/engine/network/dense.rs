//! Small dense systems of equations, for the few nodes at pumps: Gaussian elimination with partial pivoting in buffers that are
//! kept, so that a warm solve allocates nothing.

/// A square matrix with right-hand sides, solved in place.
#[derive(Clone, Debug, Default)]
pub(super) struct Dense {
    size: usize,
    columns: usize,
    /// Row by row, matrix and right-hand sides side by side.
    cells: Vec<f64>,
}

impl Dense {
    /// Makes room for another system, all zeros.
    pub(super) fn clear(&mut self, size: usize, columns: usize) {
        (self.size, self.columns) = (size, columns);
        self.cells.clear();
        self.cells.resize(size * (size + columns), 0.0);
    }

    fn width(&self) -> usize {
        self.size + self.columns
    }

    /// An entry of the matrix.
    pub(super) fn at(&mut self, row: usize, column: usize) -> &mut f64 {
        let width = self.width();
        &mut self.cells[row * width + column]
    }

    /// An entry of a right-hand side; after [`Self::solve`] of a solution.
    pub(super) fn right(&mut self, row: usize, column: usize) -> &mut f64 {
        let size = self.size;
        self.at(row, size + column)
    }

    /// An entry of a solution.
    pub(super) fn solution(&self, row: usize, column: usize) -> f64 {
        self.cells[row * self.width() + self.size + column]
    }

    /// Puts the solutions in the place of the right-hand sides. A matrix without a solution leaves what is not finite.
    pub(super) fn solve(&mut self) {
        let (size, width) = (self.size, self.width());
        for k in 0..size {
            let size_of = |row: usize| self.cells[row * width + k].abs();
            let best = (k + 1..size).fold(k, |best, row| if size_of(row) > size_of(best) { row } else { best });
            for column in k..width {
                self.cells.swap(k * width + column, best * width + column);
            }
            let (above, below) = self.cells.split_at_mut((k + 1) * width);
            let pivot_row = &above[k * width..];
            for row in below.chunks_exact_mut(width) {
                let factor = row[k] / pivot_row[k];
                if factor != 0.0 {
                    for (cell, pivot) in row[k..].iter_mut().zip(&pivot_row[k..]) {
                        *cell -= factor * pivot;
                    }
                }
            }
        }
        for k in (0..size).rev() {
            for column in size..width {
                let known: f64 =
                    (k + 1..size).map(|i| self.cells[k * width + i] * self.cells[i * width + column]).sum();
                self.cells[k * width + column] = (self.cells[k * width + column] - known) / self.cells[k * width + k];
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A matrix whose first pivot is zero, against its solution by hand: x = 1, y = −2, z = 3.
    #[test]
    fn solves_where_rows_must_be_exchanged() {
        let mut dense = Dense::default();
        for turn in 0..2 {
            dense.clear(3, 1);
            for (row, (numbers, right)) in
                [([0.0, 2.0, 1.0], -1.0), ([1.0, 1.0, 0.0], -1.0), ([2.0, 0.0, 1.0], 5.0)].iter().enumerate()
            {
                for (column, number) in numbers.iter().enumerate() {
                    *dense.at(row, column) = *number;
                }
                *dense.right(row, 0) = *right;
            }
            dense.solve();
            for (row, expected) in [1.0, -2.0, 3.0].iter().enumerate() {
                assert!((dense.solution(row, 0) - expected).abs() < 1e-14, "row {row}, turn {turn}");
            }
        }
    }
}

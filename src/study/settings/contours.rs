//! Contour lines through values on a raster (marching squares), for energy over a plane of settings.

use crate::engine::units::round_step;

/// A raster of values, row by row from the bottom, `columns` a row.
#[derive(Clone, Copy, Debug)]
pub(super) struct Raster<'a> {
    pub(super) values: &'a [f64],
    pub(super) columns: usize,
}

impl Raster<'_> {
    fn rows(&self) -> usize {
        self.values.len() / self.columns.max(1)
    }

    fn value(&self, column: usize, row: usize) -> f64 {
        self.values[row * self.columns + column]
    }

    /// The lines on which the values come to `level`, as shares of width and height.
    pub(super) fn lines(&self, level: f64) -> Vec<Vec<[f64; 2]>> {
        let (columns, rows) = (self.columns, self.rows());
        if columns < 2 || rows < 2 {
            return Vec::new();
        }
        let mut pieces: Vec<[[f64; 2]; 2]> = Vec::new();
        for row in 0..rows - 1 {
            for column in 0..columns - 1 {
                self.cell(column, row, level, &mut pieces);
            }
        }
        let scale = |[x, y]: [f64; 2]| [x / (columns - 1) as f64, y / (rows - 1) as f64];
        joined(pieces).into_iter().map(|line| line.into_iter().map(scale).collect()).collect()
    }

    /// The pieces within one cell.
    fn cell(&self, column: usize, row: usize, level: f64, pieces: &mut Vec<[[f64; 2]; 2]>) {
        let corners = [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)];
        let mut crossings: Vec<[f64; 2]> = Vec::new();
        for side in 0..4 {
            let (a, b) = (corners[side], corners[(side + 1) % 4]);
            // Both cells beside an edge must find the very same place on it.
            let (a, b) = if a <= b { (a, b) } else { (b, a) };
            let (va, vb) = (self.value(a.0, a.1), self.value(b.0, b.1));
            if (va < level) != (vb < level) {
                let share = (level - va) / (vb - va);
                let mix = |a: usize, b: usize| a as f64 + share * (b as f64 - a as f64);
                crossings.push([mix(a.0, b.0), mix(a.1, b.1)]);
            }
        }
        match crossings.as_slice() {
            [a, b] => pieces.push([*a, *b]),
            [a, b, c, d] => {
                // A saddle: the middle tells which sides belong together.
                let middle = corners.iter().map(|(x, y)| self.value(*x, *y)).sum::<f64>() / 4.0;
                if (middle < level) == (self.value(column, row) < level) {
                    pieces.extend([[*a, *b], [*c, *d]]);
                } else {
                    pieces.extend([[*d, *a], [*b, *c]]);
                }
            }
            _ => {}
        }
    }
}

/// Joins pieces that meet end to end.
fn joined(mut pieces: Vec<[[f64; 2]; 2]>) -> Vec<Vec<[f64; 2]>> {
    let is_same = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9;
    let mut lines = Vec::new();
    while let Some([first, second]) = pieces.pop() {
        let mut line = std::collections::VecDeque::from([first, second]);
        loop {
            let (start, end) = (line[0], line[line.len() - 1]);
            let next = pieces.iter().position(|[a, b]| [*a, *b].iter().any(|p| is_same(*p, start) || is_same(*p, end)));
            let Some(next) = next else { break };
            let [a, b] = pieces.swap_remove(next);
            match () {
                () if is_same(a, end) => line.push_back(b),
                () if is_same(b, end) => line.push_back(a),
                () if is_same(a, start) => line.push_front(b),
                () => line.push_front(a),
            }
        }
        lines.push(line.into_iter().collect());
    }
    lines
}

/// Round levels between the least and the greatest value, about so many: 1, 2 or 5 times a power of ten apart.
pub(super) fn levels(low: f64, high: f64, about: f64) -> Vec<f64> {
    // Values that differ by rounding alone have no lines.
    let differ = (high - low) / about > 1e-6 * high.abs();
    let Some(step) = round_step(high - low, about).filter(|_| differ) else { return Vec::new() };
    let first = (low / step).ceil() as i64;
    (first..).map(|k| k as f64 * step).take_while(|level| *level < high).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// x² + y² on a raster: its lines are circles (textbook identity), off by no more than a straight line across a cell is.
    #[test]
    fn circles_are_round() {
        let columns = 41;
        let at = |k: usize| k as f64 / 40.0;
        let values: Vec<f64> =
            (0..columns * columns).map(|i| at(i % columns).powi(2) + at(i / columns).powi(2)).collect();
        let raster = Raster { values: &values, columns };
        let lines = raster.lines(0.25);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].len() > 20);
        for [x, y] in &lines[0] {
            assert!((x.hypot(*y) - 0.5).abs() < 5e-4, "{x} {y}");
        }
    }

    #[test]
    fn a_saddle_is_parted_by_its_middle() {
        let raster = Raster { values: &[1.0, 0.0, 0.0, 1.0], columns: 2 };
        assert_eq!(raster.lines(0.4).len(), 2);
        assert_eq!(raster.lines(0.6).len(), 2);
    }

    #[test]
    fn levels_are_round() {
        assert_eq!(levels(3.0, 27.0, 5.0), [5.0, 10.0, 15.0, 20.0, 25.0]);
        assert!(levels(1.0, 1.0, 5.0).is_empty());
    }
}

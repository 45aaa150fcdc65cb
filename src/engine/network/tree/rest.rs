//! What stands still because the other half of its joint lets nothing pass: two boilers side by side when every zone is shut. The
//! sweeps bring the flows there to nothing only by halves, and leave what depends on where they started (see [`super::super::rest`]).

use super::super::judge::Mode;
use super::Tree;
use super::layout::{Cell, NONE};

impl Tree {
    /// Sets to nothing what flows in such cells, after the last step.
    #[inline(never)]
    pub(super) fn come_to_rest(&mut self) {
        if self.cells.iter().all(|cell| cell.second == NONE) {
            return;
        }
        let count = self.cells.len();
        self.resting.clear();
        for index in 0..count {
            let Cell { parent, second, .. } = self.cells[index];
            let is_resting = parent != NONE && self.is_resting(index, parent as usize);
            self.resting.push(is_resting);
            if is_resting {
                self.still(index);
            } else if second != NONE && self.is_blocked(second as usize) != self.is_blocked(index + 1) {
                // Whatever pressure there is stands across the half that blocks.
                let whole = self.across_cells[index] + self.across_cells[count + index];
                let blocks_first = self.is_blocked(index + 1);
                self.across_cells[index] = if blocks_first { whole } else { 0.0 };
                self.across_cells[count + index] = if blocks_first { 0.0 } else { whole };
            }
        }
    }

    fn is_resting(&self, index: usize, parent: usize) -> bool {
        let Cell { second, .. } = self.cells[parent];
        let other = if index == parent + 1 { second as usize } else { parent + 1 };
        self.resting[parent] || (second != NONE && self.is_blocked(other))
    }

    /// Whether a cell lets nothing pass, whatever the pressure across it.
    fn is_blocked(&self, cell: usize) -> bool {
        let whole = self.sums[cell].whole;
        whole.factor == 0.0 && whole.offset == 0.0
    }

    fn still(&mut self, index: usize) {
        let Cell { first, end, has_series, .. } = self.cells[index];
        self.cell_flows[index] = 0.0;
        self.across_cells[index] = 0.0;
        let second = self.cells.len() + index;
        self.across_cells[second] = 0.0;
        for chain in first as usize..end as usize + usize::from(has_series) {
            let bounds = &mut self.bounds[chain];
            bounds.mode = Mode::at_rest(bounds.range);
            (self.leaves[chain].flow, self.leaves[chain].across) = (0.0, 0.0);
            self.renew_line(chain, 0.0);
        }
    }
}

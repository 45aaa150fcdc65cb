//! What stands in the cells: text as it was typed, row by row, with its own undo.

use crate::file::table::{Pasted, ZONE_FIELDS};

/// Most steps that can be taken back.
const STEPS: usize = 200;
/// Most rows: more than any plan may have zones.
pub(super) const MOST_ROWS: usize = 1200;

/// What the person should know where so many rows are put below a row.
pub(super) fn beyond(top: usize, count: usize) -> Option<String> {
    let left_out = (top + count).saturating_sub(MOST_ROWS);
    (left_out > 0).then(|| format!("The list holds {MOST_ROWS} rows: the last {left_out} were left out."))
}

/// Cells between two corners, both within, as rows and columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Block {
    pub(super) top: usize,
    pub(super) bottom: usize,
    pub(super) left: usize,
    pub(super) right: usize,
}

/// The cells.
#[derive(Clone, Debug, Default)]
pub(super) struct Contents {
    rows: Vec<Vec<String>>,
    past: Vec<Vec<Vec<String>>>,
    future: Vec<Vec<Vec<String>>>,
    /// Counts changes.
    revision: u64,
}

impl Contents {
    pub(super) fn rows(&self) -> &[Vec<String>] {
        &self.rows
    }

    /// Rises with every change.
    pub(super) fn revision(&self) -> u64 {
        self.revision
    }

    pub(super) fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    pub(super) fn cell(&self, row: usize, column: usize) -> &str {
        self.rows.get(row).and_then(|row| row.get(column)).map_or("", String::as_str)
    }

    /// Types one cell.
    pub(super) fn set(&mut self, row: usize, column: usize, text: &str) {
        if self.cell(row, column) != text {
            self.change(|rows| put(rows, row, column, text.to_owned()));
        }
    }

    /// Empties cells.
    pub(super) fn clear(&mut self, block: Block) {
        self.change(|rows| {
            for row in rows.iter_mut().take(block.bottom + 1).skip(block.top) {
                row.iter_mut().take(block.right + 1).skip(block.left).for_each(String::clear);
            }
        });
    }

    pub(super) fn clear_all(&mut self) {
        self.change(Vec::clear);
    }

    /// Puts an empty row above a row.
    pub(super) fn insert(&mut self, at: usize) {
        if at < self.rows.len() {
            self.change(|rows| rows.insert(at, blank()));
        }
    }

    /// Takes rows out.
    pub(super) fn remove(&mut self, block: Block) {
        self.change(|rows| {
            let end = rows.len().min(block.bottom + 1);
            rows.drain(block.top.min(end)..end);
        });
    }

    /// Moves rows up or down by one; `false` where there is no room.
    pub(super) fn shift(&mut self, block: Block, down: bool) -> bool {
        let (top, bottom) = (block.top, block.bottom);
        let fits = if down { bottom + 1 < self.rows.len() } else { top > 0 && bottom < self.rows.len() };
        if fits {
            self.change(|rows| {
                let slice = if down { rows.get_mut(top..bottom + 2) } else { rows.get_mut(top - 1..=bottom) };
                if let Some(slice) = slice {
                    if down { slice.rotate_right(1) } else { slice.rotate_left(1) }
                }
            });
        }
        fits
    }

    /// Puts pasted cells at a cell: below headings each in its column, otherwise to the right and down. Returns what was filled.
    pub(super) fn paste(&mut self, at: (usize, usize), pasted: &Pasted) -> Block {
        let left = if pasted.is_headed { 0 } else { at.1 };
        let width = pasted.rows.iter().map(Vec::len).max().unwrap_or(0).clamp(1, ZONE_FIELDS.len() - left);
        self.change(|rows| {
            for (down, cells) in pasted.rows.iter().enumerate() {
                for (right, cell) in cells.iter().enumerate() {
                    if let Some(text) = cell {
                        put(rows, at.0 + down, left + right, text.clone());
                    }
                }
            }
        });
        Block { top: at.0, bottom: at.0 + pasted.rows.len().max(1) - 1, left, right: left + width - 1 }
    }

    /// Takes other cells in place of all.
    pub(super) fn replace(&mut self, with: Vec<Vec<String>>) {
        self.change(|rows| *rows = with);
    }

    /// The same cells in other units; the past, in the old ones, is forgotten.
    pub(super) fn turn(&mut self, with: Vec<Vec<String>>) {
        self.rows = with;
        self.past.clear();
        self.future.clear();
        self.revision += 1;
    }

    /// Cells as a spreadsheet takes them.
    pub(super) fn copy(&self, block: Block) -> String {
        let row = |row: usize| (block.left..=block.right).map(|column| self.cell(row, column)).collect::<Vec<_>>();
        (block.top..=block.bottom).map(|index| row(index).join("\t")).collect::<Vec<_>>().join("\n")
    }

    pub(super) fn undo(&mut self) {
        if let Some(rows) = self.past.pop() {
            self.future.push(std::mem::replace(&mut self.rows, rows));
            self.revision += 1;
        }
    }

    pub(super) fn redo(&mut self) {
        if let Some(rows) = self.future.pop() {
            self.past.push(std::mem::replace(&mut self.rows, rows));
            self.revision += 1;
        }
    }

    fn change(&mut self, by: impl FnOnce(&mut Vec<Vec<String>>)) {
        let before = self.rows.clone();
        by(&mut self.rows);
        let is_blank = |row: &Vec<String>| row.iter().all(|cell| cell.trim().is_empty());
        self.rows.truncate(MOST_ROWS);
        while self.rows.last().is_some_and(is_blank) {
            self.rows.pop();
        }
        if self.rows != before {
            self.past.push(before);
            self.past.drain(..self.past.len().saturating_sub(STEPS));
            self.future.clear();
            self.revision += 1;
        }
    }
}

fn blank() -> Vec<String> {
    vec![String::new(); ZONE_FIELDS.len()]
}

/// Writes a cell, adding rows up to it; nothing outside the sheet.
fn put(rows: &mut Vec<Vec<String>>, row: usize, column: usize, text: String) {
    if row >= MOST_ROWS {
        return;
    }
    while rows.len() <= row {
        rows.push(blank());
    }
    if let Some(cell) = rows.get_mut(row).and_then(|row| row.get_mut(column)) {
        *cell = text;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn contents(cells: &[&str]) -> Contents {
        let mut contents = Contents::default();
        cells.iter().enumerate().for_each(|(row, cell)| contents.set(row, 0, cell));
        contents
    }

    fn names(contents: &Contents) -> Vec<&str> {
        contents.rows().iter().map(|row| row[0].as_str()).collect()
    }

    fn of(top: usize, bottom: usize) -> Block {
        Block { top, bottom, left: 0, right: 3 }
    }

    #[test]
    fn rows_are_moved_inserted_removed_and_brought_back() {
        let mut list = contents(&["a", "b", "c"]);
        assert!(list.shift(of(0, 0), true) && !list.shift(of(2, 2), true) && !list.shift(of(0, 0), false));
        assert_eq!(names(&list), ["b", "a", "c"]);
        list.insert(1);
        assert_eq!(names(&list), ["b", "", "a", "c"]);
        list.remove(of(1, 2));
        assert_eq!(names(&list), ["b", "c"]);
        (0..3).for_each(|_| list.undo());
        assert_eq!(names(&list), ["a", "b", "c"]);
        (0..9).for_each(|_| list.redo());
        assert_eq!(names(&list), ["b", "c"]);
        list.clear(of(1, 40));
        assert_eq!(names(&list), ["b"]);
    }

    #[test]
    fn nothing_is_written_outside_the_sheet() {
        let mut list = Contents::default();
        list.set(5, 99, "x");
        list.set(usize::MAX, 0, "x");
        assert!(list.is_empty());
        let wide = Pasted { rows: vec![vec![Some("1".to_owned()); 40]; 3], is_headed: false, notes: Vec::new() };
        assert_eq!(list.paste((2, 14), &wide).right, 15);
        assert_eq!((list.rows().len(), list.cell(4, 15)), (5, "1"));
        assert_eq!(list.copy(Block { top: 1, bottom: 2, left: 13, right: 15 }), "\t\t\n\t1\t1");
    }
}

//! Places for labels: inside what they name, clear of each other.

use super::areas::{COLUMNS, ROWS};

/// A rectangle: left, top, right, bottom.
pub(super) type Space = [f64; 4];

/// What is taken already.
#[derive(Clone, Debug, Default)]
pub(super) struct Taken {
    spaces: Vec<Space>,
}

impl Taken {
    /// Whether a space is free.
    pub(super) fn is_free(&self, space: Space) -> bool {
        let meets =
            |other: &Space| space[0] < other[2] && other[0] < space[2] && space[1] < other[3] && other[1] < space[3];
        !self.spaces.iter().any(meets)
    }

    /// Takes it.
    pub(super) fn take(&mut self, space: Space) {
        self.spaces.push(space);
    }
}

/// The middle of a space of this size, in cells, that lies wholly within a set of cells and is liked by `is_free`; the one nearest to the
/// middle of the set. In cells from the lower left corner.
pub(super) fn within(
    cells: &[bool],
    [width, height]: [f64; 2],
    is_free: impl Fn([f64; 2]) -> bool,
) -> Option<[f64; 2]> {
    let [width, height] = [width.ceil() as usize, height.ceil() as usize];
    if width > COLUMNS || height > ROWS {
        return None;
    }
    let count = Sums::new(cells);
    let middle = middle(cells)?;
    let mut best: Option<(f64, [f64; 2])> = None;
    for row in 0..=ROWS - height {
        for column in 0..=COLUMNS - width {
            if count.within(column, row, width, height) < width * height {
                continue;
            }
            let at = [column as f64 + 0.5 * width as f64, row as f64 + 0.5 * height as f64];
            let away = (at[0] - middle[0]).hypot(at[1] - middle[1]);
            if best.is_none_or(|(least, _)| away < least) && is_free(at) {
                best = Some((away, at));
            }
        }
    }
    best.map(|(_, at)| at)
}

fn middle(cells: &[bool]) -> Option<[f64; 2]> {
    let all = || cells.iter().enumerate().filter(|(_, is_in)| **is_in).map(|(index, _)| index);
    let count = all().count() as f64;
    let sum = |of: fn(usize) -> usize| all().map(|index| of(index) as f64 + 0.5).sum::<f64>();
    (count > 0.0).then(|| [sum(|index| index % COLUMNS) / count, sum(|index| index / COLUMNS) / count])
}

/// Cells below and left of each corner, so that those in a rectangle are counted at once.
struct Sums(Vec<usize>);

impl Sums {
    fn new(cells: &[bool]) -> Self {
        let mut sums = vec![0; (COLUMNS + 1) * (ROWS + 1)];
        let at = |column: usize, row: usize| row * (COLUMNS + 1) + column;
        for row in 0..ROWS {
            for column in 0..COLUMNS {
                let here = usize::from(cells[row * COLUMNS + column]);
                sums[at(column + 1, row + 1)] =
                    here + sums[at(column, row + 1)] + sums[at(column + 1, row)] - sums[at(column, row)];
            }
        }
        Self(sums)
    }

    fn within(&self, column: usize, row: usize, width: usize, height: usize) -> usize {
        let at = |column: usize, row: usize| self.0[row * (COLUMNS + 1) + column];
        at(column + width, row + height) + at(column, row) - at(column + width, row) - at(column, row + height)
    }
}

/// A text in lines of at most so many characters, broken between words; a longer word is cut.
pub(super) fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    for word in text.split(' ') {
        let characters: Vec<char> = word.chars().collect();
        for piece in characters.chunks(most.max(1)) {
            let piece: String = piece.iter().collect();
            let last = lines.len() - 1;
            let used = lines[last].chars().count();
            if used > 0 && used + 1 + piece.chars().count() > most {
                lines.push(piece);
            } else {
                let gap = if used > 0 { " " } else { "" };
                lines[last] += &format!("{gap}{piece}");
            }
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_between_words() {
        assert_eq!(wrapped("Office radiators starves first", 16), ["Office radiators", "starves first"]);
        assert_eq!(wrapped("abcdefgh", 3), ["abc", "def", "gh"]);
    }

    #[test]
    fn a_label_lies_in_its_area_or_nowhere() {
        let cells: Vec<bool> =
            (0..COLUMNS * ROWS).map(|i| (10..20).contains(&(i % COLUMNS)) && i / COLUMNS < 5).collect();
        let found = within(&cells, [10.0, 5.0], |_| true);
        assert_eq!(found, Some([15.0, 2.5]));
        assert_eq!(within(&cells, [11.0, 5.0], |_| true), None);
        assert_eq!(within(&cells, [4.0, 4.0], |_| false), None);
    }
}

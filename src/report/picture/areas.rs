//! Areas of a plane in which the same thing is missed: sampled on a fine raster, traced along the edges of its cells and straightened.

use super::super::map::MapView;
use crate::problems::Place;
use crate::study::part_load::Reason;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// Cells along and up.
pub(super) const COLUMNS: usize = 234;
/// See there.
pub(super) const ROWS: usize = 198;
/// How far a straightened edge may be off, in cells.
const STRAIGHT: f64 = 1.05;
/// How far a cell looks about itself, in cells, before it takes what most there miss: bands thinner than about that are no help to
/// anybody who looks at the picture.
const REACH: usize = 4;
/// Areas smaller than this share of the plane are not told.
const LEAST: f64 = 5e-4;

/// What is missed in an area.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Starves,
    Overflows,
    TooLoud,
}

/// An area.
#[derive(Clone, Debug)]
pub(super) struct Area {
    pub kind: Kind,
    /// The first reason found in it: they differ in figures alone.
    pub reason: Reason,
    /// How many there are of its kind before it.
    pub order: usize,
    /// Its edges, closed, in cells from the lower left corner.
    pub edges: Vec<Vec<[f64; 2]>>,
    /// Its cells.
    pub count: usize,
    /// Cell by cell whether it is the area's.
    pub cells: Vec<bool>,
}

fn kind(reason: &Reason) -> Kind {
    match reason {
        Reason::Starves(_) => Kind::Starves,
        Reason::Overflows(_) => Kind::Overflows,
        Reason::TooLoud(_) => Kind::TooLoud,
    }
}

/// The areas of a map, the largest first.
pub(super) fn areas(view: &MapView<'_>) -> Vec<Area> {
    let plane = &view.map.plane;
    let cell = |index: usize| {
        let middle = |k: usize, of: usize| (k as f64 + 0.5) / of as f64;
        let at = plane.at([middle(index % COLUMNS, COLUMNS), middle(index / COLUMNS, ROWS)]);
        view.miss(&plane.settings(at)).map(|miss| miss.reason)
    };
    let reasons: Vec<Option<Reason>> = (0..COLUMNS * ROWS).into_par_iter().with_min_len(COLUMNS).map(cell).collect();
    let mut found: BTreeMap<(Kind, Place), (Reason, Vec<bool>)> = BTreeMap::new();
    for (index, reason) in smoothed(&reasons).into_iter().enumerate() {
        if let Some(reason) = reason {
            let (_, cells) = found.entry(key(&reason)).or_insert_with(|| (reason, vec![false; COLUMNS * ROWS]));
            cells[index] = true;
        }
    }
    let area = |((kind, _), (reason, cells)): ((Kind, Place), (Reason, Vec<bool>))| {
        let count = cells.iter().filter(|is_in| **is_in).count();
        Area { kind, reason, order: 0, edges: edges(&cells), count, cells }
    };
    let mut all: Vec<Area> = found.into_iter().map(area).collect();
    all.retain(|area| area.count as f64 >= LEAST * (COLUMNS * ROWS) as f64);
    all.sort_by_key(|area| std::cmp::Reverse(area.count));
    for index in 0..all.len() {
        all[index].order = all[..index].iter().filter(|other| other.kind == all[index].kind).count();
    }
    all
}

fn key(reason: &Reason) -> (Kind, Place) {
    (kind(reason), reason.place())
}

/// Each cell that misses something with what most cells about it miss; those that miss nothing stay.
fn smoothed(reasons: &[Option<Reason>]) -> Vec<Option<Reason>> {
    let most = |index: usize| {
        reasons[index]?;
        let (column, row) = (index % COLUMNS, index / COLUMNS);
        let mut counts: BTreeMap<(Kind, Place), (usize, Reason)> = BTreeMap::new();
        for y in row.saturating_sub(REACH)..=(row + REACH).min(ROWS - 1) {
            for x in column.saturating_sub(REACH)..=(column + REACH).min(COLUMNS - 1) {
                if let Some(reason) = reasons[y * COLUMNS + x] {
                    counts.entry(key(&reason)).or_insert((0, reason)).0 += 1;
                }
            }
        }
        counts.into_values().max_by_key(|(count, _)| *count).map(|(_, reason)| reason)
    };
    (0..reasons.len()).into_par_iter().with_min_len(COLUMNS).map(most).collect()
}

/// The edges of a set of cells: closed lines that have the cells on their left.
fn edges(cells: &[bool]) -> Vec<Vec<[f64; 2]>> {
    let is_in = |column: i32, row: i32| {
        let on_raster = column >= 0 && row >= 0 && column < COLUMNS as i32 && row < ROWS as i32;
        on_raster && cells[row as usize * COLUMNS + column as usize]
    };
    let mut from: BTreeMap<(i32, i32), Vec<(i32, i32)>> = BTreeMap::new();
    for row in 0..ROWS as i32 {
        for column in 0..COLUMNS as i32 {
            if !is_in(column, row) {
                continue;
            }
            let (right, above) = (column + 1, row + 1);
            let sides = [
                ((column, row - 1), (column, row), (right, row)),
                ((column + 1, row), (right, row), (right, above)),
                ((column, row + 1), (right, above), (column, above)),
                ((column - 1, row), (column, above), (column, row)),
            ];
            for (beside, start, end) in sides {
                if !is_in(beside.0, beside.1) {
                    from.entry(start).or_default().push(end);
                }
            }
        }
    }
    let mut lines = Vec::new();
    while let Some(start) = from.keys().next().copied() {
        let mut line = vec![start];
        let mut here = start;
        while let Some(next) = from.get_mut(&here).and_then(Vec::pop) {
            if from.get(&here).is_some_and(Vec::is_empty) {
                from.remove(&here);
            }
            if next == start {
                break;
            }
            line.push(next);
            here = next;
        }
        lines.push(straightened(&line.iter().map(|(x, y)| [f64::from(*x), f64::from(*y)]).collect::<Vec<_>>()));
    }
    lines
}

/// A closed line with no more corners than it takes (Douglas and Peucker 1973).
fn straightened(line: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let away = |a: [f64; 2], b: [f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
    let Some(first) = line.first() else { return Vec::new() };
    let farthest =
        (0..line.len()).max_by(|a, b| away(line[*a], *first).total_cmp(&away(line[*b], *first))).unwrap_or(0);
    let mut kept = vec![*first];
    halve(&line[..=farthest], &mut kept);
    let back: Vec<[f64; 2]> = line[farthest..].iter().chain([first]).copied().collect();
    halve(&back, &mut kept);
    kept.pop();
    kept
}

/// Puts what a piece needs after its first point, its last included.
fn halve(piece: &[[f64; 2]], kept: &mut Vec<[f64; 2]>) {
    let (Some(a), Some(b)) = (piece.first().copied(), piece.last().copied()) else { return };
    let length = (b[0] - a[0]).hypot(b[1] - a[1]);
    let off = |p: [f64; 2]| {
        if length == 0.0 {
            return (p[0] - a[0]).hypot(p[1] - a[1]);
        }
        ((b[0] - a[0]) * (a[1] - p[1]) - (a[0] - p[0]) * (b[1] - a[1])).abs() / length
    };
    let inner = 1..piece.len().saturating_sub(1);
    let worst = inner.max_by(|i, j| off(piece[*i]).total_cmp(&off(piece[*j])));
    match worst {
        Some(worst) if off(piece[worst]) > STRAIGHT => {
            halve(&piece[..=worst], kept);
            halve(&piece[worst..], kept);
        }
        _ => kept.push(b),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The area within a line by the shoelace formula is that of the cells.
    #[test]
    fn edges_hold_their_cells() {
        let cells: Vec<bool> = (0..COLUMNS * ROWS)
            .map(|i| (20..60).contains(&(i % COLUMNS)) && (30..50).contains(&(i / COLUMNS)))
            .collect();
        let lines = edges(&cells);
        assert_eq!((lines.len(), lines[0].len()), (1, 4));
        let line = &lines[0];
        let twice: f64 = (0..4).map(|i| (line[i], line[(i + 1) % 4])).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum();
        assert_eq!(twice / 2.0, 800.0);
    }

    #[test]
    fn a_hole_has_an_edge_of_its_own() {
        let cells: Vec<bool> = (0..COLUMNS * ROWS).map(|i| i != 100 * COLUMNS + 100).collect();
        assert_eq!(edges(&cells).len(), 2);
    }
}

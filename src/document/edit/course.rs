//! Courses: the line of a pipe on the sheet, from port to port, in grid steps.

use crate::document::{PipeRun, PortRef, Project};

/// A place on the sheet, in grid steps.
pub(super) type Place = [f64; 2];

/// Places nearer to each other than this are one, grid steps.
const SAME: f64 = 1e-9;

/// The corners of a pipe on the drawing with both ends, in grid steps; empty where an end is missing.
#[must_use]
pub fn course(project: &Project, pipe: &PipeRun) -> Vec<[f64; 2]> {
    let end = |end: PortRef| project.components.get(&end.component)?.port_at(end.port);
    let (Some(from), Some(to)) = (end(pipe.from), end(pipe.to)) else { return Vec::new() };
    [from].into_iter().chain(pipe.bends.iter().copied()).chain([to]).collect()
}

/// The place at a share of a course's length.
#[must_use]
pub fn spot(course: &[[f64; 2]], share: f64) -> [f64; 2] {
    located(course, share).map_or([0.0, 0.0], |(_, place)| place)
}

/// The share of a course's length that lies nearest to a place, and how far from it, in grid steps.
#[must_use]
pub fn nearest_share(course: &[[f64; 2]], at: [f64; 2]) -> Option<(f64, f64)> {
    let total = drawn_length(course);
    let first = course.first().map(|first| (0.0, distance(*first, at))).filter(|(_, far)| far.is_finite())?;
    let (mut best, mut gone) = (first, 0.0);
    for pair in course.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        let length = distance(a, b);
        if length > 0.0 {
            let along = ((at[0] - a[0]) * (b[0] - a[0]) + (at[1] - a[1]) * (b[1] - a[1])) / (length * length);
            let along = along.clamp(0.0, 1.0);
            let far = distance(between(a, b, along), at);
            if far < best.1 {
                best = ((gone + along * length) / total, far);
            }
        }
        gone += length;
    }
    Some(best)
}

/// The place at a share of a course's length and the number of the segment in which it lies.
pub(super) fn located(course: &[Place], share: f64) -> Option<(usize, Place)> {
    let wanted = share.clamp(0.0, 1.0) * drawn_length(course);
    let mut gone = 0.0;
    for (index, pair) in course.windows(2).enumerate() {
        let length = distance(pair[0], pair[1]);
        if length > 0.0 && gone + length >= wanted {
            return Some((index, between(pair[0], pair[1], ((wanted - gone) / length).clamp(0.0, 1.0))));
        }
        gone += length;
    }
    // Rounding may leave the very end beyond the last segment.
    course.last().map(|last| (course.len().saturating_sub(2), *last))
}

/// Length of a course, grid steps.
pub(super) fn drawn_length(course: &[Place]) -> f64 {
    course.windows(2).map(|pair| distance(pair[0], pair[1])).sum()
}

/// A course without corners that are none: doubled places, corners on a straight line, ways there and back. Both ends stay.
pub(super) fn tidied(course: &[Place]) -> Vec<Place> {
    let mut kept: Vec<Place> = Vec::with_capacity(course.len());
    for place in course {
        while let [.., before, corner] = kept[..]
            && is_straight(before, corner, *place)
        {
            kept.pop();
        }
        if !kept.last().is_some_and(|last| is_same(*last, *place)) {
            kept.push(*place);
        }
    }
    if let Some(end) = course.last() {
        if kept.len() > 1 {
            kept.pop();
        }
        kept.push(*end);
    }
    kept
}

/// The corners of a course, without its ends.
pub(super) fn corners(course: &[Place]) -> Vec<Place> {
    match course {
        [_, inner @ .., _] => inner.to_vec(),
        _ => Vec::new(),
    }
}

/// Whether two places are one.
pub(super) fn is_same(a: Place, b: Place) -> bool {
    (a[0] - b[0]).abs() <= SAME && (a[1] - b[1]).abs() <= SAME
}

/// Whether the way from `a` to `b` is level or upright.
pub(super) fn is_orthogonal(a: Place, b: Place) -> bool {
    (a[0] - b[0]).abs() <= SAME || (a[1] - b[1]).abs() <= SAME
}

/// Whether a way over a corner needs no corner.
fn is_straight(a: Place, corner: Place, b: Place) -> bool {
    let ([x1, y1], [x2, y2]) = ([corner[0] - a[0], corner[1] - a[1]], [b[0] - corner[0], b[1] - corner[1]]);
    (x1 * y2 - y1 * x2).abs() <= SAME * (x1.hypot(y1) + x2.hypot(y2))
}

pub(super) fn distance(a: Place, b: Place) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn between(a: Place, b: Place, share: f64) -> Place {
    [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_found_by_drawn_length() {
        let course = [[0.0, 0.0], [4.0, 0.0], [4.0, 6.0]];
        assert_eq!(spot(&course, 0.2), [2.0, 0.0]);
        assert_eq!(spot(&course, 0.7), [4.0, 3.0]);
        assert_eq!(spot(&course, 1.0), [4.0, 6.0]);
        assert_eq!(spot(&[], 0.5), [0.0, 0.0]);
        assert_eq!(nearest_share(&course, [6.0, 3.0]), Some((0.7, 2.0)));
        assert_eq!(nearest_share(&course, [2.0, -1.0]), Some((0.2, 1.0)));
        assert_eq!(nearest_share(&[], [0.0, 0.0]), None);
        assert_eq!(nearest_share(&[[1.0, 1.0], [1.0, 1.0]], [1.0, 2.0]), Some((0.0, 1.0)));
    }

    #[test]
    fn corners_that_are_none_go() {
        let straight = [[0.0, 0.0], [1.0, 0.0], [1.0, 0.0], [3.0, 0.0]];
        assert_eq!(tidied(&straight), [[0.0, 0.0], [3.0, 0.0]]);
        let there_and_back = [[0.0, 0.0], [5.0, 0.0], [2.0, 0.0], [2.0, 2.0]];
        assert_eq!(tidied(&there_and_back), [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0]]);
        let nowhere = [[0.0, 0.0], [5.0, 0.0], [0.0, 0.0]];
        assert_eq!(tidied(&nowhere), [[0.0, 0.0], [0.0, 0.0]]);
        let kept = [[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [4.0, 2.0]];
        assert_eq!(tidied(&kept), kept);
    }
}

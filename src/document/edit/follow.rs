//! How pipes follow components that move or turn.
//!
//! A course that is the route between its ends stays the route, so that it depends on places alone and comes back when they come
//! back. A course that a person shaped keeps its corners: the segment at a moved end stays level or upright and takes its
//! corner along, and when both ends move alike everything does. Only where that would leave an oblique segment, or lead back
//! through a component, the pipe is routed anew.

use super::course::{Place, corners, distance, is_orthogonal, is_same, tidied};
use super::route::{Stop, heading, route};

/// The ends of a pipe before and after.
pub(super) struct Shift {
    pub(super) before: [Stop; 2],
    pub(super) after: [Stop; 2],
}

impl Shift {
    /// The corners of a pipe after the shift, from those before.
    pub(super) fn apply(&self, bends: &[Place]) -> Vec<Place> {
        let [from, to] = &self.after;
        let moves = [0, 1].map(|end| {
            let (before, after) = (self.before[end].at, self.after[end].at);
            [after[0] - before[0], after[1] - before[1]]
        });
        let turned = (0..2).any(|end| self.before[end].only_way() != self.after[end].only_way());
        if !turned && is_same(moves[0], moves[1]) {
            return bends.iter().map(|[x, y]| [x + moves[0][0], y + moves[0][1]]).collect();
        }
        let [start, end] = self.before.map(|stop| stop.at);
        let old: Vec<Place> = [start].into_iter().chain(bends.iter().copied()).chain([end]).collect();
        let old = tidied(&old);
        let is_route = same_places(&corners(&old), &route(&self.before[0], &self.before[1]));
        if !is_route {
            let mut shaped = old.clone();
            take_along(&mut shaped, from.at);
            shaped.reverse();
            take_along(&mut shaped, to.at);
            shaped.reverse();
            let shaped = tidied(&shaped);
            let sideways = |course: &[Place], [from, to]: [&Stop; 2]| leaves_sideways(course, from, to);
            if is_proper(&shaped, from, to)
                && sideways(&shaped, [from, to]) <= sideways(&old, [&self.before[0], &self.before[1]])
            {
                return corners(&shaped);
            }
        }
        route(from, to)
    }
}

/// Moves the first place; the corner after it keeps their segment level or upright.
fn take_along(course: &mut [Place], to: Place) {
    if let [first, corner, _, ..] = course {
        if (first[1] - corner[1]).abs() < (first[0] - corner[0]).abs() {
            corner[1] = to[1];
        } else {
            corner[0] = to[0];
        }
    }
    if let Some(first) = course.first_mut() {
        *first = to;
    }
}

/// Whether a course is level and upright throughout and leads back through no component at its ends.
pub(super) fn is_proper(course: &[Place], from: &Stop, to: &Stop) -> bool {
    let is_back =
        |way: Option<usize>, stop: &Stop| way.zip(stop.only_way()).is_some_and(|(way, facing)| way == (facing + 2) % 4);
    let [first, last] = ways(course);
    course.windows(2).all(|pair| is_orthogonal(pair[0], pair[1])) && !is_back(first, from) && !is_back(last, to)
}

/// At how many ends a course does not leave straight ahead.
fn leaves_sideways(course: &[Place], from: &Stop, to: &Stop) -> usize {
    let is_sideways =
        |way: Option<usize>, stop: &Stop| way.zip(stop.only_way()).is_some_and(|(way, facing)| way % 2 != facing % 2);
    let [first, last] = ways(course);
    usize::from(is_sideways(first, from)) + usize::from(is_sideways(last, to))
}

/// The directions in which a course leaves its two ends; none where it has no length.
fn ways(course: &[Place]) -> [Option<usize>; 2] {
    match course {
        [a, b] if distance(*a, *b) == 0.0 => [None, None],
        [a, b] => [Some(heading(*a, *b)), Some(heading(*b, *a))],
        [a, b, .., y, z] => [Some(heading(*a, *b)), Some(heading(*z, *y))],
        [a, b, c] => [Some(heading(*a, *b)), Some(heading(*c, *b))],
        _ => [None, None],
    }
}

fn same_places(a: &[Place], b: &[Place]) -> bool {
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| is_same(*a, *b))
}

//! Routes: the way of a new pipe, level and upright, with the fewest corners, then the least length. It leaves each port in the
//! direction in which the port faces and does not pass through the components at its ends; other components it may cross.
//!
//! The ways are sought on the few lines that matter: through both ends, halfway between them, and one step beside the
//! components at the ends.

use super::course::{Place, corners, is_same, tidied};
use crate::document::{Component, Port, Turn};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Cost of a corner, of a grid step, and of a corner that is not halfway: corners count first, then length.
const CORNER: u64 = 1_000_000_000;
const STEP: f64 = 1000.0;
const OFF_MIDDLE: u64 = 1;

/// The four directions, in quarter turns clockwise.
pub(super) const DIRECTIONS: [Turn; 4] = [Turn::Right, Turn::Down, Turn::Left, Turn::Up];

/// An end of a route.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stop {
    /// Where it lies.
    pub(super) at: Place,
    /// In which of the four directions a pipe may leave it.
    pub(super) ways: [bool; 4],
    /// Least and greatest corner of the component there; a tee has none.
    body: Option<[Place; 2]>,
}

impl Stop {
    /// The stop at a port; `None` if there is no such port.
    pub(super) fn of(component: &Component, port: Port) -> Option<Self> {
        let at = component.port_at(port)?;
        let Some(facing) = facing(component, port) else { return Some(Self { at, ways: [true; 4], body: None }) };
        let mut ways = [false; 4];
        ways[facing] = true;
        let (mut half, center) = ([1.0_f64, 1.0_f64], component.at);
        for place in component.ports().iter().filter_map(|port| component.port_at(*port)) {
            half = [half[0].max((place[0] - center[0]).abs()), half[1].max((place[1] - center[1]).abs())];
        }
        let body = [[center[0] - half[0], center[1] - half[1]], [center[0] + half[0], center[1] + half[1]]];
        Some(Self { at, ways, body: Some(body) })
    }

    /// The one direction in which it can be left, if there is only one.
    pub(super) fn only_way(&self) -> Option<usize> {
        let mut open = (0..4).filter(|way| self.ways[*way]);
        open.next().filter(|_| open.next().is_none())
    }
}

/// The direction in which a port faces; `None` for a tee.
fn facing(component: &Component, port: Port) -> Option<usize> {
    /// Less than any symbol, grid steps.
    const NOTHING: f64 = 1e-6;
    let place = component.port_at(port)?;
    let offset = [place[0] - component.at[0], place[1] - component.at[1]];
    let (turned, back) = match component.turn {
        Turn::Right => (0, Turn::Right),
        Turn::Down => (1, Turn::Up),
        Turn::Left => (2, Turn::Left),
        Turn::Up => (3, Turn::Down),
    };
    let own = match back.apply(offset) {
        [x, _] if x > NOTHING => 0,
        [x, _] if x < -NOTHING => 2,
        [_, y] if y > NOTHING => 1,
        [_, y] if y < -NOTHING => 3,
        _ => return None,
    };
    Some((own + turned) % 4)
}

/// The direction from one place to another that lies level or upright to it; the greater difference decides.
pub(super) fn heading(from: Place, to: Place) -> usize {
    let [x, y] = [to[0] - from[0], to[1] - from[1]];
    match x.abs() >= y.abs() {
        true if x >= 0.0 => 0,
        true => 2,
        false if y >= 0.0 => 1,
        false => 3,
    }
}

/// The corners of the way between two stops.
pub(super) fn route(from: &Stop, to: &Stop) -> Vec<Place> {
    if is_same(from.at, to.at) {
        return Vec::new();
    }
    let anywhere = |stop: &Stop| Stop { body: None, ..*stop };
    let found = Field::new(from, to).search().or_else(|| Field::new(&anywhere(from), &anywhere(to)).search());
    // Components on top of each other may leave no way: then one corner does.
    found.unwrap_or_else(|| corners(&tidied(&[from.at, [to.at[0], from.at[1]], to.at])))
}

/// The lines on which a way is sought.
struct Field<'a> {
    ends: [&'a Stop; 2],
    /// Sorted places of upright and of level lines.
    lines: [Vec<f64>; 2],
    middle: [f64; 2],
}

impl<'a> Field<'a> {
    fn new(from: &'a Stop, to: &'a Stop) -> Self {
        let middle = [0, 1].map(|axis| middle(from.at[axis], to.at[axis]));
        let lines = [0, 1].map(|axis| {
            let mut lines = vec![from.at[axis], to.at[axis], middle[axis]];
            for stop in [from, to] {
                match stop.body {
                    Some([least, greatest]) => lines.extend([least[axis] - 1.0, greatest[axis] + 1.0]),
                    None => lines.extend([stop.at[axis] - 2.0, stop.at[axis] + 2.0]),
                }
            }
            lines.sort_by(f64::total_cmp);
            lines.dedup();
            lines
        });
        Self { ends: [from, to], lines, middle }
    }

    fn place(&self, [x, y]: [usize; 2]) -> Place {
        [self.lines[0][x], self.lines[1][y]]
    }

    fn node(&self, at: Place) -> Option<[usize; 2]> {
        let index = |axis: usize| self.lines[axis].iter().position(|line| *line == at[axis]);
        Some([index(0)?, index(1)?])
    }

    /// The next crossing of lines in a direction.
    fn next(&self, [x, y]: [usize; 2], way: usize) -> Option<[usize; 2]> {
        let next = match way {
            0 => [x + 1, y],
            1 => [x, y + 1],
            2 => [x.checked_sub(1)?, y],
            _ => [x, y.checked_sub(1)?],
        };
        (next[0] < self.lines[0].len() && next[1] < self.lines[1].len()).then_some(next)
    }

    /// Whether a step passes through a component at an end.
    fn is_blocked(&self, a: Place, b: Place) -> bool {
        self.ends.iter().filter_map(|stop| stop.body).any(|[least, greatest]| {
            (0..2).all(|axis| a[axis].max(b[axis]) > least[axis] + 1e-6 && a[axis].min(b[axis]) < greatest[axis] - 1e-6)
        })
    }

    /// The way of least cost (Dijkstra 1959, textbook) over crossings, each with the direction in which it is reached.
    fn search(&self) -> Option<Vec<Place>> {
        let [from, to] = self.ends;
        let (start, goal) = (self.node(from.at)?, self.node(to.at)?);
        let columns = self.lines[0].len();
        let state = |[x, y]: [usize; 2], way: usize| 4 * (y * columns + x) + way;
        let count = 4 * columns * self.lines[1].len();
        let (mut costs, mut before) = (vec![u64::MAX; count], vec![usize::MAX; count]);
        let mut open = BinaryHeap::new();
        for way in (0..4).filter(|way| from.ways[*way]) {
            costs[state(start, way)] = 0;
            open.push(Reverse((0_u64, state(start, way))));
        }
        while let Some(Reverse((cost, at))) = open.pop() {
            let (node, way) = ([at / 4 % columns, at / 4 / columns], at % 4);
            if node == goal && to.ways[(way + 2) % 4] {
                return Some(self.traced(&before, at));
            }
            if cost > costs[at] {
                continue;
            }
            // At the start the direction is that of the port; nowhere does a pipe turn back.
            let turns = (0..4).filter(|next| *next == way || (cost > 0 && *next != (way + 2) % 4));
            for next_way in turns {
                let Some(next) = self.next(node, next_way) else { continue };
                let (a, b) = (self.place(node), self.place(next));
                if self.is_blocked(a, b) {
                    continue;
                }
                let is_halfway = a[0] == self.middle[0] || a[1] == self.middle[1];
                let corner = if next_way == way { 0 } else { CORNER + if is_halfway { 0 } else { OFF_MIDDLE } };
                let step = (STEP * ((a[0] - b[0]).abs() + (a[1] - b[1]).abs())).clamp(1.0, 1e15) as u64;
                let (cost, key) = (cost.saturating_add(corner).saturating_add(step), state(next, next_way));
                if cost < costs[key] {
                    (costs[key], before[key]) = (cost, at);
                    open.push(Reverse((cost, key)));
                }
            }
        }
        None
    }

    fn traced(&self, before: &[usize], end: usize) -> Vec<Place> {
        let columns = self.lines[0].len();
        let mut places = Vec::new();
        let mut at = end;
        while at != usize::MAX {
            places.push(self.place([at / 4 % columns, at / 4 / columns]));
            at = before[at];
        }
        places.reverse();
        corners(&tidied(&places))
    }
}

/// Halfway, on a whole grid step where one lies between.
fn middle(a: f64, b: f64) -> f64 {
    let (middle, whole) = (0.5 * (a + b), (0.5 * (a + b)).round());
    if a.min(b) < whole && whole < a.max(b) { whole } else { middle }
}

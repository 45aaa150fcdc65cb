//! What the hand is doing on the sheet between press and release, and the commands that come of it.

use super::super::camera::Camera;
use super::hit::{self, Hit};
use super::snap::Snap;
use crate::document::{Command, ComponentId, PipeEnd, PipeId, Port, PortRef, Project, course};
use egui::Pos2;
use std::collections::BTreeMap;

/// A gesture that has begun.
#[derive(Clone, Debug, PartialEq)]
pub(in super::super) enum Gesture {
    /// Components follow the hand.
    Move {
        /// Where the hand took hold, grid steps.
        from: [f64; 2],
        /// Where they stood then.
        starts: BTreeMap<ComponentId, [f64; 2]>,
    },
    /// A straight part of a pipe follows the hand to its side.
    Shift {
        /// The pipe.
        pipe: PipeId,
        /// Which part, from its start.
        part: usize,
        /// Its course then.
        course: Vec<[f64; 2]>,
    },
    /// A pipe is drawn from a port.
    Pipe(PortRef),
    /// A frame is drawn about what is to be selected.
    Frame(Pos2),
    /// The sheet is moved.
    Pan,
}

impl Gesture {
    /// Components of the selection, from where they stand.
    pub(in super::super) fn moving(project: &Project, ids: impl Iterator<Item = ComponentId>, from: [f64; 2]) -> Self {
        let starts = ids.filter_map(|id| Some((id, project.components.get(&id)?.at))).collect();
        Self::Move { from, starts }
    }

    /// The part of a pipe that lies under a place.
    pub(in super::super) fn shifting(project: &Project, pipe: PipeId, at: [f64; 2]) -> Option<Self> {
        let course = course(project, project.pipes.get(&pipe)?);
        let part = nearest_part(&course, at)?;
        Some(Self::Shift { pipe, part, course })
    }

    /// What brings back what the gesture has moved so far.
    pub(in super::super) fn taken_back(self) -> Option<Command> {
        match self {
            Self::Move { starts, .. } => Some(Command::MoveComponents(starts)),
            Self::Shift { pipe, course, .. } => {
                let corners = course.get(1..course.len().saturating_sub(1)).unwrap_or_default();
                Some(Command::SetBends(pipe, corners.to_vec()))
            }
            Self::Pipe(_) | Self::Frame(_) | Self::Pan => None,
        }
    }

    /// What the document should do while the hand is at a place.
    pub(in super::super) fn command(&self, at: [f64; 2], snap: Snap) -> Option<Command> {
        match self {
            Self::Move { from, starts } => {
                // The first one is brought onto the grid; the others keep their distance from it.
                let first = starts.values().next()?;
                let wanted = snap.place([first[0] + at[0] - from[0], first[1] + at[1] - from[1]]);
                let by = [wanted[0] - first[0], wanted[1] - first[1]];
                let places = starts.iter().map(|(id, [x, y])| (*id, [x + by[0], y + by[1]])).collect();
                Some(Command::MoveComponents(places))
            }
            Self::Shift { pipe, part, course } => {
                let bends = shifted(course, *part, snap.place(at))?;
                Some(Command::SetBends(*pipe, bends))
            }
            Self::Pipe(_) | Self::Frame(_) | Self::Pan => None,
        }
    }
}

/// The straight part of a course that lies nearest to a place.
fn nearest_part(course: &[[f64; 2]], [x, y]: [f64; 2]) -> Option<usize> {
    let distance = |pair: &[[f64; 2]]| {
        let [a, b] = [pair[0], pair[1]];
        let [dx, dy] = [b[0] - a[0], b[1] - a[1]];
        let length = (dx * dx + dy * dy).max(1e-12);
        let t = (((x - a[0]) * dx + (y - a[1]) * dy) / length).clamp(0.0, 1.0);
        (a[0] + t * dx - x).hypot(a[1] + t * dy - y)
    };
    let parts = course.windows(2).enumerate().map(|(i, pair)| (i, distance(pair)));
    parts.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(i, _)| i)
}

/// Corners of a course after one straight part was brought to a place at its side; the ends stay, so that a part at an end
/// gets a corner more.
fn shifted(course: &[[f64; 2]], part: usize, to: [f64; 2]) -> Option<Vec<[f64; 2]>> {
    let (a, b) = (*course.get(part)?, *course.get(part + 1)?);
    let is_level = (a[1] - b[1]).abs() <= (a[0] - b[0]).abs();
    let moved = |[x, y]: [f64; 2]| if is_level { [x, to[1]] } else { [to[0], y] };
    let last = course.len() - 1;
    let mut line: Vec<[f64; 2]> = course[..part].to_vec();
    if part == 0 {
        line.push(a);
    }
    line.extend([moved(a), moved(b)]);
    if part + 1 == last {
        line.push(b);
    }
    line.extend(&course[part + 2..]);
    Some(without_straight_corners(&line))
}

/// The corners between the ends of a line that really are corners.
fn without_straight_corners(line: &[[f64; 2]]) -> Vec<[f64; 2]> {
    const SAME: f64 = 1e-9;
    let mut kept: Vec<[f64; 2]> = Vec::new();
    for point in line {
        if kept.last().is_some_and(|last| (last[0] - point[0]).abs() < SAME && (last[1] - point[1]).abs() < SAME) {
            continue;
        }
        if let [.., a, b] = kept.as_slice() {
            let turns = (b[0] - a[0]) * (point[1] - b[1]) - (b[1] - a[1]) * (point[0] - b[0]);
            if turns.abs() < SAME {
                kept.pop();
            }
        }
        kept.push(*point);
    }
    if kept.len() <= 2 {
        return Vec::new();
    }
    kept[1..kept.len() - 1].to_vec()
}

/// Where a pipe ends that is let go at a place on the screen: at a port, on a pipe, on a component's nearest free port, or on
/// the bare sheet.
pub(in super::super) fn pipe_end(
    project: &Project,
    camera: &Camera,
    pos: Pos2,
    snap: Snap,
    from: PortRef,
) -> Option<PipeEnd> {
    match hit::at(project, camera, pos) {
        Hit::Port(port) if port == from => None,
        Hit::Port(port) => Some(PipeEnd::Port(port)),
        Hit::Component(id) if id == from.component => None,
        Hit::Component(id) => {
            let wanted =
                if from.port == Port::Inlet { [Port::Outlet, Port::Inlet] } else { [Port::Inlet, Port::Outlet] };
            hit::free_port(project, id, wanted).map(PipeEnd::Port)
        }
        Hit::Pipe(id, share) => Some(PipeEnd::OnPipe(id, share)),
        Hit::Sheet => Some(PipeEnd::Sheet(snap.place(camera.place(pos)))),
    }
}

#[cfg(test)]
mod tests {
    use super::{shifted, without_straight_corners};

    #[test]
    fn a_part_at_an_end_gets_a_corner_and_a_part_between_slides() {
        let straight = [[0.0, 0.0], [10.0, 0.0]];
        assert_eq!(shifted(&straight, 0, [5.0, 3.0]), Some(vec![[0.0, 3.0], [10.0, 3.0]]));
        let angled = [[0.0, 0.0], [4.0, 0.0], [4.0, 6.0], [10.0, 6.0]];
        assert_eq!(shifted(&angled, 1, [7.0, 2.0]), Some(vec![[7.0, 0.0], [7.0, 6.0]]));
        assert_eq!(shifted(&angled, 3, [7.0, 2.0]), None);
    }

    #[test]
    fn corners_on_a_straight_line_go() {
        let line = [[0.0, 0.0], [2.0, 0.0], [5.0, 0.0], [5.0, 0.0], [5.0, 3.0]];
        assert_eq!(without_straight_corners(&line), vec![[5.0, 0.0]]);
        assert!(without_straight_corners(&[[0.0, 0.0], [2.0, 0.0], [5.0, 0.0]]).is_empty());
    }
}

//! What the hand is doing on the sheet between press and release, and the commands that come of it.

use super::super::camera::Camera;
use super::hit::{self, Hit};
use super::snap::Snap;
use crate::document::{Command, ComponentId, PipeEnd, PipeId, Port, PortRef, Project, course, drawn_aside, part_at};
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
        let part = part_at(&course, at)?;
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
                let bends = drawn_aside(course, *part, snap.place(at))?;
                Some(Command::SetBends(*pipe, bends))
            }
            Self::Pipe(_) | Self::Frame(_) | Self::Pan => None,
        }
    }
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

//! Parting a pipe: what lies before and after a place gets its share of length and loss coefficients.

use super::course::{Place, corners, course, distance, located, tidied};
use super::route::{DIRECTIONS, heading};
use super::{full, refused};
use crate::document::{CommandError, Component, ComponentId, PipeId, PipeRun, PortRef, Project, Turn};

/// A place on a pipe where something fits in.
pub(super) struct Gap {
    /// The middle, on a whole grid step of the segment where it has one.
    pub(super) at: Place,
    /// The direction from the pipe's start to its end there.
    pub(super) turn: Turn,
    segment: usize,
}

/// What a tee needs of a segment on either side of its middle, and what a component with inlet and outlet needs, grid steps.
pub(super) const TEE: f64 = 0.0;
pub(super) const THROUGH: f64 = 1.0;

/// The place on a course at a share of its length for something that needs so much room on either side: moved along its segment
/// to a whole grid step, and to the middle of a segment that is too short.
pub(super) fn gap(course: &[Place], share: f64, room: f64) -> Option<Gap> {
    let (segment, place) = located(course, share)?;
    let (a, b) = (*course.get(segment)?, *course.get(segment + 1)?);
    let length = distance(a, b);
    let turn = DIRECTIONS.into_iter().nth(heading(a, b)).unwrap_or_default();
    if length <= 0.0 {
        return Some(Gap { at: place, turn, segment });
    }
    let axis = heading(a, b) % 2;
    let along = |at: f64| {
        let share = (at - a[axis]) / (b[axis] - a[axis]);
        [0, 1].map(|axis| a[axis] + share * (b[axis] - a[axis]))
    };
    let (least, greatest) = (a[axis].min(b[axis]) + room, a[axis].max(b[axis]) - room);
    let at = if greatest < least {
        along(0.5 * (a[axis] + b[axis]))
    } else {
        let whole = place[axis].round();
        along(if (least..=greatest).contains(&whole) { whole } else { place[axis].max(least).min(greatest) })
    };
    Some(Gap { at, turn, segment })
}

impl Project {
    /// Parts a pipe and joins its parts to two ports of a component that is on the sheet already. The first part keeps identity
    /// and name, both keep the course. Length and the sum of loss coefficients go by the share of drawn length; fittings, and
    /// that sum of a pipe without length, stay with the part that is drawn longer. Gives the second part.
    pub(super) fn part(
        &mut self,
        id: PipeId,
        share: f64,
        gap: &Gap,
        [into, out]: [PortRef; 2],
    ) -> Result<PipeId, CommandError> {
        let second_id = self.new_pipe_id()?;
        let pipe = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        let places = course(self, pipe);
        let (before, after) = places.split_at((gap.segment + 1).min(places.len()));
        let place = |port: PortRef| self.components.get(&port.component)?.port_at(port.port);
        let bends = |course: &[Place], from: PortRef, to: PortRef| -> Option<Vec<Place>> {
            let course: Vec<Place> = [&place(from)?].into_iter().chain(course).chain([&place(to)?]).copied().collect();
            Some(corners(&tidied(&course)))
        };
        let first_bends = bends(before, pipe.from, into).ok_or(CommandError::Missing("port"))?;
        let second_bends = bends(after, out, pipe.to).ok_or(CommandError::Missing("port"))?;
        let length = pipe.length * share;
        let minor_k = match () {
            () if pipe.length > 0.0 => pipe.minor_k * share,
            () if share >= 0.5 => pipe.minor_k,
            () => 0.0,
        };
        // Fittings cannot be divided.
        let (first_fittings, second_fittings) =
            if share >= 0.5 { (pipe.fittings.clone(), Vec::new()) } else { (Vec::new(), pipe.fittings.clone()) };
        let second = PipeRun {
            name: String::new(),
            fittings: second_fittings,
            from: out,
            to: pipe.to,
            length: pipe.length - length,
            minor_k: pipe.minor_k - minor_k,
            bends: second_bends,
            ..pipe.clone()
        };
        let first = PipeRun { to: into, length, minor_k, fittings: first_fittings, bends: first_bends, ..pipe.clone() };
        self.pipes.insert(id, first);
        self.pipes.insert(second_id, second);
        Ok(second_id)
    }

    /// Puts a tee into a pipe.
    pub(super) fn tee_into(
        &mut self,
        id: PipeId,
        share: f64,
        tee: Component,
    ) -> Result<(ComponentId, PipeId), CommandError> {
        let pipe = self.pipes.get(&id).ok_or(CommandError::Missing("pipe"))?;
        let share = checked_share(share)?;
        let gap = gap(&course(self, pipe), share, TEE).ok_or(CommandError::Missing("pipe"))?;
        let tee_id = self.put_on_sheet(Component { at: gap.at, ..tee })?;
        let port = super::branch(tee_id);
        let second = self.part(id, share, &gap, [port, port])?;
        Ok((tee_id, second))
    }

    /// The identity of a new pipe: one more than the greatest there is.
    pub(super) fn new_pipe_id(&self) -> Result<PipeId, CommandError> {
        let last = self.pipes.keys().next_back().map_or(0, |id| id.0);
        last.checked_add(1).map(PipeId).ok_or_else(full)
    }
}

/// A share of a pipe's length.
pub(super) fn checked_share(share: f64) -> Result<f64, CommandError> {
    if (0.0..=1.0).contains(&share) {
        return Ok(share);
    }
    Err(refused(format!("{share} is no share of a pipe's length: choose a place on the pipe")))
}

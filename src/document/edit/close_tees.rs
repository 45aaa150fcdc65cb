//! Closely spaced tees: two tees with next to nothing between them, so that what one circuit moves does not push the water of
//! the other.

use super::STRUCTURE;
use super::course::{course, drawn_length};
use crate::document::{Changed, CommandError, PipeId, Project};

/// How far apart the tees are at most, bores (common practice, from memory: four pipe diameters).
const BORES_APART: f64 = 4.0;
/// How far apart they are drawn, grid steps.
const STEPS_APART: f64 = 2.0;

impl Project {
    /// Puts two closely spaced tees into a pipe. What the pipe had of length and losses beyond the short run between them lies
    /// behind the second.
    pub(super) fn insert_close_tees(&mut self, id: PipeId, share: f64) -> Result<Changed, CommandError> {
        let missing = || CommandError::Missing("pipe");
        let bore = self.pipes.get(&id).ok_or_else(missing)?.bore;
        let (_, between) = self.tee_into(id, share, self.new_tee([0.0, 0.0]))?;
        let drawn = drawn_length(&course(self, self.pipes.get(&between).ok_or_else(missing)?));
        let share = if drawn > 2.0 * STEPS_APART { STEPS_APART / drawn } else { 0.5 };
        let (_, behind) = self.tee_into(between, share, self.new_tee([0.0, 0.0]))?;
        let run = self.pipes.get_mut(&between).ok_or_else(missing)?;
        let length = run.length.min(BORES_APART * bore);
        let (rest, k, fittings) =
            (run.length - length, std::mem::take(&mut run.minor_k), std::mem::take(&mut run.fittings));
        run.length = length;
        let behind = self.pipes.get_mut(&behind).ok_or_else(missing)?;
        behind.length += rest;
        behind.minor_k += k;
        behind.fittings.extend(fittings);
        Ok(STRUCTURE)
    }
}

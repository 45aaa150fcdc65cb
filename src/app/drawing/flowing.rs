//! How far the arrows on the pipes have moved. Each pipe has its own way, added up from its velocity: when that changes the arrows go on
//! from where they are.

use crate::document::PipeId;
use crate::study::{PipeResult, Results};
use std::collections::BTreeMap;

/// Grid steps a second for each metre a second: calm at ordinary velocities, and told apart.
const STEPS_PER_M: f64 = 4.0;
/// Velocity above which arrows move no faster, m/s.
const FASTEST: f64 = 2.0;
/// Velocity of a pipe that has no bore, m/s: an ordinary one (common practice, no source).
const ORDINARY: f64 = 0.4;

/// The ways of all pipes.
#[derive(Debug, Default)]
pub(in super::super) struct Flowing {
    at: BTreeMap<PipeId, f64>,
}

impl Flowing {
    /// Moves all arrows on by some seconds.
    pub(in super::super) fn advance(&mut self, results: &Results, seconds: f64) {
        for (id, pipe) in &results.pipes {
            *self.at.entry(*id).or_default() += seconds * STEPS_PER_M * velocity(pipe);
        }
    }

    /// How far the arrows of a pipe have moved from its start to its end, grid steps.
    pub(in super::super) fn at(&self, id: PipeId) -> f64 {
        self.at.get(&id).copied().unwrap_or_default()
    }
}

fn velocity(pipe: &PipeResult) -> f64 {
    if pipe.velocity.is_finite() {
        pipe.velocity.clamp(-FASTEST, FASTEST)
    } else if pipe.flow.abs() > 0.0 {
        ORDINARY.copysign(pipe.flow)
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pipe(flow: f64, velocity: f64) -> PipeResult {
        PipeResult { flow, drop: 0.0, velocity, reynolds: 0.0, friction_gradient: 0.0 }
    }

    #[test]
    fn arrows_follow_direction_and_speed_and_those_of_a_joint_its_direction() {
        assert_eq!(velocity(&pipe(1e-4, 0.5)), 0.5);
        assert_eq!(velocity(&pipe(-1e-4, -0.5)), -0.5);
        assert_eq!(velocity(&pipe(1e-2, 7.0)), FASTEST);
        assert_eq!(velocity(&pipe(-1e-4, f64::NAN)), -ORDINARY);
        assert_eq!(velocity(&pipe(0.0, f64::NAN)), 0.0);
    }
}

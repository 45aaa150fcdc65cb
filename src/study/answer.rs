//! A document's network and the last answer, without anything drawn: what a study keeps up to date and a sweep asks for.

use super::lower::{LowerError, Lowered};
use super::results::Results;
use super::settle;
use crate::document::{Changed, Project};
use crate::engine::network::Solver;

/// A lowered document with its answer.
#[derive(Clone, Debug)]
pub(super) struct Answer {
    pub(super) lowered: Lowered,
    solver: Solver,
    pub(super) results: Results,
}

impl Answer {
    /// Lowers and solves a document.
    pub(super) fn new(project: &Project) -> Result<Self, LowerError> {
        let mut lowered = Lowered::new(project)?;
        let mut solver = Solver::new(&lowered.network);
        let settled = settle::settle(project, &mut lowered, &mut solver, false);
        let results = Results::new(project, &lowered, solver.outcome(), &settled);
        Ok(Self { lowered, solver, results })
    }

    /// Follows a change of the document, from the last answer where the drawing is the same.
    pub(super) fn follow(&mut self, project: &Project, changed: Changed) -> Result<(), LowerError> {
        if changed.structure {
            *self = Self::new(project)?;
            return Ok(());
        }
        if changed.laws {
            self.lowered.take_laws(project);
        }
        if changed.settings {
            self.lowered.take_settings(project)?;
        }
        if changed.moves_water() {
            let settled = settle::settle(project, &mut self.lowered, &mut self.solver, !changed.laws);
            self.results.take(project, &self.lowered, self.solver.outcome(), &settled);
        }
        Ok(())
    }
}

//! When the caution before the first run is told: once for a document that is opened with a circulator running, and once each
//! time that one begins to run, by a start, by being drawn, or by undo and redo, as long as the system is not released. The next
//! change of anything else takes it away.

use super::Window;
use crate::document::{ComponentId, Project};
use std::collections::BTreeSet;

impl Window {
    /// Tells it for a document that begins.
    pub(super) fn begin_first_run(&mut self) {
        self.first_run = is_due(self.desk.project());
    }

    /// The circulators that run.
    pub(super) fn running(&self) -> BTreeSet<ComponentId> {
        self.desk.project().pumps().filter(|(_, unit)| unit.running).map(|(id, _)| id).collect()
    }

    /// Follows a change of the document, from the circulators that ran before it.
    pub(super) fn follow_first_run(&mut self, ran: &BTreeSet<ComponentId>) {
        let starts = !self.running().is_subset(ran);
        self.first_run = starts && is_due(self.desk.project());
    }
}

/// Whether something runs that is not released to.
fn is_due(project: &Project) -> bool {
    !project.starting.is_released() && project.pumps().any(|(_, unit)| unit.running)
}

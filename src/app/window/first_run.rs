//! When the caution before the first run is told: once for a document that is opened with a circulator running, and once each
//! time that one is started, as long as the system is not released. The next change of anything else takes it away.

use super::Window;
use crate::document::{Command, Project};

impl Window {
    /// Tells it for a document that begins.
    pub(super) fn begin_first_run(&mut self) {
        self.first_run = is_due(self.desk.project());
    }

    /// Follows commands that changed the document.
    pub(super) fn follow_first_run(&mut self, commands: &[Command]) {
        let starts = commands.iter().any(|command| matches!(command, Command::SetRunning(_, true)));
        self.first_run = starts && is_due(self.desk.project());
    }
}

/// Whether something runs that is not released to.
fn is_due(project: &Project) -> bool {
    !project.starting.is_released() && project.pumps().any(|(_, unit)| unit.running)
}

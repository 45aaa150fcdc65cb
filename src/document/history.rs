//! Undo and redo by snapshots. A drag gives many commands and one step: [`History::record`] is called when the hand lets go.

use super::Project;
use std::sync::Arc;

/// The document's past and undone future.
#[derive(Clone, Debug)]
pub struct History {
    /// Snapshots, each with the name of the change that led away from it.
    past: Vec<(String, Arc<Project>)>,
    future: Vec<(String, Arc<Project>)>,
    recorded: Arc<Project>,
}

impl History {
    /// Begins with a document as it was opened.
    #[must_use]
    pub fn new(project: &Project) -> Self {
        Self { past: Vec::new(), future: Vec::new(), recorded: Arc::new(project.clone()) }
    }

    /// Takes the present document as the end of a step named `what`; nothing happens if it is as last recorded.
    pub fn record(&mut self, what: &str, project: &Project) {
        if *self.recorded != *project {
            let before = std::mem::replace(&mut self.recorded, Arc::new(project.clone()));
            self.past.push((what.to_owned(), before));
            self.future.clear();
        }
    }

    /// The document before the last step.
    pub fn undo(&mut self) -> Option<Arc<Project>> {
        let (what, before) = self.past.pop()?;
        let after = std::mem::replace(&mut self.recorded, Arc::clone(&before));
        self.future.push((what, after));
        Some(before)
    }

    /// The document after the last undone step.
    pub fn redo(&mut self) -> Option<Arc<Project>> {
        let (what, after) = self.future.pop()?;
        let before = std::mem::replace(&mut self.recorded, Arc::clone(&after));
        self.past.push((what, before));
        Some(after)
    }

    /// Name of the step that undo would take back.
    #[must_use]
    pub fn undo_name(&self) -> Option<&str> {
        self.past.last().map(|(what, _)| what.as_str())
    }

    /// Name of the step that redo would bring back.
    #[must_use]
    pub fn redo_name(&self) -> Option<&str> {
        self.future.last().map(|(what, _)| what.as_str())
    }

    /// The document as last recorded.
    #[must_use]
    pub fn recorded(&self) -> &Project {
        &self.recorded
    }

    /// The same, to be shared: another one after each step.
    #[must_use]
    pub fn snapshot(&self) -> &Arc<Project> {
        &self.recorded
    }
}

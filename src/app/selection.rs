//! What is selected on the drawing. It lives in the window, never in the document, and forgets what is gone.

use crate::document::{ComponentId, PipeId, Project};
use std::collections::BTreeSet;

/// What is selected on the drawing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Selection {
    /// Components.
    pub components: BTreeSet<ComponentId>,
    /// Pipe runs.
    pub pipes: BTreeSet<PipeId>,
}

impl Selection {
    /// One component alone.
    #[must_use]
    pub fn component(id: ComponentId) -> Self {
        Self { components: BTreeSet::from([id]), ..Self::default() }
    }

    /// One pipe alone.
    #[must_use]
    pub fn pipe(id: PipeId) -> Self {
        Self { pipes: BTreeSet::from([id]), ..Self::default() }
    }

    /// Everything on the drawing.
    #[must_use]
    pub fn all(project: &Project) -> Self {
        Self {
            components: project.components.keys().copied().collect(),
            pipes: project.pipes.keys().copied().collect(),
        }
    }

    /// Whether nothing is selected.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.components.is_empty() && self.pipes.is_empty()
    }

    /// The one component that is selected, if it is the only thing.
    #[must_use]
    pub fn only_component(&self) -> Option<ComponentId> {
        let one = self.components.len() == 1 && self.pipes.is_empty();
        one.then(|| self.components.first().copied()).flatten()
    }

    /// Adds a component, or takes it out if it is in.
    pub fn toggle_component(&mut self, id: ComponentId) {
        if !self.components.remove(&id) {
            self.components.insert(id);
        }
    }

    /// Adds a pipe, or takes it out if it is in.
    pub fn toggle_pipe(&mut self, id: PipeId) {
        if !self.pipes.remove(&id) {
            self.pipes.insert(id);
        }
    }

    /// Forgets what the project no longer has.
    pub fn forget_missing(&mut self, project: &Project) {
        self.components.retain(|id| project.components.contains_key(id));
        self.pipes.retain(|id| project.pipes.contains_key(id));
    }
}

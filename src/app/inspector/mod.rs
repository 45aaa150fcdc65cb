//! The inspector.

use super::selection::Selection;
use super::view::{Intent, View};

/// What the inspector remembers.
#[derive(Debug, Default)]
pub(super) struct InspectorState {}

/// Shows it.
pub(super) fn show(
    ui: &mut egui::Ui,
    view: &View<'_>,
    selection: &Selection,
    state: &mut InspectorState,
    intents: &mut Vec<Intent>,
) {
    let _ = (ui, view, selection, state, intents);
}

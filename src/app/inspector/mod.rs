//! The inspector: the figures of what is selected on the drawing, to be seen and set; of the project where nothing is.
//!
//! - `form`, `number`, `text`, `picks`: rows of labels and fields, lists to pick from;
//! - `project`, `site`, `fluid`, `limits`, `uncertainty`, `scenarios`, `energy`, `zone_list`: what is shown while nothing is selected;
//! - `making` with `weather`: scenarios made out of load profiles, hours by temperature and combinations;
//! - `component` with `figures` (plain numbers by kind), `kv`, `valve`, `emitter`, `zone`, `branch`, `pump`, `on_site`,
//!   `catalogue`, `now`;
//! - `pipe`, `sizes`, `fittings`, `pipes`: one pipe, its choice of sizes, its fittings, several pipes; `several`: several components.

#[cfg(test)]
mod bench;
mod catalogue;
mod component;
#[cfg(test)]
mod component_tests;
mod emitter;
mod energy;
mod figures;
mod fittings;
mod fluid;
mod form;
mod kv;
mod limits;
mod making;
#[cfg(test)]
mod making_tests;
mod now;
mod number;
mod on_site;
mod paste;
mod picks;
mod pipe;
#[cfg(test)]
mod pipe_tests;
mod pipes;
mod project;
#[cfg(test)]
mod project_tests;
mod pump;
#[cfg(test)]
mod reach_tests;
mod scenarios;
mod several;
mod site;
mod sizes;
mod terms;
mod text;
mod uncertainty;
mod valve;
mod weather;
mod zone;
mod zone_list;

use super::look::STEP;
use super::selection::Selection;
use super::view::{Intent, ProjectPart, View};
use super::written::Written;
use crate::document::Command;
use crate::engine::pipes::PipeSeries;
use egui::{self, Id, ScrollArea, Ui};
use form::Form;

/// What the inspector remembers between passes: what is half typed and half chosen.
#[derive(Debug, Default)]
pub(super) struct InspectorState {
    /// The text that is being typed.
    written: Written,
    /// The series that was chosen last, and for what.
    series: Option<(Id, &'static PipeSeries)>,
    /// Catalogue points to be read.
    paste: Option<paste::Paste>,
    /// Scenarios to be made.
    making: Option<making::Making>,
    /// The part of the project's figures to be brought into sight.
    wanted: Option<ProjectPart>,
    /// The selection that was shown last.
    seen: Option<Selection>,
    /// Why what was typed last is not taken, told beside its field; of this selection.
    refused: Option<String>,
    /// Why the date of the design that was typed last is not taken.
    refused_date: Option<String>,
}

impl InspectorState {
    /// Brings a part of the project's figures into sight from the next pass on.
    pub(super) fn bring(&mut self, part: ProjectPart) {
        self.wanted = Some(part);
    }
}

/// Shows the figures of what is selected.
pub(super) fn show(
    ui: &mut Ui,
    view: &View<'_>,
    selection: &Selection,
    state: &mut InspectorState,
    intents: &mut Vec<Intent>,
) {
    let mut area = ScrollArea::vertical().id_salt("inspector").auto_shrink([false, false]);
    if state.seen.as_ref() != Some(selection) {
        state.seen = Some(selection.clone());
        state.refused = None;
        state.refused_date = None;
        // What is shown anew is shown from its beginning.
        area = area.vertical_scroll_offset(0.0);
    }
    area.show(ui, |ui| {
        // Room for the bar that scrolls.
        ui.set_max_width((ui.available_width() - 2.0 * STEP).max(200.0));
        ui.spacing_mut().item_spacing.y = STEP;
        // Texts and numbers lie on one ground.
        ui.visuals_mut().text_edit_bg_color = Some(view.palette.raised);
        let components = || selection.components.iter().copied().filter(|id| view.project.components.contains_key(id));
        let pipes = || selection.pipes.iter().copied().filter(|id| view.project.pipes.contains_key(id));
        let (mut one, mut run) = (components(), pipes());
        let subject = Id::unique(("inspector", components().next(), pipes().next()));
        let mut form = Form { ui, view, state, intents, subject };
        match (one.next(), one.next(), run.next(), run.next()) {
            (None, _, None, _) => project::show(&mut form),
            (Some(id), None, None, _) => component::show(&mut form, id),
            (None, _, Some(id), None) => pipe::show(&mut form, id),
            (None, _, Some(_), Some(_)) => {
                pipes::show(&mut form, &pipes().collect());
                remove(&mut form, selection);
            }
            (Some(_), ..) => {
                several::show(&mut form, &components().collect(), &pipes().collect());
                remove(&mut form, selection);
            }
        }
        ui.add_space(2.0 * STEP);
    });
}

/// A button that deletes everything selected.
fn remove(form: &mut Form<'_, '_>, selection: &Selection) {
    form.ui.add_space(STEP);
    if form.buttons("delete all", &[("Delete all", "Takes what is selected away (Del)")]).is_some() {
        form.change(Command::RemoveParts(selection.components.clone(), selection.pipes.clone()));
    }
}

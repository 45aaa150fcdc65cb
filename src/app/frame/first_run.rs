//! The caution before the first run: one calm line where a circulator runs in a system that is not released, with a way to the
//! checklist.

use super::super::look::STEP;
use super::super::view::{Below, Intent, View};
use crate::study::{Occasion, cautions};
use egui::{Label, RichText, Ui};

/// Shows the line; on it lie all cautions of the occasion.
pub(super) fn first_run(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let told = cautions(view.project, Occasion::BeforeFirstRun);
    let Some(first) = told.first() else { return };
    let all: Vec<&str> = told.iter().map(|caution| caution.text.as_str()).collect();
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0 * STEP;
        if ui.link("Checklist").on_hover_text("Shows the steps before a circulator runs: fill, vent, release").clicked()
        {
            intents.push(Intent::ShowBelow(Below::StartUp));
        }
        let words = RichText::new(format!("Before the first run: {}", lower(&first.text))).color(view.palette.ink);
        ui.add(Label::new(words).truncate()).on_hover_text(all.join("\n\n"));
    });
}

/// A sentence that goes on behind a colon.
fn lower(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

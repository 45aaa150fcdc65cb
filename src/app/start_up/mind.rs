//! The cautions beside the checklist: those of the next step are open, all others are a line that opens on a click.

use super::super::look::{self, STEP, size};
use super::super::view::View;
use crate::document::{Starting, StartingStep};
use crate::study::{Hazard, Occasion, cautions};
use egui::{self, Button, Label, RichText, Ui};

/// Shows them.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, open: &mut Option<Hazard>) {
    ui.spacing_mut().item_spacing.y = 0.5 * STEP;
    ui.spacing_mut().interact_size.y = 18.0;
    let next = next(&view.project.starting);
    for caution in cautions(view.project, Occasion::Checklist) {
        let is_next = next.is_some_and(|step| caution.hazard.steps().contains(&step));
        // What stands above all others is always told.
        let is_told = is_next || caution.hazard == Hazard::Practice || *open == Some(caution.hazard);
        if caution.hazard != Hazard::Practice {
            let color = if is_next { view.palette.starved } else { view.palette.ink };
            let words = RichText::new(caution.heading).font(look::strong(size::SMALL)).color(color);
            let heading = ui.add(Button::new(words).frame(false)).on_hover_text(&caution.text);
            if heading.clicked() {
                *open = if *open == Some(caution.hazard) { None } else { Some(caution.hazard) };
            }
        }
        if is_told {
            let color = if is_next { view.palette.ink } else { view.palette.quiet };
            ui.add(Label::new(RichText::new(&caution.text).size(size::SMALL).color(color)).wrap());
            ui.add_space(STEP);
        }
    }
}

/// The next step that is to be done.
fn next(starting: &Starting) -> Option<StartingStep> {
    StartingStep::ALL.into_iter().find(|step| !starting.is_done(*step))
}

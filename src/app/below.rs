//! What stands below the drawing while tuning: a row of words to choose from.

use super::view::{Below, Intent, View};
use egui::Ui;

/// Height that the row takes, points.
pub(super) const HEIGHT: f32 = 30.0;

/// What can stand there: its word, and what it is.
const CHOICES: [(Below, &str, &str); 2] = [
    (Below::Zones, "Zones", "Flow and heat of every zone"),
    (Below::HeadPath, "Head path", "Where the pump's head goes on a zone's way round"),
];

/// Shows the row.
pub(super) fn choose(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (below, word, hint) in CHOICES {
            if ui.selectable_label(view.below == below, word).on_hover_text(hint).clicked() {
                intents.push(Intent::ShowBelow(below));
            }
        }
    });
}

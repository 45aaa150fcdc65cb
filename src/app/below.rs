//! What stands in the large pane while tuning, and what below it: rows of words to choose from.

use super::view::{Above, Below, Intent, View};
use egui::Ui;

/// What can stand there: its word, and what it is.
const CHOICES: [(Below, &str, &str); 5] = [
    (Below::Zones, "Zones", "Flow and heat of every zone"),
    (Below::Margins, "Margins", "The least and the greatest that every zone gets over all scenarios"),
    (Below::HeadPath, "Head path", "Where the pump's head goes on a zone's way round"),
    (Below::Year, "Year", "Energy, money and CO₂ of a year, and the energy efficiency index"),
    (Below::Variants, "Variants", "Settings pinned under a name, beside the present ones"),
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

/// What can stand in the large pane: its word, and what it is.
const ABOVE: [(Above, &str, &str); 2] = [
    (Above::Drawing, "Drawing", "The system, live"),
    (Above::Map, "Map of settings", "Which settings serve every zone in every scenario, and which of them costs least"),
];

/// Shows the row over the large pane.
pub(super) fn choose_above(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (above, word, hint) in ABOVE {
            if ui.selectable_label(view.above == above, word).on_hover_text(hint).clicked() {
                intents.push(Intent::ShowAbove(above));
            }
        }
    });
}

//! What stands in the large pane while tuning, and what below it: rows of words to choose from. While drawing there is less to
//! choose: the zones, the checklist of starting up, the register.

use super::view::{Above, Below, Intent, View, Work};
use egui::Ui;

/// What can stand there: its word, and what it is.
const CHOICES: [(Below, &str, &str); 7] = [
    (Below::Zones, "Zones", "Flow and heat of every zone"),
    (Below::Margins, "Margins", "The least and the greatest that every zone gets over all scenarios"),
    (Below::HeadPath, "Head path", "Where the pump's head goes on a zone's way round"),
    (Below::Year, "Year", "Energy, money and CO₂ of a year, and the energy efficiency index"),
    (Below::Variants, "Variants", "Settings pinned under a name, beside the present ones"),
    (Below::StartUp, "Start-up", "Fill, vent, release: the checklist before a circulator runs, with its cautions"),
    (Below::Register, "Register", "Name, position, address, serial number, supply and wiring of every circulator"),
];

/// Shows the row.
pub(super) fn choose(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        let offered = |below: &Below| view.work == Work::Tune || *below == below.while_drawing();
        for (below, word, hint) in CHOICES.into_iter().filter(|(below, ..)| offered(below)) {
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

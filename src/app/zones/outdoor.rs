//! The weather: the outdoor temperature now, which thermostatic valves follow. Shown where one serves a zone.

use super::super::typed::Typed;
use super::super::view::{Intent, View};
use crate::document::Command;
use crate::engine::units::Quantity;
use egui::{RichText, Ui};

/// Coldest and warmest that can be typed, °C.
const RANGE_C: (f64, f64) = (-50.0, 40.0);

/// Shows the field, and a way back to the design's temperature where it is another.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let Some(design_c) = view.project.design.outdoor_c else { return };
    if view.results.zones.values().all(|zone| zone.room_c.is_none()) {
        return;
    }
    let present_c = view.project.outdoor_now_c.unwrap_or(design_c);
    let label = ui.label(RichText::new("Outdoors").color(view.palette.quiet));
    let hint = "The outdoor temperature now. Rooms lose heat by it, and thermostatic valves throttle.";
    let mut set_c = present_c;
    let shown = view.units.format(Quantity::Temperature, present_c);
    let typed = Typed::new(view.units, Quantity::Temperature, present_c, shown, RANGE_C);
    if ui.add(typed.field(&mut set_c).speed(0.1)).labelled_by(label.id).on_hover_text(hint).changed() {
        intents.push(Intent::Change(Command::SetOutdoor(Some(set_c))));
    }
    intents.extend(typed.complaint("Outdoors").map(Intent::Reject));
    if present_c != design_c {
        let design = view.units.format(Quantity::Temperature, design_c);
        if ui.button("Design").on_hover_text(format!("Back to the design's {design}")).clicked() {
            intents.push(Intent::Change(Command::SetOutdoor(None)));
        }
    }
}

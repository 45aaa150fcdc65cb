//! What fixes the reference flow, and the slowest turning.

use super::super::look::size;
use super::super::view::{Intent, View};
use crate::document::{Command, ComponentId, PumpUnit};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::Quantity;
use egui::{ComboBox, DragValue, RichText, Ui};

/// Shows the row.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, id: ComponentId, unit: &PumpUnit, intents: &mut Vec<Intent>) {
    let units = view.units;
    let now = unit.regulation.reference;
    let present = view.pump_result().and_then(|pump| pump.reference_flow);
    ui.horizontal(|ui| {
        let label = ui.label(RichText::new("Reference flow").color(view.palette.quiet)).on_hover_text(
            "Where the set-line reaches the head limit. At full speed it stands still when the cap moves; \
             at capped speed it moves with the cap; a design flow is typed.",
        );
        let combo = ComboBox::from_id_salt("reference flow").selected_text(word(now)).width(130.0).show_ui(ui, |ui| {
            let design = present.unwrap_or_else(|| total_design_flow(view));
            for choice in [ReferenceFlow::FullSpeed, ReferenceFlow::CappedSpeed, ReferenceFlow::DesignFlow(design)] {
                let same = std::mem::discriminant(&choice) == std::mem::discriminant(&now);
                if ui.selectable_label(same, word(choice)).clicked() && !same {
                    let choice = match choice {
                        ReferenceFlow::DesignFlow(_) => ReferenceFlow::DesignFlow(total_design_flow(view)),
                        other => other,
                    };
                    intents.push(Intent::Change(Command::SetReferenceFlow(id, choice)));
                }
            }
        });
        combo.response.labelled_by(label.id);
        match (now, present) {
            (ReferenceFlow::DesignFlow(flow), _) => {
                let mut flow = flow;
                let field = DragValue::new(&mut flow)
                    .speed(0.002 * total_design_flow(view).max(1e-6))
                    .range(1e-7..=1.0)
                    .update_while_editing(false)
                    .custom_formatter(|value, _| units.format(Quantity::Flow, value))
                    .custom_parser(|text| units.parse(Quantity::Flow, text).ok());
                if ui.add(field).labelled_by(label.id).changed() {
                    intents.push(Intent::Change(Command::SetReferenceFlow(id, ReferenceFlow::DesignFlow(flow))));
                }
            }
            (_, Some(flow)) => {
                ui.label(units.format(Quantity::Flow, flow));
            }
            (_, None) => {
                ui.label(RichText::new("never reached: the cap alone rules").size(size::SMALL));
            }
        }
        ui.add_space(10.0);
        let label = ui
            .label(RichText::new("Minimum speed").color(view.palette.quiet))
            .on_hover_text("The motor's slowest turning while it runs.");
        let mut speed = unit.regulation.minimum_speed;
        let field = DragValue::new(&mut speed)
            .speed(0.002)
            .range(0.0..=unit.regulation.speed_cap)
            .update_while_editing(false)
            .custom_formatter(|value, _| units.format(Quantity::Speed, value))
            .custom_parser(|text| units.parse(Quantity::Speed, text).ok());
        if ui.add(field).labelled_by(label.id).changed() {
            intents.push(Intent::Change(Command::SetMinimumSpeed(id, speed)));
        }
    });
}

fn word(reference: ReferenceFlow) -> &'static str {
    match reference {
        ReferenceFlow::FullSpeed => "at full speed",
        ReferenceFlow::CappedSpeed => "at capped speed",
        ReferenceFlow::DesignFlow(_) => "design flow",
    }
}

/// Sum of all zones' design flows.
fn total_design_flow(view: &View<'_>) -> f64 {
    view.results.zones.values().map(|zone| zone.design_flow).sum()
}

//! The settings of the pump in hand: three large numbers that can be typed, dragged and stepped, the one that governs marked
//! by a word; below them what fixes the reference flow, and the minimum speed.

mod figure;
mod reference;

use super::look::{self, STEP, size};
use super::view::{Intent, View};
use crate::document::Command;
use crate::engine::pump::GoverningLimit;
use crate::engine::units::Quantity;
use egui::{self, RichText, Ui};
use figure::Figure;

/// Shows the settings.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let (Some(id), Some(unit), Some(result)) = (view.pump, view.unit(), view.pump_result()) else {
        ui.label("No circulator.");
        return;
    };
    pump_row(ui, view, intents);
    let regulation = unit.regulation;
    let governs = result.governing;
    let palette = view.palette;
    let limit = regulation.head_limit_m.unwrap_or(0.0);
    let most_head = view.curves().map_or(limit, |curves| curves.frame[1]);
    ui.columns(3, |columns| {
        let head = Figure {
            name: "Head limit",
            quantity: Quantity::Head,
            value: limit,
            step: unit.steps.head_limit,
            range: unit.steps.head_limit..=most_head.max(limit),
            color: palette.head_limit,
            governs: governs == Some(GoverningLimit::HeadLimit),
            hint: "The most head that the pump may give.",
        };
        if let Some(value) = head.show(&mut columns[0], view) {
            intents.push(Intent::Change(Command::SetHeadLimit(id, Some(value))));
        }
        let slope = Figure {
            name: "Slope",
            quantity: Quantity::Share,
            value: regulation.slope,
            step: unit.steps.slope,
            range: 0.0..=1.0,
            color: palette.slope,
            governs: governs == Some(GoverningLimit::SetLine),
            hint: "How far the set-line has fallen at zero flow, as a share of the head limit; 0 % is constant pressure.",
        };
        if let Some(value) = slope.show(&mut columns[1], view) {
            intents.push(Intent::Change(Command::SetSlope(id, value)));
        }
        let cap = Figure {
            name: "Speed cap",
            quantity: Quantity::Share,
            value: regulation.speed_cap,
            step: unit.steps.speed_cap,
            range: regulation.minimum_speed.max(0.05)..=1.0,
            color: palette.cap,
            governs: governs == Some(GoverningLimit::SpeedCap),
            hint: "The pump never runs faster than this share of its full speed.",
        };
        if let Some(value) = cap.show(&mut columns[2], view) {
            intents.push(Intent::Change(Command::SetSpeedCap(id, value)));
        }
    });
    ui.add_space(STEP);
    reference::show(ui, view, id, unit, intents);
    ui.add_space(STEP);
}

/// Which pump is in hand, and what it does now: in one row, or two where there are pumps to choose from.
fn pump_row(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let several = view.project.pumps().count() > 1;
    ui.horizontal(|ui| {
        for (id, _) in view.project.pumps() {
            let name = view.project.components.get(&id).map_or("", |c| c.name.as_str());
            let in_hand = view.pump == Some(id);
            let text = RichText::new(name).font(look::strong(size::BODY));
            if !several {
                ui.label(text);
            } else if ui.selectable_label(in_hand, text).clicked() && !in_hand {
                intents.push(Intent::TakeInHand(id));
            }
        }
        if !several {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| doing(ui, view));
        } else if let (Some(id), Some(unit)) = (view.pump, view.unit()) {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let word = if unit.running { "Stop" } else { "Start" };
                if ui.button(word).on_hover_text("Start or stop the pump in hand in this study").clicked() {
                    intents.push(Intent::Change(Command::SetRunning(id, !unit.running)));
                }
            });
        }
    });
    if several {
        doing(ui, view);
    }
}

fn doing(ui: &mut Ui, view: &View<'_>) {
    let units = view.units;
    let text = match view.pump_result() {
        Some(pump) if pump.running => format!(
            "{} · {} · {} · {} wire to water",
            units.format(Quantity::Speed, pump.speed),
            units.format(Quantity::RotationalSpeed, pump.speed_rpm),
            units.format(Quantity::Power, pump.electric_w),
            units.format(Quantity::Share, pump.wire_to_water),
        ),
        _ => "stands still".to_owned(),
    };
    ui.label(RichText::new(text).color(view.palette.quiet));
}

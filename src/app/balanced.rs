//! What balancing has set: the index circuit, the head it needs, and the presetting of every valve.

use super::desk::Desk;
use super::look::{self, STEP, size};
use super::view::Intent;
use crate::document::{Command, ComponentKind, PumpUnit, stand_in};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};
use crate::study::sizing::Balance;
use egui::{self, Grid, Key, RichText, ScrollArea, Ui};

/// The list, while it is open.
#[derive(Debug, Default)]
pub(super) struct BalancedList {
    balance: Option<Balance>,
}

impl BalancedList {
    /// Opens it on a balance that has been written to the valves.
    pub(super) fn open(&mut self, balance: Balance) {
        self.balance = Some(balance);
    }

    /// Shows it while it is open.
    pub(super) fn show(&mut self, ctx: &egui::Context, desk: &Desk, units: &Units, intents: &mut Vec<Intent>) {
        let Some(balance) = &self.balance else { return };
        let mut close = ctx.input(|i| i.key_pressed(Key::Escape));
        let modal = look::modal(ctx, "balanced").show(ctx, |ui| {
            ui.set_width(640.0);
            ui.label(RichText::new("Balanced").font(look::strong(size::LEAD)));
            summary(ui, desk, balance, units);
            ui.add_space(STEP);
            ScrollArea::vertical().max_height(360.0).show(ui, |ui| presettings(ui, desk, balance, units));
            ui.add_space(2.0 * STEP);
            ui.horizontal(|ui| {
                head_limit_button(ui, desk, balance, units, intents);
                stand_in_button(ui, desk, balance, intents);
                close |= ui.button("Close").clicked();
            });
        });
        if close || modal.should_close() {
            self.balance = None;
        }
    }
}

fn summary(ui: &mut Ui, desk: &Desk, balance: &Balance, units: &Units) {
    let index = desk.project().zones.get(&balance.index).map_or("", |zone| zone.name.as_str());
    let head = units.format(Quantity::Head, balance.head_m);
    let flow = units.format(Quantity::Flow, balance.flow);
    let count = balance.presettings.len();
    ui.label(format!(
        "{index} is the index circuit: it needs {head} at {flow} with all zones open, and its valves stay fully open. {count} \
         balancing valves were set; undo takes all of it back."
    ));
    for (zone, spare) in &balance.unbalanced {
        let name = desk.project().zones.get(zone).map_or("", |zone| zone.name.as_str());
        let spare = units.format(Quantity::Pressure, *spare);
        ui.label(format!(
            "{name} has {spare} to spare that no valve of its own can take: put a balancing valve there."
        ));
    }
}

fn presettings(ui: &mut Ui, desk: &Desk, balance: &Balance, units: &Units) {
    Grid::new("presettings").num_columns(5).striped(true).spacing([18.0, 5.0]).show(ui, |ui| {
        for heading in ["Valve", "Kv", "Flow", "Takes", ""] {
            ui.label(RichText::new(heading).size(size::SMALL));
        }
        ui.end_row();
        for set in &balance.presettings {
            let name = desk.project().components.get(&set.valve).map_or("", |c| c.name.as_str());
            ui.label(name);
            ui.label(units.format(Quantity::FlowCoefficient, set.rounded_kv()));
            ui.label(units.format(Quantity::Flow, set.flow));
            ui.label(units.format(Quantity::Pressure, set.drop));
            ui.label(if set.is_open { "fully open" } else { "" });
            ui.end_row();
        }
    });
}

/// A circulator that does not suit can be exchanged for an invented one that does, until a real one is chosen.
fn stand_in_button(ui: &mut Ui, desk: &Desk, balance: &Balance, intents: &mut Vec<Intent>) {
    let project = desk.project();
    let Some((id, unit)) = desk.pump().and_then(|id| Some((id, project.pump(id)?))) else { return };
    let Ok(water) = project.design.properties(&project.fluid) else { return };
    let duty = stand_in(balance.flow, balance.head_m, water.density_kg_per_m3);
    let limit = (balance.head_m / duty.steps.head_limit - 1e-9).ceil() * duty.steps.head_limit;
    let regulation = Regulation { head_limit_m: Some(limit), ..duty.regulation };
    let (address, register) = (unit.address.clone(), unit.register.clone());
    let wanted = PumpUnit { address, register, regulation, ..duty };
    let hint = "Gives it an invented curve of ample size for this flow and head, held at that head, until a real one is chosen";
    let button = ui.add_enabled(wanted != *unit, egui::Button::new("Invented circulator for this duty"));
    if button.on_hover_text(hint).clicked() {
        intents.push(Intent::Change(Command::SetKind(id, Box::new(ComponentKind::Pump(Box::new(wanted))))));
    }
}

/// The balance holds at its head: the pump's limit can follow with one click.
fn head_limit_button(ui: &mut Ui, desk: &Desk, balance: &Balance, units: &Units, intents: &mut Vec<Intent>) {
    let Some((id, unit)) = desk.pump().and_then(|id| Some((id, desk.project().pump(id)?))) else { return };
    let step = unit.steps.head_limit;
    let head = (balance.head_m / step - 1e-9).ceil() * step;
    let is_set = unit.regulation.head_limit_m.is_some_and(|limit| (limit - head).abs() < 1e-9);
    let name = desk.project().components.get(&id).map_or("", |c| c.name.as_str());
    let word = format!("Set the head limit of {name} to {}", units.format(Quantity::Head, head));
    if ui.add_enabled(!is_set, egui::Button::new(word)).clicked() {
        intents.push(Intent::Change(Command::SetHeadLimit(id, Some(head))));
    }
}

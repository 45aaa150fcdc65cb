//! One component: what it is, its name, what can be done with it, its figures, and what it does now.

use super::super::frame::capital;
use super::super::look::{self, size};
use super::super::view::Intent;
use super::figures::{Figure, figures};
use super::form::Form;
use super::number::{Measure, Number};
use super::{emitter, kv, now, pump, valve, zone};
use crate::document::{Command, Component, ComponentId, ComponentKind, Source};
use crate::engine::units::Quantity;
use egui::RichText;
use std::collections::BTreeSet;

/// Heights that can be typed, m.
const HEIGHT: (f64, f64) = (-1000.0, 1000.0);
/// Supply temperatures that can be typed, °C.
const SUPPLY: (f64, f64) = (-50.0, 250.0);
/// Pressures of a vessel that can be typed, Pa above the air around.
const VESSEL: (f64, f64) = (0.0, 2.5e6);

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId) {
    let project = form.view.project;
    let Some(component) = project.components.get(&id) else { return };
    heading(form, &capital(component.kind_name()));
    if let Some(name) = form.name("Name", "Unlike all other names of components.", &component.name, "") {
        form.change(Command::Rename(id, name));
    }
    buttons(form, id, component);
    form.ui.separator();
    for figure in figures(&component.kind) {
        number(form, id, &component.kind, figure);
    }
    match &component.kind {
        ComponentKind::Pump(unit) => pump::show(form, id, unit),
        ComponentKind::Emitter(of) => {
            emitter::show(form, id, of);
            zone::show(form, id);
        }
        ComponentKind::ControlValve { characteristic, .. } => valve::show(form, id, &component.kind, *characteristic),
        ComponentKind::Junction => form.note("Up to four pipes meet here without a pressure drop of its own."),
        ComponentKind::PressureGauge => form.note("It reads the pressure where it hangs; no water flows to it."),
        ComponentKind::Thermometer => form.note("It reads the temperature of the water; none flows to it."),
        ComponentKind::ExpansionVessel { pressure } => vessel(form, id, *pressure),
        ComponentKind::ThreeWayValve(of) => valve::three_way(form, id, of),
        ComponentKind::Source(of) => source(form, id, of),
        ComponentKind::ZoneValve { .. }
        | ComponentKind::ThermostaticValve { .. }
        | ComponentKind::BalancingValve { .. }
        | ComponentKind::PressureIndependentValve { .. }
        | ComponentKind::BypassValve { .. }
        | ComponentKind::CheckValve { .. }
        | ComponentKind::Strainer { .. }
        | ComponentKind::IsolationValve { .. }
        | ComponentKind::FlowMeter { .. }
        | ComponentKind::Separator { .. } => {}
    }
    let hint = "Height above the datum of the building; only pressures ask for it.";
    if let Some(height) = form.number("Height", hint, Measure::Of(Quantity::Length), component.height, HEIGHT) {
        form.change(Command::SetHeight(id, height));
    }
    now::show(form, id, component);
}

/// A source may give water of another temperature than the design's.
fn source(form: &mut Form<'_, '_>, id: ComponentId, of: &Source) {
    let hint = "Temperature of the water that it gives; without one the design's supply temperature.";
    let measure = Measure::Of(Quantity::Temperature);
    let start = (form.view.project.design.supply_c, "the design's");
    if let Some(supply_c) = form.optional(("Own supply", hint), measure, of.supply_c, start, SUPPLY) {
        form.change(Command::SetKind(id, Box::new(ComponentKind::Source(Source { supply_c, ..of.clone() }))));
    }
}

/// The one place of known pressure.
fn vessel(form: &mut Form<'_, '_>, id: ComponentId, pressure: Option<f64>) {
    let hint = "Pressure at its connection above that of the air around: give the lowest, that of the cold system.";
    let (start, measure) = ((1.5e5, "not known"), Measure::Of(Quantity::Pressure));
    if let Some(pressure) = form.optional(("Pressure", hint), measure, pressure, start, VESSEL) {
        form.change(Command::SetKind(id, Box::new(ComponentKind::ExpansionVessel { pressure })));
    }
    form.note("Here the pressure is known: the vessel holds it. Heads elsewhere are told from here.");
}

/// A heading over everything.
pub(super) fn heading(form: &mut Form<'_, '_>, words: &str) {
    form.ui.label(RichText::new(words).font(look::strong(size::LEAD)));
}

fn buttons(form: &mut Form<'_, '_>, id: ComponentId, component: &Component) {
    let stopped = match &component.kind {
        ComponentKind::Pump(unit) => Some(!unit.running),
        _ => None,
    };
    let mut words = vec![("Turn", "Turns it a quarter clockwise (R)")];
    match (component.is_open(), stopped) {
        (Some(true), _) => words.push(("Shut", "Shuts it; a click on the symbol does the same")),
        (Some(false), _) => words.push(("Open", "Opens it; a click on the symbol does the same")),
        (None, Some(true)) => words.push(("Start", "Lets it run")),
        (None, Some(false)) => words.push(("Stop", "Stops it")),
        (None, None) => {}
    }
    let in_hand = form.view.pump == Some(id);
    if stopped.is_some() && !in_hand {
        words.push(("Take in hand", "Shows its curves and settings"));
    }
    words.push(("Delete", "Takes it away; a pipe heals where it was (Del)"));
    let Some(pressed) = form.buttons("buttons", &words).and_then(|index| words.get(index)) else { return };
    match pressed.0 {
        "Turn" => form.change(Command::SetTurn(id, component.turn.next())),
        "Open" => form.change(Command::SetOpen(id, true)),
        "Shut" => form.change(Command::SetOpen(id, false)),
        "Start" => form.change(Command::SetRunning(id, true)),
        "Stop" => form.change(Command::SetRunning(id, false)),
        "Take in hand" => form.intents.push(Intent::TakeInHand(id)),
        _ => form.change(Command::RemoveParts(BTreeSet::from([id]), BTreeSet::new())),
    }
}

/// One plain number, with the menu of Kv where it is one.
pub(super) fn number(form: &mut Form<'_, '_>, id: ComponentId, kind: &ComponentKind, figure: &Figure) {
    let Some(value) = figure.value(kind) else { return };
    let new = form.row(figure.label, figure.hint, |form, named| {
        let mut width = form.ui.available_width();
        if figure.is_kv {
            width -= kv::WIDTH + form.ui.spacing().item_spacing.x;
        }
        let number = Number {
            name: figure.label,
            measure: figure.measure,
            value,
            range: figure.range,
            drags: true,
            with_unit: true,
        };
        let typed = number.show(form, named, width);
        let picked = if figure.is_kv { kv::menu(form, id, value) } else { None };
        picked.or(typed)
    });
    if let Some(command) = new.and_then(|new| figure.set(id, kind, new)) {
        form.change(command);
    }
    if let Some(source) = figure.source {
        form.note(source);
    }
}

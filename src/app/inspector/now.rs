//! What a component does at the present settings: flow, pressure drop, heat. A dash stands where nothing is known yet.

use super::form::Form;
use crate::document::{Component, ComponentId, ComponentKind};
use crate::engine::units::{DASH, Quantity};

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, component: &Component) {
    let results = form.view.results;
    match &component.kind {
        ComponentKind::Junction | ComponentKind::ExpansionVessel { .. } => return,
        ComponentKind::PressureGauge | ComponentKind::Thermometer => {
            form.now();
            let reading = results.readings.get(&id);
            let words = reading.map_or_else(|| DASH.to_owned(), |reading| reading.text(form.view.units));
            form.fact("Reads", "", &words);
            return;
        }
        ComponentKind::Pump(_) => {
            form.now();
            let pump = results.pumps.get(&id);
            let running = pump.filter(|pump| pump.running);
            told(form, "Flow", Quantity::Flow, pump.map(|pump| pump.flow));
            told(form, "Head", Quantity::Head, running.map(|pump| pump.head));
            told(form, "Speed", Quantity::RotationalSpeed, pump.map(|pump| pump.speed_rpm));
            told(form, "Electric power", Quantity::Power, pump.map(|pump| pump.electric_w));
            told(form, "Wire to water", Quantity::Share, running.map(|pump| pump.wire_to_water));
            return;
        }
        ComponentKind::Source(_)
        | ComponentKind::Emitter(_)
        | ComponentKind::ZoneValve { .. }
        | ComponentKind::ControlValve { .. }
        | ComponentKind::ThermostaticValve { .. }
        | ComponentKind::BalancingValve { .. }
        | ComponentKind::PressureIndependentValve { .. }
        | ComponentKind::BypassValve { .. }
        | ComponentKind::CheckValve { .. }
        | ComponentKind::Strainer { .. }
        | ComponentKind::IsolationValve { .. }
        | ComponentKind::FlowMeter { .. }
        | ComponentKind::ThreeWayValve(_)
        | ComponentKind::Separator { .. } => {}
    }
    form.now();
    let result = results.components.get(&id);
    told(form, "Flow", Quantity::Flow, result.map(|result| result.flow));
    told(form, "Pressure drop", Quantity::Pressure, result.map(|result| result.drop));
    if matches!(component.kind, ComponentKind::ThreeWayValve(_)) {
        let bypass = results.bypasses.get(&id);
        told(form, "Bypass flow", Quantity::Flow, bypass.map(|bypass| bypass.flow));
        told(form, "Bypass drop", Quantity::Pressure, bypass.map(|bypass| bypass.drop));
    }
    if let ComponentKind::Separator { bore } = component.kind {
        let area = 0.25 * std::f64::consts::PI * bore * bore;
        told(form, "Velocity", Quantity::Velocity, result.map(|result| result.flow.abs() / area));
    }
    if matches!(component.kind, ComponentKind::Source(_)) {
        let source = results.sources.get(&id);
        told(form, "Heat", Quantity::Heat, source.map(|source| source.heat));
        told(form, "Water enters", Quantity::Temperature, source.map(|source| source.enters_c));
        told(form, "Water leaves", Quantity::Temperature, source.map(|source| source.leaves_c));
    }
    if matches!(component.kind, ComponentKind::Emitter(_))
        && let Some(zone) = form.view.project.zone_of(id)
    {
        let zone = results.zones.get(&zone);
        told(form, "Design flow", Quantity::Flow, zone.map(|zone| zone.design_flow));
        told(form, "Share of it", Quantity::Share, zone.map(|zone| zone.share));
        told(form, "Heat", Quantity::Heat, zone.map(|zone| zone.heat));
        told(form, "Share of load", Quantity::Share, zone.map(|zone| zone.heat_share));
        told(form, "Water leaves", Quantity::Temperature, zone.map(|zone| zone.return_c));
        if let Some(room_c) = zone.and_then(|zone| zone.room_c) {
            told(form, "Room", Quantity::Temperature, Some(room_c));
        }
    }
}

/// A row with a figure, or a dash.
pub(super) fn told(form: &mut Form<'_, '_>, label: &str, quantity: Quantity, value: Option<f64>) {
    let words = value.map_or_else(|| DASH.to_owned(), |value| form.view.units.format(quantity, value));
    form.group(&format!("now {label}"), |form| form.fact(label, "", &words));
}

//! A circulator: catalogue points, settings, the steps of its device, where it is found.

use super::component::number;
use super::figures::{FLOW, KV, STEPS};
use super::form::Form;
use super::number::Measure;
use super::{catalogue, on_site, paste};
use crate::document::{Command, ComponentId, ComponentKind, PumpUnit};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::Quantity;

/// Pressures at an inlet that can be typed, Pa above the air's, and suction heads, m.
const INLET: (f64, f64) = (-90e3, 2e6);
const SUCTION: (f64, f64) = (0.1, 30.0);

/// The command that gives a pump other figures.
pub(super) fn set(id: ComponentId, unit: PumpUnit) -> Command {
    Command::SetKind(id, Box::new(ComponentKind::Pump(Box::new(unit))))
}

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, unit: &PumpUnit) {
    let hint = "Kv of the pump while it stands; without one it takes its shut-off head at the end of its curve.";
    let measure = Measure::Of(Quantity::FlowCoefficient);
    let usual = (10.0, "from its curve");
    if let Some(kv) = form.optional(("Kv at rest", hint), measure, unit.stopped_kv, usual, KV) {
        form.change(set(id, PumpUnit { stopped_kv: kv, ..unit.clone() }));
    }
    let hint = "Least pressure above the air's at its inlet; checked where the vessel's pressure is known.";
    let (measure, start) = (Measure::Of(Quantity::Pressure), (20e3, "not given"));
    if let Some(pressure) = form.optional(("Least inlet", hint), measure, unit.least_inlet_pressure, start, INLET) {
        form.change(set(id, PumpUnit { least_inlet_pressure: pressure, ..unit.clone() }));
    }
    let hint =
        "Net positive suction head that it needs (NPSH, ISO 17769-1); checked where the vessel's pressure is known.";
    let (measure, start) = (Measure::Of(Quantity::Head), (2.0, "not given"));
    if let Some(head) = form.optional(("NPSH required", hint), measure, unit.npsh_required, start, SUCTION) {
        form.change(set(id, PumpUnit { npsh_required: head, ..unit.clone() }));
    }
    on_site::show(form, id, unit);
    form.section("Catalogue at full speed");
    catalogue::show(form, id, unit);
    paste::show(form, id, unit);
    form.section("Settings");
    form.group("settings", |form| settings(form, id, unit));
    form.section("Steps of the settings");
    let kind = ComponentKind::Pump(Box::new(unit.clone()));
    form.group("steps", |form| {
        for figure in STEPS {
            number(form, id, &kind, figure);
        }
    });
}

fn settings(form: &mut Form<'_, '_>, id: ComponentId, unit: &PumpUnit) {
    let (regulation, ranges) = (unit.regulation, unit.ranges());
    let hint = "The pump never gives more head than this; without one it is held by its speed alone.";
    let head = Measure::Of(Quantity::Head);
    let start = (0.6 * ranges.head_limit.1, "none");
    if let Some(limit) = form.optional(("Head limit", hint), head, regulation.head_limit_m, start, ranges.head_limit) {
        form.change(Command::SetHeadLimit(id, limit));
    }
    let share = Measure::Of(Quantity::Speed);
    let hint = "How far the set-line has fallen at zero flow; 0 % is constant pressure.";
    if let Some(slope) = form.number("Slope", hint, share, regulation.slope, ranges.slope) {
        form.change(Command::SetSlope(id, slope));
    }
    let hint = "The pump never runs faster than this share of its full speed.";
    if let Some(cap) = form.number("Speed cap", hint, share, regulation.speed_cap, ranges.speed_cap) {
        form.change(Command::SetSpeedCap(id, cap));
    }
    let hint = "The motor's slowest turning while it runs.";
    let range = (0.0, regulation.speed_cap);
    if let Some(speed) = form.number("Minimum speed", hint, share, regulation.minimum_speed, range) {
        form.change(Command::SetMinimumSpeed(id, speed));
    }
    let hint = "The pump never takes more electric power than this; it turns more slowly instead.";
    let power = Measure::Of(Quantity::Power);
    let start = (ranges.power_limit.1, "none");
    let limit = form.optional(("Power limit", hint), power, regulation.power_limit_w, start, ranges.power_limit);
    if let Some(limit) = limit {
        form.change(Command::SetPowerLimit(id, limit));
    }
    reference(form, id, regulation.reference);
}

fn word(reference: ReferenceFlow) -> &'static str {
    match reference {
        ReferenceFlow::FullSpeed => "at full speed",
        ReferenceFlow::CappedSpeed => "at capped speed",
        ReferenceFlow::DesignFlow(_) => "design flow",
    }
}

fn reference(form: &mut Form<'_, '_>, id: ComponentId, present: ReferenceFlow) {
    let design: f64 = form.view.results.zones.values().map(|zone| zone.design_flow).sum();
    let choices = [ReferenceFlow::FullSpeed, ReferenceFlow::CappedSpeed, ReferenceFlow::DesignFlow(design.max(FLOW.0))];
    let options = choices.map(|choice| (choice, word(choice).to_owned()));
    let hint = "Where the set-line reaches the head limit.";
    if let Some(reference) = form.choice("Reference", hint, word(present), &options) {
        form.change(Command::SetReferenceFlow(id, reference));
    }
    let hint = "The flow at which the set-line reaches the head limit.";
    match present {
        ReferenceFlow::DesignFlow(flow) => {
            if let Some(flow) = form.number("Reference flow", hint, Measure::Of(Quantity::Flow), flow, FLOW) {
                form.change(Command::SetReferenceFlow(id, ReferenceFlow::DesignFlow(flow)));
            }
        }
        ReferenceFlow::FullSpeed | ReferenceFlow::CappedSpeed => {
            let pump = form.view.results.pumps.get(&id);
            let flow = pump.and_then(|pump| pump.reference_flow);
            let never = || "never reached".to_owned();
            let words = flow.map_or_else(never, |flow| form.view.units.format(Quantity::Flow, flow));
            form.fact("Reference flow", hint, &words);
        }
    }
}

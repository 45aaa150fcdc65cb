//! The zone of an emitter: its load, its temperatures, its valve.

use super::figures::POWER;
use super::form::Form;
use super::number::Measure;
use super::zone_list;
use crate::document::{Command, ComponentId, Zone, ZoneId};
use crate::engine::units::Quantity;

/// Temperatures that can be typed, °C.
const WATER: (f64, f64) = (-50.0, 120.0);
/// Room temperatures that can be typed, °C.
const ROOM: (f64, f64) = (-30.0, 60.0);
/// Heat loads that can be typed, W.
const LOAD: (f64, f64) = (1.0, 1e8);

/// Shows it, or a way to make the emitter's rooms a zone.
pub(super) fn show(form: &mut Form<'_, '_>, emitter: ComponentId) {
    let project = form.view.project;
    form.section("Zone");
    let zone = project.zones.iter().find(|(_, zone)| zone.emitter == emitter);
    form.group("zone", |form| match zone {
        Some((id, zone)) => figures(form, *id, zone),
        None => {
            form.note("It serves no zone: it has no load, and nothing tells how much flow it needs.");
            if form.buttons("zone", &[("Make a zone", "Gives it a zone with usual figures")]).is_some() {
                form.change(Command::AddZone(Box::new(project.usual_zone(emitter))));
            }
        }
    });
}

fn figures(form: &mut Form<'_, '_>, id: ZoneId, zone: &Zone) {
    let project = form.view.project;
    let mut wanted = None;
    let mut take = |zone: Zone| wanted = Some(zone);
    if let Some(name) = form.name("Name", "Unlike all other names of zones.", &zone.name, "") {
        take(Zone { name, ..zone.clone() });
    }
    let hint = "Heat or cold that its rooms need at design.";
    if let Some(load) = form.number("Load", hint, Measure::Of(Quantity::Heat), zone.load, LOAD) {
        take(Zone { load, ..zone.clone() });
    }
    let temperature = Measure::Of(Quantity::Temperature);
    let told = |value_c: f64| format!("design: {}", form.view.units.format(Quantity::Temperature, value_c));
    let (room, back) = (told(project.design.room_c), told(project.design.return_c));
    let hint = "Room or entering-air temperature, where it differs from the design's.";
    let start = (project.design.room_c, room.as_str());
    if let Some(room_c) = form.optional(("Own room", hint), temperature, zone.room_c, start, ROOM) {
        take(Zone { room_c, ..zone.clone() });
    }
    let hint = "Return temperature at design, where it differs from the design's. It decides the design flow.";
    let start = (project.design.return_c, back.as_str());
    if let Some(return_c) = form.optional(("Own return", hint), temperature, zone.return_c, start, WATER) {
        take(Zone { return_c, ..zone.clone() });
    }
    let hint = "Heat that people, sun and devices bring now; felt by a thermostatic valve alone.";
    if let Some(gain) = form.number("Heat gain", hint, Measure::Of(Quantity::Heat), zone.gain, POWER) {
        take(Zone { gain, ..zone.clone() });
    }
    if let Some(valve) = valve(form, zone) {
        take(Zone { valve, ..zone.clone() });
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetZone(id, Box::new(wanted)));
    }
    if form.buttons("zone", &[("Remove zone", "The emitter stays, without a load")]).is_some() {
        form.change(Command::RemoveZone(id));
    }
}

/// The valve that shuts it: one of those in its branch, or none.
fn valve(form: &mut Form<'_, '_>, zone: &Zone) -> Option<Option<ComponentId>> {
    let project = form.view.project;
    let mut offered = project.branch_valves(zone.emitter);
    offered.extend(zone.valve);
    let named = |id: ComponentId| project.components.get(&id).map_or_else(String::new, |valve| valve.name.clone());
    let none = zone_list::NO_VALVE.to_owned();
    let shown = zone.valve.map_or_else(|| none.clone(), named);
    let mut options = vec![(None, none)];
    options.extend(offered.into_iter().map(|id| (Some(id), named(id))));
    form.choice("Valve", "The valve of its branch that shuts the zone in scenarios.", &shown, &options)
}

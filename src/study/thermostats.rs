//! Thermostatic valves and their rooms: which valve serves which zone, and the law that comes of both at the temperature of the
//! water that now enters the emitter. That law lets through less the warmer the room gets, so that flow, heat and room settle
//! together in the solver; what is left to go round is the temperature of the water ([`super::settle`]).

use super::lower::{LinkOwner, Lowered, component_links};
use super::temperatures::Exchange;
use crate::document::{ComponentId, ComponentKind, Duty, Emitter, Project, Zone, ZoneId};
use crate::engine::fluid::FluidProperties;
use crate::engine::links::emitter::{HeatedRoom, RoomBalance};
use crate::engine::links::{LinkLaw, Thermostat, ThermostaticValve};

/// Change of a supply temperature that is still taken into the laws, K.
const TOLERANCE_K: f64 = 1e-9;

/// A thermostatic valve that a room moves.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throttle {
    valve: ComponentId,
    pub(super) zone: ZoneId,
    /// Links of valve and emitter in the network.
    link: usize,
    emitter_link: usize,
    /// Temperature of the water that enters the emitter, °C.
    supply_c: f64,
}

/// Finds the valves that have a zone and an outdoor temperature; all others stay at their nominal Kv.
pub(super) fn find(project: &Project, owners: &[LinkOwner]) -> Vec<Throttle> {
    if project.design.outdoor_c.is_none() {
        return Vec::new();
    }
    let links = component_links(owners);
    let link = |id: ComponentId| links.get(&id).copied();
    let throttle = |(valve, zone): (ComponentId, ZoneId)| {
        let (link, emitter_link) = (link(valve)?, link(project.zones.get(&zone)?.emitter)?);
        Some(Throttle { valve, zone, link, emitter_link, supply_c: project.design.supply_c })
    };
    project.thermostatic_zones().into_iter().filter_map(throttle).collect()
}

/// How a zone's room loses heat now; `None` without a design outdoor temperature.
fn balance(project: &Project, zone: &Zone, emitter: &Emitter) -> Option<RoomBalance> {
    let design_outdoor_c = project.design.outdoor_c?;
    let outdoor_c = project.outdoor_now_c.unwrap_or(design_outdoor_c);
    Some(RoomBalance::of_design(&project.emitter_design(zone, emitter), design_outdoor_c, outdoor_c, zone.gain))
}

/// The room of a zone that a thermostatic valve serves, with water of a temperature entering its emitter.
pub(super) fn room(
    project: &Project,
    fluid: &FluidProperties,
    zone: &Zone,
    emitter: &Emitter,
    enters_c: f64,
) -> Option<HeatedRoom> {
    let design = project.emitter_design(zone, emitter);
    let balance = balance(project, zone, emitter)?;
    HeatedRoom::new(emitter.law, &design, project.design.flow(zone, fluid), balance, enters_c).ok()
}

/// Lays the laws of all thermostatic valves over their links.
pub(super) fn take_laws(project: &Project, lowered: &mut Lowered) {
    for index in 0..lowered.throttles.len() {
        let throttle = lowered.throttles[index];
        if let Some(law) = law(project, lowered, &throttle) {
            lowered.network.links[throttle.link].law = LinkLaw::Thermostatic(Box::new(law));
        }
    }
}

fn law(project: &Project, lowered: &Lowered, throttle: &Throttle) -> Option<ThermostaticValve> {
    let ComponentKind::ThermostaticValve { kv, kvs, set_c, band_k } = project.components.get(&throttle.valve)?.kind
    else {
        return None;
    };
    let zone = project.zones.get(&throttle.zone)?;
    let ComponentKind::Emitter(emitter) = &project.components.get(&zone.emitter)?.kind else { return None };
    let room = room(project, &lowered.fluid, zone, emitter, throttle.supply_c)?;
    let thermostat = Thermostat { kv_nominal_m3_per_h: kv, kvs_m3_per_h: kvs, set_c, band_k };
    ThermostaticValve::new(thermostat, room, lowered.fluid_of(throttle.link).density_kg_per_m3).ok()
}

/// Takes the supply temperatures from what emitters get now; where nothing flows, the design's. Whether one has moved so far that
/// the laws must be taken anew.
pub(super) fn follow(project: &Project, lowered: &mut Lowered, exchanges: &[Exchange]) -> bool {
    let mut moved = false;
    for throttle in &mut lowered.throttles {
        // They stand in the order of their links.
        let found = exchanges.binary_search_by_key(&throttle.emitter_link, |exchange| exchange.link);
        let supply_c = found.map_or(project.design.supply_c, |index| exchanges[index].enters_c);
        if (supply_c - throttle.supply_c).abs() > TOLERANCE_K {
            throttle.supply_c = supply_c;
            moved = true;
        }
    }
    moved
}

/// By how many kelvin a room falls short of what its thermostatic valve is set to: too cold when heating, too warm when cooling.
pub(super) fn miss_k(project: &Project, lowered: &Lowered, zone: ZoneId, room_c: f64) -> f64 {
    let turn = if project.design.duty == Duty::Heating { 1.0 } else { -1.0 };
    let set = lowered.throttles_of(zone).filter_map(|throttle| match project.components.get(&throttle.valve)?.kind {
        ComponentKind::ThermostaticValve { set_c, .. } => Some(turn * (set_c - room_c)),
        _ => None,
    });
    // Of two valves in a row the one that asks for less shuts first.
    set.fold(f64::INFINITY, f64::min)
}

//! What a zone gets, and how it stands against its band or, where a thermostatic valve serves it, against its room.

use super::lower::Lowered;
use super::results::{NOTHING, Results};
use super::temperatures;
use super::thermostats;
use crate::document::{Acceptance, ComponentKind, Duty, Port, PortRef, Project, Zone, ZoneId};
use crate::engine::links::emitter::EmitterState;

/// How far a room may miss the temperature its thermostatic valve is set to, K (common practice, no source).
pub const ROOM_MISS_K: f64 = 1.0;

/// How a zone stands against its band.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ZoneState {
    /// Shut by its valve.
    Shut,
    /// Open, but nothing flows.
    Still,
    /// Water runs through it from outlet to inlet.
    Backwards,
    /// Less than the least share of design flow.
    Starved,
    /// Heating: enough flow, but the room that its thermostatic valve serves is too cold by more than [`ROOM_MISS_K`].
    TooCold,
    /// Cooling: enough flow, but its room is too warm.
    TooWarm,
    /// Less than the least share, because its thermostatic valve keeps a room that has what it needs.
    Throttled,
    /// Within the band.
    Served,
    /// More than the greatest share.
    Overflowed,
}

impl ZoneState {
    /// The word for it, the same everywhere.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Shut => "shut",
            Self::Still => "no flow",
            Self::Backwards => "backwards",
            Self::Starved => "starved",
            Self::TooCold => "too cold",
            Self::TooWarm => "too warm",
            Self::Throttled => "throttled",
            Self::Served => "served",
            Self::Overflowed => "overflowed",
        }
    }
}

/// What a zone gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ZoneResult {
    /// Flow, m³/s.
    pub flow: f64,
    /// Design flow, m³/s.
    pub design_flow: f64,
    /// Flow over design flow.
    pub share: f64,
    /// Heat (or cold), W.
    pub heat: f64,
    /// Heat over design load.
    pub heat_share: f64,
    /// Temperature of the water that enters it, °C; not a number where nothing flows.
    pub supply_c: f64,
    /// Temperature of the water that leaves it, °C; not a number where nothing flows.
    pub return_c: f64,
    /// Temperature that its room settles at, °C; told where a thermostatic valve serves it.
    pub room_c: Option<f64>,
    /// By how much that room falls short of what its valve is set to, K: too cold when heating, too warm when cooling; below zero
    /// while it does not.
    pub room_miss_k: Option<f64>,
    /// How it stands.
    pub state: ZoneState,
}

/// How an open zone stands that gets such a share of its design flow; `miss_k` is by how much its room falls short of the temperature
/// that its thermostatic valve is set to, where there is one.
pub(super) fn stands(band: &Acceptance, duty: Duty, share: f64, miss_k: Option<f64>) -> ZoneState {
    let keeps = miss_k.is_some_and(|miss_k| miss_k <= ROOM_MISS_K);
    match () {
        () if share < -NOTHING => ZoneState::Backwards,
        () if keeps && share < band.low => ZoneState::Throttled,
        () if share < NOTHING => ZoneState::Still,
        () if share < band.low => ZoneState::Starved,
        () if miss_k.is_some() && !keeps && duty == Duty::Cooling => ZoneState::TooWarm,
        () if miss_k.is_some() && !keeps => ZoneState::TooCold,
        () if share > band.high => ZoneState::Overflowed,
        () => ZoneState::Served,
    }
}

impl ZoneState {
    /// Whether it gets too little.
    #[must_use]
    pub fn is_short(self) -> bool {
        matches!(self, Self::Still | Self::Backwards | Self::Starved | Self::TooCold | Self::TooWarm)
    }
}

impl Results {
    pub(super) fn zone(&self, project: &Project, lowered: &Lowered, id: ZoneId, zone: &Zone) -> ZoneResult {
        let throttled = lowered.is_throttled(id);
        let design_flow = project.design.flow(zone, &lowered.fluid);
        let flow = self.components.get(&zone.emitter).map_or(0.0, |c| c.flow);
        let share = if design_flow > 0.0 { flow / design_flow } else { 0.0 };
        let port = if flow < 0.0 { Port::Outlet } else { Port::Inlet };
        let supply_c = self.temperature(lowered, PortRef { component: zone.emitter, port });
        let emitter = match project.components.get(&zone.emitter).map(|c| &c.kind) {
            Some(ComponentKind::Emitter(emitter)) => Some(emitter),
            _ => None,
        };
        let EmitterState { heat_share, return_c } = match emitter {
            Some(emitter) if supply_c.is_finite() => {
                temperatures::state(project, &lowered.fluid, (zone, emitter, throttled), flow, supply_c)
            }
            _ => EmitterState { heat_share: 0.0, return_c: f64::NAN },
        };
        let room = emitter.filter(|_| throttled && !project.is_zone_shut(zone)).and_then(|emitter| {
            let enters_c = if supply_c.is_finite() { supply_c } else { project.design.supply_c };
            thermostats::room(project, &lowered.fluid, zone, emitter, enters_c)
        });
        let room_c = room.map(|room| room.room_c(flow));
        let miss_k = room_c.map(|room_c| thermostats::miss_k(project, lowered, id, room_c));
        let state = match project.is_zone_shut(zone) {
            true => ZoneState::Shut,
            false => stands(&project.acceptance, project.design.duty, share, miss_k),
        };
        ZoneResult {
            flow,
            design_flow,
            share,
            heat: heat_share * zone.load,
            heat_share,
            supply_c,
            return_c,
            room_c,
            room_miss_k: miss_k,
            state,
        }
    }
}

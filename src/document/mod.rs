//! The document: what the user draws and sets. It holds no result, no selection and nothing of the window.
//!
//! A [`Project`] is plain data in SI units. It changes only through [`Command`]s, each of which says what it touched
//! ([`Changed`]), so that a moved symbol solves nothing and a dragged setting traces no new system curve.

mod branch;
mod command;
mod component;
mod compose;
mod date;
mod design;
mod edit;
mod energy_basis;
mod fitting;
mod history;
mod limits;
mod nearest_name;
mod pipe;
mod pump_unit;
mod scenario;
mod scenarios;
mod series;
mod site;
mod size;
mod starting;
mod step_name;
mod three_way;
mod uncertainty;
mod validity;
mod variant;
mod zone;

pub use command::{Changed, Command, CommandError};
pub use component::{Component, ComponentId, ComponentKind, Emitter, Source, Turn};
pub use compose::{
    Arrangement, Composed, PlannedFlow, PlannedRun, PlannedValve, PlannedZone, SystemPlan, compose, stand_in,
};
pub use date::{date_flaw, date_of_day};
pub use design::{Acceptance, DesignBasis, Duty};
pub use edit::{
    ComponentChoice, Fragment, Line, PipeEnd, PipeFigures, aligned, course, distributed, drawn_aside, nearest_share,
    part_at, spot,
};
pub use energy_basis::EnergyBasis;
pub use fitting::Fitting;
pub use history::History;
pub use limits::{DN_50_BORE_M, Limits};
pub use nearest_name::nearest_name;
pub use pipe::{PipeId, PipeRun, Port, PortRef};
pub use pump_unit::{CataloguePoint, PumpUnit, SettingRanges, SettingSteps, stepped, within};
pub use scenario::Scenario;
pub use scenarios::{Bin, MOST_COMBINED, added_scenarios, of_bins, of_combinations, of_profile};
pub use site::{PumpRegister, Site, StandbyRole};
pub use size::{SizeError, SizeOnSale};
pub use starting::{Starting, StartingStep, Tick, steps_in_words};
pub use three_way::{ThreeWayAction, ThreeWayValve};
pub use uncertainty::Uncertainty;
pub use validity::{Flaw, LEAP_YEAR_HOURS, flaws};
pub use variant::{MOST_VARIANTS, Variant};
pub use zone::{Zone, ZoneId};

use crate::engine::fluid::Fluid;
use crate::engine::links::emitter::EmitterDesign;
use std::collections::BTreeMap;

/// Everything that one file holds.
#[derive(Clone, Debug, PartialEq)]
pub struct Project {
    /// Name of the building or job.
    pub title: String,
    /// Free text.
    pub notes: String,
    /// Where it is, for whom and by whom.
    pub site: Site,
    /// Temperatures and duty that the system is designed for.
    pub design: DesignBasis,
    /// Outdoor temperature now, °C; the design's if none is given. Only thermostatic valves ask for it.
    pub outdoor_now_c: Option<f64>,
    /// What is in the pipes.
    pub fluid: Fluid,
    /// How far flows may be off.
    pub acceptance: Acceptance,
    /// What pipes, valves and pressures may come to.
    pub limits: Limits,
    /// What a kilowatt-hour costs and emits.
    pub energy: EnergyBasis,
    /// How far figures of the drawing may be off.
    pub uncertainty: Uncertainty,
    /// What is drawn, by identity.
    pub components: BTreeMap<ComponentId, Component>,
    /// What joins it.
    pub pipes: BTreeMap<PipeId, PipeRun>,
    /// Parts of the building, by identity.
    pub zones: BTreeMap<ZoneId, Zone>,
    /// Named states of the zone valves.
    pub scenarios: Vec<Scenario>,
    /// Whether every combination of open zones must be served besides the scenarios.
    pub every_combination: bool,
    /// Settings of pumps that are kept to be compared with the present ones.
    pub variants: Vec<Variant>,
    /// How far the system is filled, vented and released to run.
    pub starting: Starting,
}

impl Project {
    /// A component by name.
    #[must_use]
    pub fn component_named(&self, name: &str) -> Option<ComponentId> {
        self.components.iter().find(|(_, c)| c.name == name).map(|(id, _)| *id)
    }

    /// A zone by name.
    #[must_use]
    pub fn zone_named(&self, name: &str) -> Option<ZoneId> {
        self.zones.iter().find(|(_, z)| z.name == name).map(|(id, _)| *id)
    }

    /// The zone that a valve or an emitter belongs to.
    #[must_use]
    pub fn zone_of(&self, component: ComponentId) -> Option<ZoneId> {
        let belongs = |zone: &Zone| zone.emitter == component || zone.valve == Some(component);
        self.zones.iter().find(|(_, zone)| belongs(zone)).map(|(id, _)| *id)
    }

    /// The pumps in order of identity.
    pub fn pumps(&self) -> impl Iterator<Item = (ComponentId, &PumpUnit)> {
        self.components.iter().filter_map(|(id, component)| match &component.kind {
            ComponentKind::Pump(unit) => Some((*id, &**unit)),
            _ => None,
        })
    }

    /// The pump of an identity.
    #[must_use]
    pub fn pump(&self, id: ComponentId) -> Option<&PumpUnit> {
        match &self.components.get(&id)?.kind {
            ComponentKind::Pump(unit) => Some(unit),
            _ => None,
        }
    }

    /// Whether a zone is shut off by its valve.
    #[must_use]
    pub fn is_zone_shut(&self, zone: &Zone) -> bool {
        let valve = zone.valve.and_then(|id| self.components.get(&id));
        valve.and_then(Component::is_open) == Some(false)
    }

    /// Temperatures and heat that a zone's emitter was chosen for.
    #[must_use]
    pub fn emitter_design(&self, zone: &Zone, emitter: &Emitter) -> EmitterDesign {
        EmitterDesign {
            supply_c: self.design.supply_c,
            return_c: zone.return_c.unwrap_or(self.design.return_c),
            room_c: zone.room_c.unwrap_or(self.design.room_c),
            air_outlet_c: emitter.air_outlet_c,
            heat_w: zone.load,
        }
    }

    /// What to call a pipe: its own name, or the two components it joins.
    #[must_use]
    pub fn pipe_label(&self, pipe: &PipeRun) -> String {
        if !pipe.name.is_empty() {
            return pipe.name.clone();
        }
        let name = |id: ComponentId| self.components.get(&id).map_or("?", |c| c.name.as_str());
        format!("{} – {}", name(pipe.from.component), name(pipe.to.component))
    }
}

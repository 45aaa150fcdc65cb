//! What a card is asked about: the project, and what in it the reader points at.

use crate::document::{ComponentId, PipeId, Project, PumpUnit, ZoneId};
use crate::engine::pump::{Pump, Regulated};
use crate::engine::units::{Quantity, Units};
use crate::study::lower;
use crate::study::zones::{ZoneResult, ZoneState};
use crate::study::{PumpResult, Study};

/// What a card is asked about.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The document.
    pub project: &'a Project,
    /// Its study, of that very document.
    pub study: &'a Study,
    /// Units of the reader.
    pub units: &'a Units,
    /// The pump in hand.
    pub pump: Option<ComponentId>,
    /// The zone pointed at; without one the open zone with most design flow stands as an example.
    pub zone: Option<ZoneId>,
    /// The component pointed at.
    pub component: Option<ComponentId>,
    /// The pipe pointed at.
    pub pipe: Option<PipeId>,
}

/// The pump in hand with all that the engine knows of it.
pub(super) struct InHand<'a> {
    pub(super) unit: &'a PumpUnit,
    pub(super) result: &'a PumpResult,
    /// Its curves in the water of its circuit.
    pub(super) pump: Pump,
    pub(super) regulated: Regulated,
}

impl<'a> Subject<'a> {
    /// A subject without anything pointed at.
    #[must_use]
    pub fn new(project: &'a Project, study: &'a Study, units: &'a Units, pump: Option<ComponentId>) -> Self {
        Self { project, study, units, pump, zone: None, component: None, pipe: None }
    }

    /// A number with its unit.
    pub(super) fn says(&self, quantity: Quantity, value: f64) -> String {
        self.units.format(quantity, value)
    }

    /// The pump in hand.
    pub(super) fn in_hand(&self) -> Option<InHand<'a>> {
        let id = self.pump?;
        let unit = self.project.pump(id)?;
        let result = self.study.results().pumps.get(&id)?;
        let lowered = self.study.lowered();
        let running = lowered.pumps.iter().position(|pump| pump.id == id);
        let pump = match running {
            Some(index) => lowered.pumps.get(index)?.viscous.pump.clone(),
            None => lower::in_fluid(unit, &lowered.fluid).ok()?.pump,
        };
        let regulated = match running.and_then(|index| lowered.regulated(index)) {
            Some(regulated) => regulated.clone(),
            None => Regulated::of_pump(&pump, unit.regulation).ok()?,
        };
        Some(InHand { unit, result, pump, regulated })
    }

    /// The pump in hand while it moves water.
    pub(super) fn at_work(&self) -> Option<InHand<'a>> {
        self.in_hand().filter(|pump| pump.result.running && pump.result.flow > 0.0 && pump.result.head > 0.0)
    }

    /// The zone pointed at with what it gets, or the open zone with most design flow.
    pub(super) fn zone(&self) -> Option<(ZoneId, &'a ZoneResult)> {
        let zones = &self.study.results().zones;
        if let Some(id) = self.zone {
            return Some((id, zones.get(&id)?));
        }
        let open = zones.iter().filter(|(_, zone)| zone.state != ZoneState::Shut);
        open.max_by(|a, b| a.1.design_flow.total_cmp(&b.1.design_flow)).map(|(id, zone)| (*id, zone))
    }

    /// A component's name.
    pub(super) fn name(&self, id: ComponentId) -> &'a str {
        self.project.components.get(&id).map_or("", |component| component.name.as_str())
    }
}

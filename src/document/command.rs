//! Commands: the one way in which a document changes.

use super::design::{is_outdoor_temperature, is_room_temperature};
use super::edit::{Fragment, PipeEnd, PipeFigures};
use super::{
    Acceptance, Component, ComponentId, ComponentKind, DesignBasis, EnergyBasis, Limits, PipeId, Project, PumpRegister,
    PumpUnit, Scenario, Site, StartingStep, ThreeWayValve, Tick, Turn, Uncertainty, Variant, Zone, ZoneId,
};
use crate::engine::fluid::Fluid;
use crate::engine::pump::{ReferenceFlow, Regulation, RegulationError};
use std::collections::{BTreeMap, BTreeSet};
use thiserror::Error;

/// A change of the document.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// Sets a pump's head limit, m; `None` for a pump held by its speed alone.
    SetHeadLimit(ComponentId, Option<f64>),
    /// Sets a pump's slope as a fraction.
    SetSlope(ComponentId, f64),
    /// Sets a pump's speed cap as a fraction of full speed.
    SetSpeedCap(ComponentId, f64),
    /// Sets a pump's power limit, W; `None` for a pump without one.
    SetPowerLimit(ComponentId, Option<f64>),
    /// Sets a pump's minimum speed as a fraction of full speed.
    SetMinimumSpeed(ComponentId, f64),
    /// Sets where a pump's set-line reaches its head limit.
    SetReferenceFlow(ComponentId, ReferenceFlow),
    /// Starts or stops a pump.
    SetRunning(ComponentId, bool),
    /// Opens or shuts a valve.
    SetOpen(ComponentId, bool),
    /// Moves a control valve or a three-way valve to a position between 0 and 1.
    SetPosition(ComponentId, f64),
    /// Sets the room temperature that a thermostatic valve is set to, °C.
    SetRoomTemperature(ComponentId, f64),
    /// Sets the outdoor temperature now, °C; `None` for the design's.
    SetOutdoor(Option<f64>),
    /// Opens and shuts zone valves as a scenario says, in its weather if it has one.
    EnterScenario(usize),
    /// Opens every zone valve.
    OpenAllZones,
    /// Puts a component on the drawing.
    AddComponent(Box<Component>),
    /// Parts a pipe at a share of its length, from 0 to 1, and puts a component between the parts, turned along the pipe.
    InsertIntoPipe(PipeId, f64, Box<Component>),
    /// Takes components and pipes away; pipes heal where a component with two joined ends goes, and a zone goes with its emitter.
    RemoveParts(BTreeSet<ComponentId>, BTreeSet<PipeId>),
    /// Joins two ends by a pipe with corners between them; an end on a pipe makes a tee there, one on the sheet a new tee.
    Connect(PipeEnd, PipeEnd, Vec<[f64; 2]>),
    /// Moves components, each to its new place; pipes follow and stay orthogonal.
    MoveComponents(BTreeMap<ComponentId, [f64; 2]>),
    /// Turns a component.
    SetTurn(ComponentId, Turn),
    /// Gives a component another name.
    Rename(ComponentId, String),
    /// Gives a component other figures, or makes it another kind with the same ports.
    SetKind(ComponentId, Box<ComponentKind>),
    /// Gives a pipe another name.
    RenamePipe(PipeId, String),
    /// Gives a pipe other figures.
    SetPipe(PipeId, PipeFigures),
    /// Gives a pipe other corners.
    SetBends(PipeId, Vec<[f64; 2]>),
    /// Adds a zone.
    AddZone(Box<Zone>),
    /// Gives a zone other figures.
    SetZone(ZoneId, Box<Zone>),
    /// Takes a zone away; its emitter stays.
    RemoveZone(ZoneId),
    /// Gives the project other scenarios.
    SetScenarios(Vec<Scenario>),
    /// Gives the project another design basis.
    SetDesign(DesignBasis),
    /// Fills the pipes with something else.
    SetFluid(Fluid),
    /// Sets how far flows may be off.
    SetAcceptance(Acceptance),
    /// Gives the project another title.
    SetTitle(String),
    /// Sets the project's notes.
    SetNotes(String),
    /// Puts a copied part of a drawing down with its centre at a place.
    Paste(Box<Fragment>, [f64; 2]),
    /// Sets the height of a component above the datum, m.
    SetHeight(ComponentId, f64),
    /// Gives the project other limits of pipes, valves and pressures.
    SetLimits(Limits),
    /// Puts two closely spaced tees into a pipe at a share of its length.
    InsertCloseTees(PipeId, f64),
    /// Turns a component round in its run: what came in at its inlet now comes in at its outlet.
    TurnRound(ComponentId),
    /// Sets all settings of a pump at once.
    SetRegulation(ComponentId, Regulation),
    /// Exchanges the settings of a variant, by its place in the list, with the present ones of its pump.
    SwapVariant(usize),
    /// Gives the project other variants.
    SetVariants(Vec<Variant>),
    /// Sets what a kilowatt-hour costs and emits.
    SetEnergyBasis(EnergyBasis),
    /// Sets how far figures of the drawing may be off.
    SetUncertainty(Uncertainty),
    /// Sets whether every combination of open zones must be served.
    SetEveryCombination(bool),
    /// Sets where the job is, for whom and by whom.
    SetSite(Site),
    /// Gives a circulator's device another address.
    SetAddress(ComponentId, String),
    /// Sets what is written down of a circulator.
    SetRegister(ComponentId, PumpRegister),
    /// Ticks a step of starting up; `None` takes it back, and with it the steps that need it.
    SetTick(StartingStep, Option<Tick>),
    /// Sets the pressure read when the system was filled, Pa above the air around.
    SetFillPressure(Option<f64>),
}

/// What a change touched.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Changed {
    /// A pump's settings.
    pub settings: bool,
    /// Laws of links: valve positions, lengths, bores.
    pub laws: bool,
    /// What is connected to what, or which pumps run.
    pub structure: bool,
    /// Places, names, texts: nothing that moves water.
    pub drawing: bool,
}

impl Changed {
    /// Everything may be another.
    pub const ALL: Self = Self { settings: true, laws: true, structure: true, drawing: true };

    /// Whether anything was touched.
    #[must_use]
    pub fn any(self) -> bool {
        self.moves_water() || self.drawing
    }

    /// Whether anything was touched that moves water.
    #[must_use]
    pub fn moves_water(self) -> bool {
        self.settings || self.laws || self.structure
    }

    /// Both changes together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            settings: self.settings || other.settings,
            laws: self.laws || other.laws,
            structure: self.structure || other.structure,
            drawing: self.drawing || other.drawing,
        }
    }
}

/// Why a command could not be carried out; the document stays as it was.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum CommandError {
    /// The component is gone or of another kind.
    #[error("there is no {0} of that identity in this project")]
    Missing(&'static str),
    /// A setting outside its range.
    #[error("{pump}: {flaw}")]
    Setting {
        /// The pump's name.
        pump: String,
        /// What is wrong.
        flaw: RegulationError,
    },
    /// A temperature that cannot be.
    #[error("{1} °C is no {0} temperature: give one that can be")]
    Temperature(&'static str, f64),
    /// A component that has nothing to shut.
    #[error("{0} cannot be shut: choose a valve")]
    NotAValve(String),
    /// An edit that would make a drawing that cannot be; one sentence that says what and what to do.
    #[error("{0}")]
    Refused(String),
}

impl Project {
    /// Carries out a command.
    ///
    /// # Errors
    /// A command that does not fit the document; nothing has changed then.
    pub fn apply(&mut self, command: &Command) -> Result<Changed, CommandError> {
        match command {
            &Command::SetHeadLimit(id, head) => self.set_regulation(id, |r| r.head_limit_m = head),
            &Command::SetSlope(id, slope) => self.set_regulation(id, |r| r.slope = slope),
            &Command::SetSpeedCap(id, cap) => self.set_regulation(id, |r| r.speed_cap = cap),
            &Command::SetPowerLimit(id, power) => self.set_regulation(id, |r| r.power_limit_w = power),
            &Command::SetMinimumSpeed(id, speed) => self.set_regulation(id, |r| r.minimum_speed = speed),
            &Command::SetRegulation(id, regulation) => self.set_regulation(id, |r| *r = regulation),
            &Command::SetReferenceFlow(id, reference) => self.set_regulation(id, |r| r.reference = reference),
            &Command::SetRunning(id, running) => self.set_running(id, running),
            &Command::SetOpen(id, open) => self.set_open(id, open),
            &Command::SetPosition(id, position) => self.set_position(id, position),
            &Command::SetRoomTemperature(id, wanted) => self.set_room_temperature(id, wanted),
            &Command::SetOutdoor(wanted) => self.set_outdoor(wanted),
            &Command::EnterScenario(index) => self.enter_scenario(index),
            Command::OpenAllZones => Ok(self.set_zones(|_| true)),
            &Command::SetHeight(id, height) => self.set_height(id, height),
            Command::SetLimits(limits) => self.set_limits(limits),
            edit => self.edit(edit),
        }
    }

    fn unit_mut(&mut self, id: ComponentId) -> Result<(&str, &mut PumpUnit), CommandError> {
        match self.components.get_mut(&id) {
            Some(Component { name, kind: ComponentKind::Pump(unit), .. }) => Ok((name, unit)),
            _ => Err(CommandError::Missing("circulator")),
        }
    }

    pub(super) fn set_regulation(
        &mut self,
        id: ComponentId,
        change: impl FnOnce(&mut Regulation),
    ) -> Result<Changed, CommandError> {
        let (name, unit) = self.unit_mut(id)?;
        let mut wanted = unit.regulation;
        change(&mut wanted);
        wanted.check_for(unit.standby_power).map_err(|flaw| CommandError::Setting { pump: name.to_owned(), flaw })?;
        let settings = unit.regulation != wanted;
        unit.regulation = wanted;
        Ok(Changed { settings, ..Changed::default() })
    }

    fn set_running(&mut self, id: ComponentId, running: bool) -> Result<Changed, CommandError> {
        let (_, unit) = self.unit_mut(id)?;
        let structure = unit.running != running;
        unit.running = running;
        Ok(Changed { structure, ..Changed::default() })
    }

    fn set_open(&mut self, id: ComponentId, open: bool) -> Result<Changed, CommandError> {
        let component = self.components.get_mut(&id).ok_or(CommandError::Missing("valve"))?;
        let laws = component.is_open() != Some(open);
        if !laws || component.set_open(open) {
            return Ok(Changed { laws, ..Changed::default() });
        }
        Err(CommandError::NotAValve(component.name.clone()))
    }

    fn set_room_temperature(&mut self, id: ComponentId, wanted: f64) -> Result<Changed, CommandError> {
        match self.components.get_mut(&id).map(|c| &mut c.kind) {
            Some(ComponentKind::ThermostaticValve { set_c, .. }) if is_room_temperature(wanted) => {
                let laws = *set_c != wanted;
                *set_c = wanted;
                Ok(Changed { laws, ..Changed::default() })
            }
            Some(ComponentKind::ThermostaticValve { .. }) => Err(CommandError::Temperature("room", wanted)),
            _ => Err(CommandError::Missing("thermostatic valve")),
        }
    }

    fn set_outdoor(&mut self, wanted: Option<f64>) -> Result<Changed, CommandError> {
        if let Some(wanted) = wanted.filter(|wanted| !is_outdoor_temperature(*wanted)) {
            return Err(CommandError::Temperature("outdoor", wanted));
        }
        let laws = self.outdoor_now_c != wanted;
        self.outdoor_now_c = wanted;
        Ok(Changed { laws, ..Changed::default() })
    }

    fn set_height(&mut self, id: ComponentId, height: f64) -> Result<Changed, CommandError> {
        let component = self.components.get_mut(&id).ok_or(CommandError::Missing("component"))?;
        if !height.is_finite() {
            return Err(CommandError::Refused(format!("The height of {} is no number: type one.", component.name)));
        }
        let before = std::mem::replace(&mut component.height, height);
        // It moves no water, but gauges read another pressure.
        Ok(Changed { laws: before != height, ..Changed::default() })
    }

    fn set_limits(&mut self, limits: &Limits) -> Result<Changed, CommandError> {
        if !limits.can_be() {
            return Err(CommandError::Refused(format!("The limits cannot be: {}.", Limits::CAN_BE)));
        }
        let drawing = self.limits != *limits;
        self.limits.clone_from(limits);
        Ok(Changed { drawing, ..Changed::default() })
    }

    fn set_position(&mut self, id: ComponentId, wanted: f64) -> Result<Changed, CommandError> {
        match self.components.get_mut(&id).map(|c| &mut c.kind) {
            Some(
                ComponentKind::ControlValve { position, .. }
                | ComponentKind::ThreeWayValve(ThreeWayValve { position, .. }),
            ) if wanted.is_finite() => {
                let before = std::mem::replace(position, wanted.clamp(0.0, 1.0));
                Ok(Changed { laws: before != *position, ..Changed::default() })
            }
            _ => Err(CommandError::Missing("control valve")),
        }
    }

    fn enter_scenario(&mut self, index: usize) -> Result<Changed, CommandError> {
        let scenario = self.scenarios.get(index).ok_or(CommandError::Missing("scenario"))?;
        let (shut, outdoor_c) = (scenario.shut.clone(), scenario.outdoor_c);
        let weather = self.set_outdoor(outdoor_c)?;
        Ok(weather.and(self.set_zones(|zone| !shut.contains(&zone))))
    }

    /// Opens or shuts the valve of every zone.
    fn set_zones(&mut self, open: impl Fn(super::ZoneId) -> bool) -> Changed {
        let mut laws = false;
        for (id, zone) in &self.zones {
            if let Some(valve) = zone.valve.and_then(|valve| self.components.get_mut(&valve))
                && valve.is_open() != Some(open(*id))
            {
                laws |= valve.set_open(open(*id));
            }
        }
        Changed { laws, ..Changed::default() }
    }
}

//! A probe: the document with the pump in hand turning at one speed, whatever the flow. At each speed a state of the valves has one
//! point on the pump's curve, whatever the system holds (check valves, flow limiters, bypass valves), and all that settings do is
//! choose among these speeds.

use super::limits::{Allowed, Worst};
use super::states::ValveState;
use crate::document::{Acceptance, Changed, ComponentId, ComponentKind, Project};
use crate::engine::pump::Regulation;
use crate::study::answer::Answer;
use crate::study::lower::LowerError;
use crate::study::results::Results;
use crate::study::zones::{ZoneResult, ZoneState};

/// The document at one speed of the pump.
#[derive(Clone, Debug)]
pub(super) struct Probe {
    project: Project,
    pump: ComponentId,
    answer: Answer,
}

/// What a speed does to a state.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    /// Flow, m³/s, and head, m, of the pump.
    pub(super) point: [f64; 2],
    /// Electric power of the pump, W, and of all others.
    pub(super) power: [f64; 2],
    /// Zone by zone what it gets.
    pub(super) zones: Vec<ZoneResult>,
    /// The least flow of a source over its minimum; infinite where none has one.
    pub(super) source: f64,
    /// What comes nearest to its limit, or goes farthest beyond.
    pub(super) worst: Option<Worst>,
    /// Whether the answer stands.
    pub(super) stands: bool,
}

impl Probe {
    /// Lowers and solves the document with the pump running at full speed.
    pub(super) fn new(project: &Project, pump: ComponentId) -> Result<Self, LowerError> {
        let mut project = project.clone();
        if let Some(ComponentKind::Pump(unit)) = project.components.get_mut(&pump).map(|c| &mut c.kind) {
            unit.running = true;
            unit.regulation = Regulation::at_speed(1.0);
        }
        let answer = Answer::new(&project)?;
        Ok(Self { project, pump, answer })
    }

    /// Opens and shuts the zone valves, at full speed.
    pub(super) fn enter(&mut self, state: &ValveState) -> Result<(), LowerError> {
        self.turn_at(1.0);
        let mut changed = Changed { settings: true, ..Changed::default() };
        for command in state.commands(&self.project) {
            // Only what can be shut is a zone's valve; a document that says otherwise is refused on loading.
            changed = changed.and(self.project.apply(&command).unwrap_or_default());
        }
        self.answer.follow(&self.project, changed)
    }

    fn turn_at(&mut self, speed: f64) {
        if let Some(ComponentKind::Pump(unit)) = self.project.components.get_mut(&self.pump).map(|c| &mut c.kind) {
            unit.regulation = Regulation::at_speed(speed);
        }
    }

    /// The document at a speed, a fraction of full speed.
    pub(super) fn results_at(&mut self, speed: f64) -> Result<&Results, LowerError> {
        self.turn_at(speed);
        self.answer.follow(&self.project, Changed { settings: true, ..Changed::default() })?;
        Ok(&self.answer.results)
    }

    /// What a speed does.
    pub(super) fn at(&mut self, speed: f64, allowed: &Allowed) -> Result<Reading, LowerError> {
        let pump = self.pump;
        let results = self.results_at(speed)?;
        let others = results.pumps.iter().filter(|(id, _)| **id != pump).map(|(_, other)| other.electric_w).sum();
        let own = results.pumps.get(&pump);
        Ok(Reading {
            point: own.map_or([0.0, 0.0], |own| [own.flow, own.head]),
            power: [own.map_or(0.0, |own| own.electric_w), others],
            zones: results.zones.values().copied().collect(),
            source: allowed.source(results),
            worst: allowed.worst(results),
            stands: results.converged(),
        })
    }

    pub(super) fn pump(&self) -> ComponentId {
        self.pump
    }

    pub(super) fn project(&self) -> &Project {
        &self.project
    }

    pub(super) fn answer(&self) -> &Answer {
        &self.answer
    }
}

/// By how much of its design flow a zone falls short of its band; below zero while it does not. Where a thermostatic valve keeps
/// the room, that decides, by a number that only tells which.
pub(super) fn shortfall(zone: &ZoneResult, band: &Acceptance) -> f64 {
    /// What stands for "the room does not get what it needs".
    const NOT_KEPT: f64 = 0.1;
    let misses = matches!(
        zone.state,
        ZoneState::Still | ZoneState::Backwards | ZoneState::Starved | ZoneState::TooCold | ZoneState::TooWarm
    );
    match zone.state {
        ZoneState::Shut => f64::NEG_INFINITY,
        _ if zone.room_c.is_none() => band.low - zone.share,
        _ if misses => NOT_KEPT.max(band.low - zone.share),
        _ => -NOT_KEPT,
    }
}

/// By how much of its design flow a zone passes its band; below zero while it does not.
pub(super) fn excess(zone: &ZoneResult, band: &Acceptance) -> f64 {
    match zone.state {
        ZoneState::Shut => f64::NEG_INFINITY,
        // A thermostatic valve opens wide in a room that is too cold: that is no overflow.
        _ if zone.room_c.is_some() && zone.state != ZoneState::Overflowed => (zone.share - band.high).min(-1e-3),
        _ => zone.share - band.high,
    }
}

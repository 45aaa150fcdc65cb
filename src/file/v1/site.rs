//! Format 1: the site, the register of a circulator, the checklist fill – vent – release.

use crate::document::{self as live, StartingStep};
use crate::file::figure::KiloPascals;
use serde::{Deserialize, Serialize};

/// Basics of the job.
#[derive(Debug, Default, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Site {
    #[serde(skip_serializing_if = "String::is_empty")]
    place: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    client: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    designer: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    date: String,
}

/// What is written down of a circulator.
#[derive(Debug, Default, Deserialize, PartialEq, Serialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Register {
    #[serde(skip_serializing_if = "String::is_empty")]
    position: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    serial: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    supply: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    wiring: String,
    #[serde(skip_serializing_if = "Role::is_alone")]
    standby: Role,
}

/// What a circulator does beside the others.
#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
enum Role {
    #[default]
    Alone,
    Duty,
    Standby,
    Alternating,
}

/// The checklist; a step that is missing is not done.
#[derive(Debug, Default, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Starting {
    #[serde(skip_serializing_if = "Option::is_none")]
    held_off: Option<Tick>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pressure_tested: Option<Tick>,
    #[serde(skip_serializing_if = "Option::is_none")]
    flushed: Option<Tick>,
    #[serde(skip_serializing_if = "Option::is_none")]
    filled: Option<Tick>,
    #[serde(skip_serializing_if = "Option::is_none")]
    fill_pressure_kpa: Option<KiloPascals>,
    #[serde(skip_serializing_if = "Option::is_none")]
    vented: Option<Tick>,
    #[serde(skip_serializing_if = "Option::is_none")]
    released: Option<Tick>,
}

/// That a step is done.
#[derive(Debug, Default, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
struct Tick {
    #[serde(skip_serializing_if = "String::is_empty")]
    date: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    by: String,
}

impl Site {
    /// From the live type.
    pub fn of(site: &live::Site) -> Self {
        let live::Site { place, client, designer, date } = site.clone();
        Self { place, client, designer, date }
    }

    /// To the live type.
    pub fn live(self) -> live::Site {
        let Self { place, client, designer, date } = self;
        live::Site { place, client, designer, date }
    }
}

impl Role {
    fn of(role: live::StandbyRole) -> Self {
        match role {
            live::StandbyRole::Alone => Self::Alone,
            live::StandbyRole::Duty => Self::Duty,
            live::StandbyRole::Standby => Self::Standby,
            live::StandbyRole::Alternating => Self::Alternating,
        }
    }

    fn live(self) -> live::StandbyRole {
        match self {
            Self::Alone => live::StandbyRole::Alone,
            Self::Duty => live::StandbyRole::Duty,
            Self::Standby => live::StandbyRole::Standby,
            Self::Alternating => live::StandbyRole::Alternating,
        }
    }

    fn is_alone(&self) -> bool {
        *self == Self::Alone
    }
}

impl Register {
    /// From the live type.
    pub fn of(register: &live::PumpRegister) -> Self {
        let live::PumpRegister { position, serial, supply, wiring, standby } = register.clone();
        Self { position, serial, supply, wiring, standby: Role::of(standby) }
    }

    /// To the live type.
    pub fn live(self) -> live::PumpRegister {
        let Self { position, serial, supply, wiring, standby } = self;
        live::PumpRegister { position, serial, supply, wiring, standby: standby.live() }
    }
}

impl Starting {
    /// From the live type.
    pub fn of(starting: &live::Starting) -> Self {
        let tick = |step| {
            let tick = starting.ticks.get(&step);
            tick.map(|tick| Tick { date: tick.date.clone(), by: tick.by.clone() })
        };
        Self {
            held_off: tick(StartingStep::HeldOff),
            pressure_tested: tick(StartingStep::PressureTested),
            flushed: tick(StartingStep::Flushed),
            filled: tick(StartingStep::Filled),
            fill_pressure_kpa: starting.fill_pressure.map(KiloPascals::new),
            vented: tick(StartingStep::Vented),
            released: tick(StartingStep::Released),
        }
    }

    /// To the live type.
    pub fn live(self) -> live::Starting {
        let steps = [
            (StartingStep::HeldOff, self.held_off),
            (StartingStep::PressureTested, self.pressure_tested),
            (StartingStep::Flushed, self.flushed),
            (StartingStep::Filled, self.filled),
            (StartingStep::Vented, self.vented),
            (StartingStep::Released, self.released),
        ];
        let tick = |(step, tick): (StartingStep, Option<Tick>)| {
            tick.map(|tick| (step, live::Tick { date: tick.date, by: tick.by }))
        };
        live::Starting {
            ticks: steps.into_iter().filter_map(tick).collect(),
            fill_pressure: self.fill_pressure_kpa.map(|pressure| pressure.si),
        }
    }
}

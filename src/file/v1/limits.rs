//! Format 1: limits of the design.

use crate::document as live;
use crate::file::figure::{KiloPascals, Percents, Plain};
use serde::{Deserialize, Serialize};

/// What pipes, valves and pressures may come to.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Limits {
    friction_pa_per_m: (Plain, Plain),
    velocity_m_per_s: (Plain, Plain),
    authority_percent: Percents,
    boiling_margin_kpa: KiloPascals,
    #[serde(default, skip_serializing_if = "ValveDrop::is_usual")]
    valve_drop_kpa: ValveDrop,
    source: String,
}

/// Most drop over a valve: the usual one where the file says nothing.
#[derive(Debug, Deserialize, Serialize)]
#[serde(transparent)]
struct ValveDrop(KiloPascals);

impl Default for ValveDrop {
    fn default() -> Self {
        Self(KiloPascals::new(live::Limits::default().valve_drop))
    }
}

impl ValveDrop {
    fn is_usual(&self) -> bool {
        self.0 == Self::default().0
    }
}

impl Default for Limits {
    fn default() -> Self {
        Self::of(&live::Limits::default())
    }
}

impl Limits {
    /// From the live type.
    pub fn of(limits: &live::Limits) -> Self {
        let band = |[least, most]: [f64; 2]| (Plain::new(least), Plain::new(most));
        Self {
            friction_pa_per_m: band(limits.friction),
            velocity_m_per_s: band(limits.velocity),
            authority_percent: Percents::new(limits.authority),
            boiling_margin_kpa: KiloPascals::new(limits.boiling_margin),
            valve_drop_kpa: ValveDrop(KiloPascals::new(limits.valve_drop)),
            source: limits.source.clone(),
        }
    }

    /// To the live type.
    pub fn live(self) -> live::Limits {
        let band = |(least, most): (Plain, Plain)| [least.si, most.si];
        live::Limits {
            friction: band(self.friction_pa_per_m),
            velocity: band(self.velocity_m_per_s),
            authority: self.authority_percent.si,
            boiling_margin: self.boiling_margin_kpa.si,
            valve_drop: self.valve_drop_kpa.0.si,
            source: self.source,
        }
    }
}

//! Format 1: design temperatures, fluid and acceptance.

use crate::document as live;
use crate::engine::fluid::{self, FluidError, FluidKind};
use crate::file::figure::{Percents, Plain};
use serde::{Deserialize, Serialize};

/// Design temperatures and duty.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Design {
    duty: Duty,
    supply_c: Plain,
    return_c: Plain,
    room_c: Plain,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    outdoor_c: Option<Plain>,
}

/// Heating or cooling.
#[derive(Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case")]
enum Duty {
    Heating,
    Cooling,
}

/// What is in the pipes.
#[derive(Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Fluid {
    Water,
    PropyleneGlycol { mass_percent: Percents },
    EthyleneGlycol { mass_percent: Percents },
}

/// How far flows may be off.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Acceptance {
    low_percent: Percents,
    high_percent: Percents,
    source: String,
}

impl Design {
    /// From the live type.
    pub fn of(basis: &live::DesignBasis) -> Self {
        Self {
            duty: match basis.duty {
                live::Duty::Heating => Duty::Heating,
                live::Duty::Cooling => Duty::Cooling,
            },
            supply_c: Plain::new(basis.supply_c),
            return_c: Plain::new(basis.return_c),
            room_c: Plain::new(basis.room_c),
            outdoor_c: basis.outdoor_c.map(Plain::new),
        }
    }

    /// To the live type.
    pub fn live(&self) -> live::DesignBasis {
        live::DesignBasis {
            duty: match self.duty {
                Duty::Heating => live::Duty::Heating,
                Duty::Cooling => live::Duty::Cooling,
            },
            supply_c: self.supply_c.si,
            return_c: self.return_c.si,
            room_c: self.room_c.si,
            outdoor_c: self.outdoor_c.map(|outdoor| outdoor.si),
        }
    }
}

impl Fluid {
    /// From the live type.
    pub fn of(fluid: &fluid::Fluid) -> Self {
        let mass_percent = Percents::new(fluid.glycol_mass_fraction());
        match fluid.kind() {
            FluidKind::Water => Self::Water,
            FluidKind::PropyleneGlycol => Self::PropyleneGlycol { mass_percent },
            FluidKind::EthyleneGlycol => Self::EthyleneGlycol { mass_percent },
        }
    }

    /// To the live type.
    ///
    /// # Errors
    /// A share that the fluid's tables do not cover.
    pub fn live(&self) -> Result<fluid::Fluid, FluidError> {
        match self {
            Self::Water => Ok(fluid::Fluid::water()),
            Self::PropyleneGlycol { mass_percent } => fluid::Fluid::new(FluidKind::PropyleneGlycol, mass_percent.si),
            Self::EthyleneGlycol { mass_percent } => fluid::Fluid::new(FluidKind::EthyleneGlycol, mass_percent.si),
        }
    }
}

impl Default for Acceptance {
    fn default() -> Self {
        Self::of(&live::Acceptance::default())
    }
}

impl Acceptance {
    /// From the live type.
    pub fn of(band: &live::Acceptance) -> Self {
        Self {
            low_percent: Percents::new(band.low),
            high_percent: Percents::new(band.high),
            source: band.source.clone(),
        }
    }

    /// To the live type.
    pub fn live(self) -> live::Acceptance {
        live::Acceptance { low: self.low_percent.si, high: self.high_percent.si, source: self.source }
    }
}

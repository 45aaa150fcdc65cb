//! Format 1: how an emitter's heat and a control valve's Kv follow their cause.

use crate::engine::links::Characteristic as LiveCharacteristic;
use crate::engine::links::emitter::{CoilArrangement, EmitterLaw};
use crate::file::figure::{Percents, Plain};
use serde::{Deserialize, Serialize};

/// How an emitter's heat follows from flow and supply temperature.
#[derive(Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Law {
    Radiator { exponent: Plain },
    FloorLoop { exponent: Plain },
    Coil { arrangement: Arrangement, water_film_percent: Percents },
    ConstantDrop,
}

/// How water and air pass each other in a coil.
#[derive(Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Arrangement {
    Counterflow,
    CrossflowUnmixed,
}

/// How Kv follows the position.
#[derive(Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Characteristic {
    Linear,
    EqualPercentage { rangeability: Plain },
    QuickOpening,
}

/// Exponent of an emitter's loss over flow: 2 where the file says nothing.
#[derive(Debug, Deserialize, Serialize)]
#[serde(transparent)]
pub(super) struct LossExponent(pub Plain);

impl Default for LossExponent {
    fn default() -> Self {
        Self(Plain::new(2.0))
    }
}

impl LossExponent {
    /// Whether leaving it out changes nothing.
    pub fn is_usual(&self) -> bool {
        self.0 == Self::default().0
    }
}

impl Law {
    /// From the live type.
    pub fn of(law: EmitterLaw) -> Self {
        match law {
            EmitterLaw::Radiator { exponent } => Self::Radiator { exponent: Plain::new(exponent) },
            EmitterLaw::FloorLoop { exponent } => Self::FloorLoop { exponent: Plain::new(exponent) },
            EmitterLaw::Coil { arrangement, water_film_share } => Self::Coil {
                arrangement: match arrangement {
                    CoilArrangement::Counterflow => Arrangement::Counterflow,
                    CoilArrangement::CrossflowUnmixed => Arrangement::CrossflowUnmixed,
                },
                water_film_percent: Percents::new(water_film_share),
            },
            EmitterLaw::ConstantDrop => Self::ConstantDrop,
        }
    }

    /// To the live type.
    pub fn live(&self) -> EmitterLaw {
        match self {
            Self::Radiator { exponent } => EmitterLaw::Radiator { exponent: exponent.si },
            Self::FloorLoop { exponent } => EmitterLaw::FloorLoop { exponent: exponent.si },
            Self::Coil { arrangement, water_film_percent } => EmitterLaw::Coil {
                arrangement: match arrangement {
                    Arrangement::Counterflow => CoilArrangement::Counterflow,
                    Arrangement::CrossflowUnmixed => CoilArrangement::CrossflowUnmixed,
                },
                water_film_share: water_film_percent.si,
            },
            Self::ConstantDrop => EmitterLaw::ConstantDrop,
        }
    }
}

impl Characteristic {
    /// From the live type.
    pub fn of(characteristic: LiveCharacteristic) -> Self {
        match characteristic {
            LiveCharacteristic::Linear => Self::Linear,
            LiveCharacteristic::EqualPercentage { rangeability } => {
                Self::EqualPercentage { rangeability: Plain::new(rangeability) }
            }
            LiveCharacteristic::QuickOpening => Self::QuickOpening,
        }
    }

    /// To the live type.
    pub fn live(&self) -> LiveCharacteristic {
        match self {
            Self::Linear => LiveCharacteristic::Linear,
            Self::EqualPercentage { rangeability } => {
                LiveCharacteristic::EqualPercentage { rangeability: rangeability.si }
            }
            Self::QuickOpening => LiveCharacteristic::QuickOpening,
        }
    }
}

//! Format 1: what results are judged by and compared with: energy, uncertainty, variants of settings.

use super::pump::Settings;
use crate::document as live;
use crate::file::figure::{Percents, Plain};
use serde::{Deserialize, Serialize};

/// What a kilowatt-hour costs and emits.
#[derive(Debug, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Energy {
    #[serde(skip_serializing_if = "Option::is_none")]
    price_per_kwh: Option<Plain>,
    #[serde(skip_serializing_if = "String::is_empty")]
    currency: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    price_source: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    co2_kg_per_kwh: Option<Plain>,
    #[serde(skip_serializing_if = "String::is_empty")]
    co2_source: String,
    counts_standby: bool,
}

/// How far figures may be off.
#[derive(Debug, Deserialize, Serialize)]
#[serde(default, deny_unknown_fields)]
pub(super) struct Uncertainty {
    length_percent: Percents,
    roughness_percent: Percents,
    glycol_percent: Percents,
    valve_percent: Percents,
}

/// Settings of a pump under a name.
#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Variant {
    pub name: String,
    pub pump: String,
    pub settings: Settings,
}

impl Default for Energy {
    fn default() -> Self {
        Self::of(&live::EnergyBasis::default())
    }
}

impl Energy {
    /// From the live type.
    pub fn of(energy: &live::EnergyBasis) -> Self {
        Self {
            price_per_kwh: energy.price_per_kwh.map(Plain::new),
            currency: energy.currency.clone(),
            price_source: energy.price_source.clone(),
            co2_kg_per_kwh: energy.co2_kg_per_kwh.map(Plain::new),
            co2_source: energy.co2_source.clone(),
            counts_standby: energy.counts_standby,
        }
    }

    /// To the live type.
    pub fn live(self) -> live::EnergyBasis {
        live::EnergyBasis {
            price_per_kwh: self.price_per_kwh.map(|price| price.si),
            currency: self.currency,
            price_source: self.price_source,
            co2_kg_per_kwh: self.co2_kg_per_kwh.map(|factor| factor.si),
            co2_source: self.co2_source,
            counts_standby: self.counts_standby,
        }
    }
}

impl Default for Uncertainty {
    fn default() -> Self {
        Self::of(&live::Uncertainty::default())
    }
}

impl Uncertainty {
    /// From the live type.
    pub fn of(off: &live::Uncertainty) -> Self {
        Self {
            length_percent: Percents::new(off.length),
            roughness_percent: Percents::new(off.roughness),
            glycol_percent: Percents::new(off.glycol),
            valve_percent: Percents::new(off.valve),
        }
    }

    /// To the live type.
    pub fn live(&self) -> live::Uncertainty {
        live::Uncertainty {
            length: self.length_percent.si,
            roughness: self.roughness_percent.si,
            glycol: self.glycol_percent.si,
            valve: self.valve_percent.si,
        }
    }
}

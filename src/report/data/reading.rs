//! What an instrument reads, as it stands in JSON.

use super::parts::{kilo, m3_per_h};
use crate::study::Reading;
use serde::Serialize;

/// What an instrument reads; one of the three.
#[derive(Serialize)]
pub(super) struct ReadingPart<'a> {
    name: &'a str,
    kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    flow_m3_per_h: Option<f64>,

    #[serde(skip_serializing_if = "Option::is_none")]
    pressure_kpa: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pressure_above_vessel_kpa: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature_c: Option<f64>,
}

impl<'a> ReadingPart<'a> {
    pub fn new(name: &'a str, kind: &'static str, reading: Reading) -> Self {
        let none = Self {
            name,
            kind,
            flow_m3_per_h: None,
            pressure_kpa: None,
            pressure_above_vessel_kpa: None,
            temperature_c: None,
        };
        match reading {
            Reading::Flow(flow) => Self { flow_m3_per_h: Some(m3_per_h(flow)), ..none },
            Reading::Pressure(pressure) => Self { pressure_kpa: Some(kilo(pressure)), ..none },
            Reading::PressureAboveVessel(pressure) => Self { pressure_above_vessel_kpa: Some(kilo(pressure)), ..none },
            Reading::Temperature(celsius) => Self { temperature_c: Some(celsius), ..none },
        }
    }
}

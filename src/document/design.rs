//! The design basis: what the flows are meant for.

use super::Zone;
use crate::engine::fluid::{Fluid, FluidError, FluidProperties};

/// Heating or cooling.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Duty {
    /// The fluid brings heat.
    Heating,
    /// The fluid takes heat away.
    Cooling,
}

impl Duty {
    /// Room temperature, or that of the air entering coils, where none is given, °C (common practice, no source).
    #[must_use]
    pub fn usual_room_c(self) -> f64 {
        match self {
            Self::Heating => 20.0,
            Self::Cooling => 26.0,
        }
    }
}

/// Temperatures that the system is designed for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DesignBasis {
    /// Heating or cooling.
    pub duty: Duty,
    /// Supply temperature, °C.
    pub supply_c: f64,
    /// Return temperature, °C.
    pub return_c: f64,
    /// Room temperature, or entering-air temperature of coils, °C.
    pub room_c: f64,
    /// Outdoor temperature for which the loads are reckoned, °C; thermostatic valves need it, all else does without.
    pub outdoor_c: Option<f64>,
}

impl DesignBasis {
    /// Mean of supply and return, at which fluid properties are taken.
    #[must_use]
    pub fn mean_c(&self) -> f64 {
        0.5 * (self.supply_c + self.return_c)
    }

    /// Design temperature drop of a zone in K, without sign.
    #[must_use]
    pub fn temperature_drop(&self, zone: &Zone) -> f64 {
        (self.supply_c - zone.return_c.unwrap_or(self.return_c)).abs()
    }

    /// Fluid properties at the mean temperature.
    ///
    /// # Errors
    /// A temperature outside the fluid's range.
    pub fn properties(&self, fluid: &Fluid) -> Result<FluidProperties, FluidError> {
        fluid.properties(self.mean_c())
    }

    /// Design flow of a zone, m³/s: Φ/(ρ c_p ΔT).
    #[must_use]
    pub fn flow(&self, zone: &Zone, properties: &FluidProperties) -> f64 {
        zone.load / (properties.volumetric_heat_capacity_j_per_m3_k() * self.temperature_drop(zone))
    }
}

/// Whether a temperature can be that of a room, °C.
pub(super) fn is_room_temperature(celsius: f64) -> bool {
    (-30.0..=60.0).contains(&celsius)
}

/// Whether a temperature can be that of the air outdoors, °C.
pub(super) fn is_outdoor_temperature(celsius: f64) -> bool {
    (-70.0..=60.0).contains(&celsius)
}

/// How far a zone's flow may be off its design flow, and who says so.
#[derive(Clone, Debug, PartialEq)]
pub struct Acceptance {
    /// Least share of design flow.
    pub low: f64,
    /// Greatest share of design flow.
    pub high: f64,
    /// Where the band comes from.
    pub source: String,
}

impl Default for Acceptance {
    fn default() -> Self {
        Self { low: 0.9, high: 1.1, source: "±10 %, common in balancing specifications (from memory)".to_owned() }
    }
}

//! Valves by flow coefficient: Δp = 1 bar · (Q/Kv)² · ρ/1000, Q and Kv in m³/h (the definition of Kv, IEC 60534).
//!
//! In metres of the pumped fluid that is 10.197 (Q/Kv)² whatever the density.

use super::{Drop, FlowRange};

/// One bar in Pa, times the reference density, for Kv in m³/h and flow in m³/s.
pub(super) const KV_SCALE: f64 = 1e5 * 3600.0 * 3600.0 / 1000.0;

/// How Kv follows the position of the valve, as a share of the fully open Kv.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Characteristic {
    /// Share equals position.
    Linear,
    /// R^(x−1) with rangeability R (IEC 60534-2-4 form, from memory); shut at x = 0 although the law leaves 1/R there.
    EqualPercentage {
        /// Rangeability R, often 30 to 50.
        rangeability: f64,
    },
    /// √x: most of the flow early in the stroke (common practice, no source).
    QuickOpening,
}

impl Characteristic {
    /// Share of the fully open Kv at a position between 0 and 1.
    #[must_use]
    pub fn share(self, position: f64) -> f64 {
        let x = position.clamp(0.0, 1.0);
        if x == 0.0 {
            return 0.0;
        }
        match self {
            Self::Linear => x,
            Self::EqualPercentage { rangeability } => rangeability.powf(x - 1.0),
            Self::QuickOpening => x.sqrt(),
        }
    }
}

/// A valve at a position; zero Kv is shut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Valve {
    coefficient: f64,
    shut: bool,
    nominal: f64,
}

impl Valve {
    /// From the present Kv in m³/h and the density in kg/m³.
    #[must_use]
    pub fn new(kv_m3_per_h: f64, density: f64) -> Self {
        let shut = kv_m3_per_h <= 0.0;
        let coefficient = if shut { 0.0 } else { KV_SCALE * density / (kv_m3_per_h * kv_m3_per_h) };
        // The flow at 10 kPa.
        let nominal = if shut { 1e-4 } else { (1e4 / coefficient).sqrt() };
        Self { coefficient, shut, nominal }
    }

    /// From the fully open Kv, its characteristic and a position between 0 (shut) and 1.
    #[must_use]
    pub fn at_position(kvs_m3_per_h: f64, characteristic: Characteristic, position: f64, density: f64) -> Self {
        Self::new(kvs_m3_per_h * characteristic.share(position), density)
    }

    /// Pressure drop and derivative at a flow in m³/s.
    #[must_use]
    pub fn drop(&self, flow: f64) -> Drop {
        let q = flow.abs();
        Drop { pressure_pa: self.coefficient * flow * q, slope: 2.0 * self.coefficient * q }
    }

    /// Both directions, or none when shut.
    #[must_use]
    pub fn range(&self) -> FlowRange {
        if self.shut { FlowRange::NONE } else { FlowRange::ANY }
    }

    /// The flow at 10 kPa.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        self.nominal
    }
}

/// Pressure drop in Pa of a Kv (m³/h) at a flow (m³/s) and density (kg/m³).
#[must_use]
pub fn kv_pressure_drop_pa(kv_m3_per_h: f64, flow_m3_per_s: f64, density: f64) -> f64 {
    KV_SCALE * density * (flow_m3_per_s / kv_m3_per_h).powi(2)
}

/// The Kv (m³/h) that takes a pressure drop (Pa) at a flow (m³/s) and density (kg/m³).
#[must_use]
pub fn kv_for(flow_m3_per_s: f64, pressure_pa: f64, density: f64) -> f64 {
    flow_m3_per_s * (KV_SCALE * density / pressure_pa).sqrt()
}

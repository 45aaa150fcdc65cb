//! Links with a bound on flow: the check valve (forward only) and the pressure-independent control valve (a most flow).

use super::{Drop, FlowRange, Valve};

/// Forward flow only: Δp = cracking pressure + Kv law; shut while the drop is at or below the cracking pressure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CheckValve {
    valve: Valve,
    cracking_pa: f64,
}

impl CheckValve {
    /// From Kv (m³/h) when open, cracking pressure (Pa) and density (kg/m³).
    #[must_use]
    pub fn new(kv_m3_per_h: f64, cracking_pa: f64, density: f64) -> Self {
        Self { valve: Valve::new(kv_m3_per_h, density), cracking_pa }
    }

    /// Pressure drop and derivative at a forward flow.
    #[must_use]
    pub fn drop(&self, flow: f64) -> Drop {
        let open = self.valve.drop(flow);
        Drop { pressure_pa: open.pressure_pa + self.cracking_pa, slope: open.slope }
    }

    /// The cracking pressure, Pa.
    #[must_use]
    pub fn cracking_pa(&self) -> f64 {
        self.cracking_pa
    }

    /// The flow at 10 kPa above cracking.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        self.valve.nominal_flow()
    }
}

/// A pressure-independent control valve: a fixed valve below its least pressure drop, its set flow from there on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FlowLimiter {
    coefficient: f64,
    set_flow: f64,
}

impl FlowLimiter {
    /// From the set flow (m³/s) and the least pressure drop (Pa) at which it is held; zero set flow is shut.
    #[must_use]
    pub fn new(set_flow_m3_per_s: f64, least_drop_pa: f64) -> Self {
        let set_flow = set_flow_m3_per_s.max(0.0);
        let coefficient = if set_flow > 0.0 { least_drop_pa / (set_flow * set_flow) } else { 0.0 };
        Self { coefficient, set_flow }
    }

    /// Pressure drop and derivative below the set flow.
    #[must_use]
    pub fn drop(&self, flow: f64) -> Drop {
        let q = flow.abs();
        Drop { pressure_pa: self.coefficient * flow * q, slope: 2.0 * self.coefficient * q }
    }

    /// Up to the set flow; backwards it is an ordinary valve.
    #[must_use]
    pub fn range(&self) -> FlowRange {
        if self.set_flow > 0.0 { FlowRange { low: f64::NEG_INFINITY, high: self.set_flow } } else { FlowRange::NONE }
    }

    /// The set flow.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        if self.set_flow > 0.0 { self.set_flow } else { 1e-4 }
    }
}

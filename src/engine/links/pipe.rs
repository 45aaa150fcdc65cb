//! A pipe: Δp = (f L/D + Σζ) ρ v²/2 (Darcy–Weisbach, with minor losses by K).

use super::{Drop, Expansion, Friction};
use std::f64::consts::PI;

/// A round pipe that runs full.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    friction: Friction,
    length_over_bore: f64,
    minor_k: f64,
    /// ρ/(2 A²), so that the drop is this times (f L/D + K) q².
    dynamic: f64,
    /// Re per flow: D/(ν A).
    reynolds_per_flow: f64,
    area_m2: f64,
    /// Laminar slope of the friction part, Pa per m³/s.
    laminar_slope: f64,
}

impl Pipe {
    /// From length (m), bore (m), absolute roughness (m), minor loss coefficient Σζ, density (kg/m³) and dynamic
    /// viscosity (Pa·s).
    #[must_use]
    pub fn new(length_m: f64, bore_m: f64, roughness_m: f64, minor_k: f64, density: f64, viscosity: f64) -> Self {
        let area_m2 = PI * bore_m * bore_m / 4.0;
        let dynamic = density / (2.0 * area_m2 * area_m2);
        let reynolds_per_flow = density * bore_m / (viscosity * area_m2);
        let length_over_bore = length_m / bore_m;
        Self {
            friction: Friction::new(roughness_m / bore_m),
            length_over_bore,
            minor_k,
            dynamic,
            reynolds_per_flow,
            area_m2,
            laminar_slope: 64.0 / reynolds_per_flow * length_over_bore * dynamic,
        }
    }

    /// Pressure drop and derivative at a flow in m³/s.
    #[must_use]
    pub fn drop(&self, flow: f64, warm: &mut f64) -> Drop {
        let q = flow.abs();
        let reynolds = q * self.reynolds_per_flow;
        if reynolds <= super::LAMINAR_END {
            let minor = self.dynamic * self.minor_k * q;
            return Drop { pressure_pa: flow * (self.laminar_slope + minor), slope: self.laminar_slope + 2.0 * minor };
        }
        let (f, by_reynolds) = self.friction.factor(reynolds, warm);
        let total = f * self.length_over_bore + self.minor_k;
        Drop {
            pressure_pa: self.dynamic * total * flow * q,
            slope: self.dynamic * q * (2.0 * total + self.length_over_bore * by_reynolds * reynolds),
        }
    }

    /// The law as a series around a flow other than zero.
    pub(super) fn expand(&self, flow: f64, warm: &mut f64) -> Expansion {
        let q = flow.abs();
        let (mut series, reach) = self.friction.series(q * self.reynolds_per_flow, warm);
        let (scale, minor) = (self.dynamic * flow * q, self.minor_k);
        for coefficient in &mut series {
            *coefficient *= self.length_over_bore;
        }
        series[0] += minor;
        series[1] += 2.0 * minor;
        series[2] += minor;
        Expansion { coefficients: series.map(|c| c * scale), reach }
    }

    /// Mean velocity in m/s at a flow.
    #[must_use]
    pub fn velocity(&self, flow: f64) -> f64 {
        flow / self.area_m2
    }

    /// Reynolds number at a flow.
    #[must_use]
    pub fn reynolds(&self, flow: f64) -> f64 {
        flow.abs() * self.reynolds_per_flow
    }

    /// Darcy friction factor at a flow; not a number at zero flow.
    #[must_use]
    pub fn darcy_factor(&self, flow: f64) -> f64 {
        self.friction.factor(self.reynolds(flow), &mut 0.0).0
    }

    /// Half a metre a second: an ordinary velocity in these systems (common practice, no source).
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        0.5 * self.area_m2
    }
}

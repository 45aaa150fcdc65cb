//! A differential-pressure bypass valve: a spring holds it shut up to the set pressure and lets it open in proportion over
//! a band above it. Opening x = (Δp − set)/band between 0 and 1, flow q = x Kv √(Δp/1 bar · 1000/ρ).
//!
//! The network asks for Δp at a flow: with u = √Δp the equation (u² − set)/band · c u = q is a cubic in u that rises for
//! u² ≥ set/3, so Newton from above finds its one root.

use super::Drop;

/// A spring-loaded bypass valve; forward flow only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BypassValve {
    set_pa: f64,
    band_pa: f64,
    /// Flow per √Pa when fully open, m³/s.
    open_flow: f64,
}

impl BypassValve {
    /// From the set pressure (Pa), the band (Pa) over which it opens fully, Kv (m³/h) fully open, density (kg/m³).
    #[must_use]
    pub fn new(set_pa: f64, band_pa: f64, kv_m3_per_h: f64, density: f64) -> Self {
        let open_flow = kv_m3_per_h / 3600.0 * (1000.0 / density / 1e5).sqrt();
        let set_pa = set_pa.max(1.0);
        Self { set_pa, band_pa: band_pa.max(1e-3 * set_pa).max(1.0), open_flow }
    }

    /// Pressure drop and derivative at a forward flow.
    #[must_use]
    pub fn drop(&self, flow: f64) -> Drop {
        let full_pa = self.set_pa + self.band_pa;
        let full_flow = self.open_flow * full_pa.sqrt();
        if flow >= full_flow {
            let coefficient = 1.0 / (self.open_flow * self.open_flow);
            return Drop { pressure_pa: coefficient * flow * flow, slope: 2.0 * coefficient * flow };
        }
        let scale = self.open_flow / self.band_pa;
        let q = flow.max(0.0);
        let mut u = full_pa.sqrt();
        for _ in 0..60 {
            let error = (u * u - self.set_pa) * u * scale - q;
            let step = error / (scale * (3.0 * u * u - self.set_pa));
            u -= step;
            if step.abs() <= 1e-15 * u {
                break;
            }
        }
        Drop { pressure_pa: u * u, slope: 2.0 * u / (scale * (3.0 * u * u - self.set_pa)) }
    }

    /// Opening between 0 and 1 at a pressure drop (Pa).
    #[must_use]
    pub fn opening(&self, pressure_pa: f64) -> f64 {
        ((pressure_pa - self.set_pa) / self.band_pa).clamp(0.0, 1.0)
    }

    /// The flow when just fully open.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        self.open_flow * (self.set_pa + self.band_pa).sqrt()
    }
}

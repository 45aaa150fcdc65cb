//! What a zone gets in numbers, and the sum over all zones.

use crate::document::Project;
use crate::study::{Results, ZoneResult};

/// Flow, heat and return temperature, of a zone or of all together.
pub(super) struct Amounts {
    /// Flow, m³/s.
    pub flow: f64,
    /// Design flow, m³/s.
    pub design_flow: f64,
    /// Flow over design flow.
    pub share: f64,
    /// Heat (or cold), W.
    pub heat: f64,
    /// Heat over load.
    pub heat_share: f64,
    /// Return temperature, °C; of all zones that of their water mixed, not a number where nothing flows.
    pub return_c: f64,
}

impl From<&ZoneResult> for Amounts {
    fn from(zone: &ZoneResult) -> Self {
        Self {
            flow: zone.flow,
            design_flow: zone.design_flow,
            share: zone.share,
            heat: zone.heat,
            heat_share: zone.heat_share,
            return_c: zone.return_c,
        }
    }
}

impl Amounts {
    /// All zones together.
    pub fn of_all(project: &Project, results: &Results) -> Self {
        let sum = |of: fn(&ZoneResult) -> f64| results.zones.values().map(of).sum::<f64>();
        let over = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let (flow, design_flow, heat) = (sum(|z| z.flow), sum(|z| z.design_flow), results.total_heat());
        let load: f64 = project.zones.values().map(|zone| zone.load).sum();
        let through = sum(|z| z.flow.abs());
        let warm = |z: &ZoneResult| if z.return_c.is_finite() { z.flow.abs() * z.return_c } else { 0.0 };
        let return_c = if through > 0.0 { sum(warm) / through } else { f64::NAN };
        Self { flow, design_flow, share: over(flow, design_flow), heat, heat_share: over(heat, load), return_c }
    }
}

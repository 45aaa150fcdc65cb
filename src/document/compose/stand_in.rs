//! A circulator that stands in until one is chosen: an invented curve of ample size through a duty, so that the drawing works.

use crate::document::{CataloguePoint, PumpRegister, PumpUnit, SettingSteps};
use crate::engine::pump::{ReferenceFlow, Regulation, hydraulic_w};

/// Head at no flow over design head, and how much of it is lost at design flow: a tenth is left over there (common practice,
/// no source).
const SHUT_OFF: f64 = 1.5;
const LOST: f64 = 0.4;
/// Greatest wire-to-water efficiency, the flow where it lies over design flow, and standby power, W (invented).
const EFFICIENCY: f64 = 0.4;
const BEST: f64 = 1.1;
const STANDBY_W: f64 = 3.0;

/// An invented circulator for a flow (m³/s) and head (m): H = 1.5 H_d − 0.4 H_d (Q/Q_d)², η = 0.4 (2r − r²) with
/// r = Q/(1.1 Q_d).
#[must_use]
pub fn stand_in(flow: f64, head: f64, density_kg_per_m3: f64) -> PumpUnit {
    let point = |share: f64| {
        let head = head * (SHUT_OFF - LOST * share * share);
        let r = share / BEST;
        // Q/η without the division of zero by zero at no flow.
        let power = hydraulic_w(density_kg_per_m3, flow * BEST, head) / (EFFICIENCY * (2.0 - r));
        CataloguePoint { flow: flow * share, head, power: STANDBY_W + power }
    };
    PumpUnit {
        catalogue: (0..=6).map(|step| point(0.25 * f64::from(step))).collect(),
        standby_power: STANDBY_W,
        full_speed_rpm: 4000.0,
        regulation: Regulation {
            head_limit_m: None,
            slope: 0.0,
            speed_cap: 1.0,
            power_limit_w: None,
            minimum_speed: 0.2,
            reference: ReferenceFlow::FullSpeed,
        },
        steps: SettingSteps::default(),
        running: true,
        stopped_kv: None,
        address: String::new(),
        register: PumpRegister::default(),
        least_inlet_pressure: None,
        npsh_required: None,
    }
}

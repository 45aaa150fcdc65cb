//! A branch: the emitter upright, its valves below it, between a tee on the flow main and one on the return main.

use super::plan::{PlannedValve, PlannedZone};
use super::sheet::{Sheet, branch, port};
use super::{RETURN_Y, ZONE_STEP, ZONE_X};
use crate::document::{ComponentId, ComponentKind, Emitter, Port, Turn, Zone};
use crate::engine::links::{Characteristic, kv_for, standard_kv_at_least};

/// What a zone valve takes at most, Pa (common practice, no source).
pub(in crate::document) const ZONE_VALVE_PA: f64 = 1e4;
/// What a thermostatic valve takes at its nominal Kv, Pa: between the 5 and 20 kPa that are quiet (common practice, no source).
pub(in crate::document) const THERMOSTATIC_PA: f64 = 1e4;
/// Kv of a thermostatic valve fully open over its nominal one, and its proportional band, K (common practice, no source).
pub(in crate::document) const THERMOSTATIC_OPEN: f64 = 1.6;
pub(in crate::document) const BAND_K: f64 = 2.0;
/// Pressure from which on a pressure-independent valve holds its flow, Pa (common practice, no source).
pub(in crate::document) const LEAST_DROP_PA: f64 = 2e4;
/// What a balancing valve takes until it is balanced, Pa.
pub(in crate::document) const UNBALANCED_PA: f64 = 1e3;
/// Rangeability of a control valve (common practice, no source).
pub(in crate::document) const RANGEABILITY: f64 = 50.0;

/// What a branch is drawn for.
pub(super) struct Branch<'a> {
    /// Its place in the row, from 0.
    pub(super) index: usize,
    /// The zone as planned.
    pub(super) zone: &'a PlannedZone,
    /// Its design flow, m³/s.
    pub(super) flow: f64,
    /// Density at design, kg/m³.
    pub(super) density: f64,
    /// Its design room temperature, °C.
    pub(super) room_c: f64,
    /// Its return temperature where it differs from the design's, °C.
    pub(super) return_c: Option<f64>,
}

/// The tees of a branch and its zone.
pub(super) struct Drawn {
    pub(super) flow_tee: ComponentId,
    pub(super) return_tee: ComponentId,
    pub(super) zone: Zone,
}

impl Branch<'_> {
    /// Draws the branch with its tees and gives the zone.
    pub(super) fn draw(&self, sheet: &mut Sheet) -> Drawn {
        let name = &self.zone.name;
        let x = ZONE_X + ZONE_STEP * self.index as f64;
        let flow_tee = sheet.tee(format!("{name} flow tee"), [x, 0.0]);
        let emitter = Emitter {
            law: self.zone.emitter,
            loss: self.zone.emitter_loss,
            rated_flow: None,
            exponent: 2.0,
            air_outlet_c: self.zone.air_outlet_c,
        };
        let emitter = sheet.put(format!("{name} emitter"), [x, 4.0], Turn::Down, ComponentKind::Emitter(emitter));
        let balancing = (self.zone.valve != PlannedValve::PressureIndependent).then(|| {
            let kv = standard_kv_at_least(kv_for(self.flow, UNBALANCED_PA, self.density));
            let kind = ComponentKind::BalancingValve { kv };
            sheet.put(format!("{name} balancing valve"), [x, 7.0], Turn::Down, kind)
        });
        let valve = self.valve().map(|(word, kind)| sheet.put(format!("{name} {word}"), [x, 10.0], Turn::Down, kind));
        let return_tee = sheet.tee(format!("{name} return tee"), [x, RETURN_Y]);
        let run = self.zone.branch;
        sheet.pipe(format!("{name} branch flow"), branch(flow_tee), port(emitter, Port::Inlet), run, Vec::new());
        let mut last = emitter;
        for next in [balancing, valve].into_iter().flatten() {
            sheet.joint(port(last, Port::Outlet), port(next, Port::Inlet), Vec::new());
            last = next;
        }
        sheet.pipe(format!("{name} branch return"), port(last, Port::Outlet), branch(return_tee), run, Vec::new());
        // A thermostatic valve is the room's, not a hand's: it cannot be shut.
        let valve = valve.filter(|_| self.zone.valve != PlannedValve::Thermostatic);
        let zone = Zone {
            name: name.clone(),
            load: self.zone.load,
            emitter,
            valve,
            room_c: self.zone.room_c,
            gain: 0.0,
            return_c: self.return_c,
        };
        Drawn { flow_tee, return_tee, zone }
    }

    /// What the valve is called and what it is.
    fn valve(&self) -> Option<(&'static str, ComponentKind)> {
        let for_drop = |pa: f64| kv_for(self.flow, pa, self.density);
        let given = self.zone.valve_kv;
        Some(match self.zone.valve {
            PlannedValve::Zone => {
                let kv = given.unwrap_or_else(|| standard_kv_at_least(for_drop(ZONE_VALVE_PA)));
                ("zone valve", ComponentKind::ZoneValve { kv, open: true })
            }
            PlannedValve::Control => {
                // As much as the emitter takes gives it half of the branch as authority.
                let most = self.zone.emitter_loss.max(ZONE_VALVE_PA);
                let kvs = given.unwrap_or_else(|| standard_kv_at_least(for_drop(most)));
                let characteristic = Characteristic::EqualPercentage { rangeability: RANGEABILITY };
                let kind = ComponentKind::ControlValve { kvs, characteristic, position: 1.0, shut: false };
                ("control valve", kind)
            }
            PlannedValve::Thermostatic => {
                let kv = given.unwrap_or_else(|| for_drop(THERMOSTATIC_PA));
                let kvs = THERMOSTATIC_OPEN * kv;
                let kind = ComponentKind::ThermostaticValve { kv, kvs, set_c: self.room_c, band_k: BAND_K };
                ("thermostatic valve", kind)
            }
            PlannedValve::PressureIndependent => {
                let kind = ComponentKind::PressureIndependentValve {
                    set_flow: self.flow,
                    least_drop: LEAST_DROP_PA,
                    open: true,
                };
                ("pressure-independent valve", kind)
            }
            PlannedValve::Without => return None,
        })
    }
}

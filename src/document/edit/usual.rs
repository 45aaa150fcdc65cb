//! Usual figures of a new component: sized for the zones that are there, so that it neither chokes the drawing nor is lost in
//! it. All of them are common practice without a source, to be overwritten by the figures of what is really built.

use super::choice::ComponentChoice;
use crate::document::compose::usual::{
    BAND_K, LEAST_DROP_PA, RANGEABILITY, STRAINER_PA, THERMOSTATIC_OPEN, THERMOSTATIC_PA, UNBALANCED_PA,
    UNKNOWN_HEAD_M, ZONE_VALVE_PA,
};
use crate::document::{
    ComponentId, ComponentKind, Emitter, Project, Source, ThreeWayAction, ThreeWayValve, Zone, stand_in,
};
use crate::engine::links::emitter::{CoilArrangement, EmitterLaw};
use crate::engine::links::{Characteristic, kv_for, standard_kv_at_least};

/// Heat load of a zone where nothing else is known, W: a room of some 20 m².
const LOAD_W: f64 = 1500.0;
/// Zones that a system is taken to have where none is drawn yet.
const ZONES: f64 = 4.0;
/// Losses at design flow, Pa: a source, radiators, loops of a floor, a coil, any other emitter.
const SOURCE_PA: f64 = 1e4;
const RADIATOR_PA: f64 = 2e3;
const FLOOR_PA: f64 = 1.5e4;
const COIL_PA: f64 = 1.5e4;
const PLAIN_PA: f64 = 1e4;
/// Exponents of heat over excess temperature: of a panel radiator (EN 442) and a floor (EN 1264-2), both from memory.
const RADIATOR_EXPONENT: f64 = 1.3;
const FLOOR_EXPONENT: f64 = 1.1;
/// Share of a coil's resistance on the side of the water, and of the way from entering air to supply that the air is changed.
const WATER_FILM: f64 = 0.3;
const AIR_WAY: f64 = 0.4;
/// What a check valve takes when open and what opens it; what an isolation valve takes, Pa.
const CHECK_VALVE_PA: f64 = 2e3;
const CRACKING_PA: f64 = 1e3;
const ISOLATION_PA: f64 = 500.0;
/// Where a bypass valve begins to open and its band, Pa, and the share of the system's flow that it passes.
const BYPASS_PA: f64 = 2e4;
const BYPASS_BAND_PA: f64 = 5e3;
const BYPASS_SHARE: f64 = 0.3;
/// What a three-way valve takes and what a flow meter takes, Pa, and the share of its Kv that a strainer has when it is due.
const THREE_WAY_PA: f64 = 1e4;
const FLOW_METER_PA: f64 = 2e3;
const FOULED: f64 = 0.7;
/// Velocity in a separator's vessel, m/s.
const SEPARATOR_M_PER_S: f64 = 0.1;

/// Flows for which things are sized, m³/s, and the density, kg/m³.
struct Flows {
    zone: f64,
    system: f64,
    density: f64,
}

impl Flows {
    /// Of the zones that are there: their mean and their sum.
    fn of(project: &Project) -> Self {
        /// Of water, where the fluid has no properties at design, kg/m³ and J/(m³ K).
        const DENSITY: f64 = 1000.0;
        const HEAT_CAPACITY: f64 = 4.18e6;
        let water = project.design.properties(&project.fluid).ok();
        let capacity = water.map_or(HEAT_CAPACITY, |water| water.volumetric_heat_capacity_j_per_m3_k());
        let loads = project.zones.values().map(|zone| (zone.load, project.design.temperature_drop(zone)));
        let flows: Vec<f64> =
            loads.map(|(load, drop_k)| load / (capacity * drop_k)).filter(|flow| *flow > 0.0).collect();
        let sum: f64 = flows.iter().sum();
        let usual = LOAD_W / (capacity * (project.design.supply_c - project.design.return_c).abs().max(1.0));
        let density = water.map_or(DENSITY, |water| water.density_kg_per_m3);
        if flows.is_empty() || !sum.is_finite() {
            return Self { zone: usual, system: ZONES * usual, density };
        }
        Self { zone: sum / flows.len() as f64, system: sum, density }
    }

    fn zone_kv(&self, drop_pa: f64) -> f64 {
        standard_kv_at_least(kv_for(self.zone, drop_pa, self.density))
    }

    fn system_kv(&self, drop_pa: f64) -> f64 {
        standard_kv_at_least(kv_for(self.system, drop_pa, self.density))
    }
}

impl ComponentChoice {
    /// The kind with usual figures for this project: what belongs to a zone is sized for the mean flow of the zones drawn so
    /// far, what belongs to the plant for their sum.
    #[must_use]
    pub fn with_usual_figures(self, project: &Project) -> ComponentKind {
        let flows = Flows::of(project);
        match self {
            Self::Source => ComponentKind::Source(Source {
                loss: SOURCE_PA,
                rated_flow: flows.system,
                minimum_flow: 0.0,
                supply_c: None,
            }),
            Self::Pump => ComponentKind::Pump(Box::new(stand_in(flows.system, UNKNOWN_HEAD_M, flows.density))),
            Self::Junction => ComponentKind::Junction,
            Self::Radiator => emitter(EmitterLaw::Radiator { exponent: RADIATOR_EXPONENT }, RADIATOR_PA, None),
            Self::FloorLoop => emitter(EmitterLaw::FloorLoop { exponent: FLOOR_EXPONENT }, FLOOR_PA, None),
            Self::Coil => {
                let law = EmitterLaw::Coil { arrangement: CoilArrangement::Counterflow, water_film_share: WATER_FILM };
                let design = &project.design;
                let air_outlet_c = design.room_c + AIR_WAY * (design.supply_c - design.room_c);
                // Told to a tenth, as a data sheet would.
                emitter(law, COIL_PA, Some((10.0 * air_outlet_c).round() / 10.0))
            }
            Self::PlainEmitter => emitter(EmitterLaw::ConstantDrop, PLAIN_PA, None),
            Self::ZoneValve => ComponentKind::ZoneValve { kv: flows.zone_kv(ZONE_VALVE_PA), open: true },
            Self::ControlValve => ComponentKind::ControlValve {
                kvs: flows.zone_kv(ZONE_VALVE_PA),
                characteristic: Characteristic::EqualPercentage { rangeability: RANGEABILITY },
                position: 1.0,
                shut: false,
            },
            Self::ThermostaticValve => {
                let kv = kv_for(flows.zone, THERMOSTATIC_PA, flows.density);
                let set_c = project.design.room_c.clamp(-30.0, 60.0);
                ComponentKind::ThermostaticValve { kv, kvs: THERMOSTATIC_OPEN * kv, set_c, band_k: BAND_K }
            }
            Self::BalancingValve => ComponentKind::BalancingValve { kv: flows.zone_kv(UNBALANCED_PA) },
            Self::PressureIndependentValve => {
                ComponentKind::PressureIndependentValve { set_flow: flows.zone, least_drop: LEAST_DROP_PA, open: true }
            }
            Self::BypassValve => {
                let kv = standard_kv_at_least(kv_for(BYPASS_SHARE * flows.system, BYPASS_PA, flows.density));
                ComponentKind::BypassValve { set_pressure: BYPASS_PA, band: BYPASS_BAND_PA, kv }
            }
            Self::CheckValve => {
                ComponentKind::CheckValve { kv: flows.system_kv(CHECK_VALVE_PA), cracking: CRACKING_PA }
            }
            Self::Strainer => {
                let kv = flows.system_kv(STRAINER_PA);
                ComponentKind::Strainer { kv, fouled_kv: FOULED * kv, fouling: 0.0 }
            }
            Self::MixingValve => three_way(ThreeWayAction::Mixing, flows.system_kv(THREE_WAY_PA)),
            Self::DivertingValve => three_way(ThreeWayAction::Diverting, flows.system_kv(THREE_WAY_PA)),
            Self::PressureGauge => ComponentKind::PressureGauge,
            Self::Thermometer => ComponentKind::Thermometer,
            Self::FlowMeter => ComponentKind::FlowMeter { kv: flows.system_kv(FLOW_METER_PA) },
            Self::IsolationValve => ComponentKind::IsolationValve { kv: flows.system_kv(ISOLATION_PA), open: true },
            Self::ExpansionVessel => ComponentKind::ExpansionVessel { pressure: None },
            Self::Separator => {
                let area = flows.system / SEPARATOR_M_PER_S;
                ComponentKind::Separator { bore: (4.0 * area / std::f64::consts::PI).sqrt() }
            }
        }
    }
}

/// A three-way valve with ways of equal size, three quarters open.
fn three_way(action: ThreeWayAction, kvs: f64) -> ComponentKind {
    ComponentKind::ThreeWayValve(ThreeWayValve {
        action,
        kvs,
        characteristic: Characteristic::EqualPercentage { rangeability: RANGEABILITY },
        bypass_kvs: kvs,
        bypass_characteristic: Characteristic::Linear,
        position: 0.75,
    })
}

/// An emitter that takes its loss at its zone's design flow.
fn emitter(law: EmitterLaw, loss: f64, air_outlet_c: Option<f64>) -> ComponentKind {
    ComponentKind::Emitter(Emitter { law, loss, rated_flow: None, exponent: 2.0, air_outlet_c })
}

impl Project {
    /// A zone with usual figures for an emitter that has none yet.
    #[must_use]
    pub fn usual_zone(&self, emitter: ComponentId) -> Zone {
        Zone { name: self.new_zone_name(), load: LOAD_W, emitter, valve: None, room_c: None, gain: 0.0, return_c: None }
    }
}

//! Format 1: what a component is, with its figures.

use super::law::{Characteristic, Law, LossExponent};
use super::pump::{Point, Settings, Steps};
use super::site::Register;
use crate::document::{self as live, ComponentKind};
use crate::file::figure::{CubicMetresPerHour, KiloPascals, Millimetres, Percents, Plain};
use serde::{Deserialize, Serialize};

/// What a component is.
#[derive(Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(super) enum Kind {
    Source {
        loss_kpa: KiloPascals,
        rated_flow_m3_per_h: CubicMetresPerHour,
        minimum_flow_m3_per_h: CubicMetresPerHour,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        supply_c: Option<Plain>,
    },
    Pump {
        catalogue: Vec<Point>,
        standby_w: Plain,
        full_speed_rpm: Plain,
        settings: Settings,
        #[serde(default, skip_serializing_if = "Steps::are_usual")]
        steps: Steps,
        #[serde(default = "runs")]
        running: bool,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        stopped_kv_m3_per_h: Option<Plain>,
        #[serde(default)]
        address: String,
        #[serde(default, skip_serializing_if = "is_default")]
        register: Box<Register>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        least_inlet_kpa: Option<KiloPascals>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        npsh_required_m: Option<Plain>,
    },
    Tee,
    Emitter {
        law: Law,
        loss_kpa: KiloPascals,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        rated_flow_m3_per_h: Option<CubicMetresPerHour>,
        #[serde(default, skip_serializing_if = "LossExponent::is_usual")]
        exponent: LossExponent,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        air_outlet_c: Option<Plain>,
    },
    ZoneValve {
        kv_m3_per_h: Plain,
        open: bool,
    },
    ControlValve {
        kvs_m3_per_h: Plain,
        characteristic: Characteristic,
        position_percent: Percents,
        #[serde(default, skip_serializing_if = "is_false")]
        shut: bool,
    },
    ThermostaticValve {
        kv_m3_per_h: Plain,
        kvs_m3_per_h: Plain,
        set_c: Plain,
        band_k: Plain,
    },
    BalancingValve {
        kv_m3_per_h: Plain,
    },
    PressureIndependentValve {
        set_flow_m3_per_h: CubicMetresPerHour,
        least_drop_kpa: KiloPascals,
        open: bool,
    },
    BypassValve {
        set_kpa: KiloPascals,
        band_kpa: KiloPascals,
        kv_m3_per_h: Plain,
    },
    CheckValve {
        kv_m3_per_h: Plain,
        cracking_kpa: KiloPascals,
    },
    Strainer {
        kv_m3_per_h: Plain,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        fouled_kv_m3_per_h: Option<Plain>,
        #[serde(default, skip_serializing_if = "Percents::is_zero")]
        fouling_percent: Percents,
    },
    Separator {
        bore_mm: Millimetres,
    },
    IsolationValve {
        kv_m3_per_h: Plain,
        open: bool,
    },
    ExpansionVessel,
    /// An expansion vessel of known pressure.
    ExpansionVesselAt {
        pressure_kpa: KiloPascals,
    },
    ThreeWayValve {
        action: Action,
        kvs_m3_per_h: Plain,
        characteristic: Characteristic,
        bypass_kvs_m3_per_h: Plain,
        bypass_characteristic: Characteristic,
        position_percent: Percents,
    },
    PressureGauge,
    Thermometer,
    FlowMeter {
        kv_m3_per_h: Plain,
    },
}

/// What a three-way valve does with its streams.
#[derive(Clone, Copy, Debug, Deserialize, Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Action {
    Mixing,
    Diverting,
}

/// A pump runs unless the file says otherwise.
fn runs() -> bool {
    true
}

/// A control valve stands at its position unless the file says that it is shut.
fn is_false(shut: &bool) -> bool {
    !shut
}

/// What has its default is not written.
fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

impl Kind {
    /// From the live type.
    pub fn of(kind: &ComponentKind) -> Self {
        match *kind {
            ComponentKind::Source(ref source) => Self::Source {
                loss_kpa: KiloPascals::new(source.loss),
                rated_flow_m3_per_h: CubicMetresPerHour::new(source.rated_flow),
                minimum_flow_m3_per_h: CubicMetresPerHour::new(source.minimum_flow),
                supply_c: source.supply_c.map(Plain::new),
            },
            ComponentKind::Pump(ref unit) => Self::of_pump(unit),
            ComponentKind::Junction => Self::Tee,
            ComponentKind::Emitter(ref emitter) => Self::Emitter {
                law: Law::of(emitter.law),
                loss_kpa: KiloPascals::new(emitter.loss),
                rated_flow_m3_per_h: emitter.rated_flow.map(CubicMetresPerHour::new),
                exponent: LossExponent(Plain::new(emitter.exponent)),
                air_outlet_c: emitter.air_outlet_c.map(Plain::new),
            },
            ComponentKind::ExpansionVessel { pressure: None } => Self::ExpansionVessel,
            ComponentKind::ExpansionVessel { pressure: Some(pressure) } => {
                Self::ExpansionVesselAt { pressure_kpa: KiloPascals::new(pressure) }
            }
            ComponentKind::ZoneValve { kv, open } => Self::ZoneValve { kv_m3_per_h: Plain::new(kv), open },
            ComponentKind::ControlValve { kvs, characteristic, position, shut } => Self::ControlValve {
                kvs_m3_per_h: Plain::new(kvs),
                characteristic: Characteristic::of(characteristic),
                position_percent: Percents::new(position),
                shut,
            },
            ComponentKind::ThermostaticValve { kv, kvs, set_c, band_k } => Self::ThermostaticValve {
                kv_m3_per_h: Plain::new(kv),
                kvs_m3_per_h: Plain::new(kvs),
                set_c: Plain::new(set_c),
                band_k: Plain::new(band_k),
            },
            ComponentKind::BalancingValve { kv } => Self::BalancingValve { kv_m3_per_h: Plain::new(kv) },
            ComponentKind::PressureIndependentValve { set_flow, least_drop, open } => Self::PressureIndependentValve {
                set_flow_m3_per_h: CubicMetresPerHour::new(set_flow),
                least_drop_kpa: KiloPascals::new(least_drop),
                open,
            },
            ComponentKind::BypassValve { set_pressure, band, kv } => Self::BypassValve {
                set_kpa: KiloPascals::new(set_pressure),
                band_kpa: KiloPascals::new(band),
                kv_m3_per_h: Plain::new(kv),
            },
            ComponentKind::CheckValve { kv, cracking } => {
                Self::CheckValve { kv_m3_per_h: Plain::new(kv), cracking_kpa: KiloPascals::new(cracking) }
            }
            ComponentKind::Separator { bore } => Self::Separator { bore_mm: Millimetres::new(bore) },
            ComponentKind::Strainer { kv, fouled_kv, fouling } => Self::Strainer {
                kv_m3_per_h: Plain::new(kv),
                fouled_kv_m3_per_h: (fouled_kv.to_bits() != kv.to_bits()).then(|| Plain::new(fouled_kv)),
                fouling_percent: Percents::new(fouling),
            },
            ComponentKind::ThreeWayValve(valve) => Self::ThreeWayValve {
                action: match valve.action {
                    live::ThreeWayAction::Mixing => Action::Mixing,
                    live::ThreeWayAction::Diverting => Action::Diverting,
                },
                kvs_m3_per_h: Plain::new(valve.kvs),
                characteristic: Characteristic::of(valve.characteristic),
                bypass_kvs_m3_per_h: Plain::new(valve.bypass_kvs),
                bypass_characteristic: Characteristic::of(valve.bypass_characteristic),
                position_percent: Percents::new(valve.position),
            },
            ComponentKind::PressureGauge => Self::PressureGauge,
            ComponentKind::Thermometer => Self::Thermometer,
            ComponentKind::FlowMeter { kv } => Self::FlowMeter { kv_m3_per_h: Plain::new(kv) },
            ComponentKind::IsolationValve { kv, open } => Self::IsolationValve { kv_m3_per_h: Plain::new(kv), open },
        }
    }

    fn of_pump(unit: &live::PumpUnit) -> Self {
        Self::Pump {
            catalogue: unit.catalogue.iter().map(Point::of).collect(),
            standby_w: Plain::new(unit.standby_power),
            full_speed_rpm: Plain::new(unit.full_speed_rpm),
            settings: Settings::of(&unit.regulation),
            steps: Steps::of(&unit.steps),
            running: unit.running,
            stopped_kv_m3_per_h: unit.stopped_kv.map(Plain::new),
            address: unit.address.clone(),
            register: Box::new(Register::of(&unit.register)),
            least_inlet_kpa: unit.least_inlet_pressure.map(KiloPascals::new),
            npsh_required_m: unit.npsh_required.map(Plain::new),
        }
    }

    /// To the live type.
    #[expect(clippy::too_many_lines, reason = "a table of fields, one arm a kind")]
    pub fn live(self) -> ComponentKind {
        match self {
            Self::Source { loss_kpa, rated_flow_m3_per_h, minimum_flow_m3_per_h, supply_c } => {
                ComponentKind::Source(live::Source {
                    loss: loss_kpa.si,
                    rated_flow: rated_flow_m3_per_h.si,
                    minimum_flow: minimum_flow_m3_per_h.si,
                    supply_c: supply_c.map(|supply| supply.si),
                })
            }
            Self::Pump {
                catalogue,
                standby_w,
                full_speed_rpm,
                settings,
                steps,
                running,
                stopped_kv_m3_per_h,
                address,
                register,
                least_inlet_kpa,
                npsh_required_m,
            } => ComponentKind::Pump(Box::new(live::PumpUnit {
                catalogue: catalogue.iter().map(Point::live).collect(),
                standby_power: standby_w.si,
                full_speed_rpm: full_speed_rpm.si,
                regulation: settings.live(),
                steps: steps.live(),
                running,
                stopped_kv: stopped_kv_m3_per_h.map(|kv| kv.si),
                address,
                register: register.live(),
                least_inlet_pressure: least_inlet_kpa.map(|pressure| pressure.si),
                npsh_required: npsh_required_m.map(|head| head.si),
            })),
            Self::Tee => ComponentKind::Junction,
            Self::Emitter { law, loss_kpa, rated_flow_m3_per_h, exponent, air_outlet_c } => {
                ComponentKind::Emitter(live::Emitter {
                    law: law.live(),
                    loss: loss_kpa.si,
                    rated_flow: rated_flow_m3_per_h.map(|flow| flow.si),
                    exponent: exponent.0.si,
                    air_outlet_c: air_outlet_c.map(|temperature| temperature.si),
                })
            }
            Self::ZoneValve { kv_m3_per_h, open } => ComponentKind::ZoneValve { kv: kv_m3_per_h.si, open },
            Self::ControlValve { kvs_m3_per_h, characteristic, position_percent, shut } => {
                ComponentKind::ControlValve {
                    kvs: kvs_m3_per_h.si,
                    characteristic: characteristic.live(),
                    position: position_percent.si,
                    shut,
                }
            }
            Self::ThermostaticValve { kv_m3_per_h, kvs_m3_per_h, set_c, band_k } => ComponentKind::ThermostaticValve {
                kv: kv_m3_per_h.si,
                kvs: kvs_m3_per_h.si,
                set_c: set_c.si,
                band_k: band_k.si,
            },
            Self::BalancingValve { kv_m3_per_h } => ComponentKind::BalancingValve { kv: kv_m3_per_h.si },
            Self::PressureIndependentValve { set_flow_m3_per_h, least_drop_kpa, open } => {
                ComponentKind::PressureIndependentValve {
                    set_flow: set_flow_m3_per_h.si,
                    least_drop: least_drop_kpa.si,
                    open,
                }
            }
            Self::BypassValve { set_kpa, band_kpa, kv_m3_per_h } => {
                ComponentKind::BypassValve { set_pressure: set_kpa.si, band: band_kpa.si, kv: kv_m3_per_h.si }
            }
            Self::CheckValve { kv_m3_per_h, cracking_kpa } => {
                ComponentKind::CheckValve { kv: kv_m3_per_h.si, cracking: cracking_kpa.si }
            }
            Self::Separator { bore_mm } => ComponentKind::Separator { bore: bore_mm.si },
            Self::Strainer { kv_m3_per_h, fouled_kv_m3_per_h, fouling_percent } => ComponentKind::Strainer {
                kv: kv_m3_per_h.si,
                fouled_kv: fouled_kv_m3_per_h.unwrap_or(kv_m3_per_h).si,
                fouling: fouling_percent.si,
            },
            Self::ThreeWayValve {
                action,
                kvs_m3_per_h,
                characteristic,
                bypass_kvs_m3_per_h,
                bypass_characteristic,
                position_percent,
            } => ComponentKind::ThreeWayValve(live::ThreeWayValve {
                action: match action {
                    Action::Mixing => live::ThreeWayAction::Mixing,
                    Action::Diverting => live::ThreeWayAction::Diverting,
                },
                kvs: kvs_m3_per_h.si,
                characteristic: characteristic.live(),
                bypass_kvs: bypass_kvs_m3_per_h.si,
                bypass_characteristic: bypass_characteristic.live(),
                position: position_percent.si,
            }),
            Self::PressureGauge => ComponentKind::PressureGauge,
            Self::Thermometer => ComponentKind::Thermometer,
            Self::FlowMeter { kv_m3_per_h } => ComponentKind::FlowMeter { kv: kv_m3_per_h.si },
            Self::IsolationValve { kv_m3_per_h, open } => ComponentKind::IsolationValve { kv: kv_m3_per_h.si, open },
            Self::ExpansionVessel => ComponentKind::ExpansionVessel { pressure: None },
            Self::ExpansionVesselAt { pressure_kpa } => {
                ComponentKind::ExpansionVessel { pressure: Some(pressure_kpa.si) }
            }
        }
    }
}

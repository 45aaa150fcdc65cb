//! Figures of a valve, a strainer or a meter that none can have.

use super::Found;
use crate::document::ComponentKind;
use crate::document::design::is_room_temperature;

/// Finds what is wrong with one; what is none of them has nothing here.
pub(super) fn figures(kind: &ComponentKind, found: &mut Found) {
    match kind {
        ComponentKind::ZoneValve { kv, .. }
        | ComponentKind::BalancingValve { kv }
        | ComponentKind::FlowMeter { kv }
        | ComponentKind::IsolationValve { kv, .. } => found.above_zero("Kv", *kv),
        ComponentKind::ControlValve { kvs, characteristic, position, .. } => {
            found.above_zero("Kv", *kvs);
            found.position(*position);
            found.characteristic(*characteristic);
        }
        ComponentKind::ThreeWayValve(valve) => {
            found.above_zero("Kv", valve.kvs);
            found.above_zero("Kv of the bypass", valve.bypass_kvs);
            found.position(valve.position);
            found.characteristic(valve.characteristic);
            found.characteristic(valve.bypass_characteristic);
        }
        ComponentKind::Strainer { kv, fouled_kv, fouling } => {
            found.above_zero("Kv", *kv);
            found.above_zero("Kv due for cleaning", *fouled_kv);
            if fouled_kv > kv {
                found.say(format!(
                    "its Kv when due for cleaning, {fouled_kv}, is more than that when clean, {kv}: correct one"
                ));
            }
            if !(0.0..=1.0).contains(fouling) {
                found.say("the fouling must lie between 0 and 100 %".to_owned());
            }
        }
        ComponentKind::ThermostaticValve { kv, kvs, set_c, band_k } => {
            found.above_zero("Kv", *kv);
            if found.number("Kv fully open", *kvs) && kvs < kv {
                found.say(format!(
                    "its Kv fully open, {kvs}, is less than that at the set temperature, {kv}: correct one"
                ));
            }
            if !is_room_temperature(*set_c) {
                found.say(format!("{set_c} °C is no room temperature to set: give one between −30 and 60 °C"));
            }
            found.above_zero("proportional band", *band_k);
        }
        ComponentKind::PressureIndependentValve { set_flow, least_drop, .. } => {
            found.above_zero("set flow", *set_flow);
            found.above_zero("least pressure drop", *least_drop);
        }
        ComponentKind::BypassValve { set_pressure, band, kv } => {
            found.above_zero("set pressure", *set_pressure);
            found.above_zero("band", *band);
            found.above_zero("Kv", *kv);
        }
        ComponentKind::CheckValve { kv, cracking } => {
            found.above_zero("Kv", *kv);
            found.at_least_zero("cracking pressure", *cracking);
        }
        _ => {}
    }
}

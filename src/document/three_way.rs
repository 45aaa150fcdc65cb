//! Three-way valves of the document.

use super::Port;
use crate::engine::links::{Characteristic, ThreeWay};

/// What a three-way valve does with its streams.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThreeWayAction {
    /// Two streams become one: inlet (controlled) and branch (bypass) meet at the outlet.
    Mixing,
    /// One stream becomes two: from the inlet to the outlet (controlled) and to the branch (bypass).
    Diverting,
}

/// Three-way valve. From inlet to outlet leads the controlled way, whatever it does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreeWayValve {
    /// Whether it mixes or diverts.
    pub action: ThreeWayAction,
    /// Kv of the controlled way fully open, m³/h.
    pub kvs: f64,
    /// How its Kv follows the position.
    pub characteristic: Characteristic,
    /// Kv of the bypass fully open, m³/h.
    pub bypass_kvs: f64,
    /// How its Kv follows one less the position.
    pub bypass_characteristic: Characteristic,
    /// Position between 0 (all through the bypass) and 1 (nothing through it).
    pub position: f64,
}

impl ThreeWayValve {
    /// Its two ways.
    #[must_use]
    pub fn ways(&self) -> ThreeWay {
        ThreeWay {
            kvs_m3_per_h: self.kvs,
            characteristic: self.characteristic,
            bypass_kvs_m3_per_h: self.bypass_kvs,
            bypass_characteristic: self.bypass_characteristic,
        }
    }

    /// The ports between which its bypass leads, in the direction of its flow.
    #[must_use]
    pub fn bypass_ends(&self) -> [Port; 2] {
        match self.action {
            ThreeWayAction::Mixing => [Port::Branch, Port::Outlet],
            ThreeWayAction::Diverting => [Port::Inlet, Port::Branch],
        }
    }
}

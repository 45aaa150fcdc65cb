//! Three-way valves: two ways that meet in one common port, and one stem that opens one way as it shuts the other.
//!
//! The controlled way stands at the position x, the bypass at 1 − x, each with its own Kvs and characteristic φ:
//!
//! ```text
//! Kv = Kvs φ(x)        Kv_b = Kvs_b φ_b(1 − x)
//! ```
//!
//! Two linear ways of one Kvs make Kv + Kv_b = Kvs whatever the position: at one pressure drop over both, the common flow
//! stays. Two equal-percentage ways do not: in the middle they let 2 R^−½ of it through (identities of the definitions; Kv as
//! IEC 60534 has it). Both ways are tight where they stand at 0.

use super::{Characteristic, Valve};

/// The two ways of a three-way valve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreeWay {
    /// Kv of the controlled way fully open, m³/h.
    pub kvs_m3_per_h: f64,
    /// How its Kv follows the position.
    pub characteristic: Characteristic,
    /// Kv of the bypass fully open, m³/h.
    pub bypass_kvs_m3_per_h: f64,
    /// How its Kv follows one less the position.
    pub bypass_characteristic: Characteristic,
}

impl ThreeWay {
    /// The controlled way at a position between 0 and 1, for a density in kg/m³.
    #[must_use]
    pub fn controlled(&self, position: f64, density: f64) -> Valve {
        Valve::at_position(self.kvs_m3_per_h, self.characteristic, position, density)
    }

    /// The bypass at a position of the controlled way between 0 and 1, for a density in kg/m³.
    #[must_use]
    pub fn bypass(&self, position: f64, density: f64) -> Valve {
        Valve::at_position(self.bypass_kvs_m3_per_h, self.bypass_characteristic, 1.0 - position, density)
    }

    /// Kv of both ways at a position between 0 and 1, m³/h: the controlled way first.
    #[must_use]
    pub fn kv_m3_per_h(&self, position: f64) -> [f64; 2] {
        [
            self.kvs_m3_per_h * self.characteristic.share(position),
            self.bypass_kvs_m3_per_h * self.bypass_characteristic.share(1.0 - position),
        ]
    }
}

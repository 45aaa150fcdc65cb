//! A thermostatic valve, its emitter and its room as one law Δp(q), in steady state at one supply temperature.
//!
//! The valve is a self-acting proportional controller: its Kv falls in proportion as the room gets warmer,
//!
//! ```text
//! Kv(θ) = Kv_n (θ_set + X − θ)/X,  0 ≤ Kv ≤ Kvs      cooling: Kv_n (θ − θ_set + X)/X
//! ```
//!
//! with θ the room temperature (°C), X the proportional band (K): nominal Kv at the set temperature, shut a band beyond it. EN 215
//! rates a valve at 2 K below its closing temperature (from memory), so that X = 2 K makes its nominal Kv the Kv_n here.
//! Left out: hysteresis, the pull of water and pressure on the head, delays; a real valve also hunts and shuts less tightly.
//!
//! More flow makes the room warmer ([`HeatedRoom`]) and Kv smaller, so
//!
//! ```text
//! Δp(q) = 1 bar · ρ/1000 · (q/Kv(θ(q)))²,   d ln Δp/d ln q = 2 (1 − d ln Kv/d ln q) ≥ 2
//! ```
//!
//! rises strictly, at least as the square of flow: such a law never adds an operating point. It is odd: water backwards heats the
//! room as well (that a real valve chatters then is left out). Where Kv goes to zero at some flow, Δp has an asymptote there;
//! the range ends before it, at a drop that no circulator gives. A valve that is fully open up to that drop is a plain valve;
//! one in a room that is too warm without flow is shut.

use super::emitter::{HeatedRoom, RoomFlaw};
use super::valve::KV_SCALE;
use super::{Drop, FlowRange};

/// The drop at which the range of flow ends, Pa: 40 m of water, beyond what circulators of buildings give (common practice, no
/// source). A pump that gives more meets a flow that is held there, short of the asymptote by a per cent or so. The higher the
/// end, the more steps the network needs to come back from it.
const END_PA: f64 = 4e5;
/// Below this share of the nominal Kv without flow the valve counts as shut: less than the seat of a real one lets pass (common
/// practice, no source).
const SHUT_SHARE: f64 = 1e-5;
/// The drop at a flow that counts as ordinary, Pa.
const ORDINARY_PA: f64 = 1e4;

/// The valve with its head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thermostat {
    /// Kv at the set temperature, m³/h.
    pub kv_nominal_m3_per_h: f64,
    /// Greatest Kv, fully open, m³/h.
    pub kvs_m3_per_h: f64,
    /// Set temperature of the room, °C.
    pub set_c: f64,
    /// Proportional band, K: from the nominal Kv to shut; usually 2 K.
    pub band_k: f64,
}

/// Why a thermostatic valve cannot be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ThermostatFlaw {
    /// The room cannot be balanced.
    #[error(transparent)]
    Room(#[from] RoomFlaw),
    /// The nominal Kv is not above zero or beyond the fully open one.
    #[error("The nominal Kv must be above zero and at most the fully open Kv.")]
    Kv,
    /// The band is not above zero, or the set temperature not a number.
    #[error("The set temperature must be a number and the proportional band above zero.")]
    Set,
    /// The density is not above zero.
    #[error("The density must be above zero.")]
    Density,
}

/// A thermostatic valve with its room, prepared for many flows.
#[derive(Clone, Debug, PartialEq)]
pub struct ThermostaticValve {
    room: HeatedRoom,
    kvs: f64,
    /// Kv per K of room temperature.
    kv_per_k: f64,
    /// How far the emitter may take the room from its unheated temperature until the valve is shut, K.
    shut_lift_k: f64,
    /// Pa per (m³/s per m³/h)².
    scale: f64,
    /// Up to here it is fully open, m³/s; endless for a plain valve.
    open_until: f64,
    /// Where the range ends, m³/s; 0 when shut.
    end: f64,
    at_end: Drop,
    nominal: f64,
}

impl ThermostaticValve {
    /// From the valve, its room with the emitter, and the density in kg/m³.
    pub fn new(thermostat: Thermostat, room: HeatedRoom, density: f64) -> Result<Self, ThermostatFlaw> {
        let Thermostat { kv_nominal_m3_per_h: kv_nominal, kvs_m3_per_h: kvs, set_c, band_k } = thermostat;
        if !(kv_nominal > 0.0 && kvs >= kv_nominal && kvs.is_finite()) {
            return Err(ThermostatFlaw::Kv);
        }
        if !(band_k > 0.0 && band_k.is_finite() && set_c.is_finite()) {
            return Err(ThermostatFlaw::Set);
        }
        if !(density > 0.0 && density.is_finite()) {
            return Err(ThermostatFlaw::Density);
        }
        let mut valve = Self {
            shut_lift_k: room.sign() * (set_c - room.unheated_c()) + band_k,
            room,
            kvs,
            kv_per_k: kv_nominal / band_k,
            scale: KV_SCALE * density,
            open_until: 0.0,
            end: 0.0,
            at_end: Drop::default(),
            nominal: 1e-4,
        };
        if valve.kv_per_k * valve.shut_lift_k <= SHUT_SHARE * kv_nominal {
            return Ok(valve);
        }
        // Nothing passes more than a fully open valve.
        let most = kvs * (END_PA / valve.scale).sqrt();
        valve.open_until = valve.find_open_until(most);
        if valve.open_until == f64::INFINITY {
            valve.end = f64::INFINITY;
        } else {
            valve.end = valve.find_flow(most, END_PA);
            valve.at_end = valve.throttled(valve.end);
        }
        valve.nominal = valve.find_nominal();
        Ok(valve)
    }

    /// Pressure drop and derivative at a flow in m³/s. Beyond the range the law goes on straight.
    #[must_use]
    pub fn drop(&self, flow: f64) -> Drop {
        let q = flow.abs();
        let law = if q <= self.open_until {
            let slope = self.scale * q / (self.kvs * self.kvs);
            Drop { pressure_pa: slope * q, slope: 2.0 * slope }
        } else if q < self.end {
            self.throttled(q)
        } else {
            let Drop { pressure_pa, slope } = self.at_end;
            Drop { pressure_pa: pressure_pa + slope * (q - self.end), slope }
        };
        Drop { pressure_pa: law.pressure_pa.copysign(flow), slope: law.slope }
    }

    /// Both directions up to the flow at which the drop is beyond any circulator; none when shut, any when fully open.
    #[must_use]
    pub fn range(&self) -> FlowRange {
        if self.end > 0.0 { FlowRange { low: -self.end, high: self.end } } else { FlowRange::NONE }
    }

    /// The flow at 10 kPa, or at which Kv is half of what it is without flow, whichever is less.
    #[must_use]
    pub fn nominal_flow(&self) -> f64 {
        self.nominal
    }

    /// Kv in m³/h at a flow in m³/s.
    #[must_use]
    pub fn kv(&self, flow: f64) -> f64 {
        if flow.abs() <= self.open_until && self.open_until > 0.0 { self.kvs } else { self.kv_and_fall(flow).0 }
    }

    /// Room temperature in °C at a flow in m³/s.
    #[must_use]
    pub fn room_c(&self, flow: f64) -> f64 {
        self.room.room_c(flow)
    }

    /// The room with its emitter.
    #[must_use]
    pub fn room(&self) -> &HeatedRoom {
        &self.room
    }

    /// k where the law is k q |q| throughout: shut or fully open.
    pub(super) fn square(&self) -> Option<f64> {
        (self.end == 0.0 || self.open_until == f64::INFINITY).then(|| self.drop(1.0).pressure_pa)
    }

    /// Kv by the room temperature at a flow, and −dKv/d ln q.
    fn kv_and_fall(&self, flow: f64) -> (f64, f64) {
        let (lift_k, slope_k) = self.room.lift(flow);
        let kv = self.kv_per_k * (self.shut_lift_k - lift_k);
        if kv < self.kvs { (kv.max(0.0), self.kv_per_k * slope_k) } else { (self.kvs, 0.0) }
    }

    /// The law at a positive flow at which the valve is not shut.
    fn throttled(&self, q: f64) -> Drop {
        let (kv, fall) = self.kv_and_fall(q);
        let per_kv = q / kv;
        Drop { pressure_pa: self.scale * per_kv * per_kv, slope: 2.0 * self.scale * per_kv / kv * (1.0 + fall / kv) }
    }

    /// Up to which flow the valve is fully open; endless if it is at `most`.
    fn find_open_until(&self, most: f64) -> f64 {
        let open_lift_k = self.shut_lift_k - self.kvs / self.kv_per_k;
        match self.room.lift(most).0 <= open_lift_k {
            true => f64::INFINITY,
            false if open_lift_k <= 0.0 => 0.0,
            false => self.find_lift(most, open_lift_k),
        }
    }

    /// The lesser of the flow at the ordinary drop and that at which Kv is half of what it is without flow. Nearer to the
    /// asymptote the slope would tell nothing of the law at small flow.
    fn find_nominal(&self) -> f64 {
        let open = self.kvs * (ORDINARY_PA / self.scale).sqrt();
        let nominal = self.find_flow(open.min(self.end), ORDINARY_PA);
        let half = 0.5 * self.kv(0.0);
        if nominal <= self.open_until || self.kv_and_fall(nominal).0 >= half {
            return nominal;
        }
        self.find_lift(nominal, self.shut_lift_k - half / self.kv_per_k)
    }

    /// The flow at a lift above zero; at `most` it is no less.
    fn find_lift(&self, most: f64, sought_k: f64) -> f64 {
        rising_root(0.0, most, |q| {
            let (lift_k, slope_k) = self.room.lift(q);
            ((lift_k / sought_k).ln(), slope_k / lift_k)
        })
    }

    /// The flow at a pressure drop; `most` is what passes fully open.
    fn find_flow(&self, most: f64, pressure_pa: f64) -> f64 {
        if most <= self.open_until {
            return most;
        }
        rising_root(self.open_until, most, |q| {
            let Drop { pressure_pa: drop_pa, slope } = self.throttled(q);
            ((drop_pa / pressure_pa).ln(), slope * q / drop_pa)
        })
    }
}

/// The root between `least` and `most` of a function that rises with ln q, given with its slope by ln q; it is not below zero
/// at `most`. Newton in ln q, held inside a bracket that every step narrows; or the middle of the bracket where Newton leaves it or
/// has no number to go on.
fn rising_root(least: f64, most: f64, error_and_slope: impl Fn(f64) -> (f64, f64)) -> f64 {
    let (mut low, mut high) = (least, most);
    let mut q = most;
    for _ in 0..200 {
        let (error, slope) = error_and_slope(q);
        if error < 0.0 {
            low = q;
        } else {
            high = q;
        }
        let newton = q * (-error / slope).exp();
        let middle = if low > 0.0 { (low * high).sqrt() } else { 0.5 * high };
        let next = if newton > low && newton < high { newton } else { middle };
        let step = (next / q).ln().abs();
        q = next;
        if step < 1e-14 || high - low <= 1e-15 * high {
            break;
        }
    }
    q
}

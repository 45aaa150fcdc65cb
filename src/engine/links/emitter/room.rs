//! An emitter and the room that it heats (or cools), in balance: at a given flow and supply temperature the room settles where
//! it loses what the emitter and the gains give.
//!
//! ```text
//! U (θ − θ_outdoor) − gain = Φ_d φ(x, θ)      W
//! ```
//!
//! with θ the room temperature (°C), U the room's loss (W/K), Φ_d the emitter's design heat (W), φ its heat share at flow share
//! x (see [`super::state_in_room`]). Written by how far θ lies from the temperature θ₀ of the room without the emitter,
//! `θ₀ = θ_outdoor + gain/U`, both modes are one: `L = ±(θ − θ₀)`, `κ L = φ` and, with `φ = p a`, `a = A − L` the supply's
//! excess over the room and A that over θ₀,
//!
//! ```text
//! L = A p/(κ + p)        κ = U/Φ_d
//! ```
//!
//! p(x) is told by the emitter (`surface`, `coil`); it rises with flow and so does L, towards A. Steady state: no storage, no
//! delay, one room per emitter. Identity; no source needed.

use super::coil::Coil;
use super::surface::SurfaceInRoom;
use super::{DesignFlaw, EmitterDesign, EmitterLaw, EmitterState, SMALLEST_FLOW_SHARE, flaw};

/// How a room loses heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoomBalance {
    /// Heat loss U in W per K between room and outdoors.
    pub loss_w_per_k: f64,
    /// Present outdoor temperature in °C.
    pub outdoor_c: f64,
    /// Present gains in W from sun, people and devices; they warm the room in heating and cooling alike.
    pub gain_w: f64,
}

impl RoomBalance {
    /// A room that takes the emitter's design heat at the design's room temperature and `design_outdoor_c` without gains.
    /// The loss comes out negative, which [`HeatedRoom::new`] refuses, if that outdoor temperature lies on the wrong side
    /// of the room.
    #[must_use]
    pub fn of_design(design: &EmitterDesign, design_outdoor_c: f64, outdoor_c: f64, gain_w: f64) -> Self {
        let difference_k = (design.room_c - design_outdoor_c) * design.supply_excess_k().signum();
        Self { loss_w_per_k: design.heat_w / difference_k, outdoor_c, gain_w }
    }

    /// Temperature of the room without the emitter in °C.
    #[must_use]
    pub fn unheated_c(&self) -> f64 {
        self.outdoor_c + self.gain_w / self.loss_w_per_k
    }
}

/// Why a room cannot be balanced.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RoomFlaw {
    /// The emitter's design has a flaw.
    #[error(transparent)]
    Emitter(#[from] DesignFlaw),
    /// Loss, design heat or design flow is not above zero.
    #[error(
        "The room's heat loss and the emitter's design heat and design flow must be above zero; when heating it must be colder \
         outdoors than in the room, when cooling warmer."
    )]
    Loss,
    /// A temperature or the gain is not a number.
    #[error("Supply temperature, outdoor temperature and heat gain must be numbers.")]
    NotANumber,
}

/// How the emitter gives heat, prepared for many flows.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Emission {
    /// The supply is not beyond the unheated room.
    None,
    Surface(SurfaceInRoom),
    /// With the design's supply excess in K.
    Coil(Coil, f64),
    /// With the design's drop in K.
    ConstantDrop(f64),
}

/// A room with its emitter at one supply temperature; asked for any flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatedRoom {
    emission: Emission,
    /// 1 for heating, −1 for cooling.
    sign: f64,
    supply_c: f64,
    unheated_c: f64,
    /// A, K.
    excess_k: f64,
    /// κ, 1/K.
    loss: f64,
    design_drop_k: f64,
    design_flow: f64,
}

impl HeatedRoom {
    /// From the emitter, its design flow (m³/s), the room's loss and the present supply temperature (°C).
    pub fn new(
        law: EmitterLaw,
        design: &EmitterDesign,
        design_flow_m3_per_s: f64,
        balance: RoomBalance,
        supply_c: f64,
    ) -> Result<Self, RoomFlaw> {
        if let Some(flaw) = flaw(law, *design) {
            return Err(flaw.into());
        }
        let loss = balance.loss_w_per_k / design.heat_w;
        let is_sound = |value: f64| value > 0.0 && value.is_finite();
        if !(is_sound(balance.loss_w_per_k) && is_sound(loss) && is_sound(design_flow_m3_per_s)) {
            return Err(RoomFlaw::Loss);
        }
        let unheated_c = balance.unheated_c();
        if !(unheated_c.is_finite() && supply_c.is_finite()) {
            return Err(RoomFlaw::NotANumber);
        }
        let sign = design.supply_excess_k().signum();
        let design_drop_k = (design.supply_c - design.return_c).abs();
        let excess_k = sign * (supply_c - unheated_c);
        let emission = match law {
            _ if excess_k <= 0.0 => Emission::None,
            EmitterLaw::Radiator { exponent } | EmitterLaw::FloorLoop { exponent } => {
                let fraction = design.drop_fraction();
                Emission::Surface(SurfaceInRoom::new(exponent, design_drop_k, fraction, loss, excess_k))
            }
            EmitterLaw::Coil { arrangement, water_film_share } => {
                match Coil::new(arrangement, water_film_share, design) {
                    Some(coil) => Emission::Coil(coil, design.supply_excess_k().abs()),
                    None => return Err(DesignFlaw::NoAirOutlet.into()),
                }
            }
            EmitterLaw::ConstantDrop => Emission::ConstantDrop(design_drop_k),
        };
        let design_flow = design_flow_m3_per_s;
        Ok(Self { emission, sign, supply_c, unheated_c, excess_k, loss, design_drop_k, design_flow })
    }

    /// Room temperature in °C at a flow in m³/s; a reversed flow heats as well.
    #[must_use]
    pub fn room_c(&self, flow: f64) -> f64 {
        self.unheated_c + self.sign * self.lift(flow).0
    }

    /// Temperature of the room without flow in °C.
    #[must_use]
    pub fn unheated_c(&self) -> f64 {
        self.unheated_c
    }

    /// What the emitter does at a flow in m³/s, as [`super::state_in_room`] has it for the room at its balance.
    #[must_use]
    pub fn emitter(&self, flow: f64) -> EmitterState {
        let heat_share = self.loss * self.lift(flow).0;
        let share = flow.abs() / self.design_flow;
        let return_c = if share > SMALLEST_FLOW_SHARE {
            self.supply_c - self.sign * heat_share / share * self.design_drop_k
        } else {
            self.unheated_c
        };
        EmitterState { heat_share, return_c }
    }

    /// 1 for heating, −1 for cooling.
    pub(in super::super) fn sign(&self) -> f64 {
        self.sign
    }

    /// How far the emitter takes the room from its unheated temperature, K, and the derivative of that by ln of flow.
    pub(in super::super) fn lift(&self, flow: f64) -> (f64, f64) {
        let x = flow.abs() / self.design_flow;
        // Positive test, so that a flow that is not a number gives no heat either.
        let flows = x > SMALLEST_FLOW_SHARE;
        if !flows {
            return (0.0, 0.0);
        }
        let (p, p_slope) = match self.emission {
            Emission::None => return (0.0, 0.0),
            Emission::Surface(surface) => surface.conductance(x),
            Emission::Coil(coil, design_excess_k) => {
                let (share, slope) = coil.heat_share(x);
                (share / design_excess_k, slope / design_excess_k)
            }
            Emission::ConstantDrop(drop_k) => {
                // φ = x, until the return would pass the room.
                let lift = x / self.loss;
                if self.excess_k - lift >= drop_k {
                    return (lift, lift);
                }
                (x / drop_k, x / drop_k)
            }
        };
        let whole = self.loss + p;
        (self.excess_k * p / whole, self.excess_k * self.loss * p_slope / (whole * whole))
    }
}

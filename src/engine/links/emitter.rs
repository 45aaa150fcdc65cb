//! Emitters: what share of its design heat an emitter gives, and how cold its water leaves, at any flow and supply
//! temperature. The pressure loss of an emitter is another link's matter.
//!
//! Every law is the heat balance of the water together with what the surface passes on:
//! `φ = x (t_s − t_r) / (t_s,d − t_r,d)`, with φ the share of design heat, x the share of design flow, t_s and t_r supply
//! and return temperature in °C, index d for design. Heating and cooling are one formula: the sign of
//! `t_s,d − t_room` tells them apart, and a supply on the wrong side of the room (or at its temperature) gives no heat.
//! Flow counts by its size, so a reversed flow heats as well. Fluid properties are taken as constant.
//!
//! Sources: EN 442 (radiator exponent), EN 1264-2 (floor), effectiveness and number of transfer units after textbooks
//! on heat exchangers; all from memory.

mod coil;
mod room;
mod surface;

pub use coil::CoilArrangement;
pub use room::{HeatedRoom, RoomBalance, RoomFlaw};

/// How an emitter's heat follows from its flow and supply temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EmitterLaw {
    /// Radiator or convector: heat rises with a power of the logarithmic mean temperature difference to the room.
    /// Valid for exponents between 0.5 and 2.
    Radiator {
        /// EN 442 exponent: panel radiators 1.25 to 1.35, usually 1.3; convectors up to 1.45 (from memory).
        exponent: f64,
    },
    /// Heated or cooled floor: the same law with an exponent near 1.
    FloorLoop {
        /// 1.1 for the floor surface to the room, 1.0 where the build-up's resistance rules (EN 1264-2, from memory).
        exponent: f64,
    },
    /// Air coil with a constant air flow, by effectiveness and number of transfer units. Dry: no dehumidification.
    /// The design must tell the temperature of the leaving air.
    Coil {
        /// How water and air pass each other.
        arrangement: CoilArrangement,
        /// Share of the design thermal resistance that lies on the water side and falls with flow to the power 0.8
        /// (turbulent water); 0 holds the transmittance constant, 0.3 is common practice without source.
        water_film_share: f64,
    },
    /// Known by its rated loss alone: the temperature drop stays, heat is proportional to flow.
    ConstantDrop,
}

/// Temperatures and heat that an emitter was chosen for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmitterDesign {
    /// Supply temperature in °C.
    pub supply_c: f64,
    /// Return temperature in °C.
    pub return_c: f64,
    /// Room temperature in °C; for a coil the temperature of the entering air.
    pub room_c: f64,
    /// Temperature of the leaving air in °C; only a coil has and needs it.
    pub air_outlet_c: Option<f64>,
    /// Heat in W to the room (or from it), always positive.
    pub heat_w: f64,
}

/// What an emitter does at one flow and supply temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EmitterState {
    /// Heat as a share of design heat, φ.
    pub heat_share: f64,
    /// Return temperature in °C.
    pub return_c: f64,
}

/// Why a design cannot be: each case gives no heat until it is put right.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DesignFlaw {
    /// The return does not lie between room and supply.
    #[error("The design return temperature must lie between the room and the supply temperature.")]
    Return,
    /// A coil's leaving air is not told.
    #[error("A coil needs the design temperature of its leaving air.")]
    NoAirOutlet,
    /// A coil's leaving air does not lie between the entering air and the supply.
    #[error("The leaving air must lie between the entering air and the supply temperature.")]
    AirOutlet,
    /// The exponent is not between 0.5 and 2.
    #[error("The emitter exponent must lie between 0.5 and 2.")]
    Exponent,
    /// The water film's share is not between 0 and 1.
    #[error("The water film's share of the resistance must lie between 0 and 1.")]
    WaterFilmShare,
}

impl EmitterDesign {
    /// Excess of the design supply over the room in K, negative for cooling.
    fn supply_excess_k(&self) -> f64 {
        self.supply_c - self.room_c
    }

    /// Design drop of the water as a fraction of the supply excess; 0 to 1 if the design is sound.
    fn drop_fraction(&self) -> f64 {
        (self.supply_c - self.return_c) / self.supply_excess_k()
    }
}

/// What is wrong with a design under a law, if anything.
pub fn flaw(law: EmitterLaw, design: EmitterDesign) -> Option<DesignFlaw> {
    if !is_inside(design.drop_fraction()) {
        return Some(DesignFlaw::Return);
    }
    match law {
        EmitterLaw::Radiator { exponent } | EmitterLaw::FloorLoop { exponent } => {
            let valid = exponent > 0.5 && exponent < 2.0;
            (!valid).then_some(DesignFlaw::Exponent)
        }
        EmitterLaw::Coil { water_film_share, .. } => coil::flaw(water_film_share, &design),
        EmitterLaw::ConstantDrop => None,
    }
}

/// Heat share and return temperature at a share of design flow and a supply temperature in °C.
///
/// Without flow there is no heat and the water stands at room temperature. With flow, but with the supply at or on the
/// wrong side of the room temperature, or with a design that has a [`flaw`], there is no heat and the return is as the
/// supply.
///
/// ```
/// use headwise::engine::links::emitter::{EmitterDesign, EmitterLaw, state};
/// let design = EmitterDesign {
///     supply_c: 75.0, return_c: 65.0, room_c: 20.0, air_outlet_c: None, heat_w: 2000.0,
/// };
/// let half = state(EmitterLaw::Radiator { exponent: 1.3 }, design, 0.5, 75.0);
/// assert!((half.heat_share - 0.889).abs() < 0.001);
/// ```
pub fn state(law: EmitterLaw, design: EmitterDesign, flow_share: f64, supply_c: f64) -> EmitterState {
    state_in_room(law, design, flow_share, supply_c, design.room_c)
}

/// As [`state`], in a room (for a coil: with air entering) at `room_c` °C instead of the design's room temperature.
pub fn state_in_room(
    law: EmitterLaw,
    design: EmitterDesign,
    flow_share: f64,
    supply_c: f64,
    room_c: f64,
) -> EmitterState {
    let flow_share = flow_share.abs();
    let excess_ratio = (supply_c - room_c) / design.supply_excess_k();
    let without_heat = |return_c| EmitterState { heat_share: 0.0, return_c };
    // Positive test, so that a flow that is not a number gives no heat either.
    let flows = flow_share > SMALLEST_FLOW_SHARE && flow_share.is_finite();
    if !flows {
        return without_heat(room_c);
    }
    if flaw(law, design).is_some() || !excess_ratio.is_finite() || excess_ratio <= 0.0 {
        return without_heat(supply_c);
    }
    let drop_fraction = design.drop_fraction();
    let heat_share = match law {
        EmitterLaw::Radiator { exponent } | EmitterLaw::FloorLoop { exponent } => {
            surface::heat_share(exponent, drop_fraction, flow_share, excess_ratio)
        }
        EmitterLaw::Coil { arrangement, water_film_share } => {
            coil::heat_share(arrangement, water_film_share, &design, flow_share) * excess_ratio
        }
        // The drop stays until the return would pass the room.
        EmitterLaw::ConstantDrop => flow_share * (excess_ratio / drop_fraction).min(1.0),
    };
    let drop_k = heat_share / flow_share * (design.supply_c - design.return_c);
    EmitterState { heat_share, return_c: supply_c - drop_k }
}

/// Below this share of design flow an emitter counts as shut.
const SMALLEST_FLOW_SHARE: f64 = 1e-12;

/// Whether a fraction lies strictly between 0 and 1 (never so for one that is not a number).
fn is_inside(fraction: f64) -> bool {
    fraction > 0.0 && fraction < 1.0
}

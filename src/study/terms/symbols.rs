//! The symbols of all formulas, each with what it stands for and its unit: one letter means one thing in every card.

use crate::engine::units::{Quantity, Units};

/// A symbol of a formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Symbol {
    /// How it is written.
    pub sign: &'static str,
    /// What it stands for.
    pub meaning: &'static str,
    /// What it is measured in.
    pub measure: Measure,
}

/// What a symbol is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The reader's unit of a quantity: the formula holds in any, as long as both sides use the same.
    Of(Quantity),
    /// One unit, in which alone the formula holds as it stands.
    In(&'static str),
    /// A plain number.
    Plain,
}

impl Symbol {
    /// What it stands for, with its unit as the reader has it: "head limit, m".
    #[must_use]
    pub fn words(&self, units: &Units) -> String {
        match self.measure {
            Measure::Of(quantity) => format!("{}, {}", self.meaning, units.symbol(quantity)),
            Measure::In(unit) => format!("{}, {unit}", self.meaning),
            Measure::Plain => self.meaning.to_owned(),
        }
    }
}

const fn of(sign: &'static str, meaning: &'static str, quantity: Quantity) -> Symbol {
    Symbol { sign, meaning, measure: Measure::Of(quantity) }
}

const fn unit(sign: &'static str, meaning: &'static str, unit: &'static str) -> Symbol {
    Symbol { sign, meaning, measure: Measure::In(unit) }
}

const fn plain(sign: &'static str, meaning: &'static str) -> Symbol {
    Symbol { sign, meaning, measure: Measure::Plain }
}

pub(super) const H: Symbol = of("H", "head", Quantity::Head);
pub(super) const H_1: Symbol = of("H₁", "head at full speed, at the flow in the bracket", Quantity::Head);
pub(super) const H_LIM: Symbol = of("H_lim", "head limit", Quantity::Head);
pub(super) const H_SET: Symbol = of("H_set", "head of the set-line", Quantity::Head);
pub(super) const H_CAP: Symbol = of("H_cap", "head of the curve at the speed cap", Quantity::Head);
pub(super) const H_POW: Symbol = of("H_pow", "head of the curve at the power limit", Quantity::Head);
pub(super) const H_MIN: Symbol = of("H_min", "head of the curve at minimum speed", Quantity::Head);
pub(super) const H_REG: Symbol = of("H_reg", "head of the regulated curve", Quantity::Head);
pub(super) const H_SYS: Symbol = of("H_sys", "head that the system takes", Quantity::Head);
pub(super) const Q: Symbol = of("Q", "flow", Quantity::Flow);
pub(super) const Q_REF: Symbol = of("Q_ref", "reference flow", Quantity::Flow);
pub(super) const Q_DESIGN: Symbol = of("Q_d", "design flow", Quantity::Flow);
pub(super) const Q_END: Symbol = of("Q_end", "greatest flow of the catalogue", Quantity::Flow);
pub(super) const Q_MIN: Symbol = of("Q_min", "least flow that the source's maker asks for", Quantity::Flow);
pub(super) const SLOPE: Symbol = of("s", "slope", Quantity::Share);
pub(super) const N: Symbol = plain("n", "speed as a share of full speed");
pub(super) const N_CAP: Symbol = plain("n_cap", "speed cap as a share of full speed");
pub(super) const N_MIN: Symbol = plain("n_min", "minimum speed as a share of full speed");
pub(super) const TURNS: Symbol = of("N", "speed of rotation", Quantity::RotationalSpeed);
pub(super) const TURNS_FULL: Symbol = of("N_full", "speed of rotation at full speed", Quantity::RotationalSpeed);
pub(super) const P_1: Symbol = of("P₁", "electric power input", Quantity::Power);
pub(super) const P_FULL: Symbol =
    of("P_full", "electric power at full speed, at the flow in the bracket", Quantity::Power);
pub(super) const P_STANDBY: Symbol = of("P₀", "power that does not follow speed: the electronics", Quantity::Power);
pub(super) const P_LIM: Symbol = of("P_lim", "power limit", Quantity::Power);
pub(super) const P_U: Symbol = of("P_u", "hydraulic power: what the water gets", Quantity::Power);
pub(super) const P_AVERAGE: Symbol =
    of("P_avg", "mean of the power over the load profile, missing head charged", Quantity::Power);
pub(super) const P_REF: Symbol = of("P_ref", "reference power of the regulation", Quantity::Power);
pub(super) const EFFICIENCY: Symbol = plain("η", "efficiency");
pub(super) const INDEX: Symbol = plain("EEI", "energy efficiency index");
pub(super) const ENERGY: Symbol = of("E", "electric energy", Quantity::Energy);
pub(super) const HOURS: Symbol = of("t", "time in a state of the valves", Quantity::Time);
pub(super) const GAIN: Symbol = plain("K", "loop gain at rest");
pub(super) const REG_RISE: Symbol = unit("H_reg′", "slope of the regulated curve", "m per m³/s");
pub(super) const SYS_RISE: Symbol = unit("H_sys′", "slope of the system curve", "m per m³/s");
pub(super) const DENSITY: Symbol = unit("ρ", "density of the fluid", "kg/m³");
pub(super) const CAPACITY: Symbol = unit("c_p", "specific heat capacity of the fluid", "J/(kg K)");
pub(super) const GRAVITY: Symbol = unit("g", "9.80665, acceleration by gravity", "m/s²");
pub(super) const DROP: Symbol = unit("Δp", "pressure drop", "Pa");
pub(super) const DROP_BAR: Symbol = unit("Δp", "pressure drop", "bar");
pub(super) const DROP_VALVE: Symbol = of("Δp_v", "pressure drop of the valve at design flow, open", Quantity::Pressure);
pub(super) const DROP_REST: Symbol = of("Δp_rest", "that of all else in its branch", Quantity::Pressure);
pub(super) const AUTHORITY: Symbol = plain("a", "authority");
pub(super) const FLOW_SI: Symbol = unit("Q", "flow", "m³/s");
pub(super) const FLOW_HOUR: Symbol = unit("Q", "flow", "m³/h");
pub(super) const HEAD_SI: Symbol = unit("H", "head", "m");
pub(super) const POWER_SI: Symbol = unit("P_u", "hydraulic power", "W");
pub(super) const HEAT_NOW: Symbol = unit("Φ", "heat that the zone gets", "W");
pub(super) const HEAT_DESIGN: Symbol = unit("Φ_d", "heat load at design, or cooling load", "W");
pub(super) const DESIGN_FLOW_SI: Symbol = unit("Q_d", "design flow", "m³/s");
pub(super) const DESIGN_DROP: Symbol = unit("ΔT", "supply less return temperature at design", "K");
pub(super) const SUPPLY: Symbol = unit("T_s", "temperature of the water that enters", "°C");
pub(super) const RETURN: Symbol = unit("T_r", "temperature of the water that leaves", "°C");
pub(super) const SHARE: Symbol = of("x", "share of design flow", Quantity::Share);
pub(super) const HEAT_SHARE: Symbol = of("φ", "share of heat", Quantity::Share);
pub(super) const LOW: Symbol = of("x_low", "least share of the band", Quantity::Share);
pub(super) const HIGH: Symbol = of("x_high", "greatest share of the band", Quantity::Share);
pub(super) const KV: Symbol = unit("Kv", "flow coefficient", "m³/h of water at 1 bar");
pub(super) const CV: Symbol = unit("Cv", "flow coefficient in the United States", "gpm of water at 1 psi");
pub(super) const VELOCITY: Symbol = unit("v", "mean velocity", "m/s");
pub(super) const BORE: Symbol = unit("d", "bore: inside diameter", "m");
pub(super) const LENGTH: Symbol = unit("L", "length", "m");
pub(super) const FACTOR: Symbol = plain("f", "friction factor of Darcy and Weisbach");
pub(super) const LOSSES: Symbol = plain("ζ", "loss coefficient of a fitting, K in American books");
pub(super) const REYNOLDS: Symbol = plain("Re", "Reynolds number");
pub(super) const VISCOSITY: Symbol = unit("μ", "dynamic viscosity of the fluid", "Pa s");
pub(super) const PI: Symbol = plain("π", "3.14159…");
pub(super) const RESISTANCE: Symbol = plain("R", "resistance of the system: its head over the square of its flow");
pub(super) const SUCTION: Symbol = unit("NPSHA", "net positive suction head available", "m");
pub(super) const P_INLET: Symbol = unit("p", "pressure at the pump's inlet above the air's", "Pa");
pub(super) const P_AIR: Symbol = unit("p_atm", "pressure of the air", "Pa");
pub(super) const P_VAPOUR: Symbol = unit("p_v", "pressure at which the water boils", "Pa");

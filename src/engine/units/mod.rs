//! Units: numbers are SI inside, and this room alone knows gallons, feet and degrees Fahrenheit.
//!
//! Its part in the data's way: whatever a person types comes in through [`Units::parse`], whatever a person reads goes
//! out through [`Units::format`]; between the two, every number is in the inside unit of its [`Quantity`].
//!
//! Inside units are the coherent SI ones (m³/s, m, Pa, W, J, m/s, Pa/m, kg/m³, Pa·s, s), with four conventions:
//! temperatures are in degrees Celsius (only differences, in kelvin, enter the physics), flow coefficients are Kv
//! (m³/h of water at a pressure drop of 1 bar), shares and speeds are fractions, and speed of rotation is in
//! revolutions per minute, as on every pump's plate.
//!
//! Sources: conversion factors from the `uom` crate (NIST Special Publication 811, rounded there to seven figures, so
//! at worst 2·10⁻⁷ from the exact definition); where `uom` lacks a unit, the definition stands beside it in `unit`.

mod digits;
mod factor;
mod number;
mod parse;
mod quantity;
mod round_step;
mod set;
mod unit;

pub use digits::Digits;
pub use number::{DASH, MINUS, SPACE};
pub use parse::UnitError;
pub use quantity::Quantity;
pub use round_step::round_step;
pub use set::Units;
pub use unit::Unit;

//! The columns that a list of zones can have.

use super::headings::{Column, Holds};
use crate::engine::units::Quantity;

/// What a column of the list holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Key {
    /// Name of the zone.
    Name,
    /// Its heat load.
    Load,
    /// A temperature drop of its own.
    Drop,
    /// A flow of its own.
    Flow,
    /// What gives the heat.
    Emitter,
    /// Pressure loss of the emitter at design flow.
    Loss,
    /// Length of the branch, one way.
    Branch,
    /// Length of the main from the tee before, one way.
    Before,
    /// Length of the main to the next tee, one way.
    Next,
    /// Kind of valve.
    Valve,
    /// Kv of the valve.
    Kv,
    /// Cv of the valve.
    Cv,
    /// Bore of the branch, where it is laid down.
    BranchBore,
    /// Bore of the main before the tee, where it is laid down.
    MainBore,
    /// Sum of the loss coefficients of the branch's fittings, one way.
    BranchK,
    /// The same of the main before the tee.
    MainK,
    /// Room temperature of the zone.
    Room,
    /// Temperature of the air that leaves a coil.
    LeavingAir,
    /// What is not read.
    Notes,
}

const fn needed(key: Key, holds: Holds, names: &'static [&'static str]) -> Column<Key> {
    Column { key, names, holds, is_needed: true }
}

const fn optional(key: Key, holds: Holds, names: &'static [&'static str]) -> Column<Key> {
    Column { key, names, holds, is_needed: false }
}

const LENGTH: Holds = Holds::Figure(Quantity::Length);
const BORE: Holds = Holds::Figure(Quantity::Bore);
const TEMPERATURE: Holds = Holds::Figure(Quantity::Temperature);
const DIFFERENCE: Holds = Holds::Figure(Quantity::TemperatureDifference);

pub(super) const COLUMNS: [Column<Key>; 19] = [
    needed(Key::Name, Holds::Text, &["zone", "name", "zone name", "room", "name of the zone"]),
    needed(
        Key::Load,
        Holds::Figure(Quantity::Heat),
        &["heat load", "load", "design load", "heating load", "cooling load", "heat"],
    ),
    optional(
        Key::Drop,
        DIFFERENCE,
        &["temperature drop", "delta t", "dt", "drop", "temperature difference", "temperature rise"],
    ),
    optional(Key::Flow, Holds::Figure(Quantity::Flow), &["flow", "design flow", "flow rate", "rate of flow"]),
    needed(Key::Emitter, Holds::Text, &["emitter", "emitter kind", "kind of emitter"]),
    needed(
        Key::Loss,
        Holds::Figure(Quantity::Pressure),
        &["emitter loss", "loss", "pressure loss", "emitter pressure loss", "pressure drop", "emitter pressure drop"],
    ),
    needed(Key::Branch, LENGTH, &["branch length", "branch", "length of the branch"]),
    optional(
        Key::Before,
        LENGTH,
        &[
            "distance from the tee before",
            "distance from tee before",
            "distance",
            "main length",
            "main before its tee",
            "distance along the main",
        ],
    ),
    optional(Key::Next, LENGTH, &["distance to the next tee", "distance to next tee", "to the next tee"]),
    optional(Key::Valve, Holds::Text, &["valve", "valve kind", "kind of valve"]),
    optional(Key::Kv, Holds::Coefficient("Kv"), &["valve kv", "kv", "kvs", "valve kvs"]),
    optional(Key::Cv, Holds::Coefficient("Cv"), &["valve cv", "cv"]),
    optional(Key::BranchBore, BORE, &["branch bore", "bore of the branch"]),
    optional(Key::MainBore, BORE, &["main bore", "bore of the main"]),
    optional(Key::BranchK, Holds::Number, &["branch fittings", "branch k", "branch loss coefficients"]),
    optional(Key::MainK, Holds::Number, &["main fittings", "main k", "main loss coefficients"]),
    optional(Key::Room, TEMPERATURE, &["room temperature", "entering air", "entering air temperature"]),
    optional(Key::LeavingAir, TEMPERATURE, &["leaving air", "leaving air temperature", "air outlet temperature"]),
    optional(Key::Notes, Holds::Nothing, &["notes", "note", "remarks", "remark", "number", "floor"]),
];

//! The words for emitters and valves that a list of zones understands: trade terms, capitals and dashes do not count.

use crate::document::PlannedValve;
use crate::engine::links::emitter::{CoilArrangement, EmitterLaw};

/// Exponents after EN 442 and EN 1264-2 (from memory).
const RADIATOR: EmitterLaw = EmitterLaw::Radiator { exponent: 1.3 };
const CONVECTOR: EmitterLaw = EmitterLaw::Radiator { exponent: 1.4 };
const FLOOR: EmitterLaw = EmitterLaw::FloorLoop { exponent: 1.1 };
/// Share of the water's film in a coil's resistance (common practice, no source).
const COIL: EmitterLaw = EmitterLaw::Coil { arrangement: CoilArrangement::CrossflowUnmixed, water_film_share: 0.3 };
const OTHER: EmitterLaw = EmitterLaw::ConstantDrop;

const EMITTERS: [(EmitterLaw, &[&str]); 5] = [
    (RADIATOR, &["radiator", "radiators", "panel radiator", "panel radiators"]),
    (CONVECTOR, &["convector", "convectors"]),
    (FLOOR, &["floor", "floor loop", "floor loops", "floor heating", "underfloor", "underfloor heating"]),
    (COIL, &["coil", "coils", "air coil", "fan coil", "fan coils", "air heater", "air cooler"]),
    (OTHER, &["other", "heat exchanger", "constant drop"]),
];

const VALVES: [(PlannedValve, &[&str]); 5] = [
    (PlannedValve::Zone, &["zone valve", "zone", "two position", "two position valve", "on/off"]),
    (PlannedValve::Control, &["control valve", "control", "modulating"]),
    (PlannedValve::Thermostatic, &["thermostatic valve", "thermostatic"]),
    (
        PlannedValve::PressureIndependent,
        &["pressure independent valve", "pressure independent", "pressure independent control valve"],
    ),
    (PlannedValve::Without, &["none", "without", "no", "no valve"]),
];

fn of<T: Copy>(text: &str, all: &[(T, &[&str])]) -> Option<T> {
    let folded = text.to_lowercase().replace(['-', '_'], " ");
    let wanted = folded.split_whitespace().collect::<Vec<_>>().join(" ");
    all.iter().find(|(_, names)| names.contains(&wanted.as_str())).map(|(thing, _)| *thing)
}

fn listed<T>(all: &[(T, &[&str])]) -> String {
    let names: Vec<&str> = all.iter().filter_map(|(_, names)| names.first().copied()).collect();
    match names.split_last() {
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// The emitter of a word.
pub(super) fn emitter(text: &str) -> Option<EmitterLaw> {
    of(text, &EMITTERS)
}

/// The words for emitters.
pub(super) fn emitters() -> String {
    listed(&EMITTERS)
}

/// The valve of a word.
pub(super) fn valve(text: &str) -> Option<PlannedValve> {
    of(text, &VALVES)
}

/// The words for valves.
pub(super) fn valves() -> String {
    listed(&VALVES)
}

/// The first word for each emitter.
pub(super) fn emitter_words() -> Vec<&'static str> {
    EMITTERS.iter().filter_map(|(_, names)| names.first().copied()).collect()
}

/// The first word for each valve.
pub(super) fn valve_words() -> Vec<&'static str> {
    VALVES.iter().filter_map(|(_, names)| names.first().copied()).collect()
}

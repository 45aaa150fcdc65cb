//! Problems of a drawing: values that may stand in a file but make no working system, one rule a file.
//!
//! Its part in the data's way: [`find`] reads a [`Project`] and says what is wrong with it, what that means and what helps.
//! A rule looks at what is joined to what, never at flows: the position of a valve is a state, not a fault, but for the one
//! state that is a hazard (`vessel_cut_off`). Values that no system can have are refused earlier, by
//! [`crate::document::flaws`].
//!
//! A new rule is a new file with one function `check(&Drawing, &mut Vec<Check>)` and one line in [`RULES`].

mod address;
mod against_the_flow;
mod check;
mod direction;
mod drawing;
mod no_circuit;
mod no_pump;
mod open_end;
mod pump_name;
pub mod register;
mod scenario;
mod serial;
#[cfg(test)]
mod sketch;
pub mod temperatures;
mod thermostat;
mod vessel;
mod vessel_cut_off;

pub use check::{Check, Place, Severity};

use crate::document::Project;
use drawing::Drawing;

/// A rule: looks at the drawing and adds what it finds.
type Rule = fn(&Drawing, &mut Vec<Check>);

/// All rules, in the order in which their findings are listed.
const RULES: [Rule; 12] = [
    open_end::check,
    no_pump::check,
    no_circuit::check,
    against_the_flow::check,
    vessel::check,
    vessel_cut_off::check,
    temperatures::check,
    thermostat::check,
    scenario::check,
    pump_name::check,
    address::check,
    serial::check,
];

/// All problems of a project: errors first, then by rule, then by identity.
#[must_use]
pub fn find(project: &Project) -> Vec<Check> {
    let drawing = Drawing::new(project);
    let mut found = Vec::new();
    for rule in RULES {
        rule(&drawing, &mut found);
    }
    found.sort_by_key(|check| check.severity);
    found
}

/// Names in a sentence: "A", "A and B", "A, B and C".
fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Names to choose from in a sentence: "A", "one of A or B", "one of A, B or C".
fn one_of(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [first @ .., last] => format!("one of {} or {last}", first.join(", ")),
    }
}

//! Checks that are still open when a record is made: with all zones open, in every scenario, and errors of the other states that are
//! read on site. Each is said once, with where it holds.

use super::basis::counted;
use super::solved::{Holds, Solved};
use crate::engine::units::Units;
use crate::problems::{Check, Severity};
use crate::study::checks;
use serde::Serialize;

/// Something that nobody has cleared.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpenCheck {
    /// "error", "warning" or "note".
    pub severity: &'static str,
    /// The name of what it is about.
    pub place: String,
    /// A few words.
    pub heading: &'static str,
    /// Where it holds: "In 1 of 7 scenarios: Office alone."; empty where it does not hang on the valves.
    pub holds: String,
    /// What is so, what it means, what helps.
    pub text: String,
}

impl OpenCheck {
    /// Where it holds, and what.
    pub(super) fn sentence(&self) -> String {
        if self.holds.is_empty() { self.text.clone() } else { format!("{} {}", self.holds, self.text) }
    }
}

/// A check with all states in which it holds.
struct Found {
    check: Check,
    /// Where its figures are from; nothing for all zones open.
    first: Option<Holds>,
    /// Whether its sentences are others in another state.
    differs: bool,
    with_all_open: bool,
    others: Vec<Holds>,
}

impl Found {
    fn is_same(&self, check: &Check) -> bool {
        let key = |check: &Check| (check.severity, check.place, check.heading);
        key(&self.check) == key(check)
    }

    /// Where it holds, in words.
    fn holds(&self, solved: &Solved) -> String {
        let name = |holds: &Holds| match holds {
            Holds::Scenario(index) => solved.project.scenarios.get(*index).map_or("", |s| &*s.name).to_owned(),
            Holds::Alone(zone) => format!("{} alone", solved.zone(*zone)),
            Holds::Shut => "all zones shut".to_owned(),
        };
        let all = solved.project.scenarios.len();
        let scenarios: Vec<String> =
            self.others.iter().filter(|holds| matches!(holds, Holds::Scenario(_))).map(name).collect();
        let count = scenarios.len();
        let among = if count == all && all > 1 {
            format!("in all {all} scenarios")
        } else {
            format!("in {count} of {}: {}", counted(all, "scenario"), scenarios.join(", "))
        };
        let from = || self.first.as_ref().map_or_else(|| "all zones open".to_owned(), name);
        let figures = if self.differs { format!("; figures: {}", from()) } else { String::new() };
        match (self.with_all_open, count) {
            // What does not hang on the valves.
            (true, count) if count == all && !self.differs => String::new(),
            (true, 0) => "With all zones open.".to_owned(),
            (true, _) => format!("With all zones open and {among}{figures}."),
            (false, 0) => {
                let states: Vec<String> = self.others.iter().map(name).collect();
                format!("Only with {}{figures}.", states.join(", "))
            }
            (false, _) => format!("{}{figures}.", among.replacen('i', "I", 1)),
        }
    }
}

/// All that is open, and what is said of it together.
pub(super) fn open(solved: &Solved, units: &Units) -> (Vec<OpenCheck>, String) {
    let mut found: Vec<Found> = Vec::new();
    for check in checks(&solved.project, &solved.study, units) {
        found.push(Found { check, first: None, differs: false, with_all_open: true, others: Vec::new() });
    }
    let is_scenario = |holds: Holds| matches!(holds, Holds::Scenario(_));
    let (scenarios, readings): (Vec<_>, Vec<_>) = solved.states.iter().partition(|state| is_scenario(state.holds));
    for state in scenarios.into_iter().chain(readings) {
        for check in checks(&state.project, &state.study, units) {
            // Notes are of all zones open alone, lest they bury the rest; a zone alone or none is no state of every day.
            let counts = match check.severity {
                Severity::Error => true,
                Severity::Warning => is_scenario(state.holds),
                Severity::Note => false,
            };
            if counts {
                take(&mut found, check, state.holds);
            }
        }
    }
    found.sort_by_key(|found| found.check.severity);
    let of = |found: &Found| OpenCheck {
        severity: found.check.severity.word(),
        place: found.check.title.clone(),
        heading: found.check.heading,
        // Notes are looked for in no other state, so nothing is said of where they hold.
        holds: if found.check.severity == Severity::Note { String::new() } else { found.holds(solved) },
        text: found.check.text(),
    };
    let count = |severity: Severity| found.iter().filter(|found| found.check.severity == severity).count();
    let words = words(count(Severity::Error), count(Severity::Warning), count(Severity::Note));
    (found.iter().map(of).collect(), words)
}

/// Takes in what holds in a state; what holds in an everyday state already is not said again of a zone alone or of all shut.
fn take(found: &mut Vec<Found>, check: Check, holds: Holds) {
    let is_known = |known: &&mut Found| known.is_same(&check) && !known.others.contains(&holds);
    let Some(known) = found.iter_mut().find(is_known) else {
        found.push(Found { check, first: Some(holds), differs: false, with_all_open: false, others: vec![holds] });
        return;
    };
    let is_everyday = known.with_all_open || known.others.iter().any(|other| matches!(other, Holds::Scenario(_)));
    if is_everyday && !matches!(holds, Holds::Scenario(_)) {
        return;
    }
    known.differs |= known.check.text() != check.text();
    known.others.push(holds);
}

/// How many there are of each.
fn words(errors: usize, warnings: usize, notes: usize) -> String {
    let are = |count: usize| if count == 1 { "is" } else { "are" };
    let told = match (errors, warnings) {
        (0, 0) => "No error and no warning is open.".to_owned(),
        (0, warnings) => format!("{} {} open.", counted(warnings, "warning"), are(warnings)),
        (errors, 0) => format!("{} {} open.", counted(errors, "error"), are(errors)),
        (errors, warnings) => format!("{} and {} are open.", counted(errors, "error"), counted(warnings, "warning")),
    };
    match notes {
        0 => told,
        notes => format!("{told} Besides there {} {}.", are(notes), counted(notes, "note")),
    }
}

#[cfg(test)]
mod tests {
    use super::words;

    #[test]
    fn one_is_and_several_are() {
        assert_eq!(words(0, 0, 0), "No error and no warning is open.");
        assert_eq!(words(1, 0, 1), "1 error is open. Besides there is 1 note.");
        assert_eq!(words(1, 1, 2), "1 error and 1 warning are open. Besides there are 2 notes.");
        assert_eq!(words(0, 3, 0), "3 warnings are open.");
    }
}

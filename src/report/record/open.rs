//! Checks that are still open when a record is made, with all zones open.

use super::basis::counted;
use super::solved::Solved;
use crate::engine::units::Units;
use crate::problems::{Check, Severity};
use crate::study::checks;
use serde::Serialize;

/// An error or a warning that nobody has cleared.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct OpenCheck {
    /// "error" or "warning".
    pub severity: &'static str,
    /// The name of what it is about.
    pub place: String,
    /// A few words.
    pub heading: &'static str,
    /// What is so, what it means, what helps.
    pub text: String,
}

/// Errors and warnings, and what is said of all checks together.
pub(super) fn open(solved: &Solved, units: &Units) -> (Vec<OpenCheck>, String) {
    let all = checks(&solved.project, &solved.study, units);
    let count = |severity: Severity| all.iter().filter(|check| check.severity == severity).count();
    let of = |check: &Check| OpenCheck {
        severity: check.severity.word(),
        place: check.title.clone(),
        heading: check.heading,
        text: check.text(),
    };
    let grave: Vec<OpenCheck> = all.iter().filter(|check| check.severity != Severity::Note).map(of).collect();
    let notes = match count(Severity::Note) {
        0 => String::new(),
        notes => format!(" Besides there are {} in the program's list of checks.", counted(notes, "note")),
    };
    let words = match (count(Severity::Error), count(Severity::Warning)) {
        (0, 0) => "No error and no warning is open.".to_owned(),
        (0, warnings) => format!("{} open.", are(warnings, "warning")),
        (errors, 0) => format!("{} open.", are(errors, "error")),
        (errors, warnings) => format!("{} and {} open.", counted(errors, "error"), are(warnings, "warning")),
    };
    (grave, words + &notes)
}

fn are(count: usize, what: &str) -> String {
    format!("{} {}", counted(count, what), if count == 1 { "is" } else { "are" })
}

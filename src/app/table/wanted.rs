//! What the sheet wants files for.

use super::super::import::Asks;

/// What a file is wanted for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    /// A list of zones.
    Zones,
    /// Catalogue points of a circulator.
    Pump,
}

impl Asks for Wanted {
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Zones => (
                "Take a list of zones from a file",
                "CSV or text from a spreadsheet, headings in the first row with units: zone, heat load (kW), emitter, emitter loss \
                 (kPa), branch length (m), distance (m). It takes the place of the present list.",
            ),
            Self::Pump => (
                "Take catalogue points of a circulator from a file",
                "CSV with the headings flow (m³/h), head (m), power (W), speed (r/min); one point a row, all at full speed.",
            ),
        }
    }
}

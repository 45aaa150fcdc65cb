//! Cautions of a record, each beside what it concerns.

use super::solved::Solved;
use crate::study::{Hazard, Occasion, cautions as all};
use serde::Serialize;

/// A caution, and where it stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CautionShown {
    /// The table beside which it stands by its key, or `system` or `settings` for those parts.
    pub beside: &'static str,
    /// A few words.
    pub heading: &'static str,
    /// One or two sentences to the person who could be hurt.
    pub text: String,
}

/// All cautions that the project calls for, but for what the record says under everything anyhow.
pub(super) fn cautions(solved: &Solved) -> Vec<CautionShown> {
    let said = all(&solved.project, Occasion::Record).into_iter();
    said.filter_map(|caution| {
        let beside = beside(caution.hazard)?;
        Some(CautionShown { beside, heading: caution.heading, text: caution.text })
    })
    .collect()
}

fn beside(hazard: Hazard) -> Option<&'static str> {
    Some(match hazard {
        Hazard::DrinkingWater => "system",
        Hazard::Estimates => "settings",
        Hazard::ReturnLimits => "zones",
        Hazard::DryRunning | Hazard::HeatAndPressure | Hazard::Cold | Hazard::HotFloor => "starting",
        Hazard::Electricity => "register",
        Hazard::Glycol => "water",
        Hazard::SourceFlow => "readings",
        // The last line of every record says it.
        Hazard::Practice => return None,
    })
}

//! The answer as a whole: figures that must not be used, points that do not hold, points beyond what the catalogue tells.

use super::Sight;
use crate::engine::network::Verdict;
use crate::engine::units::Quantity;
use crate::problems::{Check, Place, Severity};

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let results = sight.results;
    let whole = |severity, heading| Check::new(severity, Place::Project, &sight.project.title, heading);
    if results.verdict == Verdict::NotConverged {
        found.push(whole(Severity::Error, "Not solved").says(
            format!(
                "After {} steps the balances are still off by {:.1e} (flow) and {:.1e} (pressure).",
                results.iterations, results.mass_error, results.energy_error
            ),
            "The figures must not be used.",
            "Open a valve or change a setting.",
        ));
    } else if !results.temperatures_agree {
        found.push(whole(Severity::Error, "Not settled").says(
            "Flows and temperatures do not come to agree.",
            "The figures must not be used.",
            "Change a setting or a valve.",
        ));
    } else if results.verdict == Verdict::Converged && !results.stable {
        let several = results.pumps.values().filter(|pump| pump.running).count() > 1;
        let (meaning, remedy) = if several {
            ("Pumps on rising set-lines push each other aside.", "Set their slope to 0 % or run one.")
        } else {
            ("The set-line rises more steeply than the system curve.", "Choose less slope.")
        };
        let what = "The operating point does not hold when it is disturbed.";
        found.push(whole(Severity::Warning, "Point does not hold").says(what, meaning, remedy));
    }
    if results.converged() {
        for (id, pump) in results.pumps.iter().filter(|(_, pump)| pump.beyond_data) {
            found.push(sight.component(Severity::Warning, *id, "Beyond its catalogue data").says(
                format!("Its flow, {}, lies beyond its last catalogue point.", sight.says(Quantity::Flow, pump.flow)),
                "Head and power there are extrapolated.",
                "Give catalogue points as far as that, or choose a larger pump.",
            ));
        }
    }
}

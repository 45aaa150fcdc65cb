//! The site's date and the checklist: days of the calendar, and nothing released that is not filled and vented.

use super::Found;
use crate::document::{Project, StartingStep, date_flaw, steps_in_words};

pub(super) fn flaws(project: &Project, found: &mut Found) {
    found.at("site");
    if let Some(flaw) = date_flaw(&project.site.date) {
        found.say(flaw);
    }
    found.at("starting");
    let starting = &project.starting;
    for (step, tick) in &starting.ticks {
        if let Some(flaw) = date_flaw(&tick.date) {
            found.say(format!("{}: {flaw}", step.word()));
        }
        let waits = starting.waits_for(*step);
        if !waits.is_empty() {
            let (step, waits) = (step.word(), steps_in_words(&waits));
            found.say(format!(
                "it says {step}, but not {waits}: look at the pump, and enter what is done or take “{step}” out"
            ));
        }
    }
    found.gauge_pressure("fill pressure", starting.fill_pressure);
    if starting.fill_pressure.is_some() && !starting.is_done(StartingStep::Filled) {
        found.say(
            "it has a fill pressure, but does not say filled: enter that too, or take the pressure out".to_owned(),
        );
    }
}

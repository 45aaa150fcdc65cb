//! What a plan must have before it can be drawn. All else is found in the drawing by the rules for documents.

use super::plan::{Arrangement, PlannedFlow, PlannedRun, PlannedValve, SystemPlan};
use crate::document::Flaw;
use crate::engine::fluid::FluidError;
use crate::engine::links::emitter::EmitterLaw;

/// Most zones of a plan: more would make a row that nobody can look over.
const MOST_ZONES: usize = 1000;

/// Everything that a plan lacks.
pub(super) fn plan(plan: &SystemPlan) -> Vec<Flaw> {
    let mut found = Vec::new();
    let mut say = |place: String, what: &str| found.push(Flaw { place, what: what.to_owned() });
    match plan.zones.len() {
        0 => say("zones".to_owned(), "there is none: list at least one"),
        count if count > MOST_ZONES => say("zones".to_owned(), "there are more than 1000: draw the building in parts"),
        _ => {}
    }
    if is_wrong(&plan.common) {
        say("common pipes".to_owned(), RUN);
    }
    if !is_zero_or_more(plan.source_loss) || !is_zero_or_more(plan.source_minimum_flow) {
        say("source".to_owned(), "its loss or its minimum flow is negative or no number: give zero or more");
    }
    if plan.strainer_kv.is_some_and(|kv| !is_above_zero(kv)) {
        say("strainer".to_owned(), "its Kv is not above zero: give more, or none to have it chosen");
    }
    for (index, zone) in plan.zones.iter().enumerate() {
        let place = || format!("zone {}", zone.name);
        if !is_above_zero(zone.load) {
            say(place(), "its heat load is not above zero: give the load of the zone");
        }
        let own = match zone.flow {
            PlannedFlow::AsDesigned => None,
            PlannedFlow::Drop(figure) | PlannedFlow::Flow(figure) => Some(figure),
        };
        if own.is_some_and(|figure| !is_above_zero(figure)) {
            say(place(), "its flow or temperature drop is not above zero: give more, or neither");
        }
        need_run(plan.arrangement, index, zone.main, place(), &mut say);
    }
    for zone in &plan.zones {
        let place = || format!("zone {}", zone.name);
        if is_wrong(&zone.branch) {
            say(place(), RUN);
        }
        if !is_zero_or_more(zone.emitter_loss) {
            say(place(), "the loss of its emitter is negative or no number: give zero or more");
        }
        if zone.valve_kv.is_some_and(|kv| !is_above_zero(kv)) {
            say(place(), "the Kv of its valve is not above zero: give more, or none to have it chosen");
        }
        if matches!(zone.emitter, EmitterLaw::Coil { .. }) && zone.air_outlet_c.is_none() {
            say(place(), "a coil needs the design temperature of its leaving air: give it");
        }
        if zone.valve == PlannedValve::Thermostatic && plan.design.outdoor_c.is_none() {
            say(
                place(),
                "a thermostatic valve needs the design outdoor temperature, from which its room's loss follows: give it",
            );
        }
    }
    found
}

const RUN: &str = "a length or loss coefficient is negative or no number, or a bore is not above zero: correct it";

/// A distance is needed by every zone on a main, and by the first one behind a manifold.
fn need_run(
    arrangement: Arrangement,
    index: usize,
    run: Option<PlannedRun>,
    place: String,
    say: &mut impl FnMut(String, &str),
) {
    match run {
        Some(run) if is_wrong(&run) => say(place, RUN),
        None if arrangement != Arrangement::Manifold => {
            say(
                place,
                "its distance along the main is not given: give the length from the tee before (from the plant for the \
                        first zone)",
            );
        }
        None if index == 0 => {
            say(place, "the distance from the plant to the manifold is not given: give it with the first zone")
        }
        _ => {}
    }
}

/// A fluid without properties at the design temperatures.
pub(super) fn fluid(flaw: &FluidError) -> Vec<Flaw> {
    vec![Flaw { place: "fluid".to_owned(), what: flaw.to_string() }]
}

fn is_above_zero(figure: f64) -> bool {
    figure > 0.0 && figure.is_finite()
}

fn is_zero_or_more(figure: f64) -> bool {
    figure >= 0.0 && figure.is_finite()
}

fn is_wrong(run: &PlannedRun) -> bool {
    !is_zero_or_more(run.length) || !is_zero_or_more(run.minor_k) || run.bore.is_some_and(|bore| !is_above_zero(bore))
}

//! Pipes outside the design's bands of velocity and friction at the present flows.
//!
//! Too much is told in every state. Too little is told only while every zone has its share with control valves fully open, for at part load
//! less flow is as it should be; it is a note, for vents do what velocity does not. In a small bore the least velocity takes more friction than
//! its band allows, so that a slow pipe counts only where friction lies below its band too: there a smaller bore is to be had.
//! Where a band comes from the limits' source says.

use super::Sight;
use crate::document::{ComponentKind, Limits, PipeId};
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::results::{NOTHING, PipeResult};
use crate::study::zones::ZoneState;

/// By what share a bound may be missed: bounds are rules of thumb, and flows are never just those a size was chosen for.
const ROUNDING: f64 = 0.02;

/// What the two figures of a pipe break.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Breach {
    Fast,
    Rough,
    Slow,
    Wide,
}

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let is_full = is_at_design(sight);
    let greatest = sight.results.pipes.values().map(|pipe| pipe.flow.abs()).fold(0.0, f64::max);
    for (id, pipe) in &sight.project.pipes {
        let Some(result) = sight.results.pipes.get(id) else { continue };
        if pipe.is_joint() || pipe.length == 0.0 || result.flow.abs() <= NOTHING * greatest {
            continue;
        }
        if let Some(breach) = breach(&sight.project.limits, pipe.bore, result, is_full) {
            found.push(told(sight, *id, pipe.bore, result, breach));
        }
    }
}

/// Whether flows are those that pipes are sized for: every zone has its share and every control valve is fully open.
fn is_at_design(sight: &Sight<'_>) -> bool {
    let full = [ZoneState::Served, ZoneState::TooCold, ZoneState::TooWarm];
    let is_open = |kind: &ComponentKind| match kind {
        ComponentKind::ControlValve { position, shut, .. } => *position >= 1.0 && !shut,
        ComponentKind::ThreeWayValve(valve) => valve.position >= 1.0,
        _ => true,
    };
    sight.results.zones.values().all(|zone| full.contains(&zone.state))
        && sight.project.components.values().all(|component| is_open(&component.kind))
}

/// The first band that a pipe leaves.
fn breach(limits: &Limits, bore: f64, result: &PipeResult, is_full: bool) -> Option<Breach> {
    let (velocity, friction) = (result.velocity.abs(), result.friction_gradient.abs());
    let is_over = |value: f64, bound: f64| value > bound * (1.0 + ROUNDING);
    let is_under = |value: f64, bound: f64| value < bound * (1.0 - ROUNDING);
    match () {
        () if limits.most_velocity(bore).is_some_and(|most| is_over(velocity, most)) => Some(Breach::Fast),
        () if is_over(friction, limits.friction[1]) => Some(Breach::Rough),
        () if !is_full || !is_under(friction, limits.friction[0]) => None,
        () if is_under(velocity, limits.velocity[0]) => Some(Breach::Slow),
        () => Some(Breach::Wide),
    }
}

fn told(sight: &Sight<'_>, id: PipeId, bore: f64, result: &PipeResult, breach: Breach) -> Check {
    let limits = &sight.project.limits;
    let velocity = |value: f64| sight.says(Quantity::Velocity, value.abs());
    let friction = |value: f64| sight.says(Quantity::FrictionGradient, value.abs());
    let flow = sight.says(Quantity::Flow, result.flow.abs());
    let bore = sight.says(Quantity::Bore, bore);
    let has = format!(
        "It carries {flow} in a bore of {bore}, at {} and {}",
        velocity(result.velocity),
        friction(result.friction_gradient)
    );
    match breach {
        Breach::Fast => sight.pipe(Severity::Warning, id, "Velocity too high").says(
            format!("{has}; the most is {}.", velocity(limits.velocity[1])),
            "It can be heard, and bends and seats wear.",
            "Choose a larger bore, or bring the flow down.",
        ),
        Breach::Rough => sight.pipe(Severity::Warning, id, "Friction too high").says(
            format!("{has}; the most is {}.", friction(limits.friction[1])),
            "It costs the pump head and power at all hours.",
            "Choose a larger bore, or bring the flow down.",
        ),
        Breach::Slow => sight.pipe(Severity::Note, id, "Velocity too low").says(
            format!("{has}; below {} air is not carried along.", velocity(limits.velocity[0])),
            "Air stays and gathers where the pipe is highest.",
            "Vent the high points, or choose a smaller bore.",
        ),
        Breach::Wide => sight.pipe(Severity::Note, id, "Wider than it need be").says(
            format!("{has}; usual is {} at least.", friction(limits.friction[0])),
            "It costs more and loses more heat than a smaller one.",
            "Choose a smaller bore if nothing else asks for this one.",
        ),
    }
}

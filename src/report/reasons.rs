//! What a setting misses, as words: a verdict, the zone or the place it is about, and both in a few words.

use crate::document::Project;
use crate::engine::units::{Quantity, Units};
use crate::problems::Place;
use crate::study::part_load::Reason;

/// The verdict on settings that miss nothing.
pub(super) const SERVED: &str = "served";

/// The verdict in a word or two.
pub(super) fn verdict(reason: &Reason) -> &'static str {
    match reason {
        Reason::Starves(_) => "starves",
        Reason::Overflows(_) => "overflows",
        Reason::TooLoud(_) => "too loud",
    }
}

/// The name of the zone, the pipe or the valve that it is about.
pub(super) fn place(project: &Project, reason: &Reason) -> String {
    match reason.place() {
        Place::Zone(id) => project.zones.get(&id).map_or_else(String::new, |zone| zone.name.clone()),
        Place::Pipe(id) => project.pipes.get(&id).map_or_else(String::new, |pipe| project.pipe_label(pipe)),
        Place::Component(id) => project.components.get(&id).map_or_else(String::new, |part| part.name.clone()),
        Place::Project => project.title.clone(),
    }
}

/// "Bay 4 overflows", "Riser 2 passes 1.20 m/s".
pub(super) fn words(project: &Project, reason: &Reason, units: &Units) -> String {
    let name = place(project, reason);
    match reason {
        Reason::Starves(_) | Reason::Overflows(_) => format!("{name} {}", verdict(reason)),
        Reason::TooLoud(worst) => match worst.place {
            Place::Pipe(_) => format!("{name} passes {}", units.format(Quantity::Velocity, worst.allowed)),
            _ => format!("{name} takes more than {}", units.format(Quantity::Pressure, worst.allowed)),
        },
    }
}

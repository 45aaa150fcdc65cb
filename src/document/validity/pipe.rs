//! Figures of a pipe that no pipe can have, and ends that lead nowhere.

use super::Found;
use crate::document::{PipeRun, Project};

/// Greatest roughness over bore: the upper edge of the Moody chart (1944, from memory).
const MOST_RELATIVE_ROUGHNESS: f64 = 0.05;

/// Finds what is wrong with a pipe.
pub(super) fn figures(project: &Project, pipe: &PipeRun, found: &mut Found) {
    found.at_least_zero("length", pipe.length);
    found.at_least_zero("roughness", pipe.roughness);
    found.at_least_zero("sum of loss coefficients", pipe.minor_k);
    if let Some(size) = pipe.size.filter(|size| !size.has_bore(pipe.bore)) {
        let [bore_mm, sold_mm] = [pipe.bore, size.bore()].map(|bore| 1000.0 * bore);
        found.say(format!(
            "its bore is {bore_mm:.2} mm, but {size} has {sold_mm:.2} mm: give that bore, or name no size"
        ));
    }
    for fitting in &pipe.fittings {
        if fitting.count == 0 {
            found.say(format!("it has no {} at all: give at least one, or take the line out", fitting.kind));
        }
        if let Err(error) = fitting.k(pipe.bore) {
            found.say(error.to_string());
        }
    }
    if !pipe.is_joint() {
        found.above_zero("bore", pipe.bore);
        if pipe.bore > 0.0 && pipe.roughness > MOST_RELATIVE_ROUGHNESS * pipe.bore {
            found.say(format!(
                "the roughness is {:.3} of the bore, but friction is known up to {MOST_RELATIVE_ROUGHNESS} only: check both",
                pipe.roughness / pipe.bore
            ));
        }
    }
    for end in [pipe.from, pipe.to] {
        match project.components.get(&end.component) {
            None => found.say("one of its ends is not joined to anything: join it to a component".to_owned()),
            Some(component) if component.port_at(end.port).is_none() => {
                found.say(format!("{} has no such port: choose one of its ports", component.name));
            }
            Some(_) => {}
        }
    }
    if pipe.from == pipe.to {
        found.say("it begins and ends at one port: join it to two".to_owned());
    }
    for corner in &pipe.bends {
        found.number("corner", corner[0]);
        found.number("corner", corner[1]);
    }
}

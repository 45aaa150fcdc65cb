//! Zone on no circuit: its emitter lies on no closed loop through a running circulator, whatever the valves do. Such a zone
//! can never be served.

use super::drawing::Drawing;
use super::{Check, Severity, listed, one_of};
use crate::document::ComponentId;
use std::collections::BTreeSet;

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let project = drawing.project;
    let driven: BTreeSet<usize> =
        project.pumps().filter(|(_, unit)| unit.running).filter_map(|(id, _)| drawing.block(id)).collect();
    if driven.is_empty() {
        return; // The rule about pumps says it for all zones at once.
    }
    let standing: Vec<(ComponentId, usize)> = project
        .pumps()
        .filter(|(_, unit)| !unit.running)
        .filter_map(|(id, _)| Some((id, drawing.block(id).filter(|block| drawing.is_loop(*block))?)))
        .collect();
    for (id, zone) in &project.zones {
        let Some(block) = drawing.block(zone.emitter) else { continue };
        if driven.contains(&block) && drawing.is_loop(block) {
            continue;
        }
        let standing: Vec<&str> =
            standing.iter().filter(|(_, of)| *of == block).map(|(id, _)| drawing.name(*id)).collect();
        let emitter = drawing.name(zone.emitter);
        found.push(if standing.is_empty() {
            drawing.zone(Severity::Error, *id, "On no circuit").says(
                format!("{emitter} lies on no closed loop through a running circulator."),
                "The zone can get no flow.",
                "Lead its flow and return pipes back to the circuit.",
            )
        } else {
            let stands = if standing.len() == 1 { "stands" } else { "stand" };
            drawing.zone(Severity::Warning, *id, "Its circulator stands").says(
                format!("Only {} can bring water to it and {stands} still.", listed(&standing)),
                "Nothing flows there.",
                format!("Start {}.", one_of(&standing)),
            )
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::document::Command;
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn valves_do_not_matter_but_a_missing_return_does() {
        let mut sketch = Sketch::two_zones();
        let valve = sketch.id("Zone A valve");
        sketch.project.apply(&Command::SetOpen(valve, false)).unwrap();
        assert!(titles(&sketch.project, "closed loop").is_empty());
        sketch.remove_pipe("Zone A valve", "Return tee");
        assert_eq!(titles(&sketch.project, "closed loop"), ["Room A"]);
    }

    #[test]
    fn a_loop_that_touches_the_circuit_in_one_tee_is_not_driven() {
        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Zone A valve", "Return tee");
        sketch.pipe("Zone A valve", "Flow tee");
        assert_eq!(titles(&sketch.project, "closed loop"), ["Room A"]);
    }

    #[test]
    fn tees_joined_barely_part_the_loops_but_a_length_of_pipe_couples_them() {
        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Zone A valve", "Return tee");
        sketch.tee("Beside");
        let joint = sketch.pipe("Flow tee", "Beside");
        sketch.remove_pipe("Flow tee", "Zone B");
        sketch.pipe("Beside", "Zone B");
        sketch.pipe("Zone A valve", "Beside");
        assert!(titles(&sketch.project, "closed loop").is_empty());
        let pipe = sketch.project.pipes.get_mut(&joint).unwrap();
        (pipe.length, pipe.minor_k) = (0.0, 0.0);
        assert_eq!(titles(&sketch.project, "closed loop"), ["Room A"]);
    }
}

//! No pump: a loop without a circulator, or with none that runs. Nothing moves the water there.

use super::drawing::Drawing;
use super::{Check, Severity, one_of};
use crate::document::ComponentId;
use std::collections::BTreeMap;

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let project = drawing.project;
    let drawn: Vec<&str> = project.pumps().map(|(id, _)| drawing.name(id)).collect();
    if drawn.is_empty() {
        found.push(drawing.whole(Severity::Error, "No circulator").says(
            "No circulator is drawn.",
            "Nothing flows.",
            "Add one between source and zones.",
        ));
        return;
    }
    if project.pumps().all(|(_, unit)| !unit.running) {
        found.push(drawing.whole(Severity::Warning, "No circulator runs").says(
            "No circulator runs.",
            "Nothing flows.",
            format!("Start {}.", one_of(&drawn)),
        ));
        return;
    }
    let mut in_part: BTreeMap<usize, Vec<(ComponentId, bool)>> = BTreeMap::new();
    for (id, unit) in project.pumps() {
        if let Some(part) = drawing.part(id) {
            in_part.entry(part).or_default().push((id, unit.running));
        }
    }
    for (part, first) in drawing.loops() {
        let Some(here) = in_part.get(&part) else {
            found.push(drawing.at(Severity::Error, first, "Loop without a circulator").says(
                "It lies on a loop that is apart from every circulator.",
                "Nothing flows there.",
                "Join it to the circuit or give it a circulator.",
            ));
            continue;
        };
        if here.iter().all(|(_, running)| !running) {
            let names: Vec<&str> = here.iter().map(|(id, _)| drawing.name(*id)).collect();
            found.push(drawing.at(Severity::Warning, first, "No circulator runs").says(
                "No circulator of its circuit runs.",
                "Nothing flows there.",
                format!("Start {}.", one_of(&names)),
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::document::Command;
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn none_drawn_none_running_and_a_loop_apart() {
        let mut sketch = Sketch::two_zones();
        assert!(titles(&sketch.project, "irculator").is_empty());
        let pump = sketch.id("Circulator");
        sketch.project.apply(&Command::SetRunning(pump, false)).unwrap();
        assert_eq!(titles(&sketch.project, "No circulator runs").len(), 1);
        assert_eq!(titles(&sketch.project, "Start Circulator.").len(), 1);
        sketch.pump("Standby");
        let standby = sketch.id("Standby");
        sketch.project.apply(&Command::SetRunning(standby, false)).unwrap();
        assert_eq!(titles(&sketch.project, "Start one of Circulator or Standby.").len(), 1);
        sketch.remove("Standby");
        sketch.project.apply(&Command::SetRunning(pump, true)).unwrap();
        sketch.strainer("Apart 1");
        sketch.strainer("Apart 2");
        sketch.pipe("Apart 1", "Apart 2");
        sketch.pipe("Apart 2", "Apart 1");
        assert_eq!(titles(&sketch.project, "apart from every circulator"), ["Apart 1"]);
        let mut bare = Sketch::new();
        bare.strainer("Alone");
        assert_eq!(titles(&bare.project, "No circulator is drawn").len(), 1);
    }
}

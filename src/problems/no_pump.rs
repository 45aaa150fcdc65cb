//! No pump: a loop without a circulator, or with none that runs. Nothing moves the water there.

use super::drawing::Drawing;
use super::{Problem, Severity, one_of};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Problem>) {
    let project = drawing.project;
    let drawn: Vec<&str> = project.pumps().map(|(id, _)| drawing.name(id)).collect();
    if drawn.is_empty() {
        let sentence = "No circulator is drawn, so nothing flows: add one between source and zones.".to_owned();
        found.push(drawing.whole(Severity::Error, sentence));
        return;
    }
    if project.pumps().all(|(_, unit)| !unit.running) {
        let sentence = format!("No circulator runs, so nothing flows: start {}.", one_of(&drawn));
        found.push(drawing.whole(Severity::Warning, sentence));
        return;
    }
    for (part, first) in drawing.loops() {
        let here: Vec<_> = project.pumps().filter(|(id, _)| drawing.part(*id) == Some(part)).collect();
        if here.is_empty() {
            let sentence = "It lies on a loop that is apart from every circulator, so nothing flows there: \
                            join it to the circuit or give it a circulator."
                .to_owned();
            found.push(drawing.at(Severity::Error, first, sentence));
        } else if here.iter().all(|(_, unit)| !unit.running) {
            let names: Vec<&str> = here.iter().map(|(id, _)| drawing.name(*id)).collect();
            let sentence =
                format!("No circulator of its circuit runs, so nothing flows there: start {}.", one_of(&names));
            found.push(drawing.at(Severity::Warning, first, sentence));
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
        assert_eq!(titles(&sketch.project, "start Circulator.").len(), 1);
        sketch.pump("Standby");
        let standby = sketch.id("Standby");
        sketch.project.apply(&Command::SetRunning(standby, false)).unwrap();
        assert_eq!(titles(&sketch.project, "start one of Circulator or Standby.").len(), 1);
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

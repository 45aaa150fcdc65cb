//! Serial number used twice: there is one device of a number, so one of the two plates was read wrongly.

use super::drawing::Drawing;
use super::register::{Doubles, Mark};
use super::{Check, Severity};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    for (id, first) in Doubles::of(drawing.project).later(Mark::Serial) {
        let serial = drawing.project.pump(id).map_or("", |unit| unit.register.serial.trim());
        found.push(drawing.at(Severity::Warning, id, "Serial number used twice").says(
            format!("It has the serial number {serial}, and so has {}.", drawing.name(first)),
            "There is one device of a number.",
            "Read both plates again.",
        ));
    }
}

#[cfg(test)]
mod tests {
    use crate::document::ComponentKind;
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn one_number_on_two_plates_is_told() {
        let mut sketch = Sketch::two_zones();
        sketch.pump("Standby");
        assert!(titles(&sketch.project, "serial number").is_empty());
        for (name, serial) in [("Circulator", "00-17"), ("Standby", "00-17 ")] {
            let id = sketch.id(name);
            if let Some(ComponentKind::Pump(unit)) = sketch.project.components.get_mut(&id).map(|c| &mut c.kind) {
                unit.register.serial = serial.to_owned();
            }
        }
        assert_eq!(titles(&sketch.project, "It has the serial number 00-17, and so has Circulator."), ["Standby"]);
    }
}

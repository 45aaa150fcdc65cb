//! Address used twice: two circulators answer to one device address, so settings meant for one reach the other. And one without
//! an address among others that have theirs.

use super::drawing::Drawing;
use super::register::{Doubles, Mark};
use super::{Check, Severity};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    for (id, first) in Doubles::of(drawing.project).later(Mark::Address) {
        let address = drawing.project.pump(id).map_or("", |unit| unit.address.trim());
        found.push(drawing.at(Severity::Error, id, "Address used twice").says(
            format!("It has the device address {address}, and so has {}.", drawing.name(first)),
            "A setting sent to one reaches the other.",
            "Give each an address of its own, and write it down at the pump.",
        ));
    }
    let (given, missing): (Vec<_>, Vec<_>) =
        drawing.project.pumps().partition(|(_, unit)| !unit.address.trim().is_empty());
    if given.is_empty() {
        return;
    }
    for (id, _) in missing {
        found.push(drawing.at(Severity::Note, id, "Address missing").says(
            "It has no device address, though other circulators of this project have one.",
            "",
            "Enter it, and write it down at the pump.",
        ));
    }
}

#[cfg(test)]
mod tests {
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn only_addresses_that_are_given_can_clash() {
        let mut sketch = Sketch::two_zones();
        sketch.pump("Standby");
        assert!(titles(&sketch.project, "device address").is_empty());
        sketch.set_address("Circulator", "12");
        sketch.set_address("Standby", " 12");
        assert_eq!(titles(&sketch.project, "It has the device address"), ["Standby"]);
        assert!(titles(&sketch.project, "no device address").is_empty());
    }

    #[test]
    fn one_without_an_address_is_told_where_another_has_one() {
        let mut sketch = Sketch::two_zones();
        sketch.pump("Standby");
        assert!(titles(&sketch.project, "no device address").is_empty());
        sketch.set_address("Standby", "12");
        assert_eq!(titles(&sketch.project, "no device address"), ["Circulator"]);
    }
}

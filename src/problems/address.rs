//! Address used twice: two circulators answer to one device address, so settings meant for one reach the other.

use super::drawing::Drawing;
use super::{Check, Severity};
use crate::document::ComponentId;
use std::collections::BTreeMap;

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let mut owners: BTreeMap<&str, ComponentId> = BTreeMap::new();
    for (id, unit) in drawing.project.pumps() {
        let address = unit.address.trim();
        if address.is_empty() {
            continue;
        }
        let first = *owners.entry(address).or_insert(id);
        if first != id {
            found.push(drawing.at(Severity::Error, id, "Address used twice").says(
                format!("It has the device address {address}, and so has {}.", drawing.name(first)),
                "A setting sent to one reaches the other.",
                "Give each an address of its own.",
            ));
        }
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
        assert_eq!(titles(&sketch.project, "device address"), ["Standby"]);
    }
}

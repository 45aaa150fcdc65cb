//! The register of circulators as a person reads it at the pump: which two of them cannot be told apart there. Upper and lower
//! case and blanks make no difference on a label.

use crate::document::{ComponentId, Project};
use std::collections::BTreeMap;

/// What tells one circulator from another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// Its name.
    Name,
    /// Its device's address.
    Address,
    /// Its serial number.
    Serial,
}

/// Circulators that have a mark in common, each with the first other one that has it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Doubles {
    found: BTreeMap<(ComponentId, Mark), ComponentId>,
}

impl Doubles {
    /// Finds them.
    #[must_use]
    pub fn of(project: &Project) -> Self {
        let mut owners: BTreeMap<(Mark, String), ComponentId> = BTreeMap::new();
        let mut found = BTreeMap::new();
        for (id, unit) in project.pumps() {
            let name = project.components.get(&id).map_or("", |component| component.name.as_str());
            let marks = [(Mark::Name, name), (Mark::Address, &unit.address), (Mark::Serial, &unit.register.serial)];
            for (mark, text) in marks {
                let read = as_read(text);
                if read.is_empty() {
                    continue;
                }
                let first = *owners.entry((mark, read)).or_insert(id);
                if first != id {
                    found.insert((id, mark), first);
                    found.entry((first, mark)).or_insert(id);
                }
            }
        }
        Self { found }
    }

    /// The other circulator with the same mark.
    #[must_use]
    pub fn of_circulator(&self, id: ComponentId, mark: Mark) -> Option<ComponentId> {
        self.found.get(&(id, mark)).copied()
    }

    /// Every circulator with a mark that one before it has, and that one.
    pub(super) fn later(&self, mark: Mark) -> impl Iterator<Item = (ComponentId, ComponentId)> {
        let later = self.found.iter().filter(move |((id, of), first)| *of == mark && **first < *id);
        later.map(|((id, _), first)| (*id, *first))
    }
}

/// What a person takes from a label.
fn as_read(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problems::sketch::Sketch;

    #[test]
    fn each_of_three_alike_knows_another() {
        let mut sketch = Sketch::two_zones();
        for name in ["North", "South", "West"] {
            sketch.pump(name);
            sketch.set_address(name, "a 1");
        }
        sketch.set_address("West", "A1");
        let [north, south, west] = ["North", "South", "West"].map(|name| sketch.id(name));
        let doubles = Doubles::of(&sketch.project);
        let others = [north, south, west].map(|id| doubles.of_circulator(id, Mark::Address));
        assert_eq!(others, [Some(south), Some(north), Some(north)]);
        assert_eq!(doubles.of_circulator(north, Mark::Name), None);
        assert_eq!(doubles.later(Mark::Address).collect::<Vec<_>>(), [(south, north), (west, north)]);
    }
}

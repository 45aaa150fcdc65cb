//! Names: new ones that nothing has yet, and renaming.

use super::choice::ComponentChoice;
use super::{DRAWING, refused};
use crate::document::{Changed, CommandError, ComponentId, ComponentKind, PipeId, Project};
use std::collections::{BTreeMap, BTreeSet};

/// Names in use, from which new ones are made.
pub(super) struct Names {
    used: BTreeSet<String>,
    /// The number from which on each stem is tried.
    next: BTreeMap<String, u32>,
}

impl Names {
    pub(super) fn of<'a>(used: impl Iterator<Item = &'a String>) -> Self {
        Self { used: used.cloned().collect(), next: BTreeMap::new() }
    }

    /// A stem with the least number, from `first` on, that no name has yet: "Zone valve 3". It counts as used from now on.
    pub(super) fn numbered(&mut self, stem: &str, first: u32) -> String {
        let next = self.next.entry(stem.to_owned()).or_insert(first);
        loop {
            let name = format!("{stem} {next}");
            *next = next.saturating_add(1);
            if self.used.insert(name.clone()) {
                return name;
            }
        }
    }

    /// A name for the copy of what has a name: its number, or a 2 behind it, raised until nothing is called so.
    pub(super) fn for_copy(&mut self, name: &str) -> String {
        let stem = name.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
        self.numbered(if stem.is_empty() { name } else { stem }, 2)
    }
}

impl Project {
    /// A name that no component has yet, made from the trade's word: "Zone valve 3".
    #[must_use]
    pub fn new_component_name(&self, kind: &ComponentKind) -> String {
        let word = ComponentChoice::of(kind).word();
        let alike = self.components.values().map(|component| &component.name).filter(|name| name.starts_with(word));
        Names::of(alike).numbered(word, 1)
    }

    /// A name that no zone has yet.
    #[must_use]
    pub fn new_zone_name(&self) -> String {
        Names::of(self.zones.values().map(|zone| &zone.name)).numbered("Zone", 1)
    }

    /// Gives a component another name, without spaces around it.
    pub(super) fn rename(&mut self, id: ComponentId, name: &str) -> Result<Changed, CommandError> {
        let name = name.trim();
        let is_taken = self.components.iter().any(|(other, component)| *other != id && component.name == name);
        let component = self.components.get_mut(&id).ok_or(CommandError::Missing("component"))?;
        if name.is_empty() {
            return Err(refused(format!("{} needs a name: type one", component.name)));
        }
        if is_taken {
            return Err(taken(name, "component"));
        }
        Ok(put(&mut component.name, name))
    }

    /// Gives a pipe another name, without spaces around it, or none.
    pub(super) fn rename_pipe(&mut self, id: PipeId, name: &str) -> Result<Changed, CommandError> {
        let name = name.trim();
        let is_taken = !name.is_empty() && self.pipes.iter().any(|(other, pipe)| *other != id && pipe.name == name);
        let pipe = self.pipes.get_mut(&id).ok_or(CommandError::Missing("pipe"))?;
        if is_taken {
            return Err(taken(name, "pipe"));
        }
        Ok(put(&mut pipe.name, name))
    }
}

/// The refusal of a name that something else has.
pub(super) fn taken(name: &str, what: &str) -> CommandError {
    refused(format!("another {what} is called “{name}” already: choose a name that none has yet"))
}

/// Puts a text in the place of another.
pub(super) fn put(text: &mut String, wanted: &str) -> Changed {
    if text == wanted {
        return Changed::default();
    }
    wanted.clone_into(text);
    DRAWING
}

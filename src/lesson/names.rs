//! Names that a lesson calls things by, found in its project or answered with the nearest there is.

use crate::document::{ComponentId, ComponentKind, PipeId, Project, ZoneId, nearest_name};

/// The names of a project.
#[derive(Clone, Copy, Debug)]
pub(super) struct Names<'a> {
    pub(super) project: &'a Project,
}

impl Names<'_> {
    pub(super) fn zone(&self, name: &str) -> Result<ZoneId, String> {
        let all = self.project.zones.iter().map(|(id, zone)| (zone.name.as_str(), *id));
        found("zone", name, all)
    }

    /// The valve that shuts a zone.
    pub(super) fn valve_of(&self, name: &str) -> Result<ComponentId, String> {
        let zone = self.zone(name)?;
        let valve = self.project.zones.get(&zone).and_then(|zone| zone.valve);
        valve.ok_or_else(|| format!("the zone “{name}” has no valve that shuts it: name a zone with one"))
    }

    pub(super) fn component(&self, name: &str) -> Result<ComponentId, String> {
        let all = self.project.components.iter().map(|(id, component)| (component.name.as_str(), *id));
        found("component", name, all)
    }

    pub(super) fn pump(&self, name: &str) -> Result<ComponentId, String> {
        let pumps = self.project.components.iter().filter(|(_, c)| matches!(c.kind, ComponentKind::Pump(_)));
        found("circulator", name, pumps.map(|(id, component)| (component.name.as_str(), *id)))
    }

    pub(super) fn pipe(&self, name: &str) -> Result<PipeId, String> {
        let named = self.project.pipes.iter().filter(|(_, pipe)| !pipe.name.is_empty());
        found("pipe", name, named.map(|(id, pipe)| (pipe.name.as_str(), *id)))
    }

    /// A scenario by its place in the list.
    pub(super) fn scenario(&self, name: &str) -> Result<usize, String> {
        let all = self.project.scenarios.iter().enumerate().map(|(index, scenario)| (scenario.name.as_str(), index));
        found("scenario", name, all)
    }
}

fn found<'a, T: Copy>(kind: &str, name: &str, all: impl Iterator<Item = (&'a str, T)> + Clone) -> Result<T, String> {
    if let Some((_, thing)) = all.clone().find(|(known, _)| *known == name) {
        return Ok(thing);
    }
    let hint = match nearest_name(name, all.map(|(known, _)| known)) {
        Some(near) => format!("perhaps “{near}” is meant: correct the name"),
        None => format!("correct the name, or add the {kind} to the project"),
    };
    Err(format!("there is no {kind} “{name}” in the project of this lesson; {hint}"))
}

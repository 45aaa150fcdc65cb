//! Format 1: text → project. Names become identities, in the order of the file from 1.

use super::{File, judged, wiring};
use crate::document::{self as live, ComponentId, Flaw, PipeId, Project, ZoneId, nearest_name};
use crate::file::error::{FileError, LocatedFlaw};
use crate::file::locate::Outline;
use crate::file::wording;
use std::collections::{BTreeMap, BTreeSet};

/// Reads a text of format 1.
///
/// # Errors
/// A text that is no project of format 1, names that lead nowhere, or values that cannot be.
pub(in crate::file) fn read(text: &str, name: &str, outline: &Outline<'_>) -> Result<Project, FileError> {
    let file: File = ron::from_str(text).map_err(|failure| wording::syntax(name, text, &failure))?;
    let place = Place { file: name, outline };
    place.names_differ("component", "components", file.components.iter().map(|item| &item.name))?;
    place.names_differ("pipe", "pipes", file.pipes.iter().map(|item| &item.name))?;
    place.names_differ("zone", "zones", file.zones.iter().map(|item| &item.name))?;
    place.names_differ("scenario", "scenarios", file.scenarios.iter().map(|item| &item.name))?;
    place.names_differ("variant", "variants", file.variants.iter().map(|item| &item.name))?;

    let components = numbered(&file.components, |item| &item.name, ComponentId);
    let zones = numbered(&file.zones, |item| &item.name, ZoneId);
    let mut flaws = Vec::new();
    for (index, pipe) in file.pipes.iter().enumerate() {
        if let Some(lack) = pipe.lacks() {
            let line = outline.item("pipes", index);
            flaws.push(LocatedFlaw { line, flaw: Flaw { place: pipe_place(pipe), what: lack } });
        }
    }
    let fluid = file.fluid.live().unwrap_or_else(|error| {
        let flaw = Flaw { place: "fluid".to_owned(), what: error.to_string() };
        flaws.push(LocatedFlaw { line: outline.part("fluid"), flaw });
        crate::engine::fluid::Fluid::water()
    });
    let project = Project {
        title: file.title,
        notes: file.notes,
        site: file.site.live(),
        design: file.design.live(),
        outdoor_now_c: file.outdoor_now_c.map(|outdoor| outdoor.si),
        fluid,
        acceptance: file.acceptance.live(),
        limits: file.limits.live(),
        energy: file.energy.live(),
        uncertainty: file.uncertainty.live(),
        pipes: numbered_items(place.pipes(file.pipes, &components)?, PipeId),
        zones: numbered_items(place.zones(file.zones, &components)?, ZoneId),
        scenarios: place.scenarios(file.scenarios, &zones)?,
        every_combination: file.every_combination,
        variants: place.variants(file.variants, &components)?,
        starting: file.starting.live(),
        components: numbered_items(file.components.into_iter().map(|item| item.live()), ComponentId),
    };
    // What the text alone could tell comes first: the rest may only follow from it.
    if flaws.is_empty() {
        flaws = located(&project, outline);
    }
    if flaws.is_empty() { Ok(project) } else { Err(FileError::Flaws { file: name.to_owned(), flaws }) }
}

/// Identities by name.
fn numbered<'a, T, I>(
    items: &'a [T],
    name: impl Fn(&'a T) -> &'a String,
    identity: fn(u32) -> I,
) -> BTreeMap<String, I> {
    (1..).zip(items).map(|(number, item)| (name(item).clone(), identity(number))).collect()
}

fn numbered_items<T, I: Ord>(items: impl IntoIterator<Item = T>, identity: fn(u32) -> I) -> BTreeMap<I, T> {
    (1..).zip(items).map(|(number, item)| (identity(number), item)).collect()
}

/// What a message calls a pipe, as [`Project::pipe_label`] does.
fn pipe_place(pipe: &wiring::Pipe) -> String {
    if pipe.name.is_empty() { format!("pipe {} – {}", pipe.from.0, pipe.to.0) } else { format!("pipe {}", pipe.name) }
}

/// Where messages say that something stands.
struct Place<'a> {
    file: &'a str,
    outline: &'a Outline<'a>,
}

impl Place<'_> {
    /// Line of an item, or the first of the file if the text hides it.
    fn line(&self, part: &str, index: usize) -> usize {
        self.outline.item(part, index).unwrap_or(1)
    }

    /// Two things of one name cannot be told apart by what refers to them.
    fn names_differ<'n>(
        &self,
        kind: &'static str,
        part: &str,
        names: impl Iterator<Item = &'n String>,
    ) -> Result<(), FileError> {
        let mut seen = BTreeMap::new();
        for (index, name) in names.enumerate().filter(|(_, name)| !name.is_empty()) {
            if let Some(first) = seen.insert(name, index) {
                return Err(FileError::SameName {
                    file: self.file.to_owned(),
                    kind,
                    name: name.clone(),
                    first: self.line(part, first),
                    second: self.line(part, index),
                });
            }
        }
        Ok(())
    }

    /// Finds what a name refers to.
    fn find<I: Copy>(
        &self,
        known: &BTreeMap<String, I>,
        kind: &'static str,
        name: &str,
        (part, index): (&str, usize),
        what: impl FnOnce() -> String,
    ) -> Result<I, FileError> {
        known.get(name).copied().ok_or_else(|| FileError::UnknownName {
            file: self.file.to_owned(),
            line: self.outline.quoted(part, index, name).unwrap_or_else(|| self.line(part, index)),
            what: what(),
            kind,
            name: name.to_owned(),
            near: nearest_name(name, known.keys().map(String::as_str)).map(str::to_owned),
        })
    }

    fn pipes(
        &self,
        pipes: Vec<wiring::Pipe>,
        components: &BTreeMap<String, ComponentId>,
    ) -> Result<Vec<live::PipeRun>, FileError> {
        let run = |(index, pipe): (usize, wiring::Pipe)| {
            let end = |name: &str| self.find(components, "component", name, ("pipes", index), || pipe_place(&pipe));
            let (from, to) = (end(&pipe.from.0)?, end(&pipe.to.0)?);
            Ok(pipe.live(from, to))
        };
        pipes.into_iter().enumerate().map(run).collect()
    }

    fn zones(
        &self,
        zones: Vec<wiring::Zone>,
        components: &BTreeMap<String, ComponentId>,
    ) -> Result<Vec<live::Zone>, FileError> {
        let zone = |(index, zone): (usize, wiring::Zone)| {
            let place = || format!("zone {}", zone.name);
            let component = |name: &str| self.find(components, "component", name, ("zones", index), place);
            Ok(live::Zone {
                load: zone.load_kw.si,
                emitter: component(&zone.emitter)?,
                valve: zone.valve.as_deref().map(component).transpose()?,
                room_c: zone.room_c.map(|temperature| temperature.si),
                return_c: zone.return_c.map(|temperature| temperature.si),
                gain: zone.gain_kw.si,
                name: zone.name,
            })
        };
        zones.into_iter().enumerate().map(zone).collect()
    }

    fn scenarios(
        &self,
        scenarios: Vec<wiring::Scenario>,
        zones: &BTreeMap<String, ZoneId>,
    ) -> Result<Vec<live::Scenario>, FileError> {
        let scenario = |(index, scenario): (usize, wiring::Scenario)| {
            let place = || format!("scenario {}", scenario.name);
            let zone = |name: &String| self.find(zones, "zone", name, ("scenarios", index), place);
            let shut = scenario.shut.iter().map(zone).collect::<Result<BTreeSet<_>, _>>()?;
            Ok(live::Scenario {
                hours_per_year: scenario.hours_per_year.si,
                shut,
                outdoor_c: scenario.outdoor_c.map(|outdoor| outdoor.si),
                name: scenario.name,
            })
        };
        scenarios.into_iter().enumerate().map(scenario).collect()
    }

    fn variants(
        &self,
        variants: Vec<judged::Variant>,
        components: &BTreeMap<String, ComponentId>,
    ) -> Result<Vec<live::Variant>, FileError> {
        let variant = |(index, variant): (usize, judged::Variant)| {
            let place = || format!("variant {}", variant.name);
            let pump = self.find(components, "component", &variant.pump, ("variants", index), place)?;
            Ok(live::Variant { pump, regulation: variant.settings.live(), name: variant.name })
        };
        variants.into_iter().enumerate().map(variant).collect()
    }
}

/// The project's flaws, each with the line of what has it.
fn located(project: &Project, outline: &Outline<'_>) -> Vec<LocatedFlaw> {
    let flaws = live::flaws(project);
    if flaws.is_empty() {
        return Vec::new();
    }
    let mut lines = BTreeMap::new();
    let mut stands = |place: String, line: Option<usize>| {
        lines.entry(place).or_insert(line);
    };
    let parts = ["site", "design", "fluid", "acceptance", "limits", "energy", "uncertainty", "scenarios", "variants"];
    for part in parts.into_iter().chain(["starting"]) {
        stands(part.to_owned(), outline.part(part));
    }
    for (index, component) in project.components.values().enumerate() {
        let place = if component.name.trim().is_empty() { "component" } else { &component.name };
        stands(place.to_owned(), outline.item("components", index));
        stands(component.name.clone(), outline.item("components", index));
    }
    for (index, pipe) in project.pipes.values().enumerate() {
        stands(format!("pipe {}", project.pipe_label(pipe)), outline.item("pipes", index));
    }
    for (index, zone) in project.zones.values().enumerate() {
        stands(format!("zone {}", zone.name), outline.item("zones", index));
    }
    for (index, scenario) in project.scenarios.iter().enumerate() {
        stands(format!("scenario {}", scenario.name), outline.item("scenarios", index));
    }
    for (index, variant) in project.variants.iter().enumerate() {
        stands(format!("variant {}", variant.name), outline.item("variants", index));
    }
    let located = |flaw: Flaw| LocatedFlaw { line: lines.get(&flaw.place).copied().flatten(), flaw };
    flaws.into_iter().map(located).collect()
}

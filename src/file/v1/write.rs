//! Format 1: project → text. Each short part has a line, and so has each component, pipe, zone, scenario and variant, in the
//! order of their identities or of their list: a change of one of them is a change of one line.

use super::basis::{Acceptance, Design, Fluid};
use super::component::Component;
use super::judged::{Energy, Uncertainty, Variant};
use super::limits::Limits;
use super::pump::Settings;
use super::site::{Site, Starting};
use super::wiring::{Pipe, Scenario, Zone};
use crate::document::{self as live, ComponentId, Flaw, Project};
use crate::file::error::{FileError, LocatedFlaw};
use crate::file::figure::{KiloWatts, Plain};
use ron::ser::PrettyConfig;
use serde::Serialize;

/// Writes a project; `name` is what messages call it.
///
/// # Errors
/// A project with values that cannot be, which could not be read again.
pub(in crate::file) fn write(project: &Project, name: &str) -> Result<String, FileError> {
    let flaws = live::flaws(project);
    let text = if flaws.is_empty() { text(project).map_err(|flaw| vec![flaw]) } else { Err(flaws) };
    text.map_err(|flaws| {
        let flaws = flaws.into_iter().map(|flaw| LocatedFlaw { line: None, flaw }).collect();
        FileError::Flaws { file: name.to_owned(), flaws }
    })
}

fn text(project: &Project) -> Result<String, Flaw> {
    let mut text = "(\n    format: 1,\n".to_owned();
    part(&mut text, "title", &project.title)?;
    part(&mut text, "notes", &project.notes)?;
    if project.site != live::Site::default() {
        part(&mut text, "site", &Site::of(&project.site))?;
    }
    part(&mut text, "design", &Design::of(&project.design))?;
    if let Some(outdoor_c) = project.outdoor_now_c {
        part(&mut text, "outdoor_now_c", &Some(Plain::new(outdoor_c)))?;
    }
    part(&mut text, "fluid", &Fluid::of(&project.fluid))?;
    part(&mut text, "acceptance", &Acceptance::of(&project.acceptance))?;
    if project.limits != live::Limits::default() {
        part(&mut text, "limits", &Limits::of(&project.limits))?;
    }
    if project.energy != live::EnergyBasis::default() {
        part(&mut text, "energy", &Energy::of(&project.energy))?;
    }
    if project.uncertainty != live::Uncertainty::default() {
        part(&mut text, "uncertainty", &Uncertainty::of(&project.uncertainty))?;
    }
    list(&mut text, "components", project.components.values(), |item| (item.name.clone(), Ok(Component::of(item))))?;
    list(&mut text, "pipes", project.pipes.values(), |item| {
        (format!("pipe {}", project.pipe_label(item)), pipe(project, item))
    })?;
    list(&mut text, "zones", project.zones.values(), |item| (format!("zone {}", item.name), zone(project, item)))?;
    list(&mut text, "scenarios", &project.scenarios, |item| {
        (format!("scenario {}", item.name), scenario(project, item))
    })?;
    if project.every_combination {
        part(&mut text, "every_combination", &true)?;
    }
    if !project.variants.is_empty() {
        list(&mut text, "variants", &project.variants, |item| {
            (format!("variant {}", item.name), variant(project, item))
        })?;
    }
    if project.starting != live::Starting::default() {
        part(&mut text, "starting", &Starting::of(&project.starting))?;
    }
    text.push_str(")\n");
    Ok(text)
}

fn part(text: &mut String, key: &str, value: &impl Serialize) -> Result<(), Flaw> {
    text.push_str(&format!("    {key}: {},\n", in_one_line(value, key)?));
    Ok(())
}

/// Writes a list, one item a line; `convert` gives what messages call an item, and its file type or what it lacks.
fn list<'a, T: 'a, F: Serialize>(
    text: &mut String,
    key: &str,
    items: impl IntoIterator<Item = &'a T>,
    convert: impl Fn(&'a T) -> (String, Result<F, &'static str>),
) -> Result<(), Flaw> {
    let mut lines = String::new();
    for item in items {
        let (place, converted) = convert(item);
        let converted = converted.map_err(|what| Flaw { place: place.clone(), what: what.to_owned() })?;
        lines.push_str(&format!("        {},\n", in_one_line(&converted, &place)?));
    }
    if lines.is_empty() {
        text.push_str(&format!("    {key}: [],\n"));
    } else {
        text.push_str(&format!("    {key}: [\n{lines}    ],\n"));
    }
    Ok(())
}

/// One line of RON. Text is not escaped, so that apostrophes and foreign letters stay readable.
fn in_one_line(value: &impl Serialize, place: &str) -> Result<String, Flaw> {
    let config = PrettyConfig::new().depth_limit(0).escape_strings(false);
    ron::ser::to_string_pretty(value, config)
        .map_err(|failure| Flaw { place: place.to_owned(), what: failure.to_string() })
}

fn name_of(project: &Project, id: ComponentId) -> Result<String, &'static str> {
    let component = project.components.get(&id).ok_or("it refers to a component that is gone: choose another")?;
    Ok(component.name.clone())
}

fn pipe(project: &Project, pipe: &live::PipeRun) -> Result<Pipe, &'static str> {
    Ok(Pipe::of(pipe, name_of(project, pipe.from.component)?, name_of(project, pipe.to.component)?))
}

fn zone(project: &Project, zone: &live::Zone) -> Result<Zone, &'static str> {
    Ok(Zone {
        name: zone.name.clone(),
        load_kw: KiloWatts::new(zone.load),
        emitter: name_of(project, zone.emitter)?,
        valve: zone.valve.map(|valve| name_of(project, valve)).transpose()?,
        room_c: zone.room_c.map(Plain::new),
        return_c: zone.return_c.map(Plain::new),
        gain_kw: KiloWatts::new(zone.gain),
    })
}

fn scenario(project: &Project, scenario: &live::Scenario) -> Result<Scenario, &'static str> {
    let name = |zone| project.zones.get(zone).map(|zone| zone.name.clone());
    let shut = scenario.shut.iter().map(name).collect::<Option<Vec<_>>>();
    Ok(Scenario {
        name: scenario.name.clone(),
        hours_per_year: Plain::new(scenario.hours_per_year),
        shut: shut.ok_or("it shuts a zone that is gone: take it out")?,
        outdoor_c: scenario.outdoor_c.map(Plain::new),
    })
}

fn variant(project: &Project, variant: &live::Variant) -> Result<Variant, &'static str> {
    Ok(Variant {
        name: variant.name.clone(),
        pump: name_of(project, variant.pump)?,
        settings: Settings::of(&variant.regulation),
    })
}

//! The scenarios: name, hours a year, weather and which zones are shut in each; and whether more than these must be served.

use super::super::view::ProjectPart;
use super::form::{Form, ROW, in_sight};
use super::making;
use super::number::{Measure, Number};
use super::project::OUTDOOR;
use crate::document::{Command, LEAP_YEAR_HOURS, Project, Scenario, ZoneId};
use crate::engine::units::Quantity;
use egui::{Align, Layout};
use std::collections::BTreeSet;

/// Shows them.
pub(super) fn show(form: &mut Form<'_, '_>) {
    let project = form.view.project;
    form.section_of(ProjectPart::Scenarios, "Scenarios");
    form.note("States of all zone valves, each with the hours a year that it stands for.");
    every_combination(form);
    // Only zones that thermostatic valves throttle have rooms of their own warmth.
    let has_weather = form.view.results.zones.values().any(|zone| zone.room_c.is_some());
    let mut wanted: Option<Vec<Scenario>> = None;
    for (index, scenario) in project.scenarios.iter().enumerate() {
        form.group(&format!("scenario {index}"), |form| {
            if let Some(change) = one(form, index, scenario, has_weather) {
                let mut all = project.scenarios.clone();
                match change {
                    Some(scenario) => all[index] = scenario,
                    None => drop(all.remove(index)),
                }
                wanted = Some(all);
            }
        });
    }
    let words = [
        ("Add as it stands", "A new scenario with the zones shut that are shut now"),
        ("Add all open", "A new scenario with every zone open"),
        ("Open all zones now", "Opens the valve of every zone"),
    ];
    let pressed = form.buttons("scenarios", &words);
    if pressed == Some(2) {
        form.change(Command::OpenAllZones);
    }
    if let Some(pressed) = pressed.filter(|pressed| *pressed < 2) {
        let shut = if pressed == 0 { shut_now(project) } else { BTreeSet::new() };
        let mut all = project.scenarios.clone();
        all.push(Scenario { shut, ..Scenario::all_open(&new_name(project)) });
        wanted = Some(all);
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetScenarios(wanted));
    }
    making::show(form);
}

/// Whether the scenarios are all that must be served.
fn every_combination(form: &mut Form<'_, '_>) {
    let mut wanted = form.view.project.every_combination;
    let hint = "Settings are then found and judged for every combination of open zones, not only for the states listed here. \
                Those have no hours of their own.";
    let tick = form.ui.checkbox(&mut wanted, "Every combination of zones must be served");
    if in_sight(tick).on_hover_text(hint).changed() {
        form.change(Command::SetEveryCombination(wanted));
    }
}

/// The zones that are shut at present.
pub(super) fn shut_now(project: &Project) -> BTreeSet<ZoneId> {
    project.zones.iter().filter(|(_, zone)| project.is_zone_shut(zone)).map(|(id, _)| *id).collect()
}

/// A name that no scenario has yet.
fn new_name(project: &Project) -> String {
    let is_taken = |name: &String| project.scenarios.iter().any(|scenario| scenario.name == *name);
    let names = (project.scenarios.len() + 1..).map(|number| format!("Scenario {number}"));
    names.into_iter().find(|name| !is_taken(name)).unwrap_or_default()
}

/// One scenario in two lines; what it becomes, or `None` inside for one that goes.
fn one(form: &mut Form<'_, '_>, index: usize, scenario: &Scenario, has_weather: bool) -> Option<Option<Scenario>> {
    let mut wanted = None;
    if let Some(name) = form.name("Name", "Unlike all other names of scenarios.", &scenario.name, "") {
        wanted = Some(Some(Scenario { name, ..scenario.clone() }));
    }
    let hint = "Hours of the year that this state stands for.";
    let hours = form.row("Hours a year", hint, |form, named| {
        let width = form.ui.available_width();
        let name = format!("Hours of {}", scenario.name);
        let measure = Measure::Pure(1);
        let value = scenario.hours_per_year;
        Number { name: &name, measure, value, range: (0.0, LEAP_YEAR_HOURS), drags: true, with_unit: true }
            .show(form, named, width)
    });
    if let Some(hours_per_year) = hours {
        wanted = Some(Some(Scenario { hours_per_year, ..scenario.clone() }));
    }
    if has_weather || scenario.outdoor_c.is_some() {
        let hint = "Outdoor temperature of this state, which thermostatic valves follow; without one it is that of the design.";
        let design_c = form.view.project.design.outdoor_c.unwrap_or(0.0);
        let measure = Measure::Of(Quantity::Temperature);
        let (label, without) = (("Weather", hint), (design_c, "as designed"));
        if let Some(outdoor_c) = form.optional(label, measure, scenario.outdoor_c, without, OUTDOOR) {
            wanted = Some(Some(Scenario { outdoor_c, ..scenario.clone() }));
        }
    }
    form.within("do", Layout::left_to_right(Align::Min).with_main_wrap(true), |form| {
        form.ui.spacing_mut().interact_size.y = ROW;
        if let Some(shut) = zones(form, scenario) {
            wanted = Some(Some(Scenario { shut, ..scenario.clone() }));
        }
        if form.ui.button("Enter").on_hover_text("Opens and shuts the zone valves so").clicked() {
            form.change(Command::EnterScenario(index));
        }
        if form.ui.button("Delete").on_hover_text("Takes this scenario away").clicked() {
            wanted = Some(None);
        }
    });
    form.ui.add_space(4.0);
    wanted
}

/// A menu of the zones, with those ticked that are open.
fn zones(form: &mut Form<'_, '_>, scenario: &Scenario) -> Option<BTreeSet<ZoneId>> {
    let project = form.view.project;
    let words = match scenario.shut.len() {
        0 => "All zones open".to_owned(),
        1 => "1 zone shut".to_owned(),
        count => format!("{count} zones shut"),
    };
    let mut wanted = None;
    let config =
        egui::containers::menu::MenuConfig::new().close_behavior(egui::PopupCloseBehavior::CloseOnClickOutside);
    let button = egui::containers::menu::MenuButton::new(words).config(config);
    let (response, _) = button.ui(form.ui, |ui| {
        ui.label("Open in this scenario");
        egui::ScrollArea::vertical().max_height(340.0).show(ui, |ui| {
            for (id, zone) in &project.zones {
                let mut open = !scenario.shut.contains(id);
                if ui.checkbox(&mut open, &zone.name).changed() {
                    let mut shut = scenario.shut.clone();
                    if open {
                        shut.remove(id)
                    } else {
                        shut.insert(*id)
                    };
                    wanted = Some(shut);
                }
            }
        });
    });
    in_sight(response).on_hover_text("Which zones are open and which shut");
    wanted
}

//! The header: what is open, files, undo and redo, units, light and dark.

use super::super::desk::Desk;
use super::super::lesson::LessonIntent;
use super::super::look::{self, STEP, size};
use super::super::selection::Selection;
use super::super::view::{Intent, View, Work};
use crate::engine::units::{Quantity, Units};
use egui::{self, Button, Margin, RichText, Theme, Ui};

/// Quantities whose unit the reader may choose one by one.
const CHOOSABLE: [Quantity; 8] = [
    Quantity::Flow,
    Quantity::Head,
    Quantity::Pressure,
    Quantity::Heat,
    Quantity::Power,
    Quantity::Temperature,
    Quantity::Velocity,
    Quantity::FlowCoefficient,
];

/// Shows the header.
pub(in super::super) fn header(ui: &mut Ui, view: &View<'_>, desk: &Desk, intents: &mut Vec<Intent>) {
    let frame =
        egui::Frame::NONE.fill(view.palette.ground).inner_margin(Margin::symmetric(3 * STEP as i8, 2 * STEP as i8));
    egui::Panel::top("header").resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.label(RichText::new(&view.project.title).font(look::strong(size::LEAD + 2.0)));
            ui.add_space(2.0 * STEP);
            project_menu(ui, intents);
            edit_menu(ui, view, desk, intents);
            if ui.button("Lessons").on_hover_text("Learn on systems of their own (F4)").clicked() {
                intents.push(Intent::Lesson(LessonIntent::List));
            }
            step_button(ui, "Undo", desk.history().undo_name(), "Ctrl+Z", Intent::Undo, intents);
            step_button(ui, "Redo", desk.history().redo_name(), "Ctrl+Shift+Z", Intent::Redo, intents);
            ui.add_space(2.0 * STEP);
            for (work, word, hint) in [
                (Work::Draw, "Draw", "Draw the system (F2)"),
                (Work::Tune, "Tune", "Set the pump and work the valves (F3)"),
            ] {
                if ui.selectable_label(view.work == work, word).on_hover_text(hint).clicked() {
                    intents.push(Intent::TakeUp(work));
                }
            }
            if ui.button("Present").on_hover_text("Show it large to people who look on (F5)").clicked() {
                intents.push(Intent::Present);
            }
            // Behind the buttons, so that none of them moves when the words change.
            let name = desk.path().and_then(|path| path.file_name());
            let name = name.map_or_else(|| "not yet in a file".to_owned(), |n| n.to_string_lossy().into_owned());
            let state = match view.lesson {
                Some(_) => "a lesson’s own system".to_owned(),
                None if desk.is_changed() => format!("{name} · changed"),
                None => name,
            };
            ui.label(RichText::new(state).size(size::SMALL).color(view.palette.quiet));
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                theme_button(ui);
                units_menu(ui, view, intents);
            });
        });
    });
}

/// A line of a menu; `true` if it was chosen.
pub(in super::super) fn item(ui: &mut Ui, word: &str, keys: &str, enabled: bool) -> bool {
    let button = if keys.is_empty() { Button::new(word) } else { Button::new(word).shortcut_text(keys) };
    let clicked = ui.add_enabled(enabled, button).clicked();
    if clicked {
        ui.close();
    }
    clicked
}

fn project_menu(ui: &mut Ui, intents: &mut Vec<Intent>) {
    ui.menu_button("Project", |ui| {
        ui.set_min_width(220.0);
        for (word, keys, intent) in [
            ("New, an empty sheet", "Ctrl+N", Intent::New),
            ("New, from a list of zones…", "Ctrl+L", Intent::FromList),
            ("Open…", "Ctrl+O", Intent::AskOpen),
            ("Save", "Ctrl+S", Intent::Save),
            ("Save as…", "Ctrl+Shift+S", Intent::AskSave),
            ("Picture…", "Ctrl+P", Intent::Pictures),
            ("Record…", "", Intent::Record),
        ] {
            if item(ui, word, keys, true) {
                intents.push(intent);
            }
        }
    });
}

fn edit_menu(ui: &mut Ui, view: &View<'_>, desk: &Desk, intents: &mut Vec<Intent>) {
    ui.menu_button("Edit", |ui| {
        ui.set_min_width(260.0);
        for (word, step, keys, intent) in [
            ("Undo", desk.history().undo_name(), "Ctrl+Z", Intent::Undo),
            ("Redo", desk.history().redo_name(), "Ctrl+Shift+Z", Intent::Redo),
        ] {
            let words = step.map_or_else(|| word.to_owned(), |step| format!("{word}: {step}"));
            if item(ui, &words, keys, step.is_some()) {
                intents.push(intent);
            }
        }
        ui.separator();
        if item(ui, "Find…", "Ctrl+F", true) {
            intents.push(Intent::Search);
        }
        if item(ui, "Select all", "Ctrl+A", !view.project.components.is_empty()) {
            intents.push(Intent::TakeUp(Work::Draw));
            intents.push(Intent::Select(Selection::all(view.project)));
        }
        if item(ui, "Whole drawing", "Home", true) {
            intents.push(Intent::FitDrawing);
        }
        ui.separator();
        if item(ui, "Balance all zones", "", !view.project.zones.is_empty()) {
            intents.push(Intent::Balance);
        }
    });
}

fn step_button(ui: &mut Ui, word: &str, step: Option<&str>, keys: &str, intent: Intent, intents: &mut Vec<Intent>) {
    let response = ui.add_enabled(step.is_some(), Button::new(word));
    let response = match step {
        Some(step) => response.on_hover_text(format!("{word}: {step} ({keys})")),
        None => response.on_disabled_hover_text(format!("Nothing to {}", word.to_lowercase())),
    };
    if response.clicked() {
        intents.push(intent);
    }
}

fn theme_button(ui: &mut Ui) {
    let dark = ui.ctx().theme() == Theme::Dark;
    let word = if dark { "Light" } else { "Dark" };
    if ui.button(word).on_hover_text("Change between light and dark").clicked() {
        ui.ctx().set_theme(if dark { Theme::Light } else { Theme::Dark });
    }
}

fn units_menu(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let word = match *view.units {
        units if units == Units::si() => "Units: SI",
        units if units == Units::inch_pound() => "Units: inch-pound",
        _ => "Units: mixed",
    };
    ui.menu_button(word, |ui| {
        for (word, units) in [("SI", Units::si()), ("Inch-pound", Units::inch_pound())] {
            if ui.radio(*view.units == units, word).clicked() {
                intents.push(Intent::SetUnits(units));
                ui.close();
            }
        }
        ui.separator();
        for quantity in CHOOSABLE {
            ui.menu_button(format!("{} in {}", capital(quantity.name()), view.units.symbol(quantity)), |ui| {
                for unit in Units::choices(quantity) {
                    if ui.radio(view.units.get(quantity) == *unit, unit.symbol()).clicked() {
                        intents.push(Intent::SetUnit(quantity, *unit));
                        ui.close();
                    }
                }
            });
        }
    });
}

/// A name as it begins a line.
pub(in super::super) fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

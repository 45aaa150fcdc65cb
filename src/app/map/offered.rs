//! The best setting, offered beside the map: what it is, what it saves, why it is the best, and a way to take it.

use super::super::look::{self, STEP, size};
use super::super::part_load::{Found, Task};
use super::super::term_card::TermCard;
use super::super::view::{Intent, View};
use super::amounts;
use crate::document::{Command, ComponentKind};
use crate::engine::units::Quantity;
use crate::study::settings::{Best, explanation, sources_words, why_none};
use crate::study::terms::Term;
use egui::{self, Button, Label, ProgressBar, RichText, Ui};

/// Shows it.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let searches = &view.part_load.searches;
    ui.label(RichText::new("Best setting").font(look::strong(size::BODY)));
    let Some(found) = searches.found() else {
        waiting(ui, view, intents);
        combinations(ui, view, intents);
        return;
    };
    match &found.best {
        Ok(best) => {
            offer(ui, view, found, best, intents);
            let words = explanation(view.project, &found.part_load, &found.deciding, best, view.units);
            ui.add(Label::new(words).wrap());
            sources(ui, view, found, best);
        }
        Err(_) => {
            let words = why_none(view.project, &found.part_load, &found.deciding, view.units);
            ui.add(Label::new(RichText::new(words).color(view.palette.starved)).wrap());
            if let Some(best) = &found.least_starving {
                ui.add_space(STEP);
                ui.add(Label::new("The least that starves no zone, whatever others get too much:").wrap());
                offer(ui, view, found, best, intents);
                ui.add(Label::new(overflowing(view, found, best)).wrap());
                sources(ui, view, found, best);
            }
        }
    }
    ui.add_space(STEP);
    tasks(ui, view, found, intents);
}

/// In which scenarios a source falls below its minimum flow: no setting that serves the zones alone can help that.
fn sources(ui: &mut Ui, view: &View<'_>, found: &Found, best: &Best) {
    let words = sources_words(&found.part_load, &best.settings);
    if words.is_empty() {
        return;
    }
    let words = format!("▲ {words}");
    ui.add(Label::new(RichText::new(words).color(view.palette.starved)).wrap());
}

/// What stands there while there is no answer.
fn waiting(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let searches = &view.part_load.searches;
    if searches.is_given_up() {
        quiet(ui, view, "The search was given up.");
        if ui.button("Search for it").clicked() {
            intents.push(Intent::SearchBest);
        }
        return;
    }
    if let Some(share) = searches.share() {
        ui.horizontal(|ui| {
            ui.add(ProgressBar::new(share as f32).desired_width(100.0).desired_height(10.0));
            if ui.small_button("Cancel").clicked() {
                intents.push(Intent::GiveUpBest);
            }
        });
    }
    quiet(ui, view, if view.part_load.is_old() { "The system is being probed." } else { "Being searched for." });
}

/// Which zones get too much, and at most how much.
fn overflowing(view: &View<'_>, found: &Found, best: &Best) -> String {
    let margins = found.part_load.margins(&found.part_load.law(&best.settings));
    let name = |margin: &crate::study::part_load::Margin| {
        let zone = view.project.zones.get(&margin.zone).map_or("", |zone| zone.name.as_str());
        let state = found.part_load.state_name(margin.greatest.state);
        format!("{zone} up to {} in “{state}”", view.units.format(Quantity::Share, margin.greatest.share))
    };
    let over = margins.iter().filter(|margin| margin.greatest.share > view.project.acceptance.high);
    let all: Vec<String> = over.map(name).collect();
    if all.is_empty() { String::new() } else { format!("{}.", all.join("; ")) }
}

/// Three numbers, what they save against the present ones, and a button to take them.
fn offer(ui: &mut Ui, view: &View<'_>, found: &Found, best: &Best, intents: &mut Vec<Intent>) {
    let settings = &best.settings;
    ui.horizontal_wrapped(|ui| {
        for (quantity, value, color) in [
            (Quantity::Head, settings.head_limit_m.unwrap_or(0.0), view.palette.head_limit),
            (Quantity::Share, settings.slope, view.palette.slope),
            (Quantity::Share, settings.speed_cap, view.palette.cap),
        ] {
            let words = view.units.format(quantity, value);
            ui.label(RichText::new(words).font(look::strong(size::LEAD + 3.0)).color(color));
        }
    });
    let Some(present) = view.part_load.present() else { return };
    let (part_load, saves) = (&found.part_load, present.mean_w - best.mean_w);
    // A share of what the strip shows: standing by counts there.
    let hours_j = part_load.energy_of_mean_j(1.0);
    let whole = if part_load.has_hours() { present.year.total_j() / hours_j } else { present.mean_w };
    let share = if whole > 0.0 { saves / whole } else { 0.0 };
    let amount = amounts::difference(view, part_load, saves);
    let serves = found.deciding.serves(&present.law);
    let is_present = view.unit().is_some_and(|unit| unit.regulation == *settings);
    let words = match () {
        () if is_present => "These are the present settings.".to_owned(),
        () if saves.abs() < 0.005 * present.mean_w => "It takes as much as the present settings.".to_owned(),
        () if saves > 0.0 => {
            format!("Saves {amount} against now: {} less.", view.units.format(Quantity::Share, share))
        }
        () if serves => format!("Takes {amount} more than now."),
        () => format!("Takes {amount} more than the present settings, which do not serve every zone."),
    };
    ui.add(Label::new(RichText::new(words).color(view.palette.ink)).wrap());
    let button = ui.add_enabled(!is_present, Button::new("Use this setting"));
    if button.on_hover_text("Sets head limit, slope and speed cap at once").clicked()
        && let Some(pump) = view.pump
    {
        intents.push(Intent::Change(Command::SetRegulation(pump, *settings)));
    }
    ui.add_space(STEP);
}

/// What more can be asked.
fn tasks(ui: &mut Ui, view: &View<'_>, found: &Found, intents: &mut Vec<Intent>) {
    combinations(ui, view, intents);
    if let Some(combined) = &found.part_load.combined {
        quiet(ui, view, &format!("Looked at: {}.", combined.words));
    }
    let asked = view.part_load.searches.asked();
    for (task, word, hint) in [
        (
            Task::Robustness,
            "How robust?",
            "Holds the setting against lengths, roughness, glycol and valves that are off",
        ),
        (
            Task::Remedies,
            "Why not better?",
            "Tries what would move the limit: wider mains, other valves, another return",
        ),
        (Task::Presettings, "With presettings", "Moves the balancing valves too"),
    ] {
        let has_valves = || {
            let is_valve = |c: &crate::document::Component| matches!(c.kind, ComponentKind::BalancingValve { .. });
            view.project.components.values().any(is_valve)
        };
        let enabled = match task {
            Task::Robustness => found.offered().is_some(),
            Task::Remedies => true,
            Task::Presettings => has_valves(),
        };
        match asked {
            Some((other, share)) if other == task => {
                ui.horizontal(|ui| {
                    ui.add(ProgressBar::new(share as f32).desired_width(100.0).desired_height(10.0));
                    if ui.small_button("Cancel").clicked() {
                        intents.push(Intent::GiveUpAsked);
                    }
                });
            }
            _ => {
                let stands = view.part_load.searches.answered() == Some(task);
                let button = ui.add_enabled(enabled, Button::new(word).selected(stands));
                let button = match task {
                    Task::Robustness => {
                        TermCard::new(view, Term::RobustSetting).hint(hint).on(&button);
                        button
                    }
                    Task::Presettings => {
                        TermCard::new(view, Term::Presetting).hint(hint).on(&button);
                        button
                    }
                    Task::Remedies => button.on_hover_text(hint),
                };
                if button.clicked() {
                    intents.push(Intent::Ask(task));
                }
            }
        }
    }
}

/// Whether every combination of zones counts.
fn combinations(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let mut combine = view.project.every_combination;
    let hint = "Besides the scenarios every combination of open zones must be served: all of them up to 14 zones, above that each \
                zone alone, each shut alone and a sample";
    if ui.checkbox(&mut combine, "Every combination of zones").on_hover_text(hint).changed() {
        intents.push(Intent::Change(Command::SetEveryCombination(combine)));
    }
}

/// A quiet line.
pub(super) fn quiet(ui: &mut Ui, view: &View<'_>, words: &str) {
    ui.add(Label::new(RichText::new(words).size(size::SMALL).color(view.palette.quiet)).wrap());
}

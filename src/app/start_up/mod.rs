//! Starting up: the checklist fill – vent – release, and beside it the cautions that it calls for.

mod mind;
mod steps;

use super::look::{self, STEP, size};
use super::view::{Intent, View};
use super::written::Written;
use crate::document::{Starting, StartingStep, steps_in_words};
use crate::study::Hazard;
use egui::{self, Align, Layout, RichText, ScrollArea, Ui, vec2};

/// What the pane remembers between passes.
#[derive(Debug, Default)]
pub(super) struct StartUpState {
    written: Written,
    /// The caution that was opened by a click.
    open: Option<Hazard>,
}

/// Least and greatest width of the cautions, points.
const CAUTIONS: std::ops::RangeInclusive<f32> = 176.0..=420.0;

/// Shows the pane.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut StartUpState, intents: &mut Vec<Intent>) {
    let size = ui.available_size();
    let beside = (size.x - steps::WIDTH - 6.0 * STEP).clamp(*CAUTIONS.start(), *CAUTIONS.end());
    let height = size.y;
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 0.0;
        let width = (size.x - beside - 6.0 * STEP).clamp(100.0, steps::WIDTH);
        column(ui, (width, height), |ui| {
            heading(ui, view);
            let area = ScrollArea::both().id_salt("steps").auto_shrink(false);
            area.show(ui, |ui| steps::show(ui, view, &mut state.written, intents));
        });
        ui.add_space(6.0 * STEP);
        column(ui, (beside, height), |ui| {
            let area = ScrollArea::vertical().id_salt("cautions").auto_shrink(false);
            area.show(ui, |ui| mind::show(ui, view, &mut state.open));
        });
    });
}

fn column(ui: &mut Ui, (width, height): (f32, f32), content: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(vec2(width, height), Layout::top_down(Align::Min), |ui| {
        ui.set_min_size(vec2(width, height));
        ui.set_max_width(width);
        content(ui);
    });
}

/// Whether the circulators may run, in words.
fn heading(ui: &mut Ui, view: &View<'_>) {
    let starting = &view.project.starting;
    let color = if starting.is_released() { view.palette.served } else { view.palette.ink };
    ui.label(RichText::new(standing(starting)).font(look::strong(size::BODY)).color(color));
}

/// "Released to run on 2026-03-04, I. Calloway." or what is still to be done.
fn standing(starting: &Starting) -> String {
    let waits = starting.waits_for(StartingStep::Released);
    match starting.ticks.get(&StartingStep::Released) {
        Some(tick) => {
            let told = [tick.date.as_str(), tick.by.as_str()].into_iter().filter(|text| !text.is_empty());
            let told: Vec<&str> = told.collect();
            if told.is_empty() {
                "Released to run.".to_owned()
            } else {
                format!("Released to run: {}.", told.join(", "))
            }
        }
        None if waits.is_empty() => "Filled and vented: ready to be released to run.".to_owned(),
        None => format!("Not released to run: it waits for {}.", steps_in_words(&waits)),
    }
}

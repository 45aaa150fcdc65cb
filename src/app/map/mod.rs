//! The map of settings: a plane of two of them with the region in which every zone keeps its band in every scenario, what goes wrong
//! elsewhere, lines of equal energy, the best setting and the present one, which is dragged about with both settings at once.

mod amounts;
mod helped;
mod labels;
mod made;
mod marks;
mod offered;
mod plane;
mod third;

use super::look::STEP;
use super::part_load;
use super::view::{Intent, View};
use crate::study::settings::Axes;
use egui::{self, Ui};
use made::Made;

/// Width of what stands beside the plane, points.
const BESIDE: std::ops::RangeInclusive<f32> = 224.0..=380.0;

/// What the map remembers between passes.
#[derive(Debug, Default)]
pub(super) struct MapState {
    axes: Axes,
    made: Made,
    /// Whether the last answer was brought into sight.
    is_answer_seen: bool,
}

impl MapState {
    /// What stands on its axes.
    pub(super) fn axes(&self) -> Axes {
        self.axes
    }
}

/// Shows the map.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut MapState, intents: &mut Vec<Intent>) {
    if part_load::shown(ui, view).is_none() {
        return;
    }
    let beside = (0.34 * ui.available_width()).clamp(*BESIDE.start(), *BESIDE.end());
    let frame = egui::Frame::NONE.inner_margin(egui::Margin { left: 8, ..egui::Margin::ZERO });
    egui::Panel::right("beside the map").resizable(false).exact_size(beside).frame(frame).show(ui, |ui| {
        ui.add_space(STEP);
        egui::ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            choose_axes(ui, view, state, intents);
            offered::show(ui, view, intents);
            helped::show(ui, view, &mut state.is_answer_seen, intents);
        });
    });
    let settings = view.unit().map(|unit| unit.regulation);
    if let Some(settings) = settings {
        let busy = ui.input(|i| i.pointer.any_down());
        state.made.follow(view.part_load, state.axes, &settings, busy);
        if !state.made.is_fine() && !busy {
            ui.ctx().request_repaint();
        }
    }
    egui::CentralPanel::default().frame(egui::Frame::NONE).show(ui, |ui| {
        if let Some(map) = state.made.map() {
            plane::show(ui, view, map, intents);
        }
    });
}

/// What stands on the axes.
pub(super) fn axes_words(axes: Axes) -> (&'static str, &'static str) {
    match axes {
        Axes::LimitOverSlope => ("Slope", "Head limit"),
        Axes::LimitOverCap => ("Speed cap", "Head limit"),
        Axes::SlopeOverCap => ("Speed cap", "Slope"),
    }
}

/// Which two settings the plane has, and the third, which can be moved here too.
fn choose_axes(ui: &mut Ui, view: &View<'_>, state: &mut MapState, intents: &mut Vec<Intent>) {
    let words = |axes: Axes| {
        let (x, y) = axes_words(axes);
        format!("{y} over {}", x.to_lowercase())
    };
    let width = ui.available_width() - 2.0 * STEP;
    egui::ComboBox::from_id_salt("axes").selected_text(words(state.axes)).width(width).show_ui(ui, |ui| {
        for axes in Axes::ALL {
            if ui.selectable_label(state.axes == axes, words(axes)).clicked() {
                state.axes = axes;
            }
        }
    });
    third::show(ui, view, state.axes, intents);
    ui.add_space(STEP);
}

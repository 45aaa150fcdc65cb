//! The map of settings: a plane of two of them with the region in which every zone keeps its band in every scenario, what goes wrong
//! elsewhere, lines of equal energy, the best setting and the present one, which is dragged about with both settings at once.

mod helped;
mod labels;
mod made;
mod marks;
mod offered;
mod plane;

use super::look::{STEP, size};
use super::view::{Intent, View};
use crate::study::settings::Axes;
use egui::{self, RichText, Ui};
use made::Made;

/// Width of what stands beside the plane, points.
const BESIDE: std::ops::RangeInclusive<f32> = 224.0..=380.0;

/// What the map remembers between passes.
#[derive(Debug, Default)]
pub(super) struct MapState {
    axes: Axes,
    made: Made,
}

/// Shows the map.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut MapState, intents: &mut Vec<Intent>) {
    let (Some(probed), Some(_)) = (view.part_load.probed(), view.unit()) else {
        ui.label(RichText::new(view.part_load.why_nothing()).color(view.palette.quiet));
        return;
    };
    if view.part_load.is_old() {
        ui.set_opacity(0.45);
    }
    let beside = (0.34 * ui.available_width()).clamp(*BESIDE.start(), *BESIDE.end());
    egui::Panel::right("beside the map").resizable(false).exact_size(beside).frame(egui::Frame::NONE).show(ui, |ui| {
        ui.add_space(STEP);
        egui::ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            choose_axes(ui, view, state);
            offered::show(ui, view, intents);
            helped::show(ui, view, intents);
        });
    });
    let settings = view.unit().map(|unit| unit.regulation);
    if let Some(settings) = settings {
        let busy = ui.input(|i| i.pointer.any_down());
        state.made.follow(probed, state.axes, &settings, busy);
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

/// Which two settings the plane has; the third stands as it is set above the plot.
fn choose_axes(ui: &mut Ui, view: &View<'_>, state: &mut MapState) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for axes in Axes::ALL {
            let (x, y) = axes_words(axes);
            let words = format!("{} / {}", y.to_lowercase(), x.to_lowercase());
            let text = RichText::new(words).size(size::SMALL);
            let hint = format!("{y} over {}", x.to_lowercase());
            if ui.selectable_label(state.axes == axes, text).on_hover_text(hint).clicked() {
                state.axes = axes;
            }
        }
    });
    if view.unit().is_some_and(|unit| unit.regulation.head_limit_m.is_none()) {
        ui.label(RichText::new("Without a head limit there is no present point here.").color(view.palette.quiet));
    }
    ui.add_space(STEP);
}

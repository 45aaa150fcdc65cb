//! Where the panes lie: the sheet in the middle; beside it the curves while tuning, the shelf and the inspector while drawing. While
//! presenting all of them give way.

use super::super::look::{self, Palette};
use super::super::view::{Above, Below, Intent, View, Work};
use super::super::{
    below, checklist, curves, drawing, frame, head_path, inspector, map, margins, presentation, scenario_strip,
    settings, shelf, variants, year, zones,
};
use super::Window;
use egui::{Panel, Ui};

/// Width of the shelf, and least and greatest width of the inspector, points.
const SHELF: f32 = 184.0;
const INSPECTOR: std::ops::RangeInclusive<f32> = 330.0..=420.0;

impl Window {
    pub(super) fn paint(&mut self, ui: &mut Ui, intents: &mut Vec<Intent>) {
        let palette = Palette::of(ui.ctx().theme());
        let presents = self.presentation.is_on();
        let units = self.presentation.units(&self.units);
        let tunes = self.work == Work::Tune && !presents;
        let view = View {
            project: self.desk.project(),
            study: self.desk.study(),
            results: self.desk.study().results(),
            units: &units,
            palette,
            pump: self.desk.pump(),
            hovered: self.hovered,
            path: &self.pointed.1,
            alone: &self.pointed.2,
            flowing: &self.flowing.0,
            work: self.work,
            standing: self.desk.standing(),
            checks: &self.checks.1,
            selection: &self.selection,
            below: if tunes { self.below } else { Below::Zones },
            lit: self.lit,
            revision: self.desk.revision(),
            scenario: self.strip.present(self.desk.project()),
            above: if tunes { self.above } else { Above::Drawing },
            presents,
            scale: self.presentation.scale(ui.available_size()),
            part_load: &self.part_load,
        };
        let size = ui.available_size();
        if let Some(notice) = &self.notice {
            frame::notice(ui.ctx(), &view, notice, intents);
        }
        if presents {
            // A strip that stands here first, at a side or at the foot, takes its room from all that is presented.
            presentation::show(ui, &view, &mut self.presentation, &mut self.drawing, &mut self.curves, intents);
            return;
        }
        frame::header(ui, &view, &self.desk, intents);
        frame::sentence(ui, &view, self.desk.last_change(), intents);
        let pane = frame::pane(&palette);
        if view.work == Work::Tune {
            scenario_strip::show(ui, &view, &mut self.strip, intents);
        }
        match view.work {
            Work::Tune => {
                let width = (0.45 * size.x).clamp(470.0, 1000.0);
                let beside = Panel::right("curves and settings").resizable(false).exact_size(width).frame(pane);
                beside.show(ui, |ui| {
                    fade(ui, &view);
                    settings::show(ui, &view, intents);
                    curves::show(ui, &view, &mut self.curves, intents);
                });
            }
            Work::Draw => {
                let shelf = Panel::left("shelf").resizable(false).exact_size(SHELF).frame(pane);
                shelf.show(ui, |ui| shelf::show(ui, &view, &mut self.drawing, intents));
                let width = (0.27 * size.x).clamp(*INSPECTOR.start(), *INSPECTOR.end());
                let beside = Panel::right("inspector and checks").resizable(false).exact_size(width).frame(pane);
                beside.show(ui, |ui| {
                    checklist::show(ui, &view, &mut self.checklist, intents);
                    inspector::show(ui, &view, &self.selection, &mut self.inspector, intents);
                });
            }
        }
        let lower = Panel::bottom("zones").resizable(false).exact_size(lower_height(&view, size.y)).frame(pane);
        lower.show(ui, |ui| {
            if tunes {
                below::choose(ui, &view, intents);
            }
            fade(ui, &view);
            show_below(ui, &view, &mut self.head_path, &mut self.variants, intents);
        });
        egui::CentralPanel::default().frame(pane).show(ui, |ui| {
            if tunes {
                below::choose_above(ui, &view, intents);
            }
            match view.above {
                Above::Drawing => drawing::show(ui, &view, &mut self.drawing, intents),
                Above::Map => map::show(ui, &view, &mut self.map, intents),
            }
        });
    }
}

/// What was chosen to stand below the sheet.
fn show_below(
    ui: &mut Ui,
    view: &View<'_>,
    head_path: &mut head_path::HeadPathState,
    variants: &mut variants::VariantsState,
    intents: &mut Vec<Intent>,
) {
    match view.below {
        Below::Zones => zones::show(ui, view, intents),
        Below::Margins => margins::show(ui, view, intents),
        Below::HeadPath => head_path::show(ui, view, head_path, intents),
        Below::Year => year::show(ui, view, intents),
        Below::Variants => variants::show(ui, view, variants, intents),
    }
}

/// Height of the pane below the sheet. While tuning it is one and the same, so that nothing jumps when another thing is shown there.
fn lower_height(view: &View<'_>, height: f32) -> f32 {
    if view.work == Work::Tune {
        return (0.37 * height).max(91.0);
    }
    zones::height(view.project.zones.len()).clamp(90.0, (0.26 * height).max(91.0))
}

/// Results of an earlier drawing are grey.
fn fade(ui: &mut Ui, view: &View<'_>) {
    if view.is_stale() {
        ui.set_opacity(look::OLD);
    }
}

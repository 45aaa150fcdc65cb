//! Where the panes lie: the sheet in the middle; beside it the curves while tuning, the shelf and the inspector while drawing.

use super::super::look::{self, Palette};
use super::super::view::{Above, Below, Intent, View, Work};
use super::super::{
    below, checklist, curves, drawing, frame, head_path, inspector, map, margins, register, scenario_strip, settings,
    shelf, start_up, variants, year, zones,
};
use super::Window;
use egui::{Panel, Ui};

/// Width of the shelf, and least and greatest width of the inspector, points.
const SHELF: f32 = 184.0;
const INSPECTOR: std::ops::RangeInclusive<f32> = 330.0..=420.0;

impl Window {
    pub(super) fn paint(&mut self, ui: &mut Ui, intents: &mut Vec<Intent>) {
        let palette = Palette::of(ui.ctx().theme());
        let view = View {
            project: self.desk.project(),
            study: self.desk.study(),
            results: self.desk.study().results(),
            units: &self.units,
            palette,
            pump: self.desk.pump(),
            hovered: self.hovered,
            path: &self.pointed.1,
            alone: &self.pointed.2,
            flow_time: self.flow_time,
            work: self.work,
            standing: self.desk.standing(),
            checks: &self.checks.1,
            selection: &self.selection,
            below: if self.work == Work::Tune { self.below } else { self.below.while_drawing() },
            lit: self.lit,
            revision: self.desk.revision(),
            scenario: self.strip.present(self.desk.project()),
            above: if self.work == Work::Tune { self.above } else { Above::Drawing },
            first_run: self.first_run,
            part_load: &self.part_load,
        };
        let size = ui.available_size();
        frame::header(ui, &view, &self.desk, intents);
        if let Some(notice) = &self.notice {
            frame::notice(ui.ctx(), &view, notice, intents);
        }
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
        let tunes = view.work == Work::Tune;
        let lower = Panel::bottom("zones").resizable(false).exact_size(lower_height(&view, size.y)).frame(pane);
        lower.show(ui, |ui| {
            below::choose(ui, &view, intents);
            fade(ui, &view);
            match view.below {
                Below::Zones => zones::show(ui, &view, intents),
                Below::Margins => margins::show(ui, &view, intents),
                Below::HeadPath => head_path::show(ui, &view, &mut self.head_path, intents),
                Below::Year => year::show(ui, &view, intents),
                Below::Variants => variants::show(ui, &view, &mut self.variants, intents),
                Below::StartUp => start_up::show(ui, &view, &mut self.start_up, intents),
                Below::Register => register::show(ui, &view, &mut self.register, intents),
            }
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

/// Height of the pane below the sheet. While tuning it is one and the same, so that nothing jumps when another thing is shown there.
fn lower_height(view: &View<'_>, height: f32) -> f32 {
    if view.work == Work::Tune {
        return (0.37 * height).max(91.0);
    }
    // With a row of words to choose from.
    let most = (0.3 * height).max(121.0);
    if view.below == Below::Zones {
        return (zones::height(view.project.zones.len()) + 30.0).clamp(120.0, most);
    }
    most
}

/// Results of an earlier drawing are grey.
fn fade(ui: &mut Ui, view: &View<'_>) {
    if view.is_stale() {
        ui.set_opacity(look::OLD);
    }
}

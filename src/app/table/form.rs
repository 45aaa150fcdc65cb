//! The plant's fields above the list: a name over each, the usual figure in an empty one.

use super::super::look::{self, Palette, STEP, size};
use super::outcome::{Fault, Outcome, Place};
use super::plant::{Figure, Plant};
use super::wanted::Wanted;
use crate::document::{Arrangement, Duty};
use crate::engine::fluid::FluidKind;
use crate::engine::pipes;
use crate::engine::units::{Quantity, Units};
use egui::{self, ComboBox, RichText, Stroke, TextEdit, Ui, vec2};

/// Shows the fields; `true` if one was changed. What is to be read from a file is put into `wanted`.
pub(super) fn show(
    ui: &mut Ui,
    plant: &mut Plant,
    outcome: &Outcome,
    units: &Units,
    palette: &Palette,
    wanted: &mut Option<Wanted>,
) -> bool {
    let mut form = Form { plant, outcome, units, palette, changed: false };
    let room = ui.available_width();
    let mut rows: Vec<Vec<Item>> = Vec::new();
    let mut used = f32::INFINITY;
    for item in form.items() {
        let width = form.width(ui, item) + GAP;
        if used + width > room + GAP {
            rows.push(Vec::new());
            used = 0.0;
        }
        used += width;
        if let Some(row) = rows.last_mut() {
            row.push(item);
        }
    }
    ui.spacing_mut().item_spacing.x = GAP;
    for row in rows {
        ui.horizontal(|ui| row.into_iter().for_each(|item| form.item(ui, item, wanted)));
    }
    form.changed
}

/// Space between two fields.
const GAP: f32 = 2.5 * STEP;

/// Width of the choice of pipes.
const PIPES: f32 = 213.0;

/// A field.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Item {
    Title,
    Arrangement,
    Duty,
    Fluid,
    Pipes,
    Circulator,
    /// A figure and the width of its field.
    Figure(Figure, f32),
}

struct Form<'a> {
    plant: &'a mut Plant,
    outcome: &'a Outcome,
    units: &'a Units,
    palette: &'a Palette,
    changed: bool,
}

impl Form<'_> {
    fn items(&self) -> Vec<Item> {
        let mut items = vec![Item::Title, Item::Arrangement, Item::Duty];
        items.extend([Item::Figure(Figure::Supply, 66.0), Item::Figure(Figure::Drop, 54.0)]);
        items.extend([Item::Figure(Figure::Room, 54.0), Item::Figure(Figure::Outdoor, 72.0), Item::Fluid]);
        if self.plant.fluid != FluidKind::Water {
            items.push(Item::Figure(Figure::Glycol, 54.0));
        }
        items.push(Item::Circulator);
        if self.plant.pump.is_some() {
            items.push(Item::Figure(Figure::Standby, 66.0));
        }
        items.extend([Item::Pipes, Item::Figure(Figure::Roughness, 86.0), Item::Figure(Figure::Friction, 100.0)]);
        items.extend([Item::Figure(Figure::Velocity, 100.0), Item::Figure(Figure::CommonLength, 78.0)]);
        items.extend([Item::Figure(Figure::CommonFittings, 78.0), Item::Figure(Figure::SourceLoss, 88.0)]);
        items.extend([Item::Figure(Figure::SourceFlow, 110.0), Item::Figure(Figure::Strainer, 78.0)]);
        items
    }

    /// Width of a field and of the name over it.
    fn width(&self, ui: &Ui, item: Item) -> f32 {
        match item {
            Item::Title => 190.0,
            Item::Arrangement => 128.0,
            Item::Duty => 86.0,
            Item::Fluid => 136.0,
            Item::Pipes => PIPES,
            Item::Circulator => 130.0,
            Item::Figure(figure, width) => {
                let name = figure.heading(self.units);
                let name = ui.painter().layout_no_wrap(name, look::font(size::SMALL), self.palette.ink);
                width.max(name.size().x)
            }
        }
    }

    fn item(&mut self, ui: &mut Ui, item: Item, wanted: &mut Option<Wanted>) {
        match item {
            Item::Title => self.title(ui),
            Item::Arrangement => self.arrangement(ui),
            Item::Duty => self.duty(ui),
            Item::Fluid => self.fluid(ui),
            Item::Pipes => self.series(ui),
            Item::Circulator => self.pump(ui, wanted),
            Item::Figure(figure, width) => self.figure(ui, figure, width),
        }
    }

    /// A name over a field.
    fn over<R>(&self, ui: &mut Ui, name: &str, about: &str, field: impl FnOnce(&mut Ui, egui::Id) -> R) -> R {
        ui.vertical(|ui| {
            ui.spacing_mut().item_spacing.y = 2.0;
            let name = RichText::new(name).size(size::SMALL).color(self.palette.quiet);
            let mut label = ui.add(egui::Label::new(name).extend());
            if !about.is_empty() {
                label = label.on_hover_text(about);
            }
            field(ui, label.id)
        })
        .inner
    }

    fn title(&mut self, ui: &mut Ui) {
        let mut title = std::mem::take(&mut self.plant.title);
        let edit =
            TextEdit::singleline(&mut title).hint_text("New building").desired_width(178.0).min_size(vec2(0.0, 26.0));
        self.changed |= self.over(ui, "Building", "", |ui, label| ui.add(edit).labelled_by(label)).changed();
        self.plant.title = title;
    }

    fn arrangement(&mut self, ui: &mut Ui) {
        let all = [
            (Arrangement::DirectReturn, "direct return"),
            (Arrangement::ReverseReturn, "reverse return"),
            (Arrangement::Manifold, "manifold"),
        ];
        let about = "How the zones are joined: tee after tee with the return beside the flow; tee after tee with the return \
                     running on past the last zone; or all branches from one pair of collectors.";
        let mut now = self.plant.arrangement;
        self.choose(ui, ("Arrangement", about), 128.0, &mut now, &all);
        self.plant.arrangement = now;
    }

    fn duty(&mut self, ui: &mut Ui) {
        let mut now = self.plant.duty;
        self.choose(ui, ("Duty", ""), 86.0, &mut now, &[(Duty::Heating, "heating"), (Duty::Cooling, "cooling")]);
        self.plant.duty = now;
    }

    fn fluid(&mut self, ui: &mut Ui) {
        let all = [
            (FluidKind::Water, "water"),
            (FluidKind::PropyleneGlycol, "propylene glycol"),
            (FluidKind::EthyleneGlycol, "ethylene glycol"),
        ];
        let mut now = self.plant.fluid;
        self.choose(ui, ("Fluid", ""), 136.0, &mut now, &all);
        self.plant.fluid = now;
    }

    fn series(&mut self, ui: &mut Ui) {
        let all: Vec<_> = pipes::CATALOGUE.iter().map(|series| (*series, series.name)).collect();
        let mut now = self.plant.series;
        self.choose(ui, ("Pipes", now.source), PIPES, &mut now, &all);
        self.plant.series = now;
    }

    fn choose<T: Copy + PartialEq>(
        &mut self,
        ui: &mut Ui,
        (name, about): (&str, &str),
        width: f32,
        now: &mut T,
        all: &[(T, &str)],
    ) {
        let mut changed = false;
        self.over(ui, name, about, |ui, label| {
            let word = all.iter().find(|(choice, _)| choice == now).map_or("", |(_, word)| *word);
            let combo = ComboBox::from_id_salt(name).selected_text(word).width(width).truncate().height(320.0);
            let shown = combo.show_ui(ui, |ui| {
                for (choice, word) in all {
                    changed |= ui.selectable_value(now, *choice, *word).changed();
                }
            });
            shown.response.labelled_by(label);
        });
        self.changed |= changed;
    }

    fn figure(&mut self, ui: &mut Ui, figure: Figure, width: f32) {
        let usual = self.plant.usual(figure).map_or_else(
            || {
                if matches!(figure, Figure::Outdoor) {
                    "none"
                } else if figure == Figure::Strainer {
                    "chosen"
                } else {
                    ""
                }
                .to_owned()
            },
            |usual| match figure.quantity() {
                Some(quantity) => self.units.number(quantity, usual),
                None => self.units.number(Quantity::FlowCoefficient, usual).trim_end_matches(".00").to_owned(),
            },
        );
        let fault = self.outcome.faults.iter().find(|fault| fault.place == Place::Plant(figure));
        let heading = figure.heading(self.units);
        let mut text = std::mem::take(self.plant.text(figure));
        let changed = self.over(ui, &heading, figure.about(), |ui, label| {
            if let Some(Fault { is_missing, .. }) = fault {
                let color = if *is_missing { self.palette.head_limit } else { self.palette.starved };
                ui.visuals_mut().widgets.inactive.bg_stroke = Stroke::new(1.5, color);
                ui.visuals_mut().widgets.hovered.bg_stroke = Stroke::new(1.5, color);
            }
            let hint = RichText::new(usual).color(look::between(self.palette.quiet, self.palette.sheet, 0.25));
            let edit = TextEdit::singleline(&mut text).hint_text(hint).desired_width(width).min_size(vec2(0.0, 26.0));
            let response = ui.add(edit).labelled_by(label);
            let changed = response.changed();
            if let Some(fault) = fault {
                response.on_hover_text(&fault.message);
            }
            changed
        });
        *self.plant.text(figure) = text;
        self.changed |= changed;
    }

    fn pump(&mut self, ui: &mut Ui, wanted: &mut Option<Wanted>) {
        let name = self.plant.pump.as_ref().map_or("a stand-in".to_owned(), |chosen| chosen.name.clone());
        let about = "Without catalogue points an invented circulator of ample size stands in for a real one.";
        let mut gives_up = false;
        self.over(ui, "Circulator", about, |ui, label| {
            let combo = ComboBox::from_id_salt("circulator").selected_text(name).width(130.0).truncate();
            let shown = combo.show_ui(ui, |ui| {
                gives_up = ui.selectable_label(self.plant.pump.is_none(), "a stand-in").clicked();
                if ui.selectable_label(false, "catalogue points from a file…").clicked() {
                    *wanted = Some(Wanted::Pump);
                }
            });
            shown.response.labelled_by(label);
        });
        if gives_up && self.plant.pump.take().is_some() {
            self.changed = true;
        }
    }
}

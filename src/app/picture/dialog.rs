//! Asking for a picture: of what, as what, how wide, on which ground; then onto the clipboard or into a file.

use super::super::look::{self, STEP, size};
use super::super::view::{Intent, Product};
use super::wish::{PictureForm, PictureOf, PictureWish};
use crate::report::picture::WIDTHS;
use egui::{self, Button, DragValue, Key, RichText, Ui};

/// The panel that asks.
#[derive(Debug, Default)]
pub(in super::super) struct PictureDialog {
    is_open: bool,
    wish: PictureWish,
}

impl PictureDialog {
    /// Opens it, on the ground that the window has.
    pub(in super::super) fn open(&mut self, of: PictureOf, dark: bool) {
        self.is_open = true;
        self.wish.of = of;
        self.wish.dark = dark;
    }

    /// Shows it while it is open. `has_map` tells whether there is a map of settings to be pictured.
    pub(in super::super) fn show(&mut self, ctx: &egui::Context, has_map: bool, intents: &mut Vec<Intent>) {
        if !self.is_open {
            return;
        }
        let mut close = ctx.input(|i| i.key_pressed(Key::Escape));
        let modal = look::modal(ctx, "picture").show(ctx, |ui| {
            ui.set_width(420.0);
            ui.label(RichText::new("Picture").font(look::strong(size::LEAD)));
            ui.add_space(STEP);
            self.choices(ui, has_map);
            ui.add_space(2.0 * STEP);
            ui.horizontal(|ui| {
                let can = self.wish.of != PictureOf::Map || has_map;
                let copy = ui.add_enabled(can, Button::new("Copy")).on_hover_text("Onto the clipboard");
                if copy.clicked() {
                    intents.push(Intent::Copy(self.wish));
                    close = true;
                }
                if ui.add_enabled(can, Button::new("Save…")).on_hover_text("Into a file").clicked() {
                    intents.push(Intent::AskWrite(Product::Picture(self.wish)));
                    close = true;
                }
                close |= ui.button("Close").clicked();
            });
        });
        self.is_open = !(close || modal.should_close());
    }

    fn choices(&mut self, ui: &mut Ui, has_map: bool) {
        let wish = &mut self.wish;
        egui::Grid::new("picture choices").num_columns(2).spacing([3.0 * STEP, 1.5 * STEP]).show(ui, |ui| {
            ui.label("Of");
            ui.vertical(|ui| {
                for of in PictureOf::ALL {
                    let able = of != PictureOf::Map || has_map;
                    let choice = ui.add_enabled(able, egui::RadioButton::new(wish.of == of, of.words()));
                    let why = "The map is made while it is shown beside Drawing, or with scenarios in the project.";
                    if choice.on_disabled_hover_text(why).clicked() {
                        wish.of = of;
                    }
                }
            });
            ui.end_row();
            ui.label("As");
            ui.horizontal(|ui| {
                for (form, words) in [(PictureForm::Png, "PNG, dots"), (PictureForm::Svg, "SVG, sharp at any size")] {
                    if ui.radio(wish.form == form, words).clicked() {
                        wish.form = form;
                    }
                }
            });
            ui.end_row();
            let label = ui.label("Width");
            let width = DragValue::new(&mut wish.width).range(WIDTHS).speed(10.0).suffix(" px");
            ui.add(width).labelled_by(label.id).on_hover_text("The height follows");
            ui.end_row();
            ui.label("Ground");
            ui.horizontal(|ui| {
                for (dark, word) in [(false, "light"), (true, "dark")] {
                    if ui.radio(wish.dark == dark, word).clicked() {
                        wish.dark = dark;
                    }
                }
            });
            ui.end_row();
        });
    }
}

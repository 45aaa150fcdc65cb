//! One setting as a large number: drag it, click it to type (any unit is understood), or step it.

use super::super::look::{self, STEP, size};
use super::super::view::View;
use crate::engine::units::Quantity;
use egui::{self, Button, Color32, DragValue, Frame, Margin, RichText, Stroke, TextStyle, Ui};
use std::ops::RangeInclusive;

/// Width of a stepping button.
const STEPPER: f32 = 24.0;

/// A setting to be shown.
pub(super) struct Figure {
    pub(super) name: &'static str,
    pub(super) quantity: Quantity,
    /// Present value, SI.
    pub(super) value: f64,
    /// Step of the device, SI.
    pub(super) step: f64,
    /// What can be set, SI.
    pub(super) range: RangeInclusive<f64>,
    pub(super) color: Color32,
    pub(super) governs: bool,
    pub(super) hint: &'static str,
}

impl Figure {
    /// Shows it; returns the new value if it was changed.
    pub(super) fn show(&self, ui: &mut Ui, view: &View<'_>) -> Option<f64> {
        let palette = &view.palette;
        let edge = if self.governs { Stroke::new(2.0, self.color) } else { Stroke::new(1.0, palette.rule) };
        let mut new = None;
        Frame::NONE
            .fill(palette.raised)
            .stroke(edge)
            .corner_radius(7)
            .inner_margin(Margin::symmetric(2 * STEP as i8, 6))
            .show(ui, |ui| {
                ui.set_width(ui.available_width());
                ui.horizontal(|ui| {
                    let (mark, _) = ui.allocate_exact_size(egui::vec2(9.0, 9.0), egui::Sense::hover());
                    ui.painter().rect_filled(mark, 2, self.color);
                    ui.label(RichText::new(self.name).color(palette.quiet)).on_hover_text(self.hint);
                    if self.governs {
                        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                            ui.label(RichText::new("governs").font(look::strong(size::SMALL)).color(self.color));
                        });
                    }
                });
                ui.horizontal(|ui| {
                    ui.spacing_mut().button_padding.x = STEP;
                    ui.spacing_mut().item_spacing.x = STEP;
                    let buttons = 2.0 * (STEPPER + STEP);
                    let width = (ui.available_width() - buttons).max(60.0);
                    new = self.number(ui, view, width);
                    new = self.stepper(ui, "−", -1.0).or(new);
                    new = self.stepper(ui, "+", 1.0).or(new);
                });
            });
        new.filter(|value| (value - self.value).abs() > 1e-12)
    }

    fn number(&self, ui: &mut Ui, view: &View<'_>, width: f32) -> Option<f64> {
        ui.scope(|ui| {
            let style = ui.style_mut();
            style.text_styles.insert(TextStyle::Button, look::strong(size::FIGURE));
            style.drag_value_text_style = TextStyle::Button;
            style.visuals.widgets.inactive.weak_bg_fill = Color32::TRANSPARENT;
            style.visuals.widgets.inactive.bg_stroke = Stroke::NONE;
            style.spacing.button_padding = egui::vec2(2.0, 0.0);
            style.spacing.interact_size = egui::vec2(width, 34.0);
            let (units, quantity) = (view.units, self.quantity);
            let mut value = self.value;
            let field = DragValue::new(&mut value)
                .speed(0.25 * self.step)
                .range(self.range.clone())
                .update_while_editing(false)
                .custom_formatter(move |value, _| units.format(quantity, value))
                .custom_parser(move |text| units.parse(quantity, text).ok());
            let response = ui.add(field).on_hover_text(format!(
                "{} Drag sideways, or click to type; units such as {} are understood.",
                self.hint,
                examples(quantity)
            ));
            // A drag stops at the device's steps; what is typed is taken as typed.
            let by_hand = response.dragged();
            response.changed().then(|| if by_hand { self.stepped(value) } else { value })
        })
        .inner
    }

    fn stepper(&self, ui: &mut Ui, sign: &str, direction: f64) -> Option<f64> {
        let word = if direction < 0.0 { "less" } else { "more" };
        let response = ui.add(Button::new(sign).min_size(egui::vec2(STEPPER, 24.0)));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("{} {word}", self.name)));
        response.clicked().then(|| self.stepped(self.value + direction * self.step))
    }

    fn stepped(&self, value: f64) -> f64 {
        ((value / self.step).round() * self.step).clamp(*self.range.start(), *self.range.end())
    }
}

fn examples(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Head => "m and ft",
        _ => "%",
    }
}

//! One setting as a large number: drag it, click it to type (any unit is understood), or step it.

use super::super::lesson::ring;
use super::super::look::{self, STEP, size};
use super::super::term_card::TermCard;
use super::super::typed::Typed;
use super::super::view::{Intent, View};
use crate::document::{stepped, within};
use crate::engine::units::Quantity;
use crate::lesson::Look;
use crate::study::terms::Term;
use egui::{self, Button, Color32, Frame, Id, Margin, Rect, RichText, Stroke, TextStyle, Ui};

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
    pub(super) range: (f64, f64),
    pub(super) color: Color32,
    /// What to say while it governs; `None` while it does not.
    pub(super) governs: Option<&'static str>,
    pub(super) hint: &'static str,
    /// What a lesson calls it.
    pub(super) look: Look,
    /// What it is.
    pub(super) term: Term,
    /// The pane: cards stand beside it.
    pub(super) pane: Rect,
}

impl Figure {
    /// Shows it; returns the new value if it was changed.
    pub(super) fn show(&self, ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) -> Option<f64> {
        let palette = &view.palette;
        let edge = Stroke::new(2.0, if self.governs.is_some() { self.color } else { palette.rule });
        let mut new = None;
        let shown = Frame::NONE
            .fill(palette.raised)
            .stroke(edge)
            .corner_radius(7)
            .inner_margin(Margin::symmetric(2 * STEP as i8, 6))
            .show(ui, |ui| {
                ui.set_width(ui.available_width());
                let named = self.heading(ui, view);
                ui.horizontal(|ui| {
                    ui.spacing_mut().button_padding.x = STEP;
                    ui.spacing_mut().item_spacing.x = STEP;
                    let buttons = 2.0 * (STEPPER + STEP);
                    let width = (ui.available_width() - buttons).max(40.0);
                    new = self.number(ui, view, (named, width), intents);
                    new = self.stepper(ui, "−", -1.0).or(new);
                    new = self.stepper(ui, "+", 1.0).or(new);
                });
            });
        if view.points_out(self.look) {
            ring::about(ui.painter(), palette, shown.response.rect);
        }
        new.filter(|value| (value - self.value).abs() > 1e-12)
    }

    /// The name, and whether it governs; the name's identity, by which the field is told.
    fn heading(&self, ui: &mut Ui, view: &View<'_>) -> Id {
        let row = ui.horizontal(|ui| {
            ui.spacing_mut().item_spacing.x = STEP;
            let (mark, _) = ui.allocate_exact_size(egui::vec2(9.0, 9.0), egui::Sense::hover());
            ui.painter().rect_filled(mark, 2, self.color);
            let name = ui.label(RichText::new(self.name).color(view.palette.quiet));
            TermCard::new(view, self.term).hint(self.hint).beside(self.pane).on(&name);
            if let Some(words) = self.governs {
                let words = if ui.available_width() < 100.0 { "governs" } else { words };
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    ui.label(RichText::new(words).font(look::strong(size::SMALL)).color(self.color));
                });
            }
            name.id
        });
        row.inner
    }

    fn number(
        &self,
        ui: &mut Ui,
        view: &View<'_>,
        (named, width): (Id, f32),
        intents: &mut Vec<Intent>,
    ) -> Option<f64> {
        let text = self.text(view);
        let whole = ui.painter().layout_no_wrap(text.clone(), look::strong(size::FIGURE), self.color).size().x + 6.0;
        let font = look::strong(size::FIGURE * (width / whole).min(1.0));
        let typed = Typed::new(view.units, self.quantity, self.value, text, self.range);
        let response = ui
            .scope(|ui| {
                let style = ui.style_mut();
                style.text_styles.insert(TextStyle::Button, font);
                style.drag_value_text_style = TextStyle::Button;
                style.visuals.widgets.inactive.weak_bg_fill = Color32::TRANSPARENT;
                style.visuals.widgets.inactive.bg_stroke = Stroke::NONE;
                style.spacing.button_padding = egui::vec2(2.0, 0.0);
                style.spacing.interact_size = egui::vec2(width, 34.0);
                let mut value = self.value;
                let response = ui.add(typed.field(&mut value).speed(0.25 * self.step)).labelled_by(named);
                (response, value)
            })
            .inner;
        let (response, value) = response;
        intents.extend(typed.complaint(self.name).map(Intent::Reject));
        let units = if self.quantity == Quantity::Head { " Metres and feet are understood." } else { "" };
        let hint = format!("{} Drag sideways, or click to type.{units}", self.hint);
        if !response.dragged() {
            TermCard::new(view, self.term).hint(&hint).beside(self.pane).on(&response);
        }
        // A drag stops at the device's steps; what is typed is taken as typed.
        let moved = response.changed() && value != self.value;
        moved.then(|| if response.dragged() { self.stepped(value) } else { within(value, self.range) })
    }

    /// The value in words; with a decimal more where a whole per cent would not tell it.
    fn text(&self, view: &View<'_>) -> String {
        let percent = 100.0 * self.value;
        let exact = if self.quantity == Quantity::Share && (percent - percent.round()).abs() > 0.05 {
            Quantity::Speed
        } else {
            self.quantity
        };
        view.units.format(exact, self.value)
    }

    fn stepper(&self, ui: &mut Ui, sign: &str, direction: f64) -> Option<f64> {
        let word = if direction < 0.0 { "less" } else { "more" };
        let response = ui.add(Button::new(sign).min_size(egui::vec2(STEPPER, 24.0)));
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, format!("{} {word}", self.name)));
        response.clicked().then(|| self.stepped(self.value + direction * self.step))
    }

    fn stepped(&self, value: f64) -> f64 {
        within(stepped(value, self.step), self.range)
    }
}

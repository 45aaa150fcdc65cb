//! The zones of the project: a click selects the emitter.

use super::super::look::{self, size};
use super::super::selection::Selection;
use super::super::view::Intent;
use super::form::{Form, ROW, in_sight};
use crate::engine::units::Quantity;
use egui::{self, Align2, Sense};
use std::collections::BTreeSet;

/// What stands for the valve of a zone that has none.
pub(super) const NO_VALVE: &str = "none";

/// Shows them.
pub(super) fn show(form: &mut Form<'_, '_>) {
    form.section("Zones");
    if form.view.project.zones.is_empty() {
        form.note("None yet: put an emitter on the drawing and make it a zone.");
    }
    form.group("zones", rows);
}

fn rows(form: &mut Form<'_, '_>) {
    let (project, palette, units) = (form.view.project, form.view.palette, form.view.units);
    form.ui.spacing_mut().item_spacing.y = 0.0;
    // Only what is in sight is laid out: there may be thousands, and nothing selected is the usual state.
    let (count, sight) = (project.zones.len(), form.ui.clip_rect());
    let above = |y: f32| (((y - form.ui.cursor().top()) / ROW).max(0.0) as usize).min(count);
    let (first, end) = (above(sight.top()), above(sight.bottom() + ROW));
    form.ui.add_space(ROW * first as f32);
    for (id, zone) in project.zones.iter().take(end).skip(first) {
        let width = form.ui.available_width();
        let (rect, _) = form.ui.allocate_exact_size(egui::vec2(width, ROW), Sense::hover());
        let response = in_sight(form.ui.interact(rect, form.subject.with(id.0), Sense::click()));
        let painter = form.ui.painter().with_clip_rect(rect.intersect(form.ui.clip_rect()));
        if response.hovered() || response.has_focus() {
            painter.with_clip_rect(form.ui.clip_rect()).rect_filled(
                rect.expand2(egui::vec2(4.0, 0.0)),
                4,
                palette.rule.gamma_multiply(0.6),
            );
        }
        let load = units.format(Quantity::Heat, zone.load);
        let font = look::font(size::BODY);
        let load_at = rect.right_center() - egui::vec2(8.0, 0.0);
        let figure = painter.text(load_at, Align2::RIGHT_CENTER, &load, font.clone(), palette.quiet);
        let name_at = rect.left_center();
        let room = egui::Rect::from_min_max(rect.min, egui::pos2(figure.left() - 8.0, rect.max.y));
        painter.with_clip_rect(room.intersect(form.ui.clip_rect())).text(
            name_at,
            Align2::LEFT_CENTER,
            &zone.name,
            font,
            palette.ink,
        );
        let words = format!("Zone {}, {load}", zone.name);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &words));
        if response.hovered() {
            form.intents.push(Intent::Hover(*id));
        }
        if response.on_hover_text(format!("{}: select its emitter", zone.name)).clicked() {
            let components = BTreeSet::from([zone.emitter]);
            form.intents.push(Intent::Select(Selection { components, pipes: BTreeSet::new() }));
        }
    }
    form.ui.add_space(ROW * (count - end) as f32);
}

//! The site: where the job is, for whom and by whom; and the circulators of the register, each a click away from its figures.

use super::super::look::{self, size};
use super::super::selection::Selection;
use super::super::view::{Below, Intent};
use super::form::{Form, ROW, in_sight};
use crate::document::{Command, PumpUnit, Site, date_flaw};
use crate::problems::register::{Doubles, Mark};
use egui::{self, Align2, Sense};

/// Shows where, for whom and by whom.
pub(super) fn show(form: &mut Form<'_, '_>) {
    form.section("Site");
    let site = form.view.project.site.clone();
    let mut wanted = None;
    if let Some(place) = form.entry("Place", "Where the building stands.", &site.place, "not given") {
        wanted = Some(Site { place, ..site.clone() });
    }
    if let Some(client) = form.entry("Client", "For whom it is done.", &site.client, "not given") {
        wanted = Some(Site { client, ..site.clone() });
    }
    if let Some(designer) = form.entry("Designer", "Who answers for the design.", &site.designer, "not given") {
        wanted = Some(Site { designer, ..site.clone() });
    }
    if let Some(date) = form.entry("Date", "Day of the design: year, month, day.", &site.date, "such as 2026-03-31") {
        form.state.refused_date = date_flaw(&date).map(|flaw| format!("The date was not taken: {flaw}."));
        if form.state.refused_date.is_none() {
            wanted = Some(Site { date, ..site });
        }
    }
    if let Some(why) = form.state.refused_date.clone() {
        form.fault(&why);
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetSite(wanted));
    }
}

/// Shows the register in short.
pub(super) fn register(form: &mut Form<'_, '_>) {
    form.section("Register of circulators");
    if form.view.project.pumps().next().is_none() {
        form.note("No circulator yet.");
        return;
    }
    form.note("Write name and address down at each pump too.");
    let doubles = Doubles::of(form.view.project);
    form.group("register", |form| rows(form, &doubles));
    let hint = "All that is written down of each circulator, to be typed in place";
    if form.buttons("open register", &[("Open the register", hint)]).is_some() {
        form.intents.push(Intent::ShowBelow(Below::Register));
    }
}

fn rows(form: &mut Form<'_, '_>, doubles: &Doubles) {
    let (project, palette) = (form.view.project, form.view.palette);
    form.ui.spacing_mut().item_spacing.y = 0.0;
    for (id, unit) in project.pumps() {
        let name = project.components.get(&id).map_or("", |component| component.name.as_str());
        let is_double =
            [Mark::Name, Mark::Address, Mark::Serial].into_iter().any(|mark| doubles.of_circulator(id, mark).is_some());
        let width = form.ui.available_width();
        let (rect, _) = form.ui.allocate_exact_size(egui::vec2(width, ROW), Sense::hover());
        let response = in_sight(form.ui.interact(rect, form.subject.with(id.0), Sense::click()));
        let painter = form.ui.painter().with_clip_rect(rect.intersect(form.ui.clip_rect()));
        if response.hovered() || response.has_focus() {
            painter.rect_filled(rect, 4, palette.rule.gamma_multiply(0.6));
        }
        if is_double {
            let stroke = egui::Stroke::new(1.0, palette.starved);
            painter.rect_stroke(rect.shrink(1.0), 4, stroke, egui::StrokeKind::Inside);
        }
        let told = at_a_glance(unit, is_double);
        let color = if is_double { palette.starved } else { palette.quiet };
        let at = rect.right_center() - egui::vec2(8.0, 0.0);
        let right = painter.text(at, Align2::RIGHT_CENTER, &told, look::font(size::BODY), color);
        let room = egui::Rect::from_min_max(rect.min, egui::pos2(right.left() - 8.0, rect.max.y));
        let at = rect.left_center() + egui::vec2(6.0, 0.0);
        let painter = painter.with_clip_rect(room.intersect(form.ui.clip_rect()));
        painter.text(at, Align2::LEFT_CENTER, name, look::font(size::BODY), palette.ink);
        let words = format!("Circulator {name}, {told}");
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &words));
        let hint = match unit.register.position.as_str() {
            "" => format!("{name}: select it"),
            position => format!("{name}, {position}: select it"),
        };
        if response.on_hover_text(hint).clicked() {
            form.intents.push(Intent::Select(Selection::component(id)));
        }
    }
}

/// Its address, and whether it cannot be told from another.
fn at_a_glance(unit: &PumpUnit, is_double: bool) -> String {
    let address = if unit.address.is_empty() { "no address" } else { unit.address.as_str() };
    if is_double { format!("{address} · like another") } else { address.to_owned() }
}

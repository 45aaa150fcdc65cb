//! Margins: the least and the greatest that every zone gets over all scenarios, where, and what governs there.

use super::look::{self, size};
use super::part_load;
use super::term_card;
use super::view::{Intent, View};
use super::zones::state_look;
use crate::document::Duty;
use crate::engine::units::Quantity;
use crate::study::part_load::{Extreme, Margin};
use crate::study::terms::Term;
use crate::study::{ZoneState, limit_name, share_beside_state};
use egui::text::{LayoutJob, TextWrapping};
use egui::{self, Align2, Color32, Pos2, Rect, RichText, ScrollArea, Sense, Shape, Stroke, Ui, pos2, vec2};

/// Height of a row, points.
const ROW: f32 = 36.0;
/// Zones up to which all rows are laid out, those scrolled out of sight too, so that the keyboard reaches them.
const ALL_ROWS: usize = 200;
/// Shares of design flow at the bar's ends; what lies beyond is shown at the end.
const ENDS: [f64; 2] = [0.5, 1.5];

/// Shows them.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let Some((present, probed)) = part_load::shown(ui, view) else { return };
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 20.0), Sense::hover());
        headings(ui, view, rect);
        for margin in &present.margins {
            // Of many zones only those in sight are laid out.
            let here = Rect::from_min_size(ui.cursor().min, vec2(1.0, ROW));
            if present.margins.len() > ALL_ROWS && !ui.is_rect_visible(here) {
                ui.add_space(ROW);
                continue;
            }
            row(ui, view, &probed.part_load, margin, intents);
        }
        if probed.part_load.combined.is_some() {
            let words = "Over the scenarios; combinations of zones besides them count on the map.";
            ui.label(RichText::new(words).size(size::SMALL).color(view.palette.quiet));
        }
    });
}

/// Left edges of the columns: name, bar, heat, least, greatest.
fn columns(rect: Rect) -> [f32; 5] {
    let width = rect.width();
    let name = (0.19 * width).clamp(96.0, 190.0);
    let bar = (0.2 * width).clamp(100.0, 320.0);
    let start = rect.left() + name + bar + 12.0;
    let rest = rect.right() - start - 84.0;
    [rect.left(), rect.left() + name, start, start + 84.0, start + 84.0 + 0.5 * rest]
}

fn headings(ui: &Ui, view: &View<'_>, rect: Rect) {
    let at = columns(rect);
    let band = &view.project.acceptance;
    let (low, high) = (view.units.number(Quantity::Share, band.low), view.units.format(Quantity::Share, band.high));
    let bar = format!("Flow, band {low}–{high}");
    let heat = if view.project.design.duty == Duty::Heating { "Heat" } else { "Cooling" };
    let terms = [Term::Zone, Term::ToleranceBand, Term::HeatShare, Term::Margin, Term::Margin];
    for ((x, text), term) in at.into_iter().zip(["Zone", &bar, heat, "Least flow", "Greatest flow"]).zip(terms) {
        let (font, ink) = (look::font(size::SMALL), view.palette.quiet);
        let rect = ui.painter().text(pos2(x, rect.center().y), Align2::LEFT_CENTER, text, font, ink);
        term_card::word(ui, rect, &format!("margins {text}"), view, term);
    }
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    part_load: &crate::study::part_load::PartLoad,
    margin: &Margin,
    intents: &mut Vec<Intent>,
) {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::hover());
    if response.contains_pointer() {
        intents.push(Intent::Hover(margin.zone));
    }
    if view.hovered == Some(margin.zone) {
        ui.painter().rect_filled(rect.expand2(vec2(4.0, 0.0)), 4, view.palette.raised);
    }
    let at = columns(rect);
    let name = view.project.zones.get(&margin.zone).map_or("", |zone| zone.name.as_str());
    let text = |x: f32, y: f32, width: f32, words: String, font: egui::FontId, color: Color32| {
        let mut job = LayoutJob::simple_singleline(words, font, color);
        job.wrap = TextWrapping::truncate_at_width(width);
        let galley = ui.painter().layout_job(job);
        ui.painter().galley(pos2(x, y - 0.5 * galley.size().y), galley, color);
    };
    let y = rect.center().y;
    text(at[0], y, at[1] - at[0] - 8.0, name.to_owned(), look::font(size::BODY), view.palette.ink);
    let bar = Rect::from_x_y_ranges(at[1]..=(at[2] - 12.0), (y - 7.0)..=(y + 7.0));
    paint(ui, view, bar, margin);
    let [coolest, warmest] = [&margin.coolest, &margin.warmest]
        .map(|extreme| view.units.number(Quantity::Share, extreme.heat).trim().to_owned());
    let heat = if coolest == warmest { String::new() } else { format!("{coolest}–") };
    let heat = format!("{heat}{}", view.units.format(Quantity::Share, margin.warmest.heat));
    text(at[2], y, at[3] - at[2] - 6.0, heat, look::font(size::BODY), view.palette.ink);
    let mut told = Vec::new();
    for (left, right, extreme, state) in
        [(at[3], at[4], &margin.least, margin.low), (at[4], rect.right(), &margin.greatest, margin.high)]
    {
        let (color, mark) = state_look(view, state);
        let share = share_beside_state(extreme.share, Some(state), &view.project.acceptance, view.units);
        let word = format!("{share} {mark} {}", state.word());
        let ink = if state == ZoneState::Served { view.palette.ink } else { color };
        let width = right - left - 8.0;
        text(left, rect.top() + 11.0, width, word.replace("  ", " "), look::strong(size::BODY), ink);
        let place = format!("{} · {}", part_load.state_name(extreme.state), limit_name(extreme.governing));
        text(left, rect.top() + 26.0, width, place.clone(), look::font(size::SMALL), view.palette.quiet);
        told.push(format!("{share} {} in {place}", state.word()));
    }
    let words = format!("{name}: at least {}; at most {}", told[0], told[1]);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, &words));
    let heat = |extreme: &Extreme| view.units.format(Quantity::Share, extreme.heat);
    response.on_hover_text(format!(
        "{words}. Heat from {} in {} to {} in {}.",
        heat(&margin.coolest),
        part_load.state_name(margin.coolest.state),
        heat(&margin.warmest),
        part_load.state_name(margin.warmest.state)
    ));
}

/// The stretch from least to greatest against the band; an end outside is a triangle that points the way it is off. Diamonds tell
/// the heat.
fn paint(ui: &Ui, view: &View<'_>, rect: Rect, margin: &Margin) {
    let palette = &view.palette;
    let painter = ui.painter();
    let x = |share: f64| rect.left() + rect.width() * ((share - ENDS[0]) / (ENDS[1] - ENDS[0])).clamp(0.0, 1.0) as f32;
    painter.rect_filled(rect, 3, look::between(palette.ground, palette.rule, 0.45));
    let band = &view.project.acceptance;
    let inside = Rect::from_x_y_ranges(x(band.low)..=x(band.high), rect.y_range());
    painter.rect_filled(inside, 0, look::between(palette.ground, palette.served, 0.22));
    let one = x(1.0);
    painter
        .line_segment([pos2(one, rect.top() - 2.0), pos2(one, rect.bottom() + 2.0)], Stroke::new(1.0, palette.quiet));
    let y = rect.center().y;
    let ends = [(x(margin.least.share), margin.low), (x(margin.greatest.share), margin.high)];
    painter.line_segment([pos2(ends[0].0, y), pos2(ends[1].0, y)], Stroke::new(4.0, palette.ink));
    for extreme in [&margin.coolest, &margin.warmest] {
        let at = Pos2::new(x(extreme.heat), y);
        let d = 4.0;
        let diamond = vec![at - vec2(0.0, d), at + vec2(d, 0.0), at + vec2(0.0, d), at - vec2(d, 0.0)];
        painter.add(Shape::convex_polygon(diamond, palette.sheet, Stroke::new(1.2, palette.ink)));
    }
    for (x, state) in ends {
        let (color, _) = state_look(view, state);
        let points = match state {
            ZoneState::Starved | ZoneState::Still => [vec2(-6.0, -6.0), vec2(6.0, -6.0), vec2(0.0, 6.0)],
            ZoneState::Overflowed => [vec2(-6.0, 6.0), vec2(6.0, 6.0), vec2(0.0, -6.0)],
            _ => {
                painter.rect_filled(Rect::from_center_size(pos2(x, y), vec2(5.0, 12.0)), 1, color);
                continue;
            }
        };
        let points = points.map(|by| pos2(x, y) + by).to_vec();
        painter.add(Shape::convex_polygon(points, color, Stroke::new(1.0, palette.sheet)));
    }
}

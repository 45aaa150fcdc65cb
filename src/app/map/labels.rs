//! Words on the plane: what goes wrong where, and the energy beside its lines.

use super::super::look::{self, size};
use super::plane::{Sheet, color};
use crate::engine::units::Quantity;
use crate::study::part_load::Reason;
use crate::study::settings::MapCell;
use egui::{Align2, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use std::collections::BTreeMap;

/// Share of the plane from which on what goes wrong is named.
const NAMED: f64 = 0.02;

/// Lines of equal energy with their figures; tells where those stand.
pub(super) fn contours(painter: &Painter, sheet: &Sheet<'_>, taken: &mut Vec<Rect>) -> Vec<Rect> {
    let mut figures = Vec::new();
    let view = sheet.view;
    let ink = view.palette.ink.gamma_multiply(0.55);
    for contour in &sheet.map.contours {
        let text = match contour.energy_j {
            Some(energy_j) => view.units.format(Quantity::Energy, energy_j),
            None => view.units.format(Quantity::Power, contour.mean_w),
        };
        for line in &contour.lines {
            let points: Vec<Pos2> = line.iter().map(|place| sheet.at(*place)).collect();
            painter.add(Shape::line(points.clone(), Stroke::new(1.0, ink)));
            let galley = painter.layout_no_wrap(text.clone(), look::font(10.5), view.palette.ink);
            let length: f32 = points.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
            if length < 3.0 * galley.size().x {
                continue;
            }
            let places = [0.82, 0.7, 0.9, 0.55, 0.4, 0.25].map(|share| points[(share * points.len() as f32) as usize]);
            let rects = places.map(|at| Align2::CENTER_CENTER.anchor_size(at, galley.size()).expand2(vec2(3.0, 0.0)));
            let is_free = |rect: &&Rect| {
                sheet.rect.shrink(2.0).contains_rect(**rect) && !taken.iter().any(|other| other.intersects(**rect))
            };
            if let Some(rect) = rects.iter().find(is_free) {
                painter.rect_filled(*rect, 3, view.palette.sheet.gamma_multiply(0.8));
                painter.galley(rect.min + vec2(3.0, 0.0), galley, view.palette.ink);
                taken.push(*rect);
                figures.push(*rect);
            }
        }
    }
    figures
}

/// Who a reason speaks of, and how: cells of one kind are named once.
fn kind(reason: &Reason) -> (u8, Option<crate::document::ZoneId>) {
    match reason {
        Reason::Starves(zone) => (0, Some(*zone)),
        Reason::Overflows(zone) => (1, Some(*zone)),
        Reason::TooLoud(_) => (2, None),
    }
}

/// What goes wrong where, in words, near the middle of where it does.
pub(super) fn regions(painter: &Painter, sheet: &Sheet<'_>, taken: &mut Vec<Rect>) {
    let (map, rect) = (sheet.map, sheet.rect);
    let columns = map.columns;
    let mut kinds: BTreeMap<(u8, Option<crate::document::ZoneId>), (Reason, Vec<usize>)> = BTreeMap::new();
    for (index, cell) in map.cells.iter().enumerate() {
        if let Some(miss) = MapCell::miss(cell) {
            kinds.entry(kind(&miss.reason)).or_insert((miss.reason, Vec::new())).1.push(index);
        }
    }
    let mut all: Vec<(Reason, Vec<usize>)> = kinds.into_values().collect();
    all.sort_by_key(|(_, cells)| std::cmp::Reverse(cells.len()));
    let at = |index: usize| {
        let middle = |k: usize| (k as f32 + 0.5) / columns as f32;
        pos2(
            rect.left() + middle(index % columns) * rect.width(),
            rect.bottom() - middle(index / columns) * rect.height(),
        )
    };
    if map.region.is_empty() {
        none(painter, sheet, taken);
    } else if let Some(widest) = map.region.iter().max_by(|a, b| a.len().cmp(&b.len())) {
        let middle = middle_of(widest.iter().map(|place| sheet.at(*place)));
        let text = "every zone keeps its band".to_owned();
        put(painter, sheet, text, sheet.view.palette.served, &[middle], taken);
    }
    for (reason, cells) in all {
        if (cells.len() as f64) < NAMED * map.cells.len() as f64 {
            continue;
        }
        let middle = middle_of(cells.iter().map(|index| at(*index)));
        let mut near: Vec<Pos2> = cells.iter().map(|index| at(*index)).collect();
        near.sort_by(|a, b| a.distance(middle).total_cmp(&b.distance(middle)));
        let text = words(sheet, &reason);
        put(painter, sheet, text, color(sheet.view, &reason), &near, taken);
    }
}

fn words(sheet: &Sheet<'_>, reason: &Reason) -> String {
    let zone = |id: &crate::document::ZoneId| sheet.view.project.zones.get(id).map_or("", |zone| zone.name.as_str());
    match reason {
        Reason::Starves(id) => format!("▼ {} starves first", zone(id)),
        Reason::Overflows(id) => format!("▲ {} overflows first", zone(id)),
        Reason::TooLoud(_) => "too loud".to_owned(),
    }
}

/// Says that nothing serves, in the middle of the top.
fn none(painter: &Painter, sheet: &Sheet<'_>, taken: &mut Vec<Rect>) {
    let text = "At no place here does every zone keep its band".to_owned();
    let at = pos2(sheet.rect.center().x, sheet.rect.top() + 16.0);
    put(painter, sheet, text, sheet.view.palette.ink, &[at], taken);
}

/// Writes at the first of some places where nothing else stands.
fn put(
    painter: &Painter,
    sheet: &Sheet<'_>,
    text: String,
    color: egui::Color32,
    places: &[Pos2],
    taken: &mut Vec<Rect>,
) {
    let galley = painter.layout_no_wrap(text, look::strong(size::SMALL), color);
    let bounds = sheet.rect.shrink(4.0);
    for at in places {
        let rect = Align2::CENTER_CENTER.anchor_size(*at, galley.size()).expand2(vec2(4.0, 1.0));
        let into = vec2(
            (bounds.left() - rect.left()).max(0.0) + (bounds.right() - rect.right()).min(0.0),
            (bounds.top() - rect.top()).max(0.0) + (bounds.bottom() - rect.bottom()).min(0.0),
        );
        let rect = rect.translate(into);
        if !taken.iter().any(|other| other.intersects(rect)) {
            painter.rect_filled(rect, 3, sheet.view.palette.sheet.gamma_multiply(0.8));
            painter.galley(rect.min + vec2(4.0, 1.0), galley, color);
            taken.push(rect);
            return;
        }
    }
}

fn middle_of(points: impl Iterator<Item = Pos2>) -> Pos2 {
    let (count, sum) = points.fold((0.0_f32, egui::Vec2::ZERO), |(count, sum), at| (count + 1.0, sum + at.to_vec2()));
    (sum / count.max(1.0)).to_pos2()
}

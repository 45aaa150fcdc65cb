//! Marks on the plane: the present point, the best one, pinned variants; each with a shape of its own and its word.

use super::super::look::{self, size};
use super::plane::Sheet;
use crate::engine::units::Quantity;
use crate::study::settings::Axes;
use egui::{Align2, Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// The present point, where there is one.
fn present(sheet: &Sheet<'_>) -> Option<Pos2> {
    let place = sheet.map.plane.place(&sheet.view.unit()?.regulation)?;
    Some(sheet.at(place))
}

/// The best point, with its word, which tells the third setting where that is another than this plane's, and whether it is not.
fn best(sheet: &Sheet<'_>) -> Option<(Pos2, String, bool)> {
    let view = sheet.view;
    let found = view.part_load.searches.found()?;
    let settings = &found.offered()?.settings;
    let word = if found.best.is_ok() { "best" } else { "starves none" };
    let base = &sheet.map.plane.base;
    let share = |share| view.units.format(Quantity::Share, share);
    let differs = |a: f64, b: f64| (a - b).abs() > 1e-9;
    let at = match sheet.map.plane.axes {
        Axes::LimitOverSlope if differs(settings.speed_cap, base.speed_cap) => {
            format!(", at cap {}", share(settings.speed_cap))
        }
        Axes::LimitOverCap if differs(settings.slope, base.slope) => format!(", at slope {}", share(settings.slope)),
        Axes::SlopeOverCap if settings.head_limit_m != base.head_limit_m => {
            format!(", at {}", view.units.format(Quantity::Head, settings.head_limit_m.unwrap_or(0.0)))
        }
        _ => String::new(),
    };
    let is_here = at.is_empty();
    Some((sheet.at(sheet.map.plane.place(settings)?), format!("{word}{at}"), is_here))
}

/// Where marks and their words stand: other words keep clear of them.
pub(super) fn places(sheet: &Sheet<'_>) -> Vec<Rect> {
    let around = |at: Pos2| Rect::from_min_max(at - vec2(12.0, 20.0), at + vec2(96.0, 14.0));
    let points = [present(sheet), best(sheet).map(|(at, ..)| at)].into_iter().flatten();
    points.map(around).collect()
}

/// Shows them; the words keep off all marks and off each other.
pub(super) fn show(painter: &Painter, sheet: &Sheet<'_>) {
    let view = sheet.view;
    let palette = &view.palette;
    let variants = view.project.variants.iter().filter(|variant| Some(variant.pump) == view.pump);
    let variants =
        variants.filter_map(|variant| Some((sheet.at(sheet.map.plane.place(&variant.regulation)?), variant)));
    let variants: Vec<_> = variants.collect();
    let mut words: Vec<(Pos2, String, Color32)> = Vec::new();
    let mut taken: Vec<Rect> = Vec::new();
    for (at, variant) in &variants {
        let square = Rect::from_center_size(*at, vec2(8.0, 8.0));
        painter.rect(square, 1, palette.sheet, Stroke::new(1.5, palette.ink), egui::StrokeKind::Middle);
        words.push((*at, variant.name.clone(), palette.ink));
        taken.push(square);
    }
    if let Some(at) = present(sheet) {
        painter.circle(at, 7.0, palette.accent, Stroke::new(2.5, palette.sheet));
        painter.circle_stroke(at, 8.5, Stroke::new(1.0, palette.ink));
        words.insert(0, (at, "now".to_owned(), palette.ink));
        taken.push(Rect::from_center_size(at, vec2(18.0, 18.0)));
    }
    if let Some((at, text, is_here)) = best(sheet) {
        // Of another plane it is hollow.
        let (fill, edge) = if is_here { (palette.served, palette.sheet) } else { (palette.sheet, palette.served) };
        painter.add(star(at, 9.0, fill, Stroke::new(1.4, edge)));
        words.insert(0, (at, text, palette.served));
        taken.push(Rect::from_center_size(at, vec2(18.0, 18.0)));
    }
    for (at, text, color) in words {
        word(painter, sheet, at, &text, color, &mut taken);
    }
}

/// A word beside a mark, where nothing else stands and the plane does not end.
fn word(painter: &Painter, sheet: &Sheet<'_>, at: Pos2, text: &str, color: Color32, taken: &mut Vec<Rect>) {
    let galley = painter.layout_no_wrap(text.to_owned(), look::strong(size::SMALL), color);
    let beside = [(Align2::LEFT_CENTER, vec2(12.0, -1.0)), (Align2::RIGHT_CENTER, vec2(-12.0, -1.0))];
    let far = [18.0, 32.0, 46.0].into_iter().flat_map(|by| {
        [
            (Align2::LEFT_CENTER, vec2(6.0, by)),
            (Align2::LEFT_CENTER, vec2(6.0, -by)),
            (Align2::RIGHT_CENTER, vec2(-6.0, by)),
        ]
    });
    let places = beside.into_iter().chain(far);
    let rects: Vec<Rect> = places.map(|(align, by)| align.anchor_size(at + by, galley.size())).collect();
    let is_free = |rect: &&Rect| {
        sheet.rect.contains_rect(**rect) && !taken.iter().any(|other| other.intersects(rect.expand2(vec2(3.0, 0.0))))
    };
    let Some(rect) = rects.iter().find(is_free).or(rects.first()) else { return };
    painter.rect_filled(rect.expand2(vec2(3.0, 1.0)), 3, sheet.view.palette.sheet.gamma_multiply(0.85));
    painter.galley(rect.min, galley, color);
    taken.push(*rect);
}

/// A star of five points.
fn star(at: Pos2, radius: f32, fill: Color32, edge: Stroke) -> Shape {
    let point = |k: u32| {
        let angle = std::f32::consts::PI * (k as f32 / 5.0 - 0.5);
        let radius = if k.is_multiple_of(2) { radius } else { 0.45 * radius };
        at + radius * vec2(angle.cos(), angle.sin())
    };
    let outline: Vec<Pos2> = (0..10).map(point).collect();
    // A star is not convex: from its middle it is, triangle by triangle.
    let mut mesh = egui::Mesh::default();
    mesh.colored_vertex(at, fill);
    outline.iter().for_each(|p| mesh.colored_vertex(*p, fill));
    (0..10).for_each(|k| mesh.add_triangle(0, 1 + k, 1 + (k + 1) % 10));
    Shape::Vec(vec![Shape::mesh(mesh), Shape::closed_line(outline, edge)])
}

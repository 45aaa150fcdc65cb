//! One cell on screen: its text, the marks of faults, the two ways of typing into it.

use super::super::look::{self, Palette, between, size};
use crate::engine::units::Units;
use crate::file::table::{Holding, ZoneField};
use egui::{self, Align2, EventFilter, FontSelection, Id, Rect, Shape, Stroke, TextEdit, Ui, pos2, vec2};

/// Width of the mark for words to choose from.
pub(super) const ARROW: f32 = 18.0;

/// How a cell stands.
pub(super) struct Look<'a> {
    pub(super) palette: &'a Palette,
    /// Something is wrong: `true` where something is only missing.
    pub(super) fault: Option<bool>,
    pub(super) is_in_hand: bool,
}

/// Whether there is something to choose from.
pub(super) fn offers(field: ZoneField) -> bool {
    matches!(field.holding(), Holding::Word(_)) || super::grid::is_bore(field)
}

fn is_figure(field: ZoneField) -> bool {
    matches!(field.holding(), Holding::Figure(_) | Holding::Number)
}

/// The name under the heading of its group, which need not be told twice.
pub(super) fn short_name(field: ZoneField, units: &Units) -> &'static str {
    match field {
        ZoneField::Branch => "length",
        ZoneField::BranchBore | ZoneField::MainBore => "bore",
        ZoneField::BranchK | ZoneField::MainK => "fittings",
        ZoneField::Before => "distance",
        ZoneField::Loss => "loss",
        ZoneField::Emitter | ZoneField::Valve => "kind",
        ZoneField::Name => "name",
        other => other.name(units),
    }
}

/// What a field is and what an empty cell stands for.
pub(super) fn about(field: ZoneField) -> &'static str {
    match field {
        ZoneField::Name => "what the zone is called, unlike all others; from near to far",
        ZoneField::Load => "what the zone needs at design, without sign",
        ZoneField::Drop => "of this zone, where it is not that of the plant; the flow follows from it",
        ZoneField::Flow => "instead of a temperature difference, which then follows from it",
        ZoneField::Emitter => "radiator, convector, floor, coil or other; the first letters do",
        ZoneField::Loss => "pressure loss of the emitter at design flow",
        ZoneField::LeavingAir => "of a coil at design; no other emitter needs it",
        ZoneField::Room => "of this zone, where it is not that of the plant",
        ZoneField::Valve => "a zone valve if empty; the first letters do",
        ZoneField::Kv | ZoneField::Cv => "of the valve when open; chosen if empty",
        ZoneField::Branch => "pipe from the tee to the emitter, one way",
        ZoneField::BranchBore => "inside diameter of the branch; chosen if empty",
        ZoneField::BranchK => "sum of the loss coefficients of the branch's fittings, one way; 5 if empty",
        ZoneField::Before => "pipe from the tee before to this zone's tee, one way; for the first zone from the plant",
        ZoneField::MainBore => "inside diameter of that piece of the main; chosen if empty",
        ZoneField::MainK => "sum of its loss coefficients, one way; 2 if empty",
        ZoneField::Next | ZoneField::Notes => "",
    }
}

/// Paints a cell.
pub(super) fn paint(ui: &Ui, rect: Rect, field: ZoneField, text: &str, look: &Look<'_>) {
    let palette = look.palette;
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    if look.is_in_hand {
        painter.rect_filled(rect, 0, between(palette.sheet, palette.accent, 0.12));
    }
    let line = Stroke::new(1.0, palette.grid);
    painter.hline(rect.x_range(), rect.bottom() - 0.5, line);
    painter.vline(rect.right() - 0.5, rect.y_range(), line);
    if let Some(is_missing) = look.fault {
        let color = if is_missing { palette.head_limit } else { palette.starved };
        painter.rect_filled(rect.shrink(1.0), 2, between(palette.sheet, color, if is_missing { 0.07 } else { 0.16 }));
        painter.rect_stroke(
            rect.shrink(1.0),
            2,
            Stroke::new(if is_missing { 1.0 } else { 1.5 }, color),
            egui::StrokeKind::Inside,
        );
        if !is_missing {
            // A folded corner, for eyes that do not tell the colours.
            let corner = rect.shrink(1.0).right_top();
            let points = vec![corner, corner - vec2(7.0, 0.0), corner + vec2(0.0, 7.0)];
            painter.add(Shape::convex_polygon(points, color, Stroke::NONE));
        }
    }
    let (at, align) = place(rect, field);
    painter.text(at, align, text, look::font(size::BODY), palette.ink);
}

fn place(rect: Rect, field: ZoneField) -> (egui::Pos2, Align2) {
    if is_figure(field) {
        (rect.right_center() - vec2(6.0, 0.0), Align2::RIGHT_CENTER)
    } else {
        (rect.left_center() + vec2(6.0, 0.0), Align2::LEFT_CENTER)
    }
}

/// What is being typed in place of what stood there, with a bar behind it.
pub(super) fn typed(ui: &Ui, rect: Rect, field: ZoneField, text: &str, palette: &Palette) {
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let galley = painter.layout_no_wrap(text.to_owned(), look::font(size::BODY), palette.ink);
    let room = rect.width() - 12.0;
    // The end of the text is what must be seen.
    let right = if is_figure(field) || galley.size().x > room {
        rect.right() - 6.0
    } else {
        rect.left() + 6.0 + galley.size().x
    };
    let top = rect.center().y - galley.size().y / 2.0;
    painter.galley(pos2(right - galley.size().x, top), galley, palette.ink);
    painter.vline(right + 1.5, rect.shrink(5.0).y_range(), Stroke::new(1.5, palette.ink));
}

/// What stands there, with a text cursor at its end.
pub(super) fn editor(ui: &mut Ui, rect: Rect, field: ZoneField, text: &mut String, id: Id) {
    let filter = EventFilter { tab: true, horizontal_arrows: true, vertical_arrows: true, escape: true };
    let edit = TextEdit::singleline(text)
        .id(id)
        .frame(egui::Frame::NONE.inner_margin(egui::Margin::symmetric(6, 2)))
        .font(FontSelection::FontId(look::font(size::BODY)))
        .align(if is_figure(field) { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER })
        .event_filter(filter)
        .desired_width(rect.width());
    ui.put(rect, edit);
}

/// The mark of a cell with words to choose from.
pub(super) fn arrow(ui: &Ui, rect: Rect, palette: &Palette) {
    let center = rect.right_center() - vec2(0.5 * ARROW, -1.0);
    let back = Rect::from_center_size(center, vec2(ARROW - 4.0, rect.height() - 5.0));
    ui.painter().rect_filled(back, 2, palette.raised);
    let points = vec![center + vec2(-4.0, -2.5), center + vec2(4.0, -2.5), center + vec2(0.0, 3.0)];
    ui.painter().add(Shape::convex_polygon(points, palette.quiet, Stroke::NONE));
}

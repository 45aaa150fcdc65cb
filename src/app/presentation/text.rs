//! Words that must be read from afar: as large as asked for, smaller only where they would not fit.

use super::super::look;
use egui::text::{LayoutJob, TextWrapping};
use egui::{Align2, Color32, FontId, Galley, Painter, Pos2, Rect, pos2};
use std::sync::Arc;

/// By how much type is made smaller in one step, and how often at most: then it is cut short.
const SMALLER: f32 = 0.93;
const STEPS: i32 = 9;

/// A kind of type: its size in points, and whether it stands out.
#[derive(Clone, Copy, Debug)]
pub(super) struct Type {
    pub(super) size: f32,
    pub(super) is_strong: bool,
}

impl Type {
    /// Type that stands out.
    pub(super) fn strong(size: f32) -> Self {
        Self { size, is_strong: true }
    }

    /// Type of the body.
    pub(super) fn plain(size: f32) -> Self {
        Self { size, is_strong: false }
    }

    fn font(self, factor: f32) -> FontId {
        let size = factor * self.size;
        if self.is_strong { look::strong(size) } else { look::font(size) }
    }

    /// How wide words are in it.
    pub(super) fn width(self, painter: &Painter, text: &str) -> f32 {
        painter.layout_no_wrap(text.to_owned(), self.font(1.0), Color32::BLACK).size().x
    }
}

/// Words in at most so many lines of a place, from its upper left corner; returns what they take.
pub(super) fn lines(painter: &Painter, place: Rect, text: &str, kind: Type, most: usize, color: Color32) -> Rect {
    let galley = fitted(painter, place.size(), text, kind, most, color);
    let taken = Rect::from_min_size(place.min, galley.size());
    painter.galley(place.min, galley, color);
    taken
}

/// Words in one line at a place on the screen, no wider than `room`; returns what they take.
pub(super) fn line(
    painter: &Painter,
    (at, align): (Pos2, Align2),
    room: f32,
    text: &str,
    kind: Type,
    color: Color32,
) -> Rect {
    let galley = fitted(painter, egui::vec2(room, f32::INFINITY), text, kind, 1, color);
    // Small type that took the place of larger stands on the middle of its line too.
    let taken = align.anchor_size(pos2(at.x, at.y), galley.size());
    painter.galley(taken.min, galley, color);
    taken
}

fn fitted(painter: &Painter, room: egui::Vec2, text: &str, kind: Type, most: usize, color: Color32) -> Arc<Galley> {
    let layout = |factor: f32, wrap: TextWrapping| {
        let mut job = LayoutJob::simple(text.to_owned(), kind.font(factor), color, room.x.max(1.0));
        job.wrap = wrap;
        painter.layout_job(job)
    };
    let wide = room.x.max(1.0);
    for step in 0..STEPS {
        let galley = layout(SMALLER.powi(step), TextWrapping::wrap_at_width(wide));
        if galley.rows.len() <= most && galley.size().x <= wide + 0.5 && galley.size().y <= room.y + 0.5 {
            return galley;
        }
    }
    let cut = TextWrapping { max_rows: most, break_anywhere: most == 1, ..TextWrapping::truncate_at_width(wide) };
    layout(SMALLER.powi(STEPS), cut)
}

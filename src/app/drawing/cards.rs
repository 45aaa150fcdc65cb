//! Zone cards: a small card beside each emitter with the share of design flow, the flow and the heat.

use super::super::lesson::ring;
use super::super::look;
use super::super::view::{Intent, View};
use super::super::zones::state_look;
use super::camera::Camera;
use super::id_of;
use crate::document::{Zone, ZoneId};
use crate::engine::units::Quantity;
use crate::lesson::Look;
use crate::report::picture::sheet;
use crate::study::{ZoneResult, ZoneState, share_beside_state};
use egui::text::{LayoutJob, TextWrapping};
use egui::{self, Align2, Color32, Painter, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

/// Where a zone's card lies on the grid.
pub(super) fn place(view: &View<'_>, zone: &Zone) -> Option<Rect> {
    let [left, top, right, bottom] = sheet::card(view.project, zone)?.map(|value| value as f32);
    Some(Rect::from_min_max(pos2(left, top), pos2(right, bottom)))
}

/// Shows all cards and lets them be pointed at.
pub(super) fn show(ui: &Ui, painter: &Painter, view: &View<'_>, camera: &Camera, intents: &mut Vec<Intent>) {
    for (id, rect) in in_sight(painter, view, camera) {
        if camera.zoom < SQUARES {
            continue;
        }
        let response = ui.interact(rect.intersect(painter.clip_rect()), id_of("card", id.0), Sense::hover());
        if response.hovered() {
            intents.push(Intent::Hover(id));
        }
    }
    paint(painter, view, camera);
}

/// Paints all cards.
pub(super) fn paint(painter: &Painter, view: &View<'_>, camera: &Camera) {
    for (id, rect) in in_sight(painter, view, camera) {
        let (Some(zone), Some(result)) = (view.project.zones.get(&id), view.results.zones.get(&id)) else { continue };
        if camera.zoom < SQUARES {
            let (color, _) = state_look(view, result.state);
            painter.rect_filled(rect, 0, color);
        } else if view.presents {
            badge(painter, view, result, rect);
        } else {
            card(painter, view, camera, id, zone, result, rect);
        }
    }
}

/// The cards in sight and where they lie on the screen.
fn in_sight(painter: &Painter, view: &View<'_>, camera: &Camera) -> Vec<(ZoneId, Rect)> {
    let card = |(id, zone): (&ZoneId, &Zone)| {
        let place = place(view, zone)?;
        let min = camera.at([f64::from(place.min.x), f64::from(place.min.y)]);
        let rect = Rect::from_min_size(min, place.size() * camera.zoom);
        (rect.intersects(painter.clip_rect()) && view.results.zones.contains_key(id)).then_some((*id, rect))
    };
    view.project.zones.iter().filter_map(card).collect()
}

/// The share alone, as large as the card holds it, on the colour of the zone's state: read from afar.
fn badge(painter: &Painter, view: &View<'_>, result: &ZoneResult, rect: Rect) {
    let (color, mark) = state_look(view, result.state);
    painter.rect_filled(rect, 6, color);
    let text = match result.state {
        ZoneState::Shut | ZoneState::Still => result.state.word().to_owned(),
        _ => format!("{mark} {}", view.units.format(Quantity::Share, result.share)).trim().to_owned(),
    };
    let room = rect.shrink2(vec2(4.0, 2.0)).size();
    let size = (0.62 * rect.height()).min(16.0 * view.scale);
    let width = painter.layout_no_wrap(text.clone(), look::strong(size), view.palette.sheet).size().x;
    let font = look::strong(size * (room.x / width.max(1.0)).min(1.0));
    painter.text(rect.center(), Align2::CENTER_CENTER, text, font, view.palette.sheet);
}

fn card(painter: &Painter, view: &View<'_>, camera: &Camera, id: ZoneId, zone: &Zone, result: &ZoneResult, rect: Rect) {
    let palette = &view.palette;
    let (color, mark) = state_look(view, result.state);
    let near = view.hovered == Some(id);
    let edge = if near { Stroke::new(2.0, color) } else { Stroke::new(1.0, palette.rule) };
    painter.rect(rect, 5, palette.raised, edge, StrokeKind::Inside);
    if view.points_out(Look::Zone(id)) {
        ring::about(painter, palette, rect.expand(4.0));
    }
    let stripe = Rect::from_min_size(rect.min, vec2(4.0, rect.height()));
    painter.rect_filled(stripe, egui::CornerRadius { nw: 5, sw: 5, ne: 0, se: 0 }, color);
    let text = CardText::new(view, zone, result, mark, unit_of(camera));
    let inner = painter.with_clip_rect(rect.intersect(painter.clip_rect()));
    if camera.zoom < SHARE_ALONE {
        inner.text(rect.center(), Align2::CENTER_CENTER, &text.share, look::strong(text.small.max(8.0)), color);
    } else if rect.height() > 0.5 * rect.width() {
        text.upright(&inner, view, rect, color);
    } else {
        text.level(&inner, view, rect, color);
    }
}

/// Below this size of a grid step a card is a patch of its state's colour.
const SQUARES: f32 = 3.0;

/// Below this size of a grid step only the share can be read.
const SHARE_ALONE: f32 = 8.5;

/// Type follows the zoom within what can be read.
fn unit_of(camera: &Camera) -> f32 {
    camera.zoom.clamp(12.5, 34.0)
}

/// What a card says, and in what size.
struct CardText<'a> {
    name: &'a str,
    share: String,
    /// Said only where a zone does not stand as it should.
    word: &'a str,
    arrow: Option<&'a str>,
    flow: String,
    heat: String,
    small: f32,
    large: f32,
}

impl<'a> CardText<'a> {
    fn new(view: &View<'_>, zone: &'a Zone, result: &ZoneResult, mark: &'a str, unit: f32) -> Self {
        // The mark says it in the card's little room; the zones' list has the word.
        let arrow = (!mark.is_empty()).then_some(mark);
        let word = if arrow.is_some() || matches!(result.state, ZoneState::Served | ZoneState::Throttled) {
            ""
        } else {
            result.state.word()
        };
        Self {
            name: &zone.name,
            share: share_beside_state(result.share, Some(result.state), &view.project.acceptance, view.units),
            word,
            arrow,
            flow: view.units.format(Quantity::Flow, result.flow),
            heat: match result.room_c {
                // Where a thermostatic valve keeps it, the room is what counts.
                Some(room_c) => format!("room {}", view.units.format(Quantity::Temperature, room_c)),
                None => view.units.format(Quantity::Heat, result.heat),
            },
            small: 0.72 * unit,
            large: 1.3 * unit,
        }
    }

    /// Four lines below each other.
    fn upright(&self, painter: &Painter, view: &View<'_>, rect: Rect, color: Color32) {
        let left = rect.left() + 9.0;
        let right = rect.right() - 5.0;
        let line = |share: f32| rect.top() + share * rect.height();
        fitted(painter, left, line(0.14), right - left, self.name, self.small, view.palette.ink);
        let share =
            painter.text(pos2(left, line(0.4)), Align2::LEFT_CENTER, &self.share, look::strong(self.large), color);
        if let Some(arrow) = self.arrow {
            let at = pos2(share.right() + 4.0, line(0.4));
            painter.text(at, Align2::LEFT_CENTER, arrow, look::strong(0.8 * self.large), color);
        }
        painter.text(pos2(right, line(0.87)), Align2::RIGHT_CENTER, self.word, look::strong(0.92 * self.small), color);
        let font = look::font(self.small);
        painter.text(pos2(left, line(0.66)), Align2::LEFT_CENTER, &self.flow, font.clone(), view.palette.quiet);
        painter.text(pos2(left, line(0.87)), Align2::LEFT_CENTER, &self.heat, font, view.palette.quiet);
    }

    /// Name and share above, flow and heat below.
    fn level(&self, painter: &Painter, view: &View<'_>, rect: Rect, color: Color32) {
        let left = rect.left() + 9.0;
        let right = rect.right() - 6.0;
        let line = |share: f32| rect.top() + share * rect.height();
        let share = match self.arrow {
            Some(arrow) => format!("{arrow} {}", self.share),
            None if !self.word.is_empty() => self.word.to_owned(),
            None => self.share.clone(),
        };
        let font = look::strong(0.85 * self.large);
        let share = painter.text(pos2(right, line(0.33)), Align2::RIGHT_CENTER, share, font, color);
        fitted(painter, left, line(0.33), share.left() - left - 6.0, self.name, self.small, view.palette.ink);
        let figures = format!("{} · {}", self.flow, self.heat);
        fitted(painter, left, line(0.76), right - left, &figures, self.small, view.palette.quiet);
    }
}

/// Words in one line: in a smaller size where they would not fit, cut short where even that is too long.
fn fitted(painter: &Painter, left: f32, y: f32, room: f32, text: &str, size: f32, color: Color32) {
    if room <= 0.0 {
        return;
    }
    let line = |size: f32| {
        let mut job = LayoutJob::simple_singleline(text.to_owned(), look::strong(size), color);
        job.wrap = TextWrapping::truncate_at_width(room);
        painter.layout_job(job)
    };
    let whole = painter.layout_no_wrap(text.to_owned(), look::strong(size), color);
    let galley = if whole.size().x > room { line((size * room / whole.size().x).max(0.85 * size)) } else { whole };
    painter.galley(pos2(left, y - 0.5 * galley.size().y), galley, color);
}

//! Marks written on what is shown, by the other button or with a key held; they fade after some seconds and change nothing.

use super::super::view::View;
use egui::{Id, Key, LayerId, Order, Pos2, Rect, Shape, Stroke, Ui};
use std::time::Duration;

/// How long a mark stays after the hand has let go, and how long it fades then, seconds.
const STAYS: f64 = 4.0;
const FADES: f64 = 2.0;
/// Least way between two points of a mark, points; most points of one and most marks.
const APART: f32 = 2.0;
const POINTS: usize = 4000;
const MARKS: usize = 100;
/// The key that writes while it is held.
pub(super) const WRITES: Key = Key::F;

/// One stroke of the hand.
#[derive(Debug)]
struct Mark {
    points: Vec<Pos2>,
    /// When the hand let go; `None` while it writes.
    ended: Option<f64>,
}

/// All marks.
#[derive(Debug, Default)]
pub(super) struct Marks {
    all: Vec<Mark>,
}

impl Marks {
    /// Takes all away.
    pub(super) fn wipe(&mut self) {
        self.all.clear();
    }

    /// Follows the hand within a place and paints what it has written.
    pub(super) fn show(&mut self, ui: &Ui, place: Rect, view: &View<'_>) {
        let (pos, writes, now) = ui.input(|i| {
            let by_key = i.key_down(WRITES) && !i.modifiers.command;
            (i.pointer.latest_pos(), i.pointer.secondary_down() || by_key, i.time)
        });
        match pos.filter(|pos| writes && place.contains(*pos)) {
            Some(pos) => self.write(pos, now),
            None => self.let_go(now),
        }
        self.all.retain(|mark| mark.ended.is_none_or(|ended| now - ended < STAYS + FADES));
        let painter = ui.ctx().layer_painter(LayerId::new(Order::Middle, Id::unique("marks"))).with_clip_rect(place);
        let width = 2.2 * view.scale;
        for mark in &self.all {
            let strength = mark.ended.map_or(1.0, |ended| strength(now - ended));
            let (under, ink) =
                (view.palette.sheet.gamma_multiply(0.8 * strength), view.palette.starved.gamma_multiply(strength));
            if let [point] = mark.points[..] {
                painter.circle(point, 0.8 * width, ink, Stroke::new(0.4 * width, under));
                continue;
            }
            painter.add(Shape::line(mark.points.clone(), Stroke::new(1.8 * width, under)));
            painter.add(Shape::line(mark.points.clone(), Stroke::new(width, ink)));
        }
        if let Some(ended) = self.all.iter().filter_map(|mark| mark.ended).reduce(f64::min) {
            // Nothing is to be seen of it before it begins to fade.
            let rest = (STAYS - (now - ended)).max(0.04);
            ui.ctx().request_repaint_after(Duration::from_secs_f64(rest));
        }
    }

    fn write(&mut self, pos: Pos2, now: f64) {
        match self.all.last_mut().filter(|mark| mark.ended.is_none() && mark.points.len() < POINTS) {
            Some(mark) if mark.points.last().is_some_and(|last| last.distance(pos) < APART) => {}
            Some(mark) => mark.points.push(pos),
            None => {
                self.let_go(now);
                let over = (self.all.len() + 1).saturating_sub(MARKS);
                self.all.drain(..over);
                self.all.push(Mark { points: vec![pos], ended: None });
            }
        }
    }

    fn let_go(&mut self, now: f64) {
        if let Some(mark) = self.all.last_mut() {
            mark.ended.get_or_insert(now);
        }
    }
}

/// How strong a mark still is, so long after the hand has let go.
fn strength(since: f64) -> f32 {
    (1.0 - (since - STAYS) / FADES).clamp(0.0, 1.0) as f32
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    #[test]
    fn a_mark_stays_then_fades_then_is_gone() {
        assert_eq!(strength(0.0), 1.0);
        assert_eq!(strength(STAYS), 1.0);
        assert!((strength(STAYS + 0.5 * FADES) - 0.5).abs() < 1e-6);
        assert_eq!(strength(STAYS + FADES), 0.0);
    }

    #[test]
    fn each_stroke_is_a_mark_and_points_on_each_other_are_one() {
        let mut marks = Marks::default();
        for x in [0.0, 0.5, 10.0, 20.0] {
            marks.write(pos2(x, 0.0), 0.5);
        }
        marks.let_go(1.0);
        marks.write(pos2(50.0, 0.0), 2.0);
        let lengths: Vec<usize> = marks.all.iter().map(|mark| mark.points.len()).collect();
        assert_eq!(lengths, [3, 1]);
        assert_eq!(marks.all[0].ended, Some(1.0));
        marks.wipe();
        assert!(marks.all.is_empty());
    }
}

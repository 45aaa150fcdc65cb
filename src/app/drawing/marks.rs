//! A mark beside everything on the drawing that something is wrong with.

use super::super::look::{self, size};
use super::super::view::View;
use super::camera::Camera;
use crate::document::{course, spot};
use crate::problems::{Place, Severity};
use egui::{Align2, Color32, Painter, vec2};
use std::collections::BTreeSet;

/// Below this size of a grid step there is no room for marks, points.
const MARKED: f32 = 5.0;

/// Paints the marks.
pub(super) fn paint(painter: &Painter, view: &View<'_>, camera: &Camera) {
    if camera.zoom < MARKED {
        return;
    }
    let mut marked = BTreeSet::new();
    for check in view.checks.iter().filter(|check| check.severity != Severity::Note) {
        // The gravest comes first and has the place.
        let Some(place) = place_of(view, check.place).filter(|_| marked.insert(check.place)) else { continue };
        let (mark, color) = mark_of(view, check.severity);
        let at = camera.at(place) + vec2(1.2 * camera.zoom, -1.2 * camera.zoom);
        if painter.clip_rect().contains(at) {
            painter.circle_filled(at, 8.0, view.palette.sheet);
            painter.text(at, Align2::CENTER_CENTER, mark, look::strong(size::SMALL), color);
        }
    }
}

/// The mark of a severity and its colour.
pub(in super::super) fn mark_of(view: &View<'_>, severity: Severity) -> (&'static str, Color32) {
    match severity {
        Severity::Error => ("▲", view.palette.starved),
        Severity::Warning => ("●", view.palette.head_limit),
        Severity::Note => ("·", view.palette.quiet),
    }
}

/// Where something lies on the drawing, grid steps.
pub(in super::super) fn place_of(view: &View<'_>, place: Place) -> Option<[f64; 2]> {
    let component = |id| view.project.components.get(&id).map(|c| c.at);
    match place {
        Place::Component(id) => component(id),
        Place::Pipe(id) => view.project.pipes.get(&id).map(|pipe| spot(&course(view.project, pipe), 0.5)),
        Place::Zone(id) => component(view.project.zones.get(&id)?.emitter),
        Place::Project => None,
    }
}

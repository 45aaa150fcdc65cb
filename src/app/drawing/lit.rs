//! What a pane or a lesson points at, lit on the drawing: a halo under its symbol or along its pipe.

use super::super::view::View;
use super::camera::Camera;
use super::{pipes, symbols};
use crate::lesson::Look;
use crate::problems::Place;
use egui::{Painter, Rect, Shape, Stroke, StrokeKind, vec2};

/// Least size of what is lit, so that it is found on a drawing seen from afar, points.
const LEAST: f32 = 14.0;

/// How far the halo of a pipe reaches to each side of it, points.
const BESIDE: f32 = 6.0;

/// Paints the halos.
pub(super) fn paint(painter: &Painter, view: &View<'_>, camera: &Camera) {
    let pointed_out = view.lesson.iter().flat_map(|shown| &shown.looks).filter_map(|look| match look {
        Look::Component(id) => Some(Place::Component(*id)),
        Look::Pipe(id) => Some(Place::Pipe(*id)),
        _ => None,
    });
    for place in pointed_out.chain(view.lit) {
        halo(painter, view, camera, place);
    }
}

fn halo(painter: &Painter, view: &View<'_>, camera: &Camera, place: Place) {
    let accent = view.palette.accent;
    let (fill, edge) = (accent.gamma_multiply(0.3), Stroke::new(2.0, accent));
    let component = match place {
        Place::Component(id) => Some(id),
        Place::Zone(id) => view.project.zones.get(&id).map(|zone| zone.emitter),
        Place::Pipe(_) | Place::Project => None,
    };
    if let Some(component) = component.and_then(|id| view.project.components.get(&id)) {
        let body = symbols::body(component, camera).expand(0.3 * camera.zoom + 3.0);
        let halo = Rect::from_center_size(body.center(), body.size().max(vec2(LEAST, LEAST)));
        painter.rect(halo, 6, fill, edge, StrokeKind::Outside);
    }
    if let Place::Pipe(id) = place
        && let Some(points) = view.project.pipes.get(&id).and_then(|pipe| pipes::course(view, pipe, camera))
    {
        let width = pipes::width(view, id, camera) + 2.0 * BESIDE;
        for (width, color) in [(width + 4.0, accent), (width, view.palette.sheet), (width, fill)] {
            painter.add(Shape::line(points.clone(), Stroke::new(width, color)));
        }
    }
}

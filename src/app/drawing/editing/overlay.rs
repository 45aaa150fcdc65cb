//! What drawing lays under and over the system: the grid, what is selected, ports, and what the hand is about to do.

use super::super::super::look::{self, size};
use super::super::super::view::View;
use super::super::camera::Camera;
use super::super::{pipes, symbols};
use super::gesture::Gesture;
use super::hit::{self, Hit};
use super::{Editing, placing};
use crate::document::ComponentKind;
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Ui, pos2, vec2};

/// Size of a grid step from which on the grid's points show, points.
const GRID_FROM: f32 = 9.0;

/// The grid.
pub(in super::super) fn paint_under(painter: &Painter, view: &View<'_>, camera: &Camera, editing: &Editing) {
    if camera.zoom < GRID_FROM || !editing.snaps() {
        return;
    }
    let clip = painter.clip_rect();
    let ([left, top], [right, bottom]) = (camera.place(clip.min), camera.place(clip.max));
    // So far out that places on the screen are no longer told apart there is no grid.
    if (right - left).max(bottom - top) > f64::from(clip.size().max_elem() / GRID_FROM) + 1.0 {
        return;
    }
    let mut mesh = egui::Mesh::default();
    let color = view.palette.rule;
    for row in top.ceil() as i64..=bottom.floor() as i64 {
        for column in left.ceil() as i64..=right.floor() as i64 {
            let at = camera.at([column as f64, row as f64]);
            mesh.add_colored_rect(Rect::from_center_size(at, vec2(1.2, 1.2)), color);
        }
    }
    painter.add(mesh);
}

/// Everything that lies over the system.
pub(in super::super) fn paint_over(ui: &Ui, painter: &Painter, view: &View<'_>, camera: &Camera, editing: &Editing) {
    selected(painter, view, camera);
    let pos = ui.input(|i| i.pointer.latest_pos()).filter(|pos| painter.clip_rect().contains(*pos));
    match (&editing.gesture, pos) {
        (Some(Gesture::Frame(from)), Some(pos)) => {
            let rect = Rect::from_two_pos(*from, pos);
            let stroke = Stroke::new(1.0, view.palette.accent);
            painter.rect(rect, 2, view.palette.accent.gamma_multiply(0.1), stroke, StrokeKind::Inside);
        }
        (Some(Gesture::Pipe(from)), Some(pos)) => {
            ports(painter, view, camera, pos);
            let from = view.project.components.get(&from.component).and_then(|c| c.port_at(from.port));
            if let Some(from) = from {
                rubber(painter, view, camera.at(from), target(view, camera, editing, pos));
            }
        }
        (None, Some(pos)) => {
            if let Some(placing) = &editing.placing {
                ghost(painter, view, camera, editing, placing, pos);
            } else {
                ports(painter, view, camera, pos);
            }
        }
        _ => {}
    }
}

/// Rings about selected components, a glow along selected pipes.
fn selected(painter: &Painter, view: &View<'_>, camera: &Camera) {
    let accent = view.palette.accent;
    let visible = painter.clip_rect().expand(40.0);
    for id in &view.selection.pipes {
        if let Some(points) = view.project.pipes.get(id).and_then(|pipe| pipes::course(view, pipe, camera)) {
            painter.add(Shape::line(points.clone(), Stroke::new(13.0, accent.gamma_multiply(0.25))));
            painter.add(Shape::line(points, Stroke::new(2.5, accent)));
        }
    }
    for id in &view.selection.components {
        let Some(component) = view.project.components.get(id) else { continue };
        let rect = symbols::body(component, camera).expand(3.0);
        if rect.intersects(visible) {
            painter.rect(rect, 5, accent.gamma_multiply(0.1), Stroke::new(1.5, accent), StrokeKind::Outside);
        }
    }
}

/// The ports of the component under the pointer or near it, the one that a press would take filled.
fn ports(painter: &Painter, view: &View<'_>, camera: &Camera, pos: Pos2) {
    let taken = hit::port(view.project, camera, pos);
    let over = taken.map(|port| port.component).or_else(|| hit::component(view.project, camera, pos));
    let Some((id, component)) = over.and_then(|id| view.project.components.get_key_value(&id)) else { return };
    for port in component.ports() {
        let Some(place) = component.port_at(*port) else { continue };
        let is_taken = taken.is_some_and(|taken| taken.component == *id && taken.port == *port);
        let fill = if is_taken { view.palette.accent } else { view.palette.sheet };
        // A ring about a tee: inside it a drag moves, on it a pipe begins.
        let radius = if component.kind == ComponentKind::Junction { 8.0 } else { 4.5 };
        let fill = if component.kind == ComponentKind::Junction { fill.gamma_multiply(0.3) } else { fill };
        painter.circle(camera.at(place), radius, fill, Stroke::new(1.5, view.palette.accent));
    }
}

/// Where a pipe in the hand would end, and what that is in a word.
fn target(view: &View<'_>, camera: &Camera, editing: &Editing, pos: Pos2) -> (Pos2, &'static str) {
    match hit::at(view.project, camera, pos) {
        Hit::Port(port) => {
            let place = view.project.components.get(&port.component).and_then(|c| c.port_at(port.port));
            (place.map_or(pos, |place| camera.at(place)), "join")
        }
        Hit::Component(_) => (pos, "join"),
        Hit::Pipe(..) => (pos, "tee"),
        Hit::Sheet => (camera.at(editing.snap.place(camera.place(pos))), "tee"),
    }
}

/// A pipe that is being drawn.
fn rubber(painter: &Painter, view: &View<'_>, from: Pos2, (to, word): (Pos2, &str)) {
    let accent = view.palette.accent;
    let corner = pos2(to.x, from.y);
    painter.extend(Shape::dashed_line(&[from, corner, to], Stroke::new(2.0, accent), 6.0, 4.0));
    painter.circle(to, 5.0, accent.gamma_multiply(0.4), Stroke::new(1.5, accent));
    let at = to + vec2(10.0, -10.0);
    painter.text(at, egui::Align2::LEFT_BOTTOM, word, look::font(size::SMALL), accent);
}

/// The component in the hand where it would come to stand.
fn ghost(
    painter: &Painter,
    view: &View<'_>,
    camera: &Camera,
    editing: &Editing,
    placing: &placing::Placing,
    pos: Pos2,
) {
    let landing = placing::landing(view, camera, placing.choice, editing.snap, pos);
    let accent = view.palette.accent;
    let into = landing.into.and_then(|(id, _)| pipes::course(view, view.project.pipes.get(&id)?, camera));
    if let Some(course) = into {
        painter.add(Shape::line(course, Stroke::new(9.0, accent.gamma_multiply(0.28))));
    }
    symbols::ghost(painter, view, camera, &landing.component, accent, Color32::TRANSPARENT);
    let at = camera.at(landing.component.at) + vec2(1.4 * camera.zoom, 1.4 * camera.zoom);
    let word = if landing.into.is_some() { "into this pipe" } else { placing.choice.word() };
    painter.text(at, egui::Align2::LEFT_TOP, word, look::font(size::SMALL), accent);
}

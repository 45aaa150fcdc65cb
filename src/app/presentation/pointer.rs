//! The pointer for people who look on: a ring about it, and a spotlight that dims everything else.

use super::super::view::View;
use egui::{Color32, Id, LayerId, Mesh, Order, Painter, Pos2, Rect, Shape, Stroke, Ui, Vec2};

/// Radius of the ring and of the light, points at work, and the light's soft edge as a share of it.
const RING: f32 = 11.0;
const LIGHT: f32 = 58.0;
const SOFT: f32 = 0.2;
/// Corners of the light's edge.
const CORNERS: u32 = 90;
/// What the light leaves dark.
const DIM: Color32 = Color32::from_black_alpha(170);

/// Shows what is switched on.
pub(super) fn show(ui: &Ui, place: Rect, view: &View<'_>, has_ring: bool, is_spot: bool) {
    let Some(pos) = ui.ctx().pointer_latest_pos().filter(|pos| place.contains(*pos)) else { return };
    let layer = LayerId::new(Order::Middle, Id::unique("pointer"));
    let painter = ui.ctx().layer_painter(layer).with_clip_rect(place);
    if is_spot {
        spot(&painter, pos, LIGHT * view.scale, place.size().length());
    }
    if has_ring {
        let pressed = ui.input(|i| i.pointer.any_down());
        let radius = RING * view.scale * if pressed { 0.75 } else { 1.0 };
        painter.circle_stroke(pos, radius, Stroke::new(2.6 * view.scale, view.palette.sheet.gamma_multiply(0.8)));
        painter.circle_stroke(pos, radius, Stroke::new(1.5 * view.scale, view.palette.accent));
    }
}

/// Dims everything but a circle, which has a soft edge.
fn spot(painter: &Painter, center: Pos2, radius: f32, far: f32) {
    let rings = [(radius * (1.0 - SOFT), Color32::TRANSPARENT), (radius, DIM), (radius + far, DIM)];
    let mut mesh = Mesh::default();
    for corner in 0..CORNERS {
        let direction = Vec2::angled(std::f32::consts::TAU * corner as f32 / CORNERS as f32);
        for (far, color) in rings {
            mesh.colored_vertex(center + far * direction, color);
        }
    }
    let count = rings.len() as u32;
    for corner in 0..CORNERS {
        let (here, next) = (corner * count, (corner + 1) % CORNERS * count);
        for ring in 0..count - 1 {
            mesh.add_triangle(here + ring, here + ring + 1, next + ring);
            mesh.add_triangle(next + ring, here + ring + 1, next + ring + 1);
        }
    }
    painter.add(Shape::mesh(mesh));
}

//! Pipes: weight by flow, colour by side (supply or return), arrows in the direction of flow that move with its velocity for a while
//! after each change, and all the time while presenting.

use super::super::look;
use super::super::view::View;
use super::camera::Camera;
use crate::document::{PipeId, PipeRun};
use crate::report::picture::sheet;
use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, Vec2};

/// Share of what all zones ask for below which a pipe counts as still.
const STILL: f32 = sheet::STILL as f32;
/// Distance between arrows in grid steps.
const ARROW_EVERY: f32 = sheet::ARROW_EVERY as f32;

/// Paints all pipes.
pub(super) fn paint(painter: &Painter, view: &View<'_>, camera: &Camera) {
    let whole = whole(view);
    let sight = painter.clip_rect().expand(8.0);
    if camera.zoom < FROM_AFAR {
        from_afar(painter, view, camera, whole);
        return;
    }
    for (id, pipe) in &view.project.pipes {
        let Some(points) = course(view, pipe, camera) else { continue };
        if !Rect::from_points(&points).intersects(sight) {
            continue;
        }
        let (flow, share) = flow_of(view, *id, whole);
        let color = color(view, *id, pipe, share);
        let width = view.weight() * weight(share, camera.zoom);
        painter.add(Shape::line(points.clone(), Stroke::new(width, color)));
        // Round corners and ends.
        for point in &points {
            painter.circle_filled(*point, 0.5 * width, color);
        }
        if share > STILL && camera.zoom > 5.0 && !view.is_stale() {
            let arrows = if view.presents {
                // Broader than the pipe, so that they are seen from afar.
                let size = 1.15 * width.max(5.0);
                Arrows { every: 1.6 * ARROW_EVERY, size, color: look::between(color, view.palette.ink, 0.25) }
            } else {
                Arrows {
                    every: ARROW_EVERY,
                    size: sheet::arrow_size(f64::from(width)) as f32,
                    color: view.palette.sheet,
                }
            };
            arrows.paint(painter, &points, flow > 0.0, view.flowing.at(*id), camera.zoom);
        }
    }
}

fn whole(view: &View<'_>) -> f64 {
    sheet::whole_flow(view.results)
}

/// Flow in a pipe, m³/s, and its share of what all zones ask for.
fn flow_of(view: &View<'_>, id: PipeId, whole: f64) -> (f64, f32) {
    let [flow, share] = sheet::flow_of(view.results, id, whole);
    (flow, share as f32)
}

/// How wide a pipe is drawn, points.
pub(super) fn width(view: &View<'_>, id: PipeId, camera: &Camera) -> f32 {
    view.weight() * weight(flow_of(view, id, whole(view)).1, camera.zoom)
}

/// Below this size of a grid step pipes are bare lines, points.
const FROM_AFAR: f32 = 3.0;

/// All pipes as bare lines in one mesh.
fn from_afar(painter: &Painter, view: &View<'_>, camera: &Camera, whole: f64) {
    let sight = painter.clip_rect();
    let mut mesh = egui::Mesh::default();
    for (id, pipe) in &view.project.pipes {
        let Some(points) = course(view, pipe, camera) else { continue };
        let (_, share) = flow_of(view, *id, whole);
        let color = color(view, *id, pipe, share);
        for pair in points.windows(2) {
            let rect = Rect::from_two_pos(pair[0], pair[1]).expand(0.5 + 1.5 * share);
            if rect.intersects(sight) {
                mesh.add_colored_rect(rect.intersect(sight), color);
            }
        }
    }
    painter.add(mesh);
}

/// Corners of a pipe on the screen.
pub(super) fn course(view: &View<'_>, pipe: &PipeRun, camera: &Camera) -> Option<Vec<Pos2>> {
    let end = |end: crate::document::PortRef| view.project.components.get(&end.component)?.port_at(end.port);
    let mut points = vec![camera.at(end(pipe.from)?)];
    points.extend(pipe.bends.iter().map(|bend| camera.at(*bend)));
    points.push(camera.at(end(pipe.to)?));
    Some(points)
}

fn weight(share: f32, zoom: f32) -> f32 {
    let unit = (zoom / 16.0).clamp(0.5, 2.0);
    sheet::weight(f64::from(share)) as f32 * unit
}

fn color(view: &View<'_>, id: PipeId, pipe: &PipeRun, share: f32) -> Color32 {
    let palette = &view.palette;
    if share < STILL || view.is_stale() {
        return look::between(palette.sheet, palette.shut, 0.55);
    }
    let color = if sheet::is_warm(view.project, view.study, pipe) { palette.warm } else { palette.cold };
    let off_path = view.shows_path() && !view.path.pipes.contains(&id);
    if off_path { look::between(palette.sheet, color, 0.3) } else { color }
}

/// Arrow heads along a pipe: how far apart, in grid steps, how large and in which colour.
struct Arrows {
    every: f32,
    size: f32,
    color: Color32,
}

impl Arrows {
    /// Paints them, `moved` grid steps from the pipe's start towards its end from where they began.
    fn paint(&self, painter: &Painter, points: &[Pos2], forward: bool, moved: f64, zoom: f32) {
        let (every, size) = (self.every * zoom, self.size);
        let length: f32 = points.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
        if length < 1.2 * zoom {
            return;
        }
        let moved = moved.rem_euclid(f64::from(self.every)) as f32 * zoom;
        let mut next = (0.5 * every + moved).rem_euclid(every);
        let mut gone = 0.0;
        for pair in points.windows(2) {
            let step = pair[0].distance(pair[1]);
            let direction = (pair[1] - pair[0]).normalized();
            while next < gone + step {
                let at = pair[0] + direction * (next - gone);
                if next > size && next < length - size {
                    head(painter, at, if forward { direction } else { -direction }, size, self.color);
                }
                next += every;
            }
            gone += step;
        }
    }
}

fn head(painter: &Painter, at: Pos2, direction: Vec2, size: f32, color: Color32) {
    let corners =
        sheet::arrow_head([at.x, at.y].map(f64::from), [direction.x, direction.y].map(f64::from), size.into());
    let corners = corners.map(|corner| Pos2::from(corner.map(|value| value as f32)));
    painter.add(Shape::convex_polygon(corners.to_vec(), color, Stroke::NONE));
}

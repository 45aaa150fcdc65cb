//! Paints the symbols of components, whose shapes [`crate::report::picture::symbols`] gives, with their names beside them.

use super::super::look::{self};
use super::super::view::View;
use super::camera::Camera;
use crate::document::{Component, ComponentId, ComponentKind, Turn};
use crate::engine::units::Quantity;
use crate::report::picture::symbols::{self as shapes, Fill, Part};
use egui::{Align2, Color32, Painter, Pos2, Rect, Shape, Stroke, vec2};

/// Pen for one symbol: places are grid steps from the component's centre.
struct Pen<'a> {
    painter: &'a Painter,
    camera: &'a Camera,
    component: &'a Component,
    stroke: Stroke,
    fill: Color32,
}

impl Pen<'_> {
    fn at(&self, [dx, dy]: [f64; 2]) -> Pos2 {
        self.camera.at([self.component.at[0] + dx, self.component.at[1] + dy])
    }

    fn all(&self, points: &[[f64; 2]]) -> Vec<Pos2> {
        points.iter().map(|point| self.at(*point)).collect()
    }

    fn paint(&self, part: &Part, view: &View<'_>) {
        let fill = |fill: Fill| match fill {
            Fill::Sheet => self.fill,
            Fill::Ink => self.stroke.color,
            Fill::Standing => look::between(self.fill, view.palette.shut, 0.4),
        };
        let zoom = self.camera.zoom;
        match part {
            Part::Line(points, pen) => {
                let strong = |color| Stroke::new(shapes::STRONGER as f32 * self.stroke.width, color);
                let stroke = match pen {
                    shapes::Pen::Ink => self.stroke,
                    shapes::Pen::Warm => strong(view.palette.warm),
                    shapes::Pen::Cold => strong(view.palette.cold),
                };
                self.painter.add(Shape::line(self.all(points), stroke));
            }
            Part::Shape(points, filled) => {
                self.painter.add(Shape::convex_polygon(self.all(points), fill(*filled), self.stroke));
            }
            Part::Circle(at, radius, filled) => {
                self.painter.circle(self.at(*at), *radius as f32 * zoom, fill(*filled), self.stroke);
            }
            Part::Letter(at, letter) => {
                let font = look::strong(shapes::LETTER as f32 * zoom);
                self.painter.text(self.at(*at), Align2::CENTER_CENTER, letter, font, self.stroke.color);
            }
            Part::Point => {
                let radius = (zoom * shapes::POINT as f32).max(1.5);
                self.painter.circle_filled(self.at([0.0, 0.0]), radius, self.stroke.color);
            }
        }
    }
}

/// Below this size of a grid step symbols are mere marks, points.
const MARKS: f32 = 3.0;

/// Paints all symbols in sight.
pub(super) fn paint(painter: &Painter, view: &View<'_>, camera: &Camera) {
    if camera.zoom < MARKS {
        marks(painter, view, camera);
        return;
    }
    let sight = painter.clip_rect().expand(8.0 * camera.zoom);
    for (id, component) in &view.project.components {
        if !sight.contains(camera.at(component.at)) {
            continue;
        }
        let off_path = view.shows_path() && !view.path.components.contains(id);
        let ink = if off_path { look::between(view.palette.sheet, view.palette.ink, 0.35) } else { view.palette.ink };
        let width = view.weight() * (camera.zoom * 0.1).clamp(1.0, 2.4);
        let pen = Pen { painter, camera, component, stroke: Stroke::new(width, ink), fill: view.palette.sheet };
        symbol(&pen, view, Some(*id));
        // From afar words of this size cannot be read, and there is no room for larger ones.
        if camera.zoom > 8.0 && !view.presents {
            let below = view.results.sources.get(id).map(|source| {
                let celsius = |celsius| view.units.format(Quantity::Temperature, celsius);
                let enters = view.units.number(Quantity::Temperature, source.enters_c);
                format!("{enters} → {}", celsius(source.leaves_c))
            });
            name(&pen, ink, below.as_deref());
        }
    }
}

/// A drawing from afar: a mark for everything but tees, all in one mesh.
fn marks(painter: &Painter, view: &View<'_>, camera: &Camera) {
    let sight = painter.clip_rect();
    let mut mesh = egui::Mesh::default();
    let size = (1.6 * camera.zoom).max(1.0);
    for component in view.project.components.values().filter(|c| c.kind != ComponentKind::Junction) {
        let at = camera.at(component.at);
        if sight.contains(at) {
            mesh.add_colored_rect(Rect::from_center_size(at, vec2(size, size)), view.palette.ink);
        }
    }
    painter.add(mesh);
}

/// A component that is not on the drawing yet.
pub(super) fn ghost(
    painter: &Painter,
    view: &View<'_>,
    camera: &Camera,
    component: &Component,
    ink: Color32,
    fill: Color32,
) {
    let width = (camera.zoom * 0.1).clamp(1.0, 2.4);
    symbol(&Pen { painter, camera, component, stroke: Stroke::new(width, ink), fill }, view, None);
}

/// The symbol of a kind in a small square, for a list.
pub(in super::super) fn icon(painter: &Painter, view: &View<'_>, rect: Rect, kind: &ComponentKind, ink: Color32) {
    let high = if matches!(kind, ComponentKind::Separator { .. }) { 5.8 } else { 2.4 };
    let camera = Camera { zoom: rect.height().min(rect.width()) / high, offset: rect.center().to_vec2() };
    let component = Component::new(String::new(), [0.0, 0.0], Turn::Right, kind.clone());
    ghost(painter, view, &camera, &component, ink, view.palette.raised);
}

/// The stretch of the screen that a symbol takes.
pub(super) fn body(component: &Component, camera: &Camera) -> Rect {
    let [x, y] = shapes::half_size(component);
    Rect::from_center_size(camera.at(component.at), 2.0 * vec2(x as f32, y as f32) * camera.zoom)
}

fn symbol(pen: &Pen<'_>, view: &View<'_>, id: Option<ComponentId>) {
    for part in shapes::symbol(pen.component, view.project.design.duty) {
        pen.paint(&part, view);
    }
    let is_pump = matches!(pen.component.kind, ComponentKind::Pump(_));
    if is_pump && id.is_some() && view.pump == id && view.project.pumps().count() > 1 {
        let ring = Stroke::new(2.0, view.palette.accent);
        pen.painter.circle_stroke(pen.at([0.0, 0.0]), 1.2 * pen.camera.zoom, ring);
    }
}

/// Names of source and pumps stand beside them, of a source with the temperatures of its water; those of other components appear under the pointer.
fn name(pen: &Pen<'_>, ink: Color32, below: Option<&str>) {
    let named = matches!(pen.component.kind, ComponentKind::Source(_) | ComponentKind::Pump(_));
    if !named {
        return;
    }
    let size = (0.62 * pen.camera.zoom).clamp(9.5, 14.0);
    let upright = matches!(pen.component.turn, Turn::Up | Turn::Down);
    let (offset, align) =
        if upright { ([1.3, 0.0], Align2::LEFT_CENTER) } else { ([0.0, -1.4], Align2::CENTER_BOTTOM) };
    let [x, y] = pen.component.at;
    let at = pen.camera.at([x + offset[0], y + offset[1]]);
    let room = if upright { 4.6 } else { 7.0 } * pen.camera.zoom.max(11.0);
    let galley = pen.painter.layout(pen.component.name.clone(), look::strong(size), ink, room);
    let below = pen.painter.layout_no_wrap(below.unwrap_or_default().to_owned(), look::font(size), ink);
    let line = if below.is_empty() { 0.0 } else { below.size().y };
    let whole = egui::vec2(galley.size().x, galley.size().y + line);
    let rect = align.anchor_size(at, whole);
    pen.painter.galley(rect.min, galley, ink);
    pen.painter.galley(rect.left_bottom() - egui::vec2(0.0, line), below, ink);
}

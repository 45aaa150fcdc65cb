//! Symbols of components as line symbols in the manner of ISO 14617 and ISO 10628-2 (shapes from memory): a circle with a
//! triangle is a pump, two triangles point to point are a valve, and so on. Each is drawn in grid steps about its centre,
//! inlet left, and turned with the component.

use super::super::look::{self};
use super::super::view::View;
use super::camera::Camera;
use crate::document::{Component, ComponentId, ComponentKind, Duty, ThreeWayAction, ThreeWayValve, Turn};
use crate::engine::links::emitter::EmitterLaw;
use crate::engine::units::Quantity;
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
    fn at(&self, x: f64, y: f64) -> Pos2 {
        let [dx, dy] = self.component.turn.apply([x, y]);
        self.camera.at([self.component.at[0] + dx, self.component.at[1] + dy])
    }

    fn line(&self, points: &[[f64; 2]]) {
        let points = points.iter().map(|p| self.at(p[0], p[1])).collect();
        self.painter.add(Shape::line(points, self.stroke));
    }

    fn shape(&self, points: &[[f64; 2]], fill: Color32) {
        let points = points.iter().map(|p| self.at(p[0], p[1])).collect();
        self.painter.add(Shape::convex_polygon(points, fill, self.stroke));
    }

    fn circle(&self, x: f64, y: f64, radius: f64, fill: Color32) {
        self.painter.circle(self.at(x, y), radius as f32 * self.camera.zoom, fill, self.stroke);
    }

    /// An upright letter, however the component stands.
    fn letter(&self, x: f64, y: f64, letter: &str) {
        let font = look::strong(0.85 * self.camera.zoom);
        self.painter.text(self.at(x, y), Align2::CENTER_CENTER, letter, font, self.stroke.color);
    }

    /// Two triangles point to point.
    fn valve_body(&self, fill: Color32) {
        self.line(&[[-1.0, 0.0], [-0.75, 0.0]]);
        self.line(&[[0.75, 0.0], [1.0, 0.0]]);
        self.shape(&[[-0.75, -0.5], [0.0, 0.0], [-0.75, 0.5]], fill);
        self.shape(&[[0.75, -0.5], [0.0, 0.0], [0.75, 0.5]], fill);
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
    let half: [f64; 2] = match component.kind {
        ComponentKind::Junction => [0.4, 0.4],
        ComponentKind::Separator { .. } => [1.0, 2.7],
        ComponentKind::Source(_) | ComponentKind::Pump(_) | ComponentKind::ExpansionVessel { .. } => [1.0, 1.0],
        _ => [1.0, 0.9],
    };
    let [x, y] = component.turn.apply(half);
    Rect::from_center_size(camera.at(component.at), 2.0 * vec2(x.abs() as f32, y.abs() as f32) * camera.zoom)
}

fn symbol(pen: &Pen<'_>, view: &View<'_>, id: Option<ComponentId>) {
    let shut_fill = if pen.component.is_open() == Some(false) { pen.stroke.color } else { pen.fill };
    match &pen.component.kind {
        ComponentKind::Junction => {
            let radius = (pen.camera.zoom * 0.14).max(1.5);
            pen.painter.circle_filled(pen.at(0.0, 0.0), radius, pen.stroke.color);
        }
        ComponentKind::Source(_) => source(pen, view),
        ComponentKind::Pump(unit) => {
            pump(pen, if unit.running { pen.fill } else { look::between(pen.fill, view.palette.shut, 0.4) });
            if id.is_some() && view.pump == id && view.project.pumps().count() > 1 {
                let ring = Stroke::new(2.0, view.palette.accent);
                pen.painter.circle_stroke(pen.at(0.0, 0.0), 1.2 * pen.camera.zoom, ring);
            }
        }
        ComponentKind::Emitter(has) => emitter(pen, has.law),
        ComponentKind::ZoneValve { .. } => {
            pen.valve_body(shut_fill);
            // A motor drive on a stem.
            pen.line(&[[0.0, 0.0], [0.0, -0.6]]);
            pen.shape(&[[-0.32, -1.1], [0.32, -1.1], [0.32, -0.6], [-0.32, -0.6]], pen.fill);
        }
        ComponentKind::ControlValve { .. } => {
            pen.valve_body(shut_fill);
            pen.line(&[[0.0, 0.0], [0.0, -0.6]]);
            pen.circle(0.0, -0.85, 0.3, pen.fill);
        }
        ComponentKind::ThermostaticValve { .. } => {
            pen.valve_body(pen.fill);
            // The head that feels the room.
            pen.line(&[[0.0, 0.0], [0.0, -0.55]]);
            pen.shape(&[[-0.3, -0.55], [0.3, -0.55], [0.3, -0.8], [0.2, -1.1], [-0.2, -1.1], [-0.3, -0.8]], pen.fill);
        }
        ComponentKind::BalancingValve { .. } => {
            pen.valve_body(pen.fill);
            // A hand wheel and two measuring points.
            pen.line(&[[0.0, 0.0], [0.0, -0.65]]);
            pen.line(&[[-0.35, -0.65], [0.35, -0.65]]);
            pen.line(&[[-0.55, 0.4], [-0.55, 0.75]]);
            pen.line(&[[0.55, 0.4], [0.55, 0.75]]);
        }
        ComponentKind::PressureIndependentValve { .. } => {
            pen.valve_body(shut_fill);
            pen.line(&[[0.0, 0.0], [0.0, -0.6]]);
            pen.shape(&[[-0.32, -1.1], [0.32, -1.1], [0.32, -0.6], [-0.32, -0.6]], pen.fill);
            // The pressure line of its inner regulator.
            pen.line(&[[-0.75, 0.35], [-0.75, 0.8], [0.75, 0.8], [0.75, 0.35]]);
        }
        ComponentKind::BypassValve { .. } => {
            pen.valve_body(pen.fill);
            pen.line(&[[0.0, 0.0], [0.0, -0.5], [-0.25, -0.6], [0.25, -0.8], [-0.25, -1.0], [0.0, -1.1]]);
        }
        ComponentKind::CheckValve { .. } => {
            pen.line(&[[-1.0, 0.0], [-0.5, 0.0]]);
            pen.line(&[[0.5, 0.0], [1.0, 0.0]]);
            pen.shape(&[[-0.5, -0.5], [0.45, 0.0], [-0.5, 0.5]], pen.fill);
            pen.line(&[[0.5, -0.5], [0.5, 0.5]]);
        }
        ComponentKind::Strainer { fouling, .. } => strainer(pen, *fouling),
        ComponentKind::ThreeWayValve(valve) => three_way(pen, valve),
        ComponentKind::PressureGauge => gauge(pen, "P"),
        ComponentKind::Thermometer => gauge(pen, "T"),
        ComponentKind::FlowMeter { .. } => {
            pen.line(&[[-1.0, 0.0], [1.0, 0.0]]);
            pen.circle(0.0, 0.0, 0.7, pen.fill);
            pen.letter(0.0, 0.0, "F");
        }
        ComponentKind::IsolationValve { .. } => pen.valve_body(shut_fill),
        ComponentKind::ExpansionVessel { .. } => vessel(pen),
        ComponentKind::Separator { .. } => separator(pen),
    }
}

/// A pocket below the run, hatched the more the more it has caught.
fn strainer(pen: &Pen<'_>, fouling: f64) {
    pen.line(&[[-1.0, 0.0], [1.0, 0.0]]);
    pen.line(&[[-0.1, 0.0], [0.35, 0.7], [0.75, 0.45], [0.45, 0.0]]);
    let hatches = (4.0 * fouling).ceil().clamp(0.0, 4.0) as u32;
    for hatch in 0..hatches {
        // Along the pocket, from its foot upwards.
        let up = 0.15 + 0.2 * f64::from(hatch);
        let at = |from: [f64; 2], to: [f64; 2]| [0, 1].map(|i: usize| from[i] + up * (to[i] - from[i]));
        pen.line(&[at([0.35, 0.7], [-0.1, 0.0]), at([0.75, 0.45], [0.45, 0.0])]);
    }
}

/// Three triangles point to point; a way that is shut is filled. A drive on a stem.
fn three_way(pen: &Pen<'_>, valve: &ThreeWayValve) {
    let [controlled, bypass] = valve.ways().kv_m3_per_h(valve.position);
    let fill = |kv: f64| if kv > 0.0 { pen.fill } else { pen.stroke.color };
    let ways = match valve.action {
        ThreeWayAction::Mixing => [fill(controlled), pen.fill, fill(bypass)],
        ThreeWayAction::Diverting => [pen.fill, fill(controlled), fill(bypass)],
    };
    let triangles = [
        [[-0.75, -0.5], [0.0, 0.0], [-0.75, 0.5]],
        [[0.75, -0.5], [0.0, 0.0], [0.75, 0.5]],
        [[-0.5, 0.75], [0.0, 0.0], [0.5, 0.75]],
    ];
    pen.line(&[[-1.0, 0.0], [-0.75, 0.0]]);
    pen.line(&[[0.75, 0.0], [1.0, 0.0]]);
    pen.line(&[[0.0, 0.75], [0.0, 1.0]]);
    for (triangle, fill) in triangles.iter().zip(ways) {
        pen.shape(triangle, fill);
    }
    pen.line(&[[0.0, 0.0], [0.0, -0.6]]);
    pen.circle(0.0, -0.85, 0.3, pen.fill);
}

/// A circle with a letter, on a stem.
fn gauge(pen: &Pen<'_>, letter: &str) {
    pen.line(&[[0.0, 0.7], [0.0, 1.0]]);
    pen.circle(0.0, 0.0, 0.7, pen.fill);
    pen.letter(0.0, 0.0, letter);
}

/// A rectangle with a heating coil for heat or a star for cold.
fn source(pen: &Pen<'_>, view: &View<'_>) {
    pen.shape(&[[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]], pen.fill);
    let at = |x: f32, y: f32| pen.at(0.0, 0.0) + vec2(x, y) * pen.camera.zoom;
    if view.project.design.duty == Duty::Heating {
        let stroke = Stroke::new(1.4 * pen.stroke.width, view.palette.warm);
        let coil = [(-0.65, 0.0), (-0.45, -0.5), (-0.15, 0.5), (0.15, -0.5), (0.45, 0.5), (0.65, 0.0)];
        pen.painter.add(Shape::line(coil.iter().map(|&(x, y)| at(x, y)).collect(), stroke));
    } else {
        let stroke = Stroke::new(1.4 * pen.stroke.width, view.palette.cold);
        for angle in [0.0_f32, 60.0, 120.0] {
            let (sin, cos) = angle.to_radians().sin_cos();
            pen.painter.line_segment([at(-0.6 * cos, -0.6 * sin), at(0.6 * cos, 0.6 * sin)], stroke);
        }
    }
}

/// A circle with a triangle in the direction of flow.
fn pump(pen: &Pen<'_>, fill: Color32) {
    pen.circle(0.0, 0.0, 0.95, fill);
    let s = 0.95 * std::f64::consts::FRAC_1_SQRT_2;
    pen.line(&[[-s * 0.2, -0.93], [0.95, 0.0], [-s * 0.2, 0.93]]);
}

/// A rectangle: with fins for a radiator, a winding tube for a floor, a slanting line for a coil.
fn emitter(pen: &Pen<'_>, law: EmitterLaw) {
    pen.shape(&[[-1.0, -0.7], [1.0, -0.7], [1.0, 0.7], [-1.0, 0.7]], pen.fill);
    match law {
        EmitterLaw::Radiator { .. } => {
            for x in [-0.6, -0.2, 0.2, 0.6] {
                pen.line(&[[x, -0.7], [x, 0.7]]);
            }
        }
        EmitterLaw::FloorLoop { .. } => {
            let (a, b) = (-0.45, 0.45);
            pen.line(&[
                [-1.0, 0.0],
                [-0.7, 0.0],
                [-0.7, a],
                [-0.35, a],
                [-0.35, b],
                [0.0, b],
                [0.0, a],
                [0.35, a],
                [0.35, b],
                [0.7, b],
                [0.7, 0.0],
                [1.0, 0.0],
            ]);
        }
        EmitterLaw::Coil { .. } => pen.line(&[[-1.0, 0.7], [1.0, -0.7]]),
        EmitterLaw::ConstantDrop => pen.line(&[[-0.6, 0.0], [0.6, 0.0]]),
    }
}

/// A round vessel with a membrane, on a stem.
fn vessel(pen: &Pen<'_>) {
    pen.line(&[[0.0, 0.75], [0.0, 1.0]]);
    pen.circle(0.0, 0.0, 0.75, pen.fill);
    pen.line(&[[-0.7, 0.15], [-0.35, -0.1], [0.0, 0.1], [0.35, -0.1], [0.7, 0.15]]);
}

/// An upright vessel with two ports on each side.
fn separator(pen: &Pen<'_>) {
    for y in [-2.0, 2.0] {
        pen.line(&[[-1.0, y], [1.0, y]]);
    }
    let (w, h) = (0.6, 2.4);
    let cap = |x: f64, y: f64| [[-x, y], [x, y]];
    let [a, b] = cap(w * 0.6, -h - 0.3);
    let [c, d] = cap(w, -h);
    let [e, f] = cap(w, h);
    let [g, i] = cap(w * 0.6, h + 0.3);
    pen.shape(&[a, b, d, f, i, g, e, c], pen.fill);
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

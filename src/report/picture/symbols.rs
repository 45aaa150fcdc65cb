//! Symbols of components as line symbols in the manner of ISO 14617 and ISO 10628-2 (shapes from memory): a circle with a
//! triangle is a pump, two triangles point to point are a valve, and so on. Each is a list of strokes in grid steps about its
//! centre, drawn for inlet left and turned with the component; the window and the pictures paint the same list.

use crate::document::{Component, ComponentKind, Duty, ThreeWayAction, ThreeWayValve, Turn};
use crate::engine::links::emitter::EmitterLaw;

/// What a closed shape is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// The sheet: lines behind it do not show.
    Sheet,
    /// Ink: something shut.
    Ink,
    /// Half way to the colour of what is shut: a pump that stands.
    Standing,
}

/// With what a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pen {
    /// The symbol's own line.
    Ink,
    /// A somewhat stronger line in the colour of warm water.
    Warm,
    /// The same in the colour of cold water.
    Cold,
}

/// How much stronger the coloured lines are.
pub const STRONGER: f64 = 1.4;
/// Size of a letter, grid steps.
pub const LETTER: f64 = 0.85;
/// Radius of a tee's point, grid steps.
pub const POINT: f64 = 0.14;

/// A part of a symbol; places are grid steps from the component's centre as it stands on the drawing.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// An open line.
    Line(Vec<[f64; 2]>, Pen),
    /// A closed convex shape with the symbol's line about it.
    Shape(Vec<[f64; 2]>, Fill),
    /// A circle: centre, radius and fill, with the symbol's line about it.
    Circle([f64; 2], f64, Fill),
    /// An upright letter, however the component stands.
    Letter([f64; 2], &'static str),
    /// A full point: a tee.
    Point,
}

/// Half the width and half the height that a symbol takes as it stands, grid steps.
#[must_use]
pub fn half_size(component: &Component) -> [f64; 2] {
    let half: [f64; 2] = match component.kind {
        ComponentKind::Junction => [0.4, 0.4],
        ComponentKind::Separator { .. } => [1.0, 2.7],
        ComponentKind::Source(_) | ComponentKind::Pump(_) | ComponentKind::ExpansionVessel { .. } => [1.0, 1.0],
        _ => [1.0, 0.9],
    };
    component.turn.apply(half).map(f64::abs)
}

/// The symbol of a component.
#[must_use]
pub fn symbol(component: &Component, duty: Duty) -> Vec<Part> {
    let mut pen = Draw { turn: component.turn, parts: Vec::new() };
    let shut_fill = if component.is_open() == Some(false) { Fill::Ink } else { Fill::Sheet };
    match &component.kind {
        ComponentKind::Junction => pen.parts.push(Part::Point),
        ComponentKind::Source(_) => source(&mut pen, duty),
        ComponentKind::Pump(unit) => pump(&mut pen, if unit.running { Fill::Sheet } else { Fill::Standing }),
        ComponentKind::Emitter(has) => emitter(&mut pen, has.law),
        ComponentKind::ZoneValve { .. } => {
            pen.valve_body(shut_fill);
            pen.drive();
        }
        ComponentKind::ControlValve { .. } => {
            pen.valve_body(shut_fill);
            pen.line(&[[0.0, 0.0], [0.0, -0.6]]);
            pen.circle([0.0, -0.85], 0.3, Fill::Sheet);
        }
        ComponentKind::ThermostaticValve { .. } => {
            pen.valve_body(Fill::Sheet);
            // The head that feels the room.
            pen.line(&[[0.0, 0.0], [0.0, -0.55]]);
            let head = [[-0.3, -0.55], [0.3, -0.55], [0.3, -0.8], [0.2, -1.1], [-0.2, -1.1], [-0.3, -0.8]];
            pen.shape(&head, Fill::Sheet);
        }
        ComponentKind::BalancingValve { .. } => {
            pen.valve_body(Fill::Sheet);
            // A hand wheel and two measuring points.
            pen.line(&[[0.0, 0.0], [0.0, -0.65]]);
            pen.line(&[[-0.35, -0.65], [0.35, -0.65]]);
            pen.line(&[[-0.55, 0.4], [-0.55, 0.75]]);
            pen.line(&[[0.55, 0.4], [0.55, 0.75]]);
        }
        ComponentKind::PressureIndependentValve { .. } => {
            pen.valve_body(shut_fill);
            pen.drive();
            // The pressure line of its inner regulator.
            pen.line(&[[-0.75, 0.35], [-0.75, 0.8], [0.75, 0.8], [0.75, 0.35]]);
        }
        ComponentKind::BypassValve { .. } => {
            pen.valve_body(Fill::Sheet);
            pen.line(&[[0.0, 0.0], [0.0, -0.5], [-0.25, -0.6], [0.25, -0.8], [-0.25, -1.0], [0.0, -1.1]]);
        }
        ComponentKind::CheckValve { .. } => {
            pen.line(&[[-1.0, 0.0], [-0.5, 0.0]]);
            pen.line(&[[0.5, 0.0], [1.0, 0.0]]);
            pen.shape(&[[-0.5, -0.5], [0.45, 0.0], [-0.5, 0.5]], Fill::Sheet);
            pen.line(&[[0.5, -0.5], [0.5, 0.5]]);
        }
        ComponentKind::Strainer { fouling, .. } => strainer(&mut pen, *fouling),
        ComponentKind::ThreeWayValve(valve) => three_way(&mut pen, valve),
        ComponentKind::PressureGauge => gauge(&mut pen, "P"),
        ComponentKind::Thermometer => gauge(&mut pen, "T"),
        ComponentKind::FlowMeter { .. } => {
            pen.line(&[[-1.0, 0.0], [1.0, 0.0]]);
            pen.circle([0.0, 0.0], 0.7, Fill::Sheet);
            pen.letter([0.0, 0.0], "F");
        }
        ComponentKind::IsolationValve { .. } => pen.valve_body(shut_fill),
        ComponentKind::ExpansionVessel { .. } => vessel(&mut pen),
        ComponentKind::Separator { .. } => separator(&mut pen),
    }
    pen.parts
}

/// Collects the parts of one symbol, turned as it stands.
struct Draw {
    turn: Turn,
    parts: Vec<Part>,
}

impl Draw {
    fn turned(&self, points: &[[f64; 2]]) -> Vec<[f64; 2]> {
        points.iter().map(|at| self.turn.apply(*at)).collect()
    }

    fn line(&mut self, points: &[[f64; 2]]) {
        self.parts.push(Part::Line(self.turned(points), Pen::Ink));
    }

    fn shape(&mut self, points: &[[f64; 2]], fill: Fill) {
        self.parts.push(Part::Shape(self.turned(points), fill));
    }

    fn circle(&mut self, at: [f64; 2], radius: f64, fill: Fill) {
        self.parts.push(Part::Circle(self.turn.apply(at), radius, fill));
    }

    fn letter(&mut self, at: [f64; 2], letter: &'static str) {
        self.parts.push(Part::Letter(self.turn.apply(at), letter));
    }

    /// Two triangles point to point.
    fn valve_body(&mut self, fill: Fill) {
        self.line(&[[-1.0, 0.0], [-0.75, 0.0]]);
        self.line(&[[0.75, 0.0], [1.0, 0.0]]);
        self.shape(&[[-0.75, -0.5], [0.0, 0.0], [-0.75, 0.5]], fill);
        self.shape(&[[0.75, -0.5], [0.0, 0.0], [0.75, 0.5]], fill);
    }

    /// A motor drive on a stem.
    fn drive(&mut self) {
        self.line(&[[0.0, 0.0], [0.0, -0.6]]);
        self.shape(&[[-0.32, -1.1], [0.32, -1.1], [0.32, -0.6], [-0.32, -0.6]], Fill::Sheet);
    }
}

/// A pocket below the run, hatched the more the more it has caught.
fn strainer(pen: &mut Draw, fouling: f64) {
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
fn three_way(pen: &mut Draw, valve: &ThreeWayValve) {
    let [controlled, bypass] = valve.ways().kv_m3_per_h(valve.position);
    let fill = |kv: f64| if kv > 0.0 { Fill::Sheet } else { Fill::Ink };
    let ways = match valve.action {
        ThreeWayAction::Mixing => [fill(controlled), Fill::Sheet, fill(bypass)],
        ThreeWayAction::Diverting => [Fill::Sheet, fill(controlled), fill(bypass)],
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
    pen.circle([0.0, -0.85], 0.3, Fill::Sheet);
}

/// A circle with a letter, on a stem.
fn gauge(pen: &mut Draw, letter: &'static str) {
    pen.line(&[[0.0, 0.7], [0.0, 1.0]]);
    pen.circle([0.0, 0.0], 0.7, Fill::Sheet);
    pen.letter([0.0, 0.0], letter);
}

/// A rectangle with a heating coil for heat or a star for cold; what is in it stays upright.
fn source(pen: &mut Draw, duty: Duty) {
    pen.shape(&[[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]], Fill::Sheet);
    if duty == Duty::Heating {
        let coil = vec![[-0.65, 0.0], [-0.45, -0.5], [-0.15, 0.5], [0.15, -0.5], [0.45, 0.5], [0.65, 0.0]];
        pen.parts.push(Part::Line(coil, Pen::Warm));
        return;
    }
    for angle in [0.0_f64, 60.0, 120.0] {
        let (sin, cos) = angle.to_radians().sin_cos();
        pen.parts.push(Part::Line(vec![[-0.6 * cos, -0.6 * sin], [0.6 * cos, 0.6 * sin]], Pen::Cold));
    }
}

/// A circle with a triangle in the direction of flow.
fn pump(pen: &mut Draw, fill: Fill) {
    pen.circle([0.0, 0.0], 0.95, fill);
    let s = 0.95 * std::f64::consts::FRAC_1_SQRT_2;
    pen.line(&[[-s * 0.2, -0.93], [0.95, 0.0], [-s * 0.2, 0.93]]);
}

/// A rectangle: with fins for a radiator, a winding tube for a floor, a slanting line for a coil.
fn emitter(pen: &mut Draw, law: EmitterLaw) {
    pen.shape(&[[-1.0, -0.7], [1.0, -0.7], [1.0, 0.7], [-1.0, 0.7]], Fill::Sheet);
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
fn vessel(pen: &mut Draw) {
    pen.line(&[[0.0, 0.75], [0.0, 1.0]]);
    pen.circle([0.0, 0.0], 0.75, Fill::Sheet);
    pen.line(&[[-0.7, 0.15], [-0.35, -0.1], [0.0, 0.1], [0.35, -0.1], [0.7, 0.15]]);
}

/// An upright vessel with two ports on each side.
fn separator(pen: &mut Draw) {
    for y in [-2.0, 2.0] {
        pen.line(&[[-1.0, y], [1.0, y]]);
    }
    let (w, h) = (0.6, 2.4);
    let cap = |x: f64, y: f64| [[-x, y], [x, y]];
    let [a, b] = cap(w * 0.6, -h - 0.3);
    let [c, d] = cap(w, -h);
    let [e, f] = cap(w, h);
    let [g, i] = cap(w * 0.6, h + 0.3);
    pen.shape(&[a, b, d, f, i, g, e, c], Fill::Sheet);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(part: &Part) -> Vec<[f64; 2]> {
        match part {
            Part::Line(points, _) | Part::Shape(points, _) => points.clone(),
            Part::Circle([x, y], radius, _) => vec![[x - radius, y - radius], [x + radius, y + radius]],
            Part::Letter(at, _) => vec![*at],
            Part::Point => vec![[0.0, 0.0]],
        }
    }

    fn valve(open: bool, turn: Turn) -> Vec<Part> {
        let kind = ComponentKind::IsolationValve { kv: 4.0, open };
        symbol(&Component::new("V", [3.0, 4.0], turn, kind), Duty::Heating)
    }

    #[test]
    fn what_is_shut_is_filled() {
        let filled = |parts: &[Part]| parts.iter().filter(|part| matches!(part, Part::Shape(_, Fill::Ink))).count();
        assert_eq!((filled(&valve(true, Turn::Right)), filled(&valve(false, Turn::Right))), (0, 2));
    }

    /// A quarter turn clockwise, y downwards, takes right to below.
    #[test]
    fn a_symbol_turns_with_its_component() {
        let [right, down] = [Turn::Right, Turn::Down].map(|turn| valve(true, turn));
        for (a, b) in right.iter().zip(&down) {
            for ([x, y], turned) in points(a).into_iter().zip(points(b)) {
                assert_eq!(turned, [-y, x]);
            }
        }
    }
}

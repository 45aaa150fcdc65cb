//! What lies under the pointer on the sheet.

use super::super::camera::Camera;
use super::super::symbols;
use crate::document::{ComponentId, ComponentKind, PipeId, PipeRun, Port, PortRef, Project, course, nearest_share};
use egui::{Pos2, Rect};

/// How near the pointer must come to a port and to a pipe, points.
const PORT_REACH: f32 = 9.0;
const PIPE_REACH: f32 = 7.0;
/// Inside this distance from a tee's middle a drag moves it; outside, a pipe begins, points.
const TEE_CORE: f32 = 5.0;

/// What lies under the pointer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in super::super) enum Hit {
    /// A port.
    Port(PortRef),
    /// A component.
    Component(ComponentId),
    /// A pipe, at a share of its drawn length.
    Pipe(PipeId, f64),
    /// Nothing.
    Sheet,
}

/// What lies at a place on the screen: ports before components before pipes; of several the nearest.
pub(in super::super) fn at(project: &Project, camera: &Camera, pos: Pos2) -> Hit {
    port(project, camera, pos)
        .map(Hit::Port)
        .or_else(|| component(project, camera, pos).map(Hit::Component))
        .or_else(|| pipe(project, camera, pos).map(|(id, share)| Hit::Pipe(id, share)))
        .unwrap_or(Hit::Sheet)
}

fn reach(camera: &Camera, points: f32) -> f32 {
    points.min(0.48 * camera.zoom.max(8.0))
}

/// The port at a place.
pub(in super::super) fn port(project: &Project, camera: &Camera, pos: Pos2) -> Option<PortRef> {
    let reach = reach(camera, PORT_REACH);
    let near = |center: [f64; 2]| camera.at(center).distance(pos) < reach + 4.0 * camera.zoom;
    let mut nearest: Option<(f32, PortRef)> = None;
    for (id, component) in project.components.iter().filter(|(_, c)| near(c.at)) {
        for port in component.ports() {
            let Some(place) = component.port_at(*port) else { continue };
            let distance = camera.at(place).distance(pos);
            let in_core = component.kind == ComponentKind::Junction && distance < reach.min(TEE_CORE);
            if distance < reach && !in_core && nearest.is_none_or(|(least, _)| distance < least) {
                nearest = Some((distance, PortRef { component: *id, port: *port }));
            }
        }
    }
    nearest.map(|(_, port)| port)
}

/// The component at a place.
pub(in super::super) fn component(project: &Project, camera: &Camera, pos: Pos2) -> Option<ComponentId> {
    let mut nearest: Option<(f32, ComponentId)> = None;
    for (id, component) in &project.components {
        let distance = camera.at(component.at).distance(pos);
        if distance > 4.0 * camera.zoom.max(4.0) {
            continue;
        }
        let rect = symbols::body(component, camera);
        if rect.contains(pos) && nearest.is_none_or(|(least, _)| distance < least) {
            nearest = Some((distance, *id));
        }
    }
    nearest.map(|(_, id)| id)
}

/// The pipe at a place, and at what share of its drawn length.
pub(in super::super) fn pipe(project: &Project, camera: &Camera, pos: Pos2) -> Option<(PipeId, f64)> {
    let reach = f64::from(PIPE_REACH / camera.zoom);
    let place = camera.place(pos);
    let mut nearest: Option<(f64, PipeId, f64)> = None;
    for (id, pipe) in project.pipes.iter().filter(|(_, pipe)| is_near(project, pipe, place, reach)) {
        if let Some((share, distance)) = nearest_share(&course(project, pipe), place)
            && distance <= reach
            && nearest.is_none_or(|(least, ..)| distance < least)
        {
            nearest = Some((distance, *id, share));
        }
    }
    nearest.map(|(_, id, share)| (id, share))
}

/// Whether a place lies within the box about a pipe; cheap, for most do not.
fn is_near(project: &Project, pipe: &PipeRun, [x, y]: [f64; 2], reach: f64) -> bool {
    let end = |end: PortRef| project.components.get(&end.component).and_then(|c| c.port_at(end.port));
    let (Some(from), Some(to)) = (end(pipe.from), end(pipe.to)) else { return false };
    let (mut low, mut high) = (from, from);
    for point in pipe.bends.iter().chain([&to]) {
        for axis in 0..2 {
            low[axis] = low[axis].min(point[axis]);
            high[axis] = high[axis].max(point[axis]);
        }
    }
    low[0] - reach <= x && x <= high[0] + reach && low[1] - reach <= y && y <= high[1] + reach
}

/// Everything whose middle lies within a frame on the screen.
pub(in super::super) fn framed(project: &Project, camera: &Camera, frame: Rect) -> (Vec<ComponentId>, Vec<PipeId>) {
    let inside = |place: [f64; 2]| frame.contains(camera.at(place));
    let components = project.components.iter().filter(|(_, c)| inside(c.at)).map(|(id, _)| *id).collect();
    let whole = |pipe: &PipeRun| {
        let line = course(project, pipe);
        !line.is_empty() && line.into_iter().all(inside)
    };
    let pipes = project.pipes.iter().filter(|(_, pipe)| whole(pipe)).map(|(id, _)| *id).collect();
    (components, pipes)
}

/// The first port of a component to which a new pipe would come: a free one of those named, or the first of them.
pub(in super::super) fn free_port(project: &Project, id: ComponentId, wanted: [Port; 2]) -> Option<PortRef> {
    let ports = project.components.get(&id)?.ports();
    let is_free = |port: &PortRef| !project.pipes.values().any(|pipe| pipe.from == *port || pipe.to == *port);
    let of = |port: Port| PortRef { component: id, port };
    let there: Vec<PortRef> = wanted.into_iter().filter(|port| ports.contains(port)).map(of).collect();
    let there = if there.is_empty() { ports.iter().map(|port| of(*port)).collect() } else { there };
    there.iter().copied().find(is_free).or(there.first().copied())
}

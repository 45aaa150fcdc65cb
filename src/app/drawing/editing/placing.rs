//! A component in the hand: it shows under the pointer where it would come to stand, and goes into a pipe if it is let go over
//! one.

use super::super::super::view::{Intent, View};
use super::super::camera::Camera;
use super::snap::Snap;
use super::{Editing, hit};
use crate::document::{Command, Component, ComponentChoice, ComponentKind, PipeId, Turn, course, spot};
use egui::{Key, PointerButton, Pos2, Response, Ui};

/// A component that is being placed.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Placing {
    /// What it will be.
    pub(super) choice: ComponentChoice,
    /// It hangs on a drag from the shelf, not on a click.
    pub(super) by_drag: bool,
}

/// Where a component would come to stand.
pub(super) struct Landing {
    /// The component there.
    pub(super) component: Component,
    /// The pipe that it would part, and where.
    pub(super) into: Option<(PipeId, f64)>,
}

/// Where a choice would come to stand if it were let go at a place on the screen.
pub(super) fn landing(view: &View<'_>, camera: &Camera, choice: ComponentChoice, snap: Snap, pos: Pos2) -> Landing {
    let kind = choice.with_usual_figures(view.project);
    let name = view.project.new_component_name(&kind);
    let into = hit::pipe(view.project, camera, pos).filter(|_| parts_a_pipe(&kind));
    let (at, turn) = match into.and_then(|(id, share)| Some((view.project.pipes.get(&id)?, share))) {
        Some((pipe, share)) => {
            let course = course(view.project, pipe);
            (snap.place(spot(&course, share)), turn_along(&course, share))
        }
        None => (snap.place(camera.place(pos)), usual_turn(&kind)),
    };
    Landing { component: Component::new(name, at, turn, kind), into }
}

/// A vessel hangs beside a pipe, a separator stands between two circuits; all else goes in.
fn parts_a_pipe(kind: &ComponentKind) -> bool {
    !matches!(kind, ComponentKind::Separator { .. })
}

/// Sources give upwards, emitters stand upright between the mains.
fn usual_turn(kind: &ComponentKind) -> Turn {
    match kind {
        ComponentKind::Source(_) => Turn::Up,
        ComponentKind::Emitter(_) => Turn::Down,
        _ => Turn::Right,
    }
}

/// The turn of a component in the direction of a course.
fn turn_along(course: &[[f64; 2]], share: f64) -> Turn {
    let ([x0, y0], [x1, y1]) = (spot(course, (share - 1e-3).max(0.0)), spot(course, (share + 1e-3).min(1.0)));
    match (x1 - x0, y1 - y0) {
        (dx, dy) if dx.abs() >= dy.abs() => {
            if dx >= 0.0 {
                Turn::Right
            } else {
                Turn::Left
            }
        }
        (_, dy) if dy >= 0.0 => Turn::Down,
        _ => Turn::Up,
    }
}

/// The command that puts it there.
fn command(landing: Landing) -> Command {
    match landing.into {
        Some((pipe, share)) => Command::InsertIntoPipe(pipe, share, Box::new(landing.component)),
        None => Command::AddComponent(Box::new(landing.component)),
    }
}

/// Follows a component in the hand; `true` while there is one.
pub(super) fn interact(
    ui: &Ui,
    response: &Response,
    view: &View<'_>,
    camera: &Camera,
    editing: &mut Editing,
    intents: &mut Vec<Intent>,
) -> bool {
    let Some(placing) = editing.placing.clone() else { return false };
    let (pos, released, down, escape, again) = ui.input(|i| {
        (
            i.pointer.latest_pos(),
            i.pointer.button_released(PointerButton::Primary),
            i.pointer.any_down(),
            i.key_pressed(Key::Escape) || i.pointer.button_pressed(PointerButton::Secondary),
            i.modifiers.shift,
        )
    });
    if escape {
        editing.placing = None;
        return true;
    }
    let over = pos.filter(|pos| response.rect.contains(*pos));
    let lands = if placing.by_drag { released } else { response.clicked_by(PointerButton::Primary) };
    if lands {
        if let Some(pos) = over {
            let landing = landing(view, camera, placing.choice, editing.snap, pos);
            intents.push(Intent::Change(command(landing)));
        }
        if placing.by_drag || !again {
            editing.placing = None;
        }
    } else if placing.by_drag && !down {
        // The drag ended elsewhere.
        editing.placing = None;
    }
    true
}

/// Puts a choice into the middle of what is shown, or into the pipe that is selected: the way without a pointer.
pub(in super::super) fn by_keyboard(
    view: &View<'_>,
    choice: ComponentChoice,
    middle: [f64; 2],
    editing: &Editing,
) -> Command {
    let snap = editing.snap;
    let kind = choice.with_usual_figures(view.project);
    let pipe = view.selection.pipes.first().filter(|_| view.selection.pipes.len() == 1 && parts_a_pipe(&kind));
    pipe.and_then(|id| into_pipe(view, *id, 0.5, choice, snap)).unwrap_or_else(|| {
        let name = view.project.new_component_name(&kind);
        let at = free_place(view, snap.place(middle));
        Command::AddComponent(Box::new(Component::new(name, at, usual_turn(&kind), kind)))
    })
}

/// Puts a choice into a pipe at a share of its length; `None` if the pipe is gone.
pub(super) fn into_pipe(
    view: &View<'_>,
    id: PipeId,
    share: f64,
    choice: ComponentChoice,
    snap: Snap,
) -> Option<Command> {
    let course = course(view.project, view.project.pipes.get(&id)?);
    let kind = choice.with_usual_figures(view.project);
    let name = view.project.new_component_name(&kind);
    let component = Component::new(name, snap.place(spot(&course, share)), turn_along(&course, share), kind);
    Some(Command::InsertIntoPipe(id, share, Box::new(component)))
}

/// The first place from a given one on, to the right, where nothing stands.
fn free_place(view: &View<'_>, [mut x, y]: [f64; 2]) -> [f64; 2] {
    /// How near two components may stand, and how far on the next place is tried: clear of a name or a zone's card, grid steps.
    const ROOM: f64 = 4.5;
    const NEXT: f64 = 9.0;
    // Each component can be in the way twice; so far out that a step is lost in rounding, all of them always are.
    for _ in 0..=2 * view.project.components.len() {
        if !view.project.components.values().any(|c| (c.at[0] - x).hypot(c.at[1] - y) < ROOM) {
            break;
        }
        x += NEXT;
    }
    [x, y]
}

//! Drawing with the hand: place, join, move, insert, frame, copy. A gesture pushes commands while it goes on; the window makes
//! one step of them when the hand lets go.

mod gesture;
mod hit;
mod keys;
mod menu;
mod overlay;
mod placing;
mod snap;

pub(super) use keys::walk;
pub(super) use overlay::{paint_over, paint_under};
pub(super) use placing::by_keyboard;
use snap::Snap;

use super::super::selection::Selection;
use super::super::view::{Intent, View};
use super::camera::Camera;
use crate::document::{Command, Fragment, PipeEnd};
use egui::{CursorIcon, Key, PointerButton, Pos2, Response, Ui};
use gesture::{Gesture, pipe_end};
use hit::Hit;
use placing::Placing;

/// What drawing remembers between passes.
#[derive(Debug, Default)]
pub(in super::super) struct Editing {
    gesture: Option<Gesture>,
    /// What the next click puts on the sheet.
    placing: Option<Placing>,
    clipboard: Fragment,
    snap: Snap,
    /// What the open menu is about, and where on the grid.
    menu: Option<(Hit, [f64; 2])>,
    /// Where the pointer was last over the sheet, grid steps.
    pointer: Option<[f64; 2]>,
}

impl Editing {
    /// Takes up a component from the shelf: the next click on the sheet puts it there, or the end of the drag.
    pub(in super::super) fn take_up(&mut self, choice: crate::document::ComponentChoice, by_drag: bool) {
        self.placing = Some(Placing { choice, by_drag });
    }

    /// The component in the hand.
    pub(in super::super) fn taken_up(&self) -> Option<crate::document::ComponentChoice> {
        self.placing.as_ref().map(|placing| placing.choice)
    }

    /// Lets go of everything: another document, or other work.
    pub(in super::super) fn let_go(&mut self) {
        self.gesture = None;
        self.placing = None;
        self.menu = None;
    }

    /// Whether things are brought onto the grid.
    pub(in super::super) fn snaps(&self) -> bool {
        self.snap.on
    }

    /// Switches the grid on or off.
    pub(in super::super) fn set_snap(&mut self, on: bool) {
        self.snap = Snap { on };
    }

    /// Whether something hangs on the hand.
    pub(super) fn is_busy(&self) -> bool {
        self.gesture.is_some() || self.placing.is_some()
    }

    /// Whether the sheet itself is being moved.
    pub(super) fn is_panning(&self) -> bool {
        self.gesture == Some(Gesture::Pan)
    }
}

/// The component at a place on the screen.
pub(super) fn component_at(view: &View<'_>, camera: &Camera, pos: Pos2) -> Option<crate::document::ComponentId> {
    hit::component(view.project, camera, pos)
}

/// Follows the hand for one pass.
pub(super) fn interact(
    ui: &Ui,
    response: &Response,
    view: &View<'_>,
    camera: &Camera,
    editing: &mut Editing,
    intents: &mut Vec<Intent>,
) {
    let pointer = ui.input(|i| i.pointer.latest_pos());
    if let Some(pos) = response.hover_pos() {
        editing.pointer = Some(camera.place(pos));
    }
    keys::read(ui, view, editing, camera.place(response.rect.center()), intents);
    if placing::interact(ui, response, view, camera, editing, intents) {
        return;
    }
    if ui.input(|i| i.key_pressed(Key::Escape)) {
        // What the hand has moved so far goes back to where it was.
        intents.extend(editing.gesture.take().and_then(|gesture| gesture.taken_back()).map(Intent::Change));
    }
    if response.drag_started() {
        let origin = ui.input(|i| i.pointer.press_origin()).or(pointer).filter(|pos| response.rect.contains(*pos));
        editing.gesture = origin.and_then(|origin| begin(ui, view, camera, origin, intents));
    }
    if let (Some(gesture), Some(pos)) = (&editing.gesture, pointer)
        && response.dragged()
    {
        intents.extend(gesture.command(camera.place(pos), editing.snap).map(Intent::Change));
    }
    if response.drag_stopped()
        && let (Some(gesture), Some(pos)) = (editing.gesture.take(), pointer)
    {
        end(ui, &gesture, view, camera, editing.snap, pos, intents);
    }
    if response.clicked_by(PointerButton::Primary)
        && let Some(pos) = response.interact_pointer_pos()
    {
        click(ui, view, camera, pos, intents);
    }
    menu::show(response, view, camera, editing, intents);
    if editing.gesture.is_none() {
        cursor(ui, response, view, camera);
    }
}

/// What a drag that begins at a place on the screen is.
fn begin(ui: &Ui, view: &View<'_>, camera: &Camera, origin: Pos2, intents: &mut Vec<Intent>) -> Option<Gesture> {
    let (primary, space, adds) =
        ui.input(|i| (i.pointer.button_down(PointerButton::Primary), i.key_down(Key::Space), i.modifiers.shift));
    if !primary || space {
        return Some(Gesture::Pan);
    }
    let project = view.project;
    match hit::at(project, camera, origin) {
        Hit::Port(port) => Some(Gesture::Pipe(port)),
        Hit::Component(id) => {
            let from = camera.place(origin);
            if view.selection.components.contains(&id) {
                return Some(Gesture::moving(project, view.selection.components.iter().copied(), from));
            }
            let mut selection = if adds { view.selection.clone() } else { Selection::default() };
            selection.components.insert(id);
            let gesture = Gesture::moving(project, selection.components.iter().copied(), from);
            intents.push(Intent::Select(selection));
            Some(gesture)
        }
        Hit::Pipe(id, _) => {
            intents.push(Intent::Select(Selection::pipe(id)));
            Gesture::shifting(project, id, camera.place(origin))
        }
        Hit::Sheet => Some(Gesture::Frame(origin)),
    }
}

/// What comes of a gesture when the hand lets go.
fn end(ui: &Ui, gesture: &Gesture, view: &View<'_>, camera: &Camera, snap: Snap, pos: Pos2, intents: &mut Vec<Intent>) {
    match gesture {
        Gesture::Pipe(from) => {
            if let Some(to) = pipe_end(view.project, camera, pos, snap, *from) {
                intents.push(Intent::Change(Command::Connect(PipeEnd::Port(*from), to, Vec::new())));
            }
        }
        Gesture::Frame(from) => {
            let (components, pipes) = hit::framed(view.project, camera, egui::Rect::from_two_pos(*from, pos));
            let mut selection =
                if ui.input(|i| i.modifiers.shift) { view.selection.clone() } else { Selection::default() };
            selection.components.extend(components);
            selection.pipes.extend(pipes);
            intents.push(Intent::Select(selection));
        }
        Gesture::Move { .. } | Gesture::Shift { .. } | Gesture::Pan => {}
    }
}

/// A click selects what lies under it; with shift it adds to the selection or takes out of it.
fn click(ui: &Ui, view: &View<'_>, camera: &Camera, pos: Pos2, intents: &mut Vec<Intent>) {
    let adds = ui.input(|i| i.modifiers.shift || i.modifiers.command);
    let mut selection = if adds { view.selection.clone() } else { Selection::default() };
    match hit::at(view.project, camera, pos) {
        Hit::Port(port) if adds => selection.toggle_component(port.component),
        Hit::Component(id) if adds => selection.toggle_component(id),
        Hit::Pipe(id, _) if adds => selection.toggle_pipe(id),
        Hit::Port(port) => selection = Selection::component(port.component),
        Hit::Component(id) => selection = Selection::component(id),
        Hit::Pipe(id, _) => selection = Selection::pipe(id),
        Hit::Sheet => {}
    }
    if selection != *view.selection {
        intents.push(Intent::Select(selection));
    }
}

/// The pointer tells what a press would do.
fn cursor(ui: &Ui, response: &Response, view: &View<'_>, camera: &Camera) {
    let Some(pos) = response.hover_pos() else { return };
    let icon = match hit::at(view.project, camera, pos) {
        Hit::Port(_) => CursorIcon::Crosshair,
        Hit::Component(_) => CursorIcon::Grab,
        Hit::Pipe(..) => CursorIcon::Move,
        Hit::Sheet => CursorIcon::Default,
    };
    ui.ctx().set_cursor_icon(icon);
}

//! Drawing by keyboard: tab walks through the components, arrows nudge what is selected, and every gesture has a key.

use super::super::super::selection::Selection;
use super::super::super::view::{Intent, View};
use super::super::camera::Camera;
use super::super::{id_of, symbols};
use super::{Editing, hit};
use crate::document::{Command, ComponentId, ComponentKind, Fragment, PipeEnd, Port, PortRef};
use egui::{Event, EventFilter, Key, Modifiers, Rect, Sense, Ui};
use std::collections::BTreeMap;

/// Below this size of a grid step components are too small to be walked through, points.
const WALKED: f32 = 4.0;

/// Lets the keyboard walk through the components in sight; what it stands on is selected.
pub(in super::super) fn walk(ui: &Ui, pane: Rect, view: &View<'_>, camera: &Camera, intents: &mut Vec<Intent>) {
    if camera.zoom < WALKED {
        return;
    }
    for (id, component) in &view.project.components {
        let rect = symbols::body(component, camera).intersect(pane);
        if !rect.is_positive() {
            continue;
        }
        let response = ui.interact(rect, id_of("component", id.0), Sense::focusable_noninteractive());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Image, true, &component.name));
        if response.has_focus() {
            let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
            if response.gained_focus() {
                intents.push(Intent::Select(Selection::component(*id)));
            }
        }
    }
}

/// Turns keys into what they do to the selection; not while something else has the keyboard, or is asked over the sheet.
pub(super) fn read(ui: &Ui, view: &View<'_>, editing: &mut Editing, middle: [f64; 2], intents: &mut Vec<Intent>) {
    let focused = ui.memory(egui::Memory::focused);
    let ours = |focus| view.project.components.keys().any(|id| id_of("component", id.0) == focus);
    let is_below = !ui.memory(|memory| memory.allows_interaction(ui.layer_id()));
    if is_below || ui.ctx().text_edit_focused() || focused.is_some_and(|focus| !ours(focus)) {
        return;
    }
    let selection = view.selection;
    let (copy, cut, paste) = ui.input(|i| {
        let has = |wanted: fn(&Event) -> bool| i.events.iter().any(wanted);
        (has(|e| matches!(e, Event::Copy)), has(|e| matches!(e, Event::Cut)), has(|e| matches!(e, Event::Paste(_))))
    });
    let pressed = |modifiers: Modifiers, key: Key| ui.input_mut(|i| i.consume_key(modifiers, key));
    if copy || cut {
        editing.copy(ui, view);
    }
    let whole = || Command::RemoveParts(selection.components.clone(), selection.pipes.clone());
    let delete = pressed(Modifiers::NONE, Key::Delete) || pressed(Modifiers::NONE, Key::Backspace);
    if (delete || cut) && !selection.is_empty() {
        intents.push(Intent::Change(whole()));
    }
    if paste {
        let at = editing.pointer.unwrap_or(middle);
        intents.extend(editing.paste(at));
    }
    if pressed(Modifiers::COMMAND, Key::D) {
        intents.extend(duplicate(view));
    }
    if pressed(Modifiers::COMMAND, Key::A) {
        intents.push(Intent::Select(Selection::all(view.project)));
    }
    if pressed(Modifiers::SHIFT, Key::R) {
        intents.extend(selection.only_component().map(|id| Intent::Change(Command::TurnRound(id))));
    }
    if pressed(Modifiers::NONE, Key::R) {
        intents.extend(turned(view));
    }
    if pressed(Modifiers::NONE, Key::J) {
        intents.extend(joined(view));
    }
    if pressed(Modifiers::NONE, Key::G) {
        let on = !editing.snap.on;
        editing.set_snap(on);
    }
    if !editing.is_busy() && !selection.is_empty() && pressed(Modifiers::NONE, Key::Escape) {
        intents.push(Intent::Select(Selection::default()));
    }
    nudge(ui, view, editing, intents);
}

/// Arrows move what is selected by a grid step, with shift by a fine one.
fn nudge(ui: &Ui, view: &View<'_>, editing: &Editing, intents: &mut Vec<Intent>) {
    if view.selection.components.is_empty() {
        return;
    }
    let mut by = [0.0, 0.0];
    for (key, [dx, dy]) in [
        (Key::ArrowLeft, [-1.0, 0.0]),
        (Key::ArrowRight, [1.0, 0.0]),
        (Key::ArrowUp, [0.0, -1.0]),
        (Key::ArrowDown, [0.0, 1.0]),
    ] {
        for (modifiers, step) in [(Modifiers::NONE, editing.snap.step()), (Modifiers::SHIFT, 0.25)] {
            if ui.input_mut(|i| i.consume_key(modifiers, key)) {
                by = [by[0] + step * dx, by[1] + step * dy];
            }
        }
    }
    if by != [0.0, 0.0] {
        let places: BTreeMap<ComponentId, [f64; 2]> = (view.selection.components.iter())
            .filter_map(|id| view.project.components.get(id).map(|c| (*id, [c.at[0] + by[0], c.at[1] + by[1]])))
            .collect();
        intents.push(Intent::Change(Command::MoveComponents(places)));
    }
}

/// A quarter turn of the one component selected.
pub(super) fn turned(view: &View<'_>) -> Option<Intent> {
    let id = view.selection.only_component()?;
    Some(Intent::Change(Command::SetTurn(id, view.project.components.get(&id)?.turn.next())))
}

/// A pipe from the one of two selected components to the other, by their free ports.
pub(super) fn joined(view: &View<'_>) -> Option<Intent> {
    let mut both = view.selection.components.iter();
    let (Some(from), Some(to), None) = (both.next(), both.next(), both.next()) else { return None };
    let from: PortRef = hit::free_port(view.project, *from, [Port::Outlet, Port::Inlet])?;
    let to = hit::free_port(view.project, *to, [Port::Inlet, Port::Outlet])?;
    Some(Intent::Change(Command::Connect(PipeEnd::Port(from), PipeEnd::Port(to), Vec::new())))
}

/// A copy of what is selected, beside it.
pub(super) fn duplicate(view: &View<'_>) -> Option<Intent> {
    /// How far beside, grid steps: a branch clear of the card beside its emitter, all else close by.
    const BRANCH: [f64; 2] = [9.0, 0.0];
    const CLOSE: [f64; 2] = [3.0, 3.0];
    let fragment = Fragment::of(view.project, &view.selection.components);
    let has_card = fragment.components().values().any(|c| matches!(c.kind, ComponentKind::Emitter(_)));
    let ([x, y], [dx, dy]) = (fragment.center(), if has_card { BRANCH } else { CLOSE });
    (!fragment.is_empty()).then(|| Intent::Change(Command::Paste(Box::new(fragment), [x + dx, y + dy])))
}

impl Editing {
    /// Copies what is selected; the desktop's clipboard gets its names.
    pub(super) fn copy(&mut self, ui: &Ui, view: &View<'_>) {
        let fragment = Fragment::of(view.project, &view.selection.components);
        if !fragment.is_empty() {
            let names: Vec<&str> = fragment.components().values().map(|c| c.name.as_str()).collect();
            ui.ctx().copy_text(names.join("\n"));
            self.clipboard = fragment;
        }
    }

    /// Puts down what was copied.
    pub(super) fn paste(&self, at: [f64; 2]) -> Option<Intent> {
        let there = !self.clipboard.is_empty();
        there.then(|| Intent::Change(Command::Paste(Box::new(self.clipboard.clone()), at)))
    }
}

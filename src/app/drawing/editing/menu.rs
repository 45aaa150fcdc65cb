//! The menu of what lies under the pointer.

use super::super::super::frame::menu_item as item;
use super::super::super::selection::Selection;
use super::super::super::view::{Intent, View};
use super::super::camera::Camera;
use super::hit::{self, Hit};
use super::{Editing, Snap, keys, placing};
use crate::document::{Command, Component, ComponentChoice, ComponentId, ComponentKind, PipeId};
use egui::{Response, Ui};
use std::collections::BTreeSet;

/// Shows the menu while it is open; a press of the other button opens it and selects what it is about.
pub(super) fn show(
    response: &Response,
    view: &View<'_>,
    camera: &Camera,
    editing: &mut Editing,
    intents: &mut Vec<Intent>,
) {
    if response.secondary_clicked()
        && let Some(pos) = response.interact_pointer_pos()
    {
        let found = hit::at(view.project, camera, pos);
        editing.menu = Some((found, camera.place(pos)));
        let selection = match found {
            Hit::Port(port) => Some(Selection::component(port.component)),
            Hit::Component(id) => Some(Selection::component(id)),
            Hit::Pipe(id, _) => Some(Selection::pipe(id)),
            Hit::Sheet => None,
        };
        let already = match found {
            Hit::Component(id) => view.selection.components.contains(&id),
            Hit::Pipe(id, _) => view.selection.pipes.contains(&id),
            _ => false,
        };
        if let Some(selection) = selection.filter(|_| !already) {
            intents.push(Intent::Select(selection));
        }
    }
    let Some((found, place)) = editing.menu else { return };
    response.context_menu(|ui| {
        ui.set_min_width(190.0);
        match found {
            Hit::Component(id) => of_component(ui, view, id, intents),
            Hit::Port(port) => of_component(ui, view, port.component, intents),
            Hit::Pipe(id, share) => of_pipe(ui, view, (id, share), editing.snap, intents),
            Hit::Sheet => {}
        }
        if found == Hit::Sheet {
            of_sheet(ui, view, editing, place, intents);
        } else {
            of_selection(ui, view, editing, intents);
        }
    });
}

fn of_component(ui: &mut Ui, view: &View<'_>, id: ComponentId, intents: &mut Vec<Intent>) {
    let Some(component) = view.project.components.get(&id) else { return };
    if let Some(open) = component.is_open()
        && item(ui, if open { "Shut" } else { "Open" }, "", true)
    {
        intents.push(Intent::Change(Command::SetOpen(id, !open)));
    }
    if let ComponentKind::Pump(unit) = &component.kind {
        if item(ui, if unit.running { "Stop" } else { "Start" }, "", true) {
            intents.push(Intent::Change(Command::SetRunning(id, !unit.running)));
        }
        if item(ui, "Take in hand", "", view.pump != Some(id)) {
            intents.push(Intent::TakeInHand(id));
        }
    }
    if item(ui, "Turn", "R", view.selection.only_component().is_some()) {
        intents.extend(keys::turned(view));
    }
    if item(ui, "Turn round in its run", "Shift+R", component.ports().len() == 2) {
        intents.push(Intent::Change(Command::TurnRound(id)));
    }
    if item(ui, "Join the two", "J", view.selection.components.len() == 2) {
        intents.extend(keys::joined(view));
    }
    if item(ui, &format!("Select every {}", component.kind_name()), "", true) {
        let same = |other: &Component| other.kind_name() == component.kind_name();
        let components = view.project.components.iter().filter(|(_, c)| same(c)).map(|(id, _)| *id).collect();
        intents.push(Intent::Select(Selection { components, pipes: BTreeSet::new() }));
    }
}

fn of_pipe(ui: &mut Ui, view: &View<'_>, (id, share): (PipeId, f64), snap: Snap, intents: &mut Vec<Intent>) {
    ui.menu_button("Put in here", |ui| {
        if item(ui, "Closely spaced tees", "", true) {
            intents.push(Intent::Change(Command::InsertCloseTees(id, share)));
        }
        for choice in ComponentChoice::ALL {
            if item(ui, choice.word(), "", true) {
                intents.extend(placing::into_pipe(view, id, share, choice, snap).map(Intent::Change));
            }
        }
    });
}

fn of_selection(ui: &mut Ui, view: &View<'_>, editing: &mut Editing, intents: &mut Vec<Intent>) {
    ui.separator();
    let any = !view.selection.components.is_empty();
    if item(ui, "Copy", "Ctrl+C", any) {
        editing.copy(ui, view);
    }
    if item(ui, "Duplicate", "Ctrl+D", any) {
        intents.extend(keys::duplicate(view));
    }
    if item(ui, "Delete", "Del", !view.selection.is_empty()) {
        let Selection { components, pipes } = view.selection.clone();
        intents.push(Intent::Change(Command::RemoveParts(components, pipes)));
    }
}

fn of_sheet(ui: &mut Ui, view: &View<'_>, editing: &mut Editing, place: [f64; 2], intents: &mut Vec<Intent>) {
    if item(ui, "Paste here", "Ctrl+V", !editing.clipboard.is_empty()) {
        intents.extend(editing.paste(place));
    }
    if item(ui, "Select all", "Ctrl+A", !view.project.components.is_empty()) {
        intents.push(Intent::Select(Selection::all(view.project)));
    }
    if item(ui, "Whole drawing", "Home", true) {
        intents.push(Intent::FitDrawing);
    }
    let snaps = editing.snaps();
    if item(ui, if snaps { "Off the grid" } else { "Onto the grid" }, "G", true) {
        editing.set_snap(!snaps);
    }
}

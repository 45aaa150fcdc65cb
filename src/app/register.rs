//! The register of circulators: all that is written down of each, typed in place. Two that cannot be told apart at the pump are
//! outlined, and a line says which.

use super::look::{STEP, size};
use super::view::{Intent, View};
use super::written::{Field, Written};
use crate::document::{Command, ComponentId, PumpRegister, PumpUnit, StandbyRole};
use crate::problems::Place;
use crate::problems::register::{Doubles, Mark};
use egui::{self, Button, ComboBox, Id, Label, RichText, ScrollArea, Stroke, StrokeKind, Ui, vec2};

/// What the pane remembers between passes.
#[derive(Debug, Default)]
pub(super) struct RegisterState {
    written: Written,
}

/// Height of a row.
const ROW: f32 = 28.0;
/// Width of the button that leads to a circulator, and of its standby role.
const SHOW: f32 = 28.0;
const ROLE: f32 = 88.0;

/// A column of texts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Name,
    Position,
    Address,
    Serial,
    Supply,
    Wiring,
}

impl Column {
    const ALL: [Self; 6] = [Self::Name, Self::Position, Self::Address, Self::Serial, Self::Supply, Self::Wiring];

    /// Its heading, its least width in points and its share of what is left over.
    fn heading(self) -> (&'static str, f32, f32) {
        match self {
            Self::Name => ("Name", 112.0, 0.2),
            Self::Position => ("Position", 106.0, 0.3),
            Self::Address => ("Address", 50.0, 0.05),
            Self::Serial => ("Serial number", 86.0, 0.05),
            Self::Supply => ("Supply", 78.0, 0.1),
            Self::Wiring => ("Wiring", 96.0, 0.3),
        }
    }

    fn value(self, name: &str, unit: &PumpUnit) -> String {
        match self {
            Self::Name => name.to_owned(),
            Self::Position => unit.register.position.clone(),
            Self::Address => unit.address.clone(),
            Self::Serial => unit.register.serial.clone(),
            Self::Supply => unit.register.supply.clone(),
            Self::Wiring => unit.register.wiring.clone(),
        }
    }

    fn mark(self) -> Option<Mark> {
        match self {
            Self::Name => Some(Mark::Name),
            Self::Address => Some(Mark::Address),
            Self::Serial => Some(Mark::Serial),
            Self::Position | Self::Supply | Self::Wiring => None,
        }
    }

    /// The command that a typed text makes.
    fn set(self, id: ComponentId, unit: &PumpUnit, text: String) -> Command {
        let register = unit.register.clone();
        let register = match self {
            Self::Name => return Command::Rename(id, text),
            Self::Address => return Command::SetAddress(id, text),
            Self::Position => PumpRegister { position: text, ..register },
            Self::Serial => PumpRegister { serial: text, ..register },
            Self::Supply => PumpRegister { supply: text, ..register },
            Self::Wiring => PumpRegister { wiring: text, ..register },
        };
        Command::SetRegister(id, register)
    }
}

/// Shows the pane.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, state: &mut RegisterState, intents: &mut Vec<Intent>) {
    let quiet = |words: &str| RichText::new(words).size(size::SMALL).color(view.palette.quiet);
    if view.project.pumps().next().is_none() {
        ui.label(quiet("No circulator yet: put one on the sheet, and what is written down of it stands here."));
        return;
    }
    let doubles = Doubles::of(view.project);
    match alike(view, &doubles) {
        Some(words) => {
            let words = RichText::new(words).size(size::SMALL).color(view.palette.starved);
            ui.add(Label::new(words).truncate());
        }
        None => {
            _ = ui.label(quiet("Write name and address down at each pump too: whoever stands there has no screen."))
        }
    }
    let widths = widths(ui.available_width());
    ScrollArea::horizontal().id_salt("register").auto_shrink(false).show(ui, |ui| {
        ui.spacing_mut().item_spacing = vec2(STEP, 0.0);
        ui.spacing_mut().interact_size.y = ROW - 4.0;
        ui.visuals_mut().text_edit_bg_color = Some(view.palette.raised);
        ui.horizontal(|ui| {
            for (column, width) in Column::ALL.into_iter().zip(widths) {
                cell(ui, width, |ui| _ = ui.label(quiet(column.heading().0)));
            }
            cell(ui, ROLE, |ui| _ = ui.label(quiet("Standby role")));
        });
        let count = view.project.pumps().count();
        let area = ScrollArea::vertical().id_salt("circulators").auto_shrink(false);
        area.show_rows(ui, ROW, count, |ui, shown| {
            for (id, unit) in view.project.pumps().skip(shown.start).take(shown.len()) {
                ui.horizontal(|ui| {
                    ui.set_min_height(ROW);
                    row(ui, view, (id, unit), (&widths, &doubles), &mut state.written, intents);
                });
            }
        });
    });
}

/// Widths of the columns of texts.
fn widths(room: f32) -> [f32; 6] {
    let least: f32 = Column::ALL.into_iter().map(|column| column.heading().1).sum();
    let left_over = (room - least - ROLE - SHOW - 8.0 * STEP).max(0.0);
    Column::ALL.map(|column| {
        let (_, least, share) = column.heading();
        (least + share * left_over).floor()
    })
}

fn cell(ui: &mut Ui, width: f32, content: impl FnOnce(&mut Ui)) {
    let layout = egui::Layout::left_to_right(egui::Align::Center);
    ui.allocate_ui_with_layout(vec2(width, 18.0), layout, |ui| {
        ui.set_min_width(width);
        content(ui);
    });
}

/// Which circulators cannot be told apart, the first such pair.
fn alike(view: &View<'_>, doubles: &Doubles) -> Option<String> {
    let name = |id: ComponentId| view.project.components.get(&id).map_or("", |component| component.name.as_str());
    let told = [
        (Mark::Name, "have names that read alike at the pump"),
        (Mark::Address, "have the same address"),
        (Mark::Serial, "have the same serial number"),
    ];
    told.into_iter().find_map(|(mark, what)| {
        let mut pairs = view.project.pumps().filter_map(|(id, _)| Some((id, doubles.of_circulator(id, mark)?)));
        let (one, other) = pairs.next()?;
        Some(format!("{} and {} {what}: give each its own, and write it down at the pump.", name(one), name(other)))
    })
}

fn row(
    ui: &mut Ui,
    view: &View<'_>,
    (id, unit): (ComponentId, &PumpUnit),
    (widths, doubles): (&[f32; 6], &Doubles),
    written: &mut Written,
    intents: &mut Vec<Intent>,
) {
    let name = view.project.components.get(&id).map_or("", |component| component.name.as_str());
    for (column, width) in Column::ALL.into_iter().zip(widths) {
        let (heading, value) = (column.heading().0, column.value(name, unit));
        let field = Id::unique(("register", id.0, heading));
        let shown = Field { id: field, value: &value, lines: 1, without: "", width: *width, is_cell: true };
        let (response, typed) = written.show(ui, &shown);
        ui.ctx().accesskit_node_builder(field, |node| node.set_label(format!("{heading} of {name}")));
        let other = column.mark().and_then(|mark| doubles.of_circulator(id, mark));
        if let Some(other) = other {
            let stroke = Stroke::new(1.5, view.palette.starved);
            ui.painter().rect_stroke(response.rect, 4, stroke, StrokeKind::Outside);
            let other = view.project.components.get(&other).map_or("", |component| component.name.as_str());
            response.on_hover_text(format!("{value}: like that of {other}"));
        } else if !value.is_empty() {
            response.on_hover_text(&value);
        }
        intents.extend(typed.map(|text| Intent::Change(column.set(id, unit, text))));
    }
    ui.spacing_mut().button_padding.x = 6.0;
    ui.spacing_mut().icon_width = 10.0;
    let role = ComboBox::from_id_salt(("role", id.0)).selected_text(unit.register.standby.word()).width(ROLE);
    let response = role.show_ui(ui, |ui| {
        for standby in StandbyRole::ALL {
            if ui.selectable_label(unit.register.standby == standby, standby.word()).clicked() {
                let register = PumpRegister { standby, ..unit.register.clone() };
                intents.push(Intent::Change(Command::SetRegister(id, register)));
            }
        }
    });
    ui.ctx().accesskit_node_builder(response.response.id, |node| node.set_label(format!("Standby role of {name}")));
    let show =
        ui.add(Button::new("→").min_size(vec2(SHOW, 0.0))).on_hover_text(format!("Selects {name} on the drawing"));
    ui.ctx().accesskit_node_builder(show.id, |node| node.set_label(format!("Show {name}")));
    if show.clicked() {
        intents.push(Intent::GoTo(Place::Component(id)));
    }
}

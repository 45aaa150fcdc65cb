//! The steps of the checklist: a tick for each, when and by whom it was done, and what it waits for.

use super::super::look::{STEP, size};
use super::super::reach::in_sight;
use super::super::typed::Typed;
use super::super::view::{Intent, View};
use super::super::written::{Field, Written};
use crate::document::{Command, Starting, StartingStep, Tick, steps_in_words};
use crate::engine::units::Quantity;
use crate::report::today;
use egui::{self, Align, Checkbox, Id, Layout, RichText, Ui, vec2};

/// Height of a step, and widths of its columns: name, date, who, fill pressure.
const ROW: f32 = 28.0;
const NAME: f32 = 192.0;
const DATE: f32 = 82.0;
const WHO: f32 = 94.0;
const PRESSURE: f32 = 84.0;
/// Width of them all.
pub(super) const WIDTH: f32 = NAME + DATE + WHO + PRESSURE + 6.0 * STEP;
/// Fill pressures that can be typed, Pa above the air's, and the one that a field without a pressure begins with.
const FILL: (f64, f64) = (0.0, 2.5e6);
const USUAL_FILL: f64 = 1.5e5;

/// Shows them.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, written: &mut Written, intents: &mut Vec<Intent>) {
    ui.spacing_mut().item_spacing = vec2(2.0 * STEP, 0.0);
    ui.spacing_mut().interact_size.y = ROW - 4.0;
    // Texts and numbers lie on one ground.
    ui.visuals_mut().text_edit_bg_color = Some(view.palette.raised);
    let starting = &view.project.starting;
    for step in StartingStep::ALL {
        ui.horizontal(|ui| {
            ui.set_min_height(ROW);
            tick(ui, starting, step, intents);
            match starting.ticks.get(&step) {
                Some(tick) => done(ui, view, (step, tick), written, intents),
                None => waits(ui, view, step),
            }
        });
    }
    let left_out = starting.left_out();
    if !left_out.is_empty() && starting.waits_for(StartingStep::Released).is_empty() {
        let words = format!(
            "Not ticked: {}. A new system needs both before it runs; one that was opened for repair may not.",
            steps_in_words(&left_out)
        );
        let words = RichText::new(words).size(size::SMALL).color(view.palette.starved);
        ui.add(egui::Label::new(words).wrap());
    }
}

fn tick(ui: &mut Ui, starting: &Starting, step: StartingStep, intents: &mut Vec<Intent>) {
    let mut is_done = starting.is_done(step);
    let waits = starting.waits_for(step);
    let falls = starting.falls_with(step);
    ui.allocate_ui_with_layout(vec2(NAME, ROW), Layout::left_to_right(Align::Center), |ui| {
        ui.set_min_width(NAME);
        let is_free = is_done || waits.is_empty();
        let response = in_sight(ui.add_enabled(is_free, Checkbox::new(&mut is_done, step.name())));
        let hint = match falls.as_slice() {
            [] => about(step).to_owned(),
            falls => format!("{} Taking it back takes back {} as well.", about(step), steps_in_words(falls)),
        };
        let disabled = format!("It waits for {}.", steps_in_words(&waits));
        let response = response.on_hover_text(hint).on_disabled_hover_text(disabled);
        if response.changed() {
            let tick = is_done.then(|| Tick { date: today(), by: last_hand(starting) });
            intents.push(Intent::Change(Command::SetTick(step, tick)));
        }
    });
}

/// Who did the last step that somebody put a name to.
fn last_hand(starting: &Starting) -> String {
    let mut hands = starting.ticks.values().rev().map(|tick| &tick.by).filter(|by| !by.is_empty());
    hands.next().cloned().unwrap_or_default()
}

/// What a step is.
fn about(step: StartingStep) -> &'static str {
    match step {
        StartingStep::HeldOff => "No circulator can start: the supply is off and locked, or the device stands by.",
        StartingStep::PressureTested => "The pipes have held their test pressure, by the local code.",
        StartingStep::Flushed => "Swarf and flux are washed out, and the strainers cleaned.",
        StartingStep::Filled => "The system is filled; the pressure that was read can stand beside it.",
        StartingStep::Vented => "The air is out, at the high points and at the circulators.",
        StartingStep::Released => "The circulators may run.",
    }
}

/// When and by whom, and the pressure that was read.
fn done(
    ui: &mut Ui,
    view: &View<'_>,
    (step, tick): (StartingStep, &Tick),
    written: &mut Written,
    intents: &mut Vec<Intent>,
) {
    let mut field = |ui: &mut Ui, what: &str, value: &str, without: &str, width: f32| {
        let id = Id::unique(("start-up", what, step));
        let (response, typed) = written.show(ui, &Field { id, value, lines: 1, without, width, is_cell: true });
        name(ui, id, format!("{what}, {}", step.name()));
        response.on_hover_text(what.to_owned());
        typed
    };
    let mut wanted = None;
    if let Some(date) = field(ui, "Done on", &tick.date, "date", DATE) {
        wanted = Some(Tick { date, ..tick.clone() });
    }
    if let Some(by) = field(ui, "Done by", &tick.by, "who", WHO) {
        wanted = Some(Tick { by, ..tick.clone() });
    }
    intents.extend(wanted.map(|tick| Intent::Change(Command::SetTick(step, Some(tick)))));
    if step == StartingStep::Filled {
        pressure(ui, view, intents);
    }
}

/// The pressure read when the system was filled; a field that takes none is a button to give one.
fn pressure(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let set = |pressure| Intent::Change(Command::SetFillPressure(pressure));
    let Some(kept) = view.project.starting.fill_pressure else {
        let hint = "The pressure that was read when it was filled";
        if ui.small_button("Pressure").on_hover_text(hint).clicked() {
            intents.push(set(Some(USUAL_FILL)));
        }
        return;
    };
    let mut value = kept;
    let shown = view.units.format(Quantity::Pressure, kept);
    let typed = Typed::new(view.units, Quantity::Pressure, kept, shown, FILL);
    let speed = (0.004 * kept.abs()).max(250.0);
    ui.spacing_mut().button_padding.x = 6.0;
    let response = ui.add_sized(vec2(PRESSURE, ROW - 4.0), typed.field(&mut value).speed(speed));
    name(ui, response.id, "Fill pressure".to_owned());
    intents.extend(typed.complaint("Fill pressure").map(Intent::Reject));
    let is_changed = response.changed() && value != kept;
    let response = response.on_hover_text("Pressure above the air's that was read when it was filled");
    response.context_menu(|ui| {
        if ui.button("No pressure").clicked() {
            intents.push(set(None));
            ui.close();
        }
    });
    if is_changed {
        intents.push(set(Some(value)));
    }
}

fn waits(ui: &mut Ui, view: &View<'_>, step: StartingStep) {
    let waits = view.project.starting.waits_for(step);
    if !waits.is_empty() {
        let words = format!("waits for {}", steps_in_words(&waits));
        ui.label(RichText::new(words).size(size::SMALL).color(view.palette.quiet));
    }
}

/// Names a field for a screen reader.
fn name(ui: &Ui, id: Id, words: String) {
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(words));
}

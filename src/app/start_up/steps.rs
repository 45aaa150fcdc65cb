//! The steps of the checklist: a tick for each, when and by whom it was done, and what it waits for.

use super::super::look::{STEP, size};
use super::super::reach::in_sight;
use super::super::view::{Intent, View};
use super::super::written::{Field, Written};
use crate::document::{Command, Starting, StartingStep, Tick, steps_in_words};
use crate::engine::units::{Quantity, Units};
use crate::report::today;
use egui::{self, Align, Button, Checkbox, Id, Layout, RichText, Ui, vec2};

/// Height of a step, and widths of its columns: name, date, who, fill pressure.
const ROW: f32 = 28.0;
const NAME: f32 = 192.0;
const DATE: f32 = 82.0;
const WHO: f32 = 94.0;
const PRESSURE: f32 = 84.0;
/// Width of them all.
pub(super) const WIDTH: f32 = NAME + DATE + WHO + PRESSURE + 6.0 * STEP;
/// Width of the button that takes a name once more; the field beside it is as much narrower.
const SAME: f32 = 36.0;
/// Fill pressures that can be typed, Pa above the air's.
const FILL: [f64; 2] = [0.0, 2.5e6];

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
            // Who did it is for somebody to say: a record names nobody of its own accord.
            let tick = is_done.then(|| Tick { date: today(), by: String::new() });
            intents.push(Intent::Change(Command::SetTick(step, tick)));
        }
    });
}

/// Who did the nearest step before this one that somebody put a name to, or else one after it.
fn other_hand(starting: &Starting, step: StartingStep) -> Option<&str> {
    let (before, after) = (starting.ticks.range(..step).rev(), starting.ticks.range(step..));
    before.chain(after).map(|(_, tick)| tick.by.as_str()).find(|by| !by.is_empty())
}

/// Offers a name that was given to another step; whether it is taken.
fn same(ui: &mut Ui, step: StartingStep, hand: &str) -> bool {
    ui.scope(|ui| {
        ui.spacing_mut().button_padding.x = 2.0;
        let button = Button::new(RichText::new("same").size(size::SMALL));
        let response = in_sight(ui.add_sized(vec2(SAME, ROW - 6.0), button));
        name(ui, response.id, format!("Done by {hand}, {}", step.name()));
        response.on_hover_text(format!("Done by {hand}, as another step was")).clicked()
    })
    .inner
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
    let offered = other_hand(&view.project.starting, step).filter(|_| tick.by.is_empty());
    let width = if offered.is_some() { WHO - SAME - 2.0 * STEP } else { WHO };
    if let Some(by) = field(ui, "Done by", &tick.by, "who", width) {
        wanted = Some(Tick { by, ..tick.clone() });
    }
    if let Some(hand) = offered.filter(|hand| same(ui, step, hand)) {
        wanted = Some(Tick { by: hand.to_owned(), ..tick.clone() });
    }
    intents.extend(wanted.map(|tick| Intent::Change(Command::SetTick(step, Some(tick)))));
    if step == StartingStep::Filled {
        pressure(ui, view, written, intents);
    }
}

/// The pressure read when the system was filled. The field is empty until somebody types what was read: a record must hold no reading
/// that nobody took.
fn pressure(ui: &mut Ui, view: &View<'_>, written: &mut Written, intents: &mut Vec<Intent>) {
    let kept = view.project.starting.fill_pressure;
    let value = kept.map_or_else(String::new, |pressure| view.units.format(Quantity::Pressure, pressure));
    let id = Id::unique(("start-up", "fill pressure"));
    let field = Field { id, value: &value, lines: 1, without: "pressure", width: PRESSURE, is_cell: true };
    let (response, typed) = written.show(ui, &field);
    name(ui, id, "Fill pressure".to_owned());
    response.on_hover_text("Pressure above the air's that was read when it was filled; an empty field takes it away");
    intents.extend(typed.map(|text| match read_pressure(view.units, &text) {
        Ok(pressure) => Intent::Change(Command::SetFillPressure(pressure)),
        Err(sentence) => Intent::Reject(sentence),
    }));
}

/// The pressure that a text says, Pa; none where there is no text.
fn read_pressure(units: &Units, text: &str) -> Result<Option<f64>, String> {
    if text.is_empty() {
        return Ok(None);
    }
    let pressure = units.parse(Quantity::Pressure, text).map_err(|flaw| format!("Fill pressure: {flaw}"))?;
    if (FILL[0]..=FILL[1]).contains(&pressure) {
        return Ok(Some(pressure));
    }
    let [low, high] = FILL.map(|pressure| units.format(Quantity::Pressure, pressure));
    Err(format!("Fill pressure: {text} cannot be set: give {low} to {high}"))
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

//! Valves that a controller moves: how Kv follows the position, and what a three-way valve does with its streams.

use super::form::Form;
use super::number::Measure;
use crate::document::{Command, ComponentId, ComponentKind, ThreeWayAction, ThreeWayValve};
use crate::engine::links::Characteristic;

/// What a valve of equal percentage begins with (common practice, no source).
const USUAL_RANGEABILITY: f64 = 50.0;

fn word(characteristic: Characteristic) -> &'static str {
    match characteristic {
        Characteristic::Linear => "linear",
        Characteristic::EqualPercentage { .. } => "equal percentage",
        Characteristic::QuickOpening => "quick opening",
    }
}

/// Shows that of a valve with one way.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, kind: &ComponentKind, present: Characteristic) {
    let Some(wanted) = characteristic(form, "Characteristic", present) else { return };
    let mut kind = kind.clone();
    if let ComponentKind::ControlValve { characteristic, .. } = &mut kind {
        *characteristic = wanted;
        form.change(Command::SetKind(id, Box::new(kind)));
    }
}

/// How the Kv of one way follows its position; another, if it was chosen.
fn characteristic(form: &mut Form<'_, '_>, label: &str, present: Characteristic) -> Option<Characteristic> {
    let rangeability = match present {
        Characteristic::EqualPercentage { rangeability } => rangeability,
        Characteristic::Linear | Characteristic::QuickOpening => USUAL_RANGEABILITY,
    };
    let choices =
        [Characteristic::Linear, Characteristic::EqualPercentage { rangeability }, Characteristic::QuickOpening];
    let options = choices.map(|choice| (choice, word(choice).to_owned()));
    let hint = "How Kv follows the position (IEC 60534-2-4 has linear and equal percentage).";
    let chosen = form.choice(label, hint, word(present), &options);
    let Characteristic::EqualPercentage { rangeability } = present else { return chosen };
    let hint = "Greatest over least Kv that the valve can control.";
    let typed = form.group(label, |form| {
        let typed = form.number("Rangeability", hint, Measure::Pure(1), rangeability, (1.01, 1000.0));
        form.note("30 to 50 is common practice, no source.");
        typed
    });
    chosen.or(typed.map(|rangeability| Characteristic::EqualPercentage { rangeability }))
}

fn action_word(action: ThreeWayAction) -> &'static str {
    match action {
        ThreeWayAction::Mixing => "mixing",
        ThreeWayAction::Diverting => "diverting",
    }
}

/// Shows what a three-way valve does with its streams, and how its two ways open.
pub(super) fn three_way(form: &mut Form<'_, '_>, id: ComponentId, valve: &ThreeWayValve) {
    let mut wanted = None;
    let options = [ThreeWayAction::Mixing, ThreeWayAction::Diverting].map(|of| (of, action_word(of).to_owned()));
    let hint = "Mixing: inlet and branch meet at the outlet. Diverting: the inlet parts to outlet and branch.";
    if let Some(action) = form.choice("Action", hint, action_word(valve.action), &options) {
        wanted = Some(ThreeWayValve { action, ..*valve });
    }
    if let Some(characteristic) = characteristic(form, "Controlled way", valve.characteristic) {
        wanted = Some(ThreeWayValve { characteristic, ..*valve });
    }
    if let Some(bypass_characteristic) = characteristic(form, "Bypass", valve.bypass_characteristic) {
        wanted = Some(ThreeWayValve { bypass_characteristic, ..*valve });
    }
    form.note("Between inlet and outlet lies the controlled way; the bypass opens as it shuts.");
    if let Some(wanted) = wanted {
        form.change(Command::SetKind(id, Box::new(ComponentKind::ThreeWayValve(wanted))));
    }
}

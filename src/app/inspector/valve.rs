//! How a control valve's Kv follows its position.

use super::form::Form;
use super::number::Measure;
use crate::document::{Command, ComponentId, ComponentKind};
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

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, kind: &ComponentKind, present: Characteristic) {
    let rangeability = match present {
        Characteristic::EqualPercentage { rangeability } => rangeability,
        Characteristic::Linear | Characteristic::QuickOpening => USUAL_RANGEABILITY,
    };
    let choices =
        [Characteristic::Linear, Characteristic::EqualPercentage { rangeability }, Characteristic::QuickOpening];
    let options = choices.map(|choice| (choice, word(choice).to_owned()));
    let hint = "How Kv follows the position (IEC 60534-2-4 has linear and equal percentage).";
    let chosen = form.choice("Characteristic", hint, word(present), &options);
    let mut wanted = chosen;
    if let Characteristic::EqualPercentage { rangeability } = present {
        let hint = "Greatest over least Kv that the valve can control.";
        let typed = form.number("Rangeability", hint, Measure::Pure(1), rangeability, (1.01, 1000.0));
        wanted = wanted.or(typed.map(|rangeability| Characteristic::EqualPercentage { rangeability }));
        form.note("30 to 50 is common practice, no source.");
    }
    if let Some(wanted) = wanted {
        let mut kind = kind.clone();
        if let ComponentKind::ControlValve { characteristic, .. } = &mut kind {
            *characteristic = wanted;
            form.change(Command::SetKind(id, Box::new(kind)));
        }
    }
}

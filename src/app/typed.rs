//! A number that is typed with or without a unit. What was not changed is kept to the last digit, whatever was shown; what
//! cannot be understood, or lies outside what can be set, is said and not taken.

use crate::engine::units::{Quantity, Units};
use egui::DragValue;
use std::cell::RefCell;
use std::rc::Rc;

/// A typed number of one quantity.
pub(super) struct Typed {
    units: Units,
    quantity: Quantity,
    value: f64,
    shown: String,
    range: (f64, f64),
    error: Rc<RefCell<Option<String>>>,
}

impl Typed {
    /// For a present value (SI), the words it is shown in, and what can be set.
    pub(super) fn new(units: &Units, quantity: Quantity, value: f64, shown: String, range: (f64, f64)) -> Self {
        Self { units: *units, quantity, value, shown, range, error: Rc::default() }
    }

    /// The field.
    pub(super) fn field<'a>(&self, value: &'a mut f64) -> DragValue<'a> {
        let (units, quantity, kept, range) = (self.units, self.quantity, self.value, self.range);
        let (shown, error) = (self.shown.clone(), Rc::clone(&self.error));
        let written = self.shown.clone();
        DragValue::new(value)
            .range(range.0.min(kept)..=range.1.max(kept))
            .clamp_existing_to_range(false)
            .update_while_editing(false)
            .custom_formatter(
                move |value, _| if value == kept { written.clone() } else { units.format(quantity, value) },
            )
            .custom_parser(move |text| {
                if text.trim() == shown {
                    return Some(kept);
                }
                let outcome = units.parse(quantity, text).map_err(|flaw| flaw.to_string()).and_then(|value| {
                    let (low, high) = range;
                    if value >= low - 1e-12 && value <= high + 1e-12 {
                        return Ok(value);
                    }
                    let (low, high) = (units.format(quantity, low), units.format(quantity, high));
                    Err(format!("{text} cannot be set: give {low} to {high}"))
                });
                outcome.map_err(|sentence| *error.borrow_mut() = Some(sentence)).ok()
            })
    }

    /// What was wrong with what was typed.
    pub(super) fn complaint(&self, name: &str) -> Option<String> {
        self.error.borrow_mut().take().map(|sentence| format!("{name}: {sentence}"))
    }
}

//! The uncertainties: by how much figures of the drawing may be off what is built.

use super::form::Form;
use super::number::Measure;
use crate::document::{Command, Uncertainty};
use crate::engine::units::Quantity;

/// What can be typed.
const RANGE: (f64, f64) = (0.0, 0.99);

/// Shows them.
pub(super) fn show(form: &mut Form<'_, '_>) {
    form.section("How far figures may be off");
    form.group("uncertainty", figures);
}

fn figures(form: &mut Form<'_, '_>) {
    let off = form.view.project.uncertainty;
    let measure = Measure::Of(Quantity::Share);
    let mut wanted = None;
    let hint = "By what share each length of pipe may be off, more or less.";
    if let Some(length) = form.number("Lengths", hint, measure, off.length, RANGE) {
        wanted = Some(Uncertainty { length, ..off });
    }
    let hint = "By what share the roughness of pipes may be off, more or less.";
    if let Some(roughness) = form.number("Roughness", hint, measure, off.roughness, RANGE) {
        wanted = Some(Uncertainty { roughness, ..off });
    }
    let hint = "By how many points of its percentage by mass the glycol may be off, more or less.";
    if let Some(glycol) = form.number("Glycol, points", hint, measure, off.glycol, RANGE) {
        wanted = Some(Uncertainty { glycol, ..off });
    }
    let hint = "By what share the Kv of valves may be off, more or less.";
    if let Some(valve) = form.number("Kv of valves", hint, measure, off.valve, RANGE) {
        wanted = Some(Uncertainty { valve, ..off });
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetUncertainty(wanted));
    }
}

//! The energy basis: what a kilowatt-hour costs and emits, typed by the user with its source; nothing is built in.

use super::super::view::ProjectPart;
use super::form::{Form, in_sight};
use super::number::Measure;
use crate::document::{Command, EnergyBasis};

/// Decimals of a price and of a factor.
const DECIMALS: usize = 4;

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>) {
    form.section_of(ProjectPart::Energy, "Energy");
    form.group("energy", figures);
}

fn figures(form: &mut Form<'_, '_>) {
    let energy = &form.view.project.energy;
    let mut wanted = None;
    let hint = "Price of a kilowatt-hour of electricity, in the currency below.";
    let (measure, without) = (Measure::Pure(DECIMALS), (0.0, "not given"));
    if let Some(price) = form.optional(("Price of 1 kWh", hint), measure, energy.price_per_kwh, without, (0.0, 1e6)) {
        wanted = Some(EnergyBasis { price_per_kwh: price, ..energy.clone() });
    }
    if energy.price_per_kwh.is_some() {
        if let Some(currency) = form.text("Currency", "As it stands behind a sum.", &energy.currency, "such as EUR") {
            wanted = Some(EnergyBasis { currency, ..energy.clone() });
        }
        let hint = "Where the price comes from: who says so, and of which year.";
        if let Some(price_source) = form.lines("Source of the price, with its year", hint, &energy.price_source, 2) {
            wanted = Some(EnergyBasis { price_source, ..energy.clone() });
        }
    }
    let hint = "Carbon dioxide emitted for a kilowatt-hour of electricity, kg.";
    let factor = energy.co2_kg_per_kwh;
    if let Some(factor) = form.optional(("kg CO₂ of 1 kWh", hint), measure, factor, without, (0.0, 100.0)) {
        wanted = Some(EnergyBasis { co2_kg_per_kwh: factor, ..energy.clone() });
    }
    if energy.co2_kg_per_kwh.is_some() {
        let hint = "Where the factor comes from: its publisher, and of which year.";
        let label = "Source of the factor: publisher and year";
        if let Some(co2_source) = form.lines(label, hint, &energy.co2_source, 2) {
            wanted = Some(EnergyBasis { co2_source, ..energy.clone() });
        }
    }
    let mut counts_standby = energy.counts_standby;
    let tick = form.ui.checkbox(&mut counts_standby, "Standby power counts");
    if in_sight(tick).on_hover_text("Whether a circulator that does not run counts with its standby power.").changed() {
        wanted = Some(EnergyBasis { counts_standby, ..energy.clone() });
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetEnergyBasis(wanted));
    }
}

//! Several pipes: how many, how long together, and one length, size, roughness or loss for all.

use super::component::heading;
use super::figures::BORE;
use super::form::Form;
use super::number::Measure;
use super::pipe::{LENGTH, LOSSES, ROUGHNESS};
use super::several::common;
use super::sizes;
use crate::document::{Command, PipeFigures, PipeId, SizeOnSale};
use crate::engine::units::Quantity;
use std::collections::BTreeSet;

/// Shows them.
pub(super) fn show(form: &mut Form<'_, '_>, pipes: &BTreeSet<PipeId>) {
    heading(form, &format!("{} pipes", pipes.len()));
    figures(form, pipes);
}

/// Their common figures.
pub(super) fn figures(form: &mut Form<'_, '_>, pipes: &BTreeSet<PipeId>) {
    let (project, units) = (form.view.project, form.view.units);
    let all: Vec<(PipeId, PipeFigures)> =
        pipes.iter().filter_map(|id| Some((*id, PipeFigures::of(project.pipes.get(id)?)))).collect();
    let total: f64 = all.iter().map(|(_, figures)| figures.length).sum();
    form.fact("Length in all", "", &units.format(Quantity::Length, total));
    let mut wanted: Vec<(PipeId, PipeFigures)> = Vec::new();
    let lengths: Vec<f64> = all.iter().map(|(_, figures)| figures.length).collect();
    let hint = "One length for each of them; drawn length does not count.";
    if let Some(length) = common(form, ("Length each", hint), Measure::Of(Quantity::Length), &lengths, LENGTH) {
        wanted = all.iter().map(|(id, figures)| (*id, PipeFigures { length, ..figures.clone() })).collect();
    }
    let sizes: Vec<(Option<SizeOnSale>, f64)> =
        all.iter().map(|(_, figures)| (figures.size, figures.roughness)).collect();
    let bores: Vec<f64> = all.iter().map(|(_, figures)| figures.bore).collect();
    let spread = spread(form, Measure::Of(Quantity::Bore), &bores);
    // The flows differ: what each size would do is told for the greatest.
    let flow = |id: &PipeId| form.view.results.pipes.get(id).map_or(0.0, |pipe| pipe.flow.abs());
    let greatest = all.iter().map(|(id, _)| *id).max_by(|a, b| flow(a).total_cmp(&flow(b)));
    let load = greatest.and_then(|id| sizes::load(form, id));
    if let Some(chosen) = sizes::choice(form, &sizes, &spread, load) {
        wanted = all.iter().map(|(id, figures)| (*id, chosen.given(figures))).collect();
    }
    if let Some((flow, _)) = load {
        form.note(&format!(
            "Velocity and friction are told for the greatest flow, {}.",
            units.format(Quantity::Flow, flow)
        ));
    }
    let hint = "One bore for all of them.";
    if let Some(bore) = common(form, ("Bore", hint), Measure::Of(Quantity::Bore), &bores, BORE) {
        sizes::let_go(form);
        wanted = all.iter().map(|(id, figures)| (*id, PipeFigures { size: None, bore, ..figures.clone() })).collect();
    }
    let walls: Vec<f64> = all.iter().map(|(_, figures)| figures.roughness).collect();
    let hint = "One roughness for all of them.";
    if let Some(roughness) = common(form, ("Roughness", hint), Measure::Of(Quantity::Roughness), &walls, ROUGHNESS) {
        wanted = all.iter().map(|(id, figures)| (*id, PipeFigures { roughness, ..figures.clone() })).collect();
    }
    let losses: Vec<f64> = all.iter().map(|(_, figures)| figures.minor_k).collect();
    let hint = "For each of them, the loss coefficients K (zeta) of what is not among its fittings.";
    if let Some(minor_k) = common(form, ("Other K each", hint), Measure::Pure(2), &losses, LOSSES) {
        wanted = all.iter().map(|(id, figures)| (*id, PipeFigures { minor_k, ..figures.clone() })).collect();
    }
    form.change_all(wanted.into_iter().map(|(id, figures)| Command::SetPipe(id, figures)).collect());
}

/// One value or the least and the greatest, in words.
pub(super) fn spread(form: &Form<'_, '_>, measure: Measure, values: &[f64]) -> String {
    let units = form.view.units;
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let (from, to) = (measure.format(units, low), measure.format(units, high));
    match measure {
        _ if from == to => to,
        // Its unit stands in front.
        Measure::Of(Quantity::FlowCoefficient) => format!("{from} to {}", measure.number(units, high)),
        Measure::Of(_) | Measure::Pure(_) => format!("{} to {to}", measure.number(units, low)),
    }
}

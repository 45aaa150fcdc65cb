//! One pipe: length, bore by size or freely, roughness, fittings, and what it takes now.

use super::component::heading;
use super::figures::BORE;
use super::fittings;
use super::form::Form;
use super::now::told;
use super::number::Measure;
use super::sizes;
use crate::document::{Command, PipeFigures, PipeId, PipeRun};
use crate::engine::units::Quantity;
use std::collections::BTreeSet;

/// Lengths that can be typed, m.
pub(super) const LENGTH: (f64, f64) = (0.0, 100_000.0);
/// Roughnesses that can be typed, m.
pub(super) const ROUGHNESS: (f64, f64) = (0.0, 0.01);
/// Sums of loss coefficients that can be typed.
pub(super) const LOSSES: (f64, f64) = (0.0, 10_000.0);

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: PipeId) {
    let project = form.view.project;
    let Some(pipe) = project.pipes.get(&id) else { return };
    heading(form, "Pipe");
    let ends = project.pipe_label(&PipeRun { name: String::new(), ..pipe.clone() });
    if let Some(name) = form.name("Name", "A pipe needs none: it is then called by its ends.", &pipe.name, &ends) {
        form.change(Command::RenamePipe(id, name));
    }
    if !pipe.name.is_empty() {
        form.note(&ends);
    }
    if form.buttons("buttons", &[("Delete", "Takes the pipe away (Del)")]).is_some() {
        form.change(Command::RemoveParts(BTreeSet::new(), BTreeSet::from([id])));
    }
    form.ui.separator();
    let figures = PipeFigures::of(pipe);
    if let Some(wanted) = edited(form, id, &figures) {
        form.change(Command::SetPipe(id, wanted));
    }
    now(form, id);
}

fn edited(form: &mut Form<'_, '_>, id: PipeId, figures: &PipeFigures) -> Option<PipeFigures> {
    let mut wanted = None;
    let hint = "Drawn length does not count: this one does.";
    if let Some(length) = form.number("Length", hint, Measure::Of(Quantity::Length), figures.length, LENGTH) {
        wanted = Some(PipeFigures { length, ..figures.clone() });
    }
    let bore = form.view.units.format(Quantity::Bore, figures.bore);
    let load = sizes::load(form, id);
    if let Some(chosen) = sizes::choice(form, &[(figures.size, figures.roughness)], &bore, load) {
        wanted = Some(chosen.given(figures));
    }
    let hint = "Inside diameter: of the size chosen, or typed.";
    if let Some(bore) = form.number("Bore", hint, Measure::Of(Quantity::Bore), figures.bore, BORE) {
        sizes::let_go(form);
        wanted = Some(PipeFigures { size: None, bore, ..figures.clone() });
    }
    let hint = "Absolute roughness of the wall: of the series chosen, or typed.";
    let roughness = Measure::Of(Quantity::Roughness);
    if let Some(roughness) = form.number("Roughness", hint, roughness, figures.roughness, ROUGHNESS) {
        wanted = Some(PipeFigures { roughness, ..figures.clone() });
    }
    form.note("Drawn copper 0.0015 mm, new steel 0.045 mm (Moody, 1944); plastics 0.007 mm (from memory).");
    form.section("Fittings");
    wanted = form.group("fittings", |form| fittings::show(form, figures)).or(wanted);
    let hint = "Sum of the loss coefficients K (zeta) of what is not among its fittings.";
    if let Some(minor_k) = form.number("Other K", hint, Measure::Pure(2), figures.minor_k, LOSSES) {
        wanted = Some(PipeFigures { minor_k, ..figures.clone() });
    }
    wanted
}

fn now(form: &mut Form<'_, '_>, id: PipeId) {
    form.now();
    let pipe = form.view.results.pipes.get(&id);
    told(form, "Flow", Quantity::Flow, pipe.map(|pipe| pipe.flow));
    told(form, "Velocity", Quantity::Velocity, pipe.map(|pipe| pipe.velocity));
    told(form, "Friction", Quantity::FrictionGradient, pipe.map(|pipe| pipe.friction_gradient));
    told(form, "Pressure drop", Quantity::Pressure, pipe.map(|pipe| pipe.drop));
}

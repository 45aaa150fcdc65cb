//! What is in the pipes: water, or water with glycol, and what that is like at the design's mean temperature.

use super::super::view::Intent;
use super::form::Form;
use super::number::Measure;
use crate::document::Command;
use crate::engine::fluid::{Fluid, FluidError, FluidKind, GLYCOL_MAX_MASS_FRACTION, mass_to_volume_fraction};
use crate::engine::units::Quantity;

/// Share of glycol by mass that a choice of glycol begins with (common practice, no source).
const USUAL_SHARE: f64 = 0.3;

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>) {
    let fluid = form.view.project.fluid;
    form.section("Fluid");
    let kinds = [FluidKind::Water, FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol];
    let options = kinds.map(|kind| (kind, kind.to_string()));
    let shown = fluid.kind().to_string();
    if let Some(kind) = form.choice("Fluid", "What the pipes are filled with.", &shown, &options) {
        let share = match kind {
            FluidKind::Water => 0.0,
            FluidKind::PropyleneGlycol | FluidKind::EthyleneGlycol if fluid.is_water() => USUAL_SHARE,
            FluidKind::PropyleneGlycol | FluidKind::EthyleneGlycol => fluid.glycol_mass_fraction(),
        };
        take(form, Fluid::new(kind, share));
    }
    if fluid.kind() != FluidKind::Water {
        let share = fluid.glycol_mass_fraction();
        let hint = "Mass of glycol per mass of the mixture.";
        let measure = Measure::Of(Quantity::Speed);
        if let Some(share) = form.number("Share by mass", hint, measure, share, (0.0, GLYCOL_MAX_MASS_FRACTION)) {
            take(form, Fluid::new(fluid.kind(), share));
        }
        let by_volume = mass_to_volume_fraction(fluid.kind(), share);
        if let Ok(by_volume) = by_volume {
            let words = form.view.units.format(Quantity::Speed, by_volume);
            form.fact("Share by volume", "As it is measured out when the system is filled.", &words);
        }
    }
    told(form, &fluid);
}

fn take(form: &mut Form<'_, '_>, wanted: Result<Fluid, FluidError>) {
    match wanted {
        Ok(fluid) => form.change(Command::SetFluid(fluid)),
        Err(why) => form.intents.push(Intent::Reject(why.to_string())),
    }
}

/// What it is like, and what it asks for.
fn told(form: &mut Form<'_, '_>, fluid: &Fluid) {
    let (units, design) = (form.view.units, &form.view.project.design);
    if let Ok(at) = design.properties(fluid) {
        form.note(&format!(
            "At {}: {}, {}, {}.",
            units.format(Quantity::Temperature, at.temperature_c),
            units.format(Quantity::Density, at.density_kg_per_m3),
            units.format(Quantity::Viscosity, at.dynamic_viscosity_pa_s),
            units.format(Quantity::SpecificHeat, at.heat_capacity_j_per_kg_k),
        ));
    }
    if fluid.is_water() {
        form.note("IAPWS-IF97 and R12-08.");
    } else {
        let freezes = units.format(Quantity::Temperature, fluid.freezing_point_c());
        form.note(&format!("First ice at {freezes}. Melinder (2010). Glycol must never reach potable water."));
    }
}

//! The menu of standard Kv: each with the pressure drop that it takes at the design flow of the zone and at the present flow.

use super::super::view::View;
use super::form::{Form, in_sight};
use super::picks::Picks;
use crate::document::ComponentId;
use crate::engine::links::{kv_pressure_drop_pa, standard_kv_at_least};
use crate::engine::units::{DASH, Quantity};
use crate::study::LinkOwner;

/// Least and greatest Kv offered, m³/h.
const OFFERED: (f64, f64) = (0.1, 400.0);

/// Width of the menu's button.
pub(super) const WIDTH: f32 = 62.0;

/// The standard series over the range that is offered.
pub(super) fn series() -> Vec<f64> {
    let next = |kv: &f64| Some(standard_kv_at_least(1.01 * kv));
    let start = standard_kv_at_least(OFFERED.0);
    std::iter::successors(Some(start), next).take_while(|kv| *kv <= 1.001 * OFFERED.1).collect()
}

/// Pressure drops between which a Kv is worth offering, Pa.
const WORTH: (f64, f64) = (50.0, 3e5);

/// Flows for which a component's drop is told, each with its word: the design flow of its zone and the present flow.
fn flows(view: &View<'_>, id: ComponentId) -> Vec<(&'static str, f64)> {
    let zone = view.project.branch_zone(id).and_then(|zone| view.results.zones.get(&zone));
    let design = zone.map(|zone| ("design", zone.design_flow));
    let present = view.results.components.get(&id).map(|result| ("now", result.flow.abs()));
    design.into_iter().chain(present).filter(|(_, flow)| *flow > 0.0).collect()
}

/// Density of the water in a component, kg/m³.
fn density(view: &View<'_>, id: ComponentId) -> f64 {
    let lowered = view.study.lowered();
    let link = lowered.owners.iter().position(|owner| *owner == LinkOwner::Component(id));
    link.map_or(&lowered.fluid, |link| lowered.fluid_of(link)).density_kg_per_m3
}

/// A button with the menu; the Kv that was chosen.
pub(super) fn menu(form: &mut Form<'_, '_>, id: ComponentId, present: f64) -> Option<f64> {
    let view = form.view;
    let mut chosen = None;
    let button = form.ui.menu_button("Series", |ui| {
        chosen = offered(ui, view, id, present);
        if chosen.is_some() {
            ui.close();
        }
    });
    in_sight(button.response)
        .on_hover_text("Choose a Kv of the usual series (preferred numbers R5 of ISO 3) by its pressure drop.");
    chosen
}

/// The list itself.
fn offered(ui: &mut egui::Ui, view: &View<'_>, id: ComponentId, present: f64) -> Option<f64> {
    let (units, flows, density) = (view.units, flows(view, id), density(view, id));
    let drop = |kv: f64, flow: f64| kv_pressure_drop_pa(kv, flow, density);
    let worth = |kv: &f64| {
        let drops = || flows.iter().map(|(_, flow)| drop(*kv, *flow));
        flows.is_empty() || drops().any(|drop| drop >= WORTH.0 && drop <= WORTH.1)
    };
    let offered: Vec<f64> = series().into_iter().filter(worth).collect();
    let headings: Vec<String> =
        flows.iter().map(|(word, flow)| format!("{word} {}", units.format(Quantity::Flow, *flow))).collect();
    let mut columns = vec![(units.symbol(Quantity::FlowCoefficient), 62.0)];
    columns.extend(headings.iter().map(|words| (words.as_str(), 124.0)));
    let rows: Vec<Vec<String>> = offered
        .iter()
        .map(|kv| {
            let drops = flows.iter().map(|(_, flow)| units.format(Quantity::Pressure, drop(*kv, *flow)));
            std::iter::once(units.number(Quantity::FlowCoefficient, *kv)).chain(drops).collect()
        })
        .collect();
    if flows.is_empty() {
        ui.label(format!("Nothing flows: pressure drops {DASH}"));
    }
    let now = offered.iter().position(|kv| (kv / present - 1.0).abs() < 1e-9);
    let picked = Picks { columns: &columns, rows: &rows, present: now }.show(ui, &view.palette);
    picked.and_then(|index| offered.get(index).copied())
}

//! The choice of a pipe's size: the published series, and in each the sizes with their bores and, where the flow is known, what
//! velocity and friction it would have in each.

use super::form::Form;
use super::picks::Picks;
use crate::document::{PipeFigures, PipeId, SizeOnSale};
use crate::engine::fluid::FluidProperties;
use crate::engine::links::Pipe;
use crate::engine::pipes::{CATALOGUE, COMMON, PipeSeries};
use crate::engine::units::{DASH, Quantity};
use crate::study::LinkOwner;
use egui::ComboBox;

/// The size that a pipe is of: the one it is said to be, or else the first that has its bore and, if one does, its roughness.
pub(super) fn size_of(figures: &PipeFigures) -> Option<SizeOnSale> {
    let all = || CATALOGUE.into_iter().flat_map(SizeOnSale::all_of).filter(|size| size.has_bore(figures.bore));
    let same_wall = |size: &SizeOnSale| (size.roughness() - figures.roughness).abs() < 1e-9;
    figures.size.or_else(|| all().find(same_wall)).or_else(|| all().next())
}

/// A pipe's figures in another size.
pub(super) fn sized(figures: &PipeFigures, size: SizeOnSale) -> PipeFigures {
    PipeFigures { size: Some(size), bore: size.bore(), roughness: size.roughness(), ..figures.clone() }
}

/// Velocity in m/s and friction in Pa/m of a flow (m³/s) in a bore.
pub(super) fn loaded(bore: f64, roughness: f64, flow: f64, fluid: &FluidProperties) -> (f64, f64) {
    let pipe = Pipe::new(1.0, bore, roughness, 0.0, fluid.density_kg_per_m3, fluid.dynamic_viscosity_pa_s);
    (pipe.velocity(flow), pipe.drop(flow, &mut 0.0).pressure_pa)
}

/// The flow through a pipe by size and the water in it; `None` where there is no flow.
pub(super) fn load<'a>(form: &Form<'_, 'a>, id: PipeId) -> Option<(f64, &'a FluidProperties)> {
    let lowered = form.view.study.lowered();
    let flow = form.view.results.pipes.get(&id).map(|pipe| pipe.flow.abs()).filter(|flow| *flow > 0.0)?;
    let link = lowered.owners.iter().position(|owner| *owner == LinkOwner::Pipe(id));
    Some((flow, link.map_or(&lowered.fluid, |link| lowered.fluid_of(link))))
}

/// The two rows of the choice; the size that was chosen. `present` is the size that holds now, `bore` the words of its bore.
pub(super) fn choice(
    form: &mut Form<'_, '_>,
    present: Option<SizeOnSale>,
    bore: &str,
    load: Option<(f64, &FluidProperties)>,
) -> Option<SizeOnSale> {
    // What was chosen for this pipe, what it is of, what was chosen last.
    let (last, here) = (form.state.series.map(|(_, series)| series), form.subject);
    let chosen = form.state.series.filter(|(subject, _)| *subject == here).map(|(_, series)| series);
    let series = chosen.or(present.map(|size| size.series())).or(last).unwrap_or(COMMON);
    let options: Vec<(&'static PipeSeries, String)> =
        CATALOGUE.into_iter().map(|series| (series, series.name.to_owned())).collect();
    let hint = "Whose sizes are offered; each gives a bore and a roughness.";
    if let Some(series) = form.wide_choice("Series", hint, series.name, &options) {
        form.state.series = Some((here, series));
    }
    let present = present.filter(|size| size.series() == series);
    let shown = present.map_or_else(|| format!("bore {bore}"), |size| size.nominal().to_owned());
    let sizes: Vec<SizeOnSale> = SizeOnSale::all_of(series).collect();
    let hint = "Sizes of the series with the velocity and the friction that the present flow would have in each.";
    let chosen = form.wide_row("Size", hint, |form, named| {
        let (width, view) = (form.ui.available_width(), form.view);
        let mut chosen = None;
        let combo = ComboBox::from_id_salt("size").selected_text(shown).width(width).height(500.0).truncate();
        let combo = combo.close_behavior(egui::PopupCloseBehavior::CloseOnClick);
        let response = combo.show_ui(form.ui, |ui| {
            let units = view.units;
            let headings = [Quantity::Bore, Quantity::Velocity, Quantity::FrictionGradient]
                .map(|quantity| format!("{}, {}", short(quantity), units.symbol(quantity)));
            let [bore, velocity, friction] = headings;
            let columns =
                [("Size", 74.0), (bore.as_str(), 66.0), (velocity.as_str(), 84.0), (friction.as_str(), 116.0)];
            let row = |size: &SizeOnSale| {
                let number = |quantity, value| units.number(quantity, value);
                let (velocity, friction) = load.map_or((DASH.to_owned(), DASH.to_owned()), |(flow, fluid)| {
                    let (velocity, friction) = loaded(size.bore(), size.roughness(), flow, fluid);
                    (number(Quantity::Velocity, velocity), number(Quantity::FrictionGradient, friction))
                });
                vec![size.nominal().to_owned(), number(Quantity::Bore, size.bore()), velocity, friction]
            };
            let rows: Vec<Vec<String>> = sizes.iter().map(row).collect();
            let now = sizes.iter().position(|size| Some(*size) == present);
            let picked = Picks { columns: &columns, rows: &rows, present: now }.show(ui, &view.palette);
            chosen = picked.and_then(|index| sizes.get(index).copied());
        });
        response.response.labelled_by(named);
        chosen
    });
    form.note(&format!("Dimensions: {}.", series.source));
    chosen
}

fn short(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Bore => "Bore",
        Quantity::Velocity => "Velocity",
        _ => "Friction",
    }
}

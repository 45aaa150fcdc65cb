//! The choice of a pipe's size: the published series, and in each the sizes with their bores and, where the flow is known, what
//! velocity and friction it would have in each.

use super::form::{Form, in_sight};
use super::picks::Picks;
use crate::document::{PipeFigures, PipeId, SizeOnSale};
use crate::engine::fluid::FluidProperties;
use crate::engine::links::Pipe;
use crate::engine::pipes::{CATALOGUE, COMMON, PipeSeries};
use crate::engine::units::{DASH, Quantity};
use crate::study::LinkOwner;
use egui::{ComboBox, Id};

/// What was chosen for a pipe, or for several.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Chosen {
    Series(&'static PipeSeries),
    Size(SizeOnSale),
}

impl Chosen {
    /// A pipe's figures with it. A series gives its roughness and leaves the bore as it is, of a size if it has one of that bore.
    pub(super) fn given(self, figures: &PipeFigures) -> PipeFigures {
        let (size, roughness) = match self {
            Self::Series(series) => {
                (SizeOnSale::all_of(series).find(|size| size.has_bore(figures.bore)), series.roughness_m)
            }
            Self::Size(size) => (Some(size), size.roughness()),
        };
        let bore = size.map_or(figures.bore, |size| size.bore());
        PipeFigures { size, bore, roughness, ..figures.clone() }
    }
}

/// A bore was typed: it is nobody's, whatever series was chosen before.
pub(super) fn let_go(form: &mut Form<'_, '_>) {
    if let Some((of, _)) = &mut form.state.series {
        *of = Id::NULL;
    }
}

/// What the two boxes show of some pipes.
struct Shown {
    /// The series of all of them, or the one that was chosen for them.
    series: Option<&'static PipeSeries>,
    /// The size of all of them.
    size: Option<SizeOnSale>,
    /// In words.
    series_words: &'static str,
    size_words: String,
}

impl Shown {
    /// Of pipes' sizes and roughnesses (m); `chosen` is the series that was chosen for them last, `bore` the words of their bores.
    fn new(all: &[(Option<SizeOnSale>, f64)], chosen: Option<&'static PipeSeries>, bore: &str) -> Self {
        let every = |holds: &dyn Fn(SizeOnSale) -> bool| all.iter().all(|(size, _)| size.is_some_and(holds));
        let first = all.first().and_then(|(size, _)| *size);
        let size = first.filter(|first| every(&|size| size == *first));
        let common = first.map(|first| first.series()).filter(|series| every(&|size| size.series() == *series));
        // A series that was chosen holds until something else was done to the pipes, if only by undoing.
        let holds = |series: &&PipeSeries| {
            let of = |size: &SizeOnSale| size.series() == *series;
            all.iter().all(|(size, wall)| *wall == series.roughness_m && size.as_ref().is_none_or(of))
        };
        let series = common.or(chosen.filter(holds));
        let is_own = all.iter().all(|(size, _)| size.is_none());
        let mixed = if is_own { "own bore" } else { "several" };
        let size_words = match size {
            Some(size) => size.nominal().to_owned(),
            None if is_own => format!("bore {bore}"),
            None => "several".to_owned(),
        };
        Self { series, size, series_words: series.map_or(mixed, |series| series.name), size_words }
    }
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

/// The two rows of the choice; what was chosen. `all` are the sizes and roughnesses (m) of the pipes, `bore` the words of their
/// bores.
pub(super) fn choice(
    form: &mut Form<'_, '_>,
    all: &[(Option<SizeOnSale>, f64)],
    bore: &str,
    load: Option<(f64, &FluidProperties)>,
) -> Option<Chosen> {
    let here = form.subject;
    let last = form.state.series;
    let chosen = last.filter(|(subject, _)| *subject == here).map(|(_, series)| series);
    let shown = Shown::new(all, chosen, bore);
    let options: Vec<(&'static PipeSeries, String)> =
        CATALOGUE.into_iter().map(|series| (series, series.name.to_owned())).collect();
    let hint = "Whose sizes are offered; it gives its roughness, each size its bore.";
    let other = form.wide_choice("Series", hint, shown.series_words, &options);
    if let Some(series) = other {
        form.state.series = Some((here, series));
    }
    // Where no series holds, the sizes of the last one chosen are at hand.
    let series = shown.series.or(last.map(|(_, series)| series)).unwrap_or(COMMON);
    let present = shown.size;
    let sizes: Vec<SizeOnSale> = SizeOnSale::all_of(series).collect();
    let hint = "Sizes of the series with the velocity and the friction that the present flow would have in each.";
    let chosen = form.wide_row("Size", hint, |form, named| {
        let (width, view) = (form.ui.available_width(), form.view);
        let mut chosen = None;
        let combo =
            ComboBox::from_id_salt("size").selected_text(shown.size_words).width(width).height(500.0).truncate();
        let combo = combo.close_behavior(egui::PopupCloseBehavior::CloseOnClick);
        let response = combo.show_ui(form.ui, |ui| {
            let units = view.units;
            ui.label(series.name);
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
        in_sight(response.response.labelled_by(named));
        chosen
    });
    form.note(&format!("Sizes offered: {}. Dimensions: {}.", series.name, series.source));
    chosen.map(Chosen::Size).or(other.map(Chosen::Series))
}

fn short(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Bore => "Bore",
        Quantity::Velocity => "Velocity",
        _ => "Friction",
    }
}

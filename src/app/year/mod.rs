//! The year: electric energy scenario by scenario and in total, with money and CO₂ where the user has said what they cost; the same pump
//! without its settings beside it; and the energy efficiency index with each of its steps.

mod index;
mod rows;

use super::look::{self, STEP, size};
use super::part_load;
use super::view::{Intent, ProjectPart, View};
use crate::document::EnergyBasis;
use crate::engine::units::Quantity;
use crate::study::part_load::{Compared, YEAR_HOURS};
use egui::{self, Label, RichText, ScrollArea, Ui};

/// Shows it.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, intents: &mut Vec<Intent>) {
    let Some((present, probed)) = part_load::shown(ui, view) else { return };
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        rows::scenarios(ui, view, &probed.part_load, present);
        totals(ui, view, present.year.total_j(), present.year.standby_j, present.year.hours, intents);
        ui.add_space(STEP);
        heading(ui, "Beside the same pump under other settings");
        rows::comparison(ui, view, &probed.part_load.comparison(view.project));
        ui.add_space(STEP);
        index::show(ui, view);
    });
}

fn heading(ui: &mut Ui, words: &str) {
    ui.label(RichText::new(words).font(look::strong(size::BODY)));
}

/// A quiet line.
fn quiet(ui: &mut Ui, view: &View<'_>, words: &str) {
    ui.add(Label::new(RichText::new(words).size(size::SMALL).color(view.palette.quiet)).wrap());
}

/// "EUR 61" and "71 kg CO₂" of an energy, as far as the user has said what they cost.
pub(super) fn costs(basis: &EnergyBasis, energy_j: f64) -> [Option<String>; 2] {
    let kwh = energy_j / 3.6e6;
    let cost = basis.price_per_kwh.map(|price| format!("{} {:.0}", basis.currency, price * kwh).trim().to_owned());
    let carbon = basis.co2_kg_per_kwh.map(|factor| format!("{:.0}\u{a0}kg\u{a0}CO₂", factor * kwh));
    [cost, carbon]
}

/// All together, with where the figures come from.
fn totals(ui: &mut Ui, view: &View<'_>, total_j: f64, standby_j: f64, hours: f64, intents: &mut Vec<Intent>) {
    let basis = &view.project.energy;
    let energy = |energy_j| view.units.format(Quantity::Energy, energy_j);
    if hours <= 0.0 {
        quiet(ui, view, "No scenario has hours: give them in Draw, and the year's energy stands here.");
        return;
    }
    let rest = (YEAR_HOURS - hours).max(0.0);
    let standby = match basis.counts_standby && standby_j > 0.0 {
        true => format!(", {} of it for standing by in the other {rest:.0} h", energy(standby_j)),
        false => String::new(),
    };
    let parts: Vec<String> = costs(basis, total_j).into_iter().flatten().collect();
    let costs = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(", ")) };
    let words = format!("Together {hours:.0} h and {} a year{standby}{costs}.", energy(total_j));
    ui.add(Label::new(RichText::new(words).font(look::strong(size::BODY))).wrap());
    for (word, is_given, source) in [
        ("Price", basis.price_per_kwh.is_some(), &basis.price_source),
        ("CO₂", basis.co2_kg_per_kwh.is_some(), &basis.co2_source),
    ] {
        if is_given && !source.is_empty() {
            quiet(ui, view, &format!("{word}: {source}"));
        }
    }
    if basis.price_per_kwh.is_none() && basis.co2_kg_per_kwh.is_none() {
        ui.horizontal(|ui| {
            quiet(ui, view, "Money and CO₂ need your own tariff and factor, with year and publisher.");
            if ui.small_button("Give them").clicked() {
                intents.push(Intent::ShowFigures(ProjectPart::Energy));
            }
        });
    }
}

/// Settings in a few words: "5.10 m · 25 % · 95 %".
pub(super) fn three(view: &View<'_>, settings: &crate::engine::pump::Regulation) -> String {
    let share = |share| view.units.format(Quantity::Share, share);
    match settings.head_limit_m {
        Some(limit) => {
            let limit = view.units.format(Quantity::Head, limit);
            format!("{limit} · {} · {}", share(settings.slope), share(settings.speed_cap))
        }
        None => format!("no head limit · {}", share(settings.speed_cap)),
    }
}

/// The worst that settings do: zones with too little and too much, each with its share.
pub(super) fn worst(view: &View<'_>, compared: &Compared) -> (String, egui::Color32) {
    let band = &view.project.acceptance;
    let share = |share| view.units.format(Quantity::Share, share);
    let name = |id| view.project.zones.get(&id).map_or("", |zone: &crate::document::Zone| zone.name.as_str());
    let least = compared.margins.iter().min_by(|a, b| a.least.share.total_cmp(&b.least.share));
    let most = compared.margins.iter().max_by(|a, b| a.greatest.share.total_cmp(&b.greatest.share));
    let low = least.filter(|margin| margin.low == crate::study::ZoneState::Starved);
    let high = most.filter(|margin| margin.greatest.share > band.high);
    match (low, high) {
        (Some(low), _) => (format!("▼ {} {}", share(low.least.share), name(low.zone)), view.palette.starved),
        (None, Some(high)) => {
            (format!("▲ {} {}", share(high.greatest.share), name(high.zone)), view.palette.overflowed)
        }
        (None, None) => ("every zone in its band".to_owned(), view.palette.served),
    }
}

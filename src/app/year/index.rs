//! The energy efficiency index, step by step: an estimate from the catalogue, no certificate.

use super::super::look::{self, size};
use super::super::term_card::TermCard;
use super::super::view::View;
use super::quiet;
use crate::engine::pump::{CALIBRATION, EnergyIndex};
use crate::engine::units::Quantity;
use crate::study::terms::Term;
use egui::{self, Grid, RichText, Ui};

/// Density of the water that the regulation's unit constant stands for, kg/m³.
const WATER: f64 = 1000.0;

/// Shows it.
pub(super) fn show(ui: &mut Ui, view: &View<'_>) {
    let Some(unit) = view.unit() else { return };
    let index = unit
        .fitted()
        .map_err(|error| error.to_string())
        .and_then(|pump| EnergyIndex::of_pump(&pump.curve, &pump.power, WATER).map_err(|error| error.to_string()));
    let index = match index {
        Ok(index) => index,
        Err(why) => return quiet(ui, view, &format!("No energy efficiency index: {why}.")),
    };
    let words = format!("Energy efficiency index, about {:.2}: an estimate, no certificate", index.rounded());
    let text = RichText::new(words).font(look::strong(size::BODY));
    let shown =
        egui::CollapsingHeader::new(text).id_salt("energy efficiency index").show(ui, |ui| steps(ui, view, &index));
    TermCard::new(view, Term::EnergyEfficiencyIndex).above().on(&shown.header_response);
}

fn steps(ui: &mut Ui, view: &View<'_>, index: &EnergyIndex) {
    let flow = |flow| view.units.format(Quantity::Flow, flow);
    let head = |head| view.units.format(Quantity::Head, head);
    let power = |power| view.units.format(Quantity::Power, power);
    let share = |share| view.units.format(Quantity::Share, share);
    let beyond = if index.reference.beyond_data { ", beyond the catalogue data: a guess" } else { "" };
    for line in [
        format!(
            "1. Greatest Q·H on the full-speed curve: Q₁₀₀ = {}, H₁₀₀ = {}{beyond}",
            flow(index.reference.flow_m3_per_s),
            head(index.reference.head_m)
        ),
        format!("2. P_hyd = ρ g Q₁₀₀ H₁₀₀ = {}", power(index.hydraulic_w)),
        format!("3. P_ref = 1.7 P_hyd + 17 (1 − e^(−0.3 P_hyd)) = {}", power(index.reference_w)),
        "4. Along the reference control curve, from H₁₀₀ to half of it at no flow:".to_owned(),
    ] {
        ui.label(line);
    }
    Grid::new("load points").striped(true).spacing([18.0, 3.0]).show(ui, |ui| {
        for word in ["of Q₁₀₀", "time", "Q", "H_ref", "H", "P₁", "P_L", "weighted"] {
            ui.label(RichText::new(word).size(size::SMALL).color(view.palette.quiet));
        }
        ui.end_row();
        for point in &index.points {
            for text in [
                share(point.load.flow_share),
                share(point.load.weight),
                flow(point.flow_m3_per_s),
                head(point.reference_head_m),
                head(point.head_m),
                power(point.electric_w),
                power(point.compensated_w),
                power(point.weighted_w),
            ] {
                ui.label(text);
            }
            ui.end_row();
        }
    });
    ui.label(format!("5. P_L,avg = {}", power(index.average_w)));
    ui.label(format!("6. EEI = {CALIBRATION} P_L,avg / P_ref = {:.3}", index.index));
    let scope = if index.in_scope { "" } else { " The hydraulic power lies outside the regulation's 1 to 2500 W." };
    quiet(
        ui,
        view,
        &format!(
            "Regulation (EC) 641/2009 as amended by (EU) 622/2012, EN 16297-1 and -2; P_ref, {CALIBRATION} and the compensation from \
             memory. P_L charges the head that is missing against the reference. The standards measure a sample of pumps on a \
             test rig; only that may be declared.{scope}"
        ),
    );
}

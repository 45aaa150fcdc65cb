//! Present figures of the zones.

use super::super::Here;
use super::super::subject::Subject;
use super::{equals, words};
use crate::document::{Duty, ZoneId};
use crate::engine::units::Quantity;
use crate::study::ZoneState;

fn name<'a>(of: &Subject<'a>, id: ZoneId) -> &'a str {
    of.project.zones.get(&id).map_or("", |zone| zone.name.as_str())
}

/// Figures that tell which zone they are of.
fn of_zone(of: &Subject<'_>, id: ZoneId, here: Option<Here>) -> Option<Here> {
    here.map(|here| Here { words: format!("{}: {}", name(of, id), here.words), ..here })
}

pub(super) fn zone(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    let (flow, load) = (of.says(Quantity::Flow, result.design_flow), of.project.zones.get(&id)?.load);
    words(format!("{}: {} at {flow}", name(of, id), of.says(Quantity::Heat, load)))
}

pub(super) fn design_flow(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    let zone = of.project.zones.get(&id)?;
    let fluid = &of.study.lowered().fluid;
    let left = format!(
        "{} ÷ ({} × {} × {})",
        of.says(Quantity::Heat, zone.load),
        of.says(Quantity::Density, fluid.density_kg_per_m3),
        of.says(Quantity::SpecificHeat, fluid.heat_capacity_j_per_kg_k),
        of.says(Quantity::TemperatureDifference, of.project.design.temperature_drop(zone))
    );
    of_zone(of, id, equals(of, &left, Quantity::Flow, result.design_flow))
}

pub(super) fn share(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    let flow = |flow| of.says(Quantity::Flow, flow);
    let left = format!("{} ÷ {}", flow(result.flow), flow(result.design_flow));
    of_zone(of, id, equals(of, &left, Quantity::Share, result.share))
}

/// Heat by the water: what enters less what leaves.
pub(super) fn heat(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    let fluid = &of.study.lowered().fluid;
    let celsius = |celsius| of.says(Quantity::Temperature, celsius);
    let (warm, cold) = match of.project.design.duty {
        Duty::Heating => (result.supply_c, result.return_c),
        Duty::Cooling => (result.return_c, result.supply_c),
    };
    if !(warm.is_finite() && cold.is_finite()) {
        return None;
    }
    let left = format!(
        "{} × {} × {} × ({} − {})",
        of.says(Quantity::Density, fluid.density_kg_per_m3),
        of.says(Quantity::SpecificHeat, fluid.heat_capacity_j_per_kg_k),
        of.says(Quantity::Flow, result.flow),
        celsius(warm),
        celsius(cold)
    );
    of_zone(of, id, equals(of, &left, Quantity::Heat, result.heat))
}

pub(super) fn heat_share(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    let heat = |heat| of.says(Quantity::Heat, heat);
    let left = format!("{} ÷ {}", heat(result.heat), heat(of.project.zones.get(&id)?.load));
    of_zone(of, id, equals(of, &left, Quantity::Share, result.heat_share))
}

pub(super) fn return_temperature(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    if !(result.supply_c.is_finite() && result.return_c.is_finite()) {
        return None;
    }
    let fluid = &of.study.lowered().fluid;
    let sign = if of.project.design.duty == Duty::Heating { "−" } else { "+" };
    let left = format!(
        "{} {sign} {} ÷ ({} × {} × {})",
        of.says(Quantity::Temperature, result.supply_c),
        of.says(Quantity::Heat, result.heat),
        of.says(Quantity::Density, fluid.density_kg_per_m3),
        of.says(Quantity::SpecificHeat, fluid.heat_capacity_j_per_kg_k),
        of.says(Quantity::Flow, result.flow)
    );
    of_zone(of, id, equals(of, &left, Quantity::Temperature, result.return_c))
}

pub(super) fn room(of: &Subject<'_>) -> Option<Here> {
    let (id, result) = of.zone()?;
    let (room_c, miss_k) = (result.room_c?, result.room_miss_k?);
    let set_c = if of.project.design.duty == Duty::Heating { room_c + miss_k } else { room_c - miss_k };
    let celsius = |celsius| of.says(Quantity::Temperature, celsius);
    let words = format!("{}; its valve is set to {}", celsius(room_c), celsius(set_c));
    of_zone(of, id, Some(Here { words, value: Some((Quantity::Temperature, room_c)) }))
}

pub(super) fn band(of: &Subject<'_>) -> Option<Here> {
    let band = &of.project.acceptance;
    let share = |share| of.says(Quantity::Share, share);
    let zones = || of.study.results().zones.values().filter(|zone| zone.state != ZoneState::Shut);
    let inside = zones().filter(|zone| matches!(zone.state, ZoneState::Served | ZoneState::Throttled)).count();
    words(format!(
        "{} to {} of design flow; {inside} of {} open zones are served",
        share(band.low),
        share(band.high),
        zones().count()
    ))
}

pub(super) fn scenarios(of: &Subject<'_>) -> Option<Here> {
    let hours: f64 = of.project.scenarios.iter().map(|scenario| scenario.hours_per_year).sum();
    match of.project.scenarios.len() {
        0 => words("none is given".to_owned()),
        count => words(format!("{count} of them, {hours:.0} h a year together")),
    }
}

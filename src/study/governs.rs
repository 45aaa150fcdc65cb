//! What governs at the operating point, over which stretch of flow, and what changes nothing because of it: one sentence.

use super::results::{NOTHING, PumpResult};
use super::words::limit_name;
use crate::engine::pump::{GoverningLimit, GoverningRange, ReferenceFlow, Regulation};
use crate::engine::units::{Quantity, Units};

/// What governs at the operating point, and what that means for the settings.
#[must_use]
pub fn governing_at(pump: &PumpResult, ranges: &[GoverningRange], units: &Units) -> String {
    let mut ways = sentences(pump, None, ranges, "", units);
    ways.swap_remove(0)
}

/// The same with the settings in mind, and with what stands open (" with all zones open"): in several ways, the fullest first.
pub(super) fn sentences(
    pump: &PumpResult,
    settings: Option<&Regulation>,
    ranges: &[GoverningRange],
    open: &str,
    units: &Units,
) -> Vec<String> {
    let Some(limit) = pump.governing else { return vec!["This pump is off.".to_owned()] };
    let head = units.format(Quantity::Head, pump.head);
    let point = format!("{} at {head}", units.format(Quantity::Flow, pump.flow));
    let reach = ranges.iter().map(|r| r.to_m3_per_s).fold(0.0, f64::max);
    if pump.flow < -NOTHING * reach {
        let back = units.format(Quantity::Flow, -pump.flow);
        let help = "fit a check valve behind its outlet";
        return vec![format!("Another pump drives {back} backwards through this one{open}: {help}.")];
    }
    if pump.flow <= NOTHING * reach {
        return vec![format!("Nothing flows through this pump{open}: it holds {head} at no flow.")];
    }
    if pump.head <= 0.0 {
        return vec![format!("Another pump pushes this one beyond its curve, {point}: it adds no head{open}.")];
    }
    let (name, stretch) = (limit_name(limit), stretch(pump.flow, ranges, units));
    let so = consequence(limit, pump, settings, units);
    vec![
        format!("The {name} governs{stretch}, now {point}: {so}{open}."),
        format!("The {name} governs{stretch}: {so}{open}."),
        format!("The {name} governs: {so}{open}."),
    ]
}

/// Where what governs at a flow does so: " from 1.99 m³/h up".
fn stretch(flow: f64, ranges: &[GoverningRange], units: &Units) -> String {
    let Some(here) = ranges.iter().position(|r| r.from_m3_per_s <= flow && flow <= r.to_m3_per_s) else {
        return String::new();
    };
    let range = &ranges[here];
    let says = |flow| units.format(Quantity::Flow, flow);
    match (here == 0, here + 1 == ranges.len()) {
        (true, true) => " at every flow".to_owned(),
        (false, true) => format!(" from {} up", says(range.from_m3_per_s)),
        (true, false) => format!(" up to {}", says(range.to_m3_per_s)),
        (false, false) => {
            format!(" from {} to {}", units.number(Quantity::Flow, range.from_m3_per_s), says(range.to_m3_per_s))
        }
    }
}

/// What that means for the settings: which of them changes nothing, or why the pump gives what nobody asked for.
fn consequence(limit: GoverningLimit, pump: &PumpResult, settings: Option<&Regulation>, units: &Units) -> String {
    let moves_with_cap = settings.is_some_and(|settings| settings.reference == ReferenceFlow::CappedSpeed);
    let at_full_speed = settings.is_some_and(|settings| settings.speed_cap >= 1.0);
    match limit {
        GoverningLimit::SpeedCap if settings.is_some_and(|settings| settings.head_limit_m.is_none()) => {
            "without a head limit the pump turns at one speed".to_owned()
        }
        GoverningLimit::SpeedCap if settings.is_some() && pump.reference_flow.is_none() => {
            "the pump never reaches its head limit, and raising the head limit changes nothing".to_owned()
        }
        GoverningLimit::SpeedCap => "raising the head limit changes nothing".to_owned(),
        GoverningLimit::PowerLimit => "raising head limit or speed cap changes nothing".to_owned(),
        GoverningLimit::SetLine if moves_with_cap => "lowering the speed cap raises the head".to_owned(),
        GoverningLimit::SetLine if at_full_speed => "head limit and slope decide".to_owned(),
        GoverningLimit::HeadLimit if at_full_speed => "the head limit alone decides".to_owned(),
        GoverningLimit::SetLine | GoverningLimit::HeadLimit => "raising the speed cap changes nothing".to_owned(),
        GoverningLimit::MinimumSpeed => {
            let speed = units.format(Quantity::Speed, pump.speed);
            format!("the pump cannot turn more slowly than {speed}")
        }
    }
}

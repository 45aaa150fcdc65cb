//! The plant: source, expansion vessel at the circulator's suction, circulator, strainer.

use super::plan::{Arrangement, SystemPlan};
use super::sheet::{Sheet, branch, port};
use super::stand_in::stand_in;
use super::{RETURN_Y, REVERSE_Y};
use crate::document::{ComponentKind, Duty, Port, PortRef, Source, Turn};
use crate::engine::links::{kv_for, standard_kv_at_least};

/// What a clean strainer takes at most, Pa (common practice, no source).
pub(in crate::document) const STRAINER_PA: f64 = 3e3;
/// Head of the stand-in circulator until the system's is known, m.
pub(in crate::document) const UNKNOWN_HEAD_M: f64 = 5.0;

/// Where the mains are joined to the plant.
pub(super) struct Plant {
    pub(super) flow: PortRef,
    pub(super) back: PortRef,
}

/// Draws the plant of a plan for its flow (m³/s) and density (kg/m³).
pub(super) fn draw(plan: &SystemPlan, flow: f64, density: f64, sheet: &mut Sheet) -> Plant {
    let name = match plan.design.duty {
        Duty::Heating => "Heat source",
        Duty::Cooling => "Chiller",
    };
    let y = if plan.arrangement == Arrangement::ReverseReturn { REVERSE_Y } else { RETURN_Y };
    let kind =
        Source { loss: plan.source_loss, rated_flow: flow, minimum_flow: plan.source_minimum_flow, supply_c: None };
    let source = sheet.put(name.to_owned(), [2.0, 7.0], Turn::Up, ComponentKind::Source(kind));
    let tee = sheet.tee("Vessel tee".to_owned(), [2.0, 4.0]);
    let vessel = sheet.put(
        "Expansion vessel".to_owned(),
        [5.0, 2.0],
        Turn::Right,
        ComponentKind::ExpansionVessel { pressure: None },
    );
    let unit = plan.pump.clone().unwrap_or_else(|| stand_in(flow, UNKNOWN_HEAD_M, density));
    let pump = sheet.put("Circulator".to_owned(), [9.0, 0.0], Turn::Right, ComponentKind::Pump(Box::new(unit)));
    let kv = plan.strainer_kv.unwrap_or_else(|| standard_kv_at_least(kv_for(flow, STRAINER_PA, density)));
    let strainer = sheet.put(
        "Strainer".to_owned(),
        [9.0, y],
        Turn::Left,
        ComponentKind::Strainer { kv, fouled_kv: kv, fouling: 0.0 },
    );
    sheet.pipe("Common flow".to_owned(), port(source, Port::Outlet), branch(tee), plan.common, Vec::new());
    sheet.joint(branch(tee), branch(vessel), vec![[5.0, 4.0]]);
    sheet.joint(branch(tee), port(pump, Port::Inlet), vec![[2.0, 0.0]]);
    let bends = vec![[2.0, y]];
    let (from, to) = (port(strainer, Port::Outlet), port(source, Port::Inlet));
    sheet.pipe("Common return".to_owned(), from, to, plan.common, bends);
    Plant { flow: port(pump, Port::Outlet), back: port(strainer, Port::Inlet) }
}

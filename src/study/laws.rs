//! The laws of pipes and components, from their figures in the document and the water that is in them.

use crate::document::{Component, ComponentKind, PipeRun, Project, PumpUnit, ZoneId};
use crate::engine::fluid::FluidProperties;
use crate::engine::links::{BypassValve, CheckValve, FixedLoss, FlowLimiter, LinkLaw, Pipe, Valve, strainer_kv};

/// Loss coefficient of a separator's vessel: entrance 0.5 and exit 1 (textbook values).
const SEPARATOR_K: f64 = 1.5;

/// The water that a law is taken for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Water<'a> {
    /// At the mean temperature of its circuit.
    pub(super) here: &'a FluidProperties,
    /// At the design's mean temperature, for which design flows are reckoned.
    pub(super) design: &'a FluidProperties,
}

pub(super) fn of_pipe(pipe: &PipeRun, fluid: &FluidProperties) -> LinkLaw {
    LinkLaw::Pipe(Pipe::new(
        pipe.length,
        pipe.bore,
        pipe.roughness,
        pipe.k(),
        fluid.density_kg_per_m3,
        fluid.dynamic_viscosity_pa_s,
    ))
}

/// The law of a component between inlet and outlet; `None` for one that only joins pipes.
pub(super) fn of_component(
    project: &Project,
    zone: Option<ZoneId>,
    component: &Component,
    water: &Water<'_>,
) -> Option<LinkLaw> {
    let density = water.here.density_kg_per_m3;
    let valve = |kv: f64, open: bool| {
        if open { LinkLaw::Valve(Valve::new(kv, density)) } else { LinkLaw::Shut }
    };
    Some(match &component.kind {
        ComponentKind::Source(source) if source.loss > 0.0 => {
            LinkLaw::Fixed(FixedLoss::new(source.loss, source.rated_flow, 2.0))
        }
        ComponentKind::Source(_) => lossless(density),
        ComponentKind::Pump(unit) => stopped_pump(unit, density),
        ComponentKind::Emitter(emitter) => {
            let zone = zone.and_then(|zone| project.zones.get(&zone));
            let design = zone.map_or(0.0, |zone| project.design.flow(zone, water.design));
            let flow = emitter.rated_flow.unwrap_or(design);
            if emitter.loss > 0.0 && flow > 0.0 {
                LinkLaw::Fixed(FixedLoss::new(emitter.loss, flow, emitter.exponent))
            } else {
                lossless(density)
            }
        }
        ComponentKind::ZoneValve { kv, open } | ComponentKind::IsolationValve { kv, open } => valve(*kv, *open),
        ComponentKind::ControlValve { shut: true, .. } => LinkLaw::Shut,
        ComponentKind::ControlValve { kvs, characteristic, position, .. } => {
            LinkLaw::Valve(Valve::at_position(*kvs, *characteristic, *position, density))
        }
        // Without a room that moves it.
        ComponentKind::ThermostaticValve { kv, .. } => valve(*kv, true),
        ComponentKind::BalancingValve { kv } | ComponentKind::FlowMeter { kv } => valve(*kv, true),
        ComponentKind::Strainer { kv, fouled_kv, fouling } => valve(strainer_kv(*kv, *fouled_kv, *fouling), true),
        ComponentKind::ThreeWayValve(valve) => LinkLaw::Valve(valve.ways().controlled(valve.position, density)),
        ComponentKind::PressureIndependentValve { set_flow, least_drop, open } => {
            if *open {
                LinkLaw::Limiter(FlowLimiter::new(*set_flow, *least_drop))
            } else {
                LinkLaw::Shut
            }
        }
        ComponentKind::BypassValve { set_pressure, band, kv } => {
            LinkLaw::Bypass(BypassValve::new(*set_pressure, *band, *kv, density))
        }
        ComponentKind::CheckValve { kv, cracking } => LinkLaw::Check(CheckValve::new(*kv, *cracking, density)),
        ComponentKind::Separator { bore } => {
            let area = 0.25 * std::f64::consts::PI * bore * bore;
            LinkLaw::Fixed(FixedLoss::new(0.5 * SEPARATOR_K * density, area, 2.0))
        }
        ComponentKind::Junction
        | ComponentKind::ExpansionVessel { .. }
        | ComponentKind::PressureGauge
        | ComponentKind::Thermometer => return None,
    })
}

/// The law of a component's second way, [`Component::bypass_ends`]; `None` for one that has none.
pub(super) fn of_bypass(component: &Component, fluid: &FluidProperties) -> Option<LinkLaw> {
    match &component.kind {
        ComponentKind::ThreeWayValve(valve) => {
            Some(LinkLaw::Valve(valve.ways().bypass(valve.position, fluid.density_kg_per_m3)))
        }
        _ => None,
    }
}

/// A component that takes next to nothing: a valve so large that its loss is lost in the last digit.
fn lossless(density: f64) -> LinkLaw {
    LinkLaw::Valve(Valve::new(2000.0, density))
}

/// A stopped pump lets water through its impeller: by its Kv at standstill where that is known, otherwise taken as its shut-off
/// head at the end of its curve (common practice, no source; a check valve makes the figure irrelevant).
fn stopped_pump(unit: &PumpUnit, density: f64) -> LinkLaw {
    if let Some(kv) = unit.stopped_kv {
        return LinkLaw::Valve(Valve::new(kv, density));
    }
    let head = unit.catalogue.iter().map(|p| p.head).fold(0.0, f64::max);
    let flow = unit.catalogue.iter().map(|p| p.flow).fold(0.0, f64::max);
    let loss = density * crate::engine::GRAVITY_M_PER_S2 * head;
    if loss > 0.0 && flow > 0.0 { LinkLaw::Fixed(FixedLoss::new(loss, flow, 2.0)) } else { lossless(density) }
}

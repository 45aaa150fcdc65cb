//! Present figures of the system: its curve, the point, and what pipes and valves take.

use super::super::Here;
use super::super::subject::Subject;
use super::pump::GRAVITY;
use super::{equals, plainly, words};
use crate::document::{ComponentId, ComponentKind, PipeId};
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::links::LinkLaw;
use crate::engine::units::Quantity;
use crate::study::head_path::balance_at_once;
use crate::study::lower::LinkOwner;
use crate::study::{checks, head_path, index_zone, least_served_zone};

/// Pa in a bar.
const BAR: f64 = 1e5;

pub(super) fn curve(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let (flow, head) = (of.says(Quantity::Flow, pump.result.flow), of.says(Quantity::Head, pump.result.head));
    let units = of.units;
    let (q, h) = (units.from_si(Quantity::Flow, pump.result.flow), units.from_si(Quantity::Head, pump.result.head));
    plainly(&format!("it takes {head} at {flow}: R = {head} ÷ ({flow})²"), h / (q * q), 3)
}

pub(super) fn alone(of: &Subject<'_>) -> Option<Here> {
    let (id, zone) = of.zone()?;
    let curve = of.study.system_alone(of.project, of.pump?, id);
    let pair = curve.windows(2).find(|pair| pair[0][0] <= zone.design_flow && zone.design_flow <= pair[1][0])?;
    let share = (zone.design_flow - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-15);
    let head = pair[0][1] + share * (pair[1][1] - pair[0][1]);
    let name = of.project.zones.get(&id).map_or("", |zone| zone.name.as_str());
    let set = of.in_hand().map(|pump| pump.regulated.head(zone.design_flow).0);
    let gives = set.map_or(String::new(), |set| format!("; the pump would give {}", of.says(Quantity::Head, set)));
    Some(Here {
        words: format!(
            "{name} alone takes {} at its design flow, {}{gives}",
            of.says(Quantity::Head, head),
            of.says(Quantity::Flow, zone.design_flow)
        ),
        value: Some((Quantity::Head, head)),
    })
}

pub(super) fn point(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let flow = pump.result.flow;
    Some(Here {
        words: format!(
            "{} at {}, at {} of full speed",
            of.says(Quantity::Head, pump.result.head),
            of.says(Quantity::Flow, flow),
            of.says(Quantity::Speed, pump.result.speed)
        ),
        value: Some((Quantity::Flow, flow)),
    })
}

pub(super) fn gain(of: &Subject<'_>) -> Option<Here> {
    let pump = of.at_work()?;
    let (_, pump_slope) = pump.regulated.head(pump.result.flow);
    let system_slope = pump_slope + pump.result.stability_margin;
    if !(system_slope.is_finite() && system_slope > 0.0) {
        return None;
    }
    let slope = |slope: f64| {
        let step = of.units.to_si(Quantity::Flow, 1.0);
        format!("{} per {}", of.says(Quantity::Head, slope * step), of.units.symbol(Quantity::Flow))
    };
    let holds = if of.study.results().stable { "; the point holds" } else { "; the point does not hold" };
    let mut here = plainly(&format!("{} ÷ {}", slope(pump_slope), slope(system_slope)), pump_slope / system_slope, 2)?;
    here.words.push_str(holds);
    Some(here)
}

pub(super) fn index(of: &Subject<'_>) -> Option<Here> {
    let name = |id| of.project.zones.get(&id).map_or("", |zone| zone.name.as_str());
    if let Some(balance) = balance_at_once(of.project) {
        let head = of.says(Quantity::Head, balance.head_m);
        return Some(Here {
            words: format!("{}: {head} at {}", name(balance.index), of.says(Quantity::Flow, balance.flow)),
            value: Some((Quantity::Head, balance.head_m)),
        });
    }
    let zone = least_served_zone(of.study)?;
    words(format!("it cannot be told here; of the open zones {} gets the least share of its design flow", name(zone)))
}

pub(super) fn path(of: &Subject<'_>) -> Option<Here> {
    let zone = of.zone.or_else(|| index_zone(of.project, of.study)).or_else(|| least_served_zone(of.study))?;
    let path = head_path(of.project, of.study, zone)?;
    let name = of.project.zones.get(&zone).map_or("", |zone| zone.name.as_str());
    let left = format!(
        "{name}: {} in {} steps ÷ ({} × {GRAVITY})",
        of.says(Quantity::Pressure, path.sum_pa()),
        path.steps.len(),
        of.says(Quantity::Density, path.head_pa / (path.head_m * GRAVITY_M_PER_S2))
    );
    equals(of, &left, Quantity::Head, path.head_m)
}

/// The component pointed at, or the first of a kind.
fn component(of: &Subject<'_>, is_kind: impl Fn(&ComponentKind) -> bool) -> Option<ComponentId> {
    let holds = |id: &ComponentId| of.project.components.get(id).is_some_and(|component| is_kind(&component.kind));
    match of.component {
        Some(id) => Some(id).filter(holds),
        None => of.project.components.keys().copied().find(holds),
    }
}

pub(super) fn authority(of: &Subject<'_>) -> Option<Here> {
    let regulates = |kind: &ComponentKind| {
        matches!(kind, ComponentKind::ControlValve { .. } | ComponentKind::ThermostaticValve { .. })
    };
    let id = component(of, regulates)?;
    let [valve, rest] = checks::authority_drops(of.project, of.study, of.units, id)?;
    let pressure = |pa| of.says(Quantity::Pressure, pa);
    let left = format!("{}: {} ÷ ({} + {})", of.name(id), pressure(valve), pressure(valve), pressure(rest));
    equals(of, &left, Quantity::Share, valve / (valve + rest))
}

/// The present Kv of a valve, m³/h.
fn kv(kind: &ComponentKind) -> Option<f64> {
    match kind {
        ComponentKind::ZoneValve { kv, open: true } | ComponentKind::IsolationValve { kv, open: true } => Some(*kv),
        ComponentKind::BalancingValve { kv } | ComponentKind::FlowMeter { kv } => Some(*kv),
        _ => None,
    }
}

/// Density of the water in a component, kg/m³.
fn density(of: &Subject<'_>, owner: LinkOwner) -> f64 {
    let lowered = of.study.lowered();
    let link = lowered.owners.iter().position(|other| *other == owner);
    link.map_or(lowered.fluid, |link| *lowered.fluid_of(link)).density_kg_per_m3
}

pub(super) fn coefficient(of: &Subject<'_>) -> Option<Here> {
    let id = component(of, |kind| kv(kind).is_some())?;
    let kv = kv(&of.project.components.get(&id)?.kind)?;
    let result = of.study.results().components.get(&id)?;
    let density = density(of, LinkOwner::Component(id));
    let left = format!("{}: {kv} × √(1000 × {:.4} ÷ {density:.1}) m³/h", of.name(id), (result.drop / BAR).abs());
    equals(of, &left, Quantity::Flow, result.flow)
}

pub(super) fn presetting(of: &Subject<'_>) -> Option<Here> {
    let id = component(of, |kind| matches!(kind, ComponentKind::BalancingValve { .. }))?;
    let balance = balance_at_once(of.project)?;
    let set = balance.presettings.iter().find(|set| set.valve == id)?;
    let name = of.name(id);
    if set.is_open {
        return words(format!("{name}: fully open, for its zone has no pressure to spare"));
    }
    let density = density(of, LinkOwner::Component(id));
    let left = format!("{name}: {:.3} × √({density:.1} ÷ (1000 × {:.4}))", 3600.0 * set.flow, set.drop / BAR);
    equals(of, &left, Quantity::FlowCoefficient, set.kv)
}

/// The pipe pointed at, or the one in which the water runs fastest.
fn pipe(of: &Subject<'_>) -> Option<PipeId> {
    let speed = |id: &PipeId| of.study.results().pipes.get(id).map_or(f64::NAN, |pipe| pipe.velocity.abs());
    let fastest = || {
        let known = of.project.pipes.keys().copied().filter(|id| speed(id).is_finite());
        known.max_by(|a, b| speed(a).total_cmp(&speed(b)))
    };
    of.pipe.or_else(fastest).filter(|id| speed(id).is_finite())
}

pub(super) fn velocity(of: &Subject<'_>) -> Option<Here> {
    let id = pipe(of)?;
    let (run, result) = (of.project.pipes.get(&id)?, of.study.results().pipes.get(&id)?);
    let (flow, bore) = (of.says(Quantity::Flow, result.flow), of.says(Quantity::Bore, run.bore));
    let left = format!("{}: {flow} ÷ (π × ({bore})² ÷ 4)", of.project.pipe_label(run));
    equals(of, &left, Quantity::Velocity, result.velocity)
}

/// The friction factor of a pipe at a flow.
fn factor(of: &Subject<'_>, id: PipeId, flow: f64) -> Option<f64> {
    let lowered = of.study.lowered();
    let link = lowered.owners.iter().position(|owner| *owner == LinkOwner::Pipe(id))?;
    match &lowered.network.links.get(link)?.law {
        LinkLaw::Pipe(pipe) if flow != 0.0 => Some(pipe.darcy_factor(flow)),
        _ => None,
    }
}

pub(super) fn friction(of: &Subject<'_>) -> Option<Here> {
    let id = pipe(of)?;
    let (run, result) = (of.project.pipes.get(&id)?, of.study.results().pipes.get(&id)?);
    let factor = factor(of, id, result.flow)?;
    let left = format!(
        "{}: {factor:.4} × {} × ({})² ÷ (2 × {})",
        of.project.pipe_label(run),
        of.says(Quantity::Density, density(of, LinkOwner::Pipe(id))),
        of.says(Quantity::Velocity, result.velocity.abs()),
        of.says(Quantity::Bore, run.bore)
    );
    equals(of, &left, Quantity::FrictionGradient, result.friction_gradient.abs())
}

pub(super) fn drop(of: &Subject<'_>) -> Option<Here> {
    if let Some(id) = of.component {
        let result = of.study.results().components.get(&id)?;
        let (drop, flow) = (of.says(Quantity::Pressure, result.drop), of.says(Quantity::Flow, result.flow));
        let words = format!("{}: {drop} at {flow}", of.name(id));
        return result.drop.is_finite().then_some(Here { words, value: Some((Quantity::Pressure, result.drop)) });
    }
    let id = pipe(of)?;
    let (run, result) = (of.project.pipes.get(&id)?, of.study.results().pipes.get(&id)?);
    let factor = factor(of, id, result.flow)?;
    let density = density(of, LinkOwner::Pipe(id));
    let left = format!(
        "{}: ({factor:.4} × {} ÷ {} + {:.1}) × {} × ({})² ÷ 2",
        of.project.pipe_label(run),
        of.says(Quantity::Length, run.length),
        of.says(Quantity::Bore, run.bore),
        run.k(),
        of.says(Quantity::Density, density),
        of.says(Quantity::Velocity, result.velocity.abs())
    );
    equals(of, &left, Quantity::Pressure, result.drop.abs())
}

pub(super) fn minimum_flow(of: &Subject<'_>) -> Option<Here> {
    let id = component(of, |kind| matches!(kind, ComponentKind::Source(_)))?;
    let ComponentKind::Source(source) = &of.project.components.get(&id)?.kind else { return None };
    let flow = of.study.results().component_flow(id);
    let (has, needs) = (of.says(Quantity::Flow, flow), of.says(Quantity::Flow, source.minimum_flow));
    words(format!("{} has {has} and needs {needs} at least", of.name(id)))
}

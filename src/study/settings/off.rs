//! How robust a setting is: the system is never just as drawn. Lengths, roughness, glycol share and valve settings are off by as much
//! as the project says, each alone, all together, and each zone's valves alone; each such system is probed anew.

use super::best::{Best, search};
use super::branch::valves_of;
use super::deciding::{Deciding, Miss};
use super::watch::Watch;
use crate::document::{ComponentId, ComponentKind, Project, Uncertainty};
use crate::engine::fluid::{Fluid, FluidKind};
use crate::engine::pump::Regulation;
use crate::study::part_load::{PartLoad, PartLoadError};
use std::collections::BTreeSet;

/// A system that is not just as drawn.
#[derive(Clone, Debug)]
pub struct OffCase {
    /// What is off, in words: "pipes 10 % longer".
    pub name: String,
    /// The worst of what the settings miss in it, and the share of design flow that its zone gets.
    pub miss: Option<(Miss, Option<f64>)>,
}

/// How settings stand it.
#[derive(Clone, Debug)]
pub struct Robustness {
    /// All cases.
    pub cases: Vec<OffCase>,
    /// The best setting that serves in the system as drawn and in every case, with the share of the deviations up to which there
    /// is one: all of them, three quarters, half, a quarter. `None` where not even that.
    pub still: Option<(f64, Best)>,
}

/// Shares of the deviations that are tried.
const PARTS: [f64; 4] = [1.0, 0.75, 0.5, 0.25];

/// Zones up to which each one's valves are taken off alone.
const MOST_ALONE: usize = 16;

/// Holds settings against all cases.
///
/// # Errors
/// A case that cannot be studied.
pub fn robustness(
    project: &Project,
    part_load: &PartLoad,
    settings: &Regulation,
    watch: &Watch,
) -> Result<Robustness, PartLoadError> {
    let whole = systems(project, 1.0);
    watch.more_to_come(PARTS.len() * whole.len());
    let mut cases = Vec::new();
    let mut together = Deciding::new(part_load);
    for (name, system) in whole {
        if watch.is_given_up() {
            return Ok(Robustness { cases, still: None });
        }
        let off = PartLoad::new(&system, part_load.pump)?;
        let here = Deciding::new(&off);
        cases.push(OffCase { name, miss: miss(&off, &here, settings) });
        together = together.and(here);
        watch.done(1);
    }
    let mut still = found(part_load, &together, watch).map(|best| (1.0, best));
    for part in PARTS.into_iter().skip(1) {
        if still.is_some() || watch.is_given_up() {
            break;
        }
        let mut together = Deciding::new(part_load);
        for (_, system) in systems(project, part) {
            if watch.is_given_up() {
                break;
            }
            together = together.and(Deciding::new(&PartLoad::new(&system, part_load.pump)?));
            watch.done(1);
        }
        still = found(part_load, &together, watch).map(|best| (part, best));
    }
    Ok(Robustness { cases, still })
}

fn found(part_load: &PartLoad, deciding: &Deciding, watch: &Watch) -> Option<Best> {
    deciding.impossible.is_empty().then(|| search(part_load, deciding, &watch.of_part()).ok())?
}

/// The worst of what settings miss in a system, and the share of design flow that its zone gets.
fn miss(off: &PartLoad, deciding: &Deciding, settings: &Regulation) -> Option<(Miss, Option<f64>)> {
    let law = off.law(settings);
    let miss = deciding.worst(&law)?;
    let share = miss.reason.zone().and_then(|zone| off.zone_in(&law, miss.state, zone));
    Some((miss, share.map(|[share, _]| share)))
}

/// The systems that are off, with their names.
fn systems(project: &Project, part: f64) -> Vec<(String, Project)> {
    let Uncertainty { length, roughness: rough, glycol: share, valve } = project.uncertainty;
    let off = Uncertainty { length: part * length, roughness: part * rough, glycol: part * share, valve: part * valve };
    let mut all = Vec::new();
    let percent = |share: f64| format!("{} %", (1000.0 * share).round() / 10.0);
    let mut add = |name: String, change: &dyn Fn(&mut Project)| {
        let mut system = project.clone();
        change(&mut system);
        if system != *project {
            all.push((name, system));
        }
    };
    for (sign, word) in [(1.0, "longer"), (-1.0, "shorter")] {
        add(format!("pipes {} {word}", percent(off.length)), &|system| lengths(system, 1.0 + sign * off.length));
    }
    for (sign, word) in [(1.0, "rougher"), (-1.0, "smoother")] {
        add(format!("pipes {} {word}", percent(off.roughness)), &|system| {
            roughness(system, 1.0 + sign * off.roughness)
        });
    }
    for (sign, word) in [(1.0, "more"), (-1.0, "less")] {
        add(format!("{} points {word} glycol", (1000.0 * off.glycol).round() / 10.0), &|system| {
            glycol(system, sign * off.glycol)
        });
    }
    for (sign, word) in [(1.0, "further open"), (-1.0, "further shut")] {
        add(format!("all valves {} {word}", percent(off.valve)), &|system| {
            valves(system, 1.0 + sign * off.valve, None)
        });
    }
    for (sign, word) in [(1.0, "all that adds loss at once"), (-1.0, "all that takes loss away at once")] {
        add(word.to_owned(), &|system| {
            lengths(system, 1.0 + sign * off.length);
            roughness(system, 1.0 + sign * off.roughness);
            glycol(system, sign * off.glycol);
            valves(system, 1.0 - sign * off.valve, None);
        });
    }
    if project.zones.len() <= MOST_ALONE {
        for (id, zone) in &project.zones {
            let own = valves_of(project, *id);
            for (sign, word) in [(1.0, "further open"), (-1.0, "further shut")] {
                add(format!("valves of {} {} {word}", zone.name, percent(off.valve)), &|system| {
                    valves(system, 1.0 + sign * off.valve, Some(&own));
                });
            }
        }
    }
    all
}

fn lengths(system: &mut Project, factor: f64) {
    system.pipes.values_mut().for_each(|pipe| pipe.length *= factor);
}

fn roughness(system: &mut Project, factor: f64) {
    system.pipes.values_mut().for_each(|pipe| pipe.roughness *= factor);
}

/// Another share of glycol, as far as the fluid's tables go; water stays water.
fn glycol(system: &mut Project, by: f64) {
    let (kind, share) = (system.fluid.kind(), system.fluid.glycol_mass_fraction());
    if kind == FluidKind::Water {
        return;
    }
    // What the tables do not cover is left at their end.
    let tries = [1.0, 0.75, 0.5, 0.25].map(|part| Fluid::new(kind, share + part * by));
    if let Some(fluid) = tries.into_iter().flatten().find(|fluid| system.design.properties(fluid).is_ok()) {
        system.fluid = fluid;
    }
}

fn valves(system: &mut Project, factor: f64, only: Option<&BTreeSet<ComponentId>>) {
    for (id, component) in &mut system.components {
        if only.is_some_and(|only| !only.contains(id)) {
            continue;
        }
        match &mut component.kind {
            ComponentKind::BalancingValve { kv } | ComponentKind::ZoneValve { kv, .. } => *kv *= factor,
            ComponentKind::ControlValve { kvs, .. } => *kvs *= factor,
            ComponentKind::ThermostaticValve { kv, kvs, .. } => {
                *kv *= factor;
                *kvs *= factor;
            }
            ComponentKind::PressureIndependentValve { set_flow, .. } => *set_flow *= factor,
            _ => {}
        }
    }
}

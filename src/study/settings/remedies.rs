//! Why not better: what would move the limit most. Each remedy is a changed system, probed and searched anew; none is done.

use super::best::{Best, NoBest, best};
use super::branch::balancing_valve_of;
use super::deciding::Deciding;
use super::explain::{Setting, bindings};
use super::watch::Watch;
use crate::document::{ComponentKind, PipeId, PipeRun, Project, SizeOnSale, ZoneId};
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::{PartLoad, PartLoadError};
use crate::study::sizing::{self, design_flows};
use crate::study::{LinkOwner, reverse_return};
use std::collections::BTreeSet;

/// By how much a bore that is of no series is widened, as a share.
const WIDER: f64 = 0.25;
/// Least pressure of a pressure-independent valve that is tried, Pa (common practice, no source).
const LEAST_DROP_PA: f64 = 15e3;
/// Openings that are tried for a balancing valve, as multiples of its Kv.
const OPENINGS: [f64; 4] = [1.1, 1.25, 1.5, 2.0];

/// A remedy with what comes of it.
#[derive(Clone, Debug)]
pub struct Remedy {
    /// What is changed, in words.
    pub words: String,
    /// The best setting then; why there is none otherwise.
    pub best: Result<Best, NoBest>,
    /// By how much the mean power falls, W; below zero where it rises. `None` where there is no best setting before or after.
    pub saves_w: Option<f64>,
}

/// The zone that binds the best setting: the one that limits its slope, or else its head limit or its cap.
#[must_use]
pub fn binding_zone(part_load: &PartLoad, deciding: &Deciding, found: &Best) -> Option<ZoneId> {
    let all = bindings(part_load, deciding, &found.settings);
    let of = |setting: Setting| all.iter().find(|binding| binding.setting == setting);
    let order = [Setting::Slope, Setting::HeadLimit, Setting::SpeedCap];
    order.into_iter().filter_map(of).find_map(|binding| binding.miss.reason.zone())
}

/// What would help a binding zone, the greatest gain first.
///
/// # Errors
/// A changed system that cannot be studied.
pub fn remedies(
    project: &Project,
    part_load: &PartLoad,
    before: Option<&Best>,
    zone: ZoneId,
    units: &Units,
    watch: &Watch,
) -> Result<Vec<Remedy>, PartLoadError> {
    let systems = systems(project, zone, units);
    watch.more_to_come(systems.len());
    let mut all = Vec::new();
    for (words, system) in systems {
        if watch.is_given_up() {
            break;
        }
        // One that cannot be studied is none.
        let Ok(mut changed) = PartLoad::new(&system, part_load.pump) else { continue };
        let found = best(&mut changed, &watch.of_part());
        let saves_w = match (before, &found) {
            (Some(before), Ok(after)) => Some(before.mean_w - after.mean_w),
            _ => None,
        };
        all.push(Remedy { words, best: found, saves_w });
        watch.done(1);
    }
    let gain = |remedy: &Remedy| match (&remedy.best, remedy.saves_w) {
        (Ok(_), Some(saves_w)) => saves_w,
        (Ok(best), None) => -best.mean_w,
        (Err(_), _) => f64::NEG_INFINITY,
    };
    all.sort_by(|a, b| gain(b).total_cmp(&gain(a)));
    Ok(all)
}

/// The changed systems, with what is changed in words.
fn systems(project: &Project, zone: ZoneId, units: &Units) -> Vec<(String, Project)> {
    let name = project.zones.get(&zone).map_or("", |zone| zone.name.as_str());
    let mut all = Vec::new();
    if let Some((pipes, system)) = wider_mains(project, zone) {
        let mains = if pipes == 1 { "the main".to_owned() } else { format!("all {pipes} mains") };
        all.push((format!("{mains} on the way to {name} one size larger"), system));
    }
    if let Some(system) = reverse_return(project) {
        // Its valves were set for another return.
        let system = balanced(&system).unwrap_or(system);
        let words = "reverse return: the return main goes on to the last zone before it comes back, and the valves are set anew";
        all.push((words.to_owned(), system));
    }
    if let Some((valve, kv)) = balancing_valve_of(project, zone) {
        for opening in OPENINGS {
            let mut system = project.clone();
            if let Some(component) = system.components.get_mut(&valve) {
                component.kind = ComponentKind::BalancingValve { kv: opening * kv };
                let kv = units.format(Quantity::FlowCoefficient, opening * kv);
                all.push((format!("{} opened to {kv}", component.name), system));
            }
        }
    }
    all.extend(independent(project, &[zone]).map(|(system, names)| {
        (format!("a pressure-independent valve ({} at least) in place of {names}", least(units)), system)
    }));
    let every: Vec<ZoneId> = project.zones.keys().copied().collect();
    if every.len() > 1 {
        all.extend(independent(project, &every).map(|(system, _)| {
            let words = format!("pressure-independent valves ({} at least) in all zones", least(units));
            (words, system)
        }));
    }
    if let Some(system) = balanced(project).filter(|system| differs(project, system)) {
        all.push(("all balancing valves set anew for design flow".to_owned(), system));
    }
    all
}

fn least(units: &Units) -> String {
    units.format(Quantity::Pressure, LEAST_DROP_PA)
}

/// The system with its balancing valves set for design flow; `None` where that cannot be.
fn balanced(project: &Project) -> Option<Project> {
    let balance = sizing::balance(project).ok()?;
    let mut system = project.clone();
    balance.commands().iter().all(|command| system.apply(command).is_ok()).then_some(system)
}

/// The system with pressure-independent valves, set to the design flow, in some zones: in place of the balancing valve in a zone's
/// branch, where there is none of its own valve. With the names of what they replace; `None` where there is nothing to replace.
fn independent(project: &Project, zones: &[ZoneId]) -> Option<(Project, String)> {
    let water = project.design.properties(&project.fluid).ok()?;
    let mut system = project.clone();
    let mut names = Vec::new();
    for id in zones {
        let zone = project.zones.get(id)?;
        let valve = balancing_valve_of(project, *id).map(|(valve, _)| valve).or(zone.valve);
        let Some(component) = valve.and_then(|valve| system.components.get_mut(&valve)) else { continue };
        if matches!(component.kind, ComponentKind::PressureIndependentValve { .. }) {
            continue;
        }
        let set_flow = project.design.flow(zone, &water);
        component.kind = ComponentKind::PressureIndependentValve { set_flow, least_drop: LEAST_DROP_PA, open: true };
        names.push(component.name.clone());
    }
    (!names.is_empty()).then(|| (system, names.join(", ")))
}

/// Whether two balances differ by more than the figures that a presetting keeps.
fn differs(a: &Project, b: &Project) -> bool {
    let kv = |project: &Project| -> Vec<f64> {
        let valves = project.components.values().filter_map(|component| match component.kind {
            ComponentKind::BalancingValve { kv } => Some(kv),
            _ => None,
        });
        valves.collect()
    };
    kv(a).iter().zip(kv(b)).any(|(a, b)| (a / b - 1.0).abs() > 0.01)
}

/// The system with every pipe one size larger that carries the zone's water and other zones' too, and how many these are.
fn wider_mains(project: &Project, zone: ZoneId) -> Option<(usize, Project)> {
    let design = design_flows(project).ok()?;
    let own = design.flows[*design.emitters.get(&zone)?];
    let study = crate::study::Study::new(&design.project).ok()?;
    let path = crate::study::path_of(&design.project, &study, zone);
    let is_shared = |id: &&PipeId| design.of(LinkOwner::Pipe(**id)).abs() > 1.01 * own;
    let mains: BTreeSet<PipeId> = path.pipes.iter().filter(is_shared).copied().collect();
    let mut system = project.clone();
    let mut widened = 0;
    for id in mains {
        if let Some(pipe) = system.pipes.get_mut(&id)
            && !pipe.is_joint()
        {
            widen(pipe);
            widened += 1;
        }
    }
    (widened > 0).then_some((widened, system))
}

/// One size larger in its series; a bore of no series a quarter wider. Fittings that are not to be had there keep their loss.
fn widen(pipe: &mut PipeRun) {
    let larger = pipe.size.and_then(|size| SizeOnSale::all_of(size.series()).find(|other| other.bore() > size.bore()));
    let bore = larger.map_or(pipe.bore * (1.0 + WIDER), |size| size.bore());
    pipe.rebore(bore, larger);
}

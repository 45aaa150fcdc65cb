//! Settings and presettings together: the balancing valves are moved too, one at a time, as long as the best setting gets better.
//!
//! Each valve is tried further open and further shut by a share that shrinks when nothing helps any more (a pattern search after Hooke
//! and Jeeves 1961). It finds a setting from which no single valve leads on, which need not be the best of all; what it finds is
//! never worse than where it began.

use super::best::{Best, NoBest, best};
use super::deciding::Deciding;
use super::watch::Watch;
use crate::document::{Command, ComponentId, ComponentKind, Project};
use crate::study::part_load::{PartLoad, PartLoadError};

/// Steps of a valve's Kv, as shares, one after the other.
const STEPS: [f64; 3] = [0.3, 0.12, 0.05];
/// Rounds through all valves at one step.
const MOST_ROUNDS: usize = 8;
/// By how much the mean power must fall to count, as a share.
const COUNTS: f64 = 5e-4;

/// Presettings with their best setting.
#[derive(Clone, Debug)]
pub struct Preset {
    /// The valves that are moved, with their Kv, m³/h.
    pub valves: Vec<(ComponentId, f64)>,
    /// The best setting with them.
    pub best: Best,
}

impl Preset {
    /// The commands that write presettings and settings.
    #[must_use]
    pub fn commands(&self, part_load: &PartLoad) -> Vec<Command> {
        let valve =
            |(id, kv): &(ComponentId, f64)| Command::SetKind(*id, Box::new(ComponentKind::BalancingValve { kv: *kv }));
        let settings = Command::SetRegulation(part_load.pump, self.best.settings);
        self.valves.iter().map(valve).chain([settings]).collect()
    }
}

/// How good a system is: what it lacks to be served, as a share of head; then its mean power, W.
type Worth = (f64, f64);

/// Moves the balancing valves as long as that helps.
///
/// # Errors
/// A system that cannot be studied.
pub fn with_presettings(
    project: &Project,
    part_load: &PartLoad,
    watch: &Watch,
) -> Result<Result<Preset, NoBest>, PartLoadError> {
    let mut system = project.clone();
    // Combinations are looked at when the presettings are found; on the way the scenarios alone lead.
    system.every_combination = false;
    let valves: Vec<ComponentId> = project
        .components
        .iter()
        .filter(|(_, component)| matches!(component.kind, ComponentKind::BalancingValve { .. }))
        .map(|(id, _)| *id)
        .collect();
    watch.more_to_come(STEPS.len() * valves.len());
    let mut now = tried(&system, part_load, watch)?;
    for step in STEPS {
        let mut round = 0;
        loop {
            let before = now;
            for valve in &valves {
                for factor in [1.0 + step, 1.0 / (1.0 + step)] {
                    if watch.is_given_up() {
                        return Ok(Err(NoBest::GivenUp));
                    }
                    let mut other = system.clone();
                    turn(&mut other, *valve, factor);
                    let there = tried(&other, part_load, watch)?;
                    if is_better(there, now) {
                        (system, now) = (other, there);
                        break;
                    }
                }
                if round == 0 {
                    watch.done(1);
                }
            }
            round += 1;
            if round == MOST_ROUNDS || !is_better(now, before) {
                break;
            }
        }
    }
    system.every_combination = project.every_combination;
    round_off(&mut system);
    let mut found = PartLoad::new(&system, part_load.pump)?;
    let kv =
        |id: &ComponentId| match (project.components.get(id)?.kind.clone(), system.components.get(id)?.kind.clone()) {
            (ComponentKind::BalancingValve { kv: old }, ComponentKind::BalancingValve { kv }) => {
                (old != kv).then_some((*id, kv))
            }
            _ => None,
        };
    let moved = valves.iter().filter_map(kv).collect();
    Ok(best(&mut found, &watch.of_part()).map(|best| Preset { valves: moved, best }))
}

fn tried(system: &Project, part_load: &PartLoad, watch: &Watch) -> Result<Worth, PartLoadError> {
    let mut probed = PartLoad::new(system, part_load.pump)?;
    let found = best(&mut probed, &watch.of_part());
    Ok(match &found {
        Ok(best) => (0.0, best.mean_w),
        Err(_) => (lack(&Deciding::new(&probed)), f64::INFINITY),
    })
}

/// How far the states' needs lie apart where no setting serves them all: the greatest head by which one asks for more than another
/// bears, as a share.
fn lack(deciding: &Deciding) -> f64 {
    let own = deciding.impossible.iter().map(|(_, served)| match (served.least, served.most) {
        (Some(least), Some(most)) => least.head / most.head - 1.0,
        _ => 1.0,
    });
    let between = deciding.floors.iter().flat_map(|floor| {
        let above = deciding.ceilings.iter().filter(|ceiling| ceiling.edge.flow >= floor.edge.flow);
        above.map(|ceiling| floor.edge.head / ceiling.edge.head - 1.0)
    });
    // Whole steps may miss what lies between.
    own.chain(between).fold(1e-6, f64::max)
}

fn is_better(there: Worth, here: Worth) -> bool {
    if here.0 > 0.0 { there.0 < here.0 * (1.0 - 1e-3) } else { there.0 == 0.0 && there.1 < here.1 * (1.0 - COUNTS) }
}

fn turn(system: &mut Project, valve: ComponentId, factor: f64) {
    if let Some(ComponentKind::BalancingValve { kv }) = system.components.get_mut(&valve).map(|c| &mut c.kind) {
        *kv *= factor;
    }
}

/// Kv to three figures: finer no valve is set.
fn round_off(system: &mut Project) {
    for component in system.components.values_mut() {
        if let ComponentKind::BalancingValve { kv } = &mut component.kind
            && *kv > 0.0
        {
            let scale = 10.0_f64.powf(2.0 - kv.log10().floor());
            *kv = (*kv * scale).round() / scale;
        }
    }
}

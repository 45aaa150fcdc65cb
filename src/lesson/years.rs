//! What the settings do in all scenarios, kept from check to check: probing a system takes longer than a frame, a setting does not.

use super::goal::{NO_PUMP, STANDS};
use crate::document::{Command, ComponentId, ComponentKind, Project, Zone, ZoneId};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::PartLoad;
use crate::study::settings::{Best, Deciding, Watch, best, miss_words};

/// The last system that was probed.
#[derive(Clone, Debug, Default)]
pub(super) struct Years {
    known: Option<Box<Known>>,
    /// A system that is not known yet is not probed now: the hand is changing it.
    pub waits: bool,
    /// Something was not told for that.
    pub is_owing: bool,
}

#[derive(Clone, Debug)]
struct Known {
    of: (Project, ComponentId),
    part_load: Result<(PartLoad, Deciding), String>,
    best: Option<Result<Best, ()>>,
}

impl Years {
    /// What the present settings miss in a scenario; `None` where they serve all.
    pub fn missed(&mut self, project: &Project, pump: ComponentId, units: &Units) -> Option<String> {
        let settings = match running(project, pump) {
            Ok(settings) => settings,
            Err(why) => return Some(why),
        };
        if !project.zones.iter().any(|zone| is_ever_open(project, zone)) {
            return Some("No zone is open in any scenario.".to_owned());
        }
        if self.puts_off(project, pump) {
            return Some(LATER.to_owned());
        }
        match &self.known(project, pump).part_load {
            Ok((part_load, deciding)) => {
                if let Some((state, _)) = deciding.impossible.first() {
                    return Some(format!("No setting serves “{}”.", part_load.state_name(*state)));
                }
                let law = part_load.law(&settings);
                match deciding.worst(&law) {
                    Some(miss) => Some(format!("{}.", miss_words(project, part_load, &miss, units))),
                    None if deciding.serves(&law) => None,
                    // What is no number is no success.
                    None => Some("Whether these settings serve every zone cannot be told.".to_owned()),
                }
            }
            Err(flaw) => Some(flaw.clone()),
        }
    }

    /// By how much the year's energy is more than such a share above the least; `None` where it is not.
    pub fn energy_missed(
        &mut self,
        project: &Project,
        pump: ComponentId,
        within: f64,
        units: &Units,
    ) -> Option<String> {
        let settings = match running(project, pump) {
            Ok(settings) => settings,
            Err(why) => return Some(why),
        };
        if self.puts_off(project, pump) {
            return Some(LATER.to_owned());
        }
        let Some(best) = self.best(project, pump) else {
            return Some("No setting serves every zone, so that there is none to come near to.".to_owned());
        };
        let mean_w = self.mean_w(project, pump, &settings).unwrap_or(f64::NAN);
        let over = mean_w / best.mean_w - 1.0;
        if !over.is_finite() {
            return Some("The energy of these settings cannot be told.".to_owned());
        }
        (over > within + 1e-9).then(|| {
            let over = units.format(Quantity::Share, over);
            format!("It takes {over} more than the best setting: {}.", self.energy(project, pump, mean_w, units))
        })
    }

    /// The most energy within such a share above the least, in words; `None` where it is not known, or not yet.
    pub fn most_energy(&mut self, project: &Project, pump: ComponentId, within: f64, units: &Units) -> Option<String> {
        if self.puts_off(project, pump) {
            return None;
        }
        let most_w = (1.0 + within) * self.best(project, pump)?.mean_w;
        Some(self.energy(project, pump, most_w, units))
    }

    /// A mean power over the scenarios as energy a year; as it is where the scenarios have no hours.
    fn energy(&mut self, project: &Project, pump: ComponentId, mean_w: f64, units: &Units) -> String {
        match &self.known(project, pump).part_load {
            Ok((part_load, _)) if part_load.has_hours() => {
                format!("{} a year", units.format(Quantity::Energy, part_load.year_of_mean_j(mean_w)))
            }
            _ => format!("{} on the mean", units.format(Quantity::Power, mean_w)),
        }
    }

    /// The best setting of a system; `None` where none serves.
    pub fn best(&mut self, project: &Project, pump: ComponentId) -> Option<Best> {
        let known = self.known(project, pump);
        let (part_load, _) = known.part_load.as_ref().ok()?;
        let found = known.best.get_or_insert_with(|| best(&mut part_load.clone(), &Watch::default()).map_err(|_| ()));
        found.ok()
    }

    /// Mean electric power under settings over the hours of the scenarios, W.
    pub fn mean_w(&mut self, project: &Project, pump: ComponentId, settings: &Regulation) -> Option<f64> {
        let (part_load, _) = self.known(project, pump).part_load.as_ref().ok()?;
        Some(part_load.mean_power_w(&part_load.law(settings)))
    }

    /// Whether a system must be probed first and that has to wait; it is owed then.
    fn puts_off(&mut self, project: &Project, pump: ComponentId) -> bool {
        let of = (essence(project, pump), pump);
        let puts_off = self.waits && self.known.as_ref().is_none_or(|known| known.of != of);
        self.is_owing |= puts_off;
        puts_off
    }

    fn known(&mut self, project: &Project, pump: ComponentId) -> &mut Known {
        let of = (essence(project, pump), pump);
        let known = self.known.take().filter(|known| known.of == of).unwrap_or_else(|| {
            let part_load = PartLoad::new(&of.0, pump).map_err(|flaw| format!("This cannot be studied: {flaw}."));
            let part_load = part_load.map(|part_load| {
                let deciding = Deciding::new(&part_load);
                (part_load, deciding)
            });
            Box::new(Known { of, part_load, best: None })
        });
        self.known.insert(known)
    }
}

/// What is told of a system that is still being changed.
const LATER: &str = "This is worked out once you let go.";

/// The settings of a circulator that runs, or why there are none.
fn running(project: &Project, pump: ComponentId) -> Result<Regulation, String> {
    let unit = project.pump(pump).ok_or(NO_PUMP)?;
    if unit.running { Ok(unit.regulation) } else { Err(STANDS.to_owned()) }
}

/// Whether a zone is open in some scenario, or as it stands where there is none.
fn is_ever_open(project: &Project, (id, zone): (&ZoneId, &Zone)) -> bool {
    match project.scenarios.as_slice() {
        [] => !project.is_zone_shut(zone),
        scenarios => scenarios.iter().any(|scenario| !scenario.shut.contains(id)),
    }
}

/// The project without what part load does not depend on: the pump's own settings, and which zones stand open just now where
/// scenarios say it.
fn essence(project: &Project, pump: ComponentId) -> Project {
    let mut essence = project.clone();
    if let Some(ComponentKind::Pump(unit)) = essence.components.get_mut(&pump).map(|component| &mut component.kind) {
        // Reference flow, power limit and minimum speed stay: the best setting keeps them.
        unit.regulation = Regulation { head_limit_m: Some(1.0), slope: 0.0, speed_cap: 1.0, ..unit.regulation };
        unit.running = true;
    }
    if !project.scenarios.is_empty() {
        let _ = essence.apply(&Command::OpenAllZones);
        let _ = essence.apply(&Command::SetOutdoor(None));
    }
    essence
}

//! What the settings do in all scenarios, kept from check to check: probing a system takes longer than a frame, a setting does not.

use crate::document::{Command, ComponentId, ComponentKind, Project};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::PartLoad;
use crate::study::settings::{Best, Deciding, Watch, best, miss_words};

/// The last system that was probed.
#[derive(Clone, Debug, Default)]
pub(super) struct Years {
    known: Option<Box<Known>>,
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
        let settings = project.pump(pump)?.regulation;
        match &self.known(project, pump).part_load {
            Ok((part_load, deciding)) => {
                if let Some((state, _)) = deciding.impossible.first() {
                    return Some(format!("No setting serves “{}”.", part_load.state_name(*state)));
                }
                let miss = deciding.worst(&part_load.law(&settings))?;
                Some(format!("{}.", miss_words(project, part_load, &miss, units)))
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
        let settings = project.pump(pump)?.regulation;
        let Some(best) = self.best(project, pump) else {
            return Some("No setting serves every zone, so that there is none to come near to.".to_owned());
        };
        let mean_w = self.mean_w(project, pump, &settings)?;
        let over = mean_w / best.mean_w - 1.0;
        (over > within + 1e-9).then(|| {
            let over = units.format(Quantity::Share, over);
            format!(
                "It takes {over} more than the best setting: {} on the mean.",
                units.format(Quantity::Power, mean_w)
            )
        })
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

//! Find the setting: a system that chance has changed a little, and settings to start from that do not serve it.

use super::chance::Chance;
use super::goal::Goal;
use super::restore::commands_between;
use super::template::Template;
use super::years::Years;
use crate::document::{Command, ComponentId, ComponentKind, Project, stepped};
use crate::engine::pump::Regulation;

/// A puzzle whose system and start come out of a seed.
#[derive(Clone, Debug)]
pub struct SettingPuzzle {
    /// Where the chance begins; a course may go on to others.
    pub seed: u64,
    /// By how much figures of the system may change, each a fraction of itself.
    pub vary: Vary,
    /// What is asked.
    pub question: Template,
    /// How much more energy than the best setting's is allowed, a fraction.
    pub within: f64,
    /// What is to be remembered, told at the end; may be empty.
    pub because: Template,
}

/// By how much figures of a system may change, each a fraction of itself.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vary {
    /// Lengths of pipes, all by the same.
    pub lengths: f64,
    /// Kv of balancing valves, each by its own.
    pub presettings: f64,
    /// Heat loads of zones, all by the same, so that the system stays balanced.
    pub loads: f64,
}

impl SettingPuzzle {
    /// What must be so in the end.
    #[must_use]
    pub fn goals(&self) -> [Goal; 2] {
        [Goal::AllScenariosServed, Goal::NearBest(self.within)]
    }

    /// The commands that make a seed's system out of the project: its figures, and settings to start from that miss a goal.
    ///
    /// # Errors
    /// A system that no setting serves, however little it is changed, as a sentence.
    pub fn begin(&self, seed: u64, project: &Project, pump: ComponentId) -> Result<Vec<Command>, String> {
        let mut chance = Chance::new(seed);
        // A change that leaves no setting that serves is halved, in the end to none.
        for part in [1.0, 0.5, 0.25, 0.0] {
            let mut varied = project.clone();
            self.put_into(&mut varied, &mut chance, part);
            let mut years = Years::default();
            let Some(best) = years.best(&varied, pump) else { continue };
            let settings = self.start(&mut chance, &varied, pump, &best.settings, &mut years);
            varied.apply(&Command::SetRegulation(pump, settings)).map_err(|flaw| flaw.to_string())?;
            return Ok(commands_between(project, &varied));
        }
        Err("no setting serves this system in every scenario: balance it, or widen its band".to_owned())
    }

    fn put_into(&self, project: &mut Project, chance: &mut Chance, part: f64) {
        let factor = |chance: &mut Chance, by: f64| 1.0 + part * by * chance.around();
        let longer = factor(chance, self.vary.lengths);
        project.pipes.values_mut().for_each(|pipe| pipe.length *= longer);
        let more = factor(chance, self.vary.loads);
        project.zones.values_mut().for_each(|zone| zone.load *= more);
        for component in project.components.values_mut() {
            if let ComponentKind::BalancingValve { kv } = &mut component.kind {
                *kv *= factor(chance, self.vary.presettings);
            }
        }
    }

    /// Settings to start from: away from the best ones, on whole steps, and missing a goal.
    fn start(
        &self,
        chance: &mut Chance,
        project: &Project,
        pump: ComponentId,
        best: &Regulation,
        years: &mut Years,
    ) -> Regulation {
        /// Starts tried; the last is sure to miss.
        const TRIES: u32 = 20;
        let Some(unit) = project.pump(pump) else { return *best };
        let (ranges, steps) = (unit.ranges(), unit.steps);
        let head = best.head_limit_m.unwrap_or(ranges.head_limit.1);
        let within = crate::document::within;
        for _ in 0..TRIES {
            let settings = Regulation {
                head_limit_m: Some(within(
                    stepped(head * (1.0 + 0.35 * chance.around()), steps.head_limit),
                    ranges.head_limit,
                )),
                slope: within(stepped(best.slope + 0.4 * chance.around(), steps.slope), ranges.slope),
                speed_cap: within(stepped(0.9 + 0.1 * chance.around(), steps.speed_cap), ranges.speed_cap),
                ..unit.regulation
            };
            let mut here = project.clone();
            if here.apply(&Command::SetRegulation(pump, settings)).is_err() {
                continue;
            }
            let units = crate::engine::units::Units::si();
            let misses = years.missed(&here, pump, &units).is_some()
                || years.energy_missed(&here, pump, self.within, &units).is_some();
            if misses {
                return settings;
            }
        }
        // As little head as the device takes starves somebody.
        Regulation { head_limit_m: Some(ranges.head_limit.0), ..*best }
    }
}

//! The states that a record is made of, each solved exactly: all zones open, each alone, all shut, and every scenario.

use super::super::beside::{Beside, all_beside};
use super::RecordError;
use crate::document::{Command, ComponentId, Project, ZoneId};
use crate::study::part_load::{PartLoad, ValveState};
use crate::study::{Results, Study, SweepError};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// What a state is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// One zone open, all others shut.
    Alone(ZoneId),
    /// All zones shut.
    Shut,
    /// A scenario, by number.
    Scenario(usize),
}

/// A state with its own project and study.
pub(super) struct State {
    /// Which.
    pub holds: Holds,
    /// The project in it.
    pub project: Project,
    /// Its study.
    pub study: Study,
}

/// A project with all that is predicted of it.
pub(super) struct Solved {
    /// The project with all zones open in the design's weather.
    pub project: Project,
    /// Its study.
    pub study: Study,
    /// Each zone alone.
    pub alone: Vec<(ZoneId, Results)>,
    /// All zones shut; `None` without zones.
    pub shut: Option<Results>,
    /// Scenario by scenario.
    pub scenarios: Vec<Results>,
    /// All of these with their studies.
    pub states: Vec<State>,
    /// The running circulator that comparisons are made for: the first.
    pub pump: Option<ComponentId>,
    /// Its settings beside others; empty where there are no scenarios to compare by.
    pub beside: Vec<Beside>,
}

impl Solved {
    /// Solves all states of a project.
    pub fn new(project: &Project) -> Result<Self, RecordError> {
        let mut open = project.clone();
        // Comparisons are made over the scenarios; combinations are a demand on the search, not on the record.
        open.every_combination = false;
        for command in with_shut(&open, BTreeSet::new()) {
            open.apply(&command).map_err(SweepError::from)?;
        }
        let study = Study::new(&open)?;
        let movable: BTreeSet<ZoneId> =
            open.zones.iter().filter(|(_, zone)| zone.valve.is_some()).map(|(id, _)| *id).collect();
        let all_but = |zone: &ZoneId| with_shut(&open, movable.iter().filter(|id| *id != zone).copied().collect());
        let mut cases: Vec<(Holds, Vec<Command>)> =
            movable.iter().map(|zone| (Holds::Alone(*zone), all_but(zone))).collect();
        cases.extend((!movable.is_empty()).then(|| (Holds::Shut, with_shut(&open, movable.clone()))));
        cases.extend(
            (0..open.scenarios.len()).map(|index| (Holds::Scenario(index), vec![Command::EnterScenario(index)])),
        );
        let states: Vec<Result<State, RecordError>> =
            cases.into_par_iter().map(|(holds, commands)| State::new(holds, &open, &commands)).collect();
        let states = states.into_iter().collect::<Result<Vec<State>, RecordError>>()?;
        let (mut alone, mut shut, mut scenarios) = (Vec::new(), None, Vec::new());
        for state in &states {
            let results = state.study.results().clone();
            match state.holds {
                Holds::Alone(zone) => alone.push((zone, results)),
                Holds::Shut => shut = Some(results),
                Holds::Scenario(_) => scenarios.push(results),
            }
        }
        let pump = open.pumps().find(|(_, unit)| unit.running).map(|(id, _)| id);
        let beside = match pump {
            Some(pump) if !open.scenarios.is_empty() && !open.zones.is_empty() => {
                all_beside(&open, &PartLoad::new(&open, pump)?)?
            }
            _ => Vec::new(),
        };
        Ok(Self { project: open, study, alone, shut, scenarios, states, pump, beside })
    }

    /// What everything does with all zones open.
    pub fn results(&self) -> &Results {
        self.study.results()
    }

    /// The name of a component.
    pub fn name(&self, id: ComponentId) -> &str {
        self.project.components.get(&id).map_or("", |component| component.name.as_str())
    }

    /// The name of a zone.
    pub fn zone(&self, id: ZoneId) -> &str {
        self.project.zones.get(&id).map_or("", |zone| zone.name.as_str())
    }

    /// The circulators that run, in their order.
    pub fn running(&self) -> Vec<ComponentId> {
        self.project.pumps().filter(|(_, unit)| unit.running).map(|(id, _)| id).collect()
    }

    /// Whether every state was solved.
    pub fn converged(&self) -> bool {
        let alone = self.alone.iter().map(|(_, results)| results);
        let all = alone.chain(&self.shut).chain(&self.scenarios).chain([self.results()]);
        all.into_iter().all(Results::converged) && self.beside.iter().all(|one| one.converged)
    }

    /// What the predicted figures stand for, and whether they do.
    pub fn words(&self) -> String {
        if self.pump.is_none() {
            return "No circulator runs in this project, so nothing is predicted: start one, and make the record anew."
                .to_owned();
        }
        if !self.converged() {
            return "Some states did not converge: do not use their predicted figures.".to_owned();
        }
        "Predicted figures are solved with all zones open at the design's temperatures, unless a line says otherwise."
            .to_owned()
    }
}

impl State {
    fn new(holds: Holds, open: &Project, commands: &[Command]) -> Result<Self, RecordError> {
        let mut project = open.clone();
        for command in commands {
            project.apply(command).map_err(SweepError::from)?;
        }
        let study = Study::new(&project)?;
        Ok(Self { holds, project, study })
    }
}

/// The commands that shut some zones and open all others, in the design's weather.
fn with_shut(project: &Project, shut: BTreeSet<ZoneId>) -> Vec<Command> {
    ValveState { name: String::new(), hours: 0.0, shut, outdoor_c: None }.commands(project)
}

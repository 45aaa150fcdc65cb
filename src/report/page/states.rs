//! The states of the zone valves that a page answers for: the scenarios, all zones open and shut, each zone alone, and every
//! combination where they are few. Each is solved once; what is listed and what is switched share the answers.

use crate::document::{Project, ZoneId};
use crate::study::part_load::ValveState;
use crate::study::{Study, SweepError};
use rayon::prelude::*;
use std::collections::BTreeSet;

/// Zones with valves up to which every combination is computed, with one circulator and with several: 256 states and 64, since
/// each has a system curve of every circulator.
const MOST_COMBINED: [usize; 2] = [8, 6];

/// Zones with valves up to which each is shown alone.
const MOST_ALONE: usize = 40;

/// Where a state stands in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Group {
    /// A scenario of the project.
    Scenario,
    /// All zones at once.
    Together,
    /// One zone.
    Alone,
}

/// A state in the list.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Listed {
    pub group: Group,
    pub name: String,
    /// Hours a year, of a scenario.
    pub hours: Option<f64>,
    /// Its number among the positions.
    pub position: usize,
}

/// Which zones are shut, in which weather.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Position {
    pub shut: BTreeSet<ZoneId>,
    /// Outdoors, °C; `None` for the design's.
    pub outdoor_c: Option<f64>,
}

/// All states of a page.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct States {
    pub listed: Vec<Listed>,
    pub positions: Vec<Position>,
    /// The valves as the project has them, by number among the listed.
    pub present: usize,
    /// What else is computed, and what is not, in a sentence.
    pub reach: String,
}

impl States {
    /// Those of a project.
    pub(super) fn of(project: &Project) -> Self {
        let movable: Vec<ZoneId> =
            project.zones.iter().filter(|(_, zone)| zone.valve.is_some()).map(|(id, _)| *id).collect();
        let movable_set: BTreeSet<ZoneId> = movable.iter().copied().collect();
        let all_but = |one: ZoneId| movable.iter().copied().filter(|id| *id != one).collect::<BTreeSet<_>>();
        let several = project.pumps().filter(|(_, unit)| unit.running).count() > 1;
        let most = MOST_COMBINED[usize::from(several)];
        let is_combined = movable.len() <= most;
        let mut states =
            Self { listed: Vec::new(), positions: Vec::new(), present: 0, reach: reach(movable.len(), most) };
        for scenario in &project.scenarios {
            // A zone without a valve cannot be shut, whatever a scenario says.
            let shut = scenario.shut.intersection(&movable_set).copied().collect();
            let position = Position { shut, outdoor_c: scenario.outdoor_c };
            states.list(Group::Scenario, &scenario.name, Some(scenario.hours_per_year), position);
        }
        let present = Position {
            shut: project.zones.iter().filter(|(_, zone)| project.is_zone_shut(zone)).map(|(id, _)| *id).collect(),
            outdoor_c: project.outdoor_now_c,
        };
        let at_design = |shut| Position { shut, outdoor_c: None };
        states.list(Group::Together, "All zones open", None, at_design(BTreeSet::new()));
        if !movable.is_empty() {
            let name = if movable.len() == project.zones.len() { "All zones shut" } else { "All that can be shut" };
            states.list(Group::Together, name, None, at_design(movable_set.clone()));
        }
        if states.number(&present).is_none() {
            states.list(Group::Together, "Valves as they stand", None, present.clone());
        }
        if movable.len() > 1 && movable.len() <= MOST_ALONE {
            for id in &movable {
                let name = project.zones.get(id).map_or("", |zone| zone.name.as_str());
                states.list(Group::Alone, name, None, at_design(all_but(*id)));
            }
        }
        if !is_combined && movable.len() <= MOST_ALONE {
            // From all open, each zone can at least be shut.
            for id in &movable {
                states.take(at_design(BTreeSet::from([*id])));
            }
        }
        if is_combined {
            for number in 0..1_usize << movable.len() {
                let is_shut = |(bit, _): &(usize, &ZoneId)| number & (1 << bit) != 0;
                states.take(at_design(movable.iter().enumerate().filter(is_shut).map(|(_, id)| *id).collect()));
            }
        }
        let number = states.number(&present).unwrap_or(0);
        states.present = states.listed.iter().position(|listed| listed.position == number).unwrap_or(0);
        states
    }

    fn number(&self, wanted: &Position) -> Option<usize> {
        self.positions.iter().position(|known| known == wanted)
    }

    /// The number of a position, which is taken in where it is new.
    fn take(&mut self, position: Position) -> usize {
        self.number(&position).unwrap_or_else(|| {
            self.positions.push(position);
            self.positions.len() - 1
        })
    }

    fn list(&mut self, group: Group, name: &str, hours: Option<f64>, position: Position) {
        let position = self.take(position);
        self.listed.push(Listed { group, name: name.to_owned(), hours, position });
    }

    /// Studies every position, keeping of each what is asked for.
    ///
    /// # Errors
    /// The first position that cannot be studied.
    pub(super) fn solve<T: Send>(
        &self,
        project: &Project,
        keep: impl Fn(&Project, &Study) -> T + Sync,
    ) -> Result<Vec<T>, SweepError> {
        self.positions.par_iter().map(|position| position.studied(project, &keep)).collect()
    }
}

impl Position {
    fn studied<T>(&self, project: &Project, keep: &impl Fn(&Project, &Study) -> T) -> Result<T, SweepError> {
        let state = ValveState { name: String::new(), hours: 0.0, shut: self.shut.clone(), outdoor_c: self.outdoor_c };
        let mut case = project.clone();
        for command in state.commands(project) {
            case.apply(&command)?;
        }
        let study = Study::new(&case)?;
        Ok(keep(&case, &study))
    }
}

/// How far the zones can be switched one by one.
fn reach(movable: usize, most: usize) -> String {
    match movable {
        0 => "No zone has a valve that shuts it, so there is one state only.".to_owned(),
        count if count <= most => {
            "Every combination of open zones was computed when this page was made: switch zones as you like.".to_owned()
        }
        count => format!(
            "{count} zones have too many combinations to compute them all ({most} zones at most): a zone can be \
             switched where this leads to a state that was computed, which are those listed{}.",
            if count <= MOST_ALONE { " and those with all zones open but one" } else { "" }
        ),
    }
}

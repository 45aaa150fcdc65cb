//! States of all zone valves: the named scenarios of a project, and the combinations of zones that may be open together.

use crate::document::{Command, Project, ZoneId};
use std::collections::BTreeSet;

/// Zones with valves up to which every combination is looked at.
pub const MOST_FOR_ALL: usize = 14;

/// Combinations drawn by chance where there are too many for all.
const DRAWN: usize = 2048;

/// Where the chance begins: the same combinations on every machine and every run.
const SEED: u64 = 0x9E37_79B9_7F4A_7C15;

/// One state of all zone valves.
#[derive(Clone, Debug, PartialEq)]
pub struct ValveState {
    /// The scenario's name, or which zones are open.
    pub name: String,
    /// Hours a year; none for a combination.
    pub hours: f64,
    /// The zones that are shut.
    pub shut: BTreeSet<ZoneId>,
    /// The outdoor temperature, °C; `None` for the design's.
    pub outdoor_c: Option<f64>,
}

impl ValveState {
    /// All zones open in the design's weather.
    pub(super) fn all_open() -> Self {
        Self { name: String::new(), hours: 0.0, shut: BTreeSet::new(), outdoor_c: None }
    }

    /// The commands that bring a project into this state.
    #[must_use]
    pub fn commands(&self, project: &Project) -> Vec<Command> {
        let valves = project.zones.iter().filter_map(|(id, zone)| Some((zone.valve?, !self.shut.contains(id))));
        let valves = valves.map(|(valve, open)| Command::SetOpen(valve, open));
        valves.chain([Command::SetOutdoor(self.outdoor_c)]).collect()
    }

    /// Seconds a year.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.hours * 3600.0
    }
}

/// The named scenarios in their order; where there are none, the valves as they stand.
#[must_use]
pub fn scenarios(project: &Project) -> Vec<ValveState> {
    if project.scenarios.is_empty() {
        let shut = project.zones.iter().filter(|(_, zone)| project.is_zone_shut(zone)).map(|(id, _)| *id).collect();
        let name = "Valves as they stand".to_owned();
        return vec![ValveState { name, hours: 0.0, shut, outdoor_c: project.outdoor_now_c }];
    }
    let state = |scenario: &crate::document::Scenario| ValveState {
        name: scenario.name.clone(),
        hours: scenario.hours_per_year,
        // A zone without a valve cannot be shut, whatever a scenario says.
        shut: scenario
            .shut
            .iter()
            .filter(|id| project.zones.get(id).is_some_and(|z| z.valve.is_some()))
            .copied()
            .collect(),
        outdoor_c: scenario.outdoor_c,
    };
    project.scenarios.iter().map(state).collect()
}

/// Combinations of zones that may be open together.
#[derive(Clone, Debug, PartialEq)]
pub struct Combinations {
    /// The states, without hours; each has at least one zone open.
    pub states: Vec<ValveState>,
    /// Whether these are all there are.
    pub is_complete: bool,
    /// How many there are.
    pub count: f64,
}

impl Combinations {
    /// What was looked at, in words.
    #[must_use]
    pub fn words(&self) -> String {
        let looked_at = self.states.len();
        if self.is_complete {
            return format!("all {looked_at} combinations of open zones");
        }
        format!(
            "{looked_at} of {:.3e} combinations: each zone alone, each zone shut alone, and {DRAWN} drawn by chance, always the \
             same ones",
            self.count
        )
    }
}

/// All combinations up to [`MOST_FOR_ALL`] zones with valves, one zone's valve moving from each to the next; above that each
/// zone alone, each zone alone shut, all open, and a sample that is always the same.
#[must_use]
pub fn combinations(project: &Project) -> Combinations {
    let movable: Vec<ZoneId> =
        project.zones.iter().filter(|(_, zone)| zone.valve.is_some()).map(|(id, _)| *id).collect();
    let always_open = movable.len() < project.zones.len();
    let count = 2.0_f64.powi(i32::try_from(movable.len()).unwrap_or(i32::MAX)) - if always_open { 0.0 } else { 1.0 };
    let state = |shut: BTreeSet<ZoneId>| ValveState { name: name(project, &shut), hours: 0.0, shut, outdoor_c: None };
    if movable.len() <= MOST_FOR_ALL {
        // Gray's order, in which one bit changes from each number to the next.
        let masks = (0..1_usize << movable.len()).map(|number| number ^ (number >> 1));
        let masks = masks.filter(|open| always_open || *open != 0);
        let shut = |open: usize| {
            movable.iter().enumerate().filter(|(bit, _)| open & (1 << bit) == 0).map(|(_, id)| *id).collect()
        };
        let states: Vec<ValveState> = masks.map(|open| state(shut(open))).collect();
        return Combinations { states, is_complete: true, count };
    }
    let all: BTreeSet<ZoneId> = movable.iter().copied().collect();
    let mut sets: BTreeSet<BTreeSet<ZoneId>> = BTreeSet::from([BTreeSet::new()]);
    for zone in &movable {
        sets.insert(BTreeSet::from([*zone]));
        sets.insert(all.iter().filter(|id| *id != zone).copied().collect());
    }
    let mut chance = SEED;
    for _ in 0..DRAWN {
        // How many are shut is drawn first, so that few and many open zones are seen as often.
        let shut = (next(&mut chance) % movable.len() as u64) as usize;
        let mut order = movable.clone();
        for place in 0..shut {
            let other = place + (next(&mut chance) % (order.len() - place) as u64) as usize;
            order.swap(place, other);
        }
        sets.insert(order[..shut].iter().copied().collect());
    }
    Combinations { states: sets.into_iter().map(state).collect(), is_complete: false, count }
}

/// The next number of a sequence by xorshift (Marsaglia 2003).
fn next(state: &mut u64) -> u64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    *state
}

/// Open zones that are named one by one.
const NAMED: usize = 6;

/// "Office radiators alone", "Office radiators and Meeting radiators", "all but Office radiators", "7 of 12 zones open, …".
fn name(project: &Project, shut: &BTreeSet<ZoneId>) -> String {
    let called = |id: &ZoneId| project.zones.get(id).map_or("", |zone| zone.name.as_str());
    let open: Vec<&str> = project.zones.keys().filter(|id| !shut.contains(id)).map(called).collect();
    match (open.as_slice(), shut.iter().collect::<Vec<_>>().as_slice()) {
        (_, []) => "all zones open".to_owned(),
        ([], _) => "no zone open".to_owned(),
        ([one], _) => format!("{one} alone"),
        (_, [one]) => format!("all but {}", called(one)),
        ([one, other], _) => format!("{one} and {other}"),
        (some, _) if some.len() <= NAMED => some.join(", "),
        (some, _) => format!("{} of {} zones open, {} first", some.len(), project.zones.len(), some[..2].join(", ")),
    }
}

/// The hours by which the states are weighed: their own, or one each where nobody has given any.
#[must_use]
pub fn weights(states: &[ValveState]) -> Vec<f64> {
    let sum: f64 = states.iter().map(|state| state.hours).sum();
    states.iter().map(|state| if sum > 0.0 { state.hours } else { 1.0 }).collect()
}

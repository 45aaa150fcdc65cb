//! Why a setting is the best, in sentences: what keeps each of the three settings from saving more, or why nothing serves.

use super::best::Best;
use super::deciding::{Deciding, Miss};
use crate::document::{Project, ZoneId};
use crate::engine::pump::Regulation;
use crate::engine::units::{Quantity, Units};
use crate::problems::Place;
use crate::study::part_load::{Edge, PartLoad, Reason, Served, Worst};
use crate::study::{ZoneState, share_as_set, share_beside_state};

/// One of the three settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// The head limit.
    HeadLimit,
    /// The slope.
    Slope,
    /// The speed cap.
    SpeedCap,
}

/// What keeps one setting from saving more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Binding {
    /// Which setting.
    pub setting: Setting,
    /// The settings with this one a step further.
    pub next: Regulation,
    /// What would be missed then.
    pub miss: Miss,
    /// Share of design flow that the zone would get then, where the miss speaks of one.
    pub share: Option<f64>,
}

/// What keeps each setting from saving more: with one more step of it something is missed.
#[must_use]
pub fn bindings(part_load: &PartLoad, deciding: &Deciding, settings: &Regulation) -> Vec<Binding> {
    let steps = part_load.steps;
    let step = |setting: Setting| match setting {
        Setting::HeadLimit => {
            Regulation { head_limit_m: settings.head_limit_m.map(|limit| limit - steps.head_limit), ..*settings }
        }
        Setting::Slope => Regulation { slope: settings.slope + steps.slope, ..*settings },
        Setting::SpeedCap => Regulation { speed_cap: settings.speed_cap - steps.speed_cap, ..*settings },
    };
    let binding = |setting: Setting| {
        let next = step(setting);
        next.check().ok()?;
        let law = part_load.law(&next);
        let miss = deciding.worst(&law)?;
        let share = miss.reason.zone().and_then(|zone| part_load.zone_in(&law, miss.state, zone));
        Some(Binding { setting, next, miss, share: share.map(|[share, _]| share) })
    };
    [Setting::Slope, Setting::HeadLimit, Setting::SpeedCap].into_iter().filter_map(binding).collect()
}

/// The best setting in two sentences: what it does, and what keeps it from doing better.
#[must_use]
pub fn explanation(project: &Project, part_load: &PartLoad, deciding: &Deciding, best: &Best, units: &Units) -> String {
    let tell = Teller { project, part_load, units };
    let settings = &best.settings;
    let count = part_load.tables.len();
    let scenarios = match count {
        _ if project.scenarios.is_empty() => "with the valves as they stand".to_owned(),
        1 => "in the one scenario".to_owned(),
        _ => format!("in all {count} scenarios"),
    };
    let combined = part_load.combined.as_ref().map_or_else(String::new, |all| format!(" and in {}", all.words));
    let mean = units.format(Quantity::Power, best.mean_w);
    let year = match part_load.has_hours() {
        true => format!("{} a year", units.format(Quantity::Energy, part_load.year_of_mean_j(best.mean_w))),
        false if count == 1 => mean,
        false => format!("{mean} on the mean of the scenarios, for none has hours"),
    };
    let first = format!(
        "{}, slope {} and cap {} keep every zone in its band {scenarios}{combined}, for {year}.",
        units.format(Quantity::Head, settings.head_limit_m.unwrap_or(0.0)),
        share_as_set(settings.slope, units),
        share_as_set(settings.speed_cap, units)
    );
    let all = bindings(part_load, deciding, settings);
    // The second tells of another state where there is one.
    let other =
        |first: &Binding| all.iter().skip(1).find(|binding| binding.miss.state != first.miss.state).or(all.get(1));
    let Some(first_bound) = all.first() else { return first };
    let bound: Vec<String> =
        [Some(first_bound), other(first_bound)].into_iter().flatten().map(|b| tell.binding(b, settings)).collect();
    format!("{first} {}.", bound.join("; "))
}

/// In which scenarios a source falls below its minimum flow with settings, in a sentence; empty where none does.
#[must_use]
pub fn sources_words(part_load: &PartLoad, settings: &Regulation) -> String {
    let short = part_load.sources_short(&part_load.law(settings));
    if short.is_empty() {
        return String::new();
    }
    let names: Vec<String> = short.iter().map(|state| format!("“{}”", part_load.state_name(*state))).collect();
    format!(
        "A source has less than its minimum flow in {}: the zones alone do not take it. Give it a bypass, or a buffer.",
        names.join(", ")
    )
}

/// Why no setting serves, in a sentence or two.
#[must_use]
pub fn why_none(project: &Project, part_load: &PartLoad, deciding: &Deciding, units: &Units) -> String {
    let tell = Teller { project, part_load, units };
    if let Some((state, served)) = deciding.impossible.first() {
        return tell.impossible(*state, served);
    }
    // The cap must let the pump reach every edge; what lies below that is kept from being passed by the set-line alone.
    let cap = deciding.floors.iter().map(|floor| floor.edge.speed).fold(0.0, f64::max);
    let held = deciding.ceilings.iter().filter(|ceiling| ceiling.edge.speed < cap);
    let clashes = held.flat_map(|ceiling| {
        deciding.floors.iter().filter_map(move |floor| Some((clash(&floor.edge, &ceiling.edge)?, floor, ceiling)))
    });
    let Some(((_, why), floor, ceiling)) = clashes.max_by(|a, b| a.0.0.total_cmp(&b.0.0)) else {
        return "No setting of this circulator in its steps serves every zone: allow finer steps, balance the zones, or widen the \
                band."
            .to_owned();
    };
    let head = |head| units.format(Quantity::Head, head);
    format!(
        "No setting serves every zone. In “{}” {} at {} or below, and in “{}” {} above {}: {why}. Pressure-independent valves, \
         another balance or a wider band would help.",
        part_load.state_name(floor.state),
        tell.reason(&floor.edge.reason),
        head(floor.edge.head),
        part_load.state_name(ceiling.state),
        tell.reason(&ceiling.edge.reason),
        head(ceiling.edge.head)
    )
}

/// Whether no set-line reaches one edge without passing another, by how much, and why: it neither falls with flow nor rises more
/// steeply than from no head at no flow.
fn clash(floor: &Edge, ceiling: &Edge) -> Option<(f64, &'static str)> {
    let (heads, flows) = (floor.head / ceiling.head, floor.flow / ceiling.flow);
    if flows <= 1.0 {
        return (heads > 1.0).then_some((heads - 1.0, "a set-line does not fall with flow"));
    }
    let steeper = heads / flows;
    (steeper > 1.0).then_some((steeper - 1.0, "a set-line rises no more steeply than from no head at no flow"))
}

struct Teller<'a> {
    project: &'a Project,
    part_load: &'a PartLoad,
    units: &'a Units,
}

impl Teller<'_> {
    fn zone(&self, id: ZoneId) -> &str {
        self.project.zones.get(&id).map_or("a zone", |zone| zone.name.as_str())
    }

    fn set(&self, share: f64) -> String {
        share_as_set(share, self.units)
    }

    /// "“Office alone” at 0.22 m³/h limits the slope to 37 %: at 38 % Office radiators gets 89.6 %".
    fn binding(&self, binding: &Binding, settings: &Regulation) -> String {
        let head = |settings: &Regulation| self.units.format(Quantity::Head, settings.head_limit_m.unwrap_or(0.0));
        let (needs, next) = match binding.setting {
            Setting::Slope => {
                (format!("limits the slope to {}", self.set(settings.slope)), self.set(binding.next.slope))
            }
            Setting::HeadLimit => (format!("needs a head limit of {}", head(settings)), head(&binding.next)),
            Setting::SpeedCap => {
                (format!("needs a speed cap of {}", self.set(settings.speed_cap)), self.set(binding.next.speed_cap))
            }
        };
        let miss = &binding.miss;
        let state = self.part_load.state_name(miss.state);
        let flow = self.part_load.flow_in(&self.part_load.law(settings), miss.state);
        let flow = flow.map_or_else(String::new, |flow| format!(" at {}", self.units.format(Quantity::Flow, flow)));
        let gets = match (miss.reason, binding.share) {
            // With flow enough a zone is short of heat: its thermostatic valve asks for more.
            (Reason::Starves(zone), Some(share)) if share >= self.project.acceptance.low => {
                format!("the room of {} does not get what it needs", self.zone(zone))
            }
            (Reason::Starves(zone), Some(share)) => {
                let share = share_beside_state(share, Some(ZoneState::Starved), &self.project.acceptance, self.units);
                format!("{} gets {share}", self.zone(zone))
            }
            (reason, _) => self.reason(&reason),
        };
        format!("“{state}”{flow} {needs}: at {next} {gets}")
    }

    /// "Bay 1 starves".
    fn reason(&self, reason: &Reason) -> String {
        match reason {
            Reason::Starves(zone) => format!("{} starves", self.zone(*zone)),
            Reason::Overflows(zone) => format!("{} overflows", self.zone(*zone)),
            Reason::TooLoud(worst) => self.loud(worst),
        }
    }

    /// "the pipe Main 1 passes 1.2 m/s".
    fn loud(&self, worst: &Worst) -> String {
        match worst.place {
            Place::Pipe(id) => {
                let name = self.project.pipes.get(&id).map_or_else(String::new, |pipe| self.project.pipe_label(pipe));
                format!("the pipe {name} exceeds {}", self.units.format(Quantity::Velocity, worst.allowed))
            }
            Place::Component(id) => {
                let name = self.project.components.get(&id).map_or("a valve", |component| component.name.as_str());
                format!("{name} takes more than {}", self.units.format(Quantity::Pressure, worst.allowed))
            }
            Place::Zone(_) | Place::Project => "a limit is passed".to_owned(),
        }
    }

    fn impossible(&self, state: usize, served: &Served) -> String {
        let name = self.part_load.state_name(state);
        let head = |head| self.units.format(Quantity::Head, head);
        match (served.least, served.most) {
            (Some(least), _) if served.beyond => format!(
                "In “{name}” {} even at full speed, at {} and {}. A larger circulator, wider pipes or valves that throttle \
                 less would help.",
                self.reason(&least.reason),
                self.units.format(Quantity::Flow, least.flow),
                head(least.head)
            ),
            (_, Some(most)) if served.always => format!(
                "In “{name}” {} however slowly this circulator turns, for another one drives it. Set that one lower.",
                self.reason(&most.reason)
            ),
            (Some(least), Some(most)) => format!(
                "In “{name}” no setting serves: below {} {}, but from {} on {}. Balance the zones, give them \
                 pressure-independent valves, or widen the band.",
                head(least.head),
                self.reason(&least.reason),
                head(most.head),
                self.reason(&most.reason)
            ),
            _ => format!("In “{name}” no setting serves."),
        }
    }
}

/// What happens where a setting misses, in a few words: "Office radiators starves in “Office alone”".
#[must_use]
pub fn miss_words(project: &Project, part_load: &PartLoad, miss: &Miss, units: &Units) -> String {
    let tell = Teller { project, part_load, units };
    format!("{} in “{}”", tell.reason(&miss.reason), part_load.state_name(miss.state))
}

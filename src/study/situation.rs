//! The situation in a few words: what is wrong, what happens and why, what would help. Made from the present numbers, for every
//! state that a project can be in; short enough for two lines of a window 1280 points wide.

use super::Study;
use super::governs;
use super::lower::LinkOwner;
use super::results::{NOTHING, PumpResult, Results};
use super::source_flows::ill_source;
use super::words::{verdict_sentence, zones_outside};
use super::zones::ZoneState;
use crate::document::{ComponentId, ComponentKind, Project};
use crate::engine::network::Verdict;
use crate::engine::pump::{GoverningLimit, Regulation};
use crate::engine::units::{Quantity, Units};

/// What is so at a moment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Situation {
    /// What is wrong, in a few words; empty while nothing is.
    pub wrong: String,
    /// What happens and why.
    pub now: String,
    /// The same in fewer words, for where that does not fit: the fullest first.
    pub shorter: Vec<String>,
    /// What would help, or what else is so; may be empty.
    pub more: String,
    /// Whether the figures cannot be trusted or nothing runs.
    pub is_grave: bool,
}

/// The situation of a project, seen from the pump in hand; `scenario` is the name of that which the valves stand in, if any.
#[must_use]
pub fn situation(
    project: &Project,
    study: &Study,
    pump: Option<ComponentId>,
    scenario: Option<&str>,
    units: &Units,
) -> Situation {
    let results = study.results();
    let Some((id, result)) = pump.and_then(|id| Some((id, results.pumps.get(&id)?))) else {
        return Situation {
            now: "There is no circulator in this project: nothing flows.".to_owned(),
            more: "Put one into a pipe: choose Draw and drag it from the shelf.".to_owned(),
            is_grave: true,
            ..Situation::default()
        };
    };
    let scene = Scene { project, study, results, units, id, pump: result, open: standing_open(results, scenario) };
    if results.verdict == Verdict::NoPump {
        return scene.off();
    }
    let verdict = verdict_sentence(results, result);
    if !verdict.is_empty() && (!result.beyond_data || !results.converged() || !results.stable) {
        let (now, more) = verdict.split_once(". ").map_or((verdict.as_str(), ""), |(now, more)| (now, more));
        let now = if more.is_empty() { now.to_owned() } else { format!("{now}.") };
        return Situation { now, more: more.to_owned(), is_grave: true, ..Situation::default() };
    }
    if !result.running {
        return scene.off();
    }
    let settings = project.pump(id).map(|unit| &unit.regulation);
    let ranges = study.curves(id).map_or(&[][..], |curves| &curves.ranges);
    let ways = || governs::sentences(result, settings, ranges, &scene.open, units);
    let mut ways = scene.no_flow().map_or_else(ways, |words| vec![words]);
    let now = ways.remove(0);
    let ill = ill_source(project, results, units);
    let wrong = [ill.as_ref().map_or(String::new(), |ill| ill.0.clone()), zones_outside(results)];
    Situation {
        wrong: wrong.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" "),
        now,
        shorter: ways,
        more: ill.map(|ill| ill.1).or_else(|| scene.more(settings)).unwrap_or_default(),
        is_grave: false,
    }
}

/// " with 2 of 4 zones open", or in which scenario; empty without zones.
fn standing_open(results: &Results, scenario: Option<&str>) -> String {
    let all = results.zones.len();
    let open = results.zones.values().filter(|zone| zone.state != ZoneState::Shut).count();
    // A long name would take the room of what is said of it.
    let scenario = scenario.filter(|name| name.chars().count() <= LONG_NAME);
    match (open, scenario) {
        _ if all == 0 => String::new(),
        (1, _) if all == 1 => " with its zone open".to_owned(),
        (open, _) if open == all => " with all zones open".to_owned(),
        (_, Some(name)) => format!(" in “{name}”"),
        (0, None) => " with all zones shut".to_owned(),
        (open, None) => format!(" with {open} of {all} zones open"),
    }
}

/// Letters of a scenario's name that still fit into the sentence.
const LONG_NAME: usize = 24;

/// What the sentences are made from.
struct Scene<'a> {
    project: &'a Project,
    study: &'a Study,
    results: &'a Results,
    units: &'a Units,
    id: ComponentId,
    pump: &'a PumpResult,
    open: String,
}

impl Scene<'_> {
    fn name(&self, id: ComponentId) -> &str {
        self.project.components.get(&id).map_or("", |component| component.name.as_str())
    }

    fn flow(&self, flow: f64) -> String {
        self.units.format(Quantity::Flow, flow)
    }

    /// The other pumps that run.
    fn others(&self) -> impl Iterator<Item = (ComponentId, &PumpResult)> {
        self.results.pumps.iter().filter(|(id, pump)| pump.running && **id != self.id).map(|(id, pump)| (*id, pump))
    }

    fn count(&self, state: ZoneState) -> usize {
        self.results.zones.values().filter(|zone| zone.state == state).count()
    }

    /// The pump in hand stands: who runs instead.
    fn off(&self) -> Situation {
        let here = self.name(self.id);
        let running = self.others().map(|(id, pump)| {
            let head = self.units.format(Quantity::Head, pump.head);
            format!("{} delivers {} at {head}", self.name(id), self.flow(pump.flow))
        });
        let running: Vec<String> = running.collect();
        if running.is_empty() {
            let now = format!("{here} is off: nothing flows{}.", self.open);
            let more = "Start it beside its name; its settings can be made before.".to_owned();
            return Situation { now, more, ..Situation::default() };
        }
        let (wrong, more) = (zones_outside(self.results), self.more(None).unwrap_or_default());
        let now = format!("{here} is off{}; {}.", self.open, running.join(", "));
        let shorter = vec![format!("{here} is off; {}.", running.join(", ")), format!("{here} is off; others run.")];
        Situation { wrong, now, shorter, more, is_grave: false }
    }

    /// Why nothing flows through a pump that runs.
    fn no_flow(&self) -> Option<String> {
        let most = self.project.pump(self.id)?.catalogue.iter().map(|point| point.flow).fold(0.0, f64::max);
        if self.pump.flow.abs() > NOTHING * most {
            return None;
        }
        let head = self.units.format(Quantity::Head, self.pump.head);
        let open = self.results.zones.values().filter(|zone| zone.state != ZoneState::Shut).count();
        let other = self.others().find(|(_, pump)| pump.circuit == self.pump.circuit && pump.flow > NOTHING * most);
        Some(if let Some((other, _)) = other {
            format!(
                "{} gives more head and keeps this pump shut: it holds {head} at no flow. Stop it.",
                self.name(other)
            )
        } else if open == 0 && self.count(ZoneState::Shut) > 0 {
            format!(
                "All zones are shut: the pump holds {head} against closed valves. Open a zone, fit a bypass or stop it."
            )
        } else if open > 0 && self.count(ZoneState::Throttled) == open {
            format!("No room asks for any: thermostatic valves keep all shut, and the pump holds {head}. Stop it.")
        } else {
            format!("Nothing flows{}: the pump holds {head} against what is shut. Look for a shut valve.", self.open)
        })
    }

    /// What would help, or what else is so; the gravest first.
    fn more(&self, settings: Option<&Regulation>) -> Option<String> {
        let beyond = || {
            self.pump
                .beyond_data
                .then(|| "The point lies beyond the catalogue data: head and power there are extrapolated.".to_owned())
        };
        let served = || {
            let all_kept = self
                .results
                .zones
                .values()
                .all(|zone| matches!(zone.state, ZoneState::Served | ZoneState::Shut | ZoneState::Throttled));
            let any = self.results.zones.values().any(|zone| zone.state != ZoneState::Shut);
            (all_kept && any).then(|| "Every open zone keeps its band.".to_owned())
        };
        self.limiters_short()
            .or_else(beyond)
            .or_else(|| self.help(settings?))
            .or_else(|| self.bypass())
            .or_else(|| self.limiters_hold())
            .or_else(|| self.thermostats())
            .or_else(|| self.check_valve())
            .or_else(|| self.beside())
            .or_else(served)
    }

    /// What gives zones more that have too little, or less to those that have too much.
    fn help(&self, settings: &Regulation) -> Option<String> {
        // Behind a separator it is another pump that moves the zones' water.
        let lowered = self.study.lowered();
        let moved = |states: &[ZoneState]| {
            lowered.owners.iter().zip(&lowered.circuit_of).any(|(owner, circuit)| {
                let LinkOwner::Component(id) = owner else { return false };
                let result = lowered.zone_of.get(id).and_then(|zone| self.results.zones.get(zone));
                *circuit == self.pump.circuit && result.is_some_and(|result| states.contains(&result.state))
            })
        };
        let starved = moved(&[ZoneState::Starved, ZoneState::Still]);
        let overflowed = moved(&[ZoneState::Overflowed]);
        let governing = self.pump.governing?;
        let is_level = governing == GoverningLimit::HeadLimit || settings.slope == 0.0;
        Some(
            match governing {
                _ if starved && overflowed => {
                    "Some get too much and others too little: balance the zones, no setting helps both."
                }
                GoverningLimit::SpeedCap if starved && settings.speed_cap >= 1.0 => {
                    "The pump gives no more, it runs at full speed: open valves or take loss out of the way."
                }
                GoverningLimit::SpeedCap if starved => "A higher speed cap gives more.",
                GoverningLimit::PowerLimit if starved => "A higher power limit gives more.",
                GoverningLimit::SetLine | GoverningLimit::HeadLimit if starved && is_level => {
                    "A higher head limit gives more."
                }
                GoverningLimit::SetLine if starved => "Less slope or a higher head limit gives more.",
                GoverningLimit::SpeedCap if overflowed => "A lower speed cap gives less.",
                GoverningLimit::PowerLimit if overflowed => "A lower power limit gives less.",
                GoverningLimit::SetLine | GoverningLimit::HeadLimit if overflowed && is_level => {
                    "A lower head limit gives less; so does slope while few zones are open."
                }
                GoverningLimit::SetLine if overflowed => "More slope or a lower head limit gives less.",
                GoverningLimit::MinimumSpeed if overflowed && settings.minimum_speed > 0.0 => {
                    "A lower minimum speed gives less, if the device allows it."
                }
                _ => return None,
            }
            .to_owned(),
        )
    }

    /// The bypass through which most passes, in the circuit of a pump that delivers.
    fn bypass(&self) -> Option<String> {
        if !self.pump.running || self.pump.flow <= 0.0 {
            return None;
        }
        let lowered = self.study.lowered();
        let passes = self.project.components.iter().filter_map(|(id, component)| match component.kind {
            ComponentKind::BypassValve { .. } if lowered.circuit_with(*id) == self.pump.circuit => {
                Some((*id, self.results.component_flow(*id)))
            }
            _ => None,
        });
        let (id, flow) = passes.max_by(|a, b| a.1.total_cmp(&b.1))?;
        let share = flow / self.pump.flow;
        if share <= PASSES {
            return None;
        }
        // What several pumps deliver together is no share of one of them.
        let is_alone = !self.others().any(|(_, pump)| pump.circuit == self.pump.circuit);
        let of_pump = || format!(", {} of the pump's flow,", self.units.format(Quantity::Share, share));
        let share = is_alone.then(of_pump).unwrap_or_default();
        Some(format!("{} passes {}{share} by the zones: less head keeps it shut.", self.name(id), self.flow(flow)))
    }

    /// Pressure-independent valves that carry water: how many hold their flow, and how many have less than their least drop.
    fn limiters(&self) -> [usize; 2] {
        let holds = self.project.components.iter().filter_map(|(id, component)| match component.kind {
            ComponentKind::PressureIndependentValve { least_drop, open: true, .. } => {
                let result = self.results.components.get(id)?;
                (result.flow > 0.0).then_some(result.drop >= least_drop * (1.0 - 1e-6))
            }
            _ => None,
        });
        holds.fold([0, 0], |[hold, not], holds| if holds { [hold + 1, not] } else { [hold, not + 1] })
    }

    fn limiters_short(&self) -> Option<String> {
        let [hold, not] = self.limiters();
        (not > 0).then(|| {
            let all = hold + not;
            format!("{not} of {all} pressure-independent valves have less than their least drop and hold no flow: more head helps.")
        })
    }

    fn limiters_hold(&self) -> Option<String> {
        let [hold, not] = self.limiters();
        (hold > 0 && not == 0).then(|| {
            let valves = if hold == 1 {
                "The pressure-independent valve holds its".to_owned()
            } else {
                format!("All {hold} pressure-independent valves hold their")
            };
            format!("{valves} flow: more head is only throttled away.")
        })
    }

    fn thermostats(&self) -> Option<String> {
        let throttled = self.count(ZoneState::Throttled);
        let all = self.results.zones.values().filter(|zone| zone.state != ZoneState::Shut).count();
        (throttled > 0).then(|| {
            format!("Thermostatic valves throttle {throttled} of {all} zones, for their rooms have what they need.")
        })
    }

    /// A check valve that is shut in a row with a pump that stands.
    fn check_valve(&self) -> Option<String> {
        let greatest = self.results.pumps.values().map(|pump| pump.flow.abs()).fold(0.0, f64::max);
        let is_shut = |id: &ComponentId| {
            let component = self.project.components.get(id);
            component.is_some_and(|component| matches!(component.kind, ComponentKind::CheckValve { .. }))
                && self.results.component_flow(*id).abs() <= NOTHING * greatest
        };
        let mut standing = self.results.pumps.iter().filter(|(_, pump)| !pump.running);
        let (pump, valve) = standing
            .find_map(|(pump, _)| Some((*pump, self.project.in_a_row(*pump).into_iter().find(|id| is_shut(id))?)))?;
        Some(format!("{} is shut: no water goes back through {}.", self.name(valve), self.name(pump)))
    }

    /// What the other pumps do.
    fn beside(&self) -> Option<String> {
        let others: Vec<String> = self
            .others()
            .take(2)
            .map(|(id, pump)| {
                let head = self.units.format(Quantity::Head, pump.head);
                format!("{} delivers {} at {head}", self.name(id), self.flow(pump.flow))
            })
            .collect();
        let watts: f64 = self.results.pumps.values().map(|pump| pump.electric_w).sum();
        (!others.is_empty()).then(|| {
            format!("Beside it {}; all pumps take {}.", others.join(", "), self.units.format(Quantity::Power, watts))
        })
    }
}

/// Share of the pump's flow from which on a bypass is worth a sentence.
const PASSES: f64 = 0.01;

//! The judge of settings: the study itself, state by state, with nothing of the tables or edges that the search goes by.

use crate::systems::exact;
use headwise::document::{Changed, Command, ComponentId, ComponentKind, PipeId, Project};
use headwise::engine::pump::Regulation;
use headwise::study::part_load::{ValveState, scenarios};
use headwise::study::{Results, Study, ZoneState};
use std::collections::BTreeSet;

/// How far settings clear what they must: above zero they serve. Shares of design flow over their band, and what may be too loud
/// over its limit, whichever is nearest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// Of the zones.
    pub zones: f64,
    /// Of velocities and of drops over valves.
    pub quiet: f64,
}

impl Clearance {
    pub fn least(self) -> f64 {
        self.zones.min(self.quiet)
    }
}

/// The states of a project, solved under settings after settings.
pub struct Judge {
    pub pump: ComponentId,
    pub project: Project,
    cases: Vec<(ValveState, Project, Study)>,
    pipes: Vec<(PipeId, f64)>,
    valves: Vec<(ComponentId, f64)>,
}

impl Judge {
    pub fn new(project: &Project, pump: ComponentId) -> Self {
        Self::of_states(project, pump, &scenarios(project))
    }

    pub fn of_states(project: &Project, pump: ComponentId, states: &[ValveState]) -> Self {
        let case = |state: &ValveState| {
            let mut case = project.clone();
            for command in state.commands(project) {
                case.apply(&command).unwrap();
            }
            let study = Study::new(&case).unwrap();
            (state.clone(), case, study)
        };
        let at_design = at_design(project, pump);
        let more = project.acceptance.high;
        let allowed = |there: f64, limit: f64, more: f64| if there > limit { more * there } else { limit };
        let pipes = project.pipes.iter().filter_map(|(id, pipe)| {
            let limit = project.limits.most_velocity(pipe.bore)?;
            let there = at_design.pipes.get(id)?.velocity.abs();
            there.is_finite().then(|| (*id, allowed(there, limit, more)))
        });
        let regulates = |kind: &ComponentKind| {
            matches!(
                kind,
                ComponentKind::ZoneValve { .. }
                    | ComponentKind::ThermostaticValve { .. }
                    | ComponentKind::ControlValve { .. }
            )
        };
        let valves =
            project.components.iter().filter(|(_, component)| regulates(&component.kind)).filter_map(|(id, _)| {
                let there = at_design.components.get(id)?.drop.abs();
                Some((*id, allowed(there, project.limits.valve_drop, more * more)))
            });
        Self {
            pump,
            cases: states.iter().map(case).collect(),
            pipes: pipes.collect(),
            valves: valves.collect(),
            project: project.clone(),
        }
    }

    /// What settings clear in all states, and the mean electric power over the hours, W; given up, with `None`, at the first state
    /// that is clearly not served.
    pub fn weigh(&mut self, settings: Regulation, give_up: f64) -> Option<(Clearance, f64)> {
        let mut all = Clearance { zones: f64::INFINITY, quiet: f64::INFINITY };
        let (mut sum, mut weights) = (0.0, 0.0);
        let has_hours = self.cases.iter().any(|(state, ..)| state.hours > 0.0);
        for place in 0..self.cases.len() {
            let (state, case, study) = &mut self.cases[place];
            case.apply(&Command::SetRegulation(self.pump, settings)).unwrap();
            study.update(case, Changed { settings: true, ..Changed::default() }).unwrap();
            let results = study.results();
            assert!(results.converged(), "{settings:?} in {}", state.name);
            let weight = if has_hours { state.hours } else { 1.0 };
            weights += weight;
            sum += weight * results.pumps.values().map(|pump| pump.electric_w).sum::<f64>();
            let here = clearance(&self.project, results, &self.pipes, &self.valves);
            all = Clearance { zones: all.zones.min(here.zones), quiet: all.quiet.min(here.quiet) };
            if all.least() < give_up {
                // What fails here will fail nearby: it is asked first next time.
                self.cases.swap(0, place);
                return None;
            }
        }
        Some((all, sum / weights))
    }

    /// The least and the greatest share of design flow of any open zone in any state.
    pub fn shares(&mut self, settings: Regulation) -> (f64, f64) {
        let mut ends = (f64::INFINITY, f64::NEG_INFINITY);
        for (_, case, study) in &mut self.cases {
            case.apply(&Command::SetRegulation(self.pump, settings)).unwrap();
            study.update(case, Changed { settings: true, ..Changed::default() }).unwrap();
            for zone in study.results().zones.values().filter(|zone| zone.state != ZoneState::Shut) {
                ends = (ends.0.min(zone.share), ends.1.max(zone.share));
            }
        }
        ends
    }

    /// Whether settings starve a zone in any state.
    pub fn starves(&mut self, settings: Regulation) -> bool {
        self.cases.iter_mut().any(|(_, case, study)| {
            case.apply(&Command::SetRegulation(self.pump, settings)).unwrap();
            study.update(case, Changed { settings: true, ..Changed::default() }).unwrap();
            study.results().zones.values().any(|zone| matches!(zone.state, ZoneState::Starved | ZoneState::Still))
        })
    }

    /// What settings clear in all states.
    pub fn clearance(&mut self, settings: Regulation) -> Clearance {
        self.weigh(settings, f64::NEG_INFINITY).unwrap().0
    }
}

fn clearance(
    project: &Project,
    results: &Results,
    pipes: &[(PipeId, f64)],
    valves: &[(ComponentId, f64)],
) -> Clearance {
    let band = &project.acceptance;
    let of_zone = |zone: &headwise::study::ZoneResult| match zone.state {
        ZoneState::Shut => f64::INFINITY,
        // Its room has what it needs: only too much counts.
        ZoneState::Throttled => band.high - zone.share,
        // Flow enough, but not heat.
        ZoneState::TooCold | ZoneState::TooWarm => -1.0,
        _ => (zone.share - band.low).min(band.high - zone.share),
    };
    let zones = results.zones.values().map(of_zone).fold(f64::INFINITY, f64::min);
    let in_pipes = pipes.iter().map(|(id, allowed)| 1.0 - results.pipes[id].velocity.abs() / allowed);
    let over_valves = valves.iter().filter(|(id, _)| results.components[id].flow != 0.0);
    let over_valves = over_valves.map(|(id, allowed)| 1.0 - results.components[id].drop.abs() / allowed);
    Clearance { zones, quiet: in_pipes.chain(over_valves).fold(f64::INFINITY, f64::min) }
}

/// The answer with all zones open and all of their design flow together.
fn at_design(project: &Project, pump: ComponentId) -> Results {
    let open = ValveState { name: "design".to_owned(), hours: 0.0, shut: BTreeSet::new(), outdoor_c: None };
    let at = |speed: f64| exact(project, pump, Regulation::at_speed(speed), &open).results().clone();
    let sum = |results: &Results| results.zones.values().map(|zone| zone.flow).sum::<f64>();
    let wanted: f64 = at(1.0).zones.values().map(|zone| zone.design_flow).sum();
    let (mut low, mut high) = (0.05, 1.0);
    for _ in 0..25 {
        let middle = 0.5 * (low + high);
        if sum(&at(middle)) < wanted { low = middle } else { high = middle }
    }
    at(high)
}

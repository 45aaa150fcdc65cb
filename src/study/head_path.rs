//! Where the head goes: what each pipe and component takes on a zone's path, in order from the pump's discharge round to its suction.
//!
//! ```text
//! ρ g H = Σ Δpᵢ
//! ```
//!
//! `H` the pump's head, m; `ρ` density of the water of its circuit, kg/m³; `Δpᵢ` what step i takes in the direction of its flow, Pa.
//! Round a ring the pressures come back to where they began, so the sum holds for every path that closes. Where a second pump lies
//! on it, what that adds is a step below zero: it takes nothing but gives.

use super::Study;
use super::lower::LinkOwner;
use super::results::NOTHING;
use super::sizing::{self, Balance};
use super::walk::{Passed, Walk};
use super::zones::ZoneState;
use crate::document::{ComponentId, Project, ZoneId};
use crate::engine::GRAVITY_M_PER_S2;
use crate::problems::Place;

/// What a step stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum StepKind {
    /// A pipe run.
    Pipe,
    /// A component, from inlet to outlet.
    Component,
    /// The bypass of a three-way valve.
    Bypass,
    /// Another pump that runs.
    Pump,
}

/// A pipe or component on the path.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadStep {
    /// Where it lies.
    pub place: Place,
    /// What it stands for there.
    pub kind: StepKind,
    /// Its name.
    pub name: String,
    /// The trade's word for what it is.
    pub what: &'static str,
    /// Flow through it, m³/s, never below zero.
    pub flow: f64,
    /// What it takes in the direction of the flow, Pa; below zero where it adds.
    pub drop_pa: f64,
    /// The same as head of the pump's water, m.
    pub drop_m: f64,
    /// The same over the pump's head; not a number where that is zero.
    pub share: f64,
}

impl HeadStep {
    /// Whether it adds head.
    #[must_use]
    pub fn is_rise(&self) -> bool {
        self.kind == StepKind::Pump && self.drop_pa < 0.0
    }
}

/// Where the head of a pump goes on the path of a zone.
#[derive(Clone, Debug, PartialEq)]
pub struct HeadPath {
    /// The zone.
    pub zone: ZoneId,
    /// The pump that drives its water.
    pub pump: ComponentId,
    /// Head of that pump, m.
    pub head_m: f64,
    /// The same as pressure, Pa.
    pub head_pa: f64,
    /// What lies between its discharge and its suction, in order. Tees and bare joints take nothing and are no steps.
    pub steps: Vec<HeadStep>,
}

impl HeadPath {
    /// What all steps take together, Pa: the pump's head, but for the rounding of the solver.
    #[must_use]
    pub fn sum_pa(&self) -> f64 {
        self.steps.iter().map(|step| step.drop_pa).sum()
    }

    /// Other pumps on the path that add head.
    pub fn rises(&self) -> impl Iterator<Item = &HeadStep> {
        self.steps.iter().filter(|step| step.is_rise())
    }
}

/// Where the head goes on the path of a zone at the present flows; `None` where nothing flows through it, or no way leads round
/// from a running pump.
#[must_use]
pub fn head_path(project: &Project, study: &Study, zone: ZoneId) -> Option<HeadPath> {
    let walk = Walk::through(study, project.zones.get(&zone)?.emitter);
    let index = walk.pump.filter(|_| walk.closes)?;
    let weight = weight_of(study, index)?;
    let pump = study.lowered().pumps.get(index)?.id;
    let head_m = study.results().pumps.get(&pump)?.head;
    let head_pa = head_m * weight;
    let step = |current: &super::walk::Current| {
        let (results, id) = (study.results(), |index: usize| study.lowered().pumps.get(index).map(|pump| pump.id));
        let (place, kind, drop) = match current.passed {
            Passed::Link(LinkOwner::Pipe(id)) => (Place::Pipe(id), StepKind::Pipe, results.pipes.get(&id)?.drop),
            Passed::Link(LinkOwner::Component(id)) => {
                (Place::Component(id), StepKind::Component, results.components.get(&id)?.drop)
            }
            Passed::Link(LinkOwner::Bypass(id)) => {
                (Place::Component(id), StepKind::Bypass, results.bypasses.get(&id)?.drop)
            }
            Passed::Pump(index) => {
                let rise = results.pumps.get(&id(index)?)?.head * weight_of(study, index)?;
                (Place::Component(id(index)?), StepKind::Pump, -rise)
            }
        };
        let drop_pa = drop * current.flow.signum();
        let (name, what) = words(project, place, kind);
        let (flow, drop_m, share) = (current.flow.abs(), drop_pa / weight, drop_pa / head_pa);
        Some(HeadStep { place, kind, name, what, flow, drop_pa, drop_m, share })
    };
    let steps = walk.way.iter().map(step).collect::<Option<Vec<_>>>()?;
    Some(HeadPath { zone, pump, head_m, head_pa, steps })
}

/// What a metre of head of a pump's water presses, Pa.
fn weight_of(study: &Study, pump: usize) -> Option<f64> {
    Some(study.lowered().network.pumps.get(pump)?.density_kg_per_m3 * GRAVITY_M_PER_S2)
}

fn words(project: &Project, place: Place, kind: StepKind) -> (String, &'static str) {
    match place {
        Place::Pipe(id) => (project.pipes.get(&id).map_or(String::new(), |pipe| project.pipe_label(pipe)), "pipe"),
        Place::Component(id) => {
            let component = project.components.get(&id);
            let what = component.map_or("", |component| component.kind_name());
            let what = if kind == StepKind::Bypass { "bypass of a three-way valve" } else { what };
            (component.map_or(String::new(), |component| component.name.clone()), what)
        }
        Place::Zone(_) | Place::Project => (String::new(), ""),
    }
}

/// Zones up to which a drawing is balanced while somebody points or drags: beyond that the time it takes would be felt.
const MOST_BALANCED: usize = 300;

/// The balance of a drawing that is small enough to be balanced while somebody points or drags. `None` for a larger one, and where
/// nothing can be balanced.
pub(super) fn balance_at_once(project: &Project) -> Option<Balance> {
    if project.zones.len() > MOST_BALANCED {
        return None;
    }
    sizing::balance(project).ok()
}

/// The zone of the index circuit: the one whose path needs most head at design, as balancing finds it, while that is open. `None`
/// while it is shut, in a drawing that cannot be balanced so (no running pump or several, a mesh), and in one of so many zones
/// that the time it takes would be felt.
#[must_use]
pub fn index_zone(project: &Project, study: &Study) -> Option<ZoneId> {
    let is_open = |id: &ZoneId| study.results().zones.get(id).is_some_and(|zone| zone.state != ZoneState::Shut);
    balance_at_once(project).map(|balance| balance.index).filter(is_open)
}

/// The open zone that gets the least share of its design flow: the one to look at first where no index circuit can be told. `None`
/// while no zone is open or nothing flows through any.
#[must_use]
pub fn least_served_zone(study: &Study) -> Option<ZoneId> {
    let open = || {
        let open = study.results().zones.iter().filter(|(_, zone)| zone.state != ZoneState::Shut);
        open.map(|(id, zone)| (*id, zone.share)).filter(|(_, share)| share.is_finite())
    };
    let has_flow = open().any(|(_, share)| share > NOTHING);
    has_flow.then(|| open().min_by(|a, b| a.1.total_cmp(&b.1)))?.map(|(id, _)| id)
}

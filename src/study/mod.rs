//! The study of a document: lower it to a network, solve it, and say what pumps, zones, pipes and components do.
//!
//! [`Study`] lives as long as a document is open. It is told what a change touched and does no more than that asks for: a
//! dragged setting changes one pump's law and solves from the last answer; a valve changes a law and traces the system curve
//! anew; only a changed drawing is lowered again.

mod curves;
mod findings;
mod joints;
mod lower;
mod path;
mod results;
mod shares;
mod temperatures;
mod words;

pub use curves::{CurvePoint, Curves};
pub use findings::{Finding, Subject, findings};
pub use lower::{LinkOwner, LowerError, Lowered};
pub use path::{Path, path_of};
pub use results::{ComponentResult, PipeResult, PossiblePoint, PumpResult, Results, ZoneResult, ZoneState};
pub use shares::{share_as_set, share_beside_state};
pub use words::{change_since, governing_at, governing_ranges, limit_name, verdict_sentence, zones_outside};

use crate::document::{Changed, Command, ComponentId, Project, ZoneId};
use crate::engine::network::{Network, OperatingPoint, Solver};
use crate::engine::pump::{Pump, Regulated};
use std::collections::BTreeMap;

/// A document under study: its network, the last answer and the curves.
#[derive(Clone, Debug)]
pub struct Study {
    lowered: Lowered,
    solver: Solver,
    results: Results,
    curves: BTreeMap<ComponentId, Curves>,
    supply: Vec<bool>,
}

/// Solves; where there may be several operating points, finds them all and goes to the one that start-up from rest reaches.
fn solve(solver: &mut Solver, network: &Network) -> Vec<OperatingPoint> {
    solver.solve(network);
    if !network.may_have_several_points() {
        return Vec::new();
    }
    let points = solver.operating_points(network);
    match points.first() {
        Some(first) => solver.solve_at(network, first),
        None => solver.solve(network),
    };
    points
}

fn draw(all: &mut BTreeMap<ComponentId, Curves>, id: ComponentId, regulated: &Regulated, pump: &Pump) {
    match all.get_mut(&id) {
        Some(curves) => curves.take_settings(regulated, &pump.power),
        None => {
            all.insert(id, Curves::of_pump(regulated, &pump.power));
        }
    }
}

impl Study {
    /// Lowers and solves a document.
    ///
    /// # Errors
    /// A document that cannot be lowered, with the component and what to do.
    pub fn new(project: &Project) -> Result<Self, LowerError> {
        let lowered = Lowered::new(project)?;
        let mut solver = Solver::new(&lowered.network);
        let points = solve(&mut solver, &lowered.network);
        let results = Results::new(project, &lowered, solver.outcome(), &points);
        let supply = path::supply_side(project, &lowered);
        let mut study = Self { lowered, solver, results, curves: BTreeMap::new(), supply };
        study.draw_pumps(project);
        study.trace_systems();
        Ok(study)
    }

    /// Follows a change of the document.
    ///
    /// # Errors
    /// A document that cannot be lowered; what is shown may then be of either document: update again with one that can.
    pub fn update(&mut self, project: &Project, changed: Changed) -> Result<(), LowerError> {
        if changed.structure {
            *self = Self::new(project)?;
            return Ok(());
        }
        if changed.laws {
            self.lowered.take_laws(project)?;
        }
        if changed.settings {
            self.lowered.take_settings(project)?;
        }
        if changed.any() {
            let points = solve(&mut self.solver, &self.lowered.network);
            self.results.take(project, &self.lowered, self.solver.outcome(), &points);
        }
        if changed.settings {
            self.draw_pumps(project);
        }
        if changed.laws || (changed.settings && self.lowered.network.pumps.len() > 1) {
            self.trace_systems();
        }
        Ok(())
    }

    /// Draws what each pump alone decides, running or not; system curves stay.
    fn draw_pumps(&mut self, project: &Project) {
        for (id, unit) in project.pumps() {
            let index = self.lowered.pumps.iter().position(|p| p.id == id);
            let running = index.and_then(|i| Some((self.lowered.regulated(i)?, &self.lowered.pumps[i].pump)));
            if let Some((regulated, pump)) = running {
                draw(&mut self.curves, id, regulated, pump);
            } else if let Ok(pump) = unit.fitted()
                && let Ok(regulated) = Regulated::new(&pump.curve, unit.regulation)
            {
                // A pump that stands is drawn too: its settings are made before it is started.
                draw(&mut self.curves, id, &regulated, &pump);
            }
        }
    }

    fn trace_systems(&mut self) {
        for (index, pump) in self.lowered.pumps.iter().enumerate() {
            if let Some(curves) = self.curves.get_mut(&pump.id) {
                curves.system = curves::system(&self.lowered, index);
            }
        }
    }

    /// What everything does.
    #[must_use]
    pub fn results(&self) -> &Results {
        &self.results
    }

    /// The curves of a pump; without a system curve while it stands.
    #[must_use]
    pub fn curves(&self, pump: ComponentId) -> Option<&Curves> {
        self.curves.get(&pump)
    }

    /// The system curve that a running pump would see with one zone alone open; empty where that cannot be traced.
    #[must_use]
    pub fn system_alone(&self, project: &Project, pump: ComponentId, zone: ZoneId) -> Vec<CurvePoint> {
        let mut alone = project.clone();
        for (id, other) in &project.zones {
            if let Some(valve) = other.valve {
                // Only what can be shut is a zone's valve; a document that says otherwise is refused on loading.
                let _ = alone.apply(&Command::SetOpen(valve, *id == zone));
            }
        }
        let mut lowered = self.lowered.clone();
        let Some(index) = lowered.pumps.iter().position(|p| p.id == pump) else { return Vec::new() };
        if lowered.take_laws(&alone).is_err() {
            return Vec::new();
        }
        curves::system(&lowered, index)
    }

    /// Whether a node lies on the supply side: between the source's outlet and the emitters.
    #[must_use]
    pub fn is_supply(&self, node: usize) -> bool {
        self.supply.get(node).copied().unwrap_or(false)
    }

    /// The network and what each of its links stands for.
    #[must_use]
    pub fn lowered(&self) -> &Lowered {
        &self.lowered
    }
}

//! The study of a document: lower it to a network, solve it, and say what pumps, zones, pipes and components do.
//!
//! [`Study`] lives as long as a document is open. It is told what a change touched and does no more than that asks for: a
//! dragged setting changes one pump's law and solves from the last answer; a valve changes a law and traces the system curve
//! anew; only a changed drawing is lowered again.

mod answer;
mod cautions;
mod checks;
mod circuits;
mod curves;
mod governs;
mod head_path;
mod joints;
mod laws;
mod lower;
mod nodes;
pub mod part_load;
mod path;
mod pressures;
mod readings;
mod results;
mod reverse_return;
pub mod settings;
mod settle;
mod shares;
mod situation;
pub mod sizing;
mod source_flows;
mod sweep;
mod temperatures;
pub mod terms;
mod thermostats;
mod walk;
mod words;
mod zones;

pub use cautions::{Caution, Hazard, Occasion, cautions};
pub use checks::{checks, findings};
pub use circuits::Circuit;
pub use curves::{CurvePoint, Curves};
pub use governs::governing_at;
pub use head_path::{HeadPath, HeadStep, StepKind, head_path, index_zone, least_served_zone};
pub use lower::{LinkOwner, LowerError, Lowered};
pub use path::{Path, path_of};
pub use pressures::Pressures;
pub use readings::Reading;
pub use results::{ComponentResult, PipeResult, PossiblePoint, PumpResult, Results, SourceResult};
pub use reverse_return::reverse_return;
pub use shares::{share_as_set, share_beside_state, share_number_beside_state};
pub use situation::{Situation, situation};
pub use source_flows::{ill_source, ill_sources, is_a_source_short};
pub use sweep::{SweepError, sweep, sweep_for};
pub use words::{change_since, governing_ranges, limit_name, verdict_sentence, viscous_sentence, zones_outside};
pub use zones::{ROOM_MISS_K, ZoneResult, ZoneState};

use crate::document::{Changed, Command, ComponentId, Project, ZoneId};
use crate::engine::pump::{Pump, Regulated};
use answer::Answer;
use std::collections::BTreeMap;

/// A document under study: its network, the last answer and the curves.
#[derive(Clone, Debug)]
pub struct Study {
    answer: Answer,
    curves: BTreeMap<ComponentId, Curves>,
    /// The water for which the system curves were traced.
    traced: Vec<Circuit>,
    supply: Vec<bool>,
}

/// Change of a circuit's mean temperature after which its system curve is traced anew, K: about 2e-5 of the head.
const DRIFT_K: f64 = 0.01;

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
        let answer = Answer::new(project)?;
        let supply = path::supply_side(project, &answer.lowered);
        let mut study = Self { answer, curves: BTreeMap::new(), traced: Vec::new(), supply };
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
        self.answer.follow(project, changed)?;
        let drifted = self.has_drifted();
        if changed.settings || drifted {
            self.draw_pumps(project);
        }
        if changed.laws || (changed.settings && self.answer.lowered.network.pumps.len() > 1) || drifted {
            self.trace_systems();
        }
        Ok(())
    }

    /// Whether the water has changed so much since the system curves were traced that it shows.
    fn has_drifted(&self) -> bool {
        let drift = |(now, then): (&Circuit, &Circuit)| (now.mean_c - then.mean_c).abs() > DRIFT_K;
        self.answer.lowered.circuits.iter().zip(&self.traced).any(drift)
    }

    /// Draws what each pump alone decides, running or not; system curves stay.
    fn draw_pumps(&mut self, project: &Project) {
        for (id, unit) in project.pumps() {
            let index = self.answer.lowered.pumps.iter().position(|p| p.id == id);
            let running = index
                .and_then(|i| Some((self.answer.lowered.regulated(i)?, &self.answer.lowered.pumps[i].viscous.pump)));
            if let Some((regulated, pump)) = running {
                draw(&mut self.curves, id, regulated, pump);
            } else if let Ok(viscous) = lower::in_fluid(unit, &self.answer.lowered.fluid)
                && let Ok(regulated) = Regulated::of_pump(&viscous.pump, unit.regulation)
            {
                // A pump that stands is drawn too: its settings are made before it is started.
                draw(&mut self.curves, id, &regulated, &viscous.pump);
            }
        }
    }

    fn trace_systems(&mut self) {
        self.traced.clone_from(&self.answer.lowered.circuits);
        for (index, pump) in self.answer.lowered.pumps.iter().enumerate() {
            if let Some(curves) = self.curves.get_mut(&pump.id) {
                curves.system = curves::system(&self.answer.lowered, index);
            }
        }
    }

    /// What everything does.
    #[must_use]
    pub fn results(&self) -> &Results {
        &self.answer.results
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
        let mut lowered = self.answer.lowered.clone();
        let Some(index) = lowered.pumps.iter().position(|p| p.id == pump) else { return Vec::new() };
        lowered.take_laws(&alone);
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
        &self.answer.lowered
    }
}

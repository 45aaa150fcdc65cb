//! Part load: what one pump's settings do in every state of the valves.
//!
//! In each state the system is probed once over the pump's speed ([`StateTable`]); from then on settings cost a search in a table, not
//! a solve: a map of thousands of settings is a matter of milliseconds, and a drag of a setting recomputes all scenarios in its
//! frame. What the tables hold depends on the drawing, its valves' figures, its water and its other pumps, never on the settings
//! of the pump in hand or on which zone valves stand open just now.

mod combined;
mod compare;
mod law;
mod limits;
mod margins;
mod probe;
mod profile;
mod screen;
mod served;
mod states;
mod table;
mod year;

pub use combined::CombinedStates;
pub use compare::Compared;
pub use law::{Law, StatePoint};
pub use limits::Worst;
pub use margins::{Extreme, Margin};
pub use profile::{ProfileEnergy, ProfilePoint, profile_energy};
pub use served::{Edge, Reason, Served};
pub use states::{Combinations, MOST_FOR_ALL, ValveState, combinations, scenarios};
pub use table::StateTable;
pub use year::{YEAR_HOURS, Year, standby_of_rest_j};

use super::lower::LowerError;
use crate::document::{Acceptance, ComponentId, Duty, Project, SettingRanges, SettingSteps, ZoneId};
use crate::engine::pump::{PumpCurve, Regulation};
use limits::Allowed;
use probe::Probe;
use rayon::prelude::*;
use thiserror::Error;

/// Why there is no part load.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PartLoadError {
    /// No such pump.
    #[error("there is no circulator to set: draw one first")]
    NoPump,
    /// No zone.
    #[error("there is no zone: draw an emitter first, so that there is something to serve")]
    NoZone,
    /// A drawing that cannot be studied.
    #[error(transparent)]
    Lower(#[from] LowerError),
}

/// A pump and everything that its settings can do.
#[derive(Clone, Debug)]
pub struct PartLoad {
    /// The pump.
    pub pump: ComponentId,
    /// Its full-speed curve in the water of the system.
    pub curve: PumpCurve,
    /// Its settings when it was probed: what is searched starts from them.
    pub regulation: Regulation,
    /// What its settings can be set to, and in which steps.
    pub ranges: SettingRanges,
    /// See there.
    pub steps: SettingSteps,
    /// The named scenarios.
    pub tables: Vec<StateTable>,
    /// Every combination of open zones, where they count too.
    pub combined: Option<CombinedStates>,
    /// All zones of the project, in the order of lists that hold one value a zone.
    pub zones: Vec<ZoneId>,
    /// How far flows may be off.
    pub acceptance: Acceptance,
    duty: Duty,
    weights: Vec<f64>,
    /// Of all circulators together in the hours that no state stands for, J.
    standby_j: f64,
}

impl PartLoad {
    /// Probes a project's scenarios with one pump in hand, and every combination of zones where the project asks for it.
    ///
    /// # Errors
    /// A project without that pump or without zones, or one that cannot be studied.
    pub fn new(project: &Project, pump: ComponentId) -> Result<Self, PartLoadError> {
        Self::of_states(project, pump, states::scenarios(project))
    }

    /// The same for states of the caller's own.
    ///
    /// # Errors
    /// See [`PartLoad::new`].
    pub fn of_states(project: &Project, pump: ComponentId, states: Vec<ValveState>) -> Result<Self, PartLoadError> {
        let unit = project.pump(pump).ok_or(PartLoadError::NoPump)?;
        if project.zones.is_empty() {
            return Err(PartLoadError::NoZone);
        }
        let mut probe = Probe::new(project, pump)?;
        let allowed = allowed(&mut probe)?;
        let lowered = &probe.answer().lowered;
        let index = lowered.pumps.iter().position(|lowered| lowered.id == pump).ok_or(PartLoadError::NoPump)?;
        let curve = lowered.pumps[index].viscous.pump.curve.clone();
        let standby_w = unit.standby_power;
        let tables: Result<Vec<StateTable>, LowerError> = states
            .into_par_iter()
            .map_with(probe.clone(), |probe, state| StateTable::new(probe, state, &allowed, standby_w))
            .collect();
        let tables = tables?;
        let combined = match project.every_combination {
            true => Some(CombinedStates::new(&mut probe, &allowed, standby_w)?),
            false => None,
        };
        Ok(Self {
            pump,
            curve,
            regulation: unit.regulation,
            ranges: unit.ranges(),
            steps: unit.steps,
            weights: year::weights(&tables),
            combined,
            zones: project.zones.keys().copied().collect(),
            acceptance: project.acceptance.clone(),
            duty: project.design.duty,
            standby_j: standby_of_rest_j(project, tables.iter().map(|table| table.state.hours).sum()),
            tables,
        })
    }

    /// Settings of this pump, ready to be laid over the states.
    #[must_use]
    pub fn law(&self, settings: &Regulation) -> Law {
        Law::new(settings, &self.curve)
    }

    /// All ends of what serves: of the scenarios, then of the combinations. The states by their number in that order.
    pub fn served(&self) -> impl Iterator<Item = (usize, &Served)> {
        let named = self.tables.iter().map(|table| &table.served);
        named.chain(self.combined.iter().flat_map(|combined| &combined.served)).enumerate()
    }

    /// The name of a state by its number in the order of [`PartLoad::served`].
    #[must_use]
    pub fn state_name(&self, state: usize) -> &str {
        let combined = || self.combined.as_ref()?.states.get(state - self.tables.len());
        match self.tables.get(state) {
            Some(table) => &table.state.name,
            None => combined().map_or("", |state| &state.name),
        }
    }
}

/// What limits allow, by what flows with all zones open and all of their design flow together.
fn allowed(probe: &mut Probe) -> Result<Allowed, LowerError> {
    /// Speeds tried.
    const ROUNDS: u32 = 12;
    probe.enter(&ValveState::all_open())?;
    let (mut low, mut high) = (0.0, 1.0);
    let lacks = |results: &super::Results| {
        let sum = |of: fn(&super::ZoneResult) -> f64| results.zones.values().map(of).sum::<f64>();
        sum(|zone| zone.flow) < sum(|zone| zone.design_flow)
    };
    if !lacks(probe.results_at(high)?) {
        for _ in 0..ROUNDS {
            let middle = 0.5 * (low + high);
            if lacks(probe.results_at(middle)?) { low = middle } else { high = middle }
        }
    }
    let results = probe.results_at(high)?.clone();
    Ok(Allowed::new(probe.project(), &results))
}

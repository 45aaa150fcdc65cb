//! Composing: a drawing out of a plan. It puts every symbol and pipe in its place, with a scenario of all zones open; sizes of
//! pipes and presettings of balancing valves are left to the study.
//!
//! The layout: the plant to the left, the flow main above, the return main below, one zone after the other to the right, far
//! enough apart for the card beside each emitter.

mod branch;
mod check;
mod mains;
mod plan;
mod plant;
mod sheet;
mod stand_in;

/// Usual figures of what is drawn, for other drawings.
pub(super) mod usual {
    pub(in crate::document) use super::branch::{
        BAND_K, LEAST_DROP_PA, RANGEABILITY, THERMOSTATIC_OPEN, THERMOSTATIC_PA, UNBALANCED_PA, ZONE_VALVE_PA,
    };
    pub(in crate::document) use super::plant::{STRAINER_PA, UNKNOWN_HEAD_M};
}

pub use plan::{Arrangement, PlannedFlow, PlannedRun, PlannedValve, PlannedZone, SystemPlan};
pub use stand_in::stand_in;

use super::{
    Acceptance, Duty, EnergyBasis, Flaw, Limits, PipeId, Project, Scenario, Site, Starting, Uncertainty, ZoneId, flaws,
};
use crate::engine::fluid::FluidProperties;
use branch::Branch;
use sheet::{Sheet, number};
use std::collections::{BTreeMap, BTreeSet};

/// Where the first zone stands, and how far apart zones are, in grid steps.
const ZONE_X: f64 = 14.0;
const ZONE_STEP: f64 = 9.0;
/// Height of the return main, and of a reverse return on its way back.
const RETURN_Y: f64 = 14.0;
const REVERSE_Y: f64 = 17.0;
/// Difference of two temperatures that counts as none, K.
const SAME_K: f64 = 1e-9;

/// A composed drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Composed {
    /// The drawing.
    pub project: Project,
    /// Runs whose bore the plan lays down; all others wait for theirs.
    pub kept: BTreeSet<PipeId>,
}

/// Draws a plan.
///
/// # Errors
/// Everything in the plan that cannot be, each with the zone and what to do.
pub fn compose(plan: &SystemPlan) -> Result<Composed, Vec<Flaw>> {
    let found = check::plan(plan);
    if !found.is_empty() {
        return Err(found);
    }
    let water = plan.design.properties(&plan.fluid).map_err(|flaw| check::fluid(&flaw))?;
    let flows: Vec<f64> = plan.zones.iter().map(|zone| plan.flow_of(zone, &water)).collect();
    let density = water.density_kg_per_m3;
    let mut sheet = Sheet::new(plan.roughness);
    let plant = plant::draw(plan, flows.iter().sum(), density, &mut sheet);
    let mut drawn = Vec::new();
    for (index, (zone, flow)) in plan.zones.iter().zip(&flows).enumerate() {
        let room_c = zone.room_c.unwrap_or(plan.design.room_c);
        let return_c = plan.return_of(zone, &water);
        drawn.push(Branch { index, zone, flow: *flow, density, room_c, return_c }.draw(&mut sheet));
    }
    mains::draw(plan, &plant, &drawn, &mut sheet);
    let zones: BTreeMap<ZoneId, _> =
        drawn.into_iter().enumerate().map(|(index, drawn)| (ZoneId(number(index)), drawn.zone)).collect();
    let open = Scenario::all_open("All zones open");
    let Sheet { components, pipes, kept, .. } = sheet;
    let project = Project {
        title: plan.title.clone(),
        notes: plan.notes.clone(),
        site: Site::default(),
        design: plan.design,
        outdoor_now_c: None,
        fluid: plan.fluid,
        acceptance: Acceptance::default(),
        limits: Limits::default(),
        energy: EnergyBasis::default(),
        uncertainty: Uncertainty::default(),
        components,
        pipes,
        zones,
        scenarios: vec![open],
        every_combination: false,
        variants: Vec::new(),
        starting: Starting::default(),
    };
    let found = flaws(&project);
    if found.is_empty() { Ok(Composed { project, kept }) } else { Err(found) }
}

impl SystemPlan {
    /// Design flow of a zone, m³/s.
    fn flow_of(&self, zone: &PlannedZone, water: &FluidProperties) -> f64 {
        match zone.flow {
            PlannedFlow::Flow(flow) => flow,
            _ => zone.load / (water.volumetric_heat_capacity_j_per_m3_k() * self.drop_of(zone, water)),
        }
    }

    /// Temperature drop of a zone, K: its own, that of its flow, or the design's.
    fn drop_of(&self, zone: &PlannedZone, water: &FluidProperties) -> f64 {
        match zone.flow {
            PlannedFlow::AsDesigned => (self.design.supply_c - self.design.return_c).abs(),
            PlannedFlow::Drop(drop_k) => drop_k,
            PlannedFlow::Flow(flow) => zone.load / (water.volumetric_heat_capacity_j_per_m3_k() * flow),
        }
    }

    /// Return temperature of a zone where it differs from the design's, °C.
    fn return_of(&self, zone: &PlannedZone, water: &FluidProperties) -> Option<f64> {
        let drop_k = self.drop_of(zone, water);
        let return_c = match self.design.duty {
            Duty::Heating => self.design.supply_c - drop_k,
            Duty::Cooling => self.design.supply_c + drop_k,
        };
        Some(return_c).filter(|return_c| (return_c - self.design.return_c).abs() > SAME_K)
    }
}

//! From a plan to a finished drawing: drawn, sized, balanced, its circulator set.

use super::balance::{Balance, of_flows};
use super::choice::{SizedRun, SizingLimits, sizes};
use super::error::SizingError;
use super::flows::design_flows;
use super::regulation::{PumpFit, fit};
use crate::document::{Component, ComponentKind, Composed, Project, SizeOnSale, SystemPlan, compose, flaws, stand_in};
use crate::engine::pipes::PipeSeries;

/// A finished drawing and what was chosen for it.
#[derive(Clone, Debug, PartialEq)]
pub struct SizedSystem {
    /// The drawing.
    pub project: Project,
    /// Its runs.
    pub runs: Vec<SizedRun>,
    /// Index zone, head, presettings.
    pub balance: Balance,
    /// Its circulator at the design point.
    pub pump: PumpFit,
    /// Whether the circulator is an invented one that stands in for a real one.
    pub is_stand_in: bool,
}

/// Draws a plan, sizes its pipes from a series, balances it and sets its circulator.
///
/// # Errors
/// Everything in the plan that cannot be; a run for which the series is too small.
pub fn size_system(plan: &SystemPlan, series: &PipeSeries, limits: &SizingLimits) -> Result<SizedSystem, SizingError> {
    let Composed { mut project, kept } = compose(plan).map_err(SizingError::Plan)?;
    let runs = sizes(&project, series, limits, &kept)?;
    for run in &runs {
        if let (Some(pipe), Some(chosen)) = (project.pipes.get_mut(&run.pipe), &run.chosen) {
            pipe.size = SizeOnSale::find(series.id, chosen.size.nominal).ok();
            pipe.bore = chosen.size.bore_m();
            pipe.roughness = chosen.roughness_m;
        }
    }
    let design = design_flows(&project)?;
    let balance = of_flows(&design)?;
    for set in &balance.presettings {
        if let Some(Component { kind: ComponentKind::BalancingValve { kv }, .. }) =
            project.components.get_mut(&set.valve)
        {
            *kv = set.rounded_kv();
        }
    }
    let fluid = design.lowered.fluid;
    let (flow, head) = (balance.flow, balance.head_m);
    let mut fitted = None;
    for Component { name, kind, .. } in project.components.values_mut() {
        if let ComponentKind::Pump(unit) = kind {
            if plan.pump.is_none() {
                **unit = stand_in(flow, head, fluid.density_kg_per_m3);
            }
            let found = fit(name, unit, &fluid, flow, head)?;
            unit.regulation = found.regulation;
            fitted = Some(found);
        }
    }
    let pump = fitted.ok_or(SizingError::Pumps(0))?;
    // Figures far from any building end as presettings or heads that cannot be.
    let found = flaws(&project);
    if !found.is_empty() {
        return Err(SizingError::Plan(found));
    }
    Ok(SizedSystem { project, runs, balance, pump, is_stand_in: plan.pump.is_none() })
}

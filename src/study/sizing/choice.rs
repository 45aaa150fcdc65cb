//! Pipe sizes: the smallest of a series that keeps the limits on friction and velocity at the design flow.
//!
//! Friction by the engine's own law (Darcy–Weisbach with Colebrook–White), so that what was chosen here is what is solved
//! later. Limits: 100 to 300 Pa/m is common practice, no source; 1.2 m/s up to DN 50 after the ASHRAE Handbook –
//! Fundamentals, pipe sizing (from memory), where above DN 50 friction alone decides; 0.6 m/s carries air along (from memory).

use super::error::SizingError;
use super::flows::design_flows;
use crate::document::{DN_50_BORE_M, Limits, PipeId, Project};
use crate::engine::fluid::FluidProperties;
use crate::engine::links::Pipe;
use crate::engine::pipes::{PipeSeries, PipeSize};
use crate::study::LinkOwner;
use std::collections::BTreeSet;

/// What a pipe may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizingLimits {
    /// Most friction, Pa/m.
    pub friction_pa_per_m: f64,
    /// Greatest velocity up to DN 50, m/s.
    pub velocity_m_per_s: f64,
    /// Velocity below which air is not carried along, m/s: noted, no limit.
    pub low_velocity_m_per_s: f64,
}

impl Default for SizingLimits {
    /// For usual limits.
    fn default() -> Self {
        Self::within(&Limits::default())
    }
}

impl SizingLimits {
    /// Sizes for a project's limits: half the most friction, so that a branch can take more than its design flow.
    #[must_use]
    pub fn within(limits: &Limits) -> Self {
        let ([_, most], [low, high]) = (limits.friction, limits.velocity);
        Self { friction_pa_per_m: 0.5 * most, velocity_m_per_s: high, low_velocity_m_per_s: low }
    }

    /// Whether a pipe keeps them.
    #[must_use]
    pub fn allow(&self, bore_m: f64, friction_pa_per_m: f64, velocity_m_per_s: f64) -> bool {
        friction_pa_per_m <= self.friction_pa_per_m
            && (bore_m > DN_50_BORE_M || velocity_m_per_s <= self.velocity_m_per_s)
    }
}

/// A size at a flow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChosenPipe {
    /// The size.
    pub size: PipeSize,
    /// Roughness of its series, m.
    pub roughness_m: f64,
    /// Friction alone, Pa/m.
    pub friction_pa_per_m: f64,
    /// Mean velocity, m/s.
    pub velocity_m_per_s: f64,
}

/// The smallest size of a series that carries a flow (m³/s) within the limits; `None` where none does.
#[must_use]
pub fn choose(series: &PipeSeries, flow: f64, fluid: &FluidProperties, limits: &SizingLimits) -> Option<ChosenPipe> {
    let at = |size: &PipeSize| {
        let (friction_pa_per_m, velocity_m_per_s) = loaded(size.bore_m(), series.roughness_m, flow, fluid);
        ChosenPipe { size: *size, roughness_m: series.roughness_m, friction_pa_per_m, velocity_m_per_s }
    };
    let keeps = |pipe: &ChosenPipe| limits.allow(pipe.size.bore_m(), pipe.friction_pa_per_m, pipe.velocity_m_per_s);
    series.sizes.iter().map(at).find(keeps)
}

/// Friction (Pa/m) and velocity (m/s) in a bore at a flow.
pub(super) fn loaded(bore_m: f64, roughness_m: f64, flow: f64, fluid: &FluidProperties) -> (f64, f64) {
    let metre = Pipe::new(1.0, bore_m, roughness_m, 0.0, fluid.density_kg_per_m3, fluid.dynamic_viscosity_pa_s);
    (metre.drop(flow.abs(), &mut 0.0).pressure_pa, metre.velocity(flow.abs()))
}

/// A run with its design flow and what was chosen for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizedRun {
    /// The run.
    pub pipe: PipeId,
    /// Design flow, m³/s.
    pub flow: f64,
    /// Its bore, m.
    pub bore: f64,
    /// Friction alone, Pa/m.
    pub friction_pa_per_m: f64,
    /// Mean velocity, m/s.
    pub velocity_m_per_s: f64,
    /// What was chosen; `None` for a run that keeps its own bore.
    pub chosen: Option<ChosenPipe>,
}

/// Sizes for all runs of a drawing that have a length and carry water, by their design flows; those in `kept` keep their bores.
/// Nothing is changed.
///
/// # Errors
/// A drawing that is not tree-like; a run for which the series is too small.
pub fn sizes(
    project: &Project,
    series: &PipeSeries,
    limits: &SizingLimits,
    kept: &BTreeSet<PipeId>,
) -> Result<Vec<SizedRun>, SizingError> {
    let design = design_flows(project)?;
    let mut runs = Vec::new();
    for (id, pipe) in project.pipes.iter().filter(|(_, pipe)| !pipe.is_joint()) {
        let flow = design.of(LinkOwner::Pipe(*id)).abs();
        let fluid = &design.lowered.fluid;
        if kept.contains(id) || flow == 0.0 {
            let (friction_pa_per_m, velocity_m_per_s) = loaded(pipe.bore, pipe.roughness, flow, fluid);
            runs.push(SizedRun { pipe: *id, flow, bore: pipe.bore, friction_pa_per_m, velocity_m_per_s, chosen: None });
            continue;
        }
        let Some(chosen) = choose(series, flow, fluid, limits) else {
            let run = project.pipe_label(pipe);
            return Err(SizingError::TooLarge { run, series: series.name, flow_m3_per_h: 3600.0 * flow });
        };
        let ChosenPipe { friction_pa_per_m, velocity_m_per_s, .. } = chosen;
        let bore = chosen.size.bore_m();
        runs.push(SizedRun { pipe: *id, flow, bore, friction_pa_per_m, velocity_m_per_s, chosen: Some(chosen) });
    }
    Ok(runs)
}

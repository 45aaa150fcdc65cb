//! The report as data (JSON) for other programs and for tests: every number that the study found, in the units that the key
//! names say, with full precision. A number that is not finite is `null`. The types here stand apart from the live ones, so
//! that renaming a field of the study does not rename a key.

mod parts;
mod reading;

use super::CAUTION;
use super::amounts::Amounts;
use crate::document::{Component, ComponentId, ComponentKind, Duty, Project};
use crate::engine::network::Verdict;
use crate::engine::units::Units;
use crate::study::{Pressures, Study, checks};
use parts::{
    AcceptancePart, CheckPart, Design, FluidPart, LinkPart, PipePart, PressurePart, PumpPart, SourcePart, ZonePart,
};
use reading::ReadingPart;
use serde::Serialize;

/// Version of the keys; it rises when one is renamed, taken away or changes its meaning.
const FORMAT: u32 = 2;

/// Everything that is told.
#[derive(Serialize)]
struct Report<'a> {
    format: u32,
    title: &'a str,
    caution: &'static str,
    verdict: &'static str,
    /// Whether the point holds when disturbed.
    stable: bool,
    steps: u32,
    /// Greatest flow that appears or vanishes at a node, over the greatest flow.
    mass_residual: f64,
    /// Greatest misfit between a law and the pressure across it, over the greatest pump pressure.
    energy_residual: f64,
    design: Design,
    fluid: FluidPart,
    acceptance: AcceptancePart<'a>,
    pumps: Vec<PumpPart<'a>>,
    sources: Vec<SourcePart<'a>>,
    zones: Vec<ZonePart<'a>>,
    all_zones: ZonePart<'a>,
    components: Vec<LinkPart<'a>>,
    pipes: Vec<PipePart<'a>>,
    readings: Vec<ReadingPart<'a>>,
    /// Where a vessel's pressure is given.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pressures: Vec<PressurePart<'a>>,
    checks: Vec<CheckPart>,
}

/// The whole report as JSON. The units are those that the key names say, whatever is chosen for people.
#[must_use]
pub fn data(project: &Project, study: &Study, _units: &Units) -> String {
    let report = report(project, study);
    let text = serde_json::to_string_pretty(&report)
        .unwrap_or_else(|error| serde_json::json!({ "error": error.to_string() }).to_string());
    text + "\n"
}

fn report<'a>(project: &'a Project, study: &'a Study) -> Report<'a> {
    let results = study.results();
    let name = |id: ComponentId| project.components.get(&id).map_or("", |component| component.name.as_str());
    let pumps = results.pumps.iter().filter_map(|(id, result)| match project.components.get(id)? {
        Component { name, kind: ComponentKind::Pump(unit), .. } => {
            Some(PumpPart::new(name, unit, result, study.curves(*id)))
        }
        _ => None,
    });
    let zones = project.zones.iter().filter_map(|(id, zone)| {
        let result = results.zones.get(id)?;
        Some(ZonePart::new(&zone.name, &result.into(), Some(result.state)))
    });
    let components = results.components.iter().map(|(id, result)| {
        let kind = project.components.get(id).map_or("", Component::kind_name);
        LinkPart::new(name(*id), kind, result, results.bypasses.get(id))
    });
    let readings = results.readings.iter().map(|(id, reading)| {
        let kind = project.components.get(id).map_or("", Component::kind_name);
        ReadingPart::new(name(*id), kind, *reading)
    });
    let pipes = results.pipes.iter().filter_map(|(id, result)| {
        let pipe = project.pipes.get(id)?;
        let ends = [name(pipe.from.component), name(pipe.to.component)];
        Some(PipePart::new(project.pipe_label(pipe), ends, pipe, result))
    });
    let known = Pressures::new(project, study);
    let pressures = project
        .components
        .iter()
        .filter_map(|(id, component)| Some(PressurePart::new(&component.name, known.of_component(*id)?)));
    let basis = &project.design;
    Report {
        format: FORMAT,
        title: &project.title,
        caution: CAUTION,
        verdict: match results.verdict {
            _ if !results.temperatures_agree => "not_settled",
            Verdict::Converged => "converged",
            Verdict::NotConverged => "not_converged",
            Verdict::NoPump => "no_pump",
        },
        stable: results.stable,
        steps: results.iterations,
        mass_residual: results.mass_error,
        energy_residual: results.energy_error,
        design: Design {
            duty: match basis.duty {
                Duty::Heating => "heating",
                Duty::Cooling => "cooling",
            },
            supply_c: basis.supply_c,
            return_c: basis.return_c,
            room_c: basis.room_c,
            outdoor_c: basis.outdoor_c,
            outdoor_now_c: project.outdoor_now_c,
        },
        fluid: FluidPart::new(&project.fluid, &study.lowered().fluid),
        acceptance: AcceptancePart::new(&project.acceptance),
        pumps: pumps.collect(),
        sources: results.sources.iter().map(|(id, source)| SourcePart::new(name(*id), source)).collect(),
        zones: zones.collect(),
        all_zones: ZonePart::new("All zones", &Amounts::of_all(project, results), None),
        components: components.collect(),
        pipes: pipes.collect(),
        readings: readings.collect(),
        pressures: pressures.collect(),
        checks: checks(project, study, &Units::si()).into_iter().map(CheckPart::new).collect(),
    }
}

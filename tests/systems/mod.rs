//! Systems to hold part load and settings against: the sample buildings, and small ones that chance makes, always the same ones.

use headwise::document::{
    Acceptance, Arrangement, Command, ComponentId, DesignBasis, Duty, PlannedFlow, PlannedRun, PlannedValve,
    PlannedZone, Project, Scenario, SystemPlan, ZoneId,
};
use headwise::engine::fluid::Fluid;
use headwise::engine::links::emitter::EmitterLaw;
use headwise::engine::pipes;
use headwise::engine::pump::{ReferenceFlow, Regulation};
use headwise::file;
use headwise::study::Study;
use headwise::study::part_load::ValveState;
use headwise::study::sizing::{SizingLimits, size_system};
use std::collections::BTreeSet;
use std::path::Path;

/// A sample building and its first circulator.
pub fn sample(name: &str) -> (Project, ComponentId) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("sample-projects/{name}.ron"));
    with_pump(file::load(&path).unwrap())
}

fn with_pump(project: Project) -> (Project, ComponentId) {
    let pump = project.pumps().next().unwrap().0;
    (project, pump)
}

/// The study itself under settings, in a state of the valves.
pub fn exact(project: &Project, pump: ComponentId, settings: Regulation, state: &ValveState) -> Study {
    let mut case = project.clone();
    case.apply(&Command::SetRegulation(pump, settings)).unwrap();
    for command in state.commands(project) {
        case.apply(&command).unwrap();
    }
    let study = Study::new(&case).unwrap();
    assert!(study.results().converged(), "{}: {settings:?} in {}", project.title, state.name);
    study
}

/// Design flow of all zones, m³/s.
pub fn design_flow(project: &Project) -> f64 {
    let water = project.design.properties(&project.fluid).unwrap();
    project.zones.values().map(|zone| project.design.flow(zone, &water)).sum()
}

/// Chance that is the same on every machine: xorshift (Marsaglia 2003).
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        let mut chance = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        (0..8).for_each(|_| _ = chance.share());
        chance
    }

    /// From 0 to 1.
    pub fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }

    pub fn below(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count - 1)
    }
}

/// A system of so many zones, sized and balanced, with a few scenarios. Every zone can be shut.
pub fn composed(
    chance: &mut Chance,
    zones: usize,
    scenarios: usize,
    valves: &[PlannedValve],
) -> (Project, ComponentId) {
    let outdoor_c = valves.contains(&PlannedValve::Thermostatic).then_some(-10.0);
    let planned = |number: usize| {
        let is_floor = chance.share() < 0.3;
        PlannedZone {
            name: format!("Zone {number}"),
            load: chance.within(1e3, 9e3),
            flow: PlannedFlow::AsDesigned,
            emitter: if is_floor {
                EmitterLaw::FloorLoop { exponent: 1.1 }
            } else {
                EmitterLaw::Radiator { exponent: 1.3 }
            },
            emitter_loss: chance.within(4e3, 20e3),
            air_outlet_c: None,
            room_c: None,
            branch: PlannedRun { length: chance.within(2.0, 20.0), minor_k: 5.0, bore: None },
            main: Some(PlannedRun { length: chance.within(4.0, 20.0), minor_k: 1.0, bore: None }),
            valve: valves[chance.below(valves.len())],
            valve_kv: None,
        }
    };
    let planned: Vec<PlannedZone> = (0..zones).map(planned).collect();
    let arrangement = [Arrangement::DirectReturn, Arrangement::ReverseReturn, Arrangement::Manifold][chance.below(3)];
    let plan = SystemPlan {
        title: format!("{zones} zones, {arrangement:?}"),
        notes: String::new(),
        design: DesignBasis { duty: Duty::Heating, supply_c: 45.0, return_c: 38.0, room_c: 20.0, outdoor_c },
        fluid: Fluid::water(),
        arrangement,
        zones: planned,
        pump: None,
        common: PlannedRun { length: chance.within(2.0, 10.0), minor_k: 6.0, bore: None },
        source_loss: chance.within(2e3, 10e3),
        source_minimum_flow: 0.0,
        strainer_kv: None,
        roughness: 45e-6,
    };
    let series = pipes::series("steel-40").unwrap();
    let mut project = size_system(&plan, series, &SizingLimits::default()).unwrap().project;
    let ids: Vec<ZoneId> = project.zones.keys().copied().collect();
    project.scenarios = (0..scenarios)
        .map(|number| {
            let open = ids[chance.below(ids.len())];
            let shut: BTreeSet<ZoneId> =
                ids.iter().filter(|id| **id != open && number > 0 && chance.share() < 0.5).copied().collect();
            let hours_per_year = chance.within(100.0, 1500.0).round();
            let outdoor_c = outdoor_c.map(|design_c| chance.within(design_c, 10.0).round());
            Scenario { name: format!("State {number}"), hours_per_year, shut, outdoor_c }
        })
        .collect();
    let (low, high) = (chance.within(0.8, 0.92), chance.within(1.15, 1.6));
    project.acceptance = Acceptance { low, high, source: "invented".to_owned() };
    with_pump(project)
}

/// One of the three definitions of the reference flow.
pub fn reference(chance: &mut Chance, project: &Project) -> ReferenceFlow {
    match chance.below(3) {
        0 => ReferenceFlow::FullSpeed,
        1 => ReferenceFlow::CappedSpeed,
        _ => ReferenceFlow::DesignFlow(chance.within(0.8, 1.2) * design_flow(project)),
    }
}

//! A small drawing for the rules' tests: source, circulator, two tees and two zones, to be changed by name.

use super::find;
use crate::document::{
    Acceptance, CataloguePoint, Component, ComponentId, ComponentKind, DesignBasis, Duty, Emitter, EnergyBasis, Limits,
    PipeId, PipeRun, Port, PortRef, Project, PumpRegister, PumpUnit, SettingSteps, Site, Source, Starting, Turn,
    Uncertainty, Zone, ZoneId,
};
use crate::engine::fluid::Fluid;
use crate::engine::links::emitter::EmitterLaw;
use crate::engine::pump::{ReferenceFlow, Regulation};
use std::collections::BTreeMap;

/// Titles of the checks whose text holds the words.
pub(super) fn titles(project: &Project, words: &str) -> Vec<String> {
    find(project).into_iter().filter(|p| p.text().contains(words)).map(|p| p.title).collect()
}

/// A drawing in the making.
pub(super) struct Sketch {
    /// The project drawn so far.
    pub project: Project,
    next: u32,
}

impl Sketch {
    pub fn new() -> Self {
        let design = DesignBasis { duty: Duty::Heating, supply_c: 45.0, return_c: 38.0, room_c: 20.0, outdoor_c: None };
        let project = Project {
            title: "Sketch".to_owned(),
            notes: String::new(),
            site: Site::default(),
            design,
            outdoor_now_c: None,
            fluid: Fluid::water(),
            acceptance: Acceptance::default(),
            limits: Limits::default(),
            energy: EnergyBasis::default(),
            uncertainty: Uncertainty::default(),
            components: BTreeMap::new(),
            pipes: BTreeMap::new(),
            zones: BTreeMap::new(),
            scenarios: Vec::new(),
            every_combination: false,
            variants: Vec::new(),
            starting: Starting::default(),
        };
        Self { project, next: 0 }
    }

    /// Source → circulator → tee → two zones → tee → source, with a vessel.
    pub fn two_zones() -> Self {
        let mut sketch = Self::new();
        sketch.add(
            "Source",
            ComponentKind::Source(Source { loss: 0.0, rated_flow: 0.0, minimum_flow: 0.0, supply_c: None }),
        );
        sketch.pump("Circulator");
        sketch.tee("Flow tee");
        sketch.tee("Return tee");
        sketch.vessel("Vessel");
        sketch.pipe("Source", "Circulator");
        sketch.pipe("Circulator", "Flow tee");
        for zone in ["A", "B"] {
            let (name, valve) = (format!("Zone {zone}"), format!("Zone {zone} valve"));
            let law = EmitterLaw::Radiator { exponent: 1.3 };
            let emitter = sketch.add(
                &name,
                ComponentKind::Emitter(Emitter { law, loss: 8e3, rated_flow: None, exponent: 2.0, air_outlet_c: None }),
            );
            let valve_id = sketch.add(&valve, ComponentKind::ZoneValve { kv: 1.0, open: true });
            sketch.pipe("Flow tee", &name);
            sketch.pipe(&name, &valve);
            sketch.pipe(&valve, "Return tee");
            let room = Zone {
                name: format!("Room {zone}"),
                load: 4e3,
                emitter,
                valve: Some(valve_id),
                room_c: None,
                return_c: None,
                gain: 0.0,
            };
            sketch.project.zones.insert(ZoneId(sketch.next), room);
        }
        sketch.pipe("Return tee", "Source");
        sketch.pipe("Vessel", "Return tee");
        sketch
    }

    fn add(&mut self, name: &str, kind: ComponentKind) -> ComponentId {
        self.next += 1;
        let component = Component::new(name, [0.0, 0.0], Turn::Right, kind);
        self.project.components.insert(ComponentId(self.next), component);
        ComponentId(self.next)
    }

    pub fn id(&self, name: &str) -> ComponentId {
        self.project.component_named(name).unwrap()
    }

    pub fn tee(&mut self, name: &str) {
        self.add(name, ComponentKind::Junction);
    }

    pub fn vessel(&mut self, name: &str) {
        self.add(name, ComponentKind::ExpansionVessel { pressure: None });
    }

    pub fn strainer(&mut self, name: &str) {
        self.add(name, ComponentKind::Strainer { kv: 5.0, fouled_kv: 5.0, fouling: 0.0 });
    }

    pub fn isolation_valve(&mut self, name: &str) {
        self.add(name, ComponentKind::IsolationValve { kv: 5.0, open: true });
    }

    pub fn bypass_valve(&mut self, name: &str) {
        self.add(name, ComponentKind::BypassValve { set_pressure: 20e3, band: 10e3, kv: 2.0 });
    }

    pub fn check_valve(&mut self, name: &str) {
        self.add(name, ComponentKind::CheckValve { kv: 5.0, cracking: 500.0 });
    }

    pub fn pump(&mut self, name: &str) {
        let point = |flow: f64, head: f64, power: f64| CataloguePoint { flow: flow / 3600.0, head, power };
        let unit = PumpUnit {
            catalogue: vec![point(0.0, 7.5, 40.0), point(1.5, 6.5, 60.0), point(3.0, 3.7, 75.0)],
            standby_power: 3.0,
            full_speed_rpm: 4400.0,
            regulation: Regulation {
                head_limit_m: Some(4.0),
                slope: 0.2,
                speed_cap: 1.0,
                power_limit_w: None,
                minimum_speed: 0.2,
                reference: ReferenceFlow::FullSpeed,
            },
            steps: SettingSteps::default(),
            running: true,
            stopped_kv: None,
            least_inlet_pressure: None,
            npsh_required: None,
            address: String::new(),
            register: PumpRegister::default(),
        };
        self.add(name, ComponentKind::Pump(Box::new(unit)));
    }

    pub fn set_address(&mut self, name: &str, address: &str) {
        let id = self.id(name);
        if let Some(ComponentKind::Pump(unit)) = self.project.components.get_mut(&id).map(|c| &mut c.kind) {
            unit.address = address.to_owned();
        }
    }

    fn port(&self, name: &str, outlet: bool) -> PortRef {
        let component = self.id(name);
        let port = match self.project.components[&component].ports() {
            [only] => *only,
            _ if outlet => Port::Outlet,
            _ => Port::Inlet,
        };
        PortRef { component, port }
    }

    /// A pipe from one component's outlet to the next one's inlet.
    pub fn pipe(&mut self, from: &str, to: &str) -> PipeId {
        self.pipe_between((from, true), (to, false))
    }

    /// A pipe between chosen ports: `true` is the outlet.
    pub fn pipe_between(&mut self, from: (&str, bool), to: (&str, bool)) -> PipeId {
        self.next += 1;
        let (from, to) = (self.port(from.0, from.1), self.port(to.0, to.1));
        let run = PipeRun { minor_k: 2.0, ..PipeRun::straight(from, to, 5.0, 0.02, 1.5e-6) };
        self.project.pipes.insert(PipeId(self.next), run);
        PipeId(self.next)
    }

    pub fn remove_pipe(&mut self, from: &str, to: &str) {
        let (from, to) = (self.id(from), self.id(to));
        self.project.pipes.retain(|_, pipe| pipe.from.component != from || pipe.to.component != to);
    }

    pub fn remove(&mut self, name: &str) {
        let id = self.id(name);
        self.project.components.remove(&id);
        self.project.pipes.retain(|_, pipe| pipe.from.component != id && pipe.to.component != id);
    }
}

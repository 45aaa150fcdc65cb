//! From a drawing to a network: ports become nodes, components and pipes become links.

use super::circuits::{Circuit, Membership};
use super::laws::{self, Water};
use super::nodes;
use super::thermostats::{self, Throttle};
use crate::document::{Component, ComponentId, ComponentKind, PipeId, Port, PortRef, Project, PumpUnit, ZoneId};
use crate::engine::fluid::{FluidError, FluidProperties};
use crate::engine::network::{Link, Network, NodeId, PumpLaw, PumpLink};
use crate::engine::pump::{
    CATALOGUE_WATER, CurveError, Pump, Regulated, RegulationError, Viscous, corrected, corrected_about,
};
use std::collections::BTreeMap;
use thiserror::Error;

/// Why a document cannot be lowered.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum LowerError {
    /// The fluid has no properties at the design temperatures.
    #[error("the fluid at the mean of supply and return temperature: {0}")]
    Fluid(#[from] FluidError),
    /// A pump without a usable curve.
    #[error("{pump}: {flaw}")]
    Curve {
        /// The pump's name.
        pump: String,
        /// What is wrong.
        flaw: CurveError,
    },
    /// A pump with settings that cannot be.
    #[error("{pump}: {flaw}")]
    Settings {
        /// The pump's name.
        pump: String,
        /// What is wrong.
        flaw: RegulationError,
    },
}

/// What a link of the network stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkOwner {
    /// A pipe run.
    Pipe(PipeId),
    /// A component, from inlet to outlet.
    Component(ComponentId),
    /// The bypass of a three-way valve: from its branch to its outlet where it mixes, from its inlet to its branch where it
    /// diverts.
    Bypass(ComponentId),
}

/// The link of each component that is one from inlet to outlet.
pub(super) fn component_links(owners: &[LinkOwner]) -> BTreeMap<ComponentId, usize> {
    let component = |(link, owner): (usize, &LinkOwner)| match owner {
        LinkOwner::Component(id) => Some((*id, link)),
        LinkOwner::Pipe(_) | LinkOwner::Bypass(_) => None,
    };
    owners.iter().enumerate().filter_map(component).collect()
}

/// A running pump of the network.
#[derive(Clone, Debug)]
pub struct LoweredPump {
    /// Its component.
    pub id: ComponentId,
    /// Its fitted curves in the water of its catalogue.
    fitted: Pump,
    /// The same in the water of its circuit as it is now.
    pub viscous: Viscous,
    /// The circuit it moves.
    pub circuit: usize,
}

/// A lowered document.
#[derive(Clone, Debug)]
pub struct Lowered {
    /// The network.
    pub network: Network,
    /// What each link stands for, in the network's order.
    pub owners: Vec<LinkOwner>,
    /// The running pumps, in the network's order.
    pub pumps: Vec<LoweredPump>,
    /// The node of each port.
    pub nodes: BTreeMap<PortRef, NodeId>,
    /// Fluid properties at the mean of the design's supply and return temperature.
    pub fluid: FluidProperties,
    /// The circuits, each with its water as it is now.
    pub circuits: Vec<Circuit>,
    /// The circuit of each link, in the network's order.
    pub(super) circuit_of: Vec<usize>,
    /// Thermostatic valves that a room moves.
    pub(super) throttles: Vec<Throttle>,
    /// The zones that they serve, each with its valves by their numbers in that list.
    throttled: BTreeMap<ZoneId, Vec<usize>>,
    /// The zone of each emitter; laws and temperatures ask for it in every round.
    pub(super) zone_of: BTreeMap<ComponentId, ZoneId>,
}

impl Lowered {
    /// Lowers a document.
    ///
    /// # Errors
    /// A fluid without properties, a pump without a usable curve or with settings that cannot be.
    pub fn new(project: &Project) -> Result<Self, LowerError> {
        let fluid = project.design.properties(&project.fluid)?;
        let (nodes, count) = nodes::number(project);
        let membership = Membership::new(project);
        let circuit = Circuit { mean_c: project.design.mean_c(), fluid };
        let mut lowered = Self {
            network: Network { nodes: count, ..Network::default() },
            owners: Vec::new(),
            pumps: Vec::new(),
            nodes,
            fluid,
            circuits: vec![circuit; membership.count],
            circuit_of: Vec::new(),
            throttles: Vec::new(),
            throttled: BTreeMap::new(),
            zone_of: project.zones.iter().rev().map(|(id, zone)| (zone.emitter, *id)).collect(),
        };
        for (id, component) in &project.components {
            lowered.add_component(project, &membership, *id, component)?;
        }
        for (id, pipe) in &project.pipes {
            if let (false, Some(&from), Some(&to)) =
                (pipe.is_joint(), lowered.nodes.get(&pipe.from), lowered.nodes.get(&pipe.to))
            {
                let circuit = membership.pipes.get(id).copied().unwrap_or(0);
                lowered.push(Link { from, to, law: laws::of_pipe(pipe, &fluid) }, LinkOwner::Pipe(*id), circuit);
            }
        }
        lowered.throttles = thermostats::find(project, &lowered.owners);
        for (index, throttle) in lowered.throttles.iter().enumerate() {
            lowered.throttled.entry(throttle.zone).or_default().push(index);
        }
        thermostats::take_laws(project, &mut lowered);
        lowered.network.reference = lowered.reference(project);
        Ok(lowered)
    }

    fn push(&mut self, link: Link, owner: LinkOwner, circuit: usize) {
        self.network.links.push(link);
        self.owners.push(owner);
        self.circuit_of.push(circuit);
    }

    fn add_component(
        &mut self,
        project: &Project,
        membership: &Membership,
        id: ComponentId,
        component: &Component,
    ) -> Result<(), LowerError> {
        let circuit = membership.components.get(&id).copied().unwrap_or(0);
        let node = |port| self.nodes.get(&PortRef { component: id, port }).copied();
        let (Some(from), Some(to)) = (node(Port::Inlet), node(Port::Outlet)) else { return Ok(()) };
        let bypass = component.bypass_ends().map(|ends| (ends.map(node), laws::of_bypass(component, &self.fluid)));
        if let ComponentKind::Pump(unit) = &component.kind
            && unit.running
        {
            let curve = |flaw| LowerError::Curve { pump: component.name.clone(), flaw };
            let fitted = unit.fitted().map_err(curve)?;
            let viscous = corrected(&fitted, &self.fluid, &CATALOGUE_WATER).map_err(curve)?;
            let law = regulated(&component.name, unit, &viscous)?;
            let density_kg_per_m3 = self.fluid.density_kg_per_m3;
            self.network.pumps.push(PumpLink { suction: from, discharge: to, law, density_kg_per_m3 });
            self.pumps.push(LoweredPump { id, fitted, viscous, circuit });
            return Ok(());
        }
        let water = Water { here: &self.fluid, design: &self.fluid };
        if let Some(law) = laws::of_component(project, self.zone_of.get(&id).copied(), component, &water) {
            self.push(Link { from, to, law }, LinkOwner::Component(id), circuit);
        }
        if let Some(([Some(from), Some(to)], Some(law))) = bypass {
            self.push(Link { from, to, law }, LinkOwner::Bypass(id), circuit);
        }
        Ok(())
    }

    /// The expansion vessel's node; without a vessel the first pump's suction.
    fn reference(&self, project: &Project) -> NodeId {
        let vessel = project.components.iter().find(|(_, c)| matches!(c.kind, ComponentKind::ExpansionVessel { .. }));
        let node = vessel.and_then(|(id, _)| self.nodes.get(&PortRef { component: *id, port: Port::Branch }));
        node.copied().or(self.network.pumps.first().map(|p| p.suction)).unwrap_or(0)
    }

    /// Takes the laws of all links anew, with the water of each circuit as it is now; the drawing must be the one that was
    /// lowered.
    pub fn take_laws(&mut self, project: &Project) {
        for (index, (link, owner)) in self.network.links.iter_mut().zip(&self.owners).enumerate() {
            let circuit = self.circuit_of.get(index).and_then(|circuit| self.circuits.get(*circuit));
            let water = Water { here: circuit.map_or(&self.fluid, |circuit| &circuit.fluid), design: &self.fluid };
            let law = match owner {
                LinkOwner::Pipe(id) => project.pipes.get(id).map(|pipe| laws::of_pipe(pipe, water.here)),
                LinkOwner::Component(id) => {
                    let zone = self.zone_of.get(id).copied();
                    project.components.get(id).and_then(|c| laws::of_component(project, zone, c, &water))
                }
                LinkOwner::Bypass(id) => project.components.get(id).and_then(|c| laws::of_bypass(c, water.here)),
            };
            if let Some(law) = law {
                link.law = law;
            }
        }
        thermostats::take_laws(project, self);
        for (link, pump) in self.network.pumps.iter_mut().zip(&mut self.pumps) {
            let Some(circuit) = self.circuits.get(pump.circuit) else { continue };
            link.density_kg_per_m3 = circuit.fluid.density_kg_per_m3;
            // Water that leaves no falling curve, outside all bounds of the method, changes nothing.
            if let Ok(viscous) = corrected_about(&pump.fitted, pump.viscous.best, &circuit.fluid, &CATALOGUE_WATER)
                && let Some(unit) = project.pump(pump.id)
                && let Ok(law) = regulated("", unit, &viscous)
            {
                (pump.viscous, link.law) = (viscous, law);
            }
        }
    }

    /// The circuit of a component that stands for a link, by number.
    pub(super) fn circuit_with(&self, id: ComponentId) -> usize {
        let link = self.owners.iter().position(|owner| *owner == LinkOwner::Component(id));
        link.and_then(|link| self.circuit_of.get(link).copied()).unwrap_or(0)
    }

    /// The water of a circuit as it is now.
    pub(super) fn water_of(&self, circuit: usize) -> Circuit {
        let at_design = Circuit { mean_c: self.fluid.temperature_c, fluid: self.fluid };
        self.circuits.get(circuit).copied().unwrap_or(at_design)
    }

    /// Whether a thermostatic valve serves a zone.
    pub(super) fn is_throttled(&self, zone: ZoneId) -> bool {
        self.throttled.contains_key(&zone)
    }

    /// The thermostatic valves that serve a zone.
    pub(super) fn throttles_of(&self, zone: ZoneId) -> impl Iterator<Item = &Throttle> {
        self.throttled.get(&zone).into_iter().flatten().filter_map(|index| self.throttles.get(*index))
    }

    /// The water of a link's circuit as it is now.
    #[must_use]
    pub fn fluid_of(&self, link: usize) -> &FluidProperties {
        let circuit = self.circuit_of.get(link).and_then(|circuit| self.circuits.get(*circuit));
        circuit.map_or(&self.fluid, |circuit| &circuit.fluid)
    }

    /// Takes the settings of all running pumps anew.
    ///
    /// # Errors
    /// Settings that cannot be.
    pub fn take_settings(&mut self, project: &Project) -> Result<(), LowerError> {
        for (link, lowered) in self.network.pumps.iter_mut().zip(&self.pumps) {
            if let Some(unit) = project.pump(lowered.id) {
                let name = project.components.get(&lowered.id).map_or("", |c| c.name.as_str());
                link.law = regulated(name, unit, &lowered.viscous)?;
            }
        }
        Ok(())
    }

    /// A running pump under its settings.
    #[must_use]
    pub fn regulated(&self, index: usize) -> Option<&Regulated> {
        match &self.network.pumps.get(index)?.law {
            PumpLaw::Regulated(regulated) => Some(regulated),
            PumpLaw::FixedFlow(_) => None,
        }
    }
}

/// A circulator's fitted curves in the fluid of the system, from those in the water of its catalogue.
pub(super) fn in_fluid(unit: &PumpUnit, fluid: &FluidProperties) -> Result<Viscous, CurveError> {
    corrected(&unit.fitted()?, fluid, &CATALOGUE_WATER)
}

fn regulated(name: &str, unit: &PumpUnit, viscous: &Viscous) -> Result<PumpLaw, LowerError> {
    Regulated::of_pump(&viscous.pump, unit.regulation)
        .map(|regulated| PumpLaw::Regulated(Box::new(regulated)))
        .map_err(|flaw| LowerError::Settings { pump: name.to_owned(), flaw })
}

//! From a drawing to a network: ports become nodes, components and pipes become links.

use crate::document::{Component, ComponentId, ComponentKind, PipeId, PipeRun, Port, PortRef, Project, PumpUnit};
use crate::engine::fluid::{FluidError, FluidProperties};
use crate::engine::links::{BypassValve, CheckValve, FixedLoss, FlowLimiter, LinkLaw, Pipe, Valve};
use crate::engine::network::{Link, Network, NodeId, PumpLaw, PumpLink};
use crate::engine::pump::{CurveError, Pump, Regulated, RegulationError};
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
}

/// A running pump of the network.
#[derive(Clone, Debug)]
pub struct LoweredPump {
    /// Its component.
    pub id: ComponentId,
    /// Its fitted curves.
    pub pump: Pump,
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
    /// Fluid properties at the mean of supply and return temperature.
    pub fluid: FluidProperties,
}

impl Lowered {
    /// Lowers a document.
    ///
    /// # Errors
    /// A fluid without properties, a pump without a usable curve or with settings that cannot be.
    pub fn new(project: &Project) -> Result<Self, LowerError> {
        let fluid = project.design.properties(&project.fluid)?;
        let (nodes, count) = number_nodes(project);
        let mut lowered = Self {
            network: Network { nodes: count, ..Network::default() },
            owners: Vec::new(),
            pumps: Vec::new(),
            nodes,
            fluid,
        };
        for (id, component) in &project.components {
            lowered.add_component(project, *id, component)?;
        }
        for (id, pipe) in &project.pipes {
            if let (false, Some(&from), Some(&to)) =
                (pipe.is_joint(), lowered.nodes.get(&pipe.from), lowered.nodes.get(&pipe.to))
            {
                let law = pipe_law(pipe, &fluid);
                lowered.network.links.push(Link { from, to, law });
                lowered.owners.push(LinkOwner::Pipe(*id));
            }
        }
        lowered.network.reference = lowered.reference(project);
        Ok(lowered)
    }

    fn add_component(&mut self, project: &Project, id: ComponentId, component: &Component) -> Result<(), LowerError> {
        let node = |port| self.nodes.get(&PortRef { component: id, port }).copied();
        let (Some(from), Some(to)) = (node(Port::Inlet), node(Port::Outlet)) else { return Ok(()) };
        if let ComponentKind::Pump(unit) = &component.kind
            && unit.running
        {
            let pump = unit.fitted().map_err(|flaw| LowerError::Curve { pump: component.name.clone(), flaw })?;
            let law = regulated(&component.name, unit, &pump)?;
            let density_kg_per_m3 = self.fluid.density_kg_per_m3;
            self.network.pumps.push(PumpLink { suction: from, discharge: to, law, density_kg_per_m3 });
            self.pumps.push(LoweredPump { id, pump });
            return Ok(());
        }
        if let Some(law) = component_law(project, id, component, &self.fluid) {
            self.network.links.push(Link { from, to, law });
            self.owners.push(LinkOwner::Component(id));
        }
        Ok(())
    }

    /// The expansion vessel's node; without a vessel the first pump's suction.
    fn reference(&self, project: &Project) -> NodeId {
        let vessel = project.components.iter().find(|(_, c)| c.kind == ComponentKind::ExpansionVessel);
        let node = vessel.and_then(|(id, _)| self.nodes.get(&PortRef { component: *id, port: Port::Branch }));
        node.copied().or(self.network.pumps.first().map(|p| p.suction)).unwrap_or(0)
    }

    /// Takes the laws of all links anew; the drawing must be the one that was lowered.
    ///
    /// # Errors
    /// A fluid without properties.
    pub fn take_laws(&mut self, project: &Project) -> Result<(), LowerError> {
        self.fluid = project.design.properties(&project.fluid)?;
        for (link, owner) in self.network.links.iter_mut().zip(&self.owners) {
            let law = match owner {
                LinkOwner::Pipe(id) => project.pipes.get(id).map(|pipe| pipe_law(pipe, &self.fluid)),
                LinkOwner::Component(id) => {
                    project.components.get(id).and_then(|c| component_law(project, *id, c, &self.fluid))
                }
            };
            if let Some(law) = law {
                link.law = law;
            }
        }
        Ok(())
    }

    /// Takes the settings of all running pumps anew.
    ///
    /// # Errors
    /// Settings that cannot be.
    pub fn take_settings(&mut self, project: &Project) -> Result<(), LowerError> {
        for (link, lowered) in self.network.pumps.iter_mut().zip(&self.pumps) {
            if let Some(unit) = project.pump(lowered.id) {
                let name = project.components.get(&lowered.id).map_or("", |c| c.name.as_str());
                link.law = regulated(name, unit, &lowered.pump)?;
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

fn regulated(name: &str, unit: &PumpUnit, pump: &Pump) -> Result<PumpLaw, LowerError> {
    Regulated::new(&pump.curve, unit.regulation)
        .map(|regulated| PumpLaw::Regulated(Box::new(regulated)))
        .map_err(|flaw| LowerError::Settings { pump: name.to_owned(), flaw })
}

fn pipe_law(pipe: &PipeRun, fluid: &FluidProperties) -> LinkLaw {
    LinkLaw::Pipe(Pipe::new(
        pipe.length,
        pipe.bore,
        pipe.roughness,
        pipe.minor_k,
        fluid.density_kg_per_m3,
        fluid.dynamic_viscosity_pa_s,
    ))
}

/// The law of a component between inlet and outlet; `None` for one that only joins pipes.
fn component_law(
    project: &Project,
    id: ComponentId,
    component: &Component,
    fluid: &FluidProperties,
) -> Option<LinkLaw> {
    let density = fluid.density_kg_per_m3;
    let valve = |kv: f64, open: bool| {
        if open { LinkLaw::Valve(Valve::new(kv, density)) } else { LinkLaw::Shut }
    };
    Some(match &component.kind {
        ComponentKind::Source(source) if source.loss > 0.0 => {
            LinkLaw::Fixed(FixedLoss::new(source.loss, source.rated_flow, 2.0))
        }
        ComponentKind::Source(_) => lossless(density),
        ComponentKind::Pump(unit) => stopped_pump(unit, density),
        ComponentKind::Emitter(emitter) => {
            let zone = project.zone_of(id).and_then(|zone| project.zones.get(&zone));
            let design = zone.map_or(0.0, |zone| project.design.flow(zone, fluid));
            let flow = emitter.rated_flow.unwrap_or(design);
            if emitter.loss > 0.0 && flow > 0.0 {
                LinkLaw::Fixed(FixedLoss::new(emitter.loss, flow, emitter.exponent))
            } else {
                lossless(density)
            }
        }
        ComponentKind::ZoneValve { kv, open } | ComponentKind::IsolationValve { kv, open } => valve(*kv, *open),
        ComponentKind::ControlValve { shut: true, .. } => LinkLaw::Shut,
        ComponentKind::ControlValve { kvs, characteristic, position, .. } => {
            LinkLaw::Valve(Valve::at_position(*kvs, *characteristic, *position, density))
        }
        ComponentKind::BalancingValve { kv } | ComponentKind::Strainer { kv } => valve(*kv, true),
        ComponentKind::PressureIndependentValve { set_flow, least_drop, open } => {
            if *open {
                LinkLaw::Limiter(FlowLimiter::new(*set_flow, *least_drop))
            } else {
                LinkLaw::Shut
            }
        }
        ComponentKind::BypassValve { set_pressure, band, kv } => {
            LinkLaw::Bypass(BypassValve::new(*set_pressure, *band, *kv, density))
        }
        ComponentKind::CheckValve { kv, cracking } => LinkLaw::Check(CheckValve::new(*kv, *cracking, density)),
        ComponentKind::Junction | ComponentKind::ExpansionVessel => return None,
    })
}

/// A component that takes next to nothing: a valve so large that its loss is lost in the last digit.
fn lossless(density: f64) -> LinkLaw {
    LinkLaw::Valve(Valve::new(2000.0, density))
}

/// A stopped pump lets water through its impeller: taken as its shut-off head at the end of its curve (common practice, no
/// source; a check valve makes the figure irrelevant).
fn stopped_pump(unit: &PumpUnit, density: f64) -> LinkLaw {
    let head = unit.catalogue.iter().map(|p| p.head).fold(0.0, f64::max);
    let flow = unit.catalogue.iter().map(|p| p.flow).fold(0.0, f64::max);
    let loss = density * crate::engine::GRAVITY_M_PER_S2 * head;
    if loss > 0.0 && flow > 0.0 { LinkLaw::Fixed(FixedLoss::new(loss, flow, 2.0)) } else { lossless(density) }
}

/// Gives each port its node: bare joints and tees make one node of several ports.
fn number_nodes(project: &Project) -> (BTreeMap<PortRef, NodeId>, usize) {
    let ports: Vec<PortRef> = project
        .components
        .iter()
        .flat_map(|(id, c)| c.ports().iter().map(|port| PortRef { component: *id, port: *port }))
        .collect();
    let index: BTreeMap<PortRef, usize> = ports.iter().enumerate().map(|(i, p)| (*p, i)).collect();
    let mut parent: Vec<usize> = (0..ports.len()).collect();
    for pipe in project.pipes.values().filter(|pipe| pipe.is_joint()) {
        if let (Some(&a), Some(&b)) = (index.get(&pipe.from), index.get(&pipe.to)) {
            let (a, b) = (root(&mut parent, a), root(&mut parent, b));
            parent[a] = b;
        }
    }
    let mut number = vec![usize::MAX; ports.len()];
    let mut count = 0;
    let mut nodes = BTreeMap::new();
    for (i, port) in ports.iter().enumerate() {
        let r = root(&mut parent, i);
        if number[r] == usize::MAX {
            number[r] = count;
            count += 1;
        }
        nodes.insert(*port, number[r]);
    }
    (nodes, count)
}

fn root(parent: &mut [usize], mut i: usize) -> usize {
    while parent[i] != i {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    i
}

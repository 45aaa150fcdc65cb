//! Circuits: what hangs together without passing through a hydraulic separator. The water of a circuit is taken at one
//! temperature, the mean of what enters and leaves its sources and emitters, weighted by flow: a warm floor behind a separator
//! is not reckoned with the boiler's thinner water.
//!
//! Viscosity and density follow the present temperatures, which follow the flows, which follow viscosity and density: the
//! study solves, asks here whether a mean has moved, takes the laws anew and solves again until none has. The way back is
//! weak (1 K is about 2 % of water's viscosity and 0.5 % of a friction loss), so two or three rounds settle it.

use super::lower::Lowered;
use super::nodes::root;
use super::temperatures::Exchange;
use crate::document::{ComponentId, ComponentKind, PipeId, Port, PortRef, Project};
use crate::engine::fluid::FluidProperties;
use std::collections::BTreeMap;

/// Change of a mean temperature that is still taken into the laws, K: 1e-11 of a friction loss.
const TOLERANCE_K: f64 = 1e-9;

/// The water of one circuit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit {
    /// Its mean temperature, °C.
    pub mean_c: f64,
    /// Its properties at that temperature.
    pub fluid: FluidProperties,
}

/// Which circuit each piece of the drawing belongs to.
#[derive(Clone, Debug, Default)]
pub(super) struct Membership {
    /// Of a separator the primary one.
    pub(super) components: BTreeMap<ComponentId, usize>,
    pub(super) pipes: BTreeMap<PipeId, usize>,
    pub(super) count: usize,
}

impl Membership {
    pub(super) fn new(project: &Project) -> Self {
        let ports = project
            .components
            .iter()
            .flat_map(|(id, c)| c.ports().iter().map(|port| PortRef { component: *id, port: *port }));
        let index: BTreeMap<PortRef, usize> = ports.enumerate().map(|(i, port)| (port, i)).collect();
        let mut group: Vec<usize> = (0..index.len()).collect();
        let passages = project.components.iter().filter_map(|(id, c)| {
            let port = |port| PortRef { component: *id, port };
            let passes = !matches!(c.kind, ComponentKind::Separator { .. });
            passes.then_some((port(Port::Inlet), port(Port::Outlet)))
        });
        let bypasses = project.components.iter().filter_map(|(id, c)| {
            let [from, to] = c.bypass_ends()?.map(|port| PortRef { component: *id, port });
            Some((from, to))
        });
        let pipes = project.pipes.values().map(|pipe| (pipe.from, pipe.to));
        for (from, to) in pipes.chain(passages).chain(bypasses) {
            if let (Some(&from), Some(&to)) = (index.get(&from), index.get(&to)) {
                let (from, to) = (root(&mut group, from), root(&mut group, to));
                group[from.max(to)] = from.min(to);
            }
        }
        let mut numbers = BTreeMap::new();
        let mut number = |port: PortRef| {
            let root = root(&mut group, *index.get(&port)?);
            let next = numbers.len();
            Some(*numbers.entry(root).or_insert(next))
        };
        let first = |id: ComponentId, c: &crate::document::Component| {
            c.ports().first().map(|port| PortRef { component: id, port: *port })
        };
        let components = project.components.iter().filter_map(|(id, c)| Some((*id, number(first(*id, c)?)?))).collect();
        let pipes = project.pipes.iter().filter_map(|(id, pipe)| Some((*id, number(pipe.from)?))).collect();
        Self { components, pipes, count: numbers.len() }
    }
}

/// Takes the circuits' means from what sources and emitters do now. Whether one has moved so far that the laws must be taken
/// anew. A circuit without flow stays at the design's mean.
pub(super) fn follow(project: &Project, lowered: &mut Lowered, exchanges: &[Exchange]) -> bool {
    let mut sums = vec![(0.0, 0.0); lowered.circuits.len()];
    for exchange in exchanges {
        let mean_c = 0.5 * (exchange.enters_c + exchange.leaves_c);
        if mean_c.is_finite()
            && let Some((heat, flow)) = lowered.circuit_of.get(exchange.link).and_then(|c| sums.get_mut(*c))
        {
            *heat += exchange.flow * mean_c;
            *flow += exchange.flow;
        }
    }
    let (low_c, high_c) = project.fluid.temperature_range_c();
    let mut moved = false;
    for (circuit, (heat, flow)) in lowered.circuits.iter_mut().zip(sums) {
        let mean_c = if flow > 0.0 { (heat / flow).max(low_c).min(high_c) } else { project.design.mean_c() };
        if (mean_c - circuit.mean_c).abs() > TOLERANCE_K
            && let Ok(fluid) = project.fluid.properties(mean_c)
        {
            *circuit = Circuit { mean_c, fluid };
            moved = true;
        }
    }
    moved
}

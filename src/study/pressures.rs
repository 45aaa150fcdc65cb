//! Pressures above the air's: what a gauge would show at any port, reckoned from the expansion vessels whose pressure is known.
//!
//! ```text
//! p = p_vessel + ΔP + ρ g (h_vessel − h)
//! ```
//!
//! `p` gauge pressure, Pa; `ΔP` what pipes, components and pumps add or take on the way from the vessel at the present flows,
//! Pa; ρ density at the design's mean temperature, kg/m³; g = 9.80665 m/s²; h height above the datum, m (hydrostatics,
//! textbook). One density for the whole circuit: what a hot and a cold column differ by, 1 or 2 % of the static part, is left
//! out. The velocity head is left out too, 0.5 kPa at 1 m/s. Between two vessels on one circuit the first that is known counts.
//!
//! The gauge stands in the standard atmosphere, 101 325 Pa (ISO 2533, from memory); higher up the air presses less.

use super::Study;
use super::lower::{LinkOwner, Lowered};
use super::results::Results;
use crate::document::{ComponentId, ComponentKind, Port, PortRef, Project};
use crate::engine::GRAVITY_M_PER_S2;

/// The pressures of a document under study.
#[derive(Clone, Debug)]
pub struct Pressures<'a> {
    project: &'a Project,
    lowered: &'a Lowered,
    /// Gauge pressure of each node brought to the datum's height, Pa; not a number where it is not known.
    at_datum: Vec<f64>,
    /// The vessel that each node is reckoned from.
    vessels: Vec<Option<ComponentId>>,
    /// ρ g, Pa per metre.
    weight: f64,
}

impl<'a> Pressures<'a> {
    /// Reckons all pressures; the study must be that of the project.
    #[must_use]
    pub fn new(project: &'a Project, study: &'a Study) -> Self {
        Self::of(project, study.lowered(), study.results())
    }

    /// The same from the parts of a study.
    pub(super) fn of(project: &'a Project, lowered: &'a Lowered, results: &Results) -> Self {
        let nodes = lowered.network.nodes;
        let weight = lowered.fluid.density_kg_per_m3 * GRAVITY_M_PER_S2;
        let mut pressures =
            Self { project, lowered, at_datum: vec![f64::NAN; nodes], vessels: vec![None; nodes], weight };
        let known: Vec<(ComponentId, f64)> = project
            .components
            .iter()
            .filter_map(|(id, component)| match component.kind {
                ComponentKind::ExpansionVessel { pressure } => Some((*id, pressure? + weight * component.height)),
                _ => None,
            })
            .collect();
        if !known.is_empty() {
            let rises = rises(lowered, results);
            for (vessel, pressure) in known {
                pressures.spread(vessel, pressure, &rises);
            }
        }
        pressures
    }

    /// Spreads what is known at a vessel over all that hangs together with it.
    fn spread(&mut self, vessel: ComponentId, pressure: f64, rises: &[Vec<(usize, f64)>]) {
        let port = PortRef { component: vessel, port: Port::Branch };
        let Some(start) = self.lowered.nodes.get(&port).copied().filter(|node| *node < rises.len()) else { return };
        if self.vessels[start].is_some() {
            return;
        }
        (self.at_datum[start], self.vessels[start]) = (pressure, Some(vessel));
        let mut waiting = vec![start];
        while let Some(node) = waiting.pop() {
            for &(next, rise) in &rises[node] {
                if self.vessels[next].is_none() {
                    (self.at_datum[next], self.vessels[next]) = (self.at_datum[node] + rise, Some(vessel));
                    waiting.push(next);
                }
            }
        }
    }

    /// Gauge pressure at a port at the height of its component, Pa; `None` where it is not known.
    #[must_use]
    pub fn at(&self, port: PortRef) -> Option<f64> {
        let node = self.lowered.nodes.get(&port)?;
        let height = self.project.components.get(&port.component)?.height;
        self.at_datum.get(*node).map(|pressure| pressure - self.weight * height).filter(|pressure| pressure.is_finite())
    }

    /// Gauge pressures at the inlet and the outlet of a component, Pa, or twice that of its only port.
    #[must_use]
    pub fn of_component(&self, id: ComponentId) -> Option<[f64; 2]> {
        let ports = self.project.components.get(&id)?.ports();
        let port = |port: Port| self.at(PortRef { component: id, port });
        match ports {
            [only] => port(*only).map(|pressure| [pressure; 2]),
            _ => Some([port(Port::Inlet)?, port(Port::Outlet)?]),
        }
    }

    /// Gauge pressure at a port while nothing flows and no pump turns, Pa; `None` where it is not known.
    #[must_use]
    pub fn standing(&self, port: PortRef) -> Option<f64> {
        let vessel = self.project.components.get(&self.vessel(port)?)?;
        let ComponentKind::ExpansionVessel { pressure } = vessel.kind else { return None };
        let height = self.project.components.get(&port.component)?.height;
        Some(pressure? + self.weight * (vessel.height - height))
    }

    /// The vessel that a port's pressure is reckoned from.
    #[must_use]
    pub fn vessel(&self, port: PortRef) -> Option<ComponentId> {
        self.lowered.nodes.get(&port).and_then(|node| self.vessels.get(*node).copied()).flatten()
    }

    /// Whether any pressure is known.
    #[must_use]
    pub fn any(&self) -> bool {
        self.vessels.iter().any(Option::is_some)
    }
}

/// The neighbours of each node, with what pressure rises by on the way there, Pa. A link whose drop is not defined leads nowhere.
fn rises(lowered: &Lowered, results: &Results) -> Vec<Vec<(usize, f64)>> {
    let mut rises: Vec<Vec<(usize, f64)>> = vec![Vec::new(); lowered.network.nodes];
    let mut join = |from: usize, to: usize, rise: f64| {
        if rise.is_finite() {
            rises[from].push((to, rise));
            rises[to].push((from, -rise));
        }
    };
    for (link, owner) in lowered.network.links.iter().zip(&lowered.owners) {
        let drop = match owner {
            LinkOwner::Pipe(id) => results.pipes.get(id).map(|pipe| pipe.drop),
            LinkOwner::Component(id) => results.components.get(id).map(|component| component.drop),
            LinkOwner::Bypass(id) => results.bypasses.get(id).map(|bypass| bypass.drop),
        };
        join(link.from, link.to, drop.map_or(f64::NAN, |drop| -drop));
    }
    for (link, pump) in lowered.network.pumps.iter().zip(&lowered.pumps) {
        let head = results.pumps.get(&pump.id).map_or(f64::NAN, |pump| pump.head);
        join(link.suction, link.discharge, head * link.density_kg_per_m3 * GRAVITY_M_PER_S2);
    }
    rises
}

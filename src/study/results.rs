//! What everything does at the present settings and valve positions, in the document's terms.

use super::circuits::Circuit;
use super::joints;
use super::lower::{LinkOwner, Lowered, in_fluid};
use super::readings::{self, Reading};
use super::settle::Settled;
use super::temperatures::Exchange;
use super::zones::ZoneResult;
use crate::document::{ComponentId, ComponentKind, PipeId, PortRef, Project, ZoneId};
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::links::LinkLaw;
use crate::engine::network::{Outcome, Verdict};
use crate::engine::pump::{GoverningLimit, Regulated, Viscous, ViscousFactors, hydraulic_w};
use std::collections::BTreeMap;

/// The answer in the document's terms.
#[derive(Clone, Debug, PartialEq)]
pub struct Results {
    /// Whether the answer stands.
    pub verdict: Verdict,
    /// Newton steps taken until flows and temperatures agreed.
    pub iterations: u32,
    /// Greatest flow that appears or vanishes at a node, over the greatest flow.
    pub mass_error: f64,
    /// Greatest misfit between a law and the pressure across it, over the greatest pump pressure.
    pub energy_error: f64,
    /// Whether the point holds when disturbed, all pumps together.
    pub stable: bool,
    /// Pumps, running or not.
    pub pumps: BTreeMap<ComponentId, PumpResult>,
    /// Zones.
    pub zones: BTreeMap<ZoneId, ZoneResult>,
    /// Components with an inlet and an outlet, except running pumps.
    pub components: BTreeMap<ComponentId, ComponentResult>,
    /// Bypasses of three-way valves, in the direction that is meant.
    pub bypasses: BTreeMap<ComponentId, ComponentResult>,
    /// What instruments read.
    pub readings: BTreeMap<ComponentId, Reading>,
    /// Sources through which water flows.
    pub sources: BTreeMap<ComponentId, SourceResult>,
    /// Pipe runs.
    pub pipes: BTreeMap<PipeId, PipeResult>,
    /// All operating points where there may be several, by rising flow of the first pump; at most one where there are not.
    pub points: Vec<PossiblePoint>,
    /// Temperature of each node of the lowered network, °C; not a number where nothing flows.
    pub temperatures: Vec<f64>,
    /// Whether flows and temperatures agree with each other; if not, the figures are the last ones reached.
    pub temperatures_agree: bool,
}

/// One of several operating points of the running pumps.
#[derive(Clone, Debug, PartialEq)]
pub struct PossiblePoint {
    /// Flow (m³/s) and head (m) of each running pump.
    pub pumps: BTreeMap<ComponentId, [f64; 2]>,
    /// Whether it holds when disturbed.
    pub stable: bool,
}

/// Share of design flow below which nothing flows.
pub(super) const NOTHING: f64 = 1e-6;

/// What a pump does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpResult {
    /// Whether it runs.
    pub running: bool,
    /// Flow, m³/s.
    pub flow: f64,
    /// Head, m.
    pub head: f64,
    /// Speed as a fraction of full speed.
    pub speed: f64,
    /// Speed, revolutions per minute.
    pub speed_rpm: f64,
    /// What decides its head; `None` while it stands.
    pub governing: Option<GoverningLimit>,
    /// Reference flow, m³/s, if it has a set-line.
    pub reference_flow: Option<f64>,
    /// Hydraulic power, W.
    pub hydraulic_w: f64,
    /// Electric power, W.
    pub electric_w: f64,
    /// Hydraulic over electric power; not a number while it stands or is driven backwards.
    pub wire_to_water: f64,
    /// Slope of the system curve less the slope of the regulated curve, m per m³/s: above zero the point holds.
    pub stability_margin: f64,
    /// Whether nothing tells how it and the pumps beside it divide their flow.
    pub is_share_open: bool,
    /// Whether the point lies beyond the catalogue data at its speed.
    pub beyond_data: bool,
    /// The circuit it moves, by its number in the lowered document.
    pub circuit: usize,
    /// The water of its circuit.
    pub water: Circuit,
    /// What its catalogue curve was multiplied with for the fluid, and whether the method's bounds are kept; `None` where
    /// viscosity changes nothing.
    pub viscous: Option<(ViscousFactors, bool)>,
}

/// Flow through a component and the pressure it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ComponentResult {
    /// Flow from inlet to outlet, m³/s.
    pub flow: f64,
    /// Pressure drop from inlet to outlet, Pa; not a number where it is undefined.
    pub drop: f64,
}

/// What a source does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SourceResult {
    /// Flow by size, m³/s.
    pub flow: f64,
    /// Temperature of the water that enters it, °C.
    pub enters_c: f64,
    /// Temperature of the water that leaves it, °C.
    pub leaves_c: f64,
    /// Heat that it gives to the water, or takes from it when cooling, W.
    pub heat: f64,
}

/// Flow through a pipe run and what it takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeResult {
    /// Flow from its start to its end, m³/s.
    pub flow: f64,
    /// Pressure drop, Pa; not a number where it is undefined.
    pub drop: f64,
    /// Mean velocity, m/s, with the sign of the flow.
    pub velocity: f64,
    /// Reynolds number.
    pub reynolds: f64,
    /// Friction alone, Pa per metre, with the sign of the flow.
    pub friction_gradient: f64,
}

impl Results {
    pub(super) fn new(project: &Project, lowered: &Lowered, outcome: &Outcome, settled: &Settled) -> Self {
        let mut results = Self {
            verdict: outcome.verdict,
            iterations: 0,
            mass_error: 0.0,
            energy_error: 0.0,
            stable: true,
            pumps: BTreeMap::new(),
            zones: BTreeMap::new(),
            components: BTreeMap::new(),
            bypasses: BTreeMap::new(),
            readings: BTreeMap::new(),
            sources: BTreeMap::new(),
            pipes: BTreeMap::new(),
            points: Vec::new(),
            temperatures: Vec::new(),
            temperatures_agree: true,
        };
        results.take(project, lowered, outcome, settled);
        results
    }

    pub(super) fn take(&mut self, project: &Project, lowered: &Lowered, outcome: &Outcome, settled: &Settled) {
        self.verdict = outcome.verdict;
        self.iterations = settled.steps;
        self.mass_error = outcome.mass_error;
        self.energy_error = outcome.energy_error;
        self.stable = outcome.stable;
        for (index, owner) in lowered.owners.iter().enumerate() {
            let (flow, drop) = (outcome.flows[index], outcome.drops_pa[index]);
            match owner {
                LinkOwner::Component(id) => {
                    self.components.insert(*id, ComponentResult { flow, drop });
                }
                LinkOwner::Bypass(id) => {
                    self.bypasses.insert(*id, ComponentResult { flow, drop });
                }
                LinkOwner::Pipe(id) => {
                    if let LinkLaw::Pipe(pipe) = &lowered.network.links[index].law {
                        let velocity = pipe.velocity(flow);
                        let bore = project.pipes.get(id).map_or(1.0, |run| run.bore);
                        let factor = if flow == 0.0 { 0.0 } else { pipe.darcy_factor(flow) };
                        let density = lowered.fluid_of(index).density_kg_per_m3;
                        let friction_gradient = factor * density * velocity * velocity.abs() / (2.0 * bore);
                        let reynolds = pipe.reynolds(flow);
                        self.pipes.insert(*id, PipeResult { flow, drop, velocity, reynolds, friction_gradient });
                    }
                }
            }
        }
        self.points = possible_points(lowered, settled);
        self.take_joints(project, lowered, outcome);
        self.take_pumps(project, lowered, outcome);
        self.take_sources(project, lowered, settled);
        self.temperatures.clone_from(&settled.nodes_c);
        self.temperatures_agree = settled.agree;
        self.readings = readings::readings(project, lowered, outcome, self);
        for (id, zone) in &project.zones {
            let result = self.zone(project, lowered, *id, zone);
            self.zones.insert(*id, result);
        }
    }

    fn take_sources(&mut self, project: &Project, lowered: &Lowered, settled: &Settled) {
        self.sources.clear();
        let per_k = lowered.fluid.volumetric_heat_capacity_j_per_m3_k();
        for Exchange { link, flow, enters_c, leaves_c } in settled.exchanges.iter().copied() {
            if let Some(LinkOwner::Component(id)) = lowered.owners.get(link)
                && matches!(project.components.get(id).map(|c| &c.kind), Some(ComponentKind::Source(_)))
                && flow > 0.0
            {
                let heat = per_k * flow * (leaves_c - enters_c).abs();
                self.sources.insert(*id, SourceResult { flow, enters_c, leaves_c, heat });
            }
        }
    }

    fn take_joints(&mut self, project: &Project, lowered: &Lowered, outcome: &Outcome) {
        let pump_flows = outcome.pumps.iter().map(|p| p.flow);
        for (id, flow) in joints::flows(project, lowered, &outcome.flows, pump_flows) {
            let joint = PipeResult { flow, drop: 0.0, velocity: f64::NAN, reynolds: f64::NAN, friction_gradient: 0.0 };
            self.pipes.insert(id, joint);
        }
    }

    fn take_pumps(&mut self, project: &Project, lowered: &Lowered, outcome: &Outcome) {
        for (id, unit) in project.pumps() {
            let index = lowered.pumps.iter().position(|p| p.id == id);
            let Some((index, regulated)) = index.and_then(|i| Some((i, lowered.regulated(i)?))) else {
                let flow = self.components.get(&id).map_or(0.0, |c| c.flow);
                let viscous = in_fluid(unit, &lowered.fluid).ok();
                let regulated = viscous.as_ref().and_then(|of| Regulated::of_pump(&of.pump, unit.regulation).ok());
                let standing = PumpResult {
                    flow,
                    electric_w: unit.standby_power,
                    reference_flow: regulated.and_then(|regulated| regulated.reference_m3_per_s()),
                    viscous: viscous.as_ref().and_then(applied),
                    ..PumpResult::standing(lowered, lowered.circuit_with(id))
                };
                self.pumps.insert(id, standing);
                continue;
            };
            let point = &outcome.pumps[index];
            let density = lowered.network.pumps[index].density_kg_per_m3;
            let per_head = density * GRAVITY_M_PER_S2;
            let head = point.rise_pa / per_head;
            // A pump that others push beyond its curve, or backwards, turns at its cap or its power limit.
            let speed = regulated.curve().speed_for(point.flow, head).min(regulated.greatest_speed(point.flow));
            let electric_w = lowered.pumps[index].viscous.pump.power.electric_w(point.flow, speed);
            let hydraulic_w = hydraulic_w(density, point.flow, head);
            let result = PumpResult {
                running: true,
                flow: point.flow,
                head,
                speed,
                speed_rpm: speed * unit.full_speed_rpm,
                governing: Some(regulated.governing(point.flow)),
                reference_flow: regulated.reference_m3_per_s(),
                hydraulic_w,
                electric_w,
                wire_to_water: if electric_w > 0.0 && hydraulic_w >= 0.0 { hydraulic_w / electric_w } else { f64::NAN },
                stability_margin: (point.system_slope - point.pump_slope) / per_head,
                is_share_open: point.is_share_open,
                beyond_data: point.flow > regulated.curve().data_end_m3_per_s() * speed * (1.0 + 1e-9),
                circuit: lowered.pumps[index].circuit,
                water: lowered.water_of(lowered.pumps[index].circuit),
                viscous: applied(&lowered.pumps[index].viscous),
            };
            self.pumps.insert(id, result);
        }
    }

    /// Temperature of the water at a port, °C; not a number where nothing flows.
    pub(super) fn temperature(&self, lowered: &Lowered, port: PortRef) -> f64 {
        lowered.nodes.get(&port).and_then(|node| self.temperatures.get(*node)).copied().unwrap_or(f64::NAN)
    }

    /// Flow through a zone's emitter, component or pump, m³/s.
    #[must_use]
    pub fn component_flow(&self, id: ComponentId) -> f64 {
        self.pumps.get(&id).map(|p| p.flow).or_else(|| self.components.get(&id).map(|c| c.flow)).unwrap_or(0.0)
    }

    /// Flow of what a link of the network stands for, m³/s.
    pub(super) fn flow_of(&self, owner: &LinkOwner) -> f64 {
        match owner {
            LinkOwner::Pipe(id) => self.pipes.get(id).map_or(0.0, |pipe| pipe.flow),
            LinkOwner::Component(id) => self.component_flow(*id),
            LinkOwner::Bypass(id) => self.bypasses.get(id).map_or(0.0, |bypass| bypass.flow),
        }
    }

    /// Whether the answer stands.
    #[must_use]
    pub fn converged(&self) -> bool {
        self.verdict != Verdict::NotConverged && self.temperatures_agree
    }

    /// Sum of the zones' heat, W.
    #[must_use]
    pub fn total_heat(&self) -> f64 {
        self.zones.values().map(|z| z.heat).sum()
    }
}

/// The possible points in the document's terms.
fn possible_points(lowered: &Lowered, settled: &Settled) -> Vec<PossiblePoint> {
    let point = |flows: &[f64], rises_pa: &[f64], stable| {
        let pumps = lowered.pumps.iter().zip(&lowered.network.pumps).zip(flows.iter().zip(rises_pa));
        let at = pumps.map(|((pump, link), (flow, rise_pa))| {
            (pump.id, [*flow, rise_pa / (link.density_kg_per_m3 * GRAVITY_M_PER_S2)])
        });
        PossiblePoint { pumps: at.collect(), stable }
    };
    let single = settled.points.iter().map(|of| point(&[of.flow], &[of.rise_pa], of.stable));
    let shared = settled.shared.iter().map(|of| point(&of.flows, &of.rises_pa, of.stable));
    single.chain(shared).collect()
}

/// What a correction for viscosity multiplies, where it does.
fn applied(viscous: &Viscous) -> Option<(ViscousFactors, bool)> {
    viscous.applies.then_some((viscous.factors, viscous.within_validity))
}

impl PumpResult {
    /// A pump at rest in its water.
    fn standing(lowered: &Lowered, circuit: usize) -> Self {
        Self {
            running: false,
            flow: 0.0,
            head: 0.0,
            speed: 0.0,
            speed_rpm: 0.0,
            governing: None,
            reference_flow: None,
            hydraulic_w: 0.0,
            electric_w: 0.0,
            wire_to_water: f64::NAN,
            stability_margin: 0.0,
            is_share_open: false,
            beyond_data: false,
            circuit,
            water: lowered.water_of(circuit),
            viscous: None,
        }
    }
}

//! A quick look at many states: the solver alone, with the water of every circuit as it is at design.

use super::limits::{Allowed, Worst};
use super::probe::Probe;
use super::served::{self, Edge, Reason, Served};
use super::states::ValveState;
use crate::document::{Acceptance, ComponentId, ComponentKind, Project, ZoneId};
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::links::LinkLaw;
use crate::engine::links::emitter::HeatedRoom;
use crate::engine::network::{Network, PumpLaw, Solver};
use crate::engine::pump::PowerModel;
use crate::problems::Place;
use crate::study::lower::{LinkOwner, LowerError, Lowered, component_links};
use crate::study::zones::ROOM_MISS_K;
use crate::study::{answer::Answer, thermostats};
use std::collections::BTreeMap;

/// How near to its end of a band a speed is solved for, as a share of the band's end.
const NEAR: f64 = 1e-6;
/// Most solves for one end.
const MOST: u32 = 48;
/// Power of speed below which something does not follow speed.
const LEAST_EXPONENT: f64 = 0.2;
/// How far beside a speed another one is looked at, to see whether anything follows speed there.
const BESIDE: f64 = 1e-3;
/// The slowest that is looked at, a fraction of full speed.
const SLOWEST: f64 = 0.02;

/// A zone's part of the network.
#[derive(Clone, Debug)]
struct ZonePart {
    zone: ZoneId,
    emitter: usize,
    design_flow: f64,
    valve: Option<(usize, LinkLaw)>,
    /// The room that a thermostatic valve keeps, and the least or greatest it may have, °C, with the sign of the duty.
    room: Option<(HeatedRoom, f64)>,
}

/// Something that may become too loud: its link, what a flow or a drop is multiplied with, and what may be.
#[derive(Clone, Copy, Debug)]
struct Loud {
    link: usize,
    place: Place,
    /// m/s per m³/s in a pipe; nothing for a valve, whose drop counts.
    per_flow: Option<f64>,
    allowed: f64,
}

/// The network with its zone valves at hand.
#[derive(Clone, Debug)]
pub(super) struct Screen {
    network: Network,
    solver: Solver,
    pump: usize,
    per_head: f64,
    power: PowerModel,
    band: Acceptance,
    zones: Vec<ZonePart>,
    loud: Vec<Loud>,
    turn: f64,
    /// Where the last state's ends were: a start for the next.
    least: f64,
    most: f64,
}

/// What a speed gives.
struct Seen {
    /// Least share of design flow over its least allowed, and whose; above one all have enough.
    least: (f64, Option<ZoneId>),
    /// Greatest of all that must not pass one, each so that it goes about with speed.
    most: (f64, Option<Reason>),
    /// The greatest of what may be too loud.
    loud: (f64, Option<Reason>),
    point: [f64; 2],
}

impl Screen {
    pub(super) fn new(probe: &mut Probe, allowed: &Allowed) -> Result<Self, LowerError> {
        probe.enter(&ValveState::all_open())?;
        let ends = [(SLOWEST, probe.at(SLOWEST, allowed)?), (1.0, probe.at(1.0, allowed)?)];
        let moved = served::moved(&ends);
        let project = probe.project();
        let Answer { lowered, .. } = probe.answer();
        let links = component_links(&lowered.owners);
        let pump = lowered.pumps.iter().position(|pump| pump.id == probe.pump()).unwrap_or(0);
        let link = &lowered.network.pumps[pump];
        let of_pump = project.zones.keys().zip(moved).filter(|(_, is_moved)| *is_moved);
        Ok(Self {
            solver: Solver::new(&lowered.network),
            pump,
            power: lowered.pumps[pump].viscous.pump.power.clone(),
            per_head: link.density_kg_per_m3 * GRAVITY_M_PER_S2,
            band: project.acceptance.clone(),
            zones: of_pump.filter_map(|(id, _)| part(project, lowered, &links, *id)).collect(),
            loud: loud(project, lowered, &links, allowed),
            turn: if project.design.duty == crate::document::Duty::Heating { 1.0 } else { -1.0 },
            least: 0.8,
            most: 0.9,
            network: lowered.network.clone(),
        })
    }

    /// Between which speeds a state is served.
    pub(super) fn served(&mut self, state: &ValveState) -> Served {
        for part in &self.zones {
            if let Some((link, open)) = &part.valve {
                let law = if state.shut.contains(&part.zone) { &LinkLaw::Shut } else { open };
                self.network.links[*link].law.clone_from(law);
            }
        }
        self.hold(1.0);
        self.solver.solve(&self.network);
        let full = self.see(state);
        let mut served = Served::default();
        if let Some(zone) = full.least.1 {
            served.beyond = full.least.0 < 1.0;
            let found = if served.beyond { Some((1.0, full.least.1, full.point)) } else { self.find_least(state) };
            served.least = found.map(|(speed, by, point)| self.edge(speed, point, Reason::Starves(by.unwrap_or(zone))));
        }
        if full.most.0 > 1.0 {
            served.most =
                self.find_most(state).and_then(|(speed, seen)| Some(self.edge(speed, seen.point, seen.most.1?)));
            served.always = served.most.is_some_and(|edge| edge.speed <= SLOWEST * (1.0 + 1e-3));
        }
        if full.loud.0 > 1.0 {
            let found = self.find(state, self.most, |seen| seen.loud.0);
            served.loud = found.and_then(|(speed, seen)| Some(self.edge(speed, seen.point, seen.loud.1?)));
        }
        served
    }

    fn edge(&self, speed: f64, [flow, head]: [f64; 2], reason: Reason) -> Edge {
        Edge { speed, flow, head, electric_w: self.power.electric_w(flow, speed), reason }
    }

    fn hold(&mut self, speed: f64) {
        if let PumpLaw::Regulated(regulated) = &mut self.network.pumps[self.pump].law {
            regulated.hold_speed(speed);
        }
    }

    fn see(&self, state: &ValveState) -> Seen {
        let outcome = self.solver.outcome();
        let mut least = (f64::INFINITY, None);
        let (mut most, mut loudest) = ((0.0, None), (0.0, None));
        for part in self.zones.iter().filter(|part| !state.shut.contains(&part.zone)) {
            let flow = outcome.flows[part.emitter];
            let share = flow / part.design_flow;
            let enough = match &part.room {
                // Which side of its room's need a zone lies on is all that is known there.
                Some((room, set_c)) if self.turn * (set_c - room.room_c(flow)) <= ROOM_MISS_K => 2.0,
                Some(_) => 0.5,
                None => share / self.band.low,
            };
            if enough < least.0 {
                least = (enough, Some(part.zone));
            }
            // A thermostatic valve opens wide in a room that is too cold: that is no overflow.
            if share / self.band.high > most.0 && (part.room.is_none() || enough > 1.0) {
                most = (share / self.band.high, Some(Reason::Overflows(part.zone)));
            }
        }
        for loud in &self.loud {
            let (value, ratio) = match loud.per_flow {
                Some(per_flow) => {
                    let velocity = (outcome.flows[loud.link] * per_flow).abs();
                    (velocity, velocity / loud.allowed)
                }
                None if outcome.flows[loud.link] == 0.0 => continue,
                None => {
                    let drop = outcome.drops_pa[loud.link].abs();
                    (drop, (drop / loud.allowed).sqrt())
                }
            };
            if ratio > loudest.0 {
                loudest = (ratio, Some(Reason::TooLoud(Worst { place: loud.place, value, allowed: loud.allowed })));
            }
        }
        if loudest.0 > most.0 {
            most = loudest;
        }
        let pump = &outcome.pumps[self.pump];
        Seen { least, most, loud: loudest, point: [pump.flow, pump.rise_pa / self.per_head] }
    }

    fn at(&mut self, state: &ValveState, speed: f64) -> Seen {
        self.hold(speed);
        self.solver.solve_settings(&self.network);
        self.see(state)
    }

    /// The least speed at which all have enough; `None` where the slowest is enough.
    fn find_least(&mut self, state: &ValveState) -> Option<(f64, Option<ZoneId>, [f64; 2])> {
        let (speed, seen) = self.find(state, self.least, |seen| seen.least.0)?;
        self.least = speed;
        let by =
            if seen.least.0 < 1.0 + 10.0 * NEAR { seen.least.1 } else { self.at(state, speed * (1.0 - 1e-4)).least.1 };
        Some((speed, by, seen.point))
    }

    /// The speed at which the first passes what may be.
    fn find_most(&mut self, state: &ValveState) -> Option<(f64, Seen)> {
        let (speed, seen) = self.find(state, self.most, |seen| seen.most.0)?;
        self.most = speed;
        Some((speed, seen))
    }

    /// The speed at which something that goes about with speed comes to one: by the power of speed that it last followed, kept
    /// in a bracket. It is above one at full speed.
    fn find(&mut self, state: &ValveState, start: f64, of: impl Fn(&Seen) -> f64) -> Option<(f64, Seen)> {
        let (mut low, mut high) = (SLOWEST, 1.0);
        let mut speed = start.clamp(low, high);
        let mut before: Option<(f64, f64)> = None;
        let mut best = None;
        for round in 0..MOST {
            let seen = self.at(state, speed);
            let value = of(&seen);
            if value >= 1.0 {
                high = high.min(speed)
            } else {
                low = low.max(speed)
            }
            let is_narrow = high - low <= NEAR;
            let exponent = match before {
                Some((other, there)) if there > 0.0 && value > 0.0 && other != speed => {
                    Some((value / there).ln() / (speed / other).ln())
                }
                _ => None,
            };
            best = Some((speed, seen));
            let is_one = (value - 1.0).abs() <= NEAR;
            // What a flow limiter holds at one is so at any speed from its own on: only whether it changes close by tells.
            let is_beside = before.is_some_and(|(other, _)| (speed / other - 1.0).abs() < 2.0 * BESIDE);
            if is_narrow || is_one && is_beside && exponent.is_some_and(|exponent| exponent > LEAST_EXPONENT) {
                break;
            }
            if is_one && !is_beside {
                before = Some((speed, value));
                speed *= 1.0 - BESIDE;
                continue;
            }
            let exponent = exponent.unwrap_or(1.0);
            before = Some((speed, value));
            let next =
                if value > 0.0 && exponent > LEAST_EXPONENT { speed * value.powf(-1.0 / exponent) } else { f64::NAN };
            // Where a value jumps, halving finds the place.
            let halves = round > 6 || !(next > low && next < high);
            speed = if halves { 0.5 * (low + high) } else { next };
        }
        best.filter(|_| high > SLOWEST)
    }
}

fn part(project: &Project, lowered: &Lowered, links: &BTreeMap<ComponentId, usize>, id: ZoneId) -> Option<ZonePart> {
    let zone = project.zones.get(&id)?;
    let emitter = *links.get(&zone.emitter)?;
    let valve = zone.valve.and_then(|valve| links.get(&valve));
    let valve = valve.map(|link| (*link, lowered.network.links[*link].law.clone()));
    let design_flow = project.design.flow(zone, &lowered.fluid);
    let room = project.components.get(&zone.emitter).and_then(|component| match &component.kind {
        ComponentKind::Emitter(emitter) if lowered.is_throttled(id) => {
            let room = thermostats::room(project, &lowered.fluid, zone, emitter, project.design.supply_c)?;
            // The temperature that the valve is set to is where nothing is missed.
            let turn = if project.design.duty == crate::document::Duty::Heating { 1.0 } else { -1.0 };
            let at_zero = thermostats::miss_k(project, lowered, id, 0.0);
            Some((room, turn * at_zero))
        }
        _ => None,
    });
    (design_flow > 0.0).then_some(ZonePart { zone: id, emitter, design_flow, valve, room })
}

fn loud(project: &Project, lowered: &Lowered, links: &BTreeMap<ComponentId, usize>, allowed: &Allowed) -> Vec<Loud> {
    let pipe_links: BTreeMap<_, usize> = lowered
        .owners
        .iter()
        .enumerate()
        .filter_map(|(link, owner)| match owner {
            LinkOwner::Pipe(id) => Some((*id, link)),
            LinkOwner::Component(_) | LinkOwner::Bypass(_) => None,
        })
        .collect();
    let pipes = allowed.pipes.iter().filter_map(|(id, allowed)| {
        let bore = project.pipes.get(id)?.bore;
        let per_flow = Some(4.0 / (std::f64::consts::PI * bore * bore));
        Some(Loud { link: *pipe_links.get(id)?, place: Place::Pipe(*id), per_flow, allowed: *allowed })
    });
    let valves = allowed.valves.iter().filter_map(|(id, allowed)| {
        Some(Loud { link: *links.get(id)?, place: Place::Component(*id), per_flow: None, allowed: *allowed })
    });
    pipes.chain(valves).collect()
}

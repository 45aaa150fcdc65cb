//! Values that no system can have. A file with such values is refused; a command cannot bring them about.

mod circulator;
mod compared;
mod one;
mod pipe;
mod scenarios;
mod starting;
mod valve;

pub use scenarios::LEAP_YEAR_HOURS;

pub(super) use one::{component_flaw, pipe_flaw, zone_flaw};

use super::design::is_outdoor_temperature;
use super::{Component, ComponentId, ComponentKind, Duty, Limits, Project, Zone};
use crate::engine::links::{Characteristic, emitter};
use crate::engine::pump::STANDARD_ATMOSPHERE_PA;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// A value that cannot be, where it stands and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    /// The component, pipe, zone or part of the project.
    pub place: String,
    /// What is wrong and what to do, without the place.
    pub what: String,
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.what)
    }
}

/// All flaws of a project; empty for one that can be worked with.
#[must_use]
pub fn flaws(project: &Project) -> Vec<Flaw> {
    let mut found = Found::default();
    design(project, &mut found);
    names(project, &mut found);
    for component in project.components.values() {
        found.at(&component.name);
        figures(project, component, &mut found);
    }
    for pipe in project.pipes.values() {
        found.at(&format!("pipe {}", project.pipe_label(pipe)));
        pipe::figures(project, pipe, &mut found);
    }
    for zone in project.zones.values() {
        found.at(&format!("zone {}", zone.name));
        zone_figures(project, zone, &mut found);
    }
    shared(project, &mut found);
    scenarios::flaws(project, &mut found);
    compared::flaws(project, &mut found);
    starting::flaws(project, &mut found);
    found.flaws
}

/// Collects flaws under the place at hand.
#[derive(Default)]
struct Found {
    place: String,
    flaws: Vec<Flaw>,
}

impl Found {
    fn at(&mut self, place: &str) {
        place.clone_into(&mut self.place);
    }

    fn say(&mut self, what: String) {
        self.flaws.push(Flaw { place: self.place.clone(), what });
    }

    fn number(&mut self, name: &str, value: f64) -> bool {
        if !value.is_finite() {
            self.say(format!("the {name} is not a number: type a number"));
        }
        value.is_finite()
    }

    fn at_least_zero(&mut self, name: &str, value: f64) {
        if self.number(name, value) && value < 0.0 {
            self.say(format!("the {name} is negative ({value}): give zero or more"));
        }
    }

    fn above_zero(&mut self, name: &str, value: f64) {
        if self.number(name, value) && value <= 0.0 {
            self.say(format!("the {name} is {value}: give more than zero"));
        }
    }

    /// No water is under less than a vacuum.
    fn gauge_pressure(&mut self, name: &str, pressure: Option<f64>) {
        if let Some(pressure) = pressure
            && self.number(name, pressure)
            && pressure < -STANDARD_ATMOSPHERE_PA
        {
            self.say(format!(
                "the {name}, {:.1} kPa, lies below a vacuum: give it as gauge pressure, zero for that of the air",
                1e-3 * pressure
            ));
        }
    }

    fn above_zero_up_to(&mut self, name: &str, value: f64, most: f64, most_text: &str) {
        self.above_zero(name, value);
        if value.is_finite() && value > most {
            self.say(format!("the {name} is greater than {most_text}: give that at most"));
        }
    }

    fn position(&mut self, position: f64) {
        if !(0.0..=1.0).contains(&position) {
            self.say("the position must lie between 0 and 100 %".to_owned());
        }
    }

    fn characteristic(&mut self, characteristic: Characteristic) {
        if let Characteristic::EqualPercentage { rangeability } = characteristic
            && !(rangeability > 1.0 && rangeability.is_finite())
        {
            self.say(format!("the rangeability is {rangeability}: give more than 1, often 30 to 50"));
        }
    }

    /// Water that brings heat is warmer than the room and leaves colder than it came; water that takes it is the reverse.
    fn duty(&mut self, duty: Duty, supply_c: f64, return_c: Option<f64>, room_c: Option<f64>) {
        let (verb, side, turn) = match duty {
            Duty::Heating => ("heats", "above", 1.0),
            Duty::Cooling => ("cools", "below", -1.0),
        };
        for (name, other_c) in [("return", return_c), ("room", room_c)] {
            if let Some(other_c) = other_c.filter(|other_c| turn * (supply_c - other_c) <= 0.0) {
                self.say(format!(
                    "a supply of {supply_c} °C {verb} only if it lies {side} the {name} temperature, which is {other_c} \
                     °C: correct one of them, or choose the other duty"
                ));
            }
        }
    }
}

fn design(project: &Project, found: &mut Found) {
    found.at("design");
    let basis = &project.design;
    let temperatures = [("supply", basis.supply_c), ("return", basis.return_c)];
    for (name, value) in temperatures.into_iter().chain([("room", basis.room_c)]) {
        found.number(&format!("{name} temperature"), value);
    }
    found.duty(basis.duty, basis.supply_c, Some(basis.return_c), Some(basis.room_c));
    for outdoor_c in [basis.outdoor_c, project.outdoor_now_c].into_iter().flatten() {
        if !is_outdoor_temperature(outdoor_c) {
            found.say(format!("{outdoor_c} °C is no outdoor temperature: give one between −70 and 60 °C"));
        }
    }
    outdoor(basis.duty, basis.outdoor_c, basis.room_c, found);
    found.at("fluid");
    for (name, value) in temperatures {
        if value.is_finite()
            && let Err(error) = project.fluid.properties(value)
        {
            found.say(format!("at the {name} temperature: {error}"));
        }
    }
    found.at("acceptance");
    let band = &project.acceptance;
    if !(band.low > 0.0 && band.low < 1.0 && band.high > 1.0 && band.high.is_finite()) {
        found.say("the band must begin below and end above 100 % of design flow: give two such shares".to_owned());
    }
    found.at("limits");
    if !project.limits.can_be() {
        found.say(Limits::CAN_BE.to_owned());
    }
}

/// Rooms are heated because it is colder outdoors, and cooled because it is warmer.
fn outdoor(duty: Duty, outdoor_c: Option<f64>, room_c: f64, found: &mut Found) {
    let (side, turn) = match duty {
        Duty::Heating => ("below", 1.0),
        Duty::Cooling => ("above", -1.0),
    };
    if let Some(outdoor_c) = outdoor_c.filter(|outdoor_c| turn * (room_c - outdoor_c) <= 0.0) {
        found.say(format!(
            "the design outdoor temperature of {outdoor_c} °C does not lie {side} the room temperature, which is {room_c} \
             °C: correct one of them"
        ));
    }
}

fn zone_figures(project: &Project, zone: &Zone, found: &mut Found) {
    found.above_zero("heat load", zone.load);
    for temperature in [zone.room_c, zone.return_c].into_iter().flatten() {
        found.number("temperature", temperature);
    }
    found.duty(project.design.duty, project.design.supply_c, zone.return_c, zone.room_c);
    found.at_least_zero("heat gain", zone.gain);
    if let Some(room_c) = zone.room_c {
        outdoor(project.design.duty, project.design.outdoor_c, room_c, found);
    }
    if project.design.temperature_drop(zone) < 0.1 {
        found.say("supply and return temperature are the same: give the zone a temperature drop".to_owned());
    }
    if let Some(return_c) = zone.return_c.filter(|temperature| temperature.is_finite())
        && let Err(error) = project.fluid.properties(return_c)
    {
        found.say(format!("at its return temperature: {error}"));
    }
    match project.components.get(&zone.emitter).map(|c| &c.kind) {
        Some(ComponentKind::Emitter(emitter)) => {
            if let Some(flaw) = emitter::flaw(emitter.law, project.emitter_design(zone, emitter)) {
                found.say(flaw.to_string());
            }
        }
        _ => found.say("its emitter is missing: name the emitter that serves this zone".to_owned()),
    }
    if zone.valve.is_some_and(|valve| project.components.get(&valve).is_none_or(|v| v.is_open().is_none())) {
        found.say("its valve cannot be shut: name a zone valve or control valve, or none".to_owned());
    }
}

/// An emitter or a valve that two zones claim: its flow would count twice, its valve would shut both.
fn shared(project: &Project, found: &mut Found) {
    let mut owners: BTreeMap<ComponentId, &str> = BTreeMap::new();
    for zone in project.zones.values() {
        for (what, component) in [("emitter", Some(zone.emitter)), ("valve", zone.valve)] {
            let Some(id) = component else { continue };
            let first = *owners.entry(id).or_insert(&zone.name);
            if first != zone.name {
                let name = project.components.get(&id).map_or("", |c| c.name.as_str());
                found.at(&format!("zone {}", zone.name));
                found.say(format!(
                    "its {what} {name} belongs to zone {first} already: give it its own, or make one zone of both"
                ));
            }
        }
    }
}

fn names(project: &Project, found: &mut Found) {
    let mut seen = BTreeSet::new();
    let components = project.components.values().map(|c| ("component", c.name.as_str()));
    let zones = project.zones.values().map(|z| ("zone", z.name.as_str()));
    let pipes = project.pipes.values().filter(|p| !p.name.is_empty()).map(|p| ("pipe", p.name.as_str()));
    let scenarios = project.scenarios.iter().map(|s| ("scenario", s.name.as_str()));
    let variants = project.variants.iter().map(|v| ("variant", v.name.as_str()));
    for (kind, name) in components.chain(zones).chain(pipes).chain(scenarios).chain(variants) {
        if name.trim().is_empty() {
            found.at(kind);
            found.say(format!("a {kind} has no name: give it one"));
        } else if !seen.insert((kind, name)) {
            found.at(name);
            found.say(format!("two {kind}s have this name: rename one of them"));
        }
    }
}

fn figures(project: &Project, component: &Component, found: &mut Found) {
    if !(found.number("position", component.at[0]) && found.number("position", component.at[1])) {
        return;
    }
    found.number("height", component.height);
    match &component.kind {
        ComponentKind::Source(source) => {
            found.at_least_zero("loss", source.loss);
            found.at_least_zero("minimum flow", source.minimum_flow);
            if source.loss > 0.0 {
                found.above_zero("rated flow", source.rated_flow);
            }
            if let Some(supply_c) = source.supply_c
                && found.number("supply temperature", supply_c)
            {
                found.duty(project.design.duty, supply_c, None, Some(project.design.room_c));
                if let Err(error) = project.fluid.properties(supply_c) {
                    found.say(format!("at its supply temperature: {error}"));
                }
            }
        }
        ComponentKind::Pump(unit) => {
            found.above_zero("full speed", unit.full_speed_rpm);
            if let Err(error) = unit.fitted() {
                found.say(error.to_string());
            }
            if let Err(error) = unit.regulation.check_for(unit.standby_power) {
                found.say(error.to_string());
            }
            if let Some(kv) = unit.stopped_kv {
                found.above_zero("Kv at standstill", kv);
            }
            circulator::figures(unit, found);
        }
        ComponentKind::Emitter(emitter) => {
            found.at_least_zero("loss", emitter.loss);
            if let Some(flow) = emitter.rated_flow {
                found.above_zero("rated flow", flow);
            }
            if !(1.0..=2.0).contains(&emitter.exponent) {
                found.say(format!("the exponent of its loss is {}: give 1 to 2", emitter.exponent));
            }
        }
        ComponentKind::Separator { bore } => found.above_zero("bore", *bore),
        ComponentKind::ExpansionVessel { pressure } => found.gauge_pressure("pressure", *pressure),
        ComponentKind::Junction | ComponentKind::PressureGauge | ComponentKind::Thermometer => {}
        valve => valve::figures(valve, found),
    }
}

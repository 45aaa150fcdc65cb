//! From the options of `try` to commands of the document.

use super::arguments::TryArguments;
use super::failure::Failure;
use super::names::named;
use crate::document::{Command, ComponentId, ComponentKind, Project};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::{Quantity, Units};

/// A command with the option that asked for it.
pub(super) struct Wanted {
    /// The option as it was given.
    pub option: String,
    /// What it asks for.
    pub command: Command,
}

/// The commands in the order in which they are carried out: scenario, single valves, then settings. The cap goes before the
/// minimum speed, which it may lower.
pub(super) fn wanted(project: &Project, arguments: &TryArguments, units: &Units) -> Result<Vec<Wanted>, Failure> {
    let mut all = Vec::new();
    let mut want = |option: String, command| all.push(Wanted { option, command });
    if let Some(name) = &arguments.scenario {
        let scenarios: Vec<(&str, usize)> =
            project.scenarios.iter().enumerate().map(|(index, s)| (s.name.as_str(), index)).collect();
        want(format!("--scenario {name}"), Command::EnterScenario(named("scenario", name, &scenarios)?));
    }
    for (option, names, open) in [("--open", &arguments.open, true), ("--shut", &arguments.shut, false)] {
        for name in names {
            let option = format!("{option} {name}");
            let valve = valve(project, &option, name)?;
            want(option, Command::SetOpen(valve, open));
        }
    }
    for text in &arguments.position {
        let option = format!("--position {text}");
        let (valve, position) = position(project, &option, text, units)?;
        want(option, Command::SetPosition(valve, position));
    }
    for text in &arguments.set_temperature {
        let option = format!("--set-temperature {text}");
        let (valve, wanted) = room_temperature(project, &option, text, units)?;
        want(option, Command::SetRoomTemperature(valve, wanted));
    }
    if let Some(text) = &arguments.outdoor {
        let option = format!("--outdoor {text}");
        let is_design = text.trim().eq_ignore_ascii_case("design");
        let number = units.parse(Quantity::Temperature, text);
        let wanted = if is_design { Ok(None) } else { number.map(Some) };
        let wanted = wanted.map_err(|flaw| Failure::Number { option: option.clone(), flaw })?;
        want(option, Command::SetOutdoor(wanted));
    }
    if !has_settings(arguments) {
        return Ok(all);
    }
    let pump = pump(project, arguments)?;
    let number = |option: &str, quantity, text: &str| {
        units.parse(quantity, text).map_err(|flaw| Failure::Number { option: option.to_owned(), flaw })
    };
    let number_or_none = |option: &str, quantity, text: &str| {
        let is_none = text.trim().eq_ignore_ascii_case("none");
        if is_none { Ok(None) } else { number(option, quantity, text).map(Some) }
    };
    if let Some(text) = &arguments.reference_flow {
        let option = format!("--reference-flow {text}");
        let reference = reference(&option, text, units)?;
        want(option, Command::SetReferenceFlow(pump, reference));
    }
    if let Some(text) = &arguments.speed_cap {
        let cap = number("--speed-cap", Quantity::Speed, text)?;
        want(format!("--speed-cap {text}"), Command::SetSpeedCap(pump, cap));
    }
    if let Some(text) = &arguments.minimum_speed {
        let speed = number("--minimum-speed", Quantity::Speed, text)?;
        want(format!("--minimum-speed {text}"), Command::SetMinimumSpeed(pump, speed));
    }
    if let Some(text) = &arguments.head_limit {
        let limit = number_or_none("--head-limit", Quantity::Head, text)?;
        want(format!("--head-limit {text}"), Command::SetHeadLimit(pump, limit));
    }
    if let Some(text) = &arguments.power_limit {
        let limit = number_or_none("--power-limit", Quantity::Power, text)?;
        want(format!("--power-limit {text}"), Command::SetPowerLimit(pump, limit));
    }
    if let Some(text) = &arguments.slope {
        let slope = number("--slope", Quantity::Share, text)?;
        want(format!("--slope {text}"), Command::SetSlope(pump, slope));
    }
    Ok(all)
}

fn has_settings(arguments: &TryArguments) -> bool {
    let settings = [
        &arguments.reference_flow,
        &arguments.speed_cap,
        &arguments.minimum_speed,
        &arguments.power_limit,
        &arguments.head_limit,
        &arguments.slope,
    ];
    arguments.pump.is_some() || settings.into_iter().any(Option::is_some)
}

/// The pump that the settings are for: the one named, or the only one.
pub(super) fn pump(project: &Project, arguments: &TryArguments) -> Result<ComponentId, Failure> {
    let name = |id: ComponentId| project.components.get(&id).map_or("", |component| component.name.as_str());
    let pumps: Vec<(&str, ComponentId)> = project.pumps().map(|(id, _)| (name(id), id)).collect();
    match (&arguments.pump, pumps.as_slice()) {
        (Some(wanted), _) => named("circulator", wanted, &pumps),
        (None, [(_, only)]) => Ok(*only),
        (None, []) => Err(Failure::Value {
            option: "settings".to_owned(),
            flaw: "the project has no circulator to set".to_owned(),
        }),
        (None, several) => {
            let names: Vec<String> = several.iter().map(|(name, _)| format!("“{name}”")).collect();
            let flaw = format!("the project has {} circulators: choose {}", several.len(), names.join(" or "));
            Err(Failure::Value { option: "--pump".to_owned(), flaw })
        }
    }
}

/// The first thing of exactly this name, where a zone and a valve may share one; otherwise all.
fn first_of<'a, T>(all: &'a [(&'a str, T)], name: &str) -> &'a [(&'a str, T)] {
    match all.iter().position(|(known, _)| *known == name.trim()) {
        Some(first) => &all[first..=first],
        None => all,
    }
}

/// The valve of a name: a zone's own, or any that can be shut. Zones go first.
fn valve(project: &Project, option: &str, name: &str) -> Result<ComponentId, Failure> {
    let zones = project.zones.values().map(|zone| (zone.name.as_str(), zone.valve));
    let valves = project.components.iter().filter(|(_, component)| component.is_open().is_some());
    let valves = valves.map(|(id, component)| (component.name.as_str(), Some(*id)));
    let all: Vec<(&str, Option<ComponentId>)> = zones.chain(valves).collect();
    named("zone or valve", name, first_of(&all, name))?.ok_or_else(|| Failure::Value {
        option: option.to_owned(),
        flaw: "this zone has no valve of its own: name a valve".to_owned(),
    })
}

/// Reads `NAME=PERCENT`; the name may hold the sign itself.
fn position(project: &Project, option: &str, text: &str, units: &Units) -> Result<(ComponentId, f64), Failure> {
    let value = |flaw: &str| Failure::Value { option: option.to_owned(), flaw: flaw.to_owned() };
    let (name, percent) =
        text.rsplit_once('=').ok_or_else(|| value("write the valve's name, =, and its position in %"))?;
    let position =
        units.parse(Quantity::Share, percent).map_err(|flaw| Failure::Number { option: option.to_owned(), flaw })?;
    if !(0.0..=1.0).contains(&position) {
        return Err(value("a position lies between 0 (shut) and 100 %"));
    }
    let three_way = project
        .component_named(name.trim())
        .filter(|id| project.components.get(id).is_some_and(|c| matches!(c.kind, ComponentKind::ThreeWayValve(_))));
    if let Some(valve) = three_way {
        return Ok((valve, position));
    }
    let valve = valve(project, option, name)?;
    match project.components.get(&valve).map(|component| &component.kind) {
        Some(ComponentKind::ControlValve { .. }) => Ok((valve, position)),
        _ => Err(value("this valve is open or shut, with nothing between: use --open or --shut")),
    }
}

/// Reads `NAME=TEMPERATURE`, the name of a thermostatic valve or of a zone that has one.
fn room_temperature(project: &Project, option: &str, text: &str, units: &Units) -> Result<(ComponentId, f64), Failure> {
    let (name, celsius) = text.rsplit_once('=').ok_or_else(|| Failure::Value {
        option: option.to_owned(),
        flaw: "write the name of the valve or zone, =, and its temperature".to_owned(),
    })?;
    let wanted = units
        .parse(Quantity::Temperature, celsius)
        .map_err(|flaw| Failure::Number { option: option.to_owned(), flaw })?;
    let zones = project.thermostatic_zones();
    let of_zones = zones.iter().filter_map(|(valve, zone)| Some((project.zones.get(zone)?.name.as_str(), *valve)));
    let valves = project.components.iter().filter(|(_, c)| matches!(c.kind, ComponentKind::ThermostaticValve { .. }));
    let valves = valves.map(|(id, component)| (component.name.as_str(), *id));
    let all: Vec<(&str, ComponentId)> = of_zones.chain(valves).collect();
    Ok((named("thermostatic valve", name, first_of(&all, name))?, wanted))
}

fn reference(option: &str, text: &str, units: &Units) -> Result<ReferenceFlow, Failure> {
    match text.split_once('=').unwrap_or((text, "")) {
        ("full-speed", "") => Ok(ReferenceFlow::FullSpeed),
        ("capped-speed", "") => Ok(ReferenceFlow::CappedSpeed),
        ("design-flow", flow) => units
            .parse(Quantity::Flow, flow)
            .map(ReferenceFlow::DesignFlow)
            .map_err(|flaw| Failure::Number { option: option.to_owned(), flaw }),
        _ => Err(Failure::Value {
            option: option.to_owned(),
            flaw: "write full-speed, capped-speed or design-flow=1.985".to_owned(),
        }),
    }
}

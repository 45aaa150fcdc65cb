//! What a step sets, as commands, each tried on the state that the steps before have left.

use super::names::Names;
use super::script::{ReferenceForm, SetForm};
use super::steps::{Flaw, fraction};
use crate::document::{Command, ComponentId, ComponentKind, PipeFigures, Project, SizeOnSale};
use crate::engine::pump::ReferenceFlow;
use crate::engine::units::Unit;

/// Turns forms into commands and carries them out.
pub(super) fn carried_out(state: &mut Project, pump: ComponentId, forms: &[SetForm]) -> Result<Vec<Command>, Flaw> {
    let mut all = Vec::new();
    for form in forms {
        for (piece, command) in commands(state, pump, form)? {
            state.apply(&command).map_err(|flaw| Flaw::near(&piece, format!("what it sets cannot be: {flaw}")))?;
            all.push(command);
        }
    }
    Ok(all)
}

/// The commands of one form, each with the name of its field.
fn commands(state: &Project, pump: ComponentId, form: &SetForm) -> Result<Vec<(String, Command)>, Flaw> {
    let names = Names { project: state };
    let mut all: Vec<(String, Command)> = Vec::new();
    let mut add = |field: &str, command: Command| all.push((field.to_owned(), command));
    let pump = match &form.pump {
        Some(name) => names.pump(name).map_err(|what| Flaw::at(name, what))?,
        None => pump,
    };
    if let Some(runs) = form.runs {
        add("runs", Command::SetRunning(pump, runs));
    }
    if let Some(head) = form.head_limit_m {
        add("head_limit_m", Command::SetHeadLimit(pump, Some(head)));
    }
    if let Some(slope) = form.slope_percent {
        add("slope_percent", Command::SetSlope(pump, fraction(slope)));
    }
    // The minimum speed never passes the cap: whichever makes room goes first.
    let cap = form.speed_cap_percent.map(|cap| ("speed_cap_percent", Command::SetSpeedCap(pump, fraction(cap))));
    let minimum = form
        .minimum_speed_percent
        .map(|least| ("minimum_speed_percent", Command::SetMinimumSpeed(pump, fraction(least))));
    let now = state.pump(pump).map_or(0.0, |unit| unit.regulation.minimum_speed);
    let lowers = form.speed_cap_percent.is_some_and(|cap| fraction(cap) < now);
    let order = if lowers { [minimum, cap] } else { [cap, minimum] };
    for (field, command) in order.into_iter().flatten() {
        add(field, command);
    }
    if let Some(reference) = form.reference_flow {
        add("reference_flow", Command::SetReferenceFlow(pump, live(reference)));
    }
    if let Some(name) = &form.scenario {
        let index = names.scenario(name).map_err(|what| Flaw::at(name, what))?;
        add(name, Command::EnterScenario(index));
    }
    if form.open_all {
        add("open_all", Command::OpenAllZones);
    }
    for (zones, open) in [(&form.open, true), (&form.shut, false)] {
        for name in zones {
            let valve = names.valve_of(name).map_err(|what| Flaw::at(name, what))?;
            add(name, Command::SetOpen(valve, open));
        }
    }
    add_pipes(&names, form, &mut add)?;
    add_valve(&names, form, &mut add)?;
    if all.is_empty() {
        return Err(Flaw::near("set", "what it sets is empty: write a field such as head_limit_m, or take it out"));
    }
    Ok(all)
}

fn add_pipes(names: &Names, form: &SetForm, add: &mut dyn FnMut(&str, Command)) -> Result<(), Flaw> {
    let size = match &form.size {
        Some((series, nominal)) => {
            Some(SizeOnSale::find(series, nominal).map_err(|flaw| Flaw::at(nominal, flaw.to_string()))?)
        }
        None => None,
    };
    let bore = form.bore_mm.map(|bore| Unit::Millimetre.to_si(bore)).or(size.map(|size| size.bore()));
    match (form.pipes.as_slice(), bore) {
        ([], None) => return Ok(()),
        ([], Some(_)) => return Err(Flaw::near("bore_mm", "a bore is set but no pipe: name them in “pipes”")),
        ([name, ..], None) => {
            return Err(Flaw::at(name, "pipes are named but neither bore_mm nor size: write which they get"));
        }
        _ => {}
    }
    for name in &form.pipes {
        let id = names.pipe(name).map_err(|what| Flaw::at(name, what))?;
        let Some(pipe) = names.project.pipes.get(&id) else { continue };
        let mut wider = pipe.clone();
        wider.rebore(bore.unwrap_or(pipe.bore), size);
        add(name, Command::SetPipe(id, PipeFigures::of(&wider)));
    }
    Ok(())
}

fn add_valve(names: &Names, form: &SetForm, add: &mut dyn FnMut(&str, Command)) -> Result<(), Flaw> {
    let (Some(name), Some(wanted)) = (&form.valve, form.kv_m3_per_h) else {
        return match (&form.valve, form.kv_m3_per_h) {
            (None, None) => Ok(()),
            (Some(name), _) => Err(Flaw::at(name, "a valve is named but no kv_m3_per_h: write it")),
            (None, _) => Err(Flaw::near("kv_m3_per_h", "a Kv is set but no valve: name it in “valve”")),
        };
    };
    let id = names.component(name).map_err(|what| Flaw::at(name, what))?;
    match names.project.components.get(&id).map(|component| &component.kind) {
        Some(ComponentKind::BalancingValve { .. }) => {
            add(name, Command::SetKind(id, Box::new(ComponentKind::BalancingValve { kv: wanted })));
            Ok(())
        }
        _ => Err(Flaw::at(name, format!("“{name}” is no balancing valve: name one"))),
    }
}

fn live(form: ReferenceForm) -> ReferenceFlow {
    match form {
        ReferenceForm::FullSpeed => ReferenceFlow::FullSpeed,
        ReferenceForm::CappedSpeed => ReferenceFlow::CappedSpeed,
        ReferenceForm::DesignFlow { m3_per_h } => ReferenceFlow::DesignFlow(Unit::CubicMetrePerHour.to_si(m3_per_h)),
    }
}

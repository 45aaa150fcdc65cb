//! From one state of a drawing to another: the commands that give every part of it the figures that it had.

use crate::document::{Command, ComponentKind, PipeFigures, Project};

/// The commands that bring a project to the figures of another one with the same drawing: what it is designed for, fluid and limits,
/// settings, valves, sizes, loads, weather.
/// What was drawn anew or taken away is not touched, see [`is_same_drawing`].
#[must_use]
pub fn commands_between(now: &Project, wanted: &Project) -> Vec<Command> {
    let mut commands = basis(now, wanted);
    for (id, component) in &wanted.components {
        let Some(is) = now.components.get(id) else { continue };
        if is.height != component.height {
            commands.push(Command::SetHeight(*id, component.height));
        }
        match (&is.kind, &component.kind) {
            (is, wanted) if is == wanted => {}
            (ComponentKind::Pump(is), ComponentKind::Pump(unit)) => {
                let mut like = is.clone();
                (like.regulation, like.running) = (unit.regulation, unit.running);
                if like != *unit {
                    commands.push(Command::SetKind(*id, Box::new(component.kind.clone())));
                    continue;
                }
                if is.regulation != unit.regulation {
                    commands.push(Command::SetRegulation(*id, unit.regulation));
                }
                if is.running != unit.running {
                    commands.push(Command::SetRunning(*id, unit.running));
                }
            }
            _ => commands.push(Command::SetKind(*id, Box::new(component.kind.clone()))),
        }
    }
    for (id, pipe) in &wanted.pipes {
        if now.pipes.get(id).is_some_and(|is| PipeFigures::of(is) != PipeFigures::of(pipe)) {
            commands.push(Command::SetPipe(*id, PipeFigures::of(pipe)));
        }
    }
    for (id, zone) in &wanted.zones {
        if now.zones.get(id).is_some_and(|is| is != zone) {
            commands.push(Command::SetZone(*id, Box::new(zone.clone())));
        }
    }
    if now.outdoor_now_c != wanted.outdoor_now_c {
        commands.push(Command::SetOutdoor(wanted.outdoor_now_c));
    }
    if now.acceptance != wanted.acceptance {
        commands.push(Command::SetAcceptance(wanted.acceptance.clone()));
    }
    if now.scenarios != wanted.scenarios {
        commands.push(Command::SetScenarios(wanted.scenarios.clone()));
    }
    if now.every_combination != wanted.every_combination {
        commands.push(Command::SetEveryCombination(wanted.every_combination));
    }
    commands
}

/// The commands for what belongs to no part.
fn basis(now: &Project, wanted: &Project) -> Vec<Command> {
    let mut commands = Vec::new();
    if now.design != wanted.design {
        commands.push(Command::SetDesign(wanted.design));
    }
    if now.fluid != wanted.fluid {
        commands.push(Command::SetFluid(wanted.fluid));
    }
    // A fluid may not be known at the other's temperatures.
    if let [first, _] = commands.as_slice()
        && now.clone().apply(first).is_err()
    {
        commands.reverse();
    }
    if now.limits != wanted.limits {
        commands.push(Command::SetLimits(wanted.limits.clone()));
    }
    if now.energy != wanted.energy {
        commands.push(Command::SetEnergyBasis(wanted.energy.clone()));
    }
    if now.uncertainty != wanted.uncertainty {
        commands.push(Command::SetUncertainty(wanted.uncertainty));
    }
    commands
}

/// Whether two projects have the same parts, so that commands alone lead from one to the other.
#[must_use]
pub fn is_same_drawing(a: &Project, b: &Project) -> bool {
    a.components.keys().eq(b.components.keys())
        && a.pipes.keys().eq(b.pipes.keys())
        && a.zones.keys().eq(b.zones.keys())
        && a.pipes.values().zip(b.pipes.values()).all(|(a, b)| (a.from, a.to) == (b.from, b.to))
        && a.components.values().zip(b.components.values()).all(|(a, b)| a.kind_name() == b.kind_name())
}

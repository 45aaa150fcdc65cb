//! What a step is called in the menu.

use crate::document::{Command, ComponentId, Project};

/// What a command does, as a step's name: "head limit of Circulator".
pub(super) fn step_name(project: &Project, command: &Command) -> String {
    let name = |id: &ComponentId| project.components.get(id).map_or("?", |c| c.name.as_str());
    match command {
        Command::SetHeadLimit(id, _) => format!("head limit of {}", name(id)),
        Command::SetSlope(id, _) => format!("slope of {}", name(id)),
        Command::SetSpeedCap(id, _) => format!("speed cap of {}", name(id)),
        Command::SetPowerLimit(id, _) => format!("power limit of {}", name(id)),
        Command::SetMinimumSpeed(id, _) => format!("minimum speed of {}", name(id)),
        Command::SetReferenceFlow(id, _) => format!("reference flow of {}", name(id)),
        Command::SetRunning(id, true) => format!("start {}", name(id)),
        Command::SetRunning(id, false) => format!("stop {}", name(id)),
        Command::SetOpen(id, true) => format!("open {}", name(id)),
        Command::SetOpen(id, false) => format!("shut {}", name(id)),
        Command::SetPosition(id, _) => format!("position of {}", name(id)),
        Command::SetRoomTemperature(id, _) => format!("set temperature of {}", name(id)),
        Command::SetOutdoor(_) => "outdoor temperature".to_owned(),
        Command::EnterScenario(index) => {
            format!("scenario {}", project.scenarios.get(*index).map_or("?", |s| s.name.as_str()))
        }
        Command::OpenAllZones => "open all zones".to_owned(),
        _ => "edit".to_owned(),
    }
}

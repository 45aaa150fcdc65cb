//! The circulator in hand: the one that a person names, or the only one that it can be.

use super::failure::Failure;
use super::names::named;
use crate::document::{ComponentId, Project};

/// The circulator of that name; without a name the only one, or the only one that runs.
pub(super) fn in_hand(project: &Project, wanted: Option<&String>) -> Result<ComponentId, Failure> {
    let name = |id: ComponentId| project.components.get(&id).map_or("", |component| component.name.as_str());
    let pumps: Vec<(&str, ComponentId)> = project.pumps().map(|(id, _)| (name(id), id)).collect();
    let running: Vec<ComponentId> = project.pumps().filter(|(_, unit)| unit.running).map(|(id, _)| id).collect();
    match (wanted, pumps.as_slice(), running.as_slice()) {
        (Some(wanted), ..) => named("circulator", wanted, &pumps),
        (None, [(_, only)], _) | (None, _, [only]) => Ok(*only),
        (None, [], _) => Err(Failure::Value {
            option: "--pump".to_owned(),
            flaw: "the project has no circulator: draw one first".to_owned(),
        }),
        (None, several, _) => {
            let names: Vec<String> = several.iter().map(|(name, _)| format!("“{name}”")).collect();
            let flaw = format!("the project has {} circulators: choose {}", several.len(), names.join(" or "));
            Err(Failure::Value { option: "--pump".to_owned(), flaw })
        }
    }
}

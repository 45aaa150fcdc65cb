//! What a command is called as a step that can be undone.

use super::edit::{Fragment, PipeEnd};
use super::{Command, ComponentId, PipeId, Project, StartingStep, steps_in_words};
use std::collections::BTreeSet;

impl Command {
    /// What the step is called that this command makes: "head limit of Circulator", "move 3 components". To be asked of the
    /// project before the command is carried out, while what it removes is still there.
    #[must_use]
    pub fn step_name(&self, project: &Project) -> String {
        let name = |id: &ComponentId| component(project, *id);
        match self {
            Self::SetHeadLimit(id, _) => format!("head limit of {}", name(id)),
            Self::SetSlope(id, _) => format!("slope of {}", name(id)),
            Self::SetSpeedCap(id, _) => format!("speed cap of {}", name(id)),
            Self::SetPowerLimit(id, _) => format!("power limit of {}", name(id)),
            Self::SetMinimumSpeed(id, _) => format!("minimum speed of {}", name(id)),
            Self::SetReferenceFlow(id, _) => format!("reference flow of {}", name(id)),
            Self::SetRunning(id, true) => format!("start {}", name(id)),
            Self::SetRunning(id, false) => format!("stop {}", name(id)),
            Self::SetOpen(id, true) => format!("open {}", name(id)),
            Self::SetOpen(id, false) => format!("shut {}", name(id)),
            Self::SetPosition(id, _) => format!("position of {}", name(id)),
            Self::SetRoomTemperature(id, _) => format!("set temperature of {}", name(id)),
            Self::SetOutdoor(_) => "outdoor temperature".to_owned(),
            Self::EnterScenario(index) => {
                format!("scenario {}", project.scenarios.get(*index).map_or("?", |s| s.name.as_str()))
            }
            Self::SetRegulation(id, _) => format!("settings of {}", name(id)),
            Self::SwapVariant(index) => {
                format!("swap variant {}", project.variants.get(*index).map_or("?", |variant| variant.name.as_str()))
            }
            Self::OpenAllZones => "open all zones".to_owned(),
            edit => edit.edit_name(project),
        }
    }

    /// What a step is called that edits the drawing.
    fn edit_name(&self, project: &Project) -> String {
        let name = |id: &ComponentId| component(project, *id);
        let pipe = |id: &PipeId| pipe(project, *id);
        let zone = |id| project.zones.get(id).map_or("?", |zone| zone.name.as_str());
        match self {
            Self::AddComponent(new) => format!("add {}", new.name),
            Self::TurnRound(id) => format!("turn {} round", name(id)),
            Self::InsertCloseTees(id, _) => format!("closely spaced tees in {}", pipe(id)),
            Self::SetHeight(id, _) => format!("height of {}", name(id)),
            Self::SetLimits(_) => "limits of the design".to_owned(),
            Self::InsertIntoPipe(_, _, new) => format!("insert {}", new.name),
            Self::RemoveParts(components, pipes) => format!("delete {}", parts(project, components, pipes)),
            Self::Connect(from, to, _) => format!("join {} and {}", end(project, *from), end(project, *to)),
            Self::MoveComponents(places) => {
                format!("move {}", parts(project, &places.keys().copied().collect(), &BTreeSet::new()))
            }
            Self::SetTurn(id, _) => format!("turn {}", name(id)),
            Self::Rename(id, _) => format!("rename {}", name(id)),
            Self::SetKind(id, _) => format!("figures of {}", name(id)),
            Self::RenamePipe(id, _) => format!("rename {}", pipe(id)),
            Self::SetPipe(id, _) => format!("figures of {}", pipe(id)),
            Self::SetBends(id, _) => format!("course of {}", pipe(id)),
            Self::AddZone(new) => format!("add zone {}", new.name),
            Self::SetZone(id, _) => format!("figures of zone {}", zone(id)),
            Self::RemoveZone(id) => format!("delete zone {}", zone(id)),
            Self::SetScenarios(_) => "scenarios".to_owned(),
            Self::SetVariants(_) => "pinned settings".to_owned(),
            Self::SetEnergyBasis(_) => "energy basis".to_owned(),
            Self::SetUncertainty(_) => "uncertainties".to_owned(),
            Self::SetEveryCombination(true) => "serve every combination of zones".to_owned(),
            Self::SetEveryCombination(false) => "serve the scenarios alone".to_owned(),
            Self::SetDesign(_) => "design temperatures".to_owned(),
            Self::SetFluid(_) => "fluid".to_owned(),
            Self::SetAcceptance(_) => "acceptance band".to_owned(),
            Self::SetTitle(_) => "title".to_owned(),
            Self::SetNotes(_) => "notes".to_owned(),
            Self::SetSite(_) => "site".to_owned(),
            Self::SetAddress(id, _) => format!("address of {}", name(id)),
            Self::SetRegister(id, _) => format!("register of {}", name(id)),
            Self::SetTick(step, Some(_)) => format!("tick “{}”", step.word()),
            Self::SetTick(step, None) => taken_back(project, *step),
            Self::SetFillPressure(_) => "fill pressure".to_owned(),
            Self::Paste(fragment, _) => format!("paste {}", pasted(fragment)),
            _ => "change".to_owned(),
        }
    }
}

fn component(project: &Project, id: ComponentId) -> &str {
    project.components.get(&id).map_or("?", |component| component.name.as_str())
}

fn pipe(project: &Project, id: PipeId) -> String {
    project.pipes.get(&id).map_or_else(|| "?".to_owned(), |pipe| project.pipe_label(pipe))
}

/// One part by its name, several by their number.
fn parts(project: &Project, components: &BTreeSet<ComponentId>, pipes: &BTreeSet<PipeId>) -> String {
    let counted = |count: usize, what: &str| match count {
        0 => None,
        1 => Some(format!("1 {what}")),
        _ => Some(format!("{count} {what}s")),
    };
    match (components.first(), pipes.first()) {
        (Some(id), None) if components.len() == 1 => component(project, *id).to_owned(),
        (None, Some(id)) if pipes.len() == 1 => pipe(project, *id),
        _ => {
            let both = [counted(components.len(), "component"), counted(pipes.len(), "pipe")];
            both.into_iter().flatten().collect::<Vec<_>>().join(" and ")
        }
    }
}

fn end(project: &Project, end: PipeEnd) -> String {
    match end {
        PipeEnd::Port(port) => component(project, port.component).to_owned(),
        PipeEnd::OnPipe(id, _) => pipe(project, id),
        PipeEnd::Sheet(_) => "a new tee".to_owned(),
    }
}

/// Taking a step of starting up back, with what falls with it.
fn taken_back(project: &Project, step: StartingStep) -> String {
    let falls = project.starting.falls_with(step);
    let also = if falls.is_empty() { String::new() } else { format!(", and with it “{}”", steps_in_words(&falls)) };
    format!("take back “{}”{also}", step.word())
}

fn pasted(fragment: &Fragment) -> String {
    let mut components = fragment.components().values();
    match (components.next(), components.next()) {
        (Some(only), None) => only.name.clone(),
        _ => format!("{} components", fragment.components().len()),
    }
}

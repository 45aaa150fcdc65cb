//! The document at work: it is changed by commands, studied after each, and remembers its past.

use crate::document::{Changed, Command, ComponentId, History, Project, ZoneId};
use crate::engine::units::Units;
use crate::file::{self, FileError};
use crate::study::{LowerError, Results, Study, change_since};
use std::path::{Path, PathBuf};

/// A document, its study and its history.
#[derive(Debug)]
pub struct Desk {
    project: Project,
    study: Study,
    history: History,
    saved: Project,
    /// Whether the document differs from the file; compared when it changes, not in every pass.
    is_changed: bool,
    path: Option<PathBuf>,
    pump: Option<ComponentId>,
    /// Results when the present step began.
    before: Results,
    /// Whether a step has begun that is not yet recorded.
    open_step: bool,
    step_name: String,
    last_change: String,
}

impl Desk {
    /// Begins with a document.
    ///
    /// # Errors
    /// A document that cannot be studied.
    pub fn new(project: Project, path: Option<PathBuf>) -> Result<Self, LowerError> {
        let study = Study::new(&project)?;
        let pump = project.pumps().find(|(_, unit)| unit.running).or(project.pumps().next()).map(|(id, _)| id);
        Ok(Self {
            history: History::new(&project),
            saved: project.clone(),
            is_changed: false,
            before: study.results().clone(),
            project,
            study,
            path,
            pump,
            open_step: false,
            step_name: String::new(),
            last_change: String::new(),
        })
    }

    /// Opens a file; on failure the desk stays as it was.
    ///
    /// # Errors
    /// One sentence or more for the person who chose the file.
    pub fn open(&mut self, path: &Path) -> Result<(), String> {
        let project = file::load(path).map_err(|error| error.to_string())?;
        *self = Self::new(project, Some(path.to_owned())).map_err(|error| error.to_string())?;
        Ok(())
    }

    /// Saves to a file and goes on with it.
    ///
    /// # Errors
    /// What kept the file from being written.
    pub fn save(&mut self, path: &Path) -> Result<(), FileError> {
        file::save(&self.project, path)?;
        self.path = Some(path.to_owned());
        self.saved = self.project.clone();
        self.is_changed = false;
        Ok(())
    }

    /// Carries out a command and studies the document; `true` if anything changed.
    ///
    /// # Errors
    /// A command that does not fit; nothing has changed then.
    pub fn apply(&mut self, command: &Command, units: &Units) -> Result<bool, String> {
        let changed = self.project.apply(command).map_err(|error| error.to_string())?;
        if !changed.any() {
            return Ok(false);
        }
        if !self.open_step {
            self.before = self.study.results().clone();
            self.open_step = true;
        }
        if let Err(error) = self.study.update(&self.project, changed) {
            // Back to the last step; that document has been studied before.
            self.project = self.history.recorded().clone();
            let everything = Changed::ALL;
            self.open_step = false;
            self.is_changed = self.project != self.saved;
            return self.study.update(&self.project, everything).and(Err(error)).map_err(|error| error.to_string());
        }
        self.is_changed = self.project != self.saved;
        self.step_name = step_name(&self.project, command);
        self.describe(units);
        Ok(true)
    }

    /// Ends the present step: called when the hand has let go.
    pub fn settle(&mut self) {
        if self.open_step {
            self.history.record(&self.step_name, &self.project);
            self.open_step = false;
        }
    }

    /// Takes back the last step.
    pub fn undo(&mut self, units: &Units) {
        self.settle();
        if let Some(project) = self.history.undo() {
            self.take(&project, units);
        }
    }

    /// Brings back the step last taken back.
    pub fn redo(&mut self, units: &Units) {
        self.settle();
        if let Some(project) = self.history.redo() {
            self.take(&project, units);
        }
    }

    fn take(&mut self, project: &Project, units: &Units) {
        self.before = self.study.results().clone();
        self.project = project.clone();
        self.is_changed = self.project != self.saved;
        let everything = Changed::ALL;
        // What was studied once can be studied again; should it fail, the last results stay.
        if self.study.update(&self.project, everything).is_ok() {
            self.describe(units);
        }
    }

    fn describe(&mut self, units: &Units) {
        self.last_change = match self.pump {
            Some(pump) => change_since(&self.project, &self.before, self.study.results(), pump, units),
            None => String::new(),
        };
        if self.last_change.is_empty() && self.open_step {
            self.last_change = format!("Changed {}: no flow changes with it.", self.step_name);
        }
    }

    /// Takes another pump in hand.
    pub fn take_in_hand(&mut self, pump: ComponentId) {
        if self.project.pump(pump).is_some() {
            self.pump = Some(pump);
        }
    }

    /// The document.
    #[must_use]
    pub fn project(&self) -> &Project {
        &self.project
    }

    /// Its study.
    #[must_use]
    pub fn study(&self) -> &Study {
        &self.study
    }

    /// Its history.
    #[must_use]
    pub fn history(&self) -> &History {
        &self.history
    }

    /// The file it came from or was saved to.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The pump in hand.
    #[must_use]
    pub fn pump(&self) -> Option<ComponentId> {
        self.pump
    }

    /// What the last change did, in words.
    #[must_use]
    pub fn last_change(&self) -> &str {
        &self.last_change
    }

    /// Whether it differs from the file.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.is_changed
    }

    /// The system curve with one zone alone open.
    #[must_use]
    pub fn alone(&self, zone: ZoneId) -> Vec<[f64; 2]> {
        self.pump.map_or_else(Vec::new, |pump| self.study.system_alone(&self.project, pump, zone))
    }
}

/// What a command does, as a step's name: "head limit of Circulator".
fn step_name(project: &Project, command: &Command) -> String {
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

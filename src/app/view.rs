//! What panes are given and what they give back.

use super::look::Palette;
use crate::document::{Command, ComponentId, Project, PumpUnit, ZoneId};
use crate::engine::units::{Quantity, Unit, Units};
use crate::study::{Curves, Path, PumpResult, Results, Study};
use std::path::PathBuf;

/// Everything a pane may look at.
pub struct View<'a> {
    /// The document.
    pub project: &'a Project,
    /// Its study.
    pub study: &'a Study,
    /// What everything does.
    pub results: &'a Results,
    /// Units on the screen.
    pub units: &'a Units,
    /// Colours.
    pub palette: Palette,
    /// The pump whose settings are in hand.
    pub pump: Option<ComponentId>,
    /// The zone under the pointer, in whichever pane.
    pub hovered: Option<ZoneId>,
    /// What lies on that zone's path.
    pub path: &'a Path,
    /// The system curve with that zone alone open, m³/s and m.
    pub alone: &'a [[f64; 2]],
    /// How far the arrows on the pipes have moved, seconds.
    pub flow_time: f64,
}

impl View<'_> {
    /// Whether the path of the zone pointed at is to be told apart: not while nothing flows there.
    #[must_use]
    pub fn shows_path(&self) -> bool {
        let zone = self.hovered.and_then(|zone| self.results.zones.get(&zone));
        zone.is_some_and(|zone| zone.flow.abs() > 1e-6 * zone.design_flow)
    }

    /// The pump in hand.
    #[must_use]
    pub fn unit(&self) -> Option<&PumpUnit> {
        self.project.pump(self.pump?)
    }

    /// What the pump in hand does.
    #[must_use]
    pub fn pump_result(&self) -> Option<&PumpResult> {
        self.results.pumps.get(&self.pump?)
    }

    /// The curves of the pump in hand.
    #[must_use]
    pub fn curves(&self) -> Option<&Curves> {
        self.study.curves(self.pump?)
    }
}

/// What a pane wants done.
#[derive(Clone, Debug, PartialEq)]
pub enum Intent {
    /// Change the document.
    Change(Command),
    /// Point at a zone.
    Hover(ZoneId),
    /// Take another pump in hand.
    TakeInHand(ComponentId),
    /// Take back the last step.
    Undo,
    /// Bring back the step last taken back.
    Redo,
    /// Ask for a file to open.
    AskOpen,
    /// Ask where to save.
    AskSave,
    /// Open a file.
    Open(PathBuf),
    /// Save to the file the document came from, or ask for one.
    Save,
    /// Save to a file.
    SaveTo(PathBuf),
    /// Show a quantity in another unit.
    SetUnit(Quantity, Unit),
    /// Show all quantities in another system of units.
    SetUnits(Units),
    /// Show the whole drawing.
    FitDrawing,
    /// Say that something typed was not taken.
    Reject(String),
    /// Take the notice off the screen.
    Dismiss,
}

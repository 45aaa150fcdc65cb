//! What panes are given and what they give back.

use super::desk::Standing;
use super::drawing::Flowing;
use super::keeping::Decision;
use super::lesson::{LessonIntent, Shown};
use super::look::{self, Palette};
use super::part_load::{PartLoadState, Task};
use super::picture::PictureWish;
use super::record::RecordWish;
use super::selection::Selection;
use crate::document::{Command, ComponentId, Project, PumpUnit, ZoneId};
use crate::engine::units::{Quantity, Unit, Units};
use crate::lesson::Look;
use crate::problems::{Check, Place};
use crate::study::{Curves, Path, PumpResult, Results, Study};
use egui::FontId;
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
    /// How far the arrows on the pipes have moved.
    pub(super) flowing: &'a Flowing,
    /// What the person is at.
    pub work: Work,
    /// How the results stand to the document.
    pub standing: &'a Standing,
    /// What calls for a look, the gravest first.
    pub checks: &'a [Check],
    /// What is selected on the drawing.
    pub selection: &'a Selection,
    /// What stands below the drawing while tuning.
    pub below: Below,
    /// What a pane points at, to be lit on the drawing.
    pub lit: Option<Place>,
    /// Another number after each change of document or results.
    pub revision: u64,
    /// The scenario that the valves and the weather stand in, if any.
    pub scenario: Option<usize>,
    /// What stands above while tuning.
    pub above: Above,
    /// Whether the caution before the first run is told.
    pub first_run: bool,
    /// Whether it is shown to people who look on: without tools, large, and without what only its maker needs.
    pub presents: bool,
    /// How large type is: 1 at work.
    pub scale: f32,
    /// All scenarios.
    pub(super) part_load: &'a PartLoadState,
    /// What a lesson wants shown, while one is at work.
    pub lesson: Option<&'a Shown>,
}

/// What stands in the large pane while tuning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Above {
    /// The drawing.
    #[default]
    Drawing,
    /// The map of settings.
    Map,
}

/// What stands below the drawing; while drawing, of these the zones, the checklist and the register.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Below {
    /// A bar for every zone.
    #[default]
    Zones,
    /// What every zone gets over all scenarios.
    Margins,
    /// What every step of a zone's path takes.
    HeadPath,
    /// Energy of a year.
    Year,
    /// Settings pinned under a name.
    Variants,
    /// The checklist of starting up.
    StartUp,
    /// What is written down of every circulator.
    Register,
}

impl Below {
    /// What stands there while drawing, where this stands there while tuning.
    #[must_use]
    pub(super) fn while_drawing(self) -> Self {
        if matches!(self, Self::StartUp | Self::Register) { self } else { Self::Zones }
    }
}

/// What the person is at: the same sheet serves both.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Work {
    /// Setting the pump and working the valves.
    #[default]
    Tune,
    /// Drawing the system.
    Draw,
}

impl View<'_> {
    /// A font of the body family, as large as it is seen here.
    #[must_use]
    pub fn font(&self, size: f32) -> FontId {
        look::font(size * self.scale)
    }

    /// A font of the strong family, as large as it is seen here.
    #[must_use]
    pub fn strong(&self, size: f32) -> FontId {
        look::strong(size * self.scale)
    }

    /// How thick lines and marks are, 1 at work: they grow less than type, or they would cover what they bound.
    #[must_use]
    pub fn weight(&self) -> f32 {
        1.0 + 0.7 * (self.scale - 1.0)
    }

    /// Whether the path of the zone pointed at is to be told apart: not while nothing flows there.
    #[must_use]
    pub fn shows_path(&self) -> bool {
        let zone = self.hovered.and_then(|zone| self.results.zones.get(&zone));
        // Where that zone alone would bring the operating point may be what a lesson asks.
        !self.is_held() && zone.is_some_and(|zone| zone.flow.abs() > 1e-6 * zone.design_flow)
    }

    /// Whether the results are of an earlier document.
    #[must_use]
    pub fn is_stale(&self) -> bool {
        *self.standing != Standing::Current
    }

    /// Whether a lesson points a part out.
    #[must_use]
    pub fn points_out(&self, look: Look) -> bool {
        self.lesson.is_some_and(|shown| shown.looks.contains(&look))
    }

    /// Whether a lesson asks for a prediction, until which nothing may be changed.
    #[must_use]
    pub fn is_held(&self) -> bool {
        self.lesson.is_some_and(|shown| shown.is_held)
    }

    /// Whether a lesson asks what governs, so that no pane may say it.
    #[must_use]
    pub fn hides_governing(&self) -> bool {
        self.lesson.is_some_and(|shown| shown.hides_governing)
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

/// A part of the project's figures that other panes lead to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProjectPart {
    /// States of the valves.
    Scenarios,
    /// What energy costs.
    Energy,
}

/// Something made of the project that can be written to a file.
#[derive(Clone, Debug, PartialEq)]
pub enum Product {
    /// A picture.
    Picture(PictureWish),
    /// The settings sheet and commissioning record.
    Record(RecordWish),
}

impl Product {
    /// What it is called in a heading.
    #[must_use]
    pub fn name(&self) -> String {
        match self {
            Self::Picture(wish) => format!("a picture of {}", wish.of.words()),
            Self::Record(wish) => wish.name().to_owned(),
        }
    }

    /// The ending of its file; empty for a folder.
    #[must_use]
    pub fn ending(&self) -> &'static str {
        match self {
            Self::Picture(wish) => wish.form.ending(),
            Self::Record(wish) => wish.ending(),
        }
    }

    /// The name suggested for its file, beside a project's file of a name.
    #[must_use]
    pub fn file_name(&self, stem: &str) -> String {
        match self {
            Self::Picture(wish) => format!("{stem}-{}.{}", wish.of.id(), self.ending()),
            Self::Record(wish) => wish.file_name(stem),
        }
    }
}

/// What a pane wants done.
#[derive(Clone, Debug, PartialEq)]
pub enum Intent {
    /// Change the document.
    Change(Command),
    /// Change several parts of the document at once, all or none.
    ChangeAll(Vec<Command>),
    /// Point at a zone.
    Hover(ZoneId),
    /// Point at something on the drawing, so that it is lit there.
    PointAt(Place),
    /// Show something else below the drawing.
    ShowBelow(Below),
    /// Show something else in the large pane.
    ShowAbove(Above),
    /// Begin a search among settings.
    Ask(Task),
    /// Go to a part of the project's figures.
    ShowFigures(ProjectPart),
    /// Give up the search that was asked for.
    GiveUpAsked,
    /// Give up the search for the best setting.
    GiveUpBest,
    /// Search for the best setting once more.
    SearchBest,
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
    /// Make pictures.
    Pictures,
    /// Make the record.
    Record,
    /// Copy a picture to the clipboard.
    Copy(PictureWish),
    /// Ask where to write something made of the project.
    AskWrite(Product),
    /// Write something made of the project to a file.
    Write(Product, PathBuf),
    /// Show a quantity in another unit.
    SetUnit(Quantity, Unit),
    /// Show all quantities in another system of units.
    SetUnits(Units),
    /// Show the whole drawing.
    FitDrawing,
    /// Say that something typed was not taken.
    Reject(String),
    /// Do what was decided about unsaved work or the file on disk.
    Decide(Decision),
    /// Take the notice off the screen.
    Dismiss,
    /// Begin or end presenting.
    Present,
    /// Go over to drawing or to tuning.
    TakeUp(Work),
    /// Select something on the drawing.
    Select(Selection),
    /// Select something and bring it into sight.
    GoTo(Place),
    /// Take a new document that is in no file yet, made in the way that the words tell.
    Take(Box<Project>, String),
    /// Begin with an empty sheet.
    New,
    /// Set all balancing valves.
    Balance,
    /// Ask for a component by name.
    Search,
    /// Fill in a list of zones.
    FromList,
    /// Give up the study beside the window.
    GiveUp,
    /// Study the document once more.
    StudyAgain,
    /// Something of a lesson.
    Lesson(LessonIntent),
}

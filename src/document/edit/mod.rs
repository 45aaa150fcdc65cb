//! Edits of a drawing: what the commands that add, join, move and remove do. Every edit leaves a document without flaws, or
//! refuses and leaves it as it was.

use super::{
    Changed, Command, CommandError, Component, ComponentId, ComponentKind, Fitting, PipeId, PipeRun, PortRef, Project,
    SizeOnSale, Zone, ZoneId,
};
use std::collections::{BTreeMap, BTreeSet};

/// Where a new pipe begins or ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PipeEnd {
    /// At a port of a component.
    Port(PortRef),
    /// On a pipe, at a share of its drawn length; a tee comes there.
    OnPipe(PipeId, f64),
    /// On the bare sheet; a tee comes there.
    Sheet([f64; 2]),
}

/// The figures of a pipe that a designer sets.
#[derive(Clone, Debug, PartialEq)]
pub struct PipeFigures {
    /// Length, m.
    pub length: f64,
    /// The size on sale that it is of, with that size's bore.
    pub size: Option<SizeOnSale>,
    /// Bore, m.
    pub bore: f64,
    /// Absolute roughness, m.
    pub roughness: f64,
    /// Its fittings, of which publications tell the loss.
    pub fittings: Vec<Fitting>,
    /// Sum of the loss coefficients of what is not among its fittings.
    pub minor_k: f64,
}

impl PipeFigures {
    /// The figures of a pipe.
    #[must_use]
    pub fn of(pipe: &PipeRun) -> Self {
        Self {
            length: pipe.length,
            size: pipe.size,
            bore: pipe.bore,
            roughness: pipe.roughness,
            fittings: pipe.fittings.clone(),
            minor_k: pipe.minor_k,
        }
    }
}

/// A kind of component to choose from, with usual figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ComponentChoice {
    /// Heat source or chiller.
    Source,
    /// Circulator.
    Pump,
    /// Tee or cross.
    Junction,
    /// Radiator.
    Radiator,
    /// Loops of a heated or cooled floor.
    FloorLoop,
    /// Coil in an air stream.
    Coil,
    /// Emitter of which only the loss is known.
    PlainEmitter,
    /// Two-position valve of a zone.
    ZoneValve,
    /// Valve that a controller moves.
    ControlValve,
    /// Valve that the room moves.
    ThermostaticValve,
    /// Valve set once by hand.
    BalancingValve,
    /// Pressure-independent control valve.
    PressureIndependentValve,
    /// Differential-pressure bypass valve.
    BypassValve,
    /// Check valve.
    CheckValve,
    /// Strainer.
    Strainer,
    /// Hand valve to shut a part off.
    IsolationValve,
    /// Expansion vessel.
    ExpansionVessel,
    /// Hydraulic separator.
    Separator,
}

impl ComponentChoice {
    /// All choices, as they are offered.
    pub const ALL: [Self; 18] = [
        Self::Source,
        Self::Pump,
        Self::ExpansionVessel,
        Self::Separator,
        Self::Radiator,
        Self::FloorLoop,
        Self::Coil,
        Self::PlainEmitter,
        Self::ZoneValve,
        Self::ControlValve,
        Self::ThermostaticValve,
        Self::PressureIndependentValve,
        Self::BalancingValve,
        Self::BypassValve,
        Self::CheckValve,
        Self::Strainer,
        Self::IsolationValve,
        Self::Junction,
    ];

    /// The trade's word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        ""
    }

    /// The kind with usual figures for this project.
    #[must_use]
    pub fn with_usual_figures(self, project: &Project) -> ComponentKind {
        let _ = project;
        ComponentKind::Junction
    }
}

/// A copied part of a drawing: components, the pipes between them, and the zones whose emitter is among them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fragment {
    components: BTreeMap<ComponentId, Component>,
    pipes: BTreeMap<PipeId, PipeRun>,
    zones: BTreeMap<ZoneId, Zone>,
}

impl Fragment {
    /// A copy of some components of a project.
    #[must_use]
    pub fn of(project: &Project, components: &BTreeSet<ComponentId>) -> Self {
        let _ = (project, components);
        Self::default()
    }

    /// Whether there is nothing in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.components.is_empty()
    }

    /// The centre of its components on the drawing it was copied from, in grid steps.
    #[must_use]
    pub fn center(&self) -> [f64; 2] {
        [0.0, 0.0]
    }

    /// Its components where they were copied from, for a picture under the pointer.
    #[must_use]
    pub fn components(&self) -> &BTreeMap<ComponentId, Component> {
        &self.components
    }
}

/// A line that components are brought onto.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Level, all at one height.
    Row,
    /// Upright, all below each other.
    Column,
}

/// Places of components brought onto one line through the middle of them.
#[must_use]
pub fn aligned(project: &Project, components: &BTreeSet<ComponentId>, line: Line) -> BTreeMap<ComponentId, [f64; 2]> {
    let _ = (project, components, line);
    BTreeMap::new()
}

/// Places of components at equal distances along a line between the outermost two.
#[must_use]
pub fn distributed(
    project: &Project,
    components: &BTreeSet<ComponentId>,
    line: Line,
) -> BTreeMap<ComponentId, [f64; 2]> {
    let _ = (project, components, line);
    BTreeMap::new()
}

/// The corners of a pipe on the drawing with both ends, in grid steps; empty where an end is missing.
#[must_use]
pub fn course(project: &Project, pipe: &PipeRun) -> Vec<[f64; 2]> {
    let _ = (project, pipe);
    Vec::new()
}

/// The place at a share of a course's length.
#[must_use]
pub fn spot(course: &[[f64; 2]], share: f64) -> [f64; 2] {
    let _ = (course, share);
    [0.0, 0.0]
}

/// The share of a course's length that lies nearest to a place, and how far from it, in grid steps.
#[must_use]
pub fn nearest_share(course: &[[f64; 2]], at: [f64; 2]) -> Option<(f64, f64)> {
    let _ = (course, at);
    None
}

impl Project {
    /// An empty sheet: water, usual temperatures for heating, one scenario of all zones open.
    #[must_use]
    pub fn blank() -> Self {
        todo!()
    }

    /// A name that no component has yet, made from the trade's word: "Zone valve 3".
    #[must_use]
    pub fn new_component_name(&self, kind: &ComponentKind) -> String {
        let _ = kind;
        String::new()
    }

    /// A name that no zone has yet.
    #[must_use]
    pub fn new_zone_name(&self) -> String {
        String::new()
    }

    /// A zone with usual figures for an emitter that has none yet.
    #[must_use]
    pub fn usual_zone(&self, emitter: ComponentId) -> Zone {
        let _ = emitter;
        todo!()
    }

    /// Carries out a command that edits the drawing.
    pub(super) fn edit(&mut self, command: &Command) -> Result<Changed, CommandError> {
        let _ = command;
        Err(CommandError::Refused("not yet".to_owned()))
    }
}

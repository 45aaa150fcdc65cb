//! A picture of a subject out of a project: solved, drawn, with a heading. The window and the command line take the same way.

use super::super::with_map;
use super::{DrawingView, Heading, Look, PlotView, drawing_svg, map_svg, plot_states, plot_svg};
use crate::document::{ComponentId, Project};
use crate::engine::pump::Regulation;
use crate::engine::units::Units;
use crate::study::part_load::PartLoadError;
use crate::study::settings::Axes;
use crate::study::{LowerError, Study, SweepError};
use thiserror::Error;

/// What is pictured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Subject {
    /// The system.
    Drawing,
    /// A circulator's curves.
    Plot,
    /// The map of settings over two of them, the others held as they are or as given.
    Map(Axes, Option<Regulation>),
}

/// Why a subject cannot be pictured.
#[derive(Debug, Error)]
pub enum SubjectError {
    /// There is nothing to plot or map.
    #[error("there is no circulator whose curves could be shown: draw one first, or picture the drawing")]
    NoPump,
    /// The project cannot be studied.
    #[error(transparent)]
    Lower(#[from] LowerError),
    /// A scenario cannot be studied.
    #[error(transparent)]
    Sweep(#[from] SweepError),
    /// The circulator cannot be probed.
    #[error(transparent)]
    PartLoad(#[from] PartLoadError),
}

/// Draws a subject as SVG; tells besides whether its figures stand.
///
/// # Errors
/// A project that cannot be studied, or has no circulator where one is shown.
pub fn subject_svg(
    project: &Project,
    pump: Option<ComponentId>,
    subject: Subject,
    units: &Units,
    look: Look,
    heading: &Heading<'_>,
) -> Result<(String, bool), SubjectError> {
    let pump_shown = pump.ok_or(SubjectError::NoPump);
    match subject {
        Subject::Drawing => {
            let study = Study::new(project)?;
            let view = DrawingView { project, study: &study, pump };
            Ok((drawing_svg(&view, units, look, Some(heading)), study.results().converged()))
        }
        Subject::Plot => {
            let (pump, study) = (pump_shown?, Study::new(project)?);
            let states = plot_states(project, pump)?;
            let view = PlotView { project, study: &study, pump, states: &states, layers: false };
            Ok((plot_svg(&view, units, look, Some(heading)), view.converged()))
        }
        Subject::Map(axes, base) => {
            let draw = |view: &super::super::MapView<'_>| map_svg(view, units, look, Some(heading));
            Ok((with_map(project, pump_shown?, axes, base, draw)?, true))
        }
    }
}

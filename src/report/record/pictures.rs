//! The pictures of a record: the drawing with what flows, and head over flow of every circulator that runs, with all zones open.

use super::solved::Solved;
use crate::document::ComponentId;
use crate::engine::units::Units;
use crate::report::picture::{DrawingView, Look, PlotView, drawing_svg, plot_states, plot_svg};
use crate::study::SweepError;

/// Width of the pictures, pixels: on paper they are as wide as the page.
const WIDTH: u32 = 1000;

/// Pictures that go into a record, as SVG.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Pictures {
    /// The drawing.
    pub drawing: Option<String>,
    /// Head over flow, of each circulator by name.
    pub plots: Vec<(String, String)>,
}

/// Draws them, light and without headings: the page has its own.
pub(super) fn pictures(solved: &Solved, units: &Units) -> Result<Pictures, SweepError> {
    let Solved { project, study, pump, .. } = solved;
    let look = Look { width: WIDTH, dark: false };
    let drawing = drawing_svg(&DrawingView { project, study, pump: *pump }, units, look, None);
    let plot = |id: ComponentId| {
        let states = plot_states(project, id)?;
        let view = PlotView { project, study, pump: id, states: &states, layers: false };
        Ok((solved.name(id).to_owned(), plot_svg(&view, units, look, None)))
    };
    let plots = solved.running().into_iter().map(plot).collect::<Result<_, SweepError>>()?;
    Ok(Pictures { drawing: (!project.components.is_empty()).then_some(drawing), plots })
}

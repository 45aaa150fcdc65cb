//! Pictures of the window, which another room paints: `main` hands the painter in, so that the command line needs no window.

use crate::document::Project;
use crate::engine::units::Units;
use std::path::PathBuf;

/// What a picture of the window is to show.
#[derive(Clone, Debug, PartialEq)]
pub struct WindowPose {
    /// The project.
    pub project: Project,
    /// Its file.
    pub path: PathBuf,
    /// Width and height of the window, points.
    pub size: [f32; 2],
    /// Width of the picture, pixels.
    pub width: u32,
    /// Whether on a dark ground.
    pub dark: bool,
    /// Units of the shown figures.
    pub units: Units,
    /// The day that stands below it.
    pub date: String,
    /// What else is to stand there.
    pub title: String,
}

/// Paints the window as SVG, or says in a sentence why it does not.
pub type WindowPainter = fn(WindowPose) -> Result<String, String>;

//! Pictures: the map of settings, the plot and the drawing as SVG, written by hand so that they are the same to the byte on every
//! machine, and as PNG.

mod areas;
mod axes;
mod colours;
mod drawing;
mod heading;
mod labels;
mod legend;
mod map;
mod marks;
mod plot;
mod png;
mod room;
pub mod sheet;
mod subject;
mod svg;
pub mod symbols;
mod width;

pub use colours::colour_pairs;
pub use drawing::{DrawingView, drawing_svg};
pub use heading::Heading;
pub use map::map_svg;
pub use plot::{PlotState, PlotView, plot_states, plot_svg};
pub use png::{PictureError, Pixels, pixels, png};
pub use subject::{Subject, SubjectError, subject_svg};
pub use svg::{Svg, escaped, figure, path};

/// How a picture is to look.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Width, pixels.
    pub width: u32,
    /// Whether on a dark ground.
    pub dark: bool,
}

/// Least and greatest width of a picture, pixels: below it texts cannot be read, above it one does not fit into memory.
pub const WIDTHS: std::ops::RangeInclusive<u32> = 600..=8000;

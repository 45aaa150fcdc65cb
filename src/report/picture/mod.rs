//! Pictures: the map of settings as SVG, written by hand so that it is the same to the byte on every machine, and as PNG.

mod areas;
mod axes;
mod colours;
mod labels;
mod legend;
mod map;
mod marks;
mod png;
mod svg;
pub mod symbols;

pub use map::map_svg;
pub use png::{PictureError, png};

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

//! From SVG to PNG, with the program's own typeface and none of the machine's, so that the bytes are the same everywhere.

use super::svg::FONT;
use super::width::{PLAIN, STRONG};
use resvg::usvg::fontdb;
use resvg::{tiny_skia, usvg};
use std::sync::{Arc, OnceLock};
use thiserror::Error;

/// Why there is no picture.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum PictureError {
    /// The drawing was not understood by the renderer.
    #[error("the picture could not be drawn: {0}")]
    Drawing(String),
    /// Too many pixels.
    #[error("a picture of this width does not fit into memory: ask for a narrower one with --width")]
    Size,
}

/// The program's own typeface, read once: texts are measured with it one by one.
fn typeface() -> Arc<fontdb::Database> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let read = || {
        let mut fonts = fontdb::Database::new();
        fonts.load_font_data(PLAIN.to_vec());
        fonts.load_font_data(STRONG.to_vec());
        fonts.set_sans_serif_family(FONT);
        Arc::new(fonts)
    };
    FONTS.get_or_init(read).clone()
}

/// Reads an SVG as the renderer does.
pub(super) fn tree(svg: &str) -> Result<usvg::Tree, PictureError> {
    let options = usvg::Options { font_family: FONT.to_owned(), fontdb: typeface(), ..usvg::Options::default() };
    usvg::Tree::from_str(svg, &options).map_err(|error| PictureError::Drawing(error.to_string()))
}

/// Dots of a picture.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pixels {
    /// Dots a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// Red, green, blue and alpha of each dot, the colours multiplied by alpha, row after row from the upper left.
    pub rgba: Vec<u8>,
}

/// Draws an SVG as PNG.
///
/// # Errors
/// A drawing that is none, or one too large.
pub fn png(svg: &str) -> Result<Vec<u8>, PictureError> {
    drawn(svg)?.encode_png().map_err(|error| PictureError::Drawing(error.to_string()))
}

/// Draws an SVG as dots.
///
/// # Errors
/// A drawing that is none, or one too large.
pub fn pixels(svg: &str) -> Result<Pixels, PictureError> {
    let drawn = drawn(svg)?;
    Ok(Pixels { width: drawn.width(), height: drawn.height(), rgba: drawn.take() })
}

fn drawn(svg: &str) -> Result<tiny_skia::Pixmap, PictureError> {
    let tree = tree(svg)?;
    let size = tree.size().to_int_size();
    let mut pixels = tiny_skia::Pixmap::new(size.width(), size.height()).ok_or(PictureError::Size)?;
    resvg::render(&tree, tiny_skia::Transform::identity(), &mut pixels.as_mut());
    Ok(pixels)
}

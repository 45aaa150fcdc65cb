//! Pictures as files: the ending says as what, and how wide one may be.

use super::failure::Failure;
use crate::report::picture::{WIDTHS, png};
use std::ffi::OsStr;
use std::fs;
use std::path::Path;

/// What a picture is written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Format {
    Svg,
    Png,
}

/// The format that a file's ending says.
pub(super) fn format_of(option: &str, path: &Path) -> Result<Format, Failure> {
    let ending = path.extension().and_then(OsStr::to_str).map(str::to_lowercase);
    match ending.as_deref() {
        Some("svg") => Ok(Format::Svg),
        Some("png") => Ok(Format::Png),
        _ => Err(Failure::Value {
            option: format!("{option} {}", path.display()),
            flaw: "a picture is drawn as SVG or PNG: end the file's name in .svg or .png".to_owned(),
        }),
    }
}

/// Refuses a width that no picture may have.
pub(super) fn check_width(option: &str, width: u32) -> Result<(), Failure> {
    if WIDTHS.contains(&width) {
        return Ok(());
    }
    let flaw = format!("a picture is {} to {} pixels wide", WIDTHS.start(), WIDTHS.end());
    Err(Failure::Value { option: option.to_owned(), flaw })
}

/// Writes a picture.
pub(super) fn write_picture(path: &Path, svg: &str, format: Format) -> Result<(), Failure> {
    match format {
        Format::Svg => write(path, svg.as_bytes()),
        Format::Png => write(path, &png(svg)?),
    }
}

/// Writes bytes to a file.
pub(super) fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    fs::write(path, bytes).map_err(|error| Failure::Written { path: path.to_owned(), error })
}

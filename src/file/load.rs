//! The way in: bytes, text, format number, then the reader of that format.

use super::error::FileError;
use super::fingerprint::Fingerprint;
use super::locate::Outline;
use super::{v1, wording};
use crate::document::Project;
use serde::de::IgnoredAny;
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The newest format that can be read, and the one that is written.
pub const NEWEST_FORMAT: u32 = 1;

/// Greatest size of a file that is taken for a project, in bytes: 64 MiB.
pub const MOST_BYTES: u64 = 64 << 20;

/// Loads a project from a file.
///
/// # Errors
/// A file that cannot be read, is not a project, or holds values that cannot be.
pub fn load(path: &Path) -> Result<Project, FileError> {
    load_marked(path).map(|(project, _)| project)
}

/// Loads like [`load`] and tells what the file looked like.
///
/// # Errors
/// As [`load`].
pub fn load_marked(path: &Path) -> Result<(Project, Fingerprint), FileError> {
    let (text, mark) = read(path)?;
    Ok((parse(&text, &path.display().to_string())?, mark))
}

/// The text of a file.
pub(crate) fn read(path: &Path) -> Result<(String, Fingerprint), FileError> {
    let failed = |source| FileError::read(path, source);
    let mut bytes = Vec::new();
    let mut file = File::open(path).map_err(failed)?;
    let metadata = file.metadata().map_err(failed)?;
    file.by_ref().take(MOST_BYTES + 1).read_to_end(&mut bytes).map_err(failed)?;
    if bytes.len() as u64 > MOST_BYTES {
        return Err(FileError::TooLarge { file: path.display().to_string() });
    }
    let mark = Fingerprint::new(&bytes, &metadata);
    let text = String::from_utf8(bytes).map_err(|_| FileError::NotText { path: path.to_owned() })?;
    Ok((text, mark))
}

/// Reads a project from text; `name` is what messages call it.
///
/// # Errors
/// A text that is not a project, or holds values that cannot be.
pub fn parse(text: &str, name: &str) -> Result<Project, FileError> {
    if text.len() as u64 > MOST_BYTES {
        return Err(FileError::TooLarge { file: name.to_owned() });
    }
    // Some editors put a byte order mark in front.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let outline = Outline::of(text);
    // The format comes first, so that a later one is named as such whatever else it brings.
    match outline.word("format").map(format_number) {
        Some(Some(0)) => Err(FileError::UnknownFormat { file: name.to_owned() }),
        Some(Some(found)) if found > u64::from(NEWEST_FORMAT) => {
            Err(FileError::NewerFormat { file: name.to_owned(), found, newest: NEWEST_FORMAT })
        }
        Some(_) => v1::read(text, name, &outline),
        None => match ron::from_str::<IgnoredAny>(text) {
            Ok(_) => Err(FileError::UnknownFormat { file: name.to_owned() }),
            Err(failure) => Err(wording::syntax(name, text, &failure)),
        },
    }
}

/// A format number; the greatest there is for one with too many digits, and `None` for what is no whole number.
pub(crate) fn format_number(word: &str) -> Option<u64> {
    let whole = !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    whole.then(|| word.parse().unwrap_or(u64::MAX))
}

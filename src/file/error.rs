//! Everything that can go wrong with a project file. Each message says where (file, line, column or component), what is
//! wrong and what to do.

use crate::document::Flaw;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// A value that cannot be, with the line on which it stands where that is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LocatedFlaw {
    /// Line of the component, pipe, zone or part of the project, from 1.
    pub line: Option<usize>,
    /// Where in the project, what is wrong and what to do.
    pub flaw: Flaw,
}

impl fmt::Display for LocatedFlaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "line {line}, {}", self.flaw),
            None => write!(f, "{}", self.flaw),
        }
    }
}

/// Why a project was not loaded or not saved.
#[derive(Debug, Error)]
pub enum FileError {
    /// The file could not be read.
    #[error("{} could not be read: {}. Check its name and folder.", path.display(), reason(source))]
    Read {
        /// Which file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The file holds something else than text.
    #[error("{} is not text: a project is plain text in UTF-8. Choose another file, or save it as UTF-8.", path.display())]
    NotText {
        /// Which file.
        path: PathBuf,
    },
    /// The file is too large to be a project.
    #[error("{file} is larger than 64 MiB, too large for a project: choose another file.")]
    TooLarge {
        /// Which file.
        file: String,
    },
    /// The text does not read as a project.
    #[error("{file}, line {line}, column {column}: {message}")]
    Syntax {
        /// Which file.
        file: String,
        /// Line, from 1.
        line: usize,
        /// Column in characters, from 1.
        column: usize,
        /// What is wrong and what to do.
        message: String,
    },
    /// The file was written by a later version.
    #[error(
        "{file} has project format {found}; this version reads formats up to {newest}: open it with a newer version \
         of Headwise."
    )]
    NewerFormat {
        /// Which file.
        file: String,
        /// Format of the file.
        found: u64,
        /// Newest format that can be read.
        newest: u32,
    },
    /// The file names no format, or format 0.
    #[error(
        "{file} does not say which project format it has: a project begins with “format: 1”. Choose another file, or \
         add that line if it was lost."
    )]
    UnknownFormat {
        /// Which file.
        file: String,
    },
    /// Something refers to a component or zone that is not there.
    #[error(
        "{file}, line {line}: {what} names the {kind} “{name}”, which is not in this project. {}",
        advice(kind, near.as_deref())
    )]
    UnknownName {
        /// Which file.
        file: String,
        /// Line, from 1.
        line: usize,
        /// What refers to it.
        what: String,
        /// Whether a component or a zone is meant.
        kind: &'static str,
        /// The name that is not there.
        name: String,
        /// A name that is there and much like it.
        near: Option<String>,
    },
    /// Two things of one kind have one name, so that nothing can refer to either.
    #[error(
        "{file}, line {second}: there is another {kind} “{name}” on line {first}. Rename one of the two, and check \
         what refers to it."
    )]
    SameName {
        /// Which file.
        file: String,
        /// Component, pipe, zone or scenario.
        kind: &'static str,
        /// The name.
        name: String,
        /// Line of the first, from 1.
        first: usize,
        /// Line of the second, from 1.
        second: usize,
    },
    /// Values that no system can have.
    #[error("{file}: these values cannot be:{}", listed(flaws))]
    Flaws {
        /// Which file.
        file: String,
        /// What is wrong, in the order of the file.
        flaws: Vec<LocatedFlaw>,
    },
    /// The file could not be written; what was there before is untouched.
    #[error(
        "{} could not be saved: {}. What was there before is untouched; save under another name or in another folder.",
        path.display(), reason(source)
    )]
    Write {
        /// Which file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// Unsaved work could not be copied to the recovery folder.
    #[error(
        "No recovery copy of unsaved work can be kept in {}: {}. Save often, and put that folder right.",
        folder.display(), reason(source)
    )]
    Recovery {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A recovery copy does not begin as one, or was written by a later version.
    #[error(
        "{} does not begin as a recovery copy that this version understands. It is kept: look into it with a text \
         editor, or open it as a project.",
        path.display()
    )]
    NoRecovery {
        /// Which file.
        path: PathBuf,
    },
}

impl FileError {
    pub(super) fn read(path: &Path, source: io::Error) -> Self {
        Self::Read { path: path.to_owned(), source }
    }

    pub(super) fn write(path: &Path, source: io::Error) -> Self {
        Self::Write { path: path.to_owned(), source }
    }
}

/// The system's complaint in plain words.
fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        io::ErrorKind::PermissionDenied => "it, or its folder, is protected against you".to_owned(),
        io::ErrorKind::IsADirectory => "it is a folder, not a file".to_owned(),
        io::ErrorKind::NotADirectory => "a part of its path is not a folder".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "the disk can only be read".to_owned(),
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full".to_owned(),
        io::ErrorKind::InvalidFilename => "a file cannot have this name".to_owned(),
        _ => error.to_string(),
    }
}

fn advice(kind: &str, near: Option<&str>) -> String {
    match near {
        Some(near) => format!("Perhaps “{near}” is meant: correct the name."),
        None => format!("Correct the name, or add the {kind}."),
    }
}

fn listed(flaws: &[LocatedFlaw]) -> String {
    /// Most that are told: nobody reads more at once.
    const TOLD: usize = 40;
    let line = |flaw: &LocatedFlaw| format!("\n  {}.", flaw.to_string().trim_end_matches('.'));
    let more = match flaws.len().saturating_sub(TOLD) {
        0 => String::new(),
        more => format!("\n  and {more} more."),
    };
    flaws.iter().take(TOLD).map(line).collect::<String>() + &more
}

//! Why a command ended early, as one message and one exit code.

use crate::engine::units::UnitError;
use crate::file::FileError;
use crate::file::table::TableError;
use crate::lesson::LessonError;
use crate::report::picture::{PictureError, SubjectError};
use crate::report::record::{PdfError, RecordError};
use crate::study::part_load::PartLoadError;
use crate::study::sizing::SizingError;
use crate::study::{LowerError, SweepError};
use std::io;
use std::path::PathBuf;
use thiserror::Error;

/// Why a command ended early.
#[derive(Debug, Error)]
pub(super) enum Failure {
    /// The command line was not understood; the text is complete.
    #[error("{0}")]
    Usage(String),
    /// A project file could not be read or written.
    #[error(transparent)]
    File(#[from] FileError),
    /// A lesson cannot be used.
    #[error(transparent)]
    Lesson(#[from] LessonError),
    /// The file that the window was to open is not there.
    #[error("{}", no_file(path, *is_folder, command.as_deref()))]
    NoFile {
        /// What was named.
        path: PathBuf,
        /// Whether it is a folder.
        is_folder: bool,
        /// The command that it resembles.
        command: Option<String>,
    },
    /// The project cannot be solved as it is.
    #[error(transparent)]
    Lower(#[from] LowerError),
    /// A scenario cannot be solved.
    #[error(transparent)]
    Sweep(#[from] SweepError),
    /// The settings cannot be searched.
    #[error(transparent)]
    PartLoad(#[from] PartLoadError),
    /// A picture could not be drawn.
    #[error(transparent)]
    Picture(#[from] PictureError),
    /// What is to be pictured cannot be studied.
    #[error(transparent)]
    Subject(#[from] SubjectError),
    /// A record could not be made.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// A record could not be set on pages.
    #[error(transparent)]
    Pdf(#[from] PdfError),
    /// A file of results could not be written.
    #[error("{} could not be written: {error}; check its folder, or name another file", path.display())]
    Written {
        /// The file.
        path: PathBuf,
        /// What happened.
        error: io::Error,
    },
    /// A table could not be read.
    #[error(transparent)]
    Table(#[from] TableError),
    /// A system cannot be drawn or sized.
    #[error(transparent)]
    Sizing(#[from] SizingError),
    /// A number was not understood.
    #[error("{option}: {flaw}")]
    Number {
        /// The option.
        option: String,
        /// What is wrong with it.
        flaw: UnitError,
    },
    /// A value that no system can have, or that does not fit what it is for.
    #[error("{option}: {flaw}")]
    Value {
        /// The option with its value.
        option: String,
        /// What is wrong with it.
        flaw: String,
    },
    /// A name that nothing has.
    #[error("there is no {what} named “{wanted}”{hint}")]
    Unknown {
        /// What was looked for.
        what: &'static str,
        /// The name that was given.
        wanted: String,
        /// What there is instead; begins with its own punctuation.
        hint: String,
    },
    /// The output could not be written.
    #[error("the output could not be written: {0}")]
    Output(io::Error),
}

impl Failure {
    /// What to print on standard error; nothing where a reader has closed the pipe because it has read enough.
    pub fn text(&self) -> Option<String> {
        match self {
            Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => None,
            Self::Usage(text) => Some(text.clone()),
            _ => Some(format!("headwise: {self}\n")),
        }
    }

    pub fn code(&self) -> u8 {
        match self {
            Self::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => 0,
            Self::Usage(_) => 2,
            _ => 1,
        }
    }
}

fn no_file(path: &std::path::Path, is_folder: bool, command: Option<&str>) -> String {
    let path = path.display();
    match (is_folder, command) {
        (true, _) => format!("{path} is a folder: name a project file in it"),
        (false, Some(command)) => {
            format!("there is no file {path}; for the command {command}, write: headwise {command} FILE")
        }
        (false, None) => format!("there is no file {path}: check its name and folder"),
    }
}

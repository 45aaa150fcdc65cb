//! Why a lesson cannot be used: which file, which line, what is wrong and what to do.

use crate::file::FileError;
use thiserror::Error;

/// Why a lesson was not loaded.
#[derive(Debug, Error)]
pub enum LessonError {
    /// The file could not be read, or its text does not read as a lesson.
    #[error(transparent)]
    File(#[from] FileError),
    /// The file names no lesson format.
    #[error(
        "{file} does not say that it is a lesson: a lesson begins with “lesson: 1”. Choose another file, or add that line if it \
         was lost."
    )]
    NoLesson {
        /// Which file.
        file: String,
    },
    /// The file was written for a later version.
    #[error(
        "{file} has lesson format {found}; this version reads formats up to {newest}: open it with a newer version of Headwise."
    )]
    NewerFormat {
        /// Which file.
        file: String,
        /// Format of the file.
        found: u64,
        /// Newest format that can be read.
        newest: u32,
    },
    /// The project that the lesson works on could not be loaded.
    #[error("{file}, line {line}: the project of this lesson was not loaded. {source}")]
    Project {
        /// Which lesson file.
        file: String,
        /// Line on which the project is named, from 1.
        line: usize,
        /// Why not.
        source: Box<FileError>,
    },
    /// Something that this lesson, or one of its steps, cannot do.
    #[error("{file}, line {line}: {flaw}.")]
    Flaw {
        /// Which file.
        file: String,
        /// Line, from 1.
        line: usize,
        /// What is wrong and what to do.
        flaw: String,
    },
}

/// Why a course could not carry out what was asked of it.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum CourseError {
    /// An answer that does not fit the step.
    #[error("this step does not ask that: answer what it asks")]
    NotAsked,
    /// A question that has been answered; its truth has been shown.
    #[error("this question has been answered: begin the step again to answer anew")]
    Answered,
    /// The change that follows cannot be made, because the drawing has become another.
    #[error("the drawing has been changed so that this step cannot go on: begin it again ({0})")]
    Changed(String),
    /// The system cannot be studied.
    #[error("this system cannot be studied: {0}")]
    Unsolved(String),
}

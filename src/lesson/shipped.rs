//! The lessons that come with the program, within it, so that a bare binary has them.

use super::content::Lesson;
use super::error::LessonError;
use crate::document::Project;
use crate::file::{self, FileError};
use std::io;
use std::path::PathBuf;

/// A lesson that comes with the program.
#[derive(Clone, Copy, Debug)]
pub struct Shipped {
    /// Its file in sample-projects/lessons.
    pub file: &'static str,
    /// What that file holds.
    pub text: &'static str,
}

/// Embeds lessons by the names of their files.
macro_rules! lessons {
    ($($file:literal),+ $(,)?) => {
        &[$(Shipped { file: $file, text: include_str!(concat!("../../sample-projects/lessons/", $file)) }),+]
    };
}

/// Embeds projects by their paths from the lessons' folder.
macro_rules! projects {
    ($($path:literal),+ $(,)?) => {
        &[$(($path, include_str!(concat!("../../sample-projects/lessons/", $path)))),+]
    };
}

const LESSONS: &[Shipped] = lessons![
    "01-head-limit.ron",
    "02-slope.ron",
    "03-speed-cap.ron",
    "04-reference-flow.ron",
    "05-far-zone.ron",
    "06-main-or-slope.ron",
    "07-two-pumps.ron",
    "08-find-the-setting.ron",
    "09-find-the-fault.ron",
    "10-bypass-minimum-speed.ron",
];

const PROJECTS: &[(&str, &str)] = projects![
    "../fernhollow-library.ron",
    "../alder-point-clinic.ron",
    "projects/millbrook-school.ron",
    "projects/fernhollow-bypass.ron",
];

/// All lessons that come with the program, in the order in which they build on each other.
#[must_use]
pub fn shipped() -> &'static [Shipped] {
    LESSONS
}

impl Shipped {
    /// The lesson.
    ///
    /// # Errors
    /// As [`Lesson::load`]; a lesson that came with the program has none.
    pub fn lesson(&self) -> Result<Lesson, LessonError> {
        Lesson::parse(self.text, self.file, &project)
    }
}

fn project(path: &str) -> Result<Project, FileError> {
    let missing = || FileError::Read { path: PathBuf::from(path), source: io::Error::from(io::ErrorKind::NotFound) };
    let (name, text) = PROJECTS.iter().find(|(known, _)| *known == path).ok_or_else(missing)?;
    file::parse(text, name)
}

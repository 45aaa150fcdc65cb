//! Where a lesson comes from: one that is in the program, or a file.

use crate::lesson::{Lesson, shipped};
use std::path::PathBuf;

/// Where a lesson comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// One that comes with the program, by its place among them.
    Shipped(usize),
    /// A file.
    File(PathBuf),
}

/// Reads a lesson.
///
/// # Errors
/// What is wrong with it, on which line, and what to do.
pub(in super::super) fn read_lesson(source: &Source) -> Result<Lesson, String> {
    match source {
        Source::Shipped(index) => {
            let shipped = shipped().get(*index).ok_or("There is no such lesson in this program.")?;
            shipped.lesson().map_err(|error| error.to_string())
        }
        Source::File(path) => Lesson::load(path).map_err(|error| error.to_string()),
    }
}

/// Title and subject of the lessons that come with the program; of one that cannot be read the reason, at its place.
pub(super) fn shipped_lessons() -> Vec<(String, String)> {
    let told = shipped().iter().map(|shipped| match shipped.lesson() {
        Ok(lesson) => (lesson.title, lesson.about),
        Err(error) => (shipped.file.to_owned(), error.to_string()),
    });
    told.collect()
}

//! `lesson`: tries a lesson file from beginning to end, so that a trainer learns of a mistake before a learner does; or lists the
//! lessons that come with the program.

use super::failure::Failure;
use super::print;
use crate::engine::units::Units;
use crate::lesson::{Lesson, LessonError, shipped};
use std::io::Write;
use std::path::Path;

/// Lists the lessons of the program, or tries one out; a lesson with a flaw ends with code 1.
pub(super) fn lesson(
    file: Option<&Path>,
    units: &Units,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<u8, Failure> {
    let Some(file) = file else {
        print(out, &listed()?)?;
        return Ok(0);
    };
    let lesson = load(file)?;
    let steps = lesson.rehearse(units);
    let mut text = format!("{}\n{}\n\n", lesson.title, lesson.about);
    let mut flaws = String::new();
    for (number, step) in steps.iter().enumerate() {
        let number = number + 1;
        match &step.flaw {
            None => text.push_str(&format!("{number:>2}. {}\n    {}\n", step.title, step.told)),
            Some(flaw) => {
                let (line, title) = (step.line, &step.title);
                flaws.push_str(&format!("{}, line {line}: step {number}, “{title}”: {flaw}.\n", file.display()));
            }
        }
    }
    if flaws.is_empty() {
        print(out, &text)?;
        return Ok(0);
    }
    print(err, &flaws)?;
    Ok(1)
}

/// A lesson by its path, or one of the program's by its name.
fn load(file: &Path) -> Result<Lesson, LessonError> {
    let own = shipped().iter().find(|own| !file.exists() && Path::new(own.file) == file);
    own.map_or_else(|| Lesson::load(file), |own| own.lesson())
}

fn listed() -> Result<String, Failure> {
    let mut text = String::new();
    for own in shipped() {
        let lesson = own.lesson()?;
        text.push_str(&format!("{}\n    {}. {}\n", own.file, lesson.title, lesson.about));
    }
    Ok(text)
}

//! The way in: a lesson's text and the project that it names become a lesson; every mistake is told with its line.

use super::content::{Lesson, Step};
use super::error::LessonError;
use super::names::Names;
use super::script::Script;
use super::steps::{Flaw, Reader};
use crate::document::{ComponentId, Project};
use crate::file::{self, FileError, Outline};
use std::path::Path;

/// The newest lesson format that can be read.
pub const NEWEST_FORMAT: u32 = 1;

impl Lesson {
    /// Loads a lesson from a file; its project is named by a path from the lesson's folder.
    ///
    /// # Errors
    /// A file that cannot be read or is no lesson, or a lesson that cannot be followed.
    pub fn load(path: &Path) -> Result<Self, LessonError> {
        let (text, _) = file::read(path)?;
        let folder = path.parent().unwrap_or(Path::new(""));
        Self::parse(&text, &path.display().to_string(), &|project| file::load(&folder.join(project)))
    }

    /// Reads a lesson from text; `name` is what messages call it, `resolve` loads the project that it names.
    ///
    /// # Errors
    /// As [`Lesson::load`].
    pub fn parse(
        text: &str,
        name: &str,
        resolve: &dyn Fn(&str) -> Result<Project, FileError>,
    ) -> Result<Self, LessonError> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let outline = Outline::of(text);
        // The format comes first, so that a later one is named as such whatever else it brings.
        match outline.word("lesson").and_then(file::format_number) {
            Some(found) if found > u64::from(NEWEST_FORMAT) => {
                return Err(LessonError::NewerFormat { file: name.to_owned(), found, newest: NEWEST_FORMAT });
            }
            Some(1..) => {}
            _ => return Err(no_lesson(text, name)),
        }
        let script: Script = reader().from_str(text).map_err(|failure| file::syntax(name, text, &failure))?;
        let line_of = |part: &str| outline.part(part).unwrap_or(1);
        let flaw = |line: usize, flaw: String| LessonError::Flaw { file: name.to_owned(), line, flaw };
        let project = resolve(&script.project).map_err(|source| LessonError::Project {
            file: name.to_owned(),
            line: line_of("project"),
            source: Box::new(source),
        })?;
        if script.steps.is_empty() {
            return Err(flaw(line_of("steps"), "the lesson has no step: write at least one".to_owned()));
        }
        let pump = pump(&project, script.pump.as_deref()).map_err(|what| flaw(line_of("pump"), what))?;
        let mut reader = Reader::new(&project, pump);
        let mut steps: Vec<Step> = Vec::with_capacity(script.steps.len());
        for (index, form) in script.steps.into_iter().enumerate() {
            let line = outline.item("steps", index).unwrap_or(1);
            let called = format!("step {}, “{}”", index + 1, form.title);
            let step = reader.step(line, form).map_err(|Flaw { pieces, what }| {
                let line = outline.holding("steps", index, &pieces).unwrap_or(line);
                flaw(line, format!("{called}: {what}"))
            })?;
            steps.push(step);
        }
        drop(reader);
        Ok(Self { title: script.title, about: script.about, project, steps })
    }
}

/// The reader: what a goal or a look holds stands in one pair of brackets.
fn reader() -> ron::Options {
    ron::Options::default().with_default_extension(ron::extensions::Extensions::UNWRAP_VARIANT_NEWTYPES)
}

/// A text without a lesson's number: one that does not even read is told of as such.
fn no_lesson(text: &str, name: &str) -> LessonError {
    match ron::from_str::<serde::de::IgnoredAny>(text) {
        Ok(_) => LessonError::NoLesson { file: name.to_owned() },
        Err(failure) => file::syntax(name, text, &failure).into(),
    }
}

/// The circulator of that name; without a name the first that runs, or else the first.
fn pump(project: &Project, wanted: Option<&str>) -> Result<ComponentId, String> {
    if let Some(wanted) = wanted {
        return Names { project }.pump(wanted);
    }
    let running = project.pumps().find(|(_, unit)| unit.running);
    let first = running.or(project.pumps().next()).map(|(id, _)| id);
    first.ok_or_else(|| "the project of this lesson has no circulator: choose another project, or draw one".to_owned())
}

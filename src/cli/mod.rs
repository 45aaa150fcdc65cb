//! The command line: reads arguments, runs the same functions as the window, prints. Nothing else prints.
//!
//! Exit codes: 0 done, 1 something in the input is wrong (a file, a name, a value), 2 the command line was not understood,
//! 3 the balances did not close, so that the printed figures must not be used.

mod arguments;
mod best;
mod best_arguments;
mod changes;
mod day;
mod draw;
mod draw_arguments;
mod failure;
mod in_hand;
mod index;
mod index_arguments;
mod lesson;
mod map;
mod map_arguments;
mod names;
mod picture;
mod picture_arguments;
mod picture_file;
mod record;
mod record_arguments;
mod saving;
mod scenarios;
mod scenarios_arguments;
mod window_painter;

use crate::document::{Changed, Project, nearest_name};
use crate::engine::units::Units;
use crate::file;
use crate::problems::{Check, Severity};
use crate::report;
use crate::study::{Results, Study, change_since, checks};
use arguments::{Arguments, Task, TryArguments};
use clap::Parser;
use clap::error::ErrorKind;
use failure::Failure;
use std::ffi::OsString;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
pub use window_painter::{WindowPainter, WindowPose};

/// What is left to do after the arguments were read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// Open the window, with a file if one was named.
    Window(Option<PathBuf>),
    /// Nothing: end with this exit code.
    Done(u8),
}

/// Reads arguments (the first is the program's name), prints to standard output and error. Without a painter there are no pictures
/// of the window.
pub fn run(arguments: impl IntoIterator<Item = OsString>, painter: Option<WindowPainter>) -> Action {
    run_to(arguments, painter, &mut io::stdout().lock(), &mut io::stderr().lock())
}

/// Says why the program ends, on standard error, and turns the code into what `main` returns.
pub fn complain(message: &str, code: u8) -> ExitCode {
    // Where even standard error is closed, the code alone must do.
    let _ = writeln!(io::stderr(), "headwise: {message}");
    ExitCode::from(code)
}

/// Reads arguments (the first is the program's name), prints results to `out` and what went wrong to `err`.
pub fn run_to(
    arguments: impl IntoIterator<Item = OsString>,
    painter: Option<WindowPainter>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Action {
    let done = match Arguments::try_parse_from(arguments) {
        Ok(Arguments { task: Some(task), .. }) => carry_out(&task, painter, out, err),
        Ok(Arguments { file, .. }) => match file.as_deref().map_or(Ok(()), can_be_opened) {
            Ok(()) => return Action::Window(file),
            Err(failure) => Err(failure),
        },
        Err(error) if matches!(error.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion) => {
            print(out, &error.render().to_string()).map(|()| 0)
        }
        Err(error) => Err(Failure::Usage(error.render().to_string())),
    };
    Action::Done(done.unwrap_or_else(|failure| {
        if let Some(text) = failure.text() {
            let _ = err.write_all(text.as_bytes());
        }
        failure.code()
    }))
}

fn carry_out(
    task: &Task,
    painter: Option<WindowPainter>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<u8, Failure> {
    match task {
        Task::Solve { file, units } => {
            let project = file::load(file)?;
            answer(&project, &Study::new(&project)?, &units.chosen(), false, out)
        }
        Task::Export { file } => {
            let project = file::load(file)?;
            answer(&project, &Study::new(&project)?, &Units::si(), true, out)
        }
        Task::Best(arguments) => best::best_setting(arguments, out, err),
        Task::Index(arguments) => index::index(arguments, out),
        Task::Lesson { file, units } => lesson::lesson(file.as_deref(), &units.chosen(), out, err),
        Task::Map(arguments) => map::map(arguments, out),
        Task::Picture(arguments) => picture::picture(arguments, painter, out),
        Task::Record(arguments) => record::record(arguments, out),
        Task::Scenarios(arguments) => scenarios::scenarios(arguments, out),
        Task::Try(arguments) => try_out(arguments, out, err),
        Task::Draw(arguments) => draw::draw(arguments, out),
        Task::Check { file, units } => check(&file::load(file)?, &units.chosen(), out),
    }
}

/// Prints the report; the code tells whether its figures stand.
fn answer(project: &Project, study: &Study, units: &Units, json: bool, out: &mut dyn Write) -> Result<u8, Failure> {
    let write = if json { report::data } else { report::table };
    print(out, &write(project, study, units))?;
    Ok(code_of(study.results()))
}

fn code_of(results: &Results) -> u8 {
    if results.converged() { 0 } else { 3 }
}

/// Applies the overrides to the project in memory and prints what comes of them. What was saved where is said below the table;
/// beside JSON it goes to standard error.
fn try_out(arguments: &TryArguments, out: &mut dyn Write, err: &mut dyn Write) -> Result<u8, Failure> {
    saving::check(arguments)?;
    let mut project = file::load(&arguments.file)?;
    let units = arguments.units.chosen();
    let before = Study::new(&project)?;
    let mut changed = Changed::default();
    let mut options = Vec::new();
    for wanted in changes::wanted(&project, arguments, &units)? {
        let touched = project
            .apply(&wanted.command)
            .map_err(|flaw| Failure::Value { option: wanted.option.clone(), flaw: flaw.to_string() })?;
        changed = changed.and(touched);
        options.push(wanted.option);
    }
    let after = Study::new(&project)?;
    let saved = match &arguments.save {
        Some(path) => saving::save(&project, path, &options, after.results().converged())?,
        None => String::new(),
    };
    let code = answer(&project, &after, &units, arguments.json, out)?;
    if changed.any() && !arguments.json {
        let pump = changes::pump(&project, arguments).ok().or(project.pumps().next().map(|(id, _)| id));
        let moved = pump.map(|id| change_since(&project, before.results(), after.results(), id, &units));
        let moved = moved.filter(|text| !text.is_empty()).unwrap_or_else(|| "nothing moved".to_owned());
        print(out, &format!("Against the file: {moved}\n"))?;
    }
    print(if arguments.json { err } else { out }, &saved)?;
    Ok(code)
}

/// Lists all checks of a project as it stands in its file.
fn check(project: &Project, units: &Units, out: &mut dyn Write) -> Result<u8, Failure> {
    let found = checks(project, &Study::new(project)?, units);
    let text = if found.is_empty() {
        format!("{}: nothing to look at.\n", project.title)
    } else {
        format!("{}: {}\n{}", project.title, counted(&found), report::check_lines(&found))
    };
    print(out, &text)?;
    Ok(u8::from(found.iter().any(|check| check.severity == Severity::Error)))
}

/// "1 error, 2 warnings".
fn counted(checks: &[Check]) -> String {
    let of = |severity: Severity| match checks.iter().filter(|check| check.severity == severity).count() {
        0 => None,
        1 => Some(format!("1 {}", severity.word())),
        count => Some(format!("{count} {}s", severity.word())),
    };
    [Severity::Error, Severity::Warning, Severity::Note].into_iter().filter_map(of).collect::<Vec<_>>().join(", ")
}

/// Whether a file that the window is to open is there; the word may have been meant as a command.
fn can_be_opened(path: &Path) -> Result<(), Failure> {
    if path.is_file() {
        return Ok(());
    }
    let word = path.to_string_lossy();
    let commands = arguments::commands();
    let command = nearest_name(&word, commands.iter().map(String::as_str));
    Err(Failure::NoFile { path: path.to_owned(), is_folder: path.is_dir(), command: command.map(str::to_owned) })
}

fn print(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(Failure::Output)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::network::Verdict;

    #[test]
    fn figures_that_did_not_converge_end_with_their_own_code() {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron");
        let project = file::load(&path).unwrap();
        let mut results = Study::new(&project).unwrap().results().clone();
        for (verdict, code) in [(Verdict::Converged, 0), (Verdict::NoPump, 0), (Verdict::NotConverged, 3)] {
            results.verdict = verdict;
            assert_eq!(code_of(&results), code);
        }
    }
}

//! The program: the command line or the window; nothing else.

use headwise::cli::{self, Action};
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::run(std::env::args_os(), painter()) {
        Action::Done(code) => ExitCode::from(code),
        Action::Window(file) => window(file),
    }
}

#[cfg(feature = "gui")]
fn window(file: Option<PathBuf>) -> ExitCode {
    match headwise::app::run(file) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => cli::complain(&message, 1),
    }
}

#[cfg(not(feature = "gui"))]
fn window(_: Option<PathBuf>) -> ExitCode {
    cli::complain("this build has no window: use one of the commands, see headwise --help", 2)
}

/// What paints the window for a picture of it.
#[cfg(feature = "gui")]
fn painter() -> Option<cli::WindowPainter> {
    use headwise::app;
    Some(|pose| {
        let foot = app::foot(&pose.project.title, &pose.title, &pose.units, &pose.date);
        let (size, width, dark, units) = (pose.size, pose.width, pose.dark, pose.units);
        app::window_svg(pose.project, &pose.path, &app::WindowLook { size, width, dark, units, foot })
    })
}

#[cfg(not(feature = "gui"))]
fn painter() -> Option<cli::WindowPainter> {
    None
}

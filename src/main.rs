//! The program: the command line or the window; nothing else.

use headwise::cli::{self, Action};
use std::path::PathBuf;
use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::run(std::env::args_os()) {
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

//! Headwise: draw a closed heating or cooling system, lay a variable-speed pump over it, drag three settings (head
//! limit, slope, speed cap) and see at once the operating point and what every zone gets.
//!
//! The map of the rooms and what each may import; `tests/tidy.rs` keeps it true.
//!
//! | room | what it holds | may import |
//! |---|---|---|
//! | [`engine`] | numbers only: units, fluids, link laws, pump, network solver | nothing of ours |
//! | [`document`] | what the user draws and sets; commands; history | engine's value types |
//! | [`file`] | the RON project file: versions, load, save; tables out of a spreadsheet | document, engine |
//! | [`problems`] | one rule about a drawing per file | document, engine |
//! | [`study`] | lowers a document to a network; operating point, curves, zones | document, problems, engine |
//! | [`report`] | tables and machine-readable results | study, problems, document, engine |
//! | [`lesson`] | lessons: files with steps, goals and puzzles; a lesson at work | file, study, problems, document, engine |
//! | [`cli`] | arguments, run, print | all above |
//! | `app` | the window (feature `gui`) | all above but `cli` |
//!
//! The data's way is one way: RON text → [`file`] → [`document`] → [`study`] lowers it to a network → solve → results →
//! panes or printed tables. Back comes one thing: a list of [`document::Command`]s.

// Here and not in Cargo.toml, because tests may: nothing reachable from a file or a gesture panics.
#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

#[cfg(feature = "gui")]
pub mod app;
pub mod cli;
pub mod document;
pub mod engine;
pub mod file;
pub mod lesson;
pub mod problems;
pub mod report;
pub mod study;

//! Lessons: a project and steps through it, written in a file that a trainer can change without code.
//!
//! Its part in the data's way: a lesson's text becomes a [`Lesson`], whose changes are [`crate::document::Command`]s; a [`Course`]
//! is one at work. It says what to carry out and what came of it; the window carries it out and paints.
//!
//! - `script`: the text as it is written; `load`, `steps`, `changes`, `goals`: from there to `content`, with every name found and
//!   every change tried; `names`, `error`: what is told where that fails;
//! - `template`, `value`: texts that are filled in from the present study, so that no file holds a computed number;
//! - `goal`, `years`: what must be reached, and what is still missing; `truth`: what was foretold beside what is so;
//! - `fault`, `vary`, `chance`: puzzles out of a seed; `restore`: the way back to where a step begins;
//! - `course`: a lesson at work; `rehearse`: a lesson tried out from beginning to end; `shipped`: the lessons that come with the program.

mod chance;
mod changes;
mod content;
mod course;
mod error;
mod fault;
mod goal;
mod goals;
mod load;
mod names;
mod rehearse;
mod restore;
mod script;
mod shipped;
mod steps;
mod template;
mod truth;
mod value;
mod vary;
mod years;

pub use content::{Choice, Errand, Lesson, Look, Prediction, Step, Task};
pub use course::{Course, Feedback, Progress, Score};
pub use error::{CourseError, LessonError};
pub use fault::{Fault, FaultPuzzle, Readings, Test};
pub use goal::{Aim, Band, Goal, PumpSetting};
pub use load::NEWEST_FORMAT;
pub use rehearse::Rehearsed;
pub use restore::{commands_between, is_same_drawing};
pub use shipped::{Shipped, shipped};
pub use template::{Sight, Template};
pub use truth::{Answer, Answered};
pub use vary::{SettingPuzzle, Vary};

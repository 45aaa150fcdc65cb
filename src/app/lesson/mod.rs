//! Lessons in the window: the list to choose from, the panel that tells the present step, and what a step wants of the other
//! panes. What a lesson is and how it is judged stands in [`crate::lesson`].

mod at_work;
mod begun;
mod list;
mod panel;
pub(super) mod ring;
mod shown;
mod task;
mod told;

pub(super) use at_work::LessonAtWork;
pub use begun::Source;
pub(super) use begun::read_lesson;
pub(super) use list::LessonList;
pub(super) use panel::{height, panel};
pub use shown::Shown;

/// What is to be done with a lesson.
#[derive(Clone, Debug, PartialEq)]
pub enum LessonIntent {
    /// Show the lessons to choose from.
    List,
    /// Ask for a lesson file.
    AskOpen,
    /// Begin a lesson.
    Begin(Source),
    /// Leave the lesson; the own project comes back.
    Leave,
    /// Go on to the next step.
    Next,
    /// Go back to the step before.
    Back,
    /// Begin the present step again.
    Again,
    /// Let chance put the present step anew.
    Another,
    /// Show one way to do what the step asks, and go on.
    Show,
    /// Move the guessed operating point, m³/s and m.
    MoveGuess([f64; 2]),
    /// Move the guessed share.
    MoveShare(f64),
    /// Take the guess as it stands.
    TakeGuess,
    /// Choose an answer by its place.
    Choose(usize),
}

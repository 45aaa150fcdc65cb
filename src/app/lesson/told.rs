//! What the panel of a lesson tells in the present step: texts filled in, answers with their marks, how the goals stand.

use crate::lesson::{Aim, Feedback};

/// What the panel tells.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in super::super) struct Told {
    /// Number of the step, from 1, and how many there are.
    pub(super) place: [usize; 2],
    /// What the course has come to so far, in words; empty before anything was answered.
    pub(super) score: String,
    /// A few words.
    pub(super) title: String,
    /// What is so, and what to do.
    pub(super) text: String,
    /// What is asked; empty where nothing is.
    pub(super) question: String,
    /// What the learner is to do.
    pub(super) task: TaskTold,
    /// Whether it can still be answered.
    pub(super) is_open: bool,
    /// How it came out.
    pub(super) feedback: Option<Feedback>,
    /// Whether the next step may begin.
    pub(super) can_go_on: bool,
    /// Whether this is the last step.
    pub(super) is_last: bool,
    /// Whether chance can put the step anew.
    pub(super) has_another: bool,
}

/// What the learner is to do, and how that stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) enum TaskTold {
    /// Read and look.
    #[default]
    Read,
    /// Reach goals: each of them, and where to begin, for one who does not get on.
    Goals(Vec<Aim>, String),
    /// Choose among answers; above them, where a fault is sought, what the device reads.
    Question(Option<ReadingsTold>, Vec<AnswerTold>),
    /// Place the operating point on the plot.
    Point,
    /// Say what share of its design flow the zone of this name will get.
    Share(String),
}

/// An answer that can be chosen.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct AnswerTold {
    /// What it says.
    pub(super) text: String,
    /// What is to be said of it, once it is answered.
    pub(super) mark: Option<Mark>,
}

/// What is said of an answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    /// Chosen, and right.
    Right,
    /// Chosen, and wrong.
    Wrong,
    /// Not chosen, though right.
    Missed,
}

/// What the device reads beside what the drawing gives: flow, head, power, speed; or why it reads nothing.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ReadingsTold {
    /// By the device.
    pub(super) device: Result<[String; 4], String>,
    /// By the drawing.
    pub(super) model: [String; 4],
}

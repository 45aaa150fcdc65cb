//! What a lesson wants of the panes: parts to be pointed out, a guess on the plot, a device's readings beside the model's point.

use crate::lesson::Look;

/// What a lesson wants shown in the present pass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shown {
    /// What the step points out.
    pub looks: Vec<Look>,
    /// The operating point that is being guessed, or was.
    pub guess: Option<Guess>,
    /// What the device itself reads.
    pub reading: Option<Reading>,
    /// A prediction is asked for: until it is given nothing may be changed.
    pub is_held: bool,
    /// What governs now is asked for: until the answer is given no pane says it.
    pub hides_governing: bool,
    /// The lesson speaks of scenarios, so that their strip stays.
    pub keeps_strip: bool,
}

/// A guessed operating point, m³/s and m.
#[derive(Clone, Debug, PartialEq)]
pub struct Guess {
    /// Where it stands.
    pub at: [f64; 2],
    /// Where the operating point came to be, and how far off the guess was, in words; `None` while it is being placed.
    pub truth: Option<([f64; 2], String)>,
}

/// What a device reads of itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Flow, m³/s.
    pub flow: f64,
    /// Head, m.
    pub head: f64,
    /// Electric power, W.
    pub power: f64,
}

impl Shown {
    /// Whether a point is being placed on the plot.
    #[must_use]
    pub fn is_placing(&self) -> bool {
        self.guess.as_ref().is_some_and(|guess| guess.truth.is_none())
    }
}

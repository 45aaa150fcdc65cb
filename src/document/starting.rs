//! Starting up: the checklist fill – vent – release, in which nothing is released to run before it is filled and vented.

use std::collections::BTreeMap;

/// A step of the checklist, in the order in which they are done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StartingStep {
    /// The circulators are isolated from their supply or held in standby, so that none starts dry.
    HeldOff,
    /// The pipes have held their test pressure.
    PressureTested,
    /// What was left in the pipes is washed out.
    Flushed,
    /// The system is filled to its fill pressure.
    Filled,
    /// The air is let out.
    Vented,
    /// The circulators may run.
    Released,
}

/// That a step is done: when and by whom, each empty if nobody wrote it down.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tick {
    /// The day, as ISO 8601 writes it.
    pub date: String,
    /// Who did it.
    pub by: String,
}

/// How far the checklist is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Starting {
    /// Steps that are done.
    pub ticks: BTreeMap<StartingStep, Tick>,
    /// Pressure read when it was filled, Pa above the air around; only where that is ticked.
    pub fill_pressure: Option<f64>,
}

impl StartingStep {
    /// All of them, in their order.
    pub const ALL: [Self; 6] =
        [Self::HeldOff, Self::PressureTested, Self::Flushed, Self::Filled, Self::Vented, Self::Released];

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::HeldOff => "Isolated or held in standby",
            Self::PressureTested => "Pressure tested",
            Self::Flushed => "Flushed",
            Self::Filled => "Filled",
            Self::Vented => "Vented",
            Self::Released => "Released to run",
        }
    }

    /// The same within a sentence.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::HeldOff => "isolated or held in standby",
            Self::PressureTested => "pressure tested",
            Self::Flushed => "flushed",
            Self::Filled => "filled",
            Self::Vented => "vented",
            Self::Released => "released to run",
        }
    }

    /// What must be done before it: there is nothing to vent before water is in, and a circulator that runs dry or in air ruins
    /// its bearings. Nothing else is demanded, for a system that was opened for repair is neither tested nor flushed again, and a
    /// demand that does not fit is ticked without being done; what is left out is told beside the list.
    #[must_use]
    pub fn needs(self) -> &'static [Self] {
        match self {
            Self::HeldOff | Self::PressureTested | Self::Flushed | Self::Filled => &[],
            Self::Vented => &[Self::Filled],
            Self::Released => &[Self::Filled, Self::Vented],
        }
    }
}

impl Starting {
    /// Whether a step is done.
    #[must_use]
    pub fn is_done(&self, step: StartingStep) -> bool {
        self.ticks.contains_key(&step)
    }

    /// Whether the circulators may run.
    #[must_use]
    pub fn is_released(&self) -> bool {
        self.is_done(StartingStep::Released)
    }

    /// What a step still waits for.
    #[must_use]
    pub fn waits_for(&self, step: StartingStep) -> Vec<StartingStep> {
        step.needs().iter().copied().filter(|needed| !self.is_done(*needed)).collect()
    }

    /// Steps that are done and fall when a step is taken back.
    #[must_use]
    pub fn falls_with(&self, step: StartingStep) -> Vec<StartingStep> {
        self.ticks.keys().copied().filter(|done| done.needs().contains(&step)).collect()
    }

    /// The circulators run before these are done, though they should not wait much longer: what release does not demand.
    #[must_use]
    pub fn left_out(&self) -> Vec<StartingStep> {
        [StartingStep::PressureTested, StartingStep::Flushed].into_iter().filter(|step| !self.is_done(*step)).collect()
    }

    /// Takes a step back, and with it what needs it; the fill pressure goes with the filling.
    pub(super) fn take_back(&mut self, step: StartingStep) {
        for falling in self.falls_with(step) {
            self.ticks.remove(&falling);
        }
        self.ticks.remove(&step);
        if step == StartingStep::Filled {
            self.fill_pressure = None;
        }
    }
}

/// Steps in a sentence: "filled", "filled and vented", "flushed, filled and vented".
#[must_use]
pub fn steps_in_words(steps: &[StartingStep]) -> String {
    match steps {
        [] => String::new(),
        [only] => only.word().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(|step| step.word()).collect();
            format!("{} and {}", first.join(", "), last.word())
        }
    }
}

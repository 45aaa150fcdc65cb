//! A lesson at work: which step it is at, what was answered, what is still missing. Whoever shows it carries out the commands that
//! it gives and paints; the course itself changes nothing.
//!
//! ```text
//! Course::new → begin_step → (check | answer | place | readings)* → go_on or back → begin_step → …
//! ```

mod answering;
mod telling;

use super::content::{Lesson, Step, Task};
use super::fault::Test;
use super::goal::Aim;
use super::restore::{commands_between, is_same_drawing};
use super::truth::{Answered, changed};
use super::years::Years;
use crate::document::{Command, Project};
use crate::study::Study;

/// A lesson at work.
#[derive(Clone, Debug)]
pub struct Course {
    lesson: Lesson,
    at: usize,
    stands: Vec<StepStand>,
    /// Whether the step begins from what is defined for it, not from what the learner has left.
    from_start: bool,
    /// The system before the last change that the course made, with its study where there is one.
    before: Option<Box<(Project, Study)>>,
    /// The project when the step began.
    began: Option<Box<Project>>,
    /// The same with its study, where there is one: what the step's own text and question speak of.
    asked_of: Option<Box<(Project, Study)>>,
    years: Years,
}

/// How a step stands.
#[derive(Clone, Debug, Default)]
struct StepStand {
    answered: Option<Answered>,
    /// What the first answer scored; goals count in full when they are reached.
    first_score: Option<f64>,
    reached: bool,
    /// Whether the goals that were reached still hold.
    holds: bool,
    is_shown: bool,
    placed: Option<[f64; 2]>,
    seed: Option<u64>,
    /// The system with which it was done, for goals the last one with which they held: what is told of it stays, whatever is
    /// tried afterwards.
    settled: Option<Box<(Project, Study)>>,
    tests: Vec<Test>,
    /// Why the setting puzzle could not be made.
    unmade: Option<String>,
}

/// How the goals of a step stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Goal by goal.
    pub aims: Vec<Aim>,
    /// Whether all are reached at once.
    pub reached: bool,
}

/// What is told after an answer, or when goals are reached.
#[derive(Clone, Debug, PartialEq)]
pub struct Feedback {
    /// Whether it is right.
    pub right: bool,
    /// How far the answer lies from the truth, in a sentence.
    pub words: String,
    /// Why it came out so; may be empty.
    pub because: String,
}

/// What a course has come to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Score {
    /// Steps that ask something.
    pub asked: usize,
    /// Those that were done.
    pub done: usize,
    /// Sum of the points of what was done, up to 100 each; the first answer counts.
    pub points: f64,
}

impl Course {
    /// A lesson at its first step.
    #[must_use]
    pub fn new(lesson: Lesson) -> Self {
        let stands = vec![StepStand::default(); lesson.steps.len()];
        Self {
            lesson,
            at: 0,
            stands,
            from_start: true,
            before: None,
            began: None,
            asked_of: None,
            years: Years::default(),
        }
    }

    /// The lesson.
    #[must_use]
    pub fn lesson(&self) -> &Lesson {
        &self.lesson
    }

    /// The number of the present step, from 0.
    #[must_use]
    pub fn at(&self) -> usize {
        self.at
    }

    /// How many steps there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.lesson.steps.len()
    }

    /// The present step.
    #[must_use]
    pub fn step(&self) -> &Step {
        // The number is kept within the list, which is never empty.
        &self.lesson.steps[self.at]
    }

    fn stand(&self) -> &StepStand {
        &self.stands[self.at]
    }

    fn stand_mut(&mut self) -> &mut StepStand {
        &mut self.stands[self.at]
    }

    /// The commands with which the present step begins. After [`Course::go_on`] they go on from what the learner has left; after
    /// [`Course::back`] and [`Course::again`] they lead to where the step begins for one who changes nothing by himself. Where
    /// the drawing has become another ([`Course::is_torn`]), [`Course::start`] is to be opened instead.
    pub fn begin_step(&mut self, now: &Project) -> Vec<Command> {
        let is_from_start = self.from_start || self.step().afresh;
        let set = &self.step().set;
        let plain = match is_from_start {
            true => self.plain_start(),
            false => changed(now, set).unwrap_or_else(|_| now.clone()),
        };
        let (varied, unmade) = match self.varied(&plain) {
            Ok(varied) => (varied, None),
            Err(flaw) => (Vec::new(), Some(flaw)),
        };
        let commands = match is_from_start {
            true => commands_between(now, &changed(&plain, &varied).unwrap_or(plain)),
            false => set.iter().chain(&varied).cloned().collect(),
        };
        self.stand_mut().unmade = unmade;
        self.from_start = false;
        if let Ok(project) = changed(now, &commands) {
            self.before = Study::new(&project).ok().map(|study| Box::new((project.clone(), study)));
            self.asked_of.clone_from(&self.before);
            self.began = Some(Box::new(project));
        }
        commands
    }

    /// The project as the present step begins for one who changes nothing by himself.
    #[must_use]
    pub fn start(&self) -> Project {
        let mut project = self.plain_start();
        for command in self.varied(&project).unwrap_or_default() {
            let _ = project.apply(&command);
        }
        project
    }

    /// The same before a setting puzzle changes anything.
    fn plain_start(&self) -> Project {
        let mut project = self.lesson.project.clone();
        for step in &self.lesson.steps[..=self.at] {
            if step.afresh {
                project.clone_from(&self.lesson.project);
            }
            for command in &step.set {
                // Loading has tried them in this order.
                let _ = project.apply(command);
            }
        }
        project
    }

    /// What a setting puzzle changes in a system.
    fn varied(&self, project: &Project) -> Result<Vec<Command>, String> {
        match &self.step().task {
            Task::FindSetting(puzzle) => puzzle.begin(self.seed().unwrap_or(puzzle.seed), project, self.step().pump),
            _ => Ok(Vec::new()),
        }
    }

    /// Why the present setting puzzle could not be made when its step began.
    #[must_use]
    pub fn unmade(&self) -> Option<&str> {
        self.stand().unmade.as_deref()
    }

    /// While it is so, goals that need a changed system probed in all scenarios wait: the hand is still changing it.
    pub fn hold(&mut self, is_held: bool) {
        self.years.waits = is_held;
    }

    /// Whether a goal has waited since the last [`Course::check`], which is to be asked again.
    #[must_use]
    pub fn is_owing(&self) -> bool {
        self.years.is_owing
    }

    /// Whether the drawing has become another, so that commands do not lead back to the lesson's.
    #[must_use]
    pub fn is_torn(&self, now: &Project) -> bool {
        let wanted = &self.lesson.project;
        !is_same_drawing(now, wanted) || changed(now, &commands_between(now, wanted)).is_err()
    }

    /// Puts the learner's mark on the plot, flow in m³/s and head in m, or moves it; it counts only when it is answered with.
    pub fn place(&mut self, point: [f64; 2]) {
        if self.stand().answered.is_none() {
            self.stand_mut().placed = Some(point);
        }
    }

    /// The learner's mark on the plot.
    #[must_use]
    pub fn placed(&self) -> Option<[f64; 2]> {
        self.stand().placed
    }

    /// The answer that was given, beside the truth.
    #[must_use]
    pub fn answered(&self) -> Option<&Answered> {
        self.stand().answered.as_ref()
    }

    /// The seed of the present puzzle; `None` where the step is none.
    #[must_use]
    pub fn seed(&self) -> Option<u64> {
        let own = match &self.step().task {
            Task::FindFault(puzzle) => puzzle.seed,
            Task::FindSetting(puzzle) => puzzle.seed,
            _ => return None,
        };
        Some(self.stand().seed.unwrap_or(own))
    }

    /// Another puzzle of the same kind; the step is to be begun anew.
    pub fn another(&mut self) {
        let Some(seed) = self.seed() else { return };
        let next = match &self.step().task {
            Task::FindFault(puzzle) => puzzle.another(seed),
            _ => seed.wrapping_add(1),
        };
        *self.stand_mut() = StepStand { seed: Some(next), ..StepStand::default() };
        self.from_start = true;
    }

    /// Whether the step is done, or was shown, so that the next may follow.
    #[must_use]
    pub fn can_go_on(&self) -> bool {
        let stand = self.stand();
        stand.reached || stand.is_shown || matches!(self.step().task, Task::Read)
    }

    /// Whether this is the last step.
    #[must_use]
    pub fn is_last(&self) -> bool {
        self.at + 1 == self.count()
    }

    /// Goes to the next step; `false` where there is none or this one is not done. Then [`Course::begin_step`].
    #[must_use]
    pub fn go_on(&mut self) -> bool {
        let goes = self.can_go_on() && !self.is_last();
        if goes {
            self.at += 1;
        }
        goes
    }

    /// Goes to any step, as one does who looks a lesson through. Then [`Course::begin_step`].
    pub fn go_to(&mut self, step: usize) {
        self.at = step.min(self.count().saturating_sub(1));
        self.from_start = true;
    }

    /// Goes one step back; `false` at the first. Then [`Course::begin_step`].
    #[must_use]
    pub fn back(&mut self) -> bool {
        let goes = self.at > 0;
        if goes {
            self.at -= 1;
            self.from_start = true;
        }
        goes
    }

    /// Forgets what was done in this step, so that it can be begun anew; its first answer goes on counting.
    pub fn again(&mut self) {
        let stand = self.stand();
        let kept = StepStand { seed: stand.seed, first_score: stand.first_score, ..StepStand::default() };
        *self.stand_mut() = kept;
        self.from_start = true;
    }

    /// What the course has come to.
    #[must_use]
    pub fn score(&self) -> Score {
        let mut score = Score::default();
        for (step, stand) in self.lesson.steps.iter().zip(&self.stands) {
            if !matches!(step.task, Task::Read) {
                score.asked += 1;
                score.done += usize::from(stand.reached || stand.is_shown);
                score.points += stand.first_score.unwrap_or(0.0);
            }
        }
        score
    }
}

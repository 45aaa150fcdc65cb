//! A lesson at work: which step it is at, what was answered, what is still missing. Whoever shows it carries out the commands that
//! it gives and paints; the course itself changes nothing.
//!
//! ```text
//! Course::new → begin_step → (check | answer | place | readings)* → next or back → begin_step → …
//! ```

use super::error::CourseError;
use super::fault::{FaultPuzzle, Readings, Test};
use super::goal::{Aim, Goal, Stand};
use super::lesson::{Lesson, Prediction, Step, Task};
use super::restore::{commands_between, is_same_drawing};
use super::template::{Sight, Template};
use super::truth::{Answer, Answered, changed, judge};
use super::years::Years;
use crate::document::{Command, Project};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::Units;
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
    years: Years,
}

/// How a step stands.
#[derive(Clone, Debug, Default)]
struct StepStand {
    answered: Option<Answered>,
    /// What the first answer scored; goals count in full when they are reached.
    first_score: Option<f64>,
    reached: bool,
    is_shown: bool,
    placed: Option<[f64; 2]>,
    seed: Option<u64>,
    tests: Vec<Test>,
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
        Self { lesson, at: 0, stands, from_start: true, before: None, began: None, years: Years::default() }
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

    /// The commands with which the present step begins. After [`Course::next`] they go on from what the learner has left; after
    /// [`Course::back`] and [`Course::again`] they lead to where the step begins for one who changes nothing by himself. Where
    /// the drawing has become another ([`Course::is_torn`]), [`Course::start`] is to be opened instead.
    pub fn begin_step(&mut self, now: &Project) -> Vec<Command> {
        let commands = match self.from_start || self.step().afresh {
            true => commands_between(now, &self.start()),
            false => {
                let mut commands = self.step().set.clone();
                commands.extend(self.varied(&changed(now, &commands).unwrap_or_else(|_| now.clone())));
                commands
            }
        };
        self.from_start = false;
        if let Ok(project) = changed(now, &commands) {
            self.before = Study::new(&project).ok().map(|study| Box::new((project.clone(), study)));
            self.began = Some(Box::new(project));
        }
        commands
    }

    /// The project as the present step begins for one who changes nothing by himself.
    #[must_use]
    pub fn start(&self) -> Project {
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
        for command in self.varied(&project) {
            let _ = project.apply(&command);
        }
        project
    }

    /// What a setting puzzle changes in a system.
    fn varied(&self, project: &Project) -> Vec<Command> {
        match &self.step().task {
            Task::FindSetting(puzzle) => {
                puzzle.begin(self.seed().unwrap_or(puzzle.seed), project, self.step().pump).unwrap_or_default()
            }
            _ => Vec::new(),
        }
    }

    /// Whether the drawing has become another, so that commands do not lead back to the lesson's.
    #[must_use]
    pub fn is_torn(&self, now: &Project) -> bool {
        !is_same_drawing(now, &self.lesson.project)
    }

    fn sight<'a>(&self, project: &'a Project, study: &'a Study) -> Sight<'a> {
        Sight { project, study, pump: self.step().pump }
    }

    fn fill(&self, template: &Template, project: &Project, study: &Study, units: &Units) -> String {
        let before = self.before.as_deref().map(|(project, study)| self.sight(project, study));
        template.fill(self.sight(project, study), before, units)
    }

    /// The step's text, filled from the present study.
    #[must_use]
    pub fn text(&self, project: &Project, study: &Study, units: &Units) -> String {
        self.fill(&self.step().text, project, study, units)
    }

    /// What the step asks; empty where it asks nothing.
    #[must_use]
    pub fn question(&self, project: &Project, study: &Study, units: &Units) -> String {
        let question = match &self.step().task {
            Task::Read | Task::Do(_) => return String::new(),
            Task::Choose { question, .. } => question,
            Task::WhichGoverns(prediction) | Task::PlacePoint(prediction) | Task::PredictZone(_, prediction) => {
                &prediction.question
            }
            Task::FindFault(puzzle) => &puzzle.question,
            Task::FindSetting(puzzle) => &puzzle.question,
        };
        self.fill(question, project, study, units)
    }

    /// What can be chosen, in the order of [`Answer::Choice`]: answers or suspects.
    #[must_use]
    pub fn choices(&self, project: &Project, study: &Study, units: &Units) -> Vec<String> {
        match &self.step().task {
            Task::Choose { answers, .. } => {
                answers.iter().map(|answer| self.fill(&answer.text, project, study, units)).collect()
            }
            Task::FindFault(puzzle) => puzzle.suspects.iter().map(|fault| fault.words(project)).collect(),
            _ => Vec::new(),
        }
    }

    /// The limits that can govern with the circulator of the step.
    #[must_use]
    pub fn limits(&self, project: &Project) -> Vec<GoverningLimit> {
        let settings = project.pump(self.step().pump).map(|unit| unit.regulation);
        let has_power = settings.is_some_and(|settings| settings.power_limit_w.is_some());
        let all = [
            (GoverningLimit::SetLine, true),
            (GoverningLimit::HeadLimit, true),
            (GoverningLimit::SpeedCap, true),
            (GoverningLimit::PowerLimit, has_power),
            (GoverningLimit::MinimumSpeed, true),
        ];
        all.into_iter().filter(|(_, offered)| *offered).map(|(limit, _)| limit).collect()
    }

    /// Where to begin, for one who does not get on; empty where nothing is given.
    #[must_use]
    pub fn hint(&self, project: &Project, study: &Study, units: &Units) -> String {
        match &self.step().task {
            Task::Do(errand) => self.fill(&errand.hint, project, study, units),
            _ => String::new(),
        }
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

    /// Takes an answer and gives the commands that are to follow. A choice may be answered again until it is right; what was
    /// foretold is answered once, for the truth has been shown.
    ///
    /// # Errors
    /// An answer that does not fit the step, or a system that has become another.
    pub fn answer(&mut self, given: Answer, now: &Project) -> Result<Vec<Command>, CourseError> {
        let step = self.step();
        let is_choice = matches!(step.task, Task::Choose { .. } | Task::FindFault(_));
        if let Some(answered) = self.answered()
            && (answered.right || !is_choice)
        {
            return Err(CourseError::Answered);
        }
        let mut tests = Vec::new();
        let (answered, after) = match (&step.task, given) {
            (Task::FindFault(puzzle), Answer::Choice(index)) if index < puzzle.suspects.len() => {
                let truth = Answer::Choice(puzzle.culprit(self.seed().unwrap_or(puzzle.seed)));
                let answered = Answered::exact(given, truth);
                if answered.right {
                    let seed = self.seed().unwrap_or(puzzle.seed);
                    tests = puzzle.tests(seed, now, step.pump).map_err(CourseError::Unsolved)?;
                }
                (answered, Vec::new())
            }
            (task, _) => (judge(step, given, now)?, task.prediction().map_or_else(Vec::new, |p| p.after.clone())),
        };
        let before = Study::new(now).ok().map(|study| Box::new((now.clone(), study)));
        if !after.is_empty() {
            self.before = before;
        }
        let stand = self.stand_mut();
        if let Answer::Point(point) = given {
            stand.placed = Some(point);
        }
        stand.first_score.get_or_insert(answered.score);
        stand.reached |= answered.right || !is_choice;
        stand.answered = Some(answered);
        stand.tests = tests;
        Ok(after)
    }

    /// How the goals stand. To be asked after a change, not in every frame: some goals solve all scenarios.
    pub fn check(&mut self, project: &Project, study: &Study, units: &Units) -> Progress {
        let goals: Vec<Goal> = match &self.step().task {
            Task::Do(errand) => errand.goals.clone(),
            Task::FindSetting(puzzle) => puzzle.goals().to_vec(),
            _ => return Progress::default(),
        };
        let now = Sight { project, study, pump: self.step().pump };
        let mut stand = Stand { now, began: self.began.as_deref(), years: &mut self.years, units };
        let aims: Vec<Aim> = goals.iter().map(|goal| goal.aim(&mut stand)).collect();
        let reached = aims.iter().all(|aim| aim.reached);
        if reached {
            let stand = self.stand_mut();
            let points = if stand.is_shown { 0.0 } else { 100.0 };
            stand.reached = true;
            stand.first_score.get_or_insert(points);
        }
        Progress { aims, reached }
    }

    /// Gives up: the commands that show one way, where there is one; the step may be left then.
    pub fn show(&mut self, now: &Project) -> Vec<Command> {
        let (task, pump) = (self.step().task.clone(), self.step().pump);
        self.stand_mut().is_shown = true;
        match task {
            Task::Do(errand) if !errand.solution.is_empty() => {
                let mut shown = self.start();
                for command in &errand.solution {
                    let _ = shown.apply(command);
                }
                commands_between(now, &shown)
            }
            Task::FindSetting(_) => {
                let best = self.years.best(now, pump);
                best.map(|best| Command::SetRegulation(pump, best.settings)).into_iter().collect()
            }
            Task::Choose { ref answers, .. } => {
                let right = answers.iter().position(|answer| answer.right).unwrap_or(0);
                self.answer(Answer::Choice(right), now).unwrap_or_default();
                self.stand_mut().first_score = Some(0.0);
                Vec::new()
            }
            Task::FindFault(puzzle) => {
                let culprit = puzzle.culprit(self.seed().unwrap_or(puzzle.seed));
                self.answer(Answer::Choice(culprit), now).unwrap_or_default();
                self.stand_mut().first_score = Some(0.0);
                Vec::new()
            }
            task => {
                let after = task.prediction().map_or_else(Vec::new, |prediction| prediction.after.clone());
                if !after.is_empty() {
                    self.before = Study::new(now).ok().map(|study| Box::new((now.clone(), study)));
                }
                after
            }
        }
    }

    /// What is told after an answer, or once the goals are reached; `None` before.
    #[must_use]
    pub fn feedback(&self, project: &Project, study: &Study, units: &Units) -> Option<Feedback> {
        let stand = self.stand();
        let fill = |template: &Template| self.fill(template, project, study, units);
        if let Some(answered) = &stand.answered {
            let because = match (&self.step().task, answered.given) {
                (Task::Choose { answers, .. }, Answer::Choice(index)) => {
                    answers.get(index).map_or_else(String::new, |answer| fill(&answer.because))
                }
                (Task::FindFault(puzzle), _) if answered.right => {
                    let evidence = FaultPuzzle::evidence(&stand.tests, units);
                    [evidence, fill(&puzzle.because)].join(" ").trim().to_owned()
                }
                (Task::FindFault(_), _) => "Test further: open each zone alone, and shut all.".to_owned(),
                (task, _) => task.prediction().map_or_else(String::new, |prediction| fill(&prediction.because)),
            };
            return Some(Feedback { right: answered.right, words: answered.words(units), because });
        }
        if let (Some(prediction), true) = (self.step().task.prediction(), stand.is_shown) {
            let because = fill(&prediction.because);
            return Some(Feedback { right: false, words: "Shown without an answer.".to_owned(), because });
        }
        if !stand.reached {
            return None;
        }
        let because = match &self.step().task {
            Task::Do(errand) => fill(&errand.because),
            Task::FindSetting(puzzle) => fill(&puzzle.because),
            _ => String::new(),
        };
        Some(Feedback { right: true, words: "Reached.".to_owned(), because })
    }

    /// What the device shows in the faulty system with settings and valves as they stand in the project; `None` where the step is
    /// no such puzzle.
    #[must_use]
    pub fn readings(&self, project: &Project) -> Option<Result<Readings, String>> {
        match &self.step().task {
            Task::FindFault(puzzle) => {
                Some(puzzle.readings(self.seed().unwrap_or(puzzle.seed), project, self.step().pump))
            }
            _ => None,
        }
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
    pub fn next(&mut self) -> bool {
        let goes = self.can_go_on() && !self.is_last();
        if goes {
            self.at += 1;
        }
        goes
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

impl Task {
    /// What is foretold, where something is.
    fn prediction(&self) -> Option<&Prediction> {
        match self {
            Self::WhichGoverns(prediction) | Self::PlacePoint(prediction) | Self::PredictZone(_, prediction) => {
                Some(prediction)
            }
            _ => None,
        }
    }
}

//! What a course is told: answers, what has become of the goals, and that somebody gives up.

use super::{Course, Progress};
use crate::document::{Command, Project};
use crate::engine::units::Units;
use crate::lesson::content::{Prediction, Task};
use crate::lesson::error::CourseError;
use crate::lesson::goal::{Aim, Goal, Stand};
use crate::lesson::restore::commands_between;
use crate::lesson::template::Sight;
use crate::lesson::truth::{Answer, Answered, changed, judge};
use crate::study::Study;

impl Course {
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
                let seed = self.seed().unwrap_or(puzzle.seed);
                let found = match answered.right {
                    true => puzzle.tests(seed, now, step.pump),
                    false => puzzle.against(index, seed, now, step.pump),
                };
                tests = found.map_err(CourseError::Unsolved)?;
                (answered, Vec::new())
            }
            (task, _) => (judge(step, given, now)?, task.prediction().map_or_else(Vec::new, |p| p.after.clone())),
        };
        self.before_change(now, &after);
        let settled = settled(now, &after)?;
        let stand = self.stand_mut();
        if let Answer::Point(point) = given {
            stand.placed = Some(point);
        }
        stand.first_score.get_or_insert(answered.score);
        stand.reached |= answered.right || !is_choice;
        stand.answered = Some(answered);
        stand.settled = settled;
        stand.tests = tests;
        Ok(after)
    }

    /// Keeps the system as it is before a change, for what is told of both.
    fn before_change(&mut self, now: &Project, after: &[Command]) {
        if !after.is_empty() {
            self.before = Study::new(now).ok().map(|study| Box::new((now.clone(), study)));
        }
    }

    /// How the goals stand. To be asked after a change, not in every frame: some goals solve all scenarios.
    pub fn check(&mut self, project: &Project, study: &Study, units: &Units) -> Progress {
        let goals: Vec<Goal> = match &self.step().task {
            Task::Do(errand) => errand.goals.clone(),
            Task::FindSetting(puzzle) => puzzle.goals().to_vec(),
            _ => return Progress::default(),
        };
        self.years.is_owing = false;
        let now = Sight { project, study, pump: self.step().pump };
        let mut stand = Stand { now, began: self.began.as_deref(), years: &mut self.years, units };
        let aims: Vec<Aim> = goals.iter().map(|goal| goal.aim(&mut stand)).collect();
        let reached = aims.iter().all(|aim| aim.reached);
        if reached {
            let stand = self.stand_mut();
            stand.reached = true;
            stand.first_score.get_or_insert(100.0);
            stand.holds = true;
            stand.settled = Some(Box::new((project.clone(), study.clone())));
        } else if !self.years.is_owing {
            self.stand_mut().holds = false;
        }
        Progress { aims, reached }
    }

    /// Gives up: the commands that show one way, where there is one; the step may be left then, and what is done in it afterwards
    /// scores nothing.
    pub fn show(&mut self, now: &Project) -> Vec<Command> {
        let (task, pump) = (self.step().task.clone(), self.step().pump);
        let stand = self.stand_mut();
        stand.is_shown = true;
        stand.first_score.get_or_insert(0.0);
        self.hold(false);
        match task {
            Task::Do(errand) if !errand.solution.is_empty() => {
                let mut shown = self.start();
                for command in &errand.solution {
                    let _ = shown.apply(command);
                }
                commands_between(now, &shown)
            }
            Task::FindSetting(_) => {
                let Some(best) = self.years.best(now, pump) else { return Vec::new() };
                let stands = now.pump(pump).is_some_and(|unit| !unit.running);
                let runs = stands.then_some(Command::SetRunning(pump, true));
                runs.into_iter().chain([Command::SetRegulation(pump, best.settings)]).collect()
            }
            Task::Choose { ref answers, .. } => {
                let right = answers.iter().position(|answer| answer.right).unwrap_or(0);
                self.answer(Answer::Choice(right), now).unwrap_or_default()
            }
            Task::FindFault(puzzle) => {
                let culprit = puzzle.culprit(self.seed().unwrap_or(puzzle.seed));
                self.answer(Answer::Choice(culprit), now).unwrap_or_default()
            }
            task => {
                let after = task.prediction().map_or_else(Vec::new, |prediction| prediction.after.clone());
                self.before_change(now, &after);
                // What is told of it stays, whatever is tried afterwards, as after an answer.
                if task.prediction().is_some() {
                    self.stand_mut().settled = settled(now, &after).ok().flatten();
                }
                after
            }
        }
    }
}

/// The system that follows on changes, with its study where there is one.
fn settled(now: &Project, after: &[Command]) -> Result<Option<Box<(Project, Study)>>, CourseError> {
    let settled = changed(now, after)?;
    Ok(Study::new(&settled).ok().map(|study| Box::new((settled, study))))
}

impl Task {
    /// What is foretold, where something is.
    pub(super) fn prediction(&self) -> Option<&Prediction> {
        match self {
            Self::WhichGoverns(prediction) | Self::PlacePoint(prediction) | Self::PredictZone(_, prediction) => {
                Some(prediction)
            }
            _ => None,
        }
    }
}

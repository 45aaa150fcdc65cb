//! What a course tells: its texts filled from the present study, and what is said after an answer.

use super::{Course, Feedback};
use crate::document::Project;
use crate::engine::pump::GoverningLimit;
use crate::engine::units::Units;
use crate::lesson::content::Task;
use crate::lesson::fault::{FaultPuzzle, Readings};
use crate::lesson::template::{Sight, Template};
use crate::lesson::truth::Answer;
use crate::study::Study;

/// A flaw within a sentence as a sentence of its own.
fn told(flaw: &str) -> String {
    let mut letters = flaw.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).chain(['.']).collect())
}

impl Course {
    fn sight<'a>(&self, project: &'a Project, study: &'a Study) -> Sight<'a> {
        Sight { project, study, pump: self.step().pump }
    }

    fn fill(&self, template: &Template, project: &Project, study: &Study, units: &Units) -> String {
        let before = self.before.as_deref().map(|(project, study)| self.sight(project, study));
        template.fill(self.sight(project, study), before, units)
    }

    /// The system that text and question speak of: that with which the step began, for doing what they ask must not make them
    /// false; the present one only where no step has begun.
    fn spoken_of<'a>(&'a self, project: &'a Project, study: &'a Study) -> (&'a Project, &'a Study) {
        self.asked_of.as_deref().map_or((project, study), |(project, study)| (project, study))
    }

    /// The step's text, filled from the study with which the step began.
    #[must_use]
    pub fn text(&self, project: &Project, study: &Study, units: &Units) -> String {
        let (project, study) = self.spoken_of(project, study);
        self.fill(&self.step().text, project, study, units)
    }

    /// What the step asks, filled likewise; empty where it asks nothing.
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
        let (project, study) = self.spoken_of(project, study);
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

    /// The limits that are offered as answers: those of the step, or all that can govern with its circulator.
    #[must_use]
    pub fn limits(&self, project: &Project) -> Vec<GoverningLimit> {
        if let Task::WhichGoverns(prediction) = &self.step().task
            && !prediction.offered.is_empty()
        {
            return prediction.offered.clone();
        }
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

    /// What is told after an answer, or once the goals are reached; `None` before.
    #[must_use]
    pub fn feedback(&self, project: &Project, study: &Study, units: &Units) -> Option<Feedback> {
        let stand = self.stand();
        let (project, study) = stand.settled.as_deref().map_or((project, study), |(project, study)| (project, study));
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
                (Task::FindFault(_), _) => FaultPuzzle::rebuttal(&stand.tests, units),
                (task, _) => task.prediction().map_or_else(String::new, |prediction| fill(&prediction.because)),
            };
            return Some(Feedback { right: answered.right, words: answered.words(units), because });
        }
        if let (Some(prediction), true) = (self.step().task.prediction(), stand.is_shown) {
            let because = fill(&prediction.because);
            return Some(Feedback { right: false, words: "Shown without an answer.".to_owned(), because });
        }
        if let Some(flaw) = &stand.unmade {
            return Some(Feedback {
                right: false,
                words: "This puzzle could not be made.".to_owned(),
                because: told(flaw),
            });
        }
        if !stand.reached {
            return None;
        }
        let because = match &self.step().task {
            Task::Do(errand) => fill(&errand.because),
            Task::FindSetting(puzzle) => fill(&puzzle.because),
            _ => String::new(),
        };
        let words = if stand.holds { "Reached." } else { "Reached before; not now." };
        Some(Feedback { right: stand.holds, words: words.to_owned(), because })
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
}

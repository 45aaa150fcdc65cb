//! Steps out of their written form: names found, changes tried out in order, so that what cannot be set is told of on loading.

use super::content::{Choice, Errand, Look, Prediction, Step, Task};
use super::names::Names;
use super::script::{ChoiceForm, LookForm, SetForm, StepForm, TaskForm, VaryForm};
use super::template::Template;
use super::vary::{SettingPuzzle, Vary};
use super::{changes, goals};
use crate::document::{Command, ComponentId, Project};
use crate::engine::units::Unit;

/// What is wrong with a step, and pieces of its text that, one behind the other, lead to the line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Flaw {
    pub pieces: Vec<String>,
    pub what: String,
}

impl Flaw {
    /// A flaw on the line where a name is quoted.
    pub fn at(name: &str, what: impl Into<String>) -> Self {
        Self { pieces: vec![format!("\"{name}\"")], what: what.into() }
    }

    /// A flaw on the line where a piece of text stands.
    pub fn near(piece: &str, what: impl Into<String>) -> Self {
        Self { pieces: vec![piece.to_owned()], what: what.into() }
    }

    /// The same behind a field of the step.
    pub fn behind(mut self, field: &str) -> Self {
        self.pieces.insert(0, format!("{field}:"));
        self
    }
}

/// Reads step after step; it carries the state that the steps before have set.
pub(super) struct Reader<'a> {
    file: &'a Project,
    pump: ComponentId,
    state: Project,
}

/// A number in per cent as a fraction.
pub(super) fn fraction(percent: f64) -> f64 {
    Unit::Percent.to_si(percent)
}

impl<'a> Reader<'a> {
    pub fn new(file: &'a Project, pump: ComponentId) -> Self {
        Self { file, pump, state: file.clone() }
    }

    fn names(&self) -> Names<'a> {
        Names { project: self.file }
    }

    /// One step.
    pub fn step(&mut self, line: usize, form: StepForm) -> Result<Step, Flaw> {
        if form.title.trim().is_empty() {
            return Err(Flaw::near("title", "it has no title: write a few words"));
        }
        if form.text.trim().is_empty() {
            return Err(Flaw::near("text", "it has no text: write what is so, and what to do"));
        }
        if form.afresh {
            self.state = self.file.clone();
        }
        let pump = match &form.pump {
            Some(name) => self.names().pump(name).map_err(|what| Flaw::at(name, what))?,
            None => self.pump,
        };
        let set = changes::carried_out(&mut self.state, pump, &form.set).map_err(|flaw| flaw.behind("set"))?;
        Ok(Step {
            line,
            title: form.title,
            text: self.template(&form.text)?,
            afresh: form.afresh,
            set,
            look_at: self.looks(form.look_at).map_err(|flaw| flaw.behind("look_at"))?,
            pump,
            task: self.task(pump, form.task)?,
        })
    }

    fn template(&self, text: &str) -> Result<Template, Flaw> {
        Template::read(text, &self.names()).map_err(|flaw| Flaw::near(&flaw.gap, flaw.flaw))
    }

    /// A text that must be there.
    fn asked(&self, text: &str) -> Result<Template, Flaw> {
        if text.trim().is_empty() {
            return Err(Flaw::near("question", "its question is empty: write what is asked"));
        }
        self.template(text)
    }

    fn looks(&self, forms: Vec<LookForm>) -> Result<Vec<Look>, Flaw> {
        forms.into_iter().map(|form| self.look(form)).collect()
    }

    fn look(&self, form: LookForm) -> Result<Look, Flaw> {
        let names = self.names();
        Ok(match form {
            LookForm::Plot => Look::Plot,
            LookForm::OperatingPoint => Look::OperatingPoint,
            LookForm::SetLine => Look::SetLine,
            LookForm::HeadLimit => Look::HeadLimit,
            LookForm::Slope => Look::Slope,
            LookForm::SpeedCap => Look::SpeedCap,
            LookForm::MinimumSpeed => Look::MinimumSpeed,
            LookForm::ReferenceFlow => Look::ReferenceFlow,
            LookForm::SystemCurve => Look::SystemCurve,
            LookForm::RegulatedCurve => Look::RegulatedCurve,
            LookForm::Power => Look::Power,
            LookForm::Zones => Look::Zones,
            LookForm::Zone(name) => Look::Zone(names.zone(&name).map_err(|what| Flaw::at(&name, what))?),
            LookForm::Component(name) => Look::Component(names.component(&name).map_err(|what| Flaw::at(&name, what))?),
            LookForm::Pipe(name) => Look::Pipe(names.pipe(&name).map_err(|what| Flaw::at(&name, what))?),
            LookForm::Sentence => Look::Sentence,
            LookForm::Settings => Look::Settings,
            LookForm::Scenarios => Look::Scenarios,
            LookForm::Drawing => Look::Drawing,
        })
    }

    fn task(&self, pump: ComponentId, form: TaskForm) -> Result<Task, Flaw> {
        Ok(match form {
            TaskForm::Read => Task::Read,
            TaskForm::Do { goals, hint, solution, because } => Task::Do(Errand {
                goals: goals::read_all(&self.names(), pump, &self.state, goals).map_err(|flaw| flaw.behind("goals"))?,
                hint: self.template(&hint)?,
                solution: self.later(pump, &solution, "solution")?,
                because: self.template(&because)?,
            }),
            TaskForm::Choose { question, answers } => {
                if !answers.iter().any(|answer| answer.right) {
                    return Err(Flaw::near("answers", "none of its answers is right: write “right: true” in one"));
                }
                if answers.len() < 2 {
                    return Err(Flaw::near("answers", "there is only one answer to choose: write at least two"));
                }
                let answers = answers.into_iter().map(|answer| self.choice(&answer)).collect::<Result<_, _>>()?;
                Task::Choose { question: self.asked(&question)?, answers }
            }
            TaskForm::WhichGoverns { question, offered, after, because } => {
                let offered = offered.into_iter().map(goals::governing).collect();
                let prediction = self.prediction(pump, &question, &after, &because)?;
                Task::WhichGoverns(Prediction { offered, ..prediction })
            }
            TaskForm::PlacePoint { after, .. } if after.is_empty() => {
                let what =
                    "the point to be placed is in sight already: write in “after” what changes once it is placed";
                return Err(Flaw::near("place_point", what));
            }
            TaskForm::PlacePoint { question, after, because } => {
                Task::PlacePoint(self.prediction(pump, &question, &after, &because)?)
            }
            TaskForm::PredictZone { zone, question, after, because } => {
                let id = self.names().zone(&zone).map_err(|what| Flaw::at(&zone, what))?;
                Task::PredictZone(id, self.prediction(pump, &question, &after, &because)?)
            }
            TaskForm::FindFault { seed, question, suspects, because } => Task::FindFault(goals::puzzle(
                (&self.names(), self.file),
                (seed, suspects),
                self.asked(&question)?,
                self.template(&because)?,
            )?),
            TaskForm::FindSetting { seed, question, within_percent, vary, because } => {
                let VaryForm { lengths_percent, presettings_percent, loads_percent } = vary;
                for (name, percent) in [
                    ("within_percent", within_percent),
                    ("lengths_percent", lengths_percent),
                    ("presettings_percent", presettings_percent),
                    ("loads_percent", loads_percent),
                ] {
                    if !(0.0..=90.0).contains(&percent) {
                        return Err(Flaw::near(name, format!("{name} must lie between 0 and 90: correct it")));
                    }
                }
                let [lengths, presettings, loads] = [lengths_percent, presettings_percent, loads_percent].map(fraction);
                Task::FindSetting(SettingPuzzle {
                    seed,
                    vary: Vary { lengths, presettings, loads },
                    question: self.asked(&question)?,
                    within: fraction(within_percent),
                    because: self.template(&because)?,
                })
            }
        })
    }

    fn choice(&self, form: &ChoiceForm) -> Result<Choice, Flaw> {
        if form.text.trim().is_empty() {
            return Err(Flaw::near("answers", "one of its answers is empty: write what it says"));
        }
        Ok(Choice { text: self.template(&form.text)?, right: form.right, because: self.template(&form.because)? })
    }

    fn prediction(
        &self,
        pump: ComponentId,
        question: &str,
        after: &[SetForm],
        because: &str,
    ) -> Result<Prediction, Flaw> {
        Ok(Prediction {
            question: self.asked(question)?,
            after: self.later(pump, after, "after")?,
            because: self.template(because)?,
            offered: Vec::new(),
        })
    }

    /// Changes that are made in the course of the step: they must be possible from its start.
    fn later(&self, pump: ComponentId, forms: &[SetForm], field: &str) -> Result<Vec<Command>, Flaw> {
        changes::carried_out(&mut self.state.clone(), pump, forms).map_err(|flaw| flaw.behind(field))
    }
}

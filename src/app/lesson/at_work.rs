//! A lesson at work in the window: its course, the guess in hand, and what panel and panes are told of it. What is told is made
//! anew only after a change.

use super::super::desk::Desk;
use super::shown::{Guess, Reading, Shown};
use super::told::{AnswerTold, Mark, ReadingsTold, TaskTold, Told};
use crate::document::{Command, ComponentId, Project};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::{Quantity, Units};
use crate::lesson::{Answer, Course, Lesson, Look, Task};
use crate::study::limit_name;

/// A lesson at work.
pub(in super::super) struct LessonAtWork {
    course: Course,
    /// What limits can be answered with, in the order of the answers.
    limits: Vec<GoverningLimit>,
    /// How many steps were begun.
    begun: usize,
    /// The share that is being guessed.
    share: f64,
    /// The square on the plot waits for the keys.
    wants_keys: bool,
    /// What was told last, and for what desk and units; `None` once it is old.
    told_for: Option<(u64, Units)>,
    told: Told,
    shown: Shown,
}

impl LessonAtWork {
    /// A lesson before its first step.
    pub(in super::super) fn new(lesson: Lesson) -> Self {
        let keeps_strip = lesson.steps.iter().any(|step| step.look_at.contains(&Look::Scenarios));
        Self {
            course: Course::new(lesson),
            limits: Vec::new(),
            begun: 0,
            share: 1.0,
            wants_keys: false,
            told_for: None,
            told: Told::default(),
            shown: Shown { keeps_strip, ..Shown::default() },
        }
    }

    /// What the lesson is called.
    pub(in super::super) fn title(&self) -> &str {
        &self.course.lesson().title
    }

    /// What the panel tells.
    pub(in super::super) fn told(&self) -> &Told {
        &self.told
    }

    /// What the panes are to show.
    pub(in super::super) fn shown(&self) -> &Shown {
        &self.shown
    }

    /// The circulator that the present step speaks of.
    pub(in super::super) fn pump(&self) -> ComponentId {
        self.course.step().pump
    }

    /// Whether its last step is done.
    pub(in super::super) fn is_done(&self) -> bool {
        self.told.is_last && self.told.can_go_on
    }

    /// How many steps were begun, each of which is read from its top.
    pub(super) fn begun(&self) -> usize {
        self.begun
    }

    /// The share that is being guessed.
    pub(super) fn share(&self) -> f64 {
        self.share
    }

    /// Whether the square on the plot is to be given the keys.
    pub(in super::super) fn wants_keys(&self) -> bool {
        self.wants_keys
    }

    /// The square has the keys.
    pub(in super::super) fn has_keys(&mut self) {
        self.wants_keys = false;
    }

    /// The system with which the present step begins, if the drawing has become another than the lesson's.
    pub(in super::super) fn start_if_torn(&self, now: &Project) -> Option<Project> {
        self.course.is_torn(now).then(|| self.course.start())
    }

    /// The commands with which the present step begins.
    pub(in super::super) fn begin_step(&mut self, now: &Project) -> Vec<Command> {
        let commands = self.course.begin_step(now);
        self.begun += 1;
        self.share = 1.0;
        self.wants_keys = matches!(self.course.step().task, Task::PlacePoint(_)) && !self.course.can_go_on();
        self.told_for = None;
        commands
    }

    /// Goes on to the next step, if this one is done and there is one.
    pub(in super::super) fn next(&mut self) -> bool {
        self.course.go_on()
    }

    /// Goes back to the step before, if there is one.
    pub(in super::super) fn back(&mut self) -> bool {
        self.course.back()
    }

    /// Forgets what was done in this step.
    pub(in super::super) fn again(&mut self) {
        self.course.again();
    }

    /// Lets chance put the present step anew.
    pub(in super::super) fn another(&mut self) {
        self.course.another();
    }

    /// Gives up: what shows one way.
    pub(in super::super) fn show_way(&mut self, desk: &Desk) -> Vec<Command> {
        self.told_for = None;
        self.course.show(desk.project())
    }

    /// Moves the guessed operating point, m³/s and m.
    pub(in super::super) fn move_guess(&mut self, to: [f64; 2]) {
        self.course.place(to);
        self.told_for = None;
    }

    /// Moves the guessed share.
    pub(in super::super) fn move_share(&mut self, to: f64) {
        self.share = to;
    }

    /// Answers with the guess as it stands; what then is to be changed.
    pub(in super::super) fn take_guess(&mut self, desk: &Desk) -> Result<Vec<Command>, String> {
        let answer = match (&self.course.step().task, &self.shown.guess) {
            (Task::PlacePoint(_), Some(guess)) => Answer::Point(guess.at),
            _ => Answer::Share(self.share),
        };
        self.answer(answer, desk)
    }

    /// Answers with one of the answers; what then is to be changed.
    pub(in super::super) fn choose(&mut self, index: usize, desk: &Desk) -> Result<Vec<Command>, String> {
        let answer = match (&self.course.step().task, self.limits.get(index)) {
            (Task::WhichGoverns(_), Some(limit)) => Answer::Limit(*limit),
            _ => Answer::Choice(index),
        };
        self.answer(answer, desk)
    }

    fn answer(&mut self, answer: Answer, desk: &Desk) -> Result<Vec<Command>, String> {
        self.told_for = None;
        self.course.answer(answer, desk.project()).map_err(|error| {
            let sentence = error.to_string();
            let mut letters = sentence.chars();
            letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).chain(['.']).collect())
        })
    }

    /// Tells anew what has changed; what must be probed for that waits while the hand is at work.
    pub(in super::super) fn follow(&mut self, desk: &Desk, units: &Units, is_busy: bool) {
        let now = (desk.revision(), *units);
        self.course.hold(is_busy);
        let is_owed = !is_busy && self.course.is_owing();
        if self.told_for == Some(now) && !is_owed {
            return;
        }
        self.told_for = Some(now);
        let (project, study) = (desk.project(), desk.study());
        let progress = self.course.check(project, study, units);
        self.limits = self.course.limits(project);
        let course = &self.course;
        let step = course.step();
        let readings = course.readings(project);
        let task = match &step.task {
            Task::Read => TaskTold::Read,
            Task::Do(_) | Task::FindSetting(_) => TaskTold::Goals(progress.aims, course.hint(project, study, units)),
            Task::PlacePoint(_) => TaskTold::Point,
            Task::PredictZone(zone, _) => {
                TaskTold::Share(project.zones.get(zone).map_or_else(String::new, |zone| zone.name.clone()))
            }
            Task::Choose { .. } | Task::FindFault(_) => {
                let readings = readings.as_ref().map(|readings| self.readings_told(readings, desk, units));
                TaskTold::Question(readings, marked(course, course.choices(project, study, units), Answer::Choice))
            }
            Task::WhichGoverns(_) => {
                let names = self.limits.iter().map(|limit| format!("The {}", limit_name(*limit))).collect();
                TaskTold::Question(None, marked(course, names, |index| Answer::Limit(self.limits[index])))
            }
        };
        let is_open = !course.can_go_on();
        let score = course.score();
        let told = Told {
            place: [course.at() + 1, course.count()],
            score: match score.done {
                0 => String::new(),
                done => format!("{:.0} of {} points", score.points, 100 * done),
            },
            title: step.title.clone(),
            text: course.text(project, study, units),
            question: course.question(project, study, units),
            task,
            is_open,
            feedback: course.feedback(project, study, units),
            can_go_on: course.can_go_on(),
            is_last: course.is_last(),
            has_another: matches!(step.task, Task::FindFault(_) | Task::FindSetting(_)),
        };
        let shown = Shown {
            looks: step.look_at.clone(),
            guess: self.guess(desk, units),
            reading: readings.and_then(Result::ok).map(|readings| Reading {
                flow: readings.flow,
                head: readings.head,
                power: readings.power_w,
            }),
            is_held: is_open && prediction_of(&step.task).is_some(),
            hides_governing: is_open && asks_what_governs_now(&step.task),
            keeps_strip: self.shown.keeps_strip,
        };
        (self.told, self.shown) = (told, shown);
    }

    /// The guess on the plot: in its middle until it is moved; beside the truth once it is taken.
    fn guess(&self, desk: &Desk, units: &Units) -> Option<Guess> {
        let course = &self.course;
        if !matches!(course.step().task, Task::PlacePoint(_)) {
            return None;
        }
        if let Some(answered) = course.answered() {
            let (Answer::Point(at), Answer::Point(truth)) = (answered.given, answered.truth) else { return None };
            return Some(Guess { at, truth: Some((truth, answered.words(units))) });
        }
        if course.can_go_on() {
            return None;
        }
        let frame = desk.study().curves(course.step().pump)?.frame;
        Some(Guess { at: course.placed().unwrap_or([0.5 * frame[0], 0.5 * frame[1]]), truth: None })
    }

    fn readings_told(
        &self,
        readings: &Result<crate::lesson::Readings, String>,
        desk: &Desk,
        units: &Units,
    ) -> ReadingsTold {
        let row = |flow, head, power, speed| {
            [
                units.format(Quantity::Flow, flow),
                units.format(Quantity::Head, head),
                units.format(Quantity::Power, power),
                units.format(Quantity::RotationalSpeed, speed),
            ]
        };
        let model = desk.study().results().pumps.get(&self.pump());
        let model = model.map(|pump| row(pump.flow, pump.head, pump.electric_w, pump.speed_rpm)).unwrap_or_default();
        let device = readings.clone().map(|read| row(read.flow, read.head, read.power_w, read.speed_rpm));
        ReadingsTold { device, model }
    }
}

/// What is foretold in a step, where something is.
fn prediction_of(task: &Task) -> Option<&crate::lesson::Prediction> {
    match task {
        Task::WhichGoverns(prediction) | Task::PlacePoint(prediction) | Task::PredictZone(_, prediction) => {
            Some(prediction)
        }
        _ => None,
    }
}

/// Whether a step asks what governs in the present state.
fn asks_what_governs_now(task: &Task) -> bool {
    matches!(task, Task::WhichGoverns(prediction) if prediction.after.is_empty())
}

/// Answers with what is to be said of each, once one was given.
fn marked(course: &Course, texts: Vec<String>, answer: impl Fn(usize) -> Answer) -> Vec<AnswerTold> {
    let mark = |index: usize| {
        let answered = course.answered()?;
        let this = answer(index);
        match (answered.given == this, answered.right) {
            (true, true) => Some(Mark::Right),
            (true, false) => Some(Mark::Wrong),
            // What can be tried again is not given away.
            (false, false) if answered.truth == this && course.can_go_on() => Some(Mark::Missed),
            _ => None,
        }
    };
    texts.into_iter().enumerate().map(|(index, text)| AnswerTold { text, mark: mark(index) }).collect()
}

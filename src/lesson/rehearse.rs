//! A lesson tried out from beginning to end: what each step comes to, and what a learner would stumble over.

use super::content::{Lesson, Task};
use super::course::Course;
use super::fault::{Fault, FaultPuzzle, Test, telling};
use super::truth::{changed, point_and_frame, studied};
use crate::document::{Command, ComponentId, Project};
use crate::engine::units::{Quantity, Units};
use crate::study::{Study, limit_name};

/// A step that was tried out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rehearsed {
    /// Line of the step in its file.
    pub line: usize,
    /// Its title.
    pub title: String,
    /// What is to be done and what comes of it, in a sentence.
    pub told: String,
    /// What is wrong and what to do; none where the step can be gone through.
    pub flaw: Option<String>,
}

impl Lesson {
    /// Tries every step: goals must not be reached before anything is done, solutions must reach them, what is foretold must come
    /// out, and faults must be told apart by some test.
    #[must_use]
    pub fn rehearse(&self, units: &Units) -> Vec<Rehearsed> {
        let mut course = Course::new(self.clone());
        let mut all = Vec::with_capacity(self.steps.len());
        for (number, step) in self.steps.iter().enumerate() {
            course.go_to(number);
            let (told, flaw) = match tried(&mut course, units) {
                Ok(told) => (told, None),
                Err(flaw) => (String::new(), Some(flaw)),
            };
            all.push(Rehearsed { line: step.line, title: step.title.clone(), told, flaw });
        }
        all
    }
}

fn tried(course: &mut Course, units: &Units) -> Result<String, String> {
    let start = course.start();
    course.begin_step(&start);
    let study = Study::new(&start).map_err(|flaw| format!("its system cannot be studied: {flaw}"))?;
    if !study.results().converged() {
        return Err("its system is not solved at its start: set something else".to_owned());
    }
    let (task, pump) = (course.step().task.clone(), course.step().pump);
    let after = |commands: &[Command]| studied(&start, commands).map_err(|flaw| flaw.to_string());
    match task {
        Task::Read => Ok("Read.".to_owned()),
        Task::Choose { answers, .. } => {
            let right = answers.iter().filter(|answer| answer.right).count();
            Ok(format!("Choose: {} answers, {right} right.", answers.len()))
        }
        Task::Do(errand) => {
            let words = done(course, (&start, &study), &errand.solution, units)?;
            let solved = if errand.solution.is_empty() { " No solution is given." } else { "" };
            Ok(format!("Do: {words}{solved}"))
        }
        Task::FindSetting(_) => {
            if let Some(flaw) = course.unmade() {
                return Err(flaw.to_owned());
            }
            let solution = course.show(&start);
            let words = done(course, (&start, &study), &solution, units)?;
            Ok(format!("Find the setting: {words}"))
        }
        Task::WhichGoverns(prediction) => {
            let study = after(&prediction.after)?;
            let governing = study.results().pumps.get(&pump).and_then(|pump| pump.governing);
            let limit = governing.ok_or("the circulator that it asks of is stopped: let it run")?;
            if !prediction.offered.is_empty() && !prediction.offered.contains(&limit) {
                let name = limit_name(limit);
                return Err(format!("the {name} will govern, but it is not offered: add it to “offered”"));
            }
            Ok(format!("Which limit governs? The {}.", limit_name(limit)))
        }
        Task::PlacePoint(prediction) => {
            let study = after(&prediction.after)?;
            let ([flow, head], _) = point_and_frame(&study, pump).map_err(|flaw| flaw.to_string())?;
            let point = [units.format(Quantity::Flow, flow), units.format(Quantity::Head, head)];
            Ok(format!("Place the point: {} at {}.", point[0], point[1]))
        }
        Task::PredictZone(zone, prediction) => {
            let study = after(&prediction.after)?;
            let share = study.results().zones.get(&zone).map_or(f64::NAN, |zone| zone.share);
            Ok(format!("Foretell a share: {}.", units.format(Quantity::Share, share)))
        }
        Task::FindFault(puzzle) => {
            told_apart(&puzzle, &start, pump)?;
            Ok(format!("Find the fault: {} suspects, told apart by tests.", puzzle.suspects.len()))
        }
    }
}

/// Goals that are missed at the start and reached by the solution, where there is one.
fn done(
    course: &mut Course,
    (start, study): (&Project, &Study),
    solution: &[Command],
    units: &Units,
) -> Result<String, String> {
    let before = course.check(start, study, units);
    if before.reached {
        return Err("its goals are reached before anything is done: let it begin with something else set".to_owned());
    }
    let words: Vec<&str> = before.aims.iter().map(|aim| aim.words.as_str()).collect();
    if !solution.is_empty() {
        let project = changed(start, solution).map_err(|flaw| flaw.to_string())?;
        let study = Study::new(&project).map_err(|flaw| flaw.to_string())?;
        let after = course.check(&project, &study, units);
        if let Some(aim) = after.aims.iter().find(|aim| !aim.reached) {
            let (goal, missing) = (&aim.words, &aim.missing);
            return Err(format!("its solution does not reach its goal “{goal}” ({missing}): correct one of them"));
        }
    }
    Ok(words.join(" "))
}

/// Whether some test tells every two suspects apart, by the rule by which a learner is told so: whichever of the two it is.
fn told_apart(puzzle: &FaultPuzzle, start: &Project, pump: ComponentId) -> Result<(), String> {
    let mut seen: Vec<(&Fault, Vec<Test>)> = Vec::new();
    for suspect in &puzzle.suspects {
        let alone = FaultPuzzle { suspects: vec![suspect.clone()], ..puzzle.clone() };
        let tests = alone.tests(puzzle.seed, start, pump)?;
        let is_alike = |known: &[Test]| !is_told(known, &tests) || !is_told(&tests, known);
        if let Some((other, _)) = seen.iter().find(|(_, known)| is_alike(known)) {
            let [one, two] = [*other, suspect].map(|fault| fault.words(start));
            return Err(format!("no test tells “{one}” and “{two}” apart: make one of them graver, or take it out"));
        }
        seen.push((suspect, tests));
    }
    Ok(())
}

/// Whether what a device shows speaks against one that would show something else.
fn is_told(supposed: &[Test], real: &[Test]) -> bool {
    let against = |(supposed, real): (&Test, &Test)| Test { model: supposed.device, ..real.clone() };
    telling(&supposed.iter().zip(real).map(against).collect::<Vec<_>>()).is_some()
}

//! Predict, then see: the truth comes from the study of the changed system; the distance to it is scored.

use super::content::{Step, Task};
use super::error::CourseError;
use crate::document::{Command, ComponentId, Project};
use crate::engine::pump::GoverningLimit;
use crate::engine::units::{Quantity, Units};
use crate::study::{Study, limit_name};

/// What a learner answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Answer {
    /// One of the answers, or of the suspects, by its place in the list.
    Choice(usize),
    /// The limit that will govern.
    Limit(GoverningLimit),
    /// The operating point: flow, m³/s, and head, m.
    Point([f64; 2]),
    /// A share of design flow.
    Share(f64),
}

/// An answer beside the truth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answered {
    /// What was answered.
    pub given: Answer,
    /// What is so.
    pub truth: Answer,
    /// Whether it counts as right: as good as a person places it by eye.
    pub right: bool,
    /// From 0 to 100.
    pub score: f64,
    /// The share before, where it moves the other way than was said.
    pub turned_from: Option<f64>,
}

/// Score from which a placed point or a guessed share counts as right.
const GOOD: f64 = 75.0;

/// From this change of a share on it is said to rise or fall.
const MOVES: f64 = 0.01;

impl Answered {
    /// An answer that is right or not, with nothing between.
    pub(super) fn exact(given: Answer, truth: Answer) -> Self {
        let right = given == truth;
        Self { given, truth, right, score: if right { 100.0 } else { 0.0 }, turned_from: None }
    }

    /// A placed point: 100 at the truth, 0 from a quarter of the plot's diagonal away; the plot is as wide and as high as the
    /// full-speed curve.
    #[must_use]
    pub fn placed(given: [f64; 2], truth: [f64; 2], frame: [f64; 2]) -> Self {
        let [across, up] = [0, 1].map(|axis| (given[axis] - truth[axis]) / frame[axis].max(f64::MIN_POSITIVE));
        let quarter = 0.25 * 2.0_f64.sqrt();
        let score = scored(across.hypot(up) / quarter);
        Self {
            given: Answer::Point(given),
            truth: Answer::Point(truth),
            right: score >= GOOD,
            score,
            turned_from: None,
        }
    }

    /// A share that was typed: 100 at the truth, 0 from forty points of a hundred away, and 0 however near where the share moves
    /// the other way from what it was before.
    #[must_use]
    pub fn shared(given: f64, truth: f64, before: f64) -> Self {
        let [said, moved] = [given - before, truth - before];
        let is_turned = said * moved < 0.0 && said.abs() >= MOVES && moved.abs() >= MOVES;
        let turned_from = is_turned.then_some(before);
        let score = if is_turned { 0.0 } else { scored((given - truth).abs() / 0.4) };
        Self { given: Answer::Share(given), truth: Answer::Share(truth), right: score >= GOOD, score, turned_from }
    }

    /// How far the answer lies from the truth, in a sentence.
    #[must_use]
    pub fn words(&self, units: &Units) -> String {
        match (self.given, self.truth) {
            (Answer::Limit(_), Answer::Limit(truth)) if self.right => {
                format!("Right: the {} governs.", limit_name(truth))
            }
            (Answer::Limit(given), Answer::Limit(truth)) => {
                format!("Not the {}: the {} governs.", limit_name(given), limit_name(truth))
            }
            (Answer::Point(given), Answer::Point(truth)) => {
                let off = |axis: usize, quantity, more: &str, less: &str| {
                    let by = given[axis] - truth[axis];
                    let text = units.format(quantity, by.abs());
                    // What is shown as nothing is nothing.
                    let is_nothing = !text.contains(|c: char| ('1'..='9').contains(&c));
                    (!is_nothing).then(|| format!("{text} {}", if by > 0.0 { more } else { less }))
                };
                let parts = [
                    off(0, Quantity::Flow, "too far right", "too far left"),
                    off(1, Quantity::Head, "too high", "too low"),
                ];
                let parts: Vec<String> = parts.into_iter().flatten().collect();
                match parts.is_empty() {
                    true => format!("{}.", self.grade()),
                    false => format!("{}: {}.", self.grade(), parts.join(", ")),
                }
            }
            (Answer::Share(given), Answer::Share(truth)) => {
                let share = |share| units.format(Quantity::Share, share);
                if let Some(before) = self.turned_from {
                    let way = if truth > before { "It rises, not falls" } else { "It falls, not rises" };
                    let [given, truth, before] = [given, truth, before].map(share);
                    return format!("{way}: you said {given}, it gets {truth} instead of {before}.");
                }
                format!("{}: you said {}, it gets {}.", self.grade(), share(given), share(truth))
            }
            _ if self.right => "Right.".to_owned(),
            _ => "Not so.".to_owned(),
        }
    }

    fn grade(&self) -> &'static str {
        match self.score {
            score if score >= 97.0 => "Just there",
            score if score >= GOOD => "Close",
            score if score >= 40.0 => "In the neighbourhood",
            _ => "Far off",
        }
    }
}

/// The score of a distance, as a share of that from which on nothing counts.
fn scored(off: f64) -> f64 {
    if off.is_finite() { (100.0 * (1.0 - off)).max(0.0) } else { 0.0 }
}

/// A project with commands carried out.
pub(super) fn changed(project: &Project, commands: &[Command]) -> Result<Project, CourseError> {
    let mut project = project.clone();
    for command in commands {
        project.apply(command).map_err(|flaw| CourseError::Changed(flaw.to_string()))?;
    }
    Ok(project)
}

/// The study of a project with commands carried out.
pub(super) fn studied(project: &Project, commands: &[Command]) -> Result<Study, CourseError> {
    Study::new(&changed(project, commands)?).map_err(|flaw| CourseError::Unsolved(flaw.to_string()))
}

/// Holds an answer against the truth.
pub(super) fn judge(step: &Step, given: Answer, project: &Project) -> Result<Answered, CourseError> {
    match (&step.task, given) {
        (Task::Choose { answers, .. }, Answer::Choice(index)) => {
            let chosen = answers.get(index).ok_or(CourseError::NotAsked)?;
            let right = answers.iter().position(|answer| answer.right).unwrap_or(index);
            Ok(Answered::exact(given, Answer::Choice(if chosen.right { index } else { right })))
        }
        (Task::WhichGoverns(prediction), Answer::Limit(_)) => {
            let study = studied(project, &prediction.after)?;
            let governing = study.results().pumps.get(&step.pump).and_then(|pump| pump.governing);
            let truth = governing.ok_or(CourseError::Unsolved("the circulator is stopped".to_owned()))?;
            Ok(Answered::exact(given, Answer::Limit(truth)))
        }
        (Task::PlacePoint(prediction), Answer::Point(point)) => {
            let study = studied(project, &prediction.after)?;
            let (truth, frame) = point_and_frame(&study, step.pump)?;
            Ok(Answered::placed(point, truth, frame))
        }
        (Task::PredictZone(zone, prediction), Answer::Share(share)) => {
            let study = studied(project, &prediction.after)?;
            let of =
                |study: &Study| study.results().zones.get(zone).map(|zone| zone.share).ok_or(CourseError::NotAsked);
            Ok(Answered::shared(share, of(&study)?, of(&studied(project, &[])?)?))
        }
        _ => Err(CourseError::NotAsked),
    }
}

pub(super) fn point_and_frame(study: &Study, pump: ComponentId) -> Result<([f64; 2], [f64; 2]), CourseError> {
    let result = study.results().pumps.get(&pump);
    let (Some(result), Some(curves)) = (result, study.curves(pump)) else { return Err(CourseError::NotAsked) };
    Ok(([result.flow, result.head], curves.frame))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a tenth of the width right of the truth is 0.1 of the frame, a quarter of its diagonal 0.3536; 100 (1 − 0.2828).
    #[test]
    fn a_placed_point_scores_by_its_distance() {
        let frame = [4.0, 8.0];
        let at = |given| Answered::placed(given, [2.0, 4.0], frame);
        assert!((at([2.0, 4.0]).score - 100.0).abs() < 1e-9);
        assert!((at([2.4, 4.0]).score - 71.716).abs() < 1e-3);
        assert!((at([2.0, 4.8]).score - 71.716).abs() < 1e-3);
        assert_eq!(at([4.0, 8.0]).score, 0.0);
        assert!(at([2.1, 4.1]).right && !at([3.0, 4.0]).right);
    }

    #[test]
    fn words_name_the_side_and_the_distance() {
        let given = [2.12 / 3600.0, 4.0];
        let answered = Answered::placed(given, [2.0 / 3600.0, 4.2], [4.0 / 3600.0, 8.0]);
        let plain = answered.words(&Units::si()).replace('\u{a0}', " ");
        assert_eq!(plain, "Close: 0.120 m³/h too far right, 0.20 m too low.");
        let exact = Answered::placed(given, given, [4.0 / 3600.0, 8.0]);
        assert_eq!(exact.words(&Units::si()), "Just there.");
        assert_eq!(
            Answered::shared(0.9, 0.9, 1.0).words(&Units::si()).replace('\u{a0}', " "),
            "Just there: you said 90 %, it gets 90 %."
        );
    }

    #[test]
    fn the_wrong_way_scores_nothing_however_near_it_is() {
        let plain = |answered: Answered| answered.words(&Units::si()).replace('\u{a0}', " ");
        let fell = Answered::shared(0.92, 1.07, 1.0);
        assert!(fell.score == 0.0 && !fell.right);
        assert_eq!(plain(fell), "It rises, not falls: you said 92 %, it gets 107 % instead of 100 %.");
        let rose = Answered::shared(1.02, 0.95, 1.0);
        assert_eq!((rose.score, plain(rose).starts_with("It falls, not rises: ")), (0.0, true));
        // The right way, no way at all, and what hardly moves are scored by the distance.
        for (given, truth) in [(1.05, 1.07), (1.0, 1.07), (0.98, 1.005)] {
            assert!(Answered::shared(given, truth, 1.0).score > 80.0, "{given} {truth}");
        }
    }
}

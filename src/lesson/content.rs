//! A lesson and its steps as they are worked with: names resolved, numbers in SI units, changes as commands.

use super::fault::FaultPuzzle;
use super::goal::Goal;
use super::template::Template;
use super::vary::SettingPuzzle;
use crate::document::{Command, ComponentId, PipeId, Project, ZoneId};
use crate::engine::pump::GoverningLimit;

/// A project and the steps through it.
#[derive(Clone, Debug)]
pub struct Lesson {
    /// What the lesson is called.
    pub title: String,
    /// What can be learned, in a sentence.
    pub about: String,
    /// The system that it works on, as its file has it.
    pub project: Project,
    /// Its steps, at least one.
    pub steps: Vec<Step>,
}

/// One step of a lesson.
#[derive(Clone, Debug)]
pub struct Step {
    /// Line of the lesson's file, from 1.
    pub line: usize,
    /// A few words.
    pub title: String,
    /// What is so, and what to do.
    pub text: Template,
    /// Whether it begins with the project as the file has it, whatever was done before.
    pub afresh: bool,
    /// What it sets before it begins.
    pub set: Vec<Command>,
    /// What it points at.
    pub look_at: Vec<Look>,
    /// The circulator that it speaks of.
    pub pump: ComponentId,
    /// What the learner is to do.
    pub task: Task,
}

/// What a step points at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// The plot of head over flow.
    Plot,
    /// The operating point on it.
    OperatingPoint,
    /// The set-line.
    SetLine,
    /// The level that the head limit draws, and its setting.
    HeadLimit,
    /// The setting of the slope.
    Slope,
    /// The capped curve, and its setting.
    SpeedCap,
    /// The curve at minimum speed, and its setting.
    MinimumSpeed,
    /// The choice where the set-line reaches the head limit.
    ReferenceFlow,
    /// The system curve.
    SystemCurve,
    /// What the pump really gives.
    RegulatedCurve,
    /// The electric power.
    Power,
    /// The list of zones.
    Zones,
    /// One zone.
    Zone(ZoneId),
    /// A component of the drawing.
    Component(ComponentId),
    /// A pipe of the drawing.
    Pipe(PipeId),
    /// The sentence that says what governs.
    Sentence,
    /// The settings.
    Settings,
    /// The scenarios.
    Scenarios,
    /// The drawing.
    Drawing,
}

/// What the learner is to do in a step.
#[derive(Clone, Debug)]
pub enum Task {
    /// Read and look.
    Read,
    /// Reach goals.
    Do(Errand),
    /// Choose an answer.
    Choose {
        /// What is asked.
        question: Template,
        /// What can be answered; at least one is right.
        answers: Vec<Choice>,
    },
    /// Say what will govern once something has been changed, then see it.
    WhichGoverns(Prediction),
    /// Place the operating point that comes of a change, then see it.
    PlacePoint(Prediction),
    /// Say what share of its design flow a zone will get after a change, then see it.
    PredictZone(ZoneId, Prediction),
    /// Find out by tests what is wrong in a system that only its circulator's readings tell of.
    FindFault(FaultPuzzle),
    /// Find settings that serve every zone in every state with little energy.
    FindSetting(SettingPuzzle),
}

/// Goals to be reached by hand.
#[derive(Clone, Debug)]
pub struct Errand {
    /// What must be so, all of it at once.
    pub goals: Vec<Goal>,
    /// Where to begin, for one who does not get on; may be empty.
    pub hint: Template,
    /// One way to reach the goals; empty if the trainer gives none.
    pub solution: Vec<Command>,
    /// Why it came out so, told when the goals are reached; may be empty.
    pub because: Template,
}

/// An answer that can be chosen.
#[derive(Clone, Debug)]
pub struct Choice {
    /// What it says.
    pub text: Template,
    /// Whether it is right.
    pub right: bool,
    /// Why it is right or not.
    pub because: Template,
}

/// Something to be foretold: what is asked, what is then changed, and why it came out so.
#[derive(Clone, Debug)]
pub struct Prediction {
    /// What is asked.
    pub question: Template,
    /// What is changed once the learner has answered; empty where the present state is asked for.
    pub after: Vec<Command>,
    /// Why it came out so, filled in with what came of it.
    pub because: Template,
    /// The limits that are offered as answers; empty for all that can govern.
    pub offered: Vec<GoverningLimit>,
}

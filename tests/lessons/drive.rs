//! A learner goes through every lesson: what is asked, done and told, and that nobody gets past a step without doing it.

use super::lesson;
use headwise::document::{Changed, Command, Project};
use headwise::engine::pump::GoverningLimit;
use headwise::engine::units::Units;
use headwise::lesson::{Answer, Course, CourseError, Task, shipped};
use headwise::study::Study;

/// A learner's desk: the project, its study, and the course beside it.
pub struct Desk {
    pub course: Course,
    pub project: Project,
    pub study: Study,
    units: Units,
}

impl Desk {
    pub fn open(course: Course, units: Units) -> Self {
        let project = course.lesson().project.clone();
        let study = Study::new(&project).unwrap();
        let mut desk = Self { course, project, study, units };
        desk.begin();
        desk
    }

    pub fn begin(&mut self) {
        let commands = self.course.begin_step(&self.project);
        self.carry_out(&commands);
    }

    pub fn carry_out(&mut self, commands: &[Command]) {
        let mut changed = Changed::default();
        for command in commands {
            changed = changed.and(self.project.apply(command).unwrap());
        }
        self.study.update(&self.project, changed).unwrap();
    }

    pub fn answer(&mut self, answer: Answer) {
        let commands = self.course.answer(answer, &self.project).unwrap();
        self.carry_out(&commands);
    }

    /// How the goals of the step stand, and what is missing of the first that is not reached.
    pub fn check(&mut self) -> (bool, String) {
        let progress = self.course.check(&self.project, &self.study, &self.units);
        let missing = progress.aims.into_iter().map(|aim| aim.missing).find(|missing| !missing.is_empty());
        (progress.reached, missing.unwrap_or_default())
    }

    /// All that is told, filled in: no gap stays open, and nothing is told that is not known.
    #[track_caller]
    fn reads(&self, text: &str) {
        let place = format!("{}, step {}: {text}", self.course.lesson().title, self.course.at() + 1);
        assert!(!text.contains(['{', '}']), "{place}");
        assert!(!text.contains('–') && !text.contains("NaN"), "{place}");
        assert!(!text.contains("  "), "{place}");
    }

    fn reads_all(&self) {
        let (project, study, units) = (&self.project, &self.study, &self.units);
        let text = self.course.text(project, study, units);
        assert!(!text.is_empty());
        self.reads(&text);
        let question = self.course.question(project, study, units);
        self.reads(&question);
        self.reads(&self.course.hint(project, study, units));
        for choice in self.course.choices(project, study, units) {
            self.reads(&choice);
        }
    }

    pub fn feedback(&self) -> (bool, String) {
        let feedback = self.course.feedback(&self.project, &self.study, &self.units).unwrap();
        let text = format!("{} {}", feedback.words, feedback.because);
        self.reads(text.trim());
        (feedback.right, text)
    }
}

#[test]
fn every_lesson_is_gone_through_with_wrong_answers_on_the_way() {
    for own in shipped() {
        for units in [Units::si(), Units::inch_pound()] {
            let mut desk = Desk::open(Course::new(own.lesson().unwrap()), units);
            loop {
                desk.reads_all();
                go_through(&mut desk);
                assert!(desk.course.can_go_on());
                if !desk.course.go_on() {
                    break;
                }
                desk.begin();
            }
            assert!(desk.course.is_last());
            let score = desk.course.score();
            let full = 100.0 * score.asked as f64;
            assert!(score.asked > 0 && score.done == score.asked && score.points <= full);
            // Wherever something was asked that can be answered wrongly, it was.
            let errands = desk.course.lesson().steps.iter().filter(|step| is_errand(&step.task)).count();
            assert_eq!(score.points, 100.0 * errands as f64, "{}", own.file);
        }
    }
}

fn is_errand(task: &Task) -> bool {
    matches!(task, Task::Do(_) | Task::FindSetting(_))
}

fn go_through(desk: &mut Desk) {
    let task = desk.course.step().task.clone();
    let is_read = matches!(task, Task::Read);
    assert_eq!(desk.course.can_go_on(), is_read);
    if !is_read && !desk.course.is_last() {
        assert!(!desk.course.clone().go_on(), "a step that is not done was left");
    }
    match task {
        Task::Read => {}
        Task::Do(errand) => {
            let before = desk.course.check(&desk.project, &desk.study, &desk.units);
            assert!(!before.reached);
            for aim in before.aims.iter().filter(|aim| !aim.reached) {
                assert!(!aim.missing.is_empty());
            }
            assert!(!errand.solution.is_empty(), "a shipped lesson shows one way");
            desk.carry_out(&errand.solution);
            let after = desk.course.check(&desk.project, &desk.study, &desk.units);
            assert!(after.reached, "{:?}", after.aims);
            assert!(desk.feedback().0);
        }
        Task::Choose { answers, .. } => {
            let wrong = answers.iter().position(|answer| !answer.right).unwrap();
            desk.answer(Answer::Choice(wrong));
            assert!(!desk.feedback().0 && !desk.course.can_go_on());
            let right = answers.iter().position(|answer| answer.right).unwrap();
            for answer in &answers {
                assert!(!answer.because.is_empty());
            }
            desk.answer(Answer::Choice(right));
            assert!(desk.feedback().0);
        }
        Task::WhichGoverns(_) => foretell_wrongly(desk),
        Task::PlacePoint(_) => {
            desk.course.place([0.0, 0.0]);
            assert_eq!(desk.course.placed(), Some([0.0, 0.0]));
            desk.answer(Answer::Point([0.0, 0.0]));
            assert!(!desk.feedback().0);
            let Answer::Point(truth) = desk.course.answered().unwrap().truth else { panic!() };
            let pump = desk.study.results().pumps[&desk.course.step().pump];
            assert!((truth[0] - pump.flow).abs() < 1e-7 && (truth[1] - pump.head).abs() < 1e-3);
        }
        Task::PredictZone(zone, _) => {
            desk.answer(Answer::Share(0.0));
            assert!(!desk.feedback().0);
            let Answer::Share(truth) = desk.course.answered().unwrap().truth else { panic!() };
            assert!((truth - desk.study.results().zones[&zone].share).abs() < 1e-4);
        }
        Task::FindFault(puzzle) => {
            let culprit = puzzle.culprit(desk.course.seed().unwrap());
            let wrong = (culprit + 1) % puzzle.suspects.len();
            desk.answer(Answer::Choice(wrong));
            assert!(!desk.feedback().0 && !desk.course.can_go_on());
            desk.answer(Answer::Choice(culprit));
            assert!(desk.feedback().0);
        }
        Task::FindSetting(_) => {
            let before = desk.course.check(&desk.project, &desk.study, &desk.units);
            assert!(!before.reached);
            let commands = desk.course.clone().show(&desk.project);
            desk.carry_out(&commands);
            assert!(desk.course.check(&desk.project, &desk.study, &desk.units).reached);
            assert!(desk.feedback().0);
        }
    }
}

/// Says a limit that will not govern; the truth is told then, once.
fn foretell_wrongly(desk: &mut Desk) {
    let limits = desk.course.limits(&desk.project);
    let mut right = desk.course.clone();
    let truth = limits.iter().find(|limit| {
        let mut tried = right.clone();
        tried.answer(Answer::Limit(**limit), &desk.project).unwrap();
        tried.answered().unwrap().right
    });
    let truth = *truth.unwrap();
    right.answer(Answer::Limit(truth), &desk.project).unwrap();
    assert_eq!(right.answered().unwrap().score, 100.0);
    let wrong = limits.into_iter().find(|limit| *limit != truth).unwrap();
    desk.answer(Answer::Limit(wrong));
    assert!(!desk.feedback().0);
    // The study of the changed project agrees with what was told.
    let governing = desk.study.results().pumps[&desk.course.step().pump].governing.unwrap();
    assert_eq!(governing, truth);
    assert_eq!(desk.course.answer(Answer::Limit(truth), &desk.project), Err(CourseError::Answered));
}

#[test]
fn a_step_back_begins_where_that_step_begins_whatever_was_done() {
    for own in shipped() {
        let mut desk = Desk::open(Course::new(own.lesson().unwrap()), Units::si());
        let mut starts = Vec::new();
        loop {
            starts.push(desk.course.start());
            go_through(&mut desk);
            if !desk.course.go_on() {
                break;
            }
            desk.begin();
        }
        while desk.course.back() {
            desk.begin();
            assert!(desk.project == starts[desk.course.at()], "{}, step {}", own.file, desk.course.at() + 1);
        }
        desk.course.again();
        desk.begin();
        assert!(!desk.course.can_go_on() && desk.project == starts[0]);
    }
}

#[test]
fn one_who_gives_up_is_shown_a_way_and_may_go_on() {
    for own in shipped() {
        let mut desk = Desk::open(Course::new(own.lesson().unwrap()), Units::si());
        loop {
            let commands = desk.course.show(&desk.project);
            desk.carry_out(&commands);
            if matches!(desk.course.step().task, Task::Do(_) | Task::FindSetting(_)) {
                assert!(desk.course.check(&desk.project, &desk.study, &desk.units).reached);
            }
            assert!(desk.course.can_go_on());
            desk.feedback();
            if !desk.course.go_on() {
                break;
            }
            desk.begin();
        }
        assert_eq!(desk.course.score().points, 0.0, "{}", own.file);
    }
}

/// What is told of goals follows the hand as long as they hold; once they do not, that is said, and the step may still be left.
#[test]
fn what_is_told_of_goals_follows_the_hand_while_they_hold() {
    let mut desk = Desk::open(Course::new(lesson("02")), Units::si());
    desk.course.go_to(1);
    desk.begin();
    go_through(&mut desk);
    let told = desk.feedback();
    let pump = desk.course.step().pump;
    desk.carry_out(&[Command::SetSlope(pump, 0.26)]);
    assert!(desk.check().0);
    let renewed = desk.feedback();
    assert!(renewed.0 && renewed != told && renewed.1.starts_with("Reached. "), "{renewed:?}");
    desk.carry_out(&[Command::SetSlope(pump, 0.8), Command::OpenAllZones]);
    assert!(!desk.check().0);
    let left = desk.feedback();
    assert_eq!(left, (false, renewed.1.replace("Reached. ", "Reached before; not now. ")));
    assert!(desk.course.can_go_on() && desk.course.score().points == 100.0);
    // Reached anew it is told anew.
    desk.carry_out(&[Command::SetSlope(pump, 0.26), Command::EnterScenario(scenario(&desk, "Office alone"))]);
    assert!(desk.check().0);
    assert_eq!(desk.feedback(), renewed);
    desk.course.again();
    desk.begin();
    assert!(desk.course.feedback(&desk.project, &desk.study, &desk.units).is_none());
}

fn scenario(desk: &Desk, name: &str) -> usize {
    desk.project.scenarios.iter().position(|scenario| scenario.name == name).unwrap()
}

/// What a step says of its start stays true while what it asks is done; in other units it still speaks of the start.
#[test]
fn a_steps_own_text_keeps_the_numbers_with_which_it_began() {
    let mut checked = 0;
    for own in shipped() {
        let mut desk = Desk::open(Course::new(own.lesson().unwrap()), Units::si());
        loop {
            let all = |desk: &Desk, units: &Units| {
                let (course, project, study) = (&desk.course, &desk.project, &desk.study);
                [course.text(project, study, units), course.question(project, study, units)]
            };
            let both = [Units::si(), Units::inch_pound()];
            let before = both.map(|units| all(&desk, &units));
            go_through(&mut desk);
            let pump = desk.course.step().pump;
            let left = desk.project.pump(pump).unwrap().regulation;
            desk.carry_out(&[Command::SetSpeedCap(pump, 0.61), Command::SetSlope(pump, 0.13)]);
            assert_eq!(both.map(|units| all(&desk, &units)), before, "{}, {}", own.file, desk.course.at() + 1);
            desk.carry_out(&[Command::SetSpeedCap(pump, left.speed_cap), Command::SetSlope(pump, left.slope)]);
            checked += usize::from(before[0] != before[1]);
            if !desk.course.go_on() {
                break;
            }
            desk.begin();
        }
    }
    assert!(checked > 10, "hardly a text holds a number with a unit");
}

#[test]
fn the_first_lesson_offers_only_limits_that_it_has_told_of() {
    let lesson = lesson("01");
    let mut course = Course::new(lesson.clone());
    let mut asked = 0;
    for (number, step) in lesson.steps.iter().enumerate() {
        if matches!(step.task, Task::WhichGoverns(_)) {
            course.go_to(number);
            assert_eq!(course.limits(&lesson.project), [GoverningLimit::HeadLimit, GoverningLimit::SpeedCap]);
            asked += 1;
        }
    }
    assert_eq!(asked, 2);
}

#[test]
fn a_drawing_that_has_become_another_is_noticed() {
    let mut desk = Desk::open(Course::new(lesson("01")), Units::si());
    assert!(!desk.course.is_torn(&desk.project));
    let strainer = desk.project.component_named("Strainer").unwrap();
    desk.project.apply(&Command::RemoveParts([strainer].into(), [].into())).unwrap();
    assert!(desk.course.is_torn(&desk.project));
}

#[test]
fn answers_that_a_step_does_not_ask_for_are_refused() {
    let mut desk = Desk::open(Course::new(lesson("01")), Units::si());
    let refused = desk.course.answer(Answer::Limit(GoverningLimit::SpeedCap), &desk.project);
    assert_eq!(refused, Err(CourseError::NotAsked));
    desk.course.go_to(5);
    desk.begin();
    assert_eq!(desk.course.answer(Answer::Choice(99), &desk.project), Err(CourseError::NotAsked));
    assert_eq!(desk.course.answer(Answer::Share(1.0), &desk.project), Err(CourseError::NotAsked));
}

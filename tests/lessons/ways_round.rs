//! Ways round a step that must not count: shutting everything, stopping or deleting the circulator, looking at the truth first;
//! and what must come back when a step begins anew.

use super::broken::{SOUND, parse};
use super::drive::Desk;
use super::lesson;
use headwise::document::{Command, Project};
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::engine::units::Units;
use headwise::lesson::{Answer, Course, Lesson, Task};

/// Commands that shut every zone.
fn all_shut(project: &Project) -> Vec<Command> {
    project.zones.values().filter_map(|zone| Some(Command::SetOpen(zone.valve?, false))).collect()
}

/// The sound lesson of one step with another task and other things set.
fn one_step(set: &str, task: &str) -> Lesson {
    let begin = SOUND.find("set: [").unwrap();
    let end = SOUND.find("title: \"Ask\"").unwrap();
    let end = begin + SOUND[begin..end].rfind("),").unwrap();
    let text = format!("{}set: [{set}], task: {task}{}", &SOUND[..begin], &SOUND[end..]);
    parse(&text).unwrap()
}

#[test]
fn no_zone_is_served_where_none_is_open() {
    let lesson = one_step("(head_limit_m: 5.1, slope_percent: 0, open_all: true)", "do(goals: [all_zones_served])");
    let mut desk = Desk::open(Course::new(lesson), Units::si());
    desk.carry_out(&all_shut(&desk.project.clone()));
    assert_eq!(desk.check(), (false, "No zone is open now.".to_owned()));
}

/// The words of the goals of a step and what is missing of them.
fn aims(desk: &mut Desk) -> Vec<String> {
    let progress = desk.course.check(&desk.project, &desk.study, &Units::si());
    progress.aims.into_iter().map(|aim| format!("{} {}", aim.words, aim.missing).replace('\u{a0}', " ")).collect()
}

#[test]
fn goals_say_which_circulator_what_does_not_hold_and_how_much_energy() {
    let mut desk = Desk::open(Course::new(lesson("07")), Units::si());
    desk.course.go_to(2);
    desk.begin();
    let told = aims(&mut desk).join(" ");
    assert!(told.contains("An even split does not hold: one circulator takes all"), "{told}");
    assert!(told.contains("Duty circulator moves between"), "{told}");
    let mut desk = Desk::open(Course::new(lesson("08")), Units::si());
    desk.course.go_to(1);
    desk.begin();
    let told = aims(&mut desk).join(" ");
    assert!(told.contains("at most ") && told.contains(" kWh a year"), "{told}");
}

/// What one alone takes and what both take differ by the standby of the other, which is told.
#[test]
fn the_standby_of_a_circulator_that_is_stopped_is_told() {
    let mut desk = Desk::open(Course::new(lesson("07")), Units::si());
    desk.course.go_to(3);
    desk.begin();
    let commands = desk.course.show(&desk.project);
    desk.carry_out(&commands);
    assert!(desk.check().0);
    let told = desk.feedback().1.replace('\u{a0}', " ");
    let watts = told.split(" W").filter_map(|part| part.rsplit(' ').next()?.parse::<f64>().ok());
    let [all, duty, standby, ..] = watts.collect::<Vec<_>>()[..] else { panic!("{told}") };
    assert!(standby > 1.0 && (all - duty - standby).abs() < 0.15, "{told}");
}

#[test]
fn a_circulator_that_stands_or_is_gone_serves_no_scenario() {
    let mut desk = Desk::open(Course::new(lesson("08")), Units::si());
    desk.course.go_to(2);
    desk.begin();
    let pump = desk.course.step().pump;
    let best = desk.course.clone().show(&desk.project);
    desk.carry_out(&best);
    assert!(desk.course.clone().check(&desk.project, &desk.study, &Units::si()).reached);
    desk.carry_out(&[Command::SetRunning(pump, false)]);
    assert_eq!(desk.check(), (false, "The circulator is stopped.".to_owned()));
    // One who gives up then gets a circulator that runs.
    let shown = desk.course.clone().show(&desk.project);
    assert!(shown.contains(&Command::SetRunning(pump, true)), "{shown:?}");
    desk.carry_out(&[Command::RemoveParts([pump].into(), [].into())]);
    assert_eq!(desk.check(), (false, "There is no such circulator now.".to_owned()));
}

/// What the hand is changing is not probed in every pass, but once it rests; the settings themselves need no probing.
#[test]
fn a_system_that_is_being_changed_is_probed_once_the_hand_rests() {
    let mut desk = Desk::open(Course::new(lesson("08")), Units::si());
    desk.course.go_to(2);
    desk.begin();
    desk.check();
    let pump = desk.course.step().pump;
    desk.course.hold(true);
    desk.carry_out(&[Command::SetSlope(pump, 0.1)]);
    desk.check();
    assert!(!desk.course.is_owing());
    let minimum = desk.project.pump(pump).unwrap().regulation.minimum_speed;
    desk.carry_out(&[Command::SetMinimumSpeed(pump, minimum + 0.05)]);
    assert_eq!(desk.check(), (false, "This is worked out once you let go.".to_owned()));
    assert!(desk.course.is_owing());
    desk.course.hold(false);
    assert_ne!(desk.check().1, "This is worked out once you let go.");
    assert!(!desk.course.is_owing());
}

#[test]
fn who_has_seen_the_truth_scores_nothing_by_answering_again() {
    let mut desk = Desk::open(Course::new(lesson("01")), Units::si());
    let step = desk.course.lesson().steps.iter().position(|step| matches!(step.task, Task::WhichGoverns(_))).unwrap();
    desk.course.go_to(step);
    desk.begin();
    let shown = desk.course.show(&desk.project);
    desk.carry_out(&shown);
    let governing = desk.study.results().pumps[&desk.course.step().pump].governing.unwrap();
    desk.course.again();
    desk.begin();
    desk.answer(Answer::Limit(governing));
    assert!(desk.feedback().0);
    assert_eq!(desk.course.score().points, 0.0);
}

#[test]
fn what_was_told_of_a_prediction_that_was_shown_stays() {
    let mut desk = Desk::open(Course::new(lesson("02")), Units::si());
    let step = desk.course.lesson().steps.iter().position(|step| matches!(step.task, Task::PlacePoint(_))).unwrap();
    desk.course.go_to(step);
    desk.begin();
    let shown = desk.course.show(&desk.project);
    desk.carry_out(&shown);
    let told = desk.feedback();
    let pump = desk.course.step().pump;
    desk.carry_out(&[Command::SetSlope(pump, 0.1), Command::OpenAllZones]);
    assert_eq!(desk.feedback(), told);
}

#[test]
fn fluid_design_limits_prices_and_heights_come_back() {
    let mut desk = Desk::open(Course::new(lesson("01")), Units::si());
    let start = desk.course.start();
    let strainer = desk.project.component_named("Strainer").unwrap();
    let mut other = desk.project.clone();
    other.design.supply_c += 5.0;
    other.fluid = Fluid::new(FluidKind::PropyleneGlycol, 0.3).unwrap();
    other.limits.authority += 0.1;
    other.energy.counts_standby = !other.energy.counts_standby;
    desk.carry_out(&[
        Command::SetDesign(other.design),
        Command::SetFluid(other.fluid),
        Command::SetLimits(other.limits),
        Command::SetEnergyBasis(other.energy),
        Command::SetHeight(strainer, 7.0),
    ]);
    assert!(desk.project != start && !desk.course.is_torn(&desk.project));
    desk.course.again();
    desk.begin();
    assert!(desk.project == start);
}

const PUZZLE: &str = "find_setting(seed: 1, question: \"Which?\", within_percent: 10)";
const NONE_SERVES: &str = "(valve: \"Office balancing valve\", kv_m3_per_h: 0.05)";

#[test]
fn a_setting_puzzle_that_cannot_be_made_says_so() {
    let mut desk = Desk::open(Course::new(one_step(NONE_SERVES, PUZZLE)), Units::si());
    assert!(desk.course.unmade().is_some());
    let (right, told) = desk.feedback();
    assert!(!right && told.contains("could not be made") && told.contains("No setting serves"), "{told}");
    // From a system that can be served it is made.
    let sound = Desk::open(Course::new(one_step("(open_all: true)", PUZZLE)), Units::si());
    assert_eq!(sound.course.unmade(), None);
    assert!(!desk.check().0);
}

/// A rehearsal begins where a learner does: with what the steps before have set.
#[test]
fn a_rehearsal_tries_a_setting_puzzle_with_what_was_set_before_it() {
    let set = format!("(head_limit_m: 5, slope_percent: 0), {NONE_SERVES}");
    let text = SOUND.replacen("(head_limit_m: 5, slope_percent: 0)", &set, 1);
    let begin = text.find("task: choose").unwrap();
    let end = text.find("),\n        (\n            title: \"Search\"").unwrap();
    let text = format!("{}task: {PUZZLE}{}", &text[..begin], &text[end..]);
    let steps = parse(&text).unwrap().rehearse(&Units::si());
    let flaw = steps[1].flaw.clone().unwrap_or_default();
    assert!(flaw.contains("no setting serves"), "{flaw}");
}

//! Lessons in the window: stepped by hand and by keys alone, predictions scored, the own project given back.

use super::hand::{Test, click_at, drag, pointer, project, release, sample, window, window_of};
use super::{HEAD_LIMIT, SLOPE, SPEED_CAP, settings};
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Rect, Theme, ViewportEvent, ViewportId, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use headwise::document::Command;
use headwise::lesson::{Task, shipped};
use std::path::{Path, PathBuf};

/// Works the window by the mouse alone, or by the keyboard alone.
trait Way {
    fn list(&self, test: &mut Test);
    fn begin(&self, test: &mut Test, index: usize);
    fn next(&self, test: &mut Test);
    fn answer(&self, test: &mut Test, index: usize);
    fn place(&self, test: &mut Test);
    fn share(&self, test: &mut Test);
    /// One step of a setting, up or down.
    fn step(&self, test: &mut Test, setting: &str, up: bool);
    fn work_valve(&self, test: &mut Test, button: &str);
}

struct Mouse;
struct Keys;

fn click(test: &mut Test, label: &str) {
    let at = test.get_by_label(label).rect().center();
    click_at(test, at, PointerButton::Primary, Modifiers::NONE);
    test.run_steps(2);
}

fn press(test: &mut Test, key: Key) {
    test.key_press(key);
    test.run_steps(2);
}

/// Goes with Tab to what has a label, as one does who has no mouse, and presses Enter there.
fn tab_to(test: &mut Test, label: &str) {
    for _ in 0..400 {
        if test.get_by_label(label).accesskit_node().is_focused() {
            return press(test, Key::Enter);
        }
        press(test, Key::Tab);
    }
    panic!("Tab does not lead to “{label}”");
}

impl Way for Mouse {
    fn list(&self, test: &mut Test) {
        click(test, "Lessons");
    }
    fn begin(&self, test: &mut Test, index: usize) {
        let title = shipped()[index].lesson().unwrap().title;
        let at = test.get_by_label_contains(&title).rect().center();
        click_at(test, at, PointerButton::Primary, Modifiers::NONE);
        test.run_steps(2);
    }
    fn next(&self, test: &mut Test) {
        click(test, "Next step");
    }
    fn answer(&self, test: &mut Test, index: usize) {
        let at = test.get_by_label_contains(&format!("Answer {}: ", index + 1)).rect();
        click_at(test, at.left_top() + vec2(20.0, 6.0), PointerButton::Primary, Modifiers::NONE);
        test.run_steps(2);
    }
    fn place(&self, test: &mut Test) {
        let plot = guess(test);
        click_at(test, plot.lerp_inside(vec2(0.4, 0.6)), PointerButton::Primary, Modifiers::NONE);
        click(test, "Take this point");
    }
    fn share(&self, test: &mut Test) {
        click(test, "Take this share");
    }
    fn step(&self, test: &mut Test, setting: &str, up: bool) {
        let name = setting.trim_end_matches(" handle");
        // Up on the plot is less slope.
        let more = up != (name == "Slope");
        click(test, &format!("{name} {}", if more { "more" } else { "less" }));
    }
    fn work_valve(&self, test: &mut Test, button: &str) {
        click(test, button);
    }
}

impl Way for Keys {
    fn list(&self, test: &mut Test) {
        press(test, Key::F4);
    }
    fn begin(&self, test: &mut Test, index: usize) {
        for _ in 0..index {
            press(test, Key::ArrowDown);
        }
        press(test, Key::Enter);
    }
    fn next(&self, test: &mut Test) {
        press(test, Key::PageDown);
    }
    fn answer(&self, test: &mut Test, index: usize) {
        press(test, [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5][index]);
    }
    fn place(&self, test: &mut Test) {
        // The square has the keys when the step begins.
        for key in [Key::ArrowLeft, Key::ArrowLeft, Key::ArrowUp] {
            press(test, key);
        }
        press(test, Key::Enter);
    }
    fn share(&self, test: &mut Test) {
        tab_to(test, "Take this share");
    }
    fn step(&self, test: &mut Test, setting: &str, up: bool) {
        let handle = test.get_by_label(setting);
        if !handle.accesskit_node().is_focused() {
            handle.focus();
            test.run_steps(2);
        }
        press(test, if up { Key::ArrowUp } else { Key::ArrowDown });
    }
    fn work_valve(&self, test: &mut Test, button: &str) {
        tab_to(test, button);
    }
}

/// Where the point is placed: the plot, while it is asked for.
fn guess(test: &Test) -> Rect {
    test.get_by_label_contains("Your operating point: ").rect()
}

fn is_shown(test: &Test, label: &str) -> bool {
    test.query_all_by_label_contains(label).next().is_some()
}

/// Steps a setting until it stands where it should.
fn bring(test: &mut Test, way: &dyn Way, handle: &str, wanted: f64, is: impl Fn(&Test) -> f64, up_is_more: bool) {
    for _ in 0..400 {
        let off = wanted - is(test);
        if off.abs() < 1e-6 {
            return;
        }
        way.step(test, handle, (off > 0.0) == up_is_more);
    }
    panic!("{handle} does not come to {wanted}, but to {}", is(test));
}

fn carry_out(test: &mut Test, way: &dyn Way, command: &Command) {
    match command {
        Command::SetHeadLimit(_, Some(to)) => {
            bring(test, way, HEAD_LIMIT, *to, |test| settings(test).head_limit_m.unwrap(), true);
        }
        Command::SetSlope(_, to) => bring(test, way, SLOPE, *to, |test| settings(test).slope, false),
        Command::SetSpeedCap(_, to) => bring(test, way, SPEED_CAP, *to, |test| settings(test).speed_cap, true),
        Command::SetOpen(valve, open) => {
            let zone = project(test).zones.values().find(|zone| zone.valve == Some(*valve)).unwrap();
            if project(test).is_zone_shut(zone) == *open {
                let button = format!("{} {}", if *open { "Open" } else { "Shut" }, zone.name);
                way.work_valve(test, &button);
            }
        }
        Command::OpenAllZones => way.work_valve(test, "Open all"),
        other => panic!("the first lesson asks for {other:?}, which this hand does not know"),
    }
}

/// Works through the first lesson, doing what each step asks.
fn work_through(way: &dyn Way) {
    let lesson = shipped()[0].lesson().unwrap();
    let mut test = window();
    let own = project(&test).clone();
    way.list(&mut test);
    way.begin(&mut test, 0);
    assert!(is_shown(&test, &format!("Lesson: {}", lesson.title)));
    for (index, step) in lesson.steps.iter().enumerate() {
        let place = format!("Step {} of {}", index + 1, lesson.steps.len());
        assert!(is_shown(&test, &place), "{place} is not shown");
        assert!(is_shown(&test, &step.title), "{} is not shown", step.title);
        match &step.task {
            Task::Read => {}
            Task::Do(errand) => errand.solution.iter().for_each(|command| carry_out(&mut test, way, command)),
            Task::Choose { answers, .. } => {
                let right = answers.iter().position(|answer| answer.right).unwrap();
                way.answer(&mut test, right);
            }
            Task::WhichGoverns(_) => way.answer(&mut test, 0),
            Task::PlacePoint(_) => way.place(&mut test),
            Task::PredictZone(..) => way.share(&mut test),
            Task::FindFault(_) | Task::FindSetting(_) => panic!("no puzzle belongs into the first lesson"),
        }
        test.run_steps(2);
        if index + 1 < lesson.steps.len() {
            way.next(&mut test);
            assert!(!is_shown(&test, &place), "{place} is not left");
        }
    }
    // At the end the way on leads to the other lessons.
    assert!(is_shown(&test, "Next lesson…"));
    click(&mut test, "Leave lesson");
    assert_eq!(*project(&test), own);
    assert!(!is_shown(&test, "Leave lesson"));
}

#[test]
fn the_first_lesson_is_worked_through_by_the_mouse_alone() {
    work_through(&Mouse);
}

#[test]
fn the_first_lesson_is_worked_through_by_keys_alone() {
    work_through(&Keys);
}

/// A lesson of one's own in a file, begun.
fn own_lesson(test: &mut Test, folder: &Path, steps: &str) -> PathBuf {
    std::fs::copy(sample("fernhollow-library.ron"), folder.join("library.ron")).unwrap();
    let path = folder.join("own.ron");
    let text = format!("(lesson: 1, title: \"Own\", about: \"Of a test\", project: \"library.ron\", steps: [{steps}])");
    std::fs::write(&path, text).unwrap();
    press(test, Key::F4);
    // The list finds its size.
    test.run_steps(8);
    click(test, "Open a lesson file…");
    test.get_by_label("File").type_text(&path.display().to_string());
    test.run_steps(2);
    press(test, Key::Enter);
    test.run_steps(2);
    path
}

/// The library at its sample's settings; then the zones beyond the first are shut.
const PLACE: &str = "(title: \"Guess\", text: \"Where will it be?\", set: [(open_all: true)], look_at: [plot], task: \
    place_point(question: \"It works at {flow}. Where does it go?\", after: [(shut: [\"Reading-room floor\", \"Children's floor\"])], because: \
    \"Less flow.\"))";

#[test]
fn a_point_far_off_scores_nothing_and_the_truth_is_drawn_with_the_distance() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    own_lesson(&mut test, folder.path(), PLACE);
    let shown = |test: &Test| project(test).zones.values().filter(|zone| project(test).is_zone_shut(zone)).count();
    assert_eq!(shown(&test), 0);
    let question = |test: &Test| test.get_by_label_contains("Where does it go?").value().unwrap_or_default();
    let asked = question(&test);
    // The upper right corner: much flow and much head, where no pump is.
    let corner = guess(&test).right_top() + vec2(-12.0, 12.0);
    click_at(&mut test, corner, PointerButton::Primary, Modifiers::NONE);
    click(&mut test, "Take this point");
    assert_eq!(shown(&test), 2, "what follows was not set");
    assert!(is_shown(&test, "Far off: "), "the distance is not told");
    assert!(is_shown(&test, "too far right"));
    assert!(is_shown(&test, "0 of 100 points"));
    assert!(is_shown(&test, "Less flow."));
    assert_eq!(question(&test), asked, "the question is filled in with what came of it");
    assert!(asked.contains("m³/h"), "{asked}");
    // The truth is out: the square does not move any more.
    assert!(test.query_by_label_contains("Your operating point: ").is_none());
    // Anew the zones are open and the question is put again.
    click(&mut test, "Again");
    assert_eq!(shown(&test), 0);
    guess(&test);
}

#[test]
fn arrow_keys_move_the_square_and_shift_moves_it_finely() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    own_lesson(&mut test, folder.path(), PLACE);
    let told = |test: &Test| {
        let node = test.get_by_label_contains("Your operating point: ");
        let label = node.accesskit_node().label().unwrap();
        let numbers = label.split(&[' ', '\u{a0}'][..]).filter_map(|word| word.parse::<f64>().ok());
        <[f64; 2]>::try_from(numbers.collect::<Vec<_>>()).unwrap()
    };
    let begun = told(&test);
    press(&mut test, Key::ArrowRight);
    press(&mut test, Key::ArrowDown);
    let moved = told(&test);
    assert!(moved[0] > begun[0] && moved[1] < begun[1], "{begun:?} {moved:?}");
    for _ in 0..100 {
        press(&mut test, Key::ArrowLeft);
    }
    assert_eq!(told(&test)[0], 0.0, "it stays on the plot");
    test.key_press_modifiers(Modifiers::SHIFT, Key::ArrowRight);
    test.run_steps(2);
    let fine = told(&test)[0];
    assert!(fine > 0.0 && fine < 0.3 * (moved[0] - begun[0]), "{fine} is not fine");
}

#[test]
fn nothing_moves_before_the_prediction_is_given() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    own_lesson(&mut test, folder.path(), PLACE);
    let before = project(&test).clone();
    let start = test.get_by_label(HEAD_LIMIT).rect().center();
    for (at, pressed) in [(start, true), (start + vec2(0.0, 60.0), true), (start + vec2(0.0, 60.0), false)] {
        test.event(Event::PointerMoved(at));
        test.step();
        pointer(&test, at, pressed);
        test.step();
    }
    click(&mut test, "Shut Office radiators");
    assert_eq!(*project(&test), before);
    assert!(is_shown(&test, "The lesson asks for a prediction first."));
    // Afterwards the settings are free.
    click(&mut test, "Take this point");
    let end = drag(&mut test, HEAD_LIMIT, vec2(0.0, 40.0));
    release(&mut test, end);
    assert!(settings(&test).head_limit_m < before.pumps().next().unwrap().1.regulation.head_limit_m);
}

#[test]
fn what_governs_now_is_not_given_away_before_it_is_answered() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    let ask = "(title: \"Ask\", text: \"Look.\", set: [(open_all: true)], look_at: [plot], task: \
        which_governs(question: \"Which one?\", because: \"So it is.\"))";
    own_lesson(&mut test, folder.path(), ask);
    assert!(!is_shown(&test, "governs at"), "the sentence says it");
    assert!(is_shown(&test, "Answer 1: The set-line"));
    // A key that is meant for what lies over the panes answers nothing.
    press(&mut test, Key::F4);
    press(&mut test, Key::Num4);
    press(&mut test, Key::Escape);
    assert!(!is_shown(&test, "Not the minimum speed"), "answered under the list of lessons");
    press(&mut test, Key::Num4);
    assert!(is_shown(&test, "Not the minimum speed"));
    assert!(is_shown(&test, "not this"), "the wrong answer is not marked");
    assert!(is_shown(&test, "this one"), "the right answer is not marked");
    assert!(is_shown(&test, "0 of 100 points"));
}

#[test]
fn an_errand_says_what_is_missing_until_it_is_done() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    let steps = "(title: \"Shut\", text: \"Shut it.\", set: [(open_all: true)], look_at: [zones], task: \
        do(goals: [zone_shut(\"Office radiators\")], because: \"Done.\")), (title: \"End\", text: \"End.\", look_at: [], task: read)";
    own_lesson(&mut test, folder.path(), steps);
    press(&mut test, Key::PageDown);
    assert!(is_shown(&test, "Step 1 of 2"), "what is not done is not left");
    assert!(is_shown(&test, "not yet"));
    click(&mut test, "Shut Office radiators");
    assert!(is_shown(&test, "Reached."));
    press(&mut test, Key::PageDown);
    assert!(is_shown(&test, "Step 2 of 2"));
    press(&mut test, Key::PageUp);
    assert!(is_shown(&test, "Step 1 of 2"));
    let office = project(&test).zones.values().find(|zone| zone.name == "Office radiators").unwrap();
    assert!(!project(&test).is_zone_shut(office), "a step back begins as it was set");
}

#[test]
fn a_lesson_is_stepped_by_keys_in_the_presentation_view() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    let steps = "(title: \"One\", text: \"Read.\", set: [(open_all: true)], task: read), (title: \"Two\", text: \"Read on.\", \
        set: [(shut: [\"Office radiators\"])], task: read)";
    own_lesson(&mut test, folder.path(), steps);
    press(&mut test, Key::F5);
    assert!(test.query_by_label("Project").is_none(), "this is not the presentation view");
    assert!(is_shown(&test, "Step 1 of 2"));
    press(&mut test, Key::PageDown);
    assert!(is_shown(&test, "Step 2 of 2"));
    let shut = |test: &Test| project(test).zones.values().filter(|zone| project(test).is_zone_shut(zone)).count();
    // The key steps the lesson and no scenario besides.
    assert_eq!(shut(&test), 1);
    press(&mut test, Key::PageUp);
    assert!(is_shown(&test, "Step 1 of 2"));
    assert_eq!(shut(&test), 0);
}

#[test]
fn leaving_gives_the_own_project_back_with_its_unsaved_changes_and_its_steps() {
    let mut test = window();
    let before = project(&test).clone();
    let end = drag(&mut test, SLOPE, vec2(0.0, 40.0));
    release(&mut test, end);
    let changed = project(&test).clone();
    press(&mut test, Key::F4);
    press(&mut test, Key::Enter);
    assert!(is_shown(&test, "Leave lesson"));
    click(&mut test, "Leave lesson");
    assert_eq!(*project(&test), changed);
    assert!(test.state().as_ref().unwrap().desk().is_changed());
    test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    test.run_steps(2);
    assert_eq!(*project(&test), before);
}

#[test]
fn closing_the_window_in_a_lesson_asks_about_the_own_project() {
    let mut test = window();
    let end = drag(&mut test, SLOPE, vec2(0.0, 40.0));
    release(&mut test, end);
    let changed = project(&test).clone();
    press(&mut test, Key::F4);
    press(&mut test, Key::Enter);
    test.input_mut().viewports.entry(ViewportId::ROOT).or_default().events.push(ViewportEvent::Close);
    test.step();
    test.input_mut().viewports.entry(ViewportId::ROOT).or_default().events.clear();
    test.run_steps(2);
    assert!(is_shown(&test, "Unsaved changes"));
    click(&mut test, "Stay here");
    assert_eq!(*project(&test), changed);
}

#[test]
fn opening_another_file_in_a_lesson_asks_about_the_own_project() {
    let mut test = window();
    let end = drag(&mut test, SLOPE, vec2(0.0, 40.0));
    release(&mut test, end);
    let changed = project(&test).clone();
    press(&mut test, Key::F4);
    press(&mut test, Key::Enter);
    test.key_press_modifiers(Modifiers::COMMAND, Key::N);
    test.run_steps(3);
    assert!(is_shown(&test, "Unsaved changes"));
    click(&mut test, "Stay here");
    assert_eq!(*project(&test), changed);
}

#[test]
fn a_lesson_is_not_saved_over_anything() {
    let mut test = window();
    press(&mut test, Key::F4);
    press(&mut test, Key::Enter);
    test.key_press_modifiers(Modifiers::COMMAND, Key::S);
    test.run_steps(2);
    assert!(is_shown(&test, "A lesson works on a system of its own"));
    assert!(test.query_by_label("Save the project").is_none());
}

#[test]
fn a_broken_lesson_file_says_line_and_reason_and_the_own_project_stays() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    let before = project(&test).clone();
    let broken = PLACE.replace("Reading-room floor", "Reading-room flor");
    own_lesson(&mut test, folder.path(), &broken);
    assert!(is_shown(&test, "This lesson was not begun."));
    assert!(is_shown(&test, "line 1"));
    assert!(is_shown(&test, "perhaps “Reading-room floor” is meant"));
    assert_eq!(*project(&test), before);
    assert!(!is_shown(&test, "Leave lesson"));
}

#[test]
fn nothing_moves_as_the_texts_of_a_lesson_change() {
    for size in [vec2(1280.0, 800.0), vec2(1024.0, 680.0), vec2(1920.0, 1080.0)] {
        let folder = tempfile::tempdir().unwrap();
        let mut test = window_of(size, Theme::Dark);
        own_lesson(&mut test, folder.path(), &format!("{PLACE}, {PLACE}"));
        let places = |test: &Test| -> Vec<Pos2> {
            ["Next step", "Leave lesson", "Drawing of the system"]
                .map(|label| test.get_by_label(label).rect().min)
                .to_vec()
        };
        let before = places(&test);
        click(&mut test, "Show me");
        assert_eq!(places(&test), before, "at {size:?}");
        for zone in ["Office radiators", "Reading-room floor"] {
            assert!(is_shown(&test, &format!("{zone}: ")), "{zone} is not in sight at {size:?}");
        }
    }
}

/// What is said of a wrong answer stands beside the answers, which stay where they are; the next step is read from its top.
#[test]
fn a_wrong_answer_leaves_the_answers_in_sight() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window_of(vec2(1280.0, 800.0), Theme::Dark);
    let ask = "(title: \"Ask\", text: \"Look.\", task: choose(question: \"Which one?\", answers: [(text: \"This\", because: \"No.\"), \
        (text: \"That\", because: \"Not so either, for the water knows nothing of it.\"), (text: \"The third\", right: true, because: \"Yes.\")]))";
    own_lesson(&mut test, folder.path(), &format!("{ask}, {ask}"));
    let places =
        |test: &Test| ["Answer 1: ", "Answer 2: ", "Answer 3: "].map(|label| test.get_by_label_contains(label).rect());
    let before = places(&test);
    press(&mut test, Key::Num2);
    test.run_steps(8);
    assert_eq!(places(&test), before);
    let said = test.get_by_label_contains("Not so either").rect();
    assert!(said.right() < before[0].left(), "{said:?} is not beside {before:?}");
    let drawing = test.get_by_label("Drawing of the system").rect();
    assert!(said.bottom() < drawing.top() && before[2].bottom() < drawing.top());
    press(&mut test, Key::Num3);
    press(&mut test, Key::PageDown);
    assert!(is_shown(&test, "Step 2 of 2") && !is_shown(&test, "Not so either"));
    assert_eq!(places(&test), before);
}

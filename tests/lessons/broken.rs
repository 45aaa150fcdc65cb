//! Mistakes of a trainer: each is told with file and line, what is wrong and what to do.

use headwise::file;
use headwise::lesson::{Lesson, LessonError};
use std::path::Path;

/// A lesson without a flaw.
pub const SOUND: &str = r#"(
    lesson: 1,
    title: "Sound",
    about: "A lesson without a flaw.",
    project: "library",
    steps: [
        (
            title: "Begin",
            text: "The circulator moves {flow},
                and the office gets {share of Office radiators}.",
            set: [(head_limit_m: 5, slope_percent: 0)],
            look_at: [plot, zone("Office radiators")],
            task: do(
                goals: [governs(speed_cap), zone_share(zone: "Office radiators", least_percent: 90)],
                solution: [(speed_cap_percent: 90)],
            ),
        ),
        (
            title: "Ask",
            text: "Which one?",
            task: choose(
                question: "Which?",
                answers: [(text: "This.", right: true), (text: "That.")],
            ),
        ),
        (
            title: "Search",
            text: "Something is wrong.",
            task: find_fault(
                seed: 1,
                question: "What?",
                suspects: [
                    nothing,
                    fouled_strainer(component: "Strainer", kv_percent: 30),
                ],
            ),
        ),
    ],
)"#;

pub fn parse(text: &str) -> Result<Lesson, LessonError> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron");
    Lesson::parse(text, "house.ron", &|name| match name {
        "library" => file::load(&path),
        other => file::load(Path::new(other)),
    })
}

/// The sound lesson with one piece put in the place of another must be refused on the line where `at` stands.
#[track_caller]
fn refused(old: &str, new: &str, at: &str, words: &[&str]) {
    assert!(SOUND.contains(old), "{old}");
    let text = SOUND.replacen(old, new, 1);
    let message = match parse(&text) {
        Ok(_) => panic!("should be refused: {new}"),
        Err(error) => error.to_string(),
    };
    let line = 1 + text[..text.find(at).unwrap_or_else(|| panic!("{at}"))].matches('\n').count();
    assert!(message.contains(&format!("house.ron, line {line}")), "not on line {line}: {message}");
    for word in words {
        assert!(message.contains(word), "“{word}” is not in: {message}");
    }
    assert!(message.ends_with('.'), "{message}");
}

#[test]
fn the_sound_one_is_read() {
    let lesson = parse(SOUND).unwrap();
    assert_eq!(lesson.steps.len(), 3);
    assert_eq!(lesson.steps[1].line, 18);
}

#[test]
fn names_that_are_not_there_give_the_nearest() {
    let steps = ["step 1, “Begin”", "perhaps “Office radiators” is meant"];
    refused(r#"zone("Office radiators")"#, r#"zone("Ofice radiators")"#, "Ofice", &steps);
    refused(r#"zone: "Office radiators""#, r#"zone: "Office radiator""#, "zone: \"Office radiator\"", &steps);
    refused("share of Office radiators", "share of Office", "share of Office", &steps);
    refused(
        "component: \"Strainer\"",
        "component: \"Stainer\"",
        "Stainer",
        &["“Strainer” is meant", "step 3, “Search”"],
    );
    refused("component: \"Strainer\"", "component: \"Heat pump\"", "component: \"Heat pump\"", &["is no strainer"]);
}

#[test]
fn gaps_that_nothing_is_known_of_are_told() {
    refused("{flow}", "{flux}", "{flux}", &["“flux”", "flow, head, power", "step 1"]);
    refused("{flow}", "{flow", "{flow", &["curly bracket is not closed"]);
    refused("The circulator moves {flow},\n", "The circulator\n moves {wind of Hall},\n", "moves {wind", &["“wind”"]);
}

#[test]
fn what_cannot_be_set_or_reached_is_told() {
    refused("slope_percent: 0", "slope_percent: 140", "slope_percent: 140", &["between 0 and 100 %"]);
    refused("(head_limit_m: 5, slope_percent: 0)", "()", "set:", &["is empty"]);
    refused("(head_limit_m: 5, slope_percent: 0)", "(scenario: \"Night\")", "Night", &["no scenario “Night”"]);
    refused(
        "(head_limit_m: 5, slope_percent: 0)",
        "(pipes: [\"Main 1 flow\"])",
        "Main 1",
        &["neither bore_mm nor size"],
    );
    refused("governs(speed_cap)", "head_limit_m(least: 50)", "head_limit_m(least", &["cannot reach head_limit_m"]);
    refused("governs(speed_cap)", "flow_m3_per_h(least: 2, most: 1)", "flow_m3_per_h", &["exchange the two"]);
    refused("governs(speed_cap)", "power_w(least: 1, most: NaN)", "power_w", &["an end of its band is no number"]);
    refused("governs(speed_cap)", "power_w(least: NaN, most: 1)", "power_w", &["an end of its band is no number"]);
    refused("governs(speed_cap)", "power_w()", "power_w", &["neither a least nor a most"]);
    refused(", least_percent: 90", "", "zone: \"Office radiators\"", &["neither a least nor a most"]);
}

#[test]
fn what_is_missing_is_told() {
    refused("\"Which one?\"", "\"\"", "text: \"\"", &["step 2, “Ask”", "has no text"]);
    refused("right: true", "right: false", "answers", &["none of its answers is right"]);
    refused(", (text: \"That.\")", "", "answers", &["only one answer"]);
    refused("question: \"Which?\"", "question: \" \"", "question: \" \"", &["question is empty"]);
    refused("nothing,\n", "\n", "suspects", &["at least two suspects"]);
    // Known to be missing only where its step ends.
    refused("title: \"Ask\",", "", "),\n        (\n            title: \"Search\"", &["the field “title” is missing"]);
}

/// Else the answer would be in sight.
#[test]
fn a_point_can_be_asked_for_only_after_a_change() {
    let asked = "task: place_point(question: \"Where?\", after: [(shut: [\"Office radiators\"])])";
    let choose = &SOUND
        [SOUND.find("task: choose").unwrap()..SOUND.find("),\n        (\n            title: \"Search\"").unwrap()];
    assert!(parse(&SOUND.replacen(choose, asked, 1)).is_ok());
    for after in ["", ", after: []"] {
        let new = format!("task: place_point(question: \"Where?\"{after})");
        refused(choose, &new, "place_point", &["step 2, “Ask”", "in sight already", "write in “after”"]);
    }
}

#[test]
fn what_does_not_read_is_told_with_line_and_column() {
    refused("question: \"Which?\"", "query: \"Which?\"", "query", &["column", "no field “query”", "question"]);
    refused("look_at: [plot,", "look_at: [plott,", "plott", &["“plott” is not known here"]);
    refused("head_limit_m: 5", "head_limit: 5", "head_limit: 5", &["no field “head_limit”", "head_limit_m"]);
    refused("kv_percent: 30", "kv_percent: thirty", "thirty", &["number"]);
}

#[test]
fn a_text_that_is_no_lesson_or_a_later_one_is_told() {
    let message = |text: &str| parse(text).unwrap_err().to_string();
    assert!(message("(title: \"x\")").contains("a lesson begins with “lesson: 1”"));
    assert!(message("(lesson: 0)").contains("a lesson begins with “lesson: 1”"));
    assert!(
        message(&SOUND.replace("lesson: 1", "lesson: 2"))
            .contains("has lesson format 2; this version reads formats up to 1")
    );
    assert!(message("(lesson: 1").contains("line 1"));
    assert!(message("").contains("line 1"));
    assert!(message(&SOUND.replace("\"library\"", "\"nowhere.ron\"")).contains("house.ron, line 5: the project"));
    assert!(message("(lesson: 1, title: \"a\", about: \"b\", project: \"library\", steps: [])").contains("no step"));
}

#[test]
fn a_text_cut_anywhere_is_refused_without_a_panic() {
    for (at, _) in SOUND.char_indices().filter(|(at, _)| at % 7 == 0) {
        assert!(parse(&SOUND[..at]).is_err());
    }
}

/// What reads but cannot be gone through is for the rehearsal to say.
#[test]
fn a_rehearsal_finds_goals_that_are_reached_at_once_and_solutions_that_do_not_reach_them() {
    let flaw = |old: &str, new: &str| {
        let lesson = parse(&SOUND.replacen(old, new, 1)).unwrap();
        let steps = lesson.rehearse(&headwise::engine::units::Units::si());
        steps.into_iter().find_map(|step| Some((step.line, step.flaw?)))
    };
    assert_eq!(flaw("Sound", "Sound"), None);
    let (line, reached) = flaw("governs(speed_cap), ", "governs(head_limit), ").unwrap();
    assert!(line == 7 && reached.contains("reached before anything is done"), "{reached}");
    let (_, missed) = flaw("(speed_cap_percent: 90)", "(speed_cap_percent: 97)").unwrap();
    assert!(missed.contains("does not reach its goal “The speed cap governs.”"), "{missed}");
    let (_, alike) = flaw("kv_percent: 30", "kv_percent: 100").unwrap();
    assert!(alike.contains("no test tells"), "{alike}");
    // Readings that differ by less than an estimated flow may be off tell nothing.
    let (_, near) = flaw("kv_percent: 30", "kv_percent: 90").unwrap();
    assert!(near.contains("no test tells"), "{near}");
}

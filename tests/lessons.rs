//! Lessons as a learner and a trainer meet them: every shipped lesson can be gone through from its first step to its last, with
//! wrong answers on the way; mistakes in a file are told with their line; puzzles are the same on every machine.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "lessons/broken.rs"]
mod broken;
#[path = "lessons/drive.rs"]
mod drive;
#[path = "lessons/puzzles.rs"]
mod puzzles;
#[path = "lessons/ways_round.rs"]
mod ways_round;

use headwise::engine::units::Units;
use headwise::lesson::{Lesson, shipped};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/lessons")
}

/// A shipped lesson by the beginning of its file's name.
fn lesson(number: &str) -> Lesson {
    shipped().iter().find(|own| own.file.starts_with(number)).unwrap().lesson().unwrap()
}

#[test]
fn every_lesson_of_the_folder_is_shipped_and_reads_alike_from_the_disk() {
    let files = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let files: BTreeSet<String> = files.filter(|name| name.ends_with(".ron")).collect();
    assert_eq!(files, shipped().iter().map(|own| own.file.to_owned()).collect());
    assert!(files.len() >= 8);
    for own in shipped() {
        let [embedded, read] = [own.lesson().unwrap(), Lesson::load(&folder().join(own.file)).unwrap()];
        assert_eq!(embedded.title, read.title);
        assert_eq!(embedded.project, read.project, "{}", own.file);
        assert!(!embedded.about.is_empty() && embedded.steps.len() >= 4, "{}", own.file);
    }
}

#[test]
fn every_shipped_lesson_can_be_gone_through() {
    for own in shipped() {
        let lesson = own.lesson().unwrap();
        for units in [Units::si(), Units::inch_pound()] {
            for step in lesson.rehearse(&units) {
                assert_eq!(step.flaw, None, "{}, line {}: {}", own.file, step.line, step.title);
            }
        }
    }
}

/// What is computed, and what has a unit that a reader may want in another one, stands in a gap.
#[test]
fn no_lesson_holds_a_number_with_a_unit_outside_a_gap() {
    for own in shipped() {
        let mut outside = String::new();
        for part in own.text.split('"').skip(1).step_by(2) {
            let mut depth = 0;
            outside.extend(part.chars().filter(|c| {
                depth += i32::from(*c == '{');
                let keep = depth == 0;
                depth -= i32::from(*c == '}');
                keep
            }));
            outside.push('\n');
        }
        let words: Vec<&str> = outside.split_whitespace().collect();
        for pair in words.windows(2).filter(|pair| pair[0].ends_with(|c: char| c.is_ascii_digit())) {
            let unit = pair[1].trim_end_matches(['.', ',', ';', '?', ':']);
            assert!(
                ![
                    "m", "m³/h", "m3/h", "W", "kW", "kPa", "Pa", "kWh", "°C", "K", "ft", "gpm", "psi", "l/s", "metre",
                    "watt"
                ]
                .contains(&unit),
                "{}: {pair:?}",
                own.file
            );
        }
    }
}

/// Texts are short: a learner reads them beside the plot.
#[test]
fn texts_are_short_and_calm() {
    for own in shipped() {
        assert!(!own.text.contains('!'), "{}", own.file);
        for text in own.text.split('"').skip(1).step_by(2) {
            assert!(text.split_whitespace().count() <= 95, "{}: {text}", own.file);
        }
    }
}

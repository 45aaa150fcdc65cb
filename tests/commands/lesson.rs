//! `lesson`: the shipped ones are listed, a file is tried from beginning to end, and a flaw ends with its line and code 1.

use super::{headwise, refused};
use std::fs;
use std::path::Path;

fn shipped(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/lessons").join(name).display().to_string()
}

#[test]
fn the_shipped_lessons_are_listed() {
    let ran = headwise(&["lesson"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.starts_with("01-head-limit.ron\n    What a head limit does. "), "{}", ran.out);
    assert!(ran.out.lines().count() >= 16);
}

#[test]
fn a_lesson_is_tried_from_beginning_to_end() {
    let by_path = headwise(&["lesson", &shipped("01-head-limit.ron")]);
    assert_eq!((by_path.code, by_path.err.as_str()), (0, ""));
    assert!(by_path.out.contains("Which limit governs? The head limit."), "{}", by_path.out);
    assert!(by_path.out.contains("Place the point: "), "{}", by_path.out);
    let by_name = headwise(&["lesson", "01-head-limit.ron", "--units", "inch-pound"]);
    assert_eq!(by_name.code, 0);
    assert!(by_name.out.contains("gpm") && !by_name.out.contains("m³/h"), "{}", by_name.out);
}

#[test]
fn a_broken_lesson_names_line_and_reason() {
    let folder = tempfile::tempdir().unwrap();
    let project = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron");
    let text = fs::read_to_string(shipped("01-head-limit.ron")).unwrap();
    let text = text.replace("../fernhollow-library.ron", &project.display().to_string().replace('\\', "/"));
    let path = folder.path().join("mine.ron");
    let name = path.display().to_string();
    let line = |text: &str, piece: &str| 1 + text[..text.find(piece).unwrap()].matches('\n').count();

    let broken = text.replacen("zone_shut(\"Reading-room floor\")", "zone_shut(\"Reading floor\")", 1);
    fs::write(&path, &broken).unwrap();
    let place = format!("mine.ron, line {}: step 1", line(&broken, "Reading floor"));
    refused(&["lesson", &name], 1, &[&place, "perhaps “Reading-room floor” is meant"]);

    // It reads, but its goal is reached before anything is done.
    let idle = text.replacen(
        "speed_cap_percent: 100, reference_flow: full_speed, open_all: true",
        "shut: [\"Reading-room floor\"]",
        1,
    );
    fs::write(&path, &idle).unwrap();
    let place = format!("mine.ron, line {}: step 1", line(&idle, "(\n            title: \"Where"));
    refused(&["lesson", &name], 1, &[&place, "reached before anything is done"]);

    refused(&["lesson", &folder.path().join("none.ron").display().to_string()], 1, &["there is no such file"]);
}

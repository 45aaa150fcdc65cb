//! What is half typed is neither left out of a save nor lost with the window.

use super::hand::{Test, project, sample, window};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, ViewportEvent, ViewportId};
use egui_kittest::kittest::Queryable;
use headwise::file;
use std::path::Path;

const NOTE: &str = "Ask for the key of the plant room";

/// The window on a file, a note half typed.
fn typing(path: &Path) -> Test {
    let mut test = window();
    test.state_mut().as_mut().unwrap().open(path);
    test.get_by_label("Draw").click();
    test.run_steps(3);
    test.get_by_role_and_label(Role::MultilineTextInput, "Notes").click();
    test.run_steps(2);
    test.event(Event::Text(NOTE.to_owned()));
    test.run_steps(2);
    assert!(!project(&test).notes.contains(NOTE), "the field is not left yet");
    test
}

#[test]
fn a_note_half_typed_is_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("library.ron");
    std::fs::copy(sample("fernhollow-library.ron"), &path).unwrap();
    let mut test = typing(&path);
    test.key_press_modifiers(Modifiers::COMMAND, Key::S);
    test.run_steps(3);
    assert!(project(&test).notes.contains(NOTE));
    assert!(file::load(&path).unwrap().notes.contains(NOTE));
}

#[test]
fn a_note_half_typed_keeps_the_window_open() {
    let mut test = typing(&sample("fernhollow-library.ron"));
    let viewport = test.input_mut().viewports.entry(ViewportId::ROOT).or_default();
    viewport.events.push(ViewportEvent::Close);
    test.step();
    test.input_mut().viewports.entry(ViewportId::ROOT).or_default().events.clear();
    test.run_steps(2);
    assert!(project(&test).notes.contains(NOTE));
    assert!(test.query_by_label("Discard changes").is_some());
}

#[test]
fn a_note_half_typed_is_kept_when_the_work_changes() {
    let mut test = typing(&sample("fernhollow-library.ron"));
    test.key_press(Key::F3);
    test.run_steps(3);
    assert!(project(&test).notes.contains(NOTE));
}

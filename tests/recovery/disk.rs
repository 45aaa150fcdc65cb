//! A file that another program changes or removes while it is open.

use super::place::*;
use egui_kittest::kittest::Queryable;
use headwise::app::Pace;
use headwise::document::Project;
use headwise::file::load;
use std::fs;
use std::time::Duration;

/// Another program changes the title in the file.
fn change_from_outside(place: &Place) -> Project {
    let mut other = load(&place.file()).unwrap();
    other.title = "Changed elsewhere".to_owned();
    headwise::file::save(&other, &place.file()).unwrap();
    other
}

const CHANGED: &str = "clinic.ron was changed on disk by another program.";

#[test]
fn a_change_on_disk_is_noticed_and_loaded() {
    let place = Place::new();
    let mut test = place.on_clinic();
    a_while(&mut test);
    assert!(test.query_by_label(CHANGED).is_none());
    let other = change_from_outside(&place);
    until_shown(&mut test, CHANGED);
    click(&mut test, "Load that version");
    assert_eq!(project(&test), other);
    assert!(!desk(&test).is_changed());
    a_while(&mut test);
    assert!(test.query_by_label(CHANGED).is_none());
}

#[test]
fn loading_the_other_version_asks_about_unsaved_changes() {
    let place = Place::new();
    let mut test = place.on_clinic();
    change(&mut test);
    let mine = project(&test);
    let other = change_from_outside(&place);
    until_shown(&mut test, CHANGED);
    click(&mut test, "Load that version");
    assert!(test.query_by_label("Unsaved changes").is_some());
    assert_eq!(project(&test), mine);
    click(&mut test, "Discard changes");
    assert_eq!(project(&test), other);
    until(&mut test, "the copy to go", |_| place.kept().is_empty());
}

#[test]
fn keeping_mine_leaves_the_file_until_it_is_saved() {
    let place = Place::new();
    let mut test = place.on_clinic();
    let mine = project(&test);
    let other = change_from_outside(&place);
    until_shown(&mut test, CHANGED);
    click(&mut test, "Keep mine");
    a_while(&mut test);
    assert!(test.query_by_label(CHANGED).is_none());
    // What is in the window is in no file any more.
    assert!(desk(&test).is_changed());
    assert_eq!(load(&place.file()).unwrap(), other);
    save(&mut test);
    assert_eq!(load(&place.file()).unwrap(), mine);
    assert!(!desk(&test).is_changed());
}

#[test]
fn saving_over_a_changed_file_asks_even_before_it_was_noticed() {
    let place = Place::new();
    let hour = Duration::from_secs(3600);
    let mut test = place.window(Pace { look: hour, ..SOON }, Some(place.file()));
    change(&mut test);
    let mine = project(&test);
    let other = change_from_outside(&place);
    save(&mut test);
    assert!(test.query_by_label("The file was changed meanwhile").is_some());
    assert_eq!(load(&place.file()).unwrap(), other);
    click(&mut test, "Do not save");
    assert!(desk(&test).is_changed());
    assert_eq!(load(&place.file()).unwrap(), other);
    save(&mut test);
    click(&mut test, "Save over it");
    assert_eq!(load(&place.file()).unwrap(), mine);
    assert!(!desk(&test).is_changed());
    // Its own save is no change from outside.
    change(&mut test);
    save(&mut test);
    assert!(test.query_by_label("The file was changed meanwhile").is_none());
    assert_eq!(load(&place.file()).unwrap(), project(&test));
}

#[test]
fn recovered_work_does_not_go_over_a_newer_file_unasked() {
    let place = Place::new();
    let held = crash(&place);
    let other = change_from_outside(&place);
    let mut test = place.window(SOON, None);
    click(&mut test, "Recover Alder Point Clinic");
    save(&mut test);
    assert!(test.query_by_label("The file was changed meanwhile").is_some());
    assert_eq!(load(&place.file()).unwrap(), other);
    click(&mut test, "Save over it");
    assert_eq!(load(&place.file()).unwrap(), held);
}

#[test]
fn work_that_was_saved_just_before_the_crash_is_not_changed() {
    let place = Place::new();
    let held = crash(&place);
    headwise::file::save(&held, &place.file()).unwrap();
    let mut test = place.window(SOON, None);
    click(&mut test, "Recover Alder Point Clinic");
    assert_eq!(project(&test), held);
    assert!(!desk(&test).is_changed());
    until(&mut test, "the copy to go", |_| place.kept().is_empty());
    a_while(&mut test);
    assert!(test.query_by_label(CHANGED).is_none());
}

#[test]
fn a_file_that_is_gone_is_told_and_saved_anew() {
    let place = Place::new();
    let mut test = place.on_clinic();
    let mine = project(&test);
    fs::remove_file(place.file()).unwrap();
    until_shown(&mut test, "clinic.ron is no longer on disk.");
    assert!(desk(&test).is_changed(), "only the window holds it now");
    click(&mut test, "Understood");
    assert!(test.query_by_label_contains("no longer on disk").is_none());
    save(&mut test);
    assert_eq!(load(&place.file()).unwrap(), mine);
    a_while(&mut test);
    assert!(test.query_by_label_contains("no longer on disk").is_none());
    assert!(!desk(&test).is_changed());
}

#[test]
fn a_file_that_was_only_touched_is_the_same() {
    let place = Place::new();
    let mut test = place.on_clinic();
    fs::write(place.file(), fs::read(place.file()).unwrap()).unwrap();
    a_while(&mut test);
    assert!(test.query_by_label(CHANGED).is_none());
    change(&mut test);
    save(&mut test);
    assert!(test.query_by_label("The file was changed meanwhile").is_none());
    assert!(!desk(&test).is_changed());
}

//! Nothing is lost, seen from the window: copies of unsaved work, their offer after a crash, files that another program
//! changes. A crash is a window that is dropped without being closed. Needs the feature `gui`, no display.

#![cfg(feature = "gui")]

#[path = "recovery/disk.rs"]
mod disk;
#[path = "recovery/place.rs"]
mod place;

use egui::{Event, Key, Modifiers, PointerButton, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use headwise::app::{Pace, Window, prepare};
use headwise::file::load;
use headwise::file::recovery::left_behind;
use place::*;
use std::fs;
use std::time::Duration;

#[test]
fn a_change_is_copied_and_the_copy_goes_with_the_save() {
    let place = Place::new();
    let mut test = place.on_clinic();
    a_while(&mut test);
    assert_eq!(place.kept().len(), 0, "nothing is changed");
    change(&mut test);
    until(&mut test, "a copy", |_| place.kept().len() == 1);
    assert_eq!(load(&place.kept()[0]).unwrap(), project(&test));
    change(&mut test);
    let now = project(&test);
    until(&mut test, "the next copy", |_| load(&place.kept()[0]).unwrap() == now);
    assert_eq!(left_behind(&place.copies()).len(), 0, "the window lives");
    save(&mut test);
    assert_eq!(load(&place.file()).unwrap(), now);
    until(&mut test, "the copy to go", |_| place.kept().is_empty());
    drop(test);
    assert_eq!(fs::read_dir(place.copies()).unwrap().count(), 0);
}

#[test]
fn a_change_that_was_not_yet_copied_is_copied_at_the_end() {
    let place = Place::new();
    let hour = Duration::from_secs(3600);
    let mut test = place.window(Pace { rest: hour, at_most: hour, look: hour }, Some(place.file()));
    change(&mut test);
    a_while(&mut test);
    assert_eq!(place.kept().len(), 0);
    let held = project(&test);
    drop(test);
    assert_eq!(load(&place.kept()[0]).unwrap(), held);
}

#[test]
fn a_change_taken_back_needs_no_copy() {
    let place = Place::new();
    let mut test = place.on_clinic();
    change(&mut test);
    until(&mut test, "a copy", |_| place.kept().len() == 1);
    test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    until(&mut test, "the copy to go", |_| place.kept().is_empty());
}

#[test]
fn a_window_that_was_told_of_no_folder_keeps_nothing() {
    let place = Place::new();
    let mut test = Harness::builder().with_context_setup(prepare).build_ui_state(
        |ui, window: &mut Option<Window>| window.get_or_insert_with(|| Window::new(ui.ctx()).unwrap()).show(ui),
        None,
    );
    test.run_steps(3);
    change(&mut test);
    a_while(&mut test);
    drop(test);
    assert_eq!(place.kept().len(), 0);
}

#[test]
fn after_a_crash_the_work_is_offered_recovered_and_saved_to_its_file() {
    let place = Place::new();
    let held = crash(&place);
    let before = load(&place.file()).unwrap();
    assert_ne!(held, before);
    let mut test = place.window(SOON, None);
    assert!(test.query_by_label("Unsaved work was found").is_some());
    assert!(test.query_by_label_contains("less than a minute ago").is_some());
    assert!(test.query_by_label_contains("clinic.ron").is_some());
    click(&mut test, "Recover Alder Point Clinic");
    assert!(test.query_by_label("Unsaved work was found").is_none());
    assert_eq!(project(&test), held);
    assert!(desk(&test).is_changed());
    assert_eq!(desk(&test).path(), Some(place.file().as_path()));
    // It is copied again at once, and only then is the old copy taken away.
    until(&mut test, "one copy", |_| place.kept().len() == 1);
    assert_eq!(left_behind(&place.copies()).len(), 0);
    assert_eq!(load(&place.file()).unwrap(), before);
    save(&mut test);
    assert_eq!(load(&place.file()).unwrap(), held);
    until(&mut test, "the copy to go", |_| place.kept().is_empty());
    drop(test);
    assert!(place.window(SOON, None).query_by_label("Unsaved work was found").is_none());
}

#[test]
fn recovered_work_survives_the_next_crash() {
    let place = Place::new();
    let held = crash(&place);
    for _ in 0..3 {
        let mut test = place.window(SOON, None);
        click(&mut test, "Recover Alder Point Clinic");
        assert_eq!(project(&test), held);
        drop(test);
        assert_eq!(place.kept().len(), 1);
    }
}

#[test]
fn work_that_was_never_in_a_file_is_recovered_as_such() {
    let place = Place::new();
    let mut test = place.window(SOON, None);
    change(&mut test);
    until(&mut test, "a copy", |_| place.kept().len() == 1);
    let held = project(&test);
    drop(test);
    let mut test = place.window(SOON, None);
    assert!(test.query_by_label("Copied less than a minute ago, not yet in a file").is_some());
    click(&mut test, "Recover Fernhollow Library");
    assert_eq!((project(&test), desk(&test).path()), (held, None));
    assert!(desk(&test).is_changed());
}

#[test]
fn later_keeps_and_delete_asks_twice() {
    let place = Place::new();
    crash(&place);
    let mut test = place.window(SOON, None);
    click(&mut test, "Later");
    assert!(test.query_by_label("Unsaved work was found").is_none());
    drop(test);
    assert_eq!(place.kept().len(), 1);
    let mut test = place.window(SOON, None);
    click(&mut test, "Delete Alder Point Clinic");
    assert_eq!(place.kept().len(), 1);
    click(&mut test, "Delete for good Alder Point Clinic");
    assert_eq!(place.kept().len(), 0);
    assert!(test.query_by_label("Unsaved work was found").is_none());
}

#[test]
fn several_copies_are_listed_and_the_rest_is_offered_after_the_first_is_saved() {
    let place = Place::new();
    crash(&place);
    let mut test = place.window(SOON, None);
    click(&mut test, "Later");
    change(&mut test);
    until(&mut test, "a second copy", |_| place.kept().len() == 2);
    drop(test);
    let mut test = place.window(SOON, None);
    assert!(test.query_by_label("Recover Fernhollow Library").is_some());
    click(&mut test, "Recover Alder Point Clinic");
    a_while(&mut test);
    assert!(test.query_by_label("Unsaved work was found").is_none());
    save(&mut test);
    assert!(test.query_by_label("Recover Fernhollow Library").is_some());
    assert!(test.query_by_label("Recover Alder Point Clinic").is_none());
}

#[test]
fn a_damaged_copy_is_told_and_kept() {
    let place = Place::new();
    crash(&place);
    let copy = place.kept().remove(0);
    let text = fs::read(&copy).unwrap();
    fs::write(&copy, &text[..text.len() / 2]).unwrap();
    let mut test = place.window(SOON, None);
    let before = project(&test);
    click(&mut test, "Recover Alder Point Clinic");
    assert!(test.query_by_label_contains("This copy was not recovered and is kept.").is_some());
    assert_eq!(project(&test), before);
    click(&mut test, "Later");
    drop(test);
    assert_eq!(fs::read(&copy).unwrap(), &text[..text.len() / 2]);
}

#[test]
fn changes_that_are_given_up_at_the_close_are_not_offered() {
    let place = Place::new();
    let mut test = place.on_clinic();
    change(&mut test);
    until(&mut test, "a copy", |_| place.kept().len() == 1);
    let close = |test: &mut Test| {
        let root = test.input_mut().viewports.entry(egui::ViewportId::ROOT).or_default();
        root.events.push(egui::ViewportEvent::Close);
        test.step();
        test.input_mut().viewports.entry(egui::ViewportId::ROOT).or_default().events.clear();
        test.run_steps(3);
    };
    close(&mut test);
    assert!(test.query_by_label("Unsaved changes").is_some());
    click(&mut test, "Stay here");
    a_while(&mut test);
    assert_eq!(place.kept().len(), 1);
    close(&mut test);
    click(&mut test, "Discard changes");
    a_while(&mut test);
    assert_eq!(place.kept().len(), 0);
    drop(test);
    assert_eq!(fs::read_dir(place.copies()).unwrap().count(), 0);
}

#[test]
fn a_drag_is_copied_before_its_end() {
    let place = Place::new();
    let mut test = place.on_clinic();
    let start = test.get_by_label("Head limit handle").rect().center();
    let button = |pressed| Event::PointerButton {
        pos: start,
        button: PointerButton::Primary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    test.event(Event::PointerMoved(start));
    test.step();
    test.event(button(true));
    test.step();
    let mut by = 0.0;
    let mut further = |test: &mut Test| {
        by += 0.5;
        test.event(Event::PointerMoved(start + vec2(0.0, by)));
    };
    until(&mut test, "a copy within the drag", |test| {
        further(test);
        place.kept().len() == 1
    });
    // And again within the same drag.
    let first = load(&place.kept()[0]).unwrap();
    until(&mut test, "another copy within the drag", |test| {
        further(test);
        load(&place.kept()[0]).unwrap() != first
    });
    assert!(desk(&test).history().undo_name().is_none(), "the drag goes on");
    test.event(button(false));
    test.run_steps(2);
    let held = project(&test);
    until(&mut test, "the copy of its end", |_| load(&place.kept()[0]).unwrap() == held);
}

#[test]
fn a_copy_that_could_not_be_written_is_told_and_tried_again() {
    let place = Place::new();
    let mut test = place.on_clinic();
    fs::remove_dir_all(place.copies()).unwrap();
    change(&mut test);
    until_shown(&mut test, "Unsaved work is not protected.");
    fs::create_dir(place.copies()).unwrap();
    until(&mut test, "a copy", |_| place.kept().len() == 1);
}

#[test]
fn recent_files_that_are_missing_are_told_and_the_list_can_be_cleared() {
    let place = Place::new();
    let mut test = place.on_clinic();
    let open = |test: &mut Test| {
        test.key_press_modifiers(Modifiers::COMMAND, Key::O);
        test.run_steps(3);
    };
    open(&mut test);
    assert!(test.query_by_label_contains("not there now").is_none());
    click(&mut test, "Cancel");
    fs::remove_file(place.file()).unwrap();
    open(&mut test);
    assert!(test.query_by_label_contains("not there now").is_some());
    click(&mut test, "Clear list");
    assert!(test.query_by_label_contains("not there now").is_none());
    assert!(test.query_by_label("Clear list").is_none());
}

#[test]
fn copies_that_cannot_be_kept_are_told() {
    let place = Place::new();
    fs::write(place.copies(), "a file in the folder's place").unwrap();
    let test = place.on_clinic();
    assert!(test.query_by_label("Unsaved work is not protected.").is_some());
}

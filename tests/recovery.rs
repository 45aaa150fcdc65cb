//! Nothing is lost, seen from the window: copies of unsaved work, their offer after a crash, files that another program
//! changes. A crash is a window that is dropped without being closed. Needs the feature `gui`, no display.

#![cfg(feature = "gui")]

use egui::{Event, Key, Modifiers, PointerButton, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use headwise::app::{Desk, Pace, Window, prepare};
use headwise::document::Project;
use headwise::file::load;
use headwise::file::recovery::left_behind;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use tempfile::TempDir;

type Test = Harness<'static, Option<Window>>;

/// As in the program, only sooner.
const SOON: Pace =
    Pace { rest: Duration::from_millis(30), at_most: Duration::from_millis(150), look: Duration::from_millis(20) };

/// A folder for copies and a project file in another.
struct Place {
    folder: TempDir,
}

impl Place {
    fn new() -> Self {
        let place = Self { folder: tempfile::tempdir().unwrap() };
        let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/alder-point-clinic.ron");
        fs::copy(sample, place.file()).unwrap();
        place
    }

    fn file(&self) -> PathBuf {
        self.folder.path().join("clinic.ron")
    }

    fn copies(&self) -> PathBuf {
        self.folder.path().join("recovery")
    }

    /// Copies on the disk, whoever owns them.
    fn kept(&self) -> Vec<PathBuf> {
        let entries = fs::read_dir(self.copies()).into_iter().flatten().map(|entry| entry.unwrap().path());
        entries.filter(|path| path.extension().is_some_and(|ending| ending == "ron")).collect()
    }

    fn window(&self, pace: Pace, file: Option<PathBuf>) -> Test {
        let copies = self.copies();
        let mut test = Harness::builder()
            .with_size(vec2(1280.0, 800.0))
            .with_step_dt(1.0 / 60.0)
            .with_context_setup(prepare)
            .build_ui_state(
                move |ui, window: &mut Option<Window>| {
                    let window = window.get_or_insert_with(|| {
                        let mut window = Window::new(ui.ctx()).unwrap();
                        if let Some(file) = &file {
                            window.open(file);
                        }
                        window.keep_in(&copies, pace, ui.ctx());
                        window
                    });
                    window.show(ui);
                },
                None,
            );
        test.run_steps(3);
        test
    }

    fn on_clinic(&self) -> Test {
        self.window(SOON, Some(self.file()))
    }
}

fn desk(test: &Test) -> &Desk {
    test.state().as_ref().unwrap().desk()
}

fn project(test: &Test) -> Project {
    desk(test).project().clone()
}

/// Goes on until something is so, which other threads bring about.
#[track_caller]
fn until(test: &mut Test, what: &str, mut is_so: impl FnMut(&mut Test) -> bool) {
    let begun = Instant::now();
    loop {
        test.step();
        if is_so(test) {
            return;
        }
        assert!(begun.elapsed() < Duration::from_secs(20), "waited in vain for {what}");
        std::thread::sleep(Duration::from_millis(10));
    }
}

#[track_caller]
fn until_shown(test: &mut Test, words: &str) {
    until(test, words, |test| test.query_by_label_contains(words).is_some());
}

/// Lets everything happen that would happen.
fn a_while(test: &mut Test) {
    for _ in 0..30 {
        test.step();
        std::thread::sleep(Duration::from_millis(10));
    }
}

#[track_caller]
fn click(test: &mut Test, label: &str) {
    test.get_by_label(label).click();
    test.run_steps(3);
}

fn change(test: &mut Test) {
    click(test, "Slope more");
    assert!(desk(test).is_changed());
}

fn save(test: &mut Test) {
    test.key_press_modifiers(Modifiers::COMMAND, Key::S);
    test.run_steps(3);
}

/// A window with a change whose copy is on the disk crashes; what it held.
fn crash(place: &Place) -> Project {
    let mut test = place.on_clinic();
    change(&mut test);
    until(&mut test, "a copy", |_| place.kept().len() == 1);
    let held = project(&test);
    drop(test);
    held
}

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

#[test]
fn copies_that_cannot_be_kept_are_told() {
    let place = Place::new();
    fs::write(place.copies(), "a file in the folder's place").unwrap();
    let test = place.on_clinic();
    assert!(test.query_by_label("Unsaved work is not protected.").is_some());
}

//! The record out of the window: asked for from the menu, saved by a typed path, made beside the window.

use super::hand::{Test, sample, window};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::Queryable;
use std::path::Path;

/// Asks for a record as something, and saves it by a typed path.
fn saved(form: &str, path: &Path) -> Test {
    let mut test = window();
    ask(&mut test, form, path);
    for _ in 0..3000 {
        test.step();
        if test.query_by_label_contains("The record is in").is_some() {
            return test;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("no record after 30 s");
}

/// Asks for it, and types where it is to go.
fn ask(test: &mut Test, form: &str, path: &Path) {
    test.get_by_label("Project").click();
    test.run_steps(3);
    test.get_by_label_contains("Record…").click();
    // The panel finds its place before it is clicked.
    test.run_steps(8);
    test.get_by_role_and_label(Role::RadioButton, form).click();
    test.run_steps(2);
    test.get_by_label("Save…").click();
    test.run_steps(3);
    test.get_by_role_and_label(Role::TextInput, "File").focus();
    test.run_steps(2);
    test.key_press_modifiers(Modifiers::COMMAND, Key::A);
    test.event(Event::Text(path.display().to_string()));
    test.run_steps(2);
    test.get_by_role_and_label(Role::Button, "Save").click();
    test.run_steps(3);
}

/// The project at work is never written over by what is made of it, however its path is spelt.
#[test]
fn the_project_at_work_is_no_place_for_its_record() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("library.ron");
    std::fs::copy(sample("fernhollow-library.ron"), &path).unwrap();
    let before = std::fs::read(&path).unwrap();
    let mut test = window();
    test.state_mut().as_mut().unwrap().open(&path);
    test.run_steps(3);
    ask(&mut test, "PDF, to print and sign", &folder.path().join("./library.ron"));
    assert!(test.query_by_label_contains("is the project at work").is_some());
    assert!(test.query_by_role_and_label(Role::Button, "Replace").is_none());
    assert_eq!(std::fs::read(&path).unwrap(), before);
}

/// A folder that is there is not replaced, only the tables in it, and that is what is asked.
#[test]
fn a_folder_for_tables_is_not_said_to_be_lost() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = window();
    ask(&mut test, "CSV, its tables in a folder", folder.path());
    assert!(test.query_by_label_contains("are replaced; all else stays").is_some());
    assert!(test.query_by_label_contains("loses that").is_none());
    test.get_by_role_and_label(Role::Button, "Write");
    let file = folder.path().join("tables.txt");
    std::fs::write(&file, "mine").unwrap();
    let mut test = window();
    ask(&mut test, "CSV, its tables in a folder", &file);
    assert!(test.query_by_label_contains("is a file, and the tables go into a folder").is_some());
}

#[test]
fn the_record_is_saved_as_pdf() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("library.pdf");
    saved("PDF, to print and sign", &path);
    assert!(std::fs::read(path).unwrap().starts_with(b"%PDF-"));
}

#[test]
fn the_record_is_saved_as_a_page() {
    let folder = tempfile::tempdir().unwrap();
    // The ending is added where none is typed.
    saved("HTML, a page for the browser", &folder.path().join("library"));
    let page = std::fs::read_to_string(folder.path().join("library.html")).unwrap();
    assert!(page.starts_with("<!") && page.contains("Fernhollow Library"), "{}", &page[..200]);
}

#[test]
fn its_tables_are_saved_in_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("tables");
    saved("CSV, its tables in a folder", &path);
    let zones = std::fs::read_to_string(path.join("zones.csv")).unwrap();
    assert_eq!(zones.lines().count(), 5, "{zones}");
    assert!(path.join("readings.csv").is_file());
}

//! The record out of the window: asked for from the menu, saved by a typed path, made beside the window.

use super::hand::{Test, window};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers};
use egui_kittest::kittest::Queryable;
use std::path::Path;

/// Asks for a record as something, and saves it by a typed path.
fn saved(form: &str, path: &Path) -> Test {
    let mut test = window();
    test.get_by_label("Project").click();
    test.run_steps(3);
    test.get_by_label_contains("Record…").click();
    test.run_steps(3);
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
    for _ in 0..3000 {
        test.step();
        if test.query_by_label_contains("The record is in").is_some() {
            return test;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("no record after 30 s");
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

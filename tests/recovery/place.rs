//! A folder for copies, a file at work, and a window over them.

use egui::{Key, Modifiers, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use headwise::app::{Desk, Pace, Window, prepare};
use headwise::document::Project;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use tempfile::TempDir;

pub type Test = Harness<'static, Option<Window>>;

/// As in the program, only sooner.
pub const SOON: Pace =
    Pace { rest: Duration::from_millis(30), at_most: Duration::from_millis(150), look: Duration::from_millis(20) };

/// A folder for copies and a project file in another.
pub struct Place {
    pub folder: TempDir,
}

impl Place {
    pub fn new() -> Self {
        let place = Self { folder: tempfile::tempdir().unwrap() };
        let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/alder-point-clinic.ron");
        fs::copy(sample, place.file()).unwrap();
        place
    }

    pub fn file(&self) -> PathBuf {
        self.folder.path().join("clinic.ron")
    }

    pub fn copies(&self) -> PathBuf {
        self.folder.path().join("recovery")
    }

    /// Copies on the disk, whoever owns them.
    pub fn kept(&self) -> Vec<PathBuf> {
        let entries = fs::read_dir(self.copies()).into_iter().flatten().map(|entry| entry.unwrap().path());
        entries.filter(|path| path.extension().is_some_and(|ending| ending == "ron")).collect()
    }

    pub fn window(&self, pace: Pace, file: Option<PathBuf>) -> Test {
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

    pub fn on_clinic(&self) -> Test {
        self.window(SOON, Some(self.file()))
    }
}

pub fn desk(test: &Test) -> &Desk {
    test.state().as_ref().unwrap().desk()
}

pub fn project(test: &Test) -> Project {
    desk(test).project().clone()
}

/// Goes on until something is so, which other threads bring about.
#[track_caller]
pub fn until(test: &mut Test, what: &str, mut is_so: impl FnMut(&mut Test) -> bool) {
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
pub fn until_shown(test: &mut Test, words: &str) {
    until(test, words, |test| test.query_by_label_contains(words).is_some());
}

/// Lets everything happen that would happen.
pub fn a_while(test: &mut Test) {
    for _ in 0..30 {
        test.step();
        std::thread::sleep(Duration::from_millis(10));
    }
}

#[track_caller]
pub fn click(test: &mut Test, label: &str) {
    test.get_by_label(label).click();
    test.run_steps(3);
}

pub fn change(test: &mut Test) {
    click(test, "Slope more");
    assert!(desk(test).is_changed());
}

pub fn save(test: &mut Test) {
    test.key_press_modifiers(Modifiers::COMMAND, Key::S);
    test.run_steps(3);
}

/// A window with a change whose copy is on the disk crashes; what it held.
pub fn crash(place: &Place) -> Project {
    let mut test = place.on_clinic();
    change(&mut test);
    until(&mut test, "a copy", |_| place.kept().len() == 1);
    let held = project(&test);
    drop(test);
    held
}

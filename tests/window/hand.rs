//! The real window without a display, and a hand that works it: moves, presses, drags.

use egui::{Event, Modifiers, PointerButton, Pos2, Theme, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use headwise::app::{Window, prepare};
use headwise::document::Project;
use std::path::{Path, PathBuf};

pub type Test = Harness<'static, Option<Window>>;

pub fn window_of(size: Vec2, theme: Theme) -> Test {
    let mut test = Harness::builder()
        .with_size(size)
        .with_theme(theme)
        .with_step_dt(1.0 / 60.0)
        .with_context_setup(prepare)
        .build_ui_state(
            |ui, window: &mut Option<Window>| {
                let window = window.get_or_insert_with(|| Window::new(ui.ctx()).unwrap());
                window.show(ui);
            },
            None,
        );
    test.run_steps(3);
    test
}

pub fn window() -> Test {
    window_of(vec2(1280.0, 800.0), Theme::Light)
}

pub fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)
}

pub fn project(test: &Test) -> &Project {
    test.state().as_ref().unwrap().desk().project()
}

pub fn pointer(test: &Test, pos: Pos2, pressed: bool) {
    test.event(Event::PointerButton { pos, button: PointerButton::Primary, pressed, modifiers: Modifiers::NONE });
}

/// Presses on a handle, moves by `by` in steps, and leaves the button down.
pub fn drag(test: &mut Test, name: &str, by: Vec2) -> Pos2 {
    let start = test.get_by_label(name).rect().center();
    test.event(Event::PointerMoved(start));
    test.step();
    pointer(test, start, true);
    test.step();
    for i in 1..=8 {
        test.event(Event::PointerMoved(start + by * (i as f32 / 8.0)));
        test.step();
    }
    start + by
}

pub fn release(test: &mut Test, at: Pos2) {
    pointer(test, at, false);
    test.step();
    test.step();
}

/// Drags from one place to another with the primary button and lets go.
pub fn drag_between(test: &mut Test, start: Pos2, end: Pos2) {
    test.event(Event::PointerMoved(start));
    test.step();
    pointer(test, start, true);
    test.step();
    for i in 1..=8 {
        test.event(Event::PointerMoved(start.lerp(end, i as f32 / 8.0)));
        test.step();
    }
    release(test, end);
}

/// A click with a button.
pub fn click_at(test: &mut Test, at: Pos2, button: PointerButton, modifiers: Modifiers) {
    test.event(Event::PointerMoved(at));
    test.step();
    for pressed in [true, false] {
        test.event(Event::PointerButton { pos: at, button, pressed, modifiers });
        test.step();
    }
    test.step();
}

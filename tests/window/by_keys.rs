//! Drawing by keys and along pipes: what has no handle of its own.

use super::hand::{Test, click_at, drag_between, project, window};
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Rect, vec2};
use egui_kittest::kittest::{Queryable, by};
use headwise::document::{PipeId, Project, Turn, course, flaws};

fn drawing() -> Test {
    let mut test = window();
    test.get_by_label("Draw").click();
    test.run_steps(3);
    test
}

fn component(test: &Test, name: &str) -> Rect {
    test.get(by().label(name).role(egui::accesskit::Role::Image)).rect()
}

fn press(test: &mut Test, modifiers: Modifiers, key: Key) {
    test.key_press_modifiers(modifiers, key);
    test.run_steps(2);
}

fn select(test: &mut Test, name: &str) {
    let at = component(test, name).center();
    click_at(test, at, PointerButton::Primary, Modifiers::NONE);
}

fn pipe_named(project: &Project, name: &str) -> PipeId {
    *project.pipes.iter().find(|(_, pipe)| pipe.name == name).unwrap().0
}

fn undo_name(test: &Test) -> Option<String> {
    test.state().as_ref().unwrap().desk().history().undo_name().map(str::to_owned)
}

#[test]
fn a_pipe_is_drawn_aside_by_its_middle_and_stays_level_and_upright() {
    let mut test = drawing();
    let id = pipe_named(project(&test), "Main 2 flow");
    let (a, b) = (component(&test, "Office flow tee").center(), component(&test, "Meeting flow tee").center());
    let middle = a.lerp(b, 0.5);
    drag_between(&mut test, middle, middle - vec2(0.0, 45.0));
    let line = course(project(&test), &project(&test).pipes[&id]);
    assert_eq!(line.len(), 4, "{line:?}");
    assert!(line[1][1] < line[0][1] - 1.0 && line[1][1] == line[2][1], "{line:?}");
    assert!(line.windows(2).all(|pair| pair[0][0] == pair[1][0] || pair[0][1] == pair[1][1]), "{line:?}");
    assert_eq!(undo_name(&test).as_deref(), Some("course of Main 2 flow"));
}

#[test]
fn off_the_grid_things_stand_where_they_are_put() {
    let mut test = drawing();
    select(&mut test, "Strainer");
    press(&mut test, Modifiers::NONE, Key::G);
    let at = component(&test, "Strainer").center();
    drag_between(&mut test, at, at + vec2(11.0, 23.0));
    let id = project(&test).component_named("Strainer").unwrap();
    let [x, y] = project(&test).components[&id].at;
    assert!(x.fract() != 0.0 || y.fract() != 0.0, "{x}, {y} lies on the grid");
    assert!(((20.0 * x).round() - 20.0 * x).abs() < 1e-9, "{x} has digits of rounding");
}

#[test]
fn r_turns_shift_r_turns_round_and_both_are_told_by_name() {
    let mut test = drawing();
    select(&mut test, "Strainer");
    let id = project(&test).component_named("Strainer").unwrap();
    let before = project(&test).clone();
    press(&mut test, Modifiers::SHIFT, Key::R);
    assert_eq!(project(&test).components[&id].turn, Turn::Right);
    assert_eq!(undo_name(&test).as_deref(), Some("turn Strainer round"));
    press(&mut test, Modifiers::COMMAND, Key::Z);
    assert_eq!(*project(&test), before);
    press(&mut test, Modifiers::NONE, Key::R);
    assert_eq!(project(&test).components[&id].turn, Turn::Up);
}

#[test]
fn j_joins_the_two_that_are_selected() {
    let mut test = drawing();
    press(&mut test, Modifiers::COMMAND, Key::N);
    let sheet = test.get_by_label("Drawing of the system").rect();
    for (word, by) in [("Place Strainer", -60.0), ("Place Check valve", 60.0)] {
        let from = test.get_by_label(word).rect().center();
        drag_between(&mut test, from, sheet.center() + vec2(by, 0.0));
    }
    let at = component(&test, "Strainer 1").center();
    click_at(&mut test, at, PointerButton::Primary, Modifiers::NONE);
    let at = component(&test, "Check valve 1").center();
    test.event(Event::ModifiersChanged(Modifiers::SHIFT));
    click_at(&mut test, at, PointerButton::Primary, Modifiers::SHIFT);
    test.event(Event::ModifiersChanged(Modifiers::NONE));
    test.step();
    assert_eq!(test.state().as_ref().unwrap().selection().components.len(), 2);
    press(&mut test, Modifiers::NONE, Key::J);
    assert_eq!(project(&test).pipes.len(), 1);
}

#[test]
fn enter_on_the_shelf_places_and_arrows_nudge_what_was_placed() {
    let mut test = drawing();
    press(&mut test, Modifiers::COMMAND, Key::N);
    for count in 1..=2 {
        test.get_by_label("Place Circulator").focus();
        test.run_steps(2);
        press(&mut test, Modifiers::NONE, Key::Enter);
        assert_eq!(project(&test).components.len(), count);
    }
    let id = test.state().as_ref().unwrap().selection().only_component().unwrap();
    let places: Vec<[f64; 2]> = project(&test).components.values().map(|c| c.at).collect();
    assert!((places[0][0] - places[1][0]).abs() > 4.0, "{places:?} stand on each other's names");
    press(&mut test, Modifiers::NONE, Key::ArrowDown);
    assert_eq!(project(&test).components[&id].at[1], places[1][1] + 1.0);
}

#[test]
fn everything_selected_and_deleted_leaves_an_empty_sheet_that_undo_fills_again() {
    let mut test = drawing();
    let before = project(&test).clone();
    press(&mut test, Modifiers::COMMAND, Key::A);
    press(&mut test, Modifiers::NONE, Key::Delete);
    assert!(project(&test).components.is_empty() && project(&test).pipes.is_empty() && project(&test).zones.is_empty());
    assert!(flaws(project(&test)).is_empty());
    press(&mut test, Modifiers::COMMAND, Key::Z);
    assert_eq!(*project(&test), before);
    press(&mut test, Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    assert!(project(&test).components.is_empty());
}

#[test]
fn home_shows_the_whole_drawing_again() {
    let mut test = drawing();
    let (before, at): (Rect, Pos2) = (component(&test, "Strainer"), component(&test, "Strainer").center());
    test.event(Event::PointerMoved(at));
    for _ in 0..8 {
        test.event(Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            source: egui::MouseWheelSource::Unknown,
            delta: vec2(0.0, 120.0),
            phase: egui::TouchPhase::Move,
            modifiers: Modifiers::NONE,
        });
        test.run_steps(4);
    }
    // Smooth scrolling comes to rest.
    test.run_steps(60);
    assert!(component(&test, "Strainer").width() > 1.5 * before.width());
    press(&mut test, Modifiers::NONE, Key::Home);
    assert!((component(&test, "Strainer").width() - before.width()).abs() < 0.5);
}

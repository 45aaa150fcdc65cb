//! Cards: what is named explains itself while the pointer rests on it, and by F1 where the keyboard is.

use super::hand::{Test, drag, pointer, project, release, window};
use egui::accesskit::Role;
use egui::{Event, Key, Pos2, Rect, vec2};
use egui_kittest::kittest::Queryable;

/// Lets the pointer rest somewhere, long enough for a card.
fn rest(test: &mut Test, at: Pos2) {
    test.event(Event::PointerMoved(at));
    test.step();
    test.run_steps(45);
}

fn shows(test: &Test, words: &str) -> bool {
    test.query_by_label_contains(words).is_some()
}

#[test]
fn a_setting_explains_itself_with_formula_source_and_its_own_figures() {
    let mut test = window();
    assert!(!shows(&test, "How far the set-line has fallen"));
    let name = test.get_by_role_and_label(Role::Label, "Slope").rect();
    rest(&mut test, name.center());
    assert!(shows(&test, "How far the set-line has fallen at zero flow"));
    // 5.10 m · (1 − 25 %) = 3.825 m, by hand.
    let here = test.get_by_label_contains("Here: 5.10\u{a0}m × (1 − 25\u{a0}%) = 3.8");
    assert!(!here.rect().intersects(name), "a card lies over what it explains");
    assert!(shows(&test, "Source: Definition") && shows(&test, "head limit, m"));
    assert!(shows(&test, "0 % is constant pressure."), "what was said before is still said");
    // Away again, and it goes.
    rest(&mut test, egui::pos2(300.0, 60.0));
    assert!(!shows(&test, "How far the set-line has fallen at zero flow"));
}

#[test]
fn the_handle_in_focus_explains_itself_by_key() {
    let mut test = window();
    test.get_by_label("Speed cap handle").focus();
    test.run_steps(2);
    let words = "The pump never turns faster than this share";
    assert!(!shows(&test, words));
    for expected in [true, false] {
        test.key_press(Key::F1);
        test.run_steps(2);
        assert_eq!(shows(&test, words), expected);
    }
    // With the focus it goes.
    test.key_press(Key::F1);
    test.run_steps(2);
    test.get_by_label("Slope handle").focus();
    test.run_steps(3);
    assert!(!shows(&test, words));
}

/// A place of the plot, from a flow and a head in the library's units: the handles tell where the axes lie.
fn plot(test: &Test) -> Rect {
    test.get_by_label("Head over flow").rect()
}

#[test]
fn a_line_of_the_plot_is_named_and_explained() {
    let mut test = window();
    // The head limit's line runs level from its handle to the left edge.
    let handle = test.get_by_label("Head limit handle").rect().center();
    let plot = plot(&test);
    rest(&mut test, egui::pos2(plot.left() + 60.0, handle.y));
    assert!(shows(&test, "The most head that the pump may give."));
    let card = test.get_by_label_contains("The most head that the pump may give.").rect();
    assert!(!card.intersects(plot), "the card {card} lies over the plot {plot}");
    // While a handle is dragged nothing stands in the way.
    let end = drag(&mut test, "Head limit handle", vec2(0.0, 40.0));
    test.run_steps(45);
    assert!(!shows(&test, "The most head that the pump may give."));
    release(&mut test, end);
}

#[test]
fn f1_goes_through_all_lines_of_the_plot() {
    let mut test = window();
    test.get_by_label("Head over flow").focus();
    test.run_steps(2);
    let mut found = Vec::new();
    for _ in 0..4 {
        test.key_press(Key::F1);
        test.run_steps(2);
        for words in [
            "What the pump really gives at each flow",
            "The head that the system takes at each flow",
            "The head that the pump aims at over its flow",
            "The most head that the pump may give",
        ] {
            if shows(&test, words) {
                found.push(words);
            }
        }
    }
    assert_eq!(found.len(), 4, "{found:?}");
}

#[test]
fn headings_of_the_zones_explain_their_columns() {
    let mut test = window();
    let at = test.get_by_label("What is: Share of design flow").rect().center();
    rest(&mut test, at);
    assert!(shows(&test, "What a zone gets of the flow that it was designed for."));
    test.get_by_label("What is: Tolerance band").focus();
    test.run_steps(2);
    test.key_press(Key::F1);
    test.run_steps(2);
    assert!(shows(&test, "In this project: ±10 %"));
}

/// The change stands while the hand is down, from where it began, and stays when it lets go.
#[test]
fn the_change_since_a_drag_began_stands_meanwhile_and_after() {
    let mut test = window();
    let id = project(&test).pumps().next().unwrap().0;
    let watts = |test: &Test| test.state().as_ref().unwrap().desk().study().results().pumps[&id].electric_w;
    let before = watts(&test);
    let end = drag(&mut test, "Head limit handle", vec2(0.0, 70.0));
    let ending = |test: &Test| format!("pump {before:.1} → {:.1}\u{a0}W", watts(test));
    assert!(shows(&test, &ending(&test)));
    test.event(Event::PointerMoved(end + vec2(0.0, 30.0)));
    test.step();
    assert!(shows(&test, &ending(&test)));
    let end = end + vec2(0.0, 30.0);
    release(&mut test, end);
    assert!(shows(&test, &ending(&test)));
    pointer(&test, end, false);
    assert!(shows(&test, "with all zones open."));
}

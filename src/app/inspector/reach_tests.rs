//! Tests: what is reached stands in sight, in a pane that is too low for all of it.

use super::bench::*;

/// A pane of so many points.
const HEIGHT: f32 = 300.0;

fn low(names: &[&str]) -> Test {
    let project = library();
    let selection = components(&project, names);
    let mut test = bench(project, Units::si(), selection);
    test.set_size(vec2(330.0, HEIGHT));
    test.run_steps(3);
    test
}

/// Where the field of the keyboard lies, by its upper and lower edge.
fn focused(test: &Test) -> Option<(f32, f32)> {
    let id = test.ctx.memory(|memory| memory.focused())?;
    let rect = test.ctx.read_response(id)?.rect;
    Some((rect.top(), rect.bottom()))
}

#[test]
fn every_field_that_tab_reaches_comes_into_sight() {
    let mut test = low(&["Office radiators emitter"]);
    let mut reached = 0;
    for _ in 0..16 {
        test.key_press(Key::Tab);
        // As long as scrolling takes.
        test.run_steps(40);
        let Some((top, bottom)) = focused(&test) else { continue };
        reached += 1;
        assert!(top >= 0.0 && bottom <= HEIGHT, "field {reached} from {top} to {bottom}");
    }
    assert!(reached >= 15, "{reached}");
}

#[test]
fn another_selection_is_shown_from_its_beginning() {
    let mut test = low(&["Circulator"]);
    let name_at = |test: &Test| test.get_by_role_and_label(Role::TextInput, "Name").rect().top();
    let start = name_at(&test);
    test.event(Event::PointerMoved(egui::pos2(160.0, 200.0)));
    test.event(Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        source: egui::MouseWheelSource::Unknown,
        delta: vec2(0.0, -400.0),
        phase: egui::TouchPhase::Move,
        modifiers: egui::Modifiers::NONE,
    });
    test.run_steps(40);
    assert!(name_at(&test) < start - 100.0, "nothing was scrolled");
    let project = library();
    test.state_mut().selection = components(&project, &["Strainer"]);
    test.run_steps(3);
    assert_eq!(name_at(&test), start);
}

#[test]
fn a_name_that_tab_reaches_is_typed_anew() {
    let mut test = low(&["Circulator"]);
    test.key_press(Key::Tab);
    test.run_steps(3);
    test.event(Event::Text("Pump".to_owned()));
    test.step();
    test.key_press(Key::Enter);
    test.run_steps(3);
    assert!(matches!(the_command(&test), Command::Rename(_, name) if name == "Pump"), "{:?}", test.state().intents);
}

/// What is pasted goes into the field at once; a complaint stands until the text is another.
#[test]
fn a_table_is_pasted_where_it_is_seen() {
    let mut test = low(&["Circulator"]);
    test.get_by_role_and_label(Role::Button, "Paste a table…").scroll_to_me();
    test.run_steps(40);
    click(&mut test, "Paste a table…");
    test.run_steps(40);
    let field = test.get_by_role_and_label(Role::MultilineTextInput, "Table").rect();
    assert!(field.top() >= 0.0 && field.bottom() <= HEIGHT, "{field}");
    test.event(Event::Paste("flow (m³/h);head (m)\n0;6".to_owned()));
    test.run_steps(2);
    click(&mut test, "Take these points");
    test.run_steps(40);
    let complaint = |test: &Test| {
        let mut found =
            test.query_all_by(|node| node.value().is_some_and(|words| words.starts_with("The pasted text")));
        found.next().map(|node| node.rect())
    };
    let told = complaint(&test).expect("a table without powers was taken");
    assert!(told.bottom() <= HEIGHT, "{told}");
    test.get_by_role_and_label(Role::MultilineTextInput, "Table").click();
    test.run_steps(2);
    test.event(Event::Text(";".to_owned()));
    test.run_steps(2);
    assert_eq!(complaint(&test), None);
    assert_eq!(commands(&test), []);
}

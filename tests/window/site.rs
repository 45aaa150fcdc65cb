//! The site, the register of circulators and the checklist of starting up, typed and ticked as a person would.

use super::hand::{Test, click_at, drag_between, project, sample, window, window_of};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, PointerButton, Theme, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use headwise::document::{StandbyRole, StartingStep, Tick};
use headwise::report::today;

fn open(name: &str) -> Test {
    let mut test = window();
    test.state_mut().as_mut().unwrap().open(&sample(name));
    test.run_steps(3);
    test
}

fn click(test: &mut Test, role: Role, label: &str) {
    let at = test.get_by_role_and_label(role, label).rect().center();
    click_at(test, at, PointerButton::Primary, Modifiers::NONE);
    test.run_steps(2);
}

fn type_into(test: &mut Test, label: &str, text: &str) {
    click(test, Role::TextInput, label);
    test.key_press_modifiers(Modifiers::COMMAND, Key::A);
    test.step();
    test.event(Event::Text(text.to_owned()));
    test.step();
    test.key_press(Key::Enter);
    test.run_steps(3);
}

fn is_done(test: &Test, step: StartingStep) -> bool {
    project(test).starting.is_done(step)
}

fn tick_of(test: &Test, step: StartingStep) -> Tick {
    project(test).starting.ticks[&step].clone()
}

fn says(test: &Test, words: &str) -> bool {
    test.query_all_by_label_contains(words).next().is_some()
}

#[test]
fn nothing_is_released_before_it_is_filled_and_vented() {
    let mut test = open("thornwick-court.ron");
    click(&mut test, Role::Button, "Start-up");
    assert!(says(&test, "Not released to run: it waits for filled and vented."));
    let can_be_ticked =
        |test: &Test, name: &str| !test.get_by_role_and_label(Role::CheckBox, name).accesskit_node().is_disabled();
    assert!(!can_be_ticked(&test, "Released to run") && !can_be_ticked(&test, "Vented"));
    click(&mut test, Role::CheckBox, "Released to run");
    assert!(!is_done(&test, StartingStep::Released));

    click(&mut test, Role::CheckBox, "Filled");
    assert_eq!(tick_of(&test, StartingStep::Filled), Tick { date: today(), by: String::new() });
    type_into(&mut test, "Done by, Filled", "R. Ash");
    type_into(&mut test, "Done on, Filled", "2026-07-01");
    assert!(!can_be_ticked(&test, "Released to run"));
    click(&mut test, Role::CheckBox, "Vented");
    // Nobody is named who was not; whoever did another step is offered.
    assert_eq!(tick_of(&test, StartingStep::Vented), Tick { date: today(), by: String::new() });
    click(&mut test, Role::Button, "Done by R. Ash, Vented");
    assert_eq!(tick_of(&test, StartingStep::Vented), Tick { date: today(), by: "R. Ash".to_owned() });
    assert_eq!(tick_of(&test, StartingStep::Filled).date, "2026-07-01");
    assert!(says(&test, "ready to be released") && says(&test, "Not ticked: pressure tested and flushed"));
    click(&mut test, Role::CheckBox, "Released to run");
    assert!(project(&test).starting.is_released());
    assert!(says(&test, "Released to run: "));

    // Opening the system again takes the release back, says so, and is one step.
    let released = project(&test).clone();
    click(&mut test, Role::CheckBox, "Filled");
    assert!(project(&test).starting.ticks.is_empty());
    assert!(says(&test, "take back “filled”, and with it “vented and released to run”"));
    test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    test.run_steps(2);
    assert_eq!(*project(&test), released);
}

/// A reading is what somebody typed; a click on the field makes none.
#[test]
fn a_fill_pressure_is_only_what_was_read() {
    let mut test = open("thornwick-court.ron");
    click(&mut test, Role::Button, "Start-up");
    click(&mut test, Role::CheckBox, "Filled");
    click(&mut test, Role::TextInput, "Fill pressure");
    test.key_press(Key::Enter);
    test.run_steps(3);
    assert_eq!(project(&test).starting.fill_pressure, None);
    type_into(&mut test, "Fill pressure", "120 kPa");
    assert_eq!(project(&test).starting.fill_pressure, Some(1.2e5));
    type_into(&mut test, "Fill pressure", "9000 kPa");
    assert_eq!(project(&test).starting.fill_pressure, Some(1.2e5));
    assert!(says(&test, "9000 kPa cannot be set"));
    click(&mut test, Role::TextInput, "Fill pressure");
    test.key_press_modifiers(Modifiers::COMMAND, Key::A);
    test.key_press(Key::Backspace);
    test.step();
    test.key_press(Key::Enter);
    test.run_steps(3);
    assert_eq!(project(&test).starting.fill_pressure, None);
}

#[test]
fn a_day_that_is_none_is_not_taken() {
    let mut test = open("fernhollow-library.ron");
    click(&mut test, Role::Button, "Start-up");
    type_into(&mut test, "Done on, Flushed", "2026-02-30");
    assert_eq!(tick_of(&test, StartingStep::Flushed).date, "2026-03-03");
    assert!(says(&test, "there is no day 2026-02-30"));
}

#[test]
fn the_cautions_of_the_next_step_are_open() {
    let mut test = open("saltreed-growers.ron");
    click(&mut test, Role::Button, "Start-up");
    // Filled, not vented: next is the air, under pressure.
    assert!(says(&test, "Hot water scalds you") && !says(&test, "must never reach drinking water"));
    click(&mut test, Role::Button, "Glycol");
    assert!(says(&test, "must never reach drinking water") && says(&test, "licensed practice decide"));
    click(&mut test, Role::CheckBox, "Vented");
    assert!(says(&test, "running dry ruins them") && !says(&test, "Hot water scalds you"));
}

#[test]
fn both_are_reached_while_drawing_and_while_tuning() {
    let mut test = open("alder-point-clinic.ron");
    for key in [Key::F2, Key::F3] {
        test.key_press(key);
        test.run_steps(3);
        click(&mut test, Role::Button, "Start-up");
        assert_eq!(test.query_all_by_role_and_label(Role::CheckBox, "Released to run").count(), 1, "{key:?}");
        click(&mut test, Role::Button, "Register");
        let field = test.get_by_role_and_label(Role::TextInput, "Position of Duty circulator");
        assert_eq!(field.value().as_deref(), Some("Basement plant room, lower of the two"), "{key:?}");
        click(&mut test, Role::Button, "Zones");
        assert!(says(&test, "Floor 1: "));
    }
}

#[test]
fn the_register_is_typed_in_place_and_tells_what_is_alike() {
    let mut test = open("alder-point-clinic.ron");
    click(&mut test, Role::Button, "Register");
    assert!(says(&test, "Write name and address down at each pump"));
    type_into(&mut test, "Serial number of Standby circulator", "AP-26-0100");
    type_into(&mut test, "Address of Standby circulator", "3301");
    let (standby, unit) = project(&test).pumps().nth(1).unwrap();
    assert_eq!((&*unit.register.serial, &*unit.address), ("AP-26-0100", "3301"));
    assert!(says(&test, "Duty circulator and Standby circulator have the same address"));
    type_into(&mut test, "Address of Standby circulator", "3302");
    assert!(!says(&test, "have the same address"));
    // A name that only a program tells from the other's.
    type_into(&mut test, "Name of Standby circulator", "duty  circulator");
    assert_eq!(project(&test).components[&standby].name, "duty  circulator");
    assert!(says(&test, "have names that read alike"));
    click(&mut test, Role::ComboBox, "Standby role of duty  circulator");
    click(&mut test, Role::Button, "alternating");
    assert_eq!(project(&test).pump(standby).unwrap().register.standby, StandbyRole::Alternating);
    // Tell where it is on the drawing.
    click(&mut test, Role::Button, "Show duty  circulator");
    assert_eq!(test.state().as_ref().unwrap().selection().components, [standby].into());
    assert!(says(&test, "Duty circulator has a name that reads like this one."));
}

#[test]
fn the_caution_before_the_first_run_is_one_line_that_goes_with_the_next_change() {
    const WORDS: &str = "Before the first run: water lubricates";
    let mut test = open("saltreed-growers.ron");
    assert!(says(&test, WORDS));
    let handle = test.get_by_label("Slope handle").rect().center();
    drag_between(&mut test, handle, handle + vec2(0.0, 20.0));
    assert!(!says(&test, WORDS));
    click(&mut test, Role::Button, "Stop");
    assert!(!says(&test, WORDS));
    click(&mut test, Role::Button, "Start");
    assert!(says(&test, WORDS));
    // Back and on again: that starts it too.
    for (modifiers, starts) in [(Modifiers::COMMAND, false), (Modifiers::COMMAND | Modifiers::SHIFT, true)] {
        test.key_press_modifiers(modifiers, Key::Z);
        test.run_steps(2);
        assert_eq!(says(&test, WORDS), starts);
    }
    click(&mut test, Role::Link, "Checklist");
    assert_eq!(test.query_all_by_role_and_label(Role::CheckBox, "Vented").count(), 1);
    for step in ["Vented", "Released to run"] {
        click(&mut test, Role::CheckBox, step);
    }
    // Released: it runs without a word.
    for word in ["Stop", "Start"] {
        click(&mut test, Role::Button, word);
        assert!(!says(&test, WORDS));
    }
    assert!(!says(&open("fernhollow-library.ron"), WORDS));
}

#[test]
fn a_circulator_drawn_on_a_fresh_sheet_brings_the_caution_too() {
    const WORDS: &str = "Before the first run: water lubricates";
    let mut test = open("fernhollow-library.ron");
    test.key_press(Key::F2);
    test.run_steps(3);
    test.key_press_modifiers(Modifiers::COMMAND, Key::N);
    test.run_steps(3);
    assert!(project(&test).components.is_empty() && !says(&test, WORDS));
    for (kind, tells) in [("Place Source", false), ("Place Circulator", true), ("Place Source", false)] {
        test.get_by_role_and_label(Role::Button, kind).focus();
        test.run_steps(2);
        test.key_press(Key::Enter);
        test.run_steps(2);
        assert_eq!(says(&test, WORDS), tells, "{kind}");
    }
}

#[test]
fn the_site_is_typed_in_the_projects_figures() {
    let mut test = open("fernhollow-library.ron");
    test.key_press(Key::F2);
    test.run_steps(3);
    type_into(&mut test, "Client", "The friends of the library");
    assert_eq!(project(&test).site.client, "The friends of the library");
    type_into(&mut test, "Date", "soon");
    assert_eq!(project(&test).site.date, "2026-02-16");
    assert!(says(&test, "“soon” is no date"));
}

#[test]
fn every_pane_of_the_site_fits_every_sample_size_and_theme() {
    for name in ["saltreed-growers", "alder-point-clinic", "thornwick-court"] {
        for (size, theme) in [(vec2(1024.0, 680.0), Theme::Light), (vec2(1920.0, 1080.0), Theme::Dark)] {
            let mut test = window_of(size, theme);
            test.state_mut().as_mut().unwrap().open(&sample(&format!("{name}.ron")));
            for key in [Key::F3, Key::F2] {
                test.key_press(key);
                test.run_steps(3);
                click(&mut test, Role::Button, "Start-up");
                let released = test.get_by_role_and_label(Role::CheckBox, "Released to run").rect();
                let vented = test.get_by_role_and_label(Role::CheckBox, "Vented").rect();
                assert!(released.top() >= vented.bottom() && released.left() == vented.left(), "{name} {size}");
                let caution = test.get_by_role_and_label(Role::Button, "Running dry").rect();
                assert!(caution.left() > released.right() && caution.right() < size.x, "{name} {size}: {caution}");
                click(&mut test, Role::Button, "Register");
                test.run_steps(2);
            }
        }
    }
}

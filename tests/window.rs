//! The real window code, driven as a person would: drags, clicks, keys. Needs the feature `gui`, no display.

#![cfg(feature = "gui")]

#[path = "window/by_keys.rs"]
mod by_keys;
#[path = "window/gestures.rs"]
mod gestures;
#[path = "window/hand.rs"]
mod hand;
#[path = "window/head_path.rs"]
mod head_path;
#[path = "window/lesson.rs"]
mod lesson;
#[path = "window/part_load.rs"]
mod part_load;
#[path = "window/picture.rs"]
mod picture;
#[path = "plans/mod.rs"]
mod plans;
#[path = "window/presentation.rs"]
mod presentation;
#[path = "window/record.rs"]
mod record;
#[path = "window/site.rs"]
mod site;
#[path = "window/terms.rs"]
mod terms;
#[path = "window/typing.rs"]
mod typing;

use egui::{Event, Key, Modifiers, Theme, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use hand::{Test, drag, pointer, project, release, sample, window, window_of};

fn settings(test: &Test) -> headwise::engine::pump::Regulation {
    let (_, unit) = project(test).pumps().next().unwrap();
    unit.regulation
}

/// Share of design flow of each zone, by name.
fn shares(test: &Test) -> Vec<(String, f64)> {
    let desk = test.state().as_ref().unwrap().desk();
    let results = desk.study().results();
    desk.project().zones.iter().map(|(id, zone)| (zone.name.clone(), results.zones[id].share)).collect()
}

const HEAD_LIMIT: &str = "Head limit handle";
const SLOPE: &str = "Slope handle";
const SPEED_CAP: &str = "Speed cap handle";

#[test]
fn dragging_the_head_limit_down_starves_every_zone() {
    let mut test = window();
    let (before, flows) = (settings(&test), shares(&test));
    let end = drag(&mut test, HEAD_LIMIT, vec2(0.0, 90.0));
    release(&mut test, end);
    assert!(settings(&test).head_limit_m.unwrap() < before.head_limit_m.unwrap() - 1.0);
    for ((name, less), (_, more)) in shares(&test).iter().zip(&flows) {
        assert!(less < more, "{name}: {less} is not below {more}");
    }
}

#[test]
fn what_a_drag_does_is_on_screen_in_the_same_frame() {
    let mut test = window();
    let end = drag(&mut test, HEAD_LIMIT, vec2(0.0, 60.0));
    // One more move and one frame: the labels just painted must tell the results of that very move.
    let before = shares(&test);
    test.event(Event::PointerMoved(end + vec2(0.0, 30.0)));
    test.step();
    let after = shares(&test);
    assert_ne!(before, after);
    for (name, share) in after {
        let words = format!("{name}: ");
        let row = test.get_by_label_contains(&words);
        let label = row.value().or_else(|| row.accesskit_node().label()).unwrap_or_default();
        let shown = format!("{:.0}\u{a0}% of design flow", 100.0 * share);
        assert!(label.contains(&shown), "{label} does not say {shown}");
    }
}

#[test]
fn dragging_the_slope_ring_down_makes_the_set_line_steeper() {
    let mut test = window();
    let before = settings(&test).slope;
    let end = drag(&mut test, SLOPE, vec2(0.0, 60.0));
    release(&mut test, end);
    assert!(settings(&test).slope > before + 0.1);
    let whole = settings(&test).slope * 100.0;
    assert!((whole - whole.round()).abs() < 1e-9, "a drag stops at whole per cents, not {whole}");
}

#[test]
fn dragging_the_cap_down_lets_it_govern() {
    let mut test = window();
    let end = drag(&mut test, SPEED_CAP, vec2(-60.0, 60.0));
    release(&mut test, end);
    assert!(settings(&test).speed_cap < 0.93);
    assert!(test.query_by_label_contains("The speed cap governs").is_some());
}

#[test]
fn a_drag_is_one_step_of_undo() {
    let mut test = window();
    let before = project(&test).clone();
    let end = drag(&mut test, HEAD_LIMIT, vec2(0.0, 90.0));
    release(&mut test, end);
    assert_ne!(*project(&test), before);
    let changed = project(&test).clone();
    test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    test.run_steps(2);
    assert_eq!(*project(&test), before);
    test.key_press_modifiers(Modifiers::COMMAND, Key::Y);
    test.run_steps(2);
    assert_eq!(*project(&test), changed);
}

#[test]
fn a_click_on_a_zone_valve_shuts_the_zone_and_another_opens_it() {
    let mut test = window();
    let zone = "Office radiators";
    let flow = |test: &Test| shares(test).iter().find(|(name, _)| name == zone).unwrap().1;
    let open = flow(&test);
    assert!(open > 0.9);
    let valve = |test: &Test| test.get_by_label("Office zone valve").rect().center();
    for expected in [0.0, open] {
        let at = valve(&test);
        test.event(Event::PointerMoved(at));
        test.step();
        pointer(&test, at, true);
        test.step();
        release(&mut test, at);
        assert!((flow(&test) - expected).abs() < 1e-9, "{} instead of {expected}", flow(&test));
    }
}

#[test]
fn the_button_in_the_list_does_the_same() {
    let mut test = window();
    test.get_by_label("Shut Children's floor").click();
    test.run_steps(2);
    assert_eq!(shares(&test).iter().find(|(name, _)| name == "Children's floor").unwrap().1, 0.0);
    test.get_by_label("Open Children's floor").click();
    test.run_steps(2);
    assert!(shares(&test).iter().all(|(_, share)| *share > 0.9));
}

#[test]
fn settings_are_stepped_by_buttons_and_by_arrow_keys() {
    let mut test = window();
    let before = settings(&test);
    test.get_by_label("Slope more").click();
    test.run_steps(2);
    assert!((settings(&test).slope - before.slope - 0.01).abs() < 1e-9);
    test.get_by_label(HEAD_LIMIT).focus();
    test.run_steps(2);
    test.key_press(Key::ArrowUp);
    test.run_steps(2);
    assert!((settings(&test).head_limit_m.unwrap() - before.head_limit_m.unwrap() - 0.1).abs() < 1e-9);
}

#[test]
fn a_file_that_cannot_be_opened_says_why_and_changes_nothing() {
    let mut test = window();
    let before = project(&test).clone();
    let folder = tempfile::tempdir().unwrap();
    let broken = folder.path().join("broken.ron");
    std::fs::write(&broken, "(format: 1, title: \"Half a ho").unwrap();
    test.state_mut().as_mut().unwrap().open(&broken);
    test.run_steps(2);
    assert_eq!(*project(&test), before);
    assert!(test.query_by_label("This file was not opened.").is_some());
    assert!(test.query_by_label_contains("line 1").is_some());
}

#[test]
fn saving_and_opening_brings_back_what_was_set() {
    let mut test = window();
    let end = drag(&mut test, SLOPE, vec2(0.0, 40.0));
    release(&mut test, end);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("kept.ron");
    headwise::file::save(project(&test), &path).unwrap();
    let mut other = window();
    other.state_mut().as_mut().unwrap().open(&path);
    other.run_steps(2);
    assert_eq!(*project(&other), *project(&test));
}

#[test]
fn inch_pound_units_are_one_choice_away() {
    let mut test = window();
    test.get_by_label("Units: SI").click();
    test.run_steps(2);
    test.get_by_label("Inch-pound").click();
    test.run_steps(2);
    assert!(test.query_by_label("Units: inch-pound").is_some());
    assert!(test.query_by_label_contains("gpm at").is_some());
}

#[test]
fn every_sample_shows_in_every_size_and_theme() {
    for name in ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron"] {
        for (size, theme) in [
            (vec2(900.0, 600.0), Theme::Dark),
            (vec2(1280.0, 800.0), Theme::Light),
            (vec2(1920.0, 1080.0), Theme::Dark),
        ] {
            let mut test = window_of(size, theme);
            test.state_mut().as_mut().unwrap().open(&sample(name));
            test.run_steps(3);
            let desk = test.state().as_ref().unwrap().desk();
            assert!(desk.study().results().converged());
            assert!(desk.path().is_some(), "{name} was not opened");
            for zone in project(&test).zones.values() {
                assert!(test.query_by_label_contains(&format!("{}: ", zone.name)).is_some(), "{name}: {}", zone.name);
            }
        }
    }
}

#[test]
fn drags_far_outside_the_plot_stay_within_what_a_pump_can_be_set_to() {
    for (name, by) in [
        (HEAD_LIMIT, vec2(0.0, -2000.0)),
        (HEAD_LIMIT, vec2(0.0, 2000.0)),
        (SLOPE, vec2(-500.0, 2000.0)),
        (SLOPE, vec2(3000.0, -2000.0)),
        (SPEED_CAP, vec2(-3000.0, 3000.0)),
        (SPEED_CAP, vec2(3000.0, -3000.0)),
    ] {
        let mut test = window();
        let end = drag(&mut test, name, by);
        release(&mut test, end);
        assert_eq!(settings(&test).check(), Ok(()), "{name} {by:?}");
        assert!(test.state().as_ref().unwrap().desk().study().results().converged(), "{name} {by:?}");
        assert!(test.query_by_label("Nothing was changed.").is_none(), "{name} {by:?}");
    }
}

/// A project that no field of the window may touch by being shown: no head limit, a cap below what drags allow, a design flow.
#[test]
fn showing_a_project_does_not_change_it() {
    let folder = tempfile::tempdir().unwrap();
    for (from, to) in [
        ("head_limit_m: Some(5.1)", "head_limit_m: None"),
        ("speed_cap_percent: 95, minimum_speed_percent: 20", "speed_cap_percent: 4.321, minimum_speed_percent: 1"),
        ("reference_flow: full_speed", "reference_flow: design_flow(m3_per_h: 7200)"),
        ("slope_percent: 25", "slope_percent: 25.123"),
        ("running: true", "running: false"),
    ] {
        let text = std::fs::read_to_string(sample("fernhollow-library.ron")).unwrap();
        let path = folder.path().join("odd.ron");
        let odd = text.replace(from, to);
        assert!(odd != text || from == "running: true", "{from} is not in the sample");
        std::fs::write(&path, odd).unwrap();
        let mut test = window();
        test.state_mut().as_mut().unwrap().open(&path);
        test.run_steps(3);
        let desk = test.state().as_ref().unwrap().desk();
        assert_eq!(desk.path(), Some(path.as_path()), "{to} was not opened");
        // Walking through every field with the keyboard touches nothing either.
        for _ in 0..40 {
            test.key_press(Key::Tab);
            test.step();
        }
        assert!(!test.state().as_ref().unwrap().desk().is_changed(), "{to}: showing it changed it");
    }
}

#[test]
fn opening_another_file_asks_about_unsaved_changes() {
    let mut test = window();
    let end = drag(&mut test, SLOPE, vec2(0.0, 40.0));
    release(&mut test, end);
    let changed = project(&test).clone();
    let folder = tempfile::tempdir().unwrap();
    let other = folder.path().join("other.ron");
    std::fs::copy(sample("alder-point-clinic.ron"), &other).unwrap();
    let ask_to_open = |test: &mut Test| {
        test.get_by_label("Project").click();
        test.run_steps(2);
        test.get_by_label_contains("Open…").click();
        test.run_steps(2);
        test.get_by_label("File").focus();
        test.get_by_label("File").type_text(&other.display().to_string());
        test.run_steps(2);
        test.key_press(Key::Enter);
        test.run_steps(3);
    };
    ask_to_open(&mut test);
    assert!(test.query_by_label("Unsaved changes").is_some());
    test.get_by_label("Stay here").click();
    test.run_steps(3);
    assert_eq!(*project(&test), changed);
    ask_to_open(&mut test);
    test.get_by_label("Discard changes").click();
    test.run_steps(3);
    assert_eq!(project(&test).title, "Alder Point Clinic");
}

#[test]
fn saving_over_another_file_asks_first() {
    let mut test = window();
    let folder = tempfile::tempdir().unwrap();
    let other = folder.path().join("other.ron");
    std::fs::write(&other, "something else").unwrap();
    test.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    test.run_steps(2);
    let field = test.get_by_label("File");
    field.focus();
    test.key_press_modifiers(Modifiers::COMMAND, Key::A);
    test.run_steps(2);
    test.get_by_label("File").type_text(&other.display().to_string());
    test.run_steps(2);
    test.key_press(Key::Enter);
    test.run_steps(3);
    assert!(test.query_by_label("Replace other.ron?").is_some());
    assert_eq!(std::fs::read_to_string(&other).unwrap(), "something else");
    test.get_by_label("Replace").click();
    test.run_steps(3);
    assert_eq!(headwise::file::load(&other).unwrap(), *project(&test));
}

#[test]
fn all_valves_shut_is_told_and_no_flow_is_left() {
    let mut test = window();
    for zone in ["Office radiators", "Meeting radiators", "Children's floor", "Reading-room floor"] {
        test.get_by_label(&format!("Shut {zone}")).click();
        test.run_steps(2);
    }
    assert!(shares(&test).iter().all(|(_, share)| share.abs() < 1e-9));
    assert!(test.query_by_label_contains("turns against closed valves").is_some());
    assert!(test.query_by_label_contains("but needs 0.600").is_some());
}

#[test]
fn a_pump_can_be_stopped_and_started_and_set_while_it_stands() {
    let mut test = window();
    test.get_by_label("Stop").click();
    test.run_steps(2);
    assert!(test.query_by_label_contains("is off: nothing flows").is_some());
    let before = settings(&test).head_limit_m.unwrap();
    let end = drag(&mut test, HEAD_LIMIT, vec2(0.0, -40.0));
    release(&mut test, end);
    assert!(settings(&test).head_limit_m.unwrap() > before + 0.3);
    test.get_by_label("Start").click();
    test.run_steps(2);
    assert!(shares(&test).iter().all(|(_, share)| *share > 1.0));
}

//! Scenarios, the map of settings, margins, the year and variants in the window.

use super::hand::{Test, click_at, drag_between, project, release, sample, window, window_of};
use egui::{Event, Key, Modifiers, PointerButton, Rect, Theme, pos2, vec2};
use egui_kittest::kittest::Queryable;
use headwise::engine::pump::Regulation;
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{Watch, best};
use std::time::{Duration, Instant};

fn regulation(test: &Test) -> Regulation {
    project(test).pumps().next().unwrap().1.regulation
}

/// Steps until something is on screen; work beside the window takes its time.
fn wait_for(test: &mut Test, label: &str) {
    let begun = Instant::now();
    while test.query_all_by_label_contains(label).next().is_none() {
        assert!(begun.elapsed() < Duration::from_secs(60), "“{label}” does not come");
        std::thread::sleep(Duration::from_millis(20));
        test.step();
    }
    test.step();
}

fn click(test: &mut Test, label: &str) {
    let at = test.get_by_label(label).rect().center();
    click_at(test, at, PointerButton::Primary, Modifiers::NONE);
}

fn open_map(test: &mut Test) -> Rect {
    click(test, "Map of settings");
    wait_for(test, "Map of settings: Head limit");
    test.get_by_label_contains("Map of settings: Head limit").rect()
}

fn undo(test: &mut Test) {
    test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    test.run_steps(2);
}

fn shut(test: &Test) -> Vec<String> {
    let project = project(test);
    project.zones.values().filter(|zone| project.is_zone_shut(zone)).map(|zone| zone.name.clone()).collect()
}

#[test]
fn a_scenario_is_entered_from_the_strip_and_stepped() {
    let mut test = window();
    wait_for(&mut test, "Office alone, 800 h, served");
    let chip = test.get_by_label_contains("Office alone, 800 h").rect().center();
    click_at(&mut test, chip, PointerButton::Primary, Modifiers::NONE);
    assert_eq!(shut(&test), ["Meeting radiators", "Children's floor", "Reading-room floor"]);
    click(&mut test, "Next");
    assert_eq!(shut(&test), ["Office radiators", "Children's floor", "Reading-room floor"]);
    click(&mut test, "Back");
    click(&mut test, "Back");
    assert_eq!(shut(&test), ["Office radiators", "Meeting radiators"]);
    // The present settings give the children's floor alone more than its band, and the strip says so.
    let chip = test.get_by_label_contains("Children's floor alone, 900 h");
    assert!(format!("{chip:?}").contains("0 starved, 1 overflowed"), "{chip:?}");
}

#[test]
fn all_scenarios_are_played_as_one_step() {
    let mut test = window();
    wait_for(&mut test, "Office alone, 800 h, served");
    let before = project(&test).clone();
    click(&mut test, "Play");
    let mut seen = std::collections::BTreeSet::new();
    // Each stays 1.8 s of the window's own time.
    for _ in 0..(7.0 * 1.8 * 60.0) as usize {
        test.step();
        seen.insert(shut(&test));
    }
    assert!(seen.len() >= 7, "{seen:?}");
    click(&mut test, "Pause");
    test.run_steps(3);
    undo(&mut test);
    assert_eq!(*project(&test), before);
}

#[test]
fn a_drag_on_the_map_moves_both_settings_as_one_step() {
    let mut test = window();
    let map = open_map(&mut test);
    let before = regulation(&test);
    let target = pos2(map.left() + 0.6 * map.width(), map.bottom() - 0.5 * map.height());
    drag_between(&mut test, map.center() - vec2(60.0, 20.0), target);
    let after = regulation(&test);
    // Whole steps of the device under the pointer: 60 % of the slope, and half way up the limits, 0.1 to 7.5 m.
    assert!((after.slope - 0.6).abs() < 0.011, "{after:?}");
    assert!((after.head_limit_m.unwrap() - 3.8).abs() < 0.051, "{after:?}");
    assert_eq!(after.speed_cap, before.speed_cap);
    undo(&mut test);
    assert_eq!(regulation(&test), before);
}

#[test]
fn what_the_map_says_is_what_the_study_says_in_the_frame_of_the_drag() {
    let mut test = window();
    let map = open_map(&mut test);
    let start = map.center();
    test.event(Event::PointerMoved(start));
    test.step();
    super::hand::pointer(&test, start, true);
    test.step();
    for along in [0.2, 0.4, 0.7] {
        test.event(Event::PointerMoved(pos2(map.left() + along * map.width(), map.center().y)));
        test.step();
        let settings = regulation(&test);
        let told = test.get_by_label_contains("Map of settings: Head limit");
        let told = format!("{told:?}");
        let slope = format!("slope {:.0}", 100.0 * settings.slope);
        assert!(told.contains(&slope), "{slope}: {told}");
        // The desk has studied these settings.
        let desk = test.state().as_ref().unwrap().desk();
        let pump = desk.pump().unwrap();
        let flow = desk.study().results().pumps[&pump].flow;
        let study = headwise::study::Study::new(desk.project()).unwrap();
        assert!((study.results().pumps[&pump].flow / flow - 1.0).abs() < 1e-9);
    }
    release(&mut test, map.center());
}

#[test]
fn arrow_keys_step_the_present_point() {
    let mut test = window();
    let map = open_map(&mut test);
    click_at(&mut test, map.center(), PointerButton::Primary, Modifiers::NONE);
    let before = regulation(&test);
    test.key_press(Key::ArrowRight);
    test.step();
    test.key_press(Key::ArrowUp);
    test.run_steps(2);
    let after = regulation(&test);
    assert!((after.slope - before.slope - 0.01).abs() < 1e-9);
    assert!((after.head_limit_m.unwrap() - before.head_limit_m.unwrap() - 0.1).abs() < 1e-9);
}

#[test]
fn the_best_setting_is_offered_and_taken() {
    let mut test = window();
    open_map(&mut test);
    wait_for(&mut test, "Use this setting");
    let project_now = project(&test).clone();
    let pump = project_now.pumps().next().unwrap().0;
    let found = best(&mut PartLoad::new(&project_now, pump).unwrap(), &Watch::default()).unwrap();
    click(&mut test, "Use this setting");
    assert_eq!(regulation(&test), found.settings);
    wait_for(&mut test, "These are the present settings.");
    undo(&mut test);
    assert_ne!(regulation(&test), found.settings);
}

#[test]
fn what_is_asked_beside_the_map_is_answered() {
    let mut test = window_of(vec2(1920.0, 1400.0), Theme::Dark);
    open_map(&mut test);
    wait_for(&mut test, "How robust?");
    click(&mut test, "How robust?");
    wait_for(&mut test, "that are not just as drawn");
    // The answer comes into sight in a few frames.
    test.run_steps(40);
    click(&mut test, "Why not better?");
    wait_for(&mut test, "What would move the limit");
    assert!(test.query_all_by_label_contains("one size larger").next().is_some());
}

#[test]
fn margins_name_scenario_and_limit() {
    let mut test = window();
    wait_for(&mut test, "Office alone, 800 h, served");
    click(&mut test, "Margins");
    let row = test.get_by_label_contains("Children's floor: at least 100");
    let told = format!("{row:?}");
    assert!(told.contains("115") && told.contains("overflowed in Children's floor alone · set-line"), "{told}");
}

#[test]
fn the_year_tells_energy_money_and_the_index_with_its_steps() {
    let mut test = window_of(vec2(1600.0, 1300.0), Theme::Light);
    wait_for(&mut test, "Office alone, 800 h, served");
    click(&mut test, "Year");
    test.run_steps(2);
    for words in ["Together 5000 h and 204", "EUR", "Constant speed at the cap", "Level head limit, no slope"] {
        assert!(test.query_all_by_label_contains(words).next().is_some(), "{words}");
    }
    let index = test.get_by_label_contains("Energy efficiency index").rect().center();
    click_at(&mut test, index, PointerButton::Primary, Modifiers::NONE);
    test.run_steps(30);
    assert!(test.query_all_by_label_contains("P_ref = 1.7 P_hyd").next().is_some());
}

#[test]
fn a_variant_is_pinned_swapped_and_deleted() {
    let mut test = window();
    wait_for(&mut test, "Office alone, 800 h, served");
    click(&mut test, "Variants");
    let before = regulation(&test);
    click(&mut test, "Pin present settings");
    test.run_steps(2);
    assert_eq!(project(&test).variants.len(), 1);
    let handle = test.get_by_label("Slope handle").rect().center();
    drag_between(&mut test, handle, handle + vec2(0.0, 60.0));
    let other = regulation(&test);
    assert_ne!(other, before);
    click(&mut test, "Swap");
    test.run_steps(2);
    assert_eq!(regulation(&test), before);
    assert_eq!(project(&test).variants[0].regulation, other);
    for _ in 0..7 {
        let pin = test.get_by_label("Pin present settings").rect().center();
        click_at(&mut test, pin, PointerButton::Primary, Modifiers::NONE);
    }
    assert_eq!(project(&test).variants.len(), 6);
    let delete = test.query_all_by_label("Delete").next().unwrap().rect().center();
    click_at(&mut test, delete, PointerButton::Primary, Modifiers::NONE);
    assert_eq!(project(&test).variants.len(), 5);
}

#[test]
fn every_sample_shows_every_pane_in_every_size() {
    for name in ["fernhollow-library", "saltreed-growers", "alder-point-clinic", "thornwick-court"] {
        for (size, theme) in [(vec2(1024.0, 680.0), Theme::Light), (vec2(1920.0, 1080.0), Theme::Dark)] {
            let mut test = window_of(size, theme);
            test.state_mut().as_mut().unwrap().open(&sample(&format!("{name}.ron")));
            test.run_steps(3);
            let is_bare = project(&test).scenarios.is_empty();
            wait_for(&mut test, if is_bare { "No scenario yet" } else { "kWh" });
            for word in ["Margins", "Head path", "Year", "Variants", "Zones"] {
                click(&mut test, word);
                test.run_steps(2);
            }
            let map = open_map(&mut test);
            assert!(map.width() > 100.0 && map.height() > 60.0, "{name} {size}: {map}");
            test.run_steps(3);
        }
    }
}

#[test]
fn an_empty_sheet_says_why_there_is_no_map() {
    let mut test = window();
    test.key_press_modifiers(Modifiers::COMMAND, Key::N);
    test.run_steps(4);
    test.key_press(Key::F3);
    test.run_steps(3);
    click(&mut test, "Map of settings");
    wait_for(&mut test, "There is no circulator to set");
    for word in ["Margins", "Year", "Variants", "Head path"] {
        click(&mut test, word);
        test.run_steps(2);
    }
}

#[test]
fn what_is_done_while_scenarios_are_played_ends_it_and_is_a_step_of_its_own() {
    let mut test = window();
    wait_for(&mut test, "Office alone, 800 h, served");
    click(&mut test, "Play");
    for _ in 0..240 {
        test.step();
    }
    let played = shut(&test);
    let before = regulation(&test);
    let handle = test.get_by_label("Slope handle").rect().center();
    drag_between(&mut test, handle, handle + vec2(0.0, 50.0));
    assert_ne!(regulation(&test), before);
    assert!(test.query_by_label("Play").is_some(), "it goes on playing");
    undo(&mut test);
    assert_eq!((regulation(&test), shut(&test)), (before, played));
}

#[test]
fn a_name_that_is_typed_is_kept_when_a_button_is_pressed() {
    let mut test = window();
    wait_for(&mut test, "Office alone, 800 h, served");
    click(&mut test, "Variants");
    click(&mut test, "Pin present settings");
    test.run_steps(2);
    let field = test.query_all_by_value("Variant 1").next().unwrap().rect().center();
    click_at(&mut test, field, PointerButton::Primary, Modifiers::NONE);
    test.event(Event::Text(" lean".to_owned()));
    test.step();
    click(&mut test, "Pin present settings");
    test.run_steps(3);
    let names: Vec<&str> = project(&test).variants.iter().map(|variant| variant.name.as_str()).collect();
    assert_eq!(names.len(), 2, "{names:?}");
    assert!(names.iter().any(|name| name.contains("lean")), "{names:?}");
}

#[test]
fn the_strip_and_the_year_lead_to_the_figures_they_speak_of() {
    let mut test = window();
    test.state_mut().as_mut().unwrap().open(&sample("thornwick-court.ron"));
    test.run_steps(3);
    click(&mut test, "Make scenarios");
    test.run_steps(40);
    let heading = test.get_by_label("Scenarios").rect();
    assert!(heading.top() > 100.0 && heading.bottom() < 780.0, "{heading}");
}

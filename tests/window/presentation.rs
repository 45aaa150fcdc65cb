//! Presenting: entered and left by a key, still worked by hand, before beside now, and readable from afar.

use super::hand::{Test, click_at, drag, project, release, sample, window, window_of};
use super::plans;
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Rect, Shape, Theme, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use headwise::document::{Arrangement, Command, Project, compose};
use headwise::file;
use std::time::{Duration, Instant};
use tempfile::TempDir;

fn press(test: &mut Test, key: Key) {
    test.key_press(key);
    test.run_steps(2);
}

fn presenting() -> Test {
    let mut test = window();
    press(&mut test, Key::F5);
    // The year is reckoned beside the window, and on a busy machine later: what is painted is held against itself afterwards.
    for _ in 0..2000 {
        if texts(&test).iter().any(|(text, _)| text.contains("kWh")) {
            return test;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
        test.step();
    }
    panic!("no year after 20 s");
}

fn told(test: &Test, part: &str) -> String {
    let node = test.query_all_by_label_contains(part).next();
    let node = node.unwrap_or_else(|| panic!("“{part}” is not on screen"));
    node.value().or_else(|| node.accesskit_node().label()).unwrap_or_default().replace('\u{a0}', " ")
}

fn is_there(test: &Test, part: &str) -> bool {
    test.query_all_by_label_contains(part).next().is_some()
}

/// Presents a sample after something was changed in it.
fn presenting_changed(name: &str, change: impl Fn(&mut Project)) -> (Test, TempDir) {
    let mut changed = file::load(&sample(name)).unwrap();
    change(&mut changed);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    file::save(&changed, &path).unwrap();
    let mut test = window();
    test.state_mut().as_mut().unwrap().open(&path);
    press(&mut test, Key::F5);
    (test, folder)
}

/// Words painted now, with what they cover.
fn texts(test: &Test) -> Vec<(String, Rect)> {
    let mut all = Vec::new();
    let mut left: Vec<Shape> = test.output().shapes.iter().map(|clipped| clipped.shape.clone()).collect();
    while let Some(shape) = left.pop() {
        match shape {
            Shape::Vec(parts) => left.extend(parts),
            Shape::Text(text) => {
                all.push((text.galley.text().replace('\u{a0}', " "), text.galley.rect.translate(text.pos.to_vec2())));
            }
            _ => {}
        }
    }
    all
}

/// Waits for what is probed beside the window.
fn wait_for(test: &mut Test, part: &str) {
    let begun = Instant::now();
    while !is_there(test, part) {
        assert!(begun.elapsed() < Duration::from_secs(60), "“{part}” does not come");
        std::thread::sleep(Duration::from_millis(20));
        test.step();
    }
    test.step();
}

fn shut(test: &Test) -> Vec<String> {
    let project = project(test);
    project.zones.values().filter(|zone| project.is_zone_shut(zone)).map(|zone| zone.name.clone()).collect()
}

/// What is painted now, with its place: triangles' corners, rounded, so that motion shows.
fn painted(test: &Test) -> Vec<(i64, i64)> {
    let shapes = &test.output().shapes;
    shapes
        .iter()
        .map(|shape| shape.shape.visual_bounding_rect().center())
        .map(|at| ((at.x * 64.0) as i64, (at.y * 64.0) as i64))
        .collect()
}

#[test]
fn one_key_takes_tools_away_and_another_brings_them_back() {
    let mut test = window();
    assert!(test.query_by_label("Undo").is_some());
    let drawing = test.get_by_label("Drawing of the system").rect();
    press(&mut test, Key::F5);
    for gone in ["Undo", "Draw", "Save", "Margins", "Minimum speed"] {
        assert!(test.query_by_label(gone).is_none(), "{gone} is still there");
    }
    assert!(test.get_by_label("Drawing of the system").rect().height() > drawing.height());
    press(&mut test, Key::Escape);
    assert!(test.query_by_label("Undo").is_some());
    press(&mut test, Key::F5);
    press(&mut test, Key::F2);
    assert!(test.query_by_label("Place Circulator").is_some(), "F2 leads to drawing from here too");
}

#[test]
fn it_goes_back_to_what_the_person_was_at() {
    let mut test = window();
    press(&mut test, Key::F2);
    press(&mut test, Key::F5);
    assert!(test.query_by_label("Place Circulator").is_none());
    press(&mut test, Key::F5);
    assert!(test.query_by_label("Place Circulator").is_some());
}

#[test]
fn settings_are_dragged_and_the_sentence_follows_in_the_same_frame() {
    let mut test = presenting();
    assert!(told(&test, "Every room gets what it needs").starts_with("Every room"));
    let before = project(&test).clone();
    let end = drag(&mut test, "Head limit handle", vec2(0.0, 120.0));
    let told = told(&test, "of their planned flow");
    assert!(told.contains("all 4 rooms get"), "it does not say what the drag has done: {told}");
    release(&mut test, end);
    assert_ne!(*project(&test), before);
    test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    test.run_steps(2);
    assert_eq!(*project(&test), before, "a drag is one step here too");
}

#[test]
fn zones_are_told_by_warmth_and_shut_by_a_click() {
    let mut test = presenting();
    assert!(told(&test, "Reading-room floor: ").ends_with("comfortable"));
    let row = test.get_by_label_contains("Reading-room floor: ").rect();
    click_at(&mut test, row.center(), PointerButton::Primary, Modifiers::NONE);
    assert_eq!(shut(&test), ["Reading-room floor"]);
    assert!(told(&test, "Reading-room floor: ").ends_with("shut"));
    assert!(is_there(&test, "Every open room gets what it needs"));
    press(&mut test, Key::A);
    assert!(shut(&test).is_empty());
    // On the drawing too.
    let valve = test.get_by_label("Office zone valve").rect().center();
    click_at(&mut test, valve, PointerButton::Primary, Modifiers::NONE);
    assert_eq!(shut(&test), ["Office radiators"]);
}

#[test]
fn scenarios_are_stepped_with_the_keys_of_a_remote() {
    let mut test = presenting();
    wait_for(&mut test, "kWh");
    let names: Vec<String> = project(&test).scenarios.iter().map(|scenario| scenario.name.clone()).collect();
    assert!(told(&test, "the pump moves").contains(&names[0]));
    press(&mut test, Key::PageDown);
    assert!(told(&test, "the pump moves").contains(&names[1]));
    press(&mut test, Key::PageUp);
    press(&mut test, Key::PageUp);
    assert!(told(&test, "the pump moves").contains(&names[names.len() - 1]));
}

#[test]
fn digits_are_round_until_the_engineers_are_asked_for() {
    let mut test = presenting();
    wait_for(&mut test, "kWh");
    let round = told(&test, "the pump moves");
    assert!(round.contains("2.0 m³/h") && round.contains("63 W"), "{round}");
    let money = told(&test, "EUR");
    assert!(money.contains("EUR 63 a year"), "{money}");
    press(&mut test, Key::E);
    let full = told(&test, "the pump moves");
    assert!(full.contains("1.98") && !full.contains("2.0 m³/h"), "{full}");
    press(&mut test, Key::E);
    assert_eq!(told(&test, "the pump moves"), round);
    // Outside nothing is ever rounded more than an engineer wants.
    press(&mut test, Key::Escape);
    assert!(is_there(&test, "1.98"));
}

#[test]
fn before_and_now_stand_beside_each_other_with_the_difference_in_words() {
    let mut test = presenting();
    wait_for(&mut test, "kWh");
    press(&mut test, Key::B);
    assert!(is_there(&test, "Nothing differs from before yet"));
    let end = drag(&mut test, "Speed cap handle", vec2(-40.0, 60.0));
    release(&mut test, end);
    test.run_steps(3);
    let difference = told(&test, "a year less");
    assert!(difference.contains("→") && difference.contains("pump") && difference.contains("EUR"), "{difference}");
    assert!(told(&test, "Reading-room floor: ").contains("→"));
    assert!(told(&test, "rooms warm enough").contains("→"), "energy before and now");
    // The other pair: both drawings.
    assert!(test.query_by_label("Drawing of the system").is_none());
    press(&mut test, Key::V);
    assert!(test.query_by_label("Drawing of the system").is_some());
    assert!(test.query_by_label("Head limit handle").is_none());
    press(&mut test, Key::B);
    press(&mut test, Key::V);
    assert!(test.query_by_label("Head limit handle").is_some() && is_there(&test, "the pump moves"));
}

#[test]
fn what_is_kept_is_forgotten_with_its_document() {
    let mut test = presenting();
    press(&mut test, Key::B);
    test.state_mut().as_mut().unwrap().open(&sample("alder-point-clinic.ron"));
    test.run_steps(4);
    assert!(!is_there(&test, "Nothing differs"));
    assert!(is_there(&test, "Floor 1: "));
}

#[test]
fn the_other_button_writes_and_moves_nothing_and_what_it_wrote_goes() {
    let mut test = presenting();
    press(&mut test, Key::M);
    test.run_steps(260);
    let (before, clean) = (project(&test).clone(), painted(&test).len());
    let handle = test.get_by_label("Head limit handle").rect().center();
    let button = |pos: Pos2, pressed: bool| Event::PointerButton {
        pos,
        button: PointerButton::Secondary,
        pressed,
        modifiers: Modifiers::NONE,
    };
    test.event(Event::PointerMoved(handle));
    test.step();
    test.event(button(handle, true));
    for i in 1..=10 {
        test.event(Event::PointerMoved(handle + vec2(-6.0, 9.0) * i as f32));
        test.step();
    }
    let written = painted(&test).len();
    assert!(written > clean, "{written} shapes, {clean} before");
    test.event(button(handle + vec2(-60.0, 90.0), false));
    test.event(Event::PointerGone);
    test.run_steps(3);
    assert_eq!(*project(&test), before, "the hand that writes has dragged a setting");
    let wait = |test: &mut Test, seconds: f64| test.run_steps((60.0 * seconds) as usize);
    wait(&mut test, 3.0);
    assert!(painted(&test).len() >= written - 8, "it goes while it is looked at");
    wait(&mut test, 4.0);
    assert!(painted(&test).len() <= clean, "it stays for ever");
}

#[test]
fn the_flow_moves_all_the_time_and_stands_still_once_asked() {
    let mut test = presenting();
    // Long after any change.
    test.run_steps(300);
    let before = painted(&test);
    test.run_steps(6);
    assert_ne!(painted(&test), before, "nothing moves");
    press(&mut test, Key::M);
    test.run_steps(3);
    let before = painted(&test);
    test.run_steps(30);
    assert_eq!(painted(&test), before, "it moves though it was asked not to");
    press(&mut test, Key::M);
    let before = painted(&test);
    test.run_steps(6);
    assert_ne!(painted(&test), before);
}

#[test]
fn axes_and_panes_stay_while_a_setting_is_dragged() {
    let mut test = presenting();
    let places = |test: &Test| ["Drawing of the system", "Head over flow"].map(|name| test.get_by_label(name).rect());
    let rows = |test: &Test| test.get_by_label_contains("Office radiators: ").rect();
    let (before, row) = (places(&test), rows(&test));
    let end = drag(&mut test, "Head limit handle", vec2(0.0, 150.0));
    assert_eq!((places(&test), rows(&test)), (before, row));
    release(&mut test, end);
    assert_eq!((places(&test), rows(&test)), (before, row));
    press(&mut test, Key::PageDown);
    assert_eq!((places(&test), rows(&test)), (before, row));
}

#[test]
fn help_lies_over_it_and_escape_takes_first_that() {
    let mut test = presenting();
    press(&mut test, Key::H);
    for part in ["next scenario", "Drag: a setting", "Click a pump: ", "marks fade"] {
        assert!(told(&test, "Keys. ").contains(part), "{part}");
    }
    press(&mut test, Key::Escape);
    assert!(!is_there(&test, "Keys. ") && test.query_by_label("Undo").is_none());
    press(&mut test, Key::Escape);
    assert!(test.query_by_label("Undo").is_some());
}

#[test]
fn it_stands_in_every_window_and_with_every_sample() {
    for name in ["fernhollow-library", "saltreed-growers", "alder-point-clinic", "thornwick-court"] {
        for (size, theme) in [(vec2(1024.0, 680.0), Theme::Light), (vec2(1920.0, 1080.0), Theme::Dark)] {
            let mut test = window_of(size, theme);
            test.state_mut().as_mut().unwrap().open(&sample(&format!("{name}.ron")));
            press(&mut test, Key::F5);
            let zones: Vec<String> = project(&test).zones.values().map(|zone| format!("{}: ", zone.name)).collect();
            let mut under = f32::NEG_INFINITY;
            for zone in zones {
                let row = test.get_by_label_contains(&zone).rect();
                // A quarter of a row's height is what is left of it where the screen is shown at a quarter.
                assert!(row.height() > 0.045 * size.y && row.top() >= under - 0.5, "{name}, {zone}: {row}");
                under = row.bottom();
            }
            assert!(under < size.y);
            let plot = test.get_by_label("Head over flow").rect();
            assert!(plot.height() > 0.2 * size.y && plot.width() > 0.35 * size.x, "{name}: {plot}");
            press(&mut test, Key::B);
            press(&mut test, Key::V);
            press(&mut test, Key::S);
        }
    }
}

#[test]
fn an_empty_sheet_can_be_presented() {
    let mut test = window();
    test.key_press_modifiers(Modifiers::COMMAND, Key::N);
    test.run_steps(4);
    press(&mut test, Key::F5);
    assert!(is_there(&test, "There is no circulator"));
    for key in [Key::B, Key::V, Key::PageDown, Key::H, Key::Escape, Key::Escape] {
        press(&mut test, key);
    }
}

#[test]
fn of_many_rooms_the_worst_have_a_row_and_the_others_are_counted() {
    let folder = tempfile::tempdir().unwrap();
    for (plan, count) in [
        (plans::library(Arrangement::DirectReturn, false), 24),
        (plans::greenhouse(Arrangement::DirectReturn, false), 8),
    ] {
        let mut plan = plan;
        let zones: Vec<_> = plan.zones.iter().cycle().take(count).cloned().collect();
        plan.zones = zones;
        plan.zones.iter_mut().enumerate().for_each(|(i, zone)| zone.name = format!("Room {}.", i + 1));
        let path = folder.path().join(format!("{count}-rooms.ron"));
        file::save(&compose(&plan).unwrap().project, &path).unwrap();
        let mut test = window();
        test.state_mut().as_mut().unwrap().open(&path);
        press(&mut test, Key::F5);
        let names: Vec<String> = project(&test).zones.values().map(|zone| format!("{}: ", zone.name)).collect();
        assert_eq!(names.len(), count);
        let rows: Vec<_> = names.iter().filter(|name| is_there(&test, name)).collect();
        if count > 10 {
            assert_eq!(rows.len(), 9);
            assert!(is_there(&test, "and 15 more"));
        } else {
            assert_eq!(rows.len(), count);
            let first = test.get_by_label_contains(&names[0]).rect();
            let last = test.get_by_label_contains(&names[count - 1]).rect();
            assert!(last.left() > first.right() - 1.0, "two columns");
        }
        for row in rows {
            assert!(test.get_by_label_contains(row).rect().height() > 20.0);
        }
    }
}

#[test]
fn comfort_is_told_by_heat_and_little_water_as_water() {
    let at = |limit: f64| {
        presenting_changed("fernhollow-library.ron", |project| {
            let (pump, _) = project.pumps().next().unwrap();
            project.apply(&Command::SetHeadLimit(pump, Some(limit))).unwrap();
        })
    };
    // 89 % of the water still brings 98 % of the heat.
    let (test, _folder) = at(4.3);
    assert!(is_there(&test, "Every room is comfortable. All 4 rooms: a little less water than planned."));
    assert!(told(&test, "Meeting radiators: ").ends_with("comfortable"));
    assert!(told(&test, "rooms warm enough").starts_with("4 of 4"));
    let (test, _folder) = at(2.0);
    let sentence = told(&test, "of their planned flow");
    assert!(sentence.contains("ool: all 4 rooms get"), "{sentence}");
    assert!(told(&test, "rooms warm enough").starts_with("0 of 4"));
}

#[test]
fn a_source_that_gets_too_little_water_is_told() {
    let mut test = presenting();
    let office = project(&test).scenarios.iter().position(|scenario| scenario.name == "Office alone").unwrap();
    for _ in 0..office {
        press(&mut test, Key::PageDown);
    }
    let sentence = told(&test, "gets too little water");
    assert!(sentence.contains("Office alone. The heat pump gets too little water: 0.26 of 0.6"), "{sentence}");
}

#[test]
fn with_all_rooms_shut_nothing_is_counted_and_the_pump_is_told_of() {
    let (test, _folder) = presenting_changed("fernhollow-library.ron", |project| {
        let valves: Vec<_> = project.zones.values().filter_map(|zone| zone.valve).collect();
        for valve in valves {
            project.apply(&Command::SetOpen(valve, false)).unwrap();
        }
    });
    assert!(is_there(&test, "No room is open: the pump runs against shut valves."));
    assert!(is_there(&test, "The heat pump gets too little water: 0"));
    assert!(is_there(&test, "No room open"));
}

#[test]
fn of_several_pumps_the_plotted_one_is_named_and_another_can_be_taken() {
    let (mut test, _folder) = presenting_changed("thornwick-court.ron", |_| {});
    let pumps: Vec<(_, String)> =
        project(&test).pumps().map(|(id, _)| (id, project(&test).components[&id].name.clone())).collect();
    let plotted = |test: &Test| told(test, "Plotted: ").replace("Plotted: ", "");
    let first = plotted(&test);
    for _ in 0..pumps.len() {
        let before = plotted(&test);
        press(&mut test, Key::N);
        assert_ne!(plotted(&test), before);
    }
    assert_eq!(plotted(&test), first);
    let above = test.get_by_label_contains("Plotted: ").rect().center();
    click_at(&mut test, above, PointerButton::Primary, Modifiers::NONE);
    assert_ne!(plotted(&test), first);
    // On the drawing too.
    for (_, name) in &pumps {
        let at = test.get_by_label(name).rect().center();
        click_at(&mut test, at, PointerButton::Primary, Modifiers::NONE);
        assert_eq!(plotted(&test), *name);
    }
    // One pump needs no name.
    assert!(!is_there(&presenting(), "Plotted: "));
}

#[test]
fn the_difference_names_scenarios_and_open_zones_and_counts_shut_ones() {
    let (mut test, _folder) = presenting_changed("saltreed-growers.ron", |_| {});
    press(&mut test, Key::B);
    press(&mut test, Key::PageUp);
    let difference = told(&test, "Before: All zones open. Now: ");
    assert!(difference.contains("Now: Bay 4 alone: Bay 4 "), "{difference}");
    assert!(difference.contains(" %, more than needed; 4 zones shut; pump 1"), "{difference}");
    let captions: Vec<String> = texts(&test).into_iter().map(|(text, _)| text).collect();
    for caption in ["Before: All zones open", "Now: Bay 4 alone"] {
        assert!(captions.iter().any(|text| text == caption), "{caption}");
    }
}

#[test]
fn words_of_the_point_hide_no_setting_and_keep_their_side_during_a_drag() {
    let mut test = presenting();
    let plot = test.get_by_label("Head over flow").rect();
    let start = test.get_by_label("Head limit handle").rect().center();
    test.event(Event::PointerMoved(start));
    test.step();
    super::hand::pointer(&test, start, true);
    test.step();
    let mut jumps = Vec::new();
    let mut last: Option<Rect> = None;
    for i in 0..=40 {
        test.event(Event::PointerMoved(start + vec2(0.0, 6.0 * i as f32 - 60.0)));
        test.step();
        let texts = texts(&test);
        let point = texts.iter().find(|(text, _)| text.contains("m³/h · ")).map(|(_, rect)| *rect).unwrap();
        for (text, rect) in &texts {
            let names = ["Head limit ", "Slope ", "Speed cap "];
            if names.iter().any(|name| text.starts_with(name)) {
                assert!(!rect.intersects(point), "{text} at {rect}, the point's words at {point}");
                assert!(rect.right() < plot.right() - 6.0, "{text} touches the frame");
            }
        }
        if last.is_some_and(|last| last.center().distance(point.center()) > 40.0) {
            jumps.push((i, last, point));
        }
        last = Some(point);
    }
    assert!(jumps.len() <= 1, "{jumps:?}, plot {plot}");
}

//! Where the head goes: chosen below the drawing, read, laid over another path, pointed at.

use super::hand::{Test, project, sample, window, window_of};
use egui::accesskit::Role;
use egui::{Event, Key, Theme, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use headwise::document::{Component, ComponentId, ComponentKind, Turn};
use headwise::problems::Place;

/// A place where nothing can be pointed at.
const NOWHERE: egui::Pos2 = egui::pos2(640.0, 4.0);

fn lit(test: &Test) -> Option<Place> {
    test.state().as_ref().unwrap().lit()
}

fn open_head_path(test: &mut Test) {
    test.get_by_label("Head path").click();
    test.run_steps(3);
}

/// Opens a chooser and takes a word in it.
fn choose(test: &mut Test, chooser: &str, word: &str) {
    test.get_by_role_and_label(Role::ComboBox, chooser).click();
    test.run_steps(3);
    test.get_by_label(word).click();
    test.run_steps(3);
}

#[test]
fn every_step_of_the_index_circuit_is_named_with_what_it_takes() {
    let mut test = window();
    assert!(test.query_by_label_contains("Circulator gives").is_none());
    open_head_path(&mut test);
    assert!(test.query_by_value("Reading-room floor (index circuit)").is_some());
    assert!(test.query_by_label_contains("Circulator gives").is_some());
    for step in
        ["Main 1 flow (pipe)", "Reading-room zone valve", "Strainer", "Heat pump (source)", "Common flow (pipe)"]
    {
        assert!(test.query_by_label_contains(&format!("{step}: takes")).is_some(), "{step}");
    }
    assert!(test.query_by_label_contains("Reading-room floor loops (emitter): takes").is_some());
    assert!(test.query_by_label_contains("All steps together").is_some());
    // Another word brings the zones back.
    test.get_by_label("Zones").click();
    test.run_steps(3);
    assert!(test.query_by_label_contains("Circulator gives").is_none());
    assert!(test.query_by_label("Shut Children's floor").is_some());
}

#[test]
fn a_row_pointed_at_is_lit_in_the_same_frame_and_forgotten_when_the_pointer_leaves() {
    let mut test = window();
    open_head_path(&mut test);
    test.event(Event::PointerMoved(NOWHERE));
    test.step();
    assert_eq!(lit(&test), None);
    let pipe = *project(&test).pipes.iter().find(|(_, pipe)| pipe.name == "Main 2 flow").unwrap().0;
    let row = test.get_by_label_contains("Main 2 flow (").rect().center();
    test.event(Event::PointerMoved(row));
    test.step();
    assert_eq!(lit(&test), Some(Place::Pipe(pipe)));
    let first = test.get_by_label_contains("Circulator gives").rect().center();
    test.event(Event::PointerMoved(first));
    test.step();
    let pump = project(&test).component_named("Circulator").unwrap();
    assert_eq!(lit(&test), Some(Place::Component(pump)));
    test.event(Event::PointerMoved(NOWHERE));
    test.step();
    assert_eq!(lit(&test), None);
}

#[test]
fn the_halo_of_what_is_pointed_at_is_on_the_drawing() {
    let mut test = window();
    open_head_path(&mut test);
    let row = test.get_by_label_contains("Main 1 flow (").rect().center();
    test.event(Event::PointerMoved(row));
    test.step();
    test.step();
    let wide = |test: &Test| {
        let drawing = test.get_by_label("Drawing of the system").rect();
        let shapes = &test.output().shapes;
        let is_wide = |shape: &egui::Shape| match shape {
            egui::Shape::Path(path) => path.stroke.width > 12.0 && path.points.iter().all(|at| drawing.contains(*at)),
            _ => false,
        };
        shapes.iter().filter(|clipped| is_wide(&clipped.shape)).count()
    };
    assert!(wide(&test) >= 3, "{}", wide(&test));
    test.event(Event::PointerMoved(NOWHERE));
    test.step();
    test.step();
    assert_eq!(wide(&test), 0);
}

#[test]
fn another_zone_and_another_scenario_stand_beside_the_path() {
    let mut test = window();
    open_head_path(&mut test);
    choose(&mut test, "beside it", "Meeting radiators");
    // Shared mains tell both, the other zone's branch stands in rows of its own.
    assert!(test.query_by_label_contains("Main 1 flow (pipe): takes").is_some());
    assert!(test.query_by_label_contains("Meeting balancing valve: beside it takes").is_some());
    choose(&mut test, "beside it", "Reading room alone");
    assert!(test.query_by_label_contains("Meeting balancing valve:").is_none());
    let row = test.get_by_label_contains("Main 1 flow (pipe): takes");
    let label = row.value().or_else(|| row.accesskit_node().label()).unwrap_or_default();
    assert!(label.contains("; beside it takes"), "{label}");
    choose(&mut test, "beside it", "Office alone");
    assert!(test.query_by_label_contains("Reading-room floor is shut").is_some());
    choose(&mut test, "Path of", "Office radiators");
    assert!(test.query_by_label_contains("Office balancing valve: takes").is_some());
}

#[test]
fn every_sample_shows_its_head_path_in_every_size_and_theme() {
    for name in ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron", "thornwick-court.ron"] {
        for (size, theme) in [(vec2(1024.0, 680.0), Theme::Dark), (vec2(1920.0, 1080.0), Theme::Light)] {
            let mut test = window_of(size, theme);
            test.state_mut().as_mut().unwrap().open(&sample(name));
            test.run_steps(3);
            open_head_path(&mut test);
            assert!(test.query_by_label_contains(" gives ").is_some(), "{name}");
            let pane = test.get_by_label("Head path").rect();
            assert!(pane.right() < 0.6 * size.x, "{name}: {pane}");
        }
    }
}

#[test]
fn a_row_reached_by_keyboard_is_lit_too() {
    let mut test = window();
    open_head_path(&mut test);
    test.event(Event::PointerMoved(NOWHERE));
    test.step();
    test.get_by_label_contains("Reading-room zone valve: takes").focus();
    test.run_steps(2);
    let valve = project(&test).component_named("Reading-room zone valve").unwrap();
    assert_eq!(lit(&test), Some(Place::Component(valve)));
    test.key_press(Key::Tab);
    test.run_steps(2);
    let pipe = *project(&test).pipes.iter().find(|(_, pipe)| pipe.name == "Reading-room branch return").unwrap().0;
    assert_eq!(lit(&test), Some(Place::Pipe(pipe)));
}

/// The study of a large drawing in another scenario goes on beside the window; the path lies there when it has ended.
#[test]
fn a_scenario_of_a_large_drawing_is_reckoned_beside_the_window() {
    let mut test = window();
    let mut large = project(&test).clone();
    // Tees that are joined to nothing make it large without more to solve.
    for i in 0..4000 {
        let tee = Component::new(format!("Tee {i}"), [90.0, 90.0], Turn::Right, ComponentKind::Junction);
        large.components.insert(ComponentId(1000 + i), tee);
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("large.ron");
    headwise::file::save(&large, &path).unwrap();
    test.state_mut().as_mut().unwrap().open(&path);
    let wait = |test: &mut Test, has_come: &dyn Fn(&Test) -> bool| {
        let begun = std::time::Instant::now();
        while !has_come(test) {
            assert!(begun.elapsed().as_secs() < 60, "nothing came");
            std::thread::sleep(std::time::Duration::from_millis(20));
            test.step();
        }
    };
    wait(&mut test, &|test| project(test).components.len() == large.components.len());
    test.run_steps(3);
    open_head_path(&mut test);
    choose(&mut test, "beside it", "Reading room alone");
    wait(&mut test, &|test| test.query_all_by_label_contains("; beside it takes").next().is_some());
    assert!(test.query_by_label_contains("is being reckoned").is_none());
}

#[test]
fn choosers_work_by_keyboard() {
    let mut test = window();
    test.get_by_label("Head path").focus();
    test.run_steps(2);
    test.key_press(Key::Enter);
    test.run_steps(3);
    let chooser = test.get_by_role_and_label(Role::ComboBox, "beside it");
    chooser.focus();
    test.run_steps(2);
    test.key_press(Key::Enter);
    test.run_steps(3);
    for _ in 0..20 {
        if test.get_by_label("Meeting radiators").is_focused() {
            break;
        }
        test.key_press(Key::ArrowDown);
        test.run_steps(2);
    }
    test.key_press(Key::Enter);
    test.run_steps(3);
    assert!(test.query_by_label_contains("Meeting balancing valve: beside it takes").is_some());
}

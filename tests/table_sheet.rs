//! The sheet in which a system is drawn out of a list, driven as a person would: typing, pasting, faults, the finished drawing.
//! Needs the feature `gui`, no display.

#![cfg(feature = "gui")]

#[path = "window/hand.rs"]
#[expect(dead_code, reason = "it takes the window alone")]
mod hand;

use egui::{Event, Key, Modifiers, Theme, vec2};
use egui_kittest::kittest::Queryable;
use hand::{Test, project, window_of};
use headwise::engine::units::{Quantity, Units};

/// The window with the empty sheet over it.
fn sheet() -> Test {
    let mut test = window_of(vec2(1280.0, 800.0), Theme::Light);
    open_sheet(&mut test);
    test
}

fn open_sheet(test: &mut Test) {
    click(test, "Project");
    test.get_by_label_contains("from a list of zones").click();
    test.run_steps(3);
}

fn click(test: &mut Test, label: &str) {
    test.get_by_label(label).click();
    test.run_steps(3);
}

/// Share of design flow of each zone.
fn shares(test: &Test) -> Vec<f64> {
    test.state().as_ref().unwrap().desk().study().results().zones.values().map(|zone| zone.share).collect()
}

fn key(test: &mut Test, key: Key) {
    test.key_press(key);
    test.run_steps(1);
}

/// Types into the list, a tab or line end as the keys that they stand for.
fn type_cells(test: &mut Test, text: &str) {
    for letter in text.chars() {
        match letter {
            '\t' => key(test, Key::Tab),
            '\n' => key(test, Key::Enter),
            letter => {
                test.event(Event::Text(letter.to_string()));
                test.run_steps(1);
            }
        }
    }
    test.run_steps(2);
}

fn paste(test: &mut Test, text: &str) {
    test.event(Event::Paste(text.to_owned()));
    test.run_steps(3);
}

fn type_into(test: &mut Test, label: &str, text: &str) {
    test.get_by_label(label).focus();
    test.run_steps(2);
    test.get_by_label(label).type_text(text);
    test.run_steps(2);
}

fn cell(test: &Test, label: &str) -> String {
    test.get_by_label(label).value().unwrap_or_default()
}

fn is_enabled(test: &Test, label: &str) -> bool {
    use egui_kittest::kittest::NodeT;
    !test.get_by_label(label).accesskit_node().is_disabled()
}

const PASTED: &str = "zone\theat load (kW)\temitter\temitter loss (kPa)\tbranch length (m)\tdistance (m)\n\
                      Hall\t3\tradiators\t8\t6\t10\nStudio\t2,5\tfloor\t14,5\t5\t12\n";

#[test]
fn a_list_is_typed_drawn_and_solved() {
    let mut test = sheet();
    assert!(!is_enabled(&test, "Draw it"));
    // Name, load, (drop, flow), emitter, loss, (leaving air, room, valve, Kv), branch, (bore, fittings), distance.
    type_cells(&mut test, "Hall\t3\t\t\trad\t8\t\t\t\t\t6\t\t\t10\t\t\t");
    type_cells(&mut test, "Studio\t2.5\t\t\tfl\t14.5\t\t\tnone\t\t5\t\t\t12\t\t\t");
    assert_eq!(cell(&test, "emitter, row 1"), "radiator");
    assert_eq!(cell(&test, "distance from the tee before (m), row 2"), "12");
    assert!(!is_enabled(&test, "Draw it"), "the temperatures are not given yet");
    type_into(&mut test, "Supply (°C)", "50");
    type_into(&mut test, "Drop (K)", "8");
    type_into(&mut test, "Building", "Lakeside Studio");
    assert!(is_enabled(&test, "Draw it"));
    // 5.5 kW by 8 K and the water's 1.150 kWh/(m³ K) at 46 °C (ρ 989.8 kg/m³, c_p 4.18 kJ/(kg K), steam tables): 0.598 m³/h.
    assert!(test.query_by_label_contains("0.598").is_some());
    click(&mut test, "Draw it");
    let drawn = project(&test);
    assert_eq!((drawn.title.as_str(), drawn.zones.len()), ("Lakeside Studio", 2));
    assert!(shares(&test).iter().all(|share| (share - 1.0).abs() < 0.005), "{:?}", shares(&test));
    assert!(test.query_by_label("Draw it").is_none(), "the sheet is closed");
    // The list is kept for the next time.
    open_sheet(&mut test);
    assert_eq!(cell(&test, "zone, row 2"), "Studio");
}

/// Worked by hand: 1.985 m³/h, 4.87 m and the loss of the index circuit's open balancing valve (under 1 kPa, 0.1 m).
#[test]
fn the_example_is_the_library_as_worked_by_hand() {
    let mut test = sheet();
    click(&mut test, "Fill in an example");
    assert!(is_enabled(&test, "Draw it"));
    click(&mut test, "Draw it");
    let drawn = project(&test);
    assert_eq!((drawn.title.as_str(), drawn.zones.len()), ("Fernhollow Library", 4));
    let results = test.state().as_ref().unwrap().desk().study().results();
    let pump = results.pumps.values().next().unwrap();
    assert!((3600.0 * pump.flow - 1.985).abs() < 0.01, "{}", 3600.0 * pump.flow);
    assert!((4.85..4.98).contains(&pump.head), "{}", pump.head);
    assert!(results.converged());
    assert!(shares(&test).iter().all(|share| (share - 1.0).abs() < 0.005), "{:?}", shares(&test));
}

#[test]
fn cells_are_pasted_with_and_without_headings() {
    let mut test = sheet();
    paste(&mut test, PASTED);
    assert_eq!(cell(&test, "zone, row 1"), "Hall");
    // The list has decimal commas throughout, which are told by its own cells.
    assert_eq!(cell(&test, "heat load (kW), row 2"), "2.5");
    assert_eq!(cell(&test, "emitter loss (kPa), row 2"), "14.5");
    // Below the list, a block without headings from the cell in hand on.
    test.get_by_label("zone, row 3").click();
    test.run_steps(2);
    paste(&mut test, "Store\t1\nPorch\t0.5\n");
    assert_eq!((cell(&test, "zone, row 4"), cell(&test, "heat load (kW), row 4")), ("Porch".into(), "0.5".into()));
    // A single text goes into one cell.
    test.get_by_label("zone, row 4").click();
    test.run_steps(2);
    paste(&mut test, "Porch, north");
    assert_eq!(cell(&test, "zone, row 4"), "Porch, north");
    // Every step can be taken back.
    for _ in 0..3 {
        test.key_press_modifiers(Modifiers::COMMAND, Key::Z);
        test.run_steps(2);
    }
    assert_eq!(cell(&test, "zone, row 1"), "");
}

/// 10 ft of branch in feet, 24 kPa in a sheet that holds psi.
#[test]
fn units_of_pasted_headings_go_with_the_figures() {
    let mut test = sheet();
    paste(
        &mut test,
        "zone\tload (Btu/h)\temitter\tloss (psi)\tbranch (ft)\tdistance (m)\tfloor number\nHall\t10000\tfloor\t1\t10\t5\t2\n",
    );
    assert_eq!(cell(&test, "heat load (kW), row 1"), "10000 Btu/h");
    assert_eq!(cell(&test, "branch length (m), row 1"), "10 ft");
    assert_eq!(cell(&test, "distance from the tee before (m), row 1"), "5");
    assert!(test.query_by_label_contains("floor number").is_some(), "what is not read is told");
    type_into(&mut test, "Supply (°C)", "45");
    type_into(&mut test, "Drop (K)", "7");
    click(&mut test, "Draw it");
    // 10 000 Btu/h = 2.930711 kW (International Table).
    let zone = project(&test).zones.values().next().unwrap();
    assert!((zone.load / 2930.711 - 1.0).abs() < 1e-6, "{}", zone.load);
}

#[test]
fn faults_stand_at_the_cell_and_in_the_list_and_go_when_mended() {
    let mut test = sheet();
    click(&mut test, "Fill in an example");
    let mend = |test: &mut Test, at: &str, text: &str| {
        test.get_by_label(at).click();
        test.run_steps(2);
        type_cells(test, text);
        key(test, Key::Enter);
        test.run_steps(2);
    };
    mend(&mut test, "heat load (kW), row 2", "three");
    assert!(!is_enabled(&test, "Draw it"));
    assert!(test.query_by_label_contains("Row 2, heat load: ").is_some());
    mend(&mut test, "heat load (kW), row 2", "3");
    assert!(is_enabled(&test, "Draw it"));
    mend(&mut test, "zone, row 3", "Office radiators");
    assert!(test.query_by_label_contains("stands in row 1 too").is_some());
    mend(&mut test, "zone, row 3", "Children's floor");
    // An emptied distance is missing on a main, but not behind a manifold.
    test.get_by_label("distance from the tee before (m), row 3").click();
    test.run_steps(2);
    key(&mut test, Key::Delete);
    test.run_steps(2);
    assert!(test.query_by_label_contains("Row 3, distance from the tee before: ").is_some());
    assert!(!is_enabled(&test, "Draw it"));
    click(&mut test, "Arrangement");
    click(&mut test, "manifold");
    assert!(is_enabled(&test, "Draw it"));
}

#[test]
fn rows_are_moved_and_removed() {
    let mut test = sheet();
    paste(&mut test, PASTED);
    test.get_by_label("zone, row 2").click();
    test.run_steps(2);
    click(&mut test, "Move up");
    assert_eq!(cell(&test, "zone, row 1"), "Studio");
    click(&mut test, "Add a row");
    assert_eq!((cell(&test, "zone, row 1"), cell(&test, "zone, row 2")), (String::new(), "Studio".into()));
    click(&mut test, "Remove");
    click(&mut test, "Remove");
    assert_eq!(cell(&test, "zone, row 1"), "Hall");
}

#[test]
fn other_units_keep_what_is_meant() {
    let mut test = sheet();
    click(&mut test, "Fill in an example");
    click(&mut test, "Close");
    click(&mut test, "Units: SI");
    click(&mut test, "Inch-pound");
    open_sheet(&mut test);
    // 2 kW = 6.82428 kBtu/h, 24 m = 78.74 ft, Kv 4 = Cv 4.62.
    let load: f64 = cell(&test, "heat load (kBtu/h), row 1").parse().unwrap();
    assert!((load - 6.82428).abs() < 1e-5);
    assert!((Units::inch_pound().to_si(Quantity::Heat, load) - 2000.0).abs() < 0.01);
    assert_eq!(cell(&test, "distance from the tee before (ft), row 1"), "39.37008");
    assert!((cell(&test, "valve Cv, row 4").parse::<f64>().unwrap() - 4.62).abs() < 0.01);
    click(&mut test, "Draw it");
    assert!(shares(&test).iter().all(|share| (share - 1.0).abs() < 0.005), "{:?}", shares(&test));
}

#[test]
fn a_file_is_taken_or_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let (list, other) = (folder.path().join("Mill Lane.csv"), folder.path().join("other.csv"));
    std::fs::write(&list, PASTED.replace('\t', ";")).unwrap();
    std::fs::write(&other, "1;2;3\n").unwrap();
    let mut test = sheet();
    click(&mut test, "From a file…");
    type_into(&mut test, "List file", &other.display().to_string());
    click(&mut test, "Take it");
    assert!(test.query_by_label_contains("this heading is not known").is_some());
    test.get_by_label("List file").focus();
    test.key_press_modifiers(Modifiers::COMMAND, Key::A);
    test.run_steps(2);
    test.get_by_label("List file").type_text(&list.display().to_string());
    test.run_steps(2);
    click(&mut test, "Take it");
    assert_eq!(cell(&test, "zone, row 2"), "Studio");
    assert_eq!(cell(&test, "Building"), "Mill Lane");
}

#[test]
fn it_shows_in_every_size_and_theme() {
    for (size, theme) in
        [(vec2(1024.0, 680.0), Theme::Dark), (vec2(1280.0, 800.0), Theme::Light), (vec2(1920.0, 1080.0), Theme::Dark)]
    {
        let mut test = window_of(size, theme);
        open_sheet(&mut test);
        click(&mut test, "Fill in an example");
        assert!(test.query_by_label_contains("4 zones in order").is_some());
        assert_eq!(cell(&test, "zone, row 4"), "Reading-room floor");
        assert!(
            test.get_by_label("Draw it").rect().bottom() < size.y
                && test.get_by_label("zone, row 4").rect().top() > 0.0
        );
    }
}

/// What is wrong with all zones is told once, where it can be mended.
#[test]
fn temperatures_that_cannot_be_are_told_at_the_plant() {
    let mut test = sheet();
    click(&mut test, "Fill in an example");
    // 457 °C of supply, then a drop that would cool the water below the room.
    type_into(&mut test, "Supply (°C)", "7");
    assert!(test.query_by_label_contains("Supply: ").is_some() && !is_enabled(&test, "Draw it"));
    key(&mut test, Key::Backspace);
    test.run_steps(2);
    assert!(is_enabled(&test, "Draw it"));
    type_into(&mut test, "Drop (K)", "0");
    assert!(test.query_by_label_contains("Drop: ").is_some() && !is_enabled(&test, "Draw it"));
    assert!(test.query_by_label_contains("Row 1, zone: the").is_none());
}

/// A long list waits until it is asked for.
#[test]
fn a_long_list_is_reckoned_when_asked() {
    let mut test = sheet();
    type_into(&mut test, "Supply (°C)", "50");
    type_into(&mut test, "Drop (K)", "8");
    let mut text = "zone\theat load (kW)\temitter\temitter loss (kPa)\tbranch length (m)\tdistance (m)\n".to_owned();
    for number in 1..=60 {
        text += &format!("Room {number}\t1\tradiator\t5\t4\t3\n");
    }
    test.get_by_label("zone, row 1").click();
    test.run_steps(2);
    paste(&mut test, &text);
    assert!(!is_enabled(&test, "Draw it"));
    click(&mut test, "Reckon");
    assert!(is_enabled(&test, "Draw it"));
    click(&mut test, "Draw it");
    assert_eq!(project(&test).zones.len(), 60);
    assert!(shares(&test).iter().all(|share| (share - 1.0).abs() < 0.005));
}

/// What was typed is not lost with the window, unless it has become a drawing or is given up.
#[test]
fn closing_asks_about_a_list_that_is_not_drawn() {
    let mut test = sheet();
    let close = |test: &mut Test| {
        let root = test.input_mut().viewports.entry(egui::ViewportId::ROOT).or_default();
        root.events.push(egui::ViewportEvent::Close);
        test.step();
        test.input_mut().viewports.entry(egui::ViewportId::ROOT).or_default().events.clear();
        test.run_steps(3);
    };
    click(&mut test, "Fill in an example");
    key(&mut test, Key::Escape);
    test.run_steps(2);
    close(&mut test);
    click(&mut test, "Back to the list");
    assert_eq!(cell(&test, "zone, row 4"), "Reading-room floor");
    click(&mut test, "Draw it");
    close(&mut test);
    assert!(test.query_by_label("Lose the list").is_none());
    assert!(test.query_by_label("Unsaved changes").is_some(), "the drawing itself is in no file yet");
}

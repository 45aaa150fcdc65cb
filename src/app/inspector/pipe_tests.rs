//! Tests: Pipes: length, size, roughness, several at once.

use super::bench::*;
use super::sizes::Chosen;
use crate::document::{PipeFigures, SizeOnSale};
use crate::engine::pipes::series;

/// A foot is 0.3048 m and an inch 25.4 mm, both by definition.
#[test]
fn a_typed_length_is_taken_in_the_readers_unit() {
    let project = library();
    let id = pipe_named(&project, "Common return");
    let figures = PipeFigures::of(&project.pipes[&id]);
    let mut test = bench(project.clone(), Units::inch_pound(), pipes(&project, &["Common return"]));
    type_number(&mut test, "Length", "100");
    let Command::SetPipe(of, set) = the_command(&test) else { panic!("no pipe was set") };
    assert_eq!(of, id);
    assert!((set.length - 30.48).abs() < 1e-12, "{}", set.length);
    assert_eq!(PipeFigures { length: figures.length, ..set }, figures);

    test.state_mut().intents.clear();
    type_number(&mut test, "Bore", "1");
    let Command::SetPipe(_, set) = the_command(&test) else { panic!("no pipe was set") };
    assert!((set.bore - 0.0254).abs() < 1e-15);
    assert_eq!(set.size, None, "a bore that is typed is of no size");
}

#[test]
fn what_cannot_be_is_refused_in_words() {
    let project = library();
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &["Common return"]));
    for (label, text, says) in [
        ("Length", "-3", "Length: -3 cannot be set: give 0.0"),
        ("Length", "far", "Length: “far” is not a number."),
        ("Bore", "20 kPa", "Bore: “kPa” is a unit of pressure"),
        ("Other K", "2 mm", "Other K: “2 mm” is not a plain number"),
    ] {
        type_number(&mut test, label, text);
        assert_eq!(commands(&test), []);
        let mut refused = refusals(&test);
        refused.dedup();
        assert_eq!(refused.len(), 1, "{refused:?}");
        assert!(refused[0].replace('\u{a0}', " ").starts_with(says), "{refused:?}");
        test.state_mut().intents.clear();
    }
}

/// Leaving a field as it is, even one that shows a rounded number, changes nothing.
#[test]
fn what_was_not_changed_stays_to_the_last_digit() {
    let project = library();
    let mut test = bench(project.clone(), Units::inch_pound(), pipes(&project, &["Common return"]));
    test.get_by_role_and_label(Role::SpinButton, "Bore").click();
    test.run_steps(2);
    test.key_press(Key::Enter);
    test.run_steps(3);
    assert_eq!(test.state().intents, []);
}

/// EN 1057: a tube of 28 x 0.9 has a bore of 28 − 2 · 0.9 = 26.2 mm.
#[test]
fn a_chosen_size_gives_its_bore_and_roughness() {
    let project = library();
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &["Common return"]));
    test.get_by_role_and_label(Role::ComboBox, "Size").click();
    test.run_steps(3);
    let row = test.get_by(|node| node.label().is_some_and(|label| label.starts_with("28 x 0.9, Bore")));
    let told = row.accesskit_node().label().unwrap_or_default();
    row.click();
    test.run_steps(3);
    let Command::SetPipe(_, set) = the_command(&test) else { panic!("no pipe was set") };
    assert!((set.bore - 0.0262).abs() < 1e-12);
    assert!((set.roughness - 1.5e-6).abs() < 1e-15);
    assert_eq!(set.size.map(|size| size.nominal()), Some("28 x 0.9"));
    // Continuity: v = Q/A at the present flow.
    let id = pipe_named(&project, "Common return");
    let flow = test.state().study.results().pipes[&id].flow;
    let velocity = flow / (0.25 * std::f64::consts::PI * 0.0262 * 0.0262);
    assert!(told.contains(&format!("Velocity, m/s {velocity:.2}")), "{told}");
}

/// The row of the present size tells what the network told of the pipe.
#[test]
fn the_present_size_has_the_present_friction() {
    let project = library();
    let id = pipe_named(&project, "Common return");
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &["Common return"]));
    test.get_by_role_and_label(Role::ComboBox, "Size").click();
    test.run_steps(3);
    let result = test.state().study.results().pipes[&id];
    let size = series("copper-thin").unwrap_or(crate::engine::pipes::COMMON);
    let present = size.sizes.iter().find(|s| (s.bore_m() - project.pipes[&id].bore).abs() < 1e-6).unwrap();
    let row =
        test.get_by(|node| node.label().is_some_and(|label| label.starts_with(&format!("{}, Bore", present.nominal))));
    let told = row.accesskit_node().label().unwrap_or_default();
    assert!(told.ends_with(&format!("Friction, Pa/m {:.0}", result.friction_gradient)), "{told}");
}

/// What the boxes show.
fn boxes(test: &Test) -> [String; 2] {
    ["Series", "Size"]
        .map(|label| test.get_by_role_and_label(Role::ComboBox, label).accesskit_node().value().unwrap_or_default())
}

/// Carries out what was asked for, as the window does.
fn carry_out(test: &mut Test) {
    let all = commands(test);
    assert!(!all.is_empty());
    let bench = test.state_mut();
    for command in &all {
        bench.project.apply(command).unwrap();
    }
    bench.intents.clear();
    test.run_steps(3);
}

/// The library with some of its pipes of sizes on sale.
fn of_sizes(sizes: &[(&str, (&str, &str))]) -> Project {
    let mut project = library();
    for (name, (series, nominal)) in sizes {
        let id = pipe_named(&project, name);
        let size = SizeOnSale::find(series, nominal).unwrap();
        project.apply(&Command::SetPipe(id, Chosen::Size(size).given(&PipeFigures::of(&project.pipes[&id])))).unwrap();
    }
    project
}

/// 32.6 mm is the bore of a copper tube of 35 × 1.2 (EN 1057: 35 − 2 · 1.2): a steel pipe of that bore is no copper tube.
#[test]
fn a_typed_bore_is_of_no_series() {
    let project = of_sizes(&[("Common return", ("steel-40", "1-1/4"))]);
    let id = pipe_named(&project, "Common return");
    let steel = series("steel-40").unwrap();
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &["Common return"]));
    assert_eq!(boxes(&test), [steel.name, "1-1/4"]);
    type_number(&mut test, "Bore", "32.6");
    carry_out(&mut test);
    let pipe = test.state().project.pipes[&id].clone();
    assert_eq!((pipe.size, pipe.roughness), (None, steel.roughness_m));
    assert_eq!(boxes(&test)[0], "own bore");
    assert!(boxes(&test)[1].starts_with("bore 32.6"), "{:?}", boxes(&test));
}

/// Moody (1944): drawn tubing 0.0015 mm. A series says what the wall is; the bore stays until a size is chosen.
#[test]
fn a_chosen_series_gives_its_roughness() {
    let project = of_sizes(&[("Common return", ("steel-40", "1-1/4"))]);
    let before = PipeFigures::of(&project.pipes[&pipe_named(&project, "Common return")]);
    let copper = series("copper-thin").unwrap();
    let choose = |test: &mut Test| {
        test.get_by_role_and_label(Role::ComboBox, "Series").click();
        test.run_steps(3);
        test.get_by_role_and_label(Role::Button, copper.name).click();
        test.run_steps(3);
    };
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &["Common return"]));
    choose(&mut test);
    let Command::SetPipe(_, set) = the_command(&test) else { panic!("no pipe was set") };
    assert!((set.roughness - 1.5e-6).abs() < 1e-15);
    assert_eq!(set, PipeFigures { size: None, roughness: set.roughness, ..before });
    carry_out(&mut test);
    assert_eq!(boxes(&test)[0], copper.name, "its sizes are at hand");
    type_number(&mut test, "Bore", "32.6");
    carry_out(&mut test);
    assert_eq!(boxes(&test)[0], "own bore");
    // Of the series' own bore it is of that size.
    choose(&mut test);
    carry_out(&mut test);
    assert_eq!(boxes(&test), [copper.name, "35 x 1.2"]);
}

#[test]
fn pipes_of_several_sizes_or_series_say_so() {
    let names = ["Common return", "Main 1 flow"];
    for (second, shown) in [
        (("copper-thin", "35 x 1.2"), ["copper", "35 x 1.2"]),
        (("copper-thin", "28 x 0.9"), ["copper", "several"]),
        (("steel-40", "1-1/4"), ["several", "several"]),
    ] {
        let project = of_sizes(&[(names[0], ("copper-thin", "35 x 1.2")), (names[1], second)]);
        let test = bench(project.clone(), Units::si(), pipes(&project, &names));
        let [series, size] = boxes(&test);
        assert!(series.starts_with(shown[0]) && size == shown[1], "{series}, {size}");
    }
    // One of them has a bore of its own.
    let project = of_sizes(&[(names[1], ("copper-thin", "35 x 1.2"))]);
    let test = bench(project.clone(), Units::si(), pipes(&project, &names));
    assert_eq!(boxes(&test), ["several", "several"]);
}

#[test]
fn one_roughness_for_several_pipes() {
    let project = library();
    let names = ["Common return", "Main 1 flow", "Main 2 flow"];
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &names));
    type_number(&mut test, "Roughness", "0.045");
    let all = commands(&test);
    assert_eq!(all.len(), 3);
    for (command, name) in all.iter().zip(names) {
        let id = pipe_named(&project, name);
        let figures = PipeFigures { roughness: 4.5e-5, ..PipeFigures::of(&project.pipes[&id]) };
        let Command::SetPipe(_, set) = command else { panic!("no pipe was set") };
        assert!((set.roughness - 4.5e-5).abs() < 1e-12);
        let wanted = all.iter().any(|other| {
            matches!(other, Command::SetPipe(of, set)
            if *of == id && set.length == figures.length && set.bore == figures.bore)
        });
        assert!(wanted, "{name}");
    }
}

/// Every pipe keeps all else that it has.
#[test]
fn one_length_and_one_loss_for_several_pipes() {
    let project = library();
    let names = ["Common return", "Main 1 flow", "Office branch flow"];
    let before = |name: &str| PipeFigures::of(&project.pipes[&pipe_named(&project, name)]);
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &names));
    assert_ne!(before(names[0]).length, before(names[1]).length);
    for (label, text, after) in [
        ("Length each", "7.5", (|old| PipeFigures { length: 7.5, ..old }) as fn(PipeFigures) -> PipeFigures),
        ("Other K each", "0", |old| PipeFigures { minor_k: 0.0, ..old }),
    ] {
        type_into(&mut test, Role::TextInput, label, text);
        let all = commands(&test);
        assert_eq!(all.len(), 3, "{label}");
        for name in names {
            let wanted = Command::SetPipe(pipe_named(&project, name), after(before(name)));
            assert!(all.contains(&wanted), "{label} of {name}: {all:?}");
        }
        test.state_mut().intents.clear();
    }
}

#[test]
fn pipes_of_different_bore_take_one_that_is_typed() {
    let project = library();
    let mut test = bench(project.clone(), Units::si(), pipes(&project, &["Common return", "Office branch flow"]));
    type_into(&mut test, Role::TextInput, "Bore", "20");
    let all = commands(&test);
    assert_eq!(all.len(), 2);
    assert!(all.iter().all(|command| matches!(command, Command::SetPipe(_, set) if (set.bore - 0.02).abs() < 1e-15)));
    test.state_mut().intents.clear();
    type_into(&mut test, Role::TextInput, "Bore", "wide");
    assert!(!refusals(&test).is_empty());
    assert_eq!(commands(&test), []);
}

/// Crane TP-410: a 90° elbow has 30 times the fully turbulent friction factor (from memory).
#[test]
fn fittings_are_added_counted_and_taken_away() {
    use crate::document::Fitting;
    use crate::engine::links::fittings::{FittingKind, fully_turbulent_factor};
    let project = library();
    let id = pipe_named(&project, "Common return");
    let mut test = bench(project, Units::si(), pipes(&library(), &["Common return"]));
    click(&mut test, "Add a fitting");
    let row = test.get_by(|node| node.label().is_some_and(|label| label.starts_with("90° elbow · K")));
    let told = row.accesskit_node().label().unwrap_or_default();
    row.click();
    test.run_steps(3);
    let Command::SetPipe(_, set) = the_command(&test) else { panic!("no pipe was set") };
    assert_eq!(set.fittings, [Fitting::new(FittingKind::Elbow90, 1)]);
    let bore = set.bore;
    assert_eq!(told, format!("90° elbow · K {:.2}", 30.0 * fully_turbulent_factor(bore)));

    let bench = test.state_mut();
    bench.intents.clear();
    bench.project.apply(&Command::SetPipe(id, set)).unwrap();
    test.run_steps(3);
    type_number(&mut test, "90° elbow", "4");
    let Command::SetPipe(_, set) = the_command(&test) else { panic!("no pipe was set") };
    assert_eq!(set.fittings, [Fitting::new(FittingKind::Elbow90, 4)]);
    test.state_mut().intents.clear();
    click(&mut test, "Take 90° elbow away");
    let Command::SetPipe(_, set) = the_command(&test) else { panic!("no pipe was set") };
    assert_eq!(set.fittings, []);
}

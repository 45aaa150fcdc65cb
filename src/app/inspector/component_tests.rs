//! Tests: Components: Kv, names, buttons, circulators, emitters and their zones.

use super::bench::*;
use super::catalogue::with_point;
use super::kv;
use super::paste;
use crate::document::{ComponentKind, Turn};
use crate::engine::links::emitter::EmitterLaw;
use crate::engine::pump::ReferenceFlow;

fn kv_of(kind: &ComponentKind) -> f64 {
    match kind {
        ComponentKind::BalancingValve { kv } | ComponentKind::ZoneValve { kv, .. } => *kv,
        other => panic!("no Kv in {other:?}"),
    }
}

/// ISO 3, R5: 1, 1.6, 2.5, 4, 6.3 in every decade.
#[test]
fn the_menu_of_kv_has_the_preferred_numbers() {
    let series = kv::series();
    let expected =
        [0.1, 0.16, 0.25, 0.4, 0.63, 1.0, 1.6, 2.5, 4.0, 6.3, 10.0, 16.0, 25.0, 40.0, 63.0, 100.0, 160.0, 250.0, 400.0];
    assert_eq!(series.len(), expected.len(), "{series:?}");
    for (kv, expected) in series.iter().zip(expected) {
        assert!((kv / expected - 1.0).abs() < 1e-12, "{kv} for {expected}");
    }
}

/// The definition of Kv (IEC 60534): Δp = 1 bar · (Q/Kv)² · ρ/1000.
#[test]
fn a_kv_is_chosen_by_its_pressure_drop() {
    let (mut test, id) = on(&["Office balancing valve"]);
    click(&mut test, "Series");
    let row = test.get_by(|node| node.label().is_some_and(|label| label.starts_with("0.63, ")));
    let told = row.accesskit_node().label().unwrap_or_default();
    row.click();
    test.run_steps(3);
    let Command::SetKind(of, kind) = the_command(&test) else { panic!("no kind was set") };
    assert_eq!(of, id);
    assert!((kv_of(&kind) - 0.63).abs() < 1e-12);
    let bench = test.state();
    let flow = 3600.0 * bench.study.results().components[&id].flow;
    let density = bench.study.lowered().fluid.density_kg_per_m3;
    let drop_kpa = 100.0 * (flow / 0.63).powi(2) * density / 1000.0;
    assert!(told.ends_with(&format!("{drop_kpa:.1}\u{a0}kPa")), "{told} does not end with {drop_kpa}");
    // And for the design flow of the zone in whose branch it lies.
    assert!(told.contains("design"), "{told}");
}

/// Cv of a valve is its Kv over 0.865 (from 231 in³ gallons and psi, both by definition).
#[test]
fn a_kv_typed_as_cv() {
    let (project, units) = (library(), Units::inch_pound());
    let selection = components(&project, &["Office balancing valve"]);
    let mut test = bench(project, units, selection);
    type_number(&mut test, "Kv as set", "2");
    let Command::SetKind(_, kind) = the_command(&test) else { panic!("no kind was set") };
    let gallon = 231.0 * 0.0254_f64.powi(3) * 60.0;
    let psi = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);
    let cv = gallon * (1e5_f64 / psi).sqrt();
    assert!((kv_of(&kind) - 2.0 * cv).abs() < 1e-6);
}

#[test]
fn several_valves_of_a_kind_take_one_kv() {
    let (mut test, _) = on(&["Office balancing valve", "Meeting balancing valve"]);
    type_into(&mut test, Role::TextInput, "Kv as set", "1.2");
    let all = commands(&test);
    assert_eq!(all.len(), 2);
    assert!(all.iter().all(|c| matches!(c, Command::SetKind(_, kind) if (kv_of(kind) - 1.2).abs() < 1e-12)));
}

#[test]
fn a_name_is_taken_on_enter_and_when_the_field_is_left() {
    let (mut test, id) = on(&["Office balancing valve"]);
    type_into(&mut test, Role::TextInput, "Name", "BV 1");
    assert_eq!(the_command(&test), Command::Rename(id, "BV 1".to_owned()));

    test.state_mut().intents.clear();
    test.get_by_role_and_label(Role::TextInput, "Name").click();
    test.run_steps(2);
    test.event(Event::Text("x".to_owned()));
    test.run_steps(2);
    assert_eq!(commands(&test), [], "nothing is renamed while somebody types");
    test.get_by_label("Now").click();
    test.run_steps(3);
    assert!(matches!(the_command(&test), Command::Rename(..)));

    test.state_mut().intents.clear();
    test.get_by_role_and_label(Role::TextInput, "Name").click();
    test.run_steps(2);
    test.event(Event::Text("y".to_owned()));
    test.step();
    test.key_press(Key::Escape);
    test.run_steps(3);
    assert_eq!(commands(&test), [], "Escape gives it up");
}

#[test]
fn buttons_turn_shut_and_delete() {
    let (mut test, id) = on(&["Office zone valve"]);
    let turn = test.state().project.components[&id].turn;
    click(&mut test, "Turn");
    click(&mut test, "Shut");
    click(&mut test, "Delete");
    let [Command::SetTurn(a, turned), Command::SetOpen(b, false), Command::RemoveParts(parts, _)] =
        &commands(&test)[..]
    else {
        panic!("{:?}", test.state().intents)
    };
    assert_eq!((*a, *b, parts.contains(&id)), (id, id, true));
    let quarter = |turn: Turn| Turn::Down.apply(turn.apply([1.0, 0.0]));
    assert_eq!(turned.apply([1.0, 0.0]), quarter(turn));
}

#[test]
fn a_point_of_the_catalogue_is_typed_over_added_and_taken_away() {
    let (mut test, id) = on(&["Circulator"]);
    let unit = test.state().project.pump(id).unwrap().clone();
    let set = |test: &Test| match the_command(test) {
        Command::SetKind(of, kind) if of == id => match *kind {
            ComponentKind::Pump(unit) => *unit,
            other => panic!("{other:?}"),
        },
        other => panic!("{other:?}"),
    };
    // The third column of the second row: 65.0 W.
    let fields: Vec<_> = test.query_all_by_role_and_label(Role::SpinButton, "Power, W").collect();
    assert_eq!(fields.len(), unit.catalogue.len());
    fields[1].click();
    test.run_steps(2);
    test.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    test.event(Event::Text("0.066 kW".to_owned()));
    test.step();
    test.key_press(Key::Enter);
    test.run_steps(3);
    let typed = set(&test);
    assert!((typed.catalogue[1].power - 66.0).abs() < 1e-9);
    assert_eq!(typed.catalogue[0], unit.catalogue[0]);

    test.state_mut().intents.clear();
    click(&mut test, "Take point 3 away");
    assert_eq!(set(&test).catalogue.len(), unit.catalogue.len() - 1);
    assert!(!set(&test).catalogue.contains(&unit.catalogue[2]));

    test.state_mut().intents.clear();
    click(&mut test, "Add a point");
    let more = set(&test);
    assert_eq!(more.catalogue, with_point(&unit));
    assert_eq!(more.catalogue.len(), unit.catalogue.len() + 1);
    assert!(more.catalogue.windows(2).all(|pair| pair[0].flow < pair[1].flow));
    assert!(more.fitted().is_ok());
    // On the curve as it was: within 1 % of the greatest head.
    let added = more.catalogue.iter().find(|point| !unit.catalogue.contains(point)).unwrap();
    let (head, _) = unit.fitted().unwrap().curve.full_speed(added.flow);
    assert!((added.head - head).abs() < 1e-9);
}

#[test]
fn points_are_pasted_and_their_faults_told_with_row_and_column() {
    let (test, id) = on(&["Circulator"]);
    let unit = test.state().project.pump(id).unwrap().clone();
    let good = "flow (m³/h)\thead (m)\tpower (W)\tspeed (r/min)\n0\t8\t50\t3000\n1,8\t7\t70\t\n3,6\t4\t80\t\n";
    let read = paste::read(good, &unit).unwrap();
    assert_eq!(read.catalogue.len(), 3);
    assert!((read.catalogue[1].flow - 0.0005).abs() < 1e-12 && (read.catalogue[1].head - 7.0).abs() < 1e-12);
    assert!((read.full_speed_rpm - 3000.0).abs() < 1e-9);
    assert_eq!(read.regulation, unit.regulation);
    let bad = good.replace("70", "much");
    let faults = paste::read(&bad, &unit).unwrap_err();
    assert!(faults.contains("row 3, column C"), "{faults}");
}

#[test]
fn a_circulators_settings() {
    let (mut test, id) = on(&["Circulator"]);
    type_number(&mut test, "Minimum speed", "30");
    assert_eq!(the_command(&test), Command::SetMinimumSpeed(id, 0.3));
    test.state_mut().intents.clear();
    click(&mut test, "Take in hand");
    assert_eq!(test.state().intents, [Intent::TakeInHand(id)]);
    test.state_mut().intents.clear();
    test.get_by_role_and_label(Role::ComboBox, "Reference").click();
    test.run_steps(3);
    test.get_by_label("at capped speed").click();
    test.run_steps(3);
    assert_eq!(the_command(&test), Command::SetReferenceFlow(id, ReferenceFlow::CappedSpeed));
}

#[test]
fn an_emitter_that_becomes_a_coil_is_told_its_air() {
    let (mut test, id) = on(&["Office radiators emitter"]);
    test.get_by_role_and_label(Role::ComboBox, "Emitter").click();
    test.run_steps(3);
    test.get_by_label("coil in an air stream").click();
    test.run_steps(3);
    let Command::SetKind(_, kind) = the_command(&test) else { panic!("no kind was set") };
    let ComponentKind::Emitter(emitter) = *kind else { panic!("no emitter") };
    assert!(matches!(emitter.law, EmitterLaw::Coil { .. }));
    // Between the entering air and the supply, as a document asks for.
    let mut project = test.state().project.clone();
    let basis = project.design;
    let air_c = emitter.air_outlet_c.unwrap();
    assert!(basis.room_c < air_c && air_c < basis.supply_c);
    project.components.get_mut(&id).unwrap().kind = ComponentKind::Emitter(emitter);
    assert_eq!(crate::document::flaws(&project), []);
}

#[test]
fn a_zone_takes_a_valve_of_its_branch_or_none() {
    let (mut test, id) = on(&["Office radiators emitter"]);
    let project = test.state().project.clone();
    let zone = project.zone_of(id).unwrap();
    let own = project.component_named("Office zone valve").unwrap();
    assert_eq!(project.branch_valves(id), [own].into());
    test.get_by_role_and_label(Role::ComboBox, "Valve").click();
    test.run_steps(3);
    test.get_by_label("none").click();
    test.run_steps(3);
    let Command::SetZone(of, set) = the_command(&test) else { panic!("no zone was set") };
    assert_eq!((of, set.valve), (zone, None));

    test.state_mut().intents.clear();
    type_number(&mut test, "Load", "2.5 kW");
    let Command::SetZone(_, set) = the_command(&test) else { panic!("no zone was set") };
    assert!((set.load - 2500.0).abs() < 1e-9);
}

/// A component that was just drawn has no results: dashes, no panic.
#[test]
fn what_is_not_solved_yet_shows_dashes() {
    let project = library();
    let selection = components(&project, &["Office balancing valve"]);
    let mut test = bench(project, Units::si(), selection);
    let fresh = ComponentId(9999);
    let valve = {
        let project = &test.state().project;
        project.components[&project.component_named("Office balancing valve").unwrap()].clone()
    };
    test.state_mut().project.components.insert(fresh, valve);
    test.state_mut().selection.components = [fresh].into();
    test.run_steps(3);
    assert_eq!(test.query_all_by_label("–").count(), 2);
}

/// Set by a screen reader, without the keyboard.
#[test]
fn a_name_set_by_a_screen_reader() {
    let (mut test, id) = on(&["Office balancing valve"]);
    test.get_by_role_and_label(Role::TextInput, "Name").set_text_value_accesskit("BV 2");
    test.run_steps(3);
    assert_eq!(the_command(&test), Command::Rename(id, "BV 2".to_owned()));
}

/// What was half typed does not come back when its field does.
#[test]
fn a_half_typed_name_is_forgotten_with_its_field() {
    let (mut test, _) = on(&["Office balancing valve"]);
    test.get_by_role_and_label(Role::TextInput, "Name").click();
    test.run_steps(2);
    test.event(Event::Text("x".to_owned()));
    test.run_steps(2);
    let selection = std::mem::take(&mut test.state_mut().selection);
    test.run_steps(3);
    test.state_mut().selection = selection;
    test.run_steps(3);
    let name = test.get_by_role_and_label(Role::TextInput, "Name").value();
    assert_eq!(name.as_deref(), Some("Office balancing valve"));
}

#[test]
fn heights_and_the_pressure_of_the_vessel() {
    let (mut test, id) = on(&["Expansion vessel"]);
    type_number(&mut test, "Height", "12.5");
    assert_eq!(the_command(&test), Command::SetHeight(id, 12.5));
    test.state_mut().intents.clear();
    test.get_by_role_and_label(Role::CheckBox, "Pressure").click();
    test.run_steps(3);
    let Command::SetKind(_, kind) = the_command(&test) else { panic!("no kind was set") };
    assert!(matches!(*kind, ComponentKind::ExpansionVessel { pressure: Some(of) } if of > 0.0));
}

/// Every law that is offered for an emitter can be carried out on the document.
#[test]
fn every_law_of_an_emitter_can_be() {
    let (mut test, _) = on(&["Office radiators emitter"]);
    for law in ["floor loop", "coil in an air stream", "plain loss", "radiator"] {
        test.get_by_role_and_label(Role::ComboBox, "Emitter").click();
        test.run_steps(3);
        test.get_by_role_and_label(Role::Button, law).click();
        test.run_steps(3);
        let command = the_command(&test);
        assert!(test.state_mut().project.apply(&command).is_ok(), "{law}: {command:?}");
        test.state_mut().intents.clear();
        test.run_steps(2);
    }
}

/// A sieve of a larger strainer is larger, and so is what it lets through when it is fouled.
#[test]
fn the_fouled_kv_follows_the_clean_one() {
    let (mut test, id) = on(&["Strainer"]);
    let of = |kind: &ComponentKind| match kind {
        ComponentKind::Strainer { kv, fouled_kv, .. } => (*kv, *fouled_kv),
        other => panic!("{other:?}"),
    };
    let (clean, fouled) = (12.0, 7.0);
    let kind = ComponentKind::Strainer { kv: clean, fouled_kv: fouled, fouling: 0.0 };
    test.state_mut().project.apply(&Command::SetKind(id, Box::new(kind))).unwrap();
    test.run_steps(3);
    type_number(&mut test, "Kv clean", &format!("{}", 2.5 * clean));
    let Command::SetKind(_, kind) = the_command(&test) else { panic!("no figures were set") };
    let after = of(&kind);
    assert!((after.0 / (2.5 * clean) - 1.0).abs() < 1e-12 && (after.1 / (2.5 * fouled) - 1.0).abs() < 1e-12);
    test.state_mut().intents.clear();
    // The fouled one is typed alone.
    type_number(&mut test, "Kv fouled", "5");
    let Command::SetKind(_, kind) = the_command(&test) else { panic!("no figures were set") };
    assert_eq!(of(&kind), (clean, 5.0));
}

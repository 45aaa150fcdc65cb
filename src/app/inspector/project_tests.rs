//! Tests: The project: texts, design, fluid, scenarios, zones.

use super::bench::*;
use super::scenarios::shut_now;
use crate::document::{Command as C, DesignBasis, Duty, Zone, ZoneId};
use crate::engine::fluid::FluidKind;

fn nothing() -> Test {
    bench(library(), Units::si(), Selection::default())
}

#[test]
fn title_and_temperatures() {
    let mut test = nothing();
    type_into(&mut test, Role::TextInput, "Title", "Town Library");
    assert_eq!(the_command(&test), C::SetTitle("Town Library".to_owned()));
    test.state_mut().intents.clear();
    // 122 °F are 50 °C by the definition of the scale.
    type_number(&mut test, "Supply", "122 °F");
    let C::SetDesign(basis) = the_command(&test) else { panic!("no design was set") };
    assert!((basis.supply_c - 50.0).abs() < 1e-12);
    assert_eq!(basis.return_c, test.state().project.design.return_c);
}

/// From 55/45, the supply of 45/35 can be typed before its return: one command that the document takes.
#[test]
fn a_supply_that_passes_the_return_takes_it_along() {
    for (duty, before, typed, after) in [
        (Duty::Heating, (55.0, 45.0), "45", (45.0, 35.0)),
        (Duty::Heating, (55.0, 45.0), "50", (50.0, 45.0)),
        (Duty::Heating, (55.0, 45.0), "45.05", (45.05, 35.05)),
        (Duty::Cooling, (6.0, 12.0), "14", (14.0, 20.0)),
        (Duty::Cooling, (6.0, 12.0), "8", (8.0, 12.0)),
    ] {
        let mut project = Project::blank();
        let room_c = duty.usual_room_c();
        let (supply_c, return_c) = before;
        let design = DesignBasis { duty, supply_c, return_c, room_c, outdoor_c: None };
        project.apply(&C::SetDesign(design)).unwrap();
        let mut test = bench(project.clone(), Units::si(), Selection::default());
        type_number(&mut test, "Supply", typed);
        let command = the_command(&test);
        let C::SetDesign(basis) = &command else { panic!("no design was set") };
        assert!((basis.supply_c - after.0).abs() < 1e-9 && (basis.return_c - after.1).abs() < 1e-9, "{basis:?}");
        project.apply(&command).unwrap();
    }
}

/// A return above the supply heats nothing; it moves nothing else, and why it is not taken stands under its field.
#[test]
fn a_return_on_the_wrong_side_is_refused_beside_its_field() {
    let mut test = nothing();
    let supply_c = test.state().project.design.supply_c;
    let told = |test: &Test| {
        let mut found = test.query_all_by(|node| node.value().is_some_and(|words| words.starts_with("A return of")));
        found.next().map(|node| node.rect())
    };
    assert_eq!(told(&test), None);
    type_number(&mut test, "Return", &format!("{}", supply_c + 5.0));
    assert_eq!(commands(&test), []);
    let field = test.get_by_role_and_label(Role::SpinButton, "Return").rect();
    let words = told(&test).unwrap();
    assert!(words.top() >= field.bottom() && words.top() < field.bottom() + 20.0, "{words} {field}");
    type_number(&mut test, "Return", &format!("{}", supply_c - 8.0));
    let C::SetDesign(basis) = the_command(&test) else { panic!("no design was set") };
    assert!((basis.supply_c - supply_c).abs() < 1e-12 && (basis.return_c - supply_c + 8.0).abs() < 1e-9);
    test.run_steps(2);
    assert_eq!(told(&test), None);
}

#[test]
fn another_duty_begins_with_temperatures_that_can_be() {
    let mut test = nothing();
    test.get_by_role_and_label(Role::ComboBox, "Duty").click();
    test.run_steps(3);
    test.get_by_label("cooling").click();
    test.run_steps(3);
    let C::SetDesign(basis) = the_command(&test) else { panic!("no design was set") };
    assert_eq!(basis.duty, Duty::Cooling);
    assert!(basis.supply_c < basis.return_c && basis.return_c < basis.room_c);
}

#[test]
fn glycol_by_choice() {
    let mut test = nothing();
    test.get_by_role_and_label(Role::ComboBox, "Fluid").click();
    test.run_steps(3);
    test.get_by_label("propylene glycol").click();
    test.run_steps(3);
    let C::SetFluid(fluid) = the_command(&test) else { panic!("no fluid was set") };
    assert_eq!(fluid.kind(), FluidKind::PropyleneGlycol);
    assert!(fluid.glycol_mass_fraction() > 0.0);
}

#[test]
fn the_present_state_becomes_a_scenario() {
    let mut project = library();
    let valve = project.component_named("Meeting zone valve").unwrap();
    let zone = project.zone_of(valve).unwrap();
    project.apply(&C::SetOpen(valve, false)).unwrap();
    assert_eq!(shut_now(&project), [zone].into());
    let before = project.scenarios.clone();
    let mut test = bench(project, Units::si(), Selection::default());
    click(&mut test, "Add as it stands");
    let C::SetScenarios(all) = the_command(&test) else { panic!("no scenarios were set") };
    let (last, rest) = all.split_last().unwrap();
    assert_eq!(rest, before);
    assert_eq!(last.shut, [zone].into());
    assert!(before.iter().all(|scenario| scenario.name != last.name) && !last.name.is_empty());
}

#[test]
fn a_scenario_is_renamed_timed_and_deleted() {
    let mut test = nothing();
    let before = test.state().project.scenarios.clone();
    let set = |test: &Test| match the_command(test) {
        C::SetScenarios(all) => all,
        other => panic!("{other:?}"),
    };
    let hours: Vec<_> = test.query_all_by_role_and_label(Role::SpinButton, "Hours a year").collect();
    assert_eq!(hours.len(), before.len());
    hours[1].click();
    test.run_steps(2);
    test.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    test.event(Event::Text("1 200".to_owned()));
    test.step();
    test.key_press(Key::Enter);
    test.run_steps(3);
    let all = set(&test);
    assert_eq!((all[1].hours_per_year, &all[1].name, &all[0]), (1200.0, &before[1].name, &before[0]));

    test.state_mut().intents.clear();
    test.query_all_by_role_and_label(Role::Button, "Delete").nth(2).unwrap().click();
    test.run_steps(3);
    let all = set(&test);
    assert_eq!(all.len(), before.len() - 1);
    assert!(!all.contains(&before[2]));
}

#[test]
fn a_zone_in_the_list_selects_its_emitter() {
    let mut test = nothing();
    let (name, emitter) = {
        let zone = test.state().project.zones.values().next().unwrap();
        (zone.name.clone(), zone.emitter)
    };
    let label = format!("Zone {name}");
    test.get_by(|node| node.label().is_some_and(|words| words.starts_with(&label))).click();
    test.run_steps(3);
    let selected = test.state().intents.iter().any(|intent| {
        matches!(intent, Intent::Select(selection) if selection.components == [emitter].into() && selection.pipes.is_empty())
    });
    assert!(selected, "{:?}", test.state().intents);
}

/// Of thousands of zones those in sight are laid out, and the list is as long as all of them.
#[test]
fn a_long_list_of_zones_is_laid_out_where_it_is_seen() {
    let mut project = library();
    let zone = project.zones.values().next().unwrap().clone();
    project
        .zones
        .extend((1000..4000).map(|number| (ZoneId(number), Zone { name: format!("Hall {number}"), ..zone.clone() })));
    let mut test = bench(project, Units::si(), Selection::default());
    let shown = |test: &Test, words: &str| {
        test.query_all_by(|node| node.label().is_some_and(|label| label.starts_with(words))).count()
    };
    let count = shown(&test, "Zone Hall");
    assert!(count > 10 && count < 100, "{count}");
    test.event(egui::Event::PointerMoved(egui::pos2(160.0, 1200.0)));
    for _ in 0..20 {
        test.event(egui::Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            source: egui::MouseWheelSource::Unknown,
            delta: egui::vec2(0.0, -1e4),
            phase: egui::TouchPhase::Move,
            modifiers: egui::Modifiers::NONE,
        });
        test.run_steps(10);
    }
    assert_eq!(shown(&test, "Zone Hall 3999"), 1);
}

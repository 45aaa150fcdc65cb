//! Tests: scenarios made out of profiles, weather and combinations; energy and uncertainties; expectations as in
//! `tests/scenarios.rs`, worked by hand.

use super::bench::*;
use crate::document::{Command as C, EnergyBasis, Project, Scenario, Uncertainty};

fn nothing() -> Test {
    bench(library(), Units::si(), Selection::default())
}

fn court() -> Project {
    file::parse(include_str!("../../../sample-projects/thornwick-court.ron"), "the court").unwrap()
}

fn set(test: &Test) -> Vec<Scenario> {
    match the_command(test) {
        C::SetScenarios(all) => all,
        other => panic!("{other:?}"),
    }
}

fn tick(test: &mut Test, label: &str) {
    test.get_by_role_and_label(Role::CheckBox, label).click();
    test.run_steps(3);
}

/// Opens the part and chooses what scenarios are made out of.
fn out_of(test: &mut Test, source: &str) {
    click(test, "Make scenarios…");
    test.get_by_role_and_label(Role::ComboBox, "Out of").click();
    test.run_steps(3);
    test.get_by_label(source).click();
    test.run_steps(3);
}

fn write(test: &mut Test, label: &str, text: &str) {
    test.get_by_role_and_label(Role::MultilineTextInput, label).click();
    test.run_steps(2);
    test.key_press_modifiers(egui::Modifiers::COMMAND, Key::A);
    test.step();
    test.event(Event::Paste(text.to_owned()));
    test.run_steps(2);
}

/// Whether a text that holds the words is on screen.
fn told(test: &Test, words: &str) -> bool {
    test.query_all_by(|node| node.value().is_some_and(|value| value.contains(words))).next().is_some()
}

#[test]
fn a_profile_replaces_the_scenarios_or_joins_them() {
    let mut test = nothing();
    click(&mut test, "Make scenarios…");
    assert!(told(&test, "EN 16297 and Regulation (EC) 641/2009, from memory"));
    type_number(&mut test, "Hours in all", "2000");
    click(&mut test, "Replace all");
    let all = set(&test);
    assert_eq!(all.len(), 4);
    assert_eq!((all[1].name.as_str(), all[1].hours_per_year), ("75 % of flow: 3 zones", 300.0));
    // The part is closed again.
    assert!(test.query_by_role_and_label(Role::ComboBox, "Out of").is_none());

    let mut project = library();
    project.scenarios.iter_mut().for_each(|scenario| scenario.hours_per_year = 0.0);
    let before = project.scenarios.clone();
    let mut test = bench(project, Units::si(), Selection::default());
    out_of(&mut test, "United States load profile");
    click(&mut test, "Add them");
    let all = set(&test);
    assert_eq!((&all[..before.len()], all.len()), (&before[..], before.len() + 4));
}

#[test]
fn what_does_not_fit_into_a_year_is_told_there() {
    let mut project = library();
    project.scenarios[0].hours_per_year += 1000.0;
    let mut test = bench(project, Units::si(), Selection::default());
    out_of(&mut test, "every combination of zones");
    type_number(&mut test, "Hours in all", "8784");
    click(&mut test, "Add them");
    assert_eq!(commands(&test), []);
    assert!(told(&test, "together they take"));
    click(&mut test, "Replace all");
    assert_eq!(set(&test).len(), 15);
}

#[test]
fn an_own_profile_is_typed() {
    let mut test = nothing();
    out_of(&mut test, "own load profile");
    write(&mut test, "Flow % : time %", "100 : 20\n25 : 70");
    click(&mut test, "Replace all");
    assert_eq!(commands(&test), []);
    assert!(told(&test, "come to 90.0 %"));
    write(&mut test, "Flow % : time %", "100 : 20\n25 : 80");
    assert!(!told(&test, "come to 90.0 %"));
    click(&mut test, "Replace all");
    let names: Vec<_> = set(&test).into_iter().map(|scenario| scenario.name).collect();
    assert_eq!(names, ["100 % of flow: all zones", "25 % of flow: Children's floor"]);
}

#[test]
fn hours_by_temperature_are_pasted() {
    let mut test = nothing();
    out_of(&mut test, "hours by outdoor temperature");
    write(&mut test, "Outdoor temperature; hours", "outdoor (°C)\thours\n-12\t20\n4\tmany\n");
    click(&mut test, "Replace all");
    assert!(told(&test, "row 3, column B"));
    write(&mut test, "Outdoor temperature; hours", "outdoor (°C)\thours\n-12\t20\n4\t1500\n");
    click(&mut test, "Replace all");
    assert_eq!(commands(&test), []);
    // The library's design has no outdoor temperature yet.
    assert!(told(&test, "tick “Outdoor” under Design"));
    test.state_mut().project.design.outdoor_c = Some(-12.0);
    click(&mut test, "Replace all");
    let made: Vec<_> = set(&test).into_iter().map(|scenario| (scenario.name, scenario.hours_per_year)).collect();
    let expected = [("−12 °C outdoors: all zones", 20.0), ("4 °C outdoors: Reading-room floor", 1500.0)];
    assert_eq!(made, expected.map(|(name, hours)| (name.to_owned(), hours)));
}

#[test]
fn hours_by_temperature_come_out_of_a_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("weather.csv");
    std::fs::write(&path, "temperature (°F),hours\n14,40\n50,many\n").unwrap();
    let mut test = bench(court(), Units::si(), Selection::default());
    out_of(&mut test, "hours by outdoor temperature");
    click(&mut test, "From a file…");
    type_into(&mut test, Role::TextInput, "List file", &path.display().to_string());
    assert!(told(&test, "row 3, column B"));
    std::fs::write(&path, "temperature (°F),hours\n14,40\n50,900\n").unwrap();
    click(&mut test, "Take it");
    click(&mut test, "Replace all");
    // 14 °F are −10 °C and 50 °F are 10 °C; the court's thermostatic valves meet them with all zones open.
    let made: Vec<_> = set(&test).into_iter().map(|s| (s.outdoor_c.unwrap().round(), s.hours_per_year)).collect();
    assert_eq!(made, [(-10.0, 40.0), (10.0, 900.0)]);
}

#[test]
fn scenarios_have_weather_only_where_valves_follow_it() {
    let test = nothing();
    assert!(test.query_all_by_role_and_label(Role::CheckBox, "Weather").next().is_none());
    let mut project = court();
    project.scenarios = ["Night", "Day"].map(Scenario::all_open).to_vec();
    let mut test = bench(project, Units::si(), Selection::default());
    assert_eq!(test.query_all_by_role_and_label(Role::CheckBox, "Weather").count(), 2);
    test.query_all_by_role_and_label(Role::CheckBox, "Weather").next().unwrap().click();
    test.run_steps(3);
    assert_eq!(set(&test)[0].outdoor_c, test.state().project.design.outdoor_c);
}

#[test]
fn every_combination_is_ticked() {
    let mut test = nothing();
    tick(&mut test, "Every combination of zones must be served");
    assert_eq!(the_command(&test), C::SetEveryCombination(true));
}

#[test]
fn energy_is_the_users_own() {
    let bare = Project { energy: EnergyBasis::default(), ..library() };
    let mut test = bench(bare, Units::si(), Selection::default());
    tick(&mut test, "Price of 1 kWh");
    let C::SetEnergyBasis(basis) = the_command(&test) else { panic!("no energy basis was set") };
    assert_eq!(basis, EnergyBasis { price_per_kwh: Some(0.0), ..EnergyBasis::default() });
    let mut project = library();
    project.energy = EnergyBasis { co2_kg_per_kwh: Some(0.2), ..basis };
    let mut test = bench(project, Units::si(), Selection::default());
    let wanted = |test: &mut Test| {
        let C::SetEnergyBasis(basis) = the_command(test) else { panic!("no energy basis was set") };
        test.state_mut().intents.clear();
        basis
    };
    type_number(&mut test, "Price of 1 kWh", "0.3125");
    assert_eq!(wanted(&mut test).price_per_kwh, Some(0.3125));
    type_into(&mut test, Role::TextInput, "Currency", "EUR");
    assert_eq!(wanted(&mut test).currency, "EUR");
    type_number(&mut test, "kg CO₂ of 1 kWh", "0.41");
    assert_eq!(wanted(&mut test).co2_kg_per_kwh, Some(0.41));
    tick(&mut test, "Standby power counts");
    assert!(!wanted(&mut test).counts_standby);
    for (label, is_price) in
        [("Source of the price, with its year", true), ("Source of the factor: publisher and year", false)]
    {
        write(&mut test, label, "Tariff sheet, 2026");
        test.get_by_role_and_label(Role::TextInput, "Title").click();
        test.run_steps(3);
        let basis = wanted(&mut test);
        let [given, other] =
            if is_price { [basis.price_source, basis.co2_source] } else { [basis.co2_source, basis.price_source] };
        assert_eq!((given.as_str(), other.as_str()), ("Tariff sheet, 2026", ""));
    }
}

#[test]
fn four_uncertainties() {
    let usual = Uncertainty::default();
    for (label, expected) in [
        ("Lengths", Uncertainty { length: 0.25, ..usual }),
        ("Roughness", Uncertainty { roughness: 0.25, ..usual }),
        ("Glycol, points", Uncertainty { glycol: 0.25, ..usual }),
        ("Kv of valves", Uncertainty { valve: 0.25, ..usual }),
    ] {
        let mut test = nothing();
        type_number(&mut test, label, "25");
        assert_eq!(the_command(&test), C::SetUncertainty(expected));
    }
}

#[test]
fn the_most_drop_over_a_valve_is_a_limit() {
    let mut test = nothing();
    type_number(&mut test, "Valve drop, most", "15");
    let C::SetLimits(limits) = the_command(&test) else { panic!("no limits were set") };
    assert!((limits.valve_drop - 15e3).abs() < 1e-6);
}

/// Whatever they are made out of, every field has a name and nothing is wider than the pane.
#[test]
fn the_part_fits_and_its_fields_are_named() {
    for source in ["United States load profile", "own load profile", "hours by outdoor temperature"] {
        let mut test = nothing();
        out_of(&mut test, source);
        for role in [Role::SpinButton, Role::TextInput, Role::MultilineTextInput, Role::ComboBox, Role::CheckBox] {
            for node in test.query_all_by_role(role) {
                let label = node.accesskit_node().label().unwrap_or_default();
                assert!(!label.trim().is_empty() && node.rect().right() <= 330.0, "{source}: {role:?} “{label}”");
            }
        }
        for node in test.query_all_by_role(Role::Button).chain(test.query_all_by_role(Role::Label)) {
            assert!(node.rect().right() <= 330.0, "{source}: {:?}", node.accesskit_node().label());
        }
    }
}

/// What was typed into a field further down is kept when one further up is clicked, though that takes the focus first.
#[test]
fn a_text_is_kept_whichever_field_comes_next() {
    let mut test = nothing();
    write(&mut test, "Notes", "Typed below the title.");
    test.get_by_role_and_label(Role::TextInput, "Title").click();
    test.run_steps(3);
    assert_eq!(the_command(&test), C::SetNotes("Typed below the title.".to_owned()));
}

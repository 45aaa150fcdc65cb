//! Variants, scenarios in their weather, and what results are judged by.

use super::*;
use headwise::engine::pump::Regulation;

fn pump(project: &Project) -> (ComponentId, Regulation) {
    let (id, unit) = project.pumps().next().unwrap();
    (id, unit.regulation)
}

fn variant(project: &Project, name: &str, slope: f64) -> Variant {
    let (id, regulation) = pump(project);
    Variant { name: name.to_owned(), pump: id, regulation: Regulation { slope, ..regulation } }
}

#[test]
fn a_variant_swaps_with_the_present_settings_and_back() {
    let mut project = library();
    let (id, before) = pump(&project);
    let steep = variant(&project, "Steep", 0.9);
    let changed = apply(&mut project, &Command::SetVariants(vec![steep.clone()]));
    assert!(changed.drawing && !changed.moves_water());
    let start = project.clone();
    assert_eq!(Command::SwapVariant(0).step_name(&project), "swap variant Steep");
    let changed = apply(&mut project, &Command::SwapVariant(0));
    assert!(changed.settings && !changed.structure && !changed.laws);
    assert_eq!((pump(&project).1, project.variants[0].regulation), (steep.regulation, before));
    apply(&mut project, &Command::SwapVariant(0));
    assert_eq!(project, start);
    assert!(refusal(&mut project, &Command::SwapVariant(1)).contains("no variant"));
    // All settings at once.
    assert!(apply(&mut project, &Command::SetRegulation(id, steep.regulation)).settings);
    assert_eq!(pump(&project).1, steep.regulation);
    let wrong = Regulation { slope: 2.0, ..before };
    assert!(refusal(&mut project, &Command::SetRegulation(id, wrong)).contains("slope"));
}

#[test]
fn variants_that_cannot_be_are_refused() {
    let mut project = library();
    let named = |name: &str| variant(&project, name, 0.5);
    let many: Vec<Variant> = (0..=MOST_VARIANTS).map(|number| named(&format!("V{number}"))).collect();
    let six = many[1..].to_vec();
    let (twice, blank) = (vec![named("A"), named("A")], vec![named(" ")]);
    let gone = vec![Variant { pump: ComponentId(9999), ..named("A") }];
    let valve = project.zones.values().find_map(|zone| zone.valve).unwrap();
    let no_pump = vec![Variant { pump: valve, ..named("A") }];
    let wild = vec![Variant { regulation: Regulation { speed_cap: 0.0, ..named("A").regulation }, ..named("A") }];
    let refused =
        [(many, "keep 6 at most"), (twice, "two variants"), (blank, "no name"), (gone, "circulator is not there")];
    for (variants, words) in refused.into_iter().chain([(no_pump, "circulator is not there"), (wild, "speed cap")]) {
        let sentence = refusal(&mut project, &Command::SetVariants(variants));
        assert!(sentence.contains(words), "{words}: {sentence}");
    }
    apply(&mut project, &Command::SetVariants(six));
}

#[test]
fn variants_go_with_their_pump_and_hold_its_power() {
    let mut project = library();
    let (id, regulation) = pump(&project);
    let limited = Regulation { power_limit_w: Some(20.0), ..regulation };
    let kept = Variant { name: "Saving".to_owned(), pump: id, regulation: limited };
    apply(&mut project, &Command::SetVariants(vec![kept]));
    let mut unit = project.pump(id).unwrap().clone();
    unit.standby_power = 20.0;
    unit.catalogue.iter_mut().for_each(|point| point.power += 30.0);
    let sentence = refusal(&mut project, &Command::SetKind(id, Box::new(ComponentKind::Pump(Box::new(unit)))));
    assert!(sentence.starts_with("variant Saving"), "{sentence}");
    let mut other = project.clone();
    apply(
        &mut other,
        &Command::SetKind(id, Box::new(ComponentKind::Strainer { kv: 9.0, fouled_kv: 9.0, fouling: 0.0 })),
    );
    assert!(other.variants.is_empty());
    apply(&mut project, &Command::RemoveParts(BTreeSet::from([id]), BTreeSet::new()));
    assert!(project.variants.is_empty());
}

#[test]
fn a_scenario_brings_its_weather_or_the_designs() {
    let mut project = library();
    project.outdoor_now_c = Some(3.0);
    let mild = Scenario { outdoor_c: Some(8.5), ..Scenario::all_open("Mild") };
    apply(&mut project, &Command::SetScenarios(vec![mild.clone(), Scenario::all_open("As designed")]));
    assert!(apply(&mut project, &Command::EnterScenario(1)).laws);
    assert_eq!(project.outdoor_now_c, None);
    let changed = apply(&mut project, &Command::EnterScenario(0));
    assert!(changed.laws && !changed.structure);
    assert_eq!(project.outdoor_now_c, Some(8.5));
    let hot = Scenario { outdoor_c: Some(600.0), ..mild };
    assert!(refusal(&mut project, &Command::SetScenarios(vec![hot])).contains("no outdoor temperature"));
}

#[test]
fn what_results_are_judged_by_is_set_or_refused() {
    let mut project = library();
    let dear = EnergyBasis { price_per_kwh: Some(0.31), currency: "EUR".to_owned(), ..EnergyBasis::default() };
    assert!(!apply(&mut project, &Command::SetEnergyBasis(dear.clone())).moves_water());
    for wrong in [-0.1, f64::NAN] {
        let price = EnergyBasis { price_per_kwh: Some(wrong), ..dear.clone() };
        assert!(refusal(&mut project, &Command::SetEnergyBasis(price)).contains("price of a kilowatt-hour"));
        let factor = EnergyBasis { co2_kg_per_kwh: Some(wrong), ..dear.clone() };
        assert!(refusal(&mut project, &Command::SetEnergyBasis(factor)).contains("emission factor"));
        let off = Uncertainty { valve: wrong, ..Uncertainty::default() };
        assert!(refusal(&mut project, &Command::SetUncertainty(off)).contains("that of valves"));
    }
    let off = Uncertainty { glycol: 0.02, ..Uncertainty::default() };
    assert!(!apply(&mut project, &Command::SetUncertainty(off)).moves_water());
    assert!(!apply(&mut project, &Command::SetEveryCombination(true)).moves_water());
    assert!(!apply(&mut project, &Command::SetEveryCombination(true)).any());
    let loud = Limits { valve_drop: 0.0, ..Limits::default() };
    assert!(refusal(&mut project, &Command::SetLimits(loud)).contains("drop over a valve"));
    assert_eq!((project.energy, project.uncertainty, project.every_combination), (dear, off, true));
}

//! `best`: what it finds holds when it is solved, one step further does not, and what is saved is what was told.

use super::*;
use headwise::document::{ComponentKind, Project};

/// The verdicts of all zones over all scenarios with some settings, by single runs.
fn states(file: &str, options: &[&str]) -> Vec<String> {
    let project = headwise::file::load(Path::new(file)).unwrap();
    let mut found = Vec::new();
    for scenario in &project.scenarios {
        let report = json(&[&["try", file, "--scenario", &scenario.name, "--json"], options].concat());
        found.extend(list(&report, "zones").iter().map(|zone| zone["state"].as_str().unwrap().to_owned()));
    }
    found
}

fn is_well(states: &[String]) -> bool {
    states.iter().all(|state| ["served", "shut", "throttled"].contains(&state.as_str()))
}

#[test]
fn the_best_serves_and_a_step_further_does_not() {
    for (name, pump) in [(LIBRARY, "Circulator"), (CLINIC, "Duty circulator")] {
        let file = sample(name);
        let report = json(&["best", &file, "--json"]);
        assert_eq!((&report["serves_every_zone"], &report["proof"]["holds"]), (&true.into(), &true.into()));
        let settings = &report["settings"];
        let (limit, slope, cap) = (
            number(settings, "head_limit_m"),
            number(settings, "slope_percent"),
            number(settings, "speed_cap_percent"),
        );
        // Whole steps of the device: a tenth of a metre, a per cent.
        for whole in [10.0 * limit, slope, cap] {
            near(whole, whole.round(), 1e-9);
        }
        let run = |limit: f64, slope: f64, cap: f64| {
            let [limit, slope, cap] = [limit, slope, cap].map(|value| value.to_string());
            states(&file, &["--pump", pump, "--head-limit", &limit, "--slope", &slope, "--speed-cap", &cap])
        };
        assert!(is_well(&run(limit, slope, cap)));
        for (limit, slope, cap) in [(limit - 0.1, slope, cap), (limit, slope + 1.0, cap), (limit, slope, cap - 1.0)] {
            assert!(!is_well(&run(limit, slope, cap)), "{name}: {limit} {slope} {cap} serves too");
        }
        let rows = list(&report, "comparison");
        assert!(number(&rows[1], "against_first_kwh") < 0.0);
        assert_eq!(rows[1]["scenarios_outside_band"], 0);
    }
}

/// The saved project holds the settings that were told, and nothing else has changed.
#[test]
fn what_is_saved_holds_by_itself() {
    let folder = tempfile::tempdir().unwrap();
    let place = folder.path().join("best.ron");
    let saved = place.to_str().unwrap();
    let file = sample(LIBRARY);
    let ran = headwise(&["best", &file, "--presettings", "--every-combination", "--save", saved]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.contains("Presettings that go with them") && ran.out.contains("Saved to "), "{}", ran.out);
    assert!(ran.out.contains("All 22 states of the valves solved anew"), "{}", ran.out);
    assert!(is_well(&states(saved, &[])));
    let mut after = headwise::file::load(&place).unwrap();
    let before = headwise::file::load(Path::new(&file)).unwrap();
    // Put back what may differ.
    let put_back = |project: &mut Project| {
        for (id, component) in &mut project.components {
            let moved = matches!(component.kind, ComponentKind::BalancingValve { .. } | ComponentKind::Pump(_));
            if moved {
                component.kind = before.components[id].kind.clone();
            }
        }
    };
    put_back(&mut after);
    assert_eq!(after, before);
    refused(&["best", &file, "--save", saved], 1, &["there already", "--replace"]);
    refused(&["best", &file, "--save", &file, "--replace"], 1, &["the project file itself"]);
}

/// In the greenhouse a small zone and large ones ask for more than a set-line can do; nobody starves all the same.
#[test]
fn where_none_serves_nobody_starves() {
    let file = sample(GLYCOL);
    let ran = headwise(&["best", &file]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    for words in ["No setting serves every zone", "no zone starves", "too much  123", "Bay 4 alone"] {
        assert!(ran.out.contains(words), "no {words} in {}", ran.out);
    }
    let report = json(&["best", &file, "--json"]);
    assert_eq!((&report["serves_every_zone"], &report["proof"]["holds"]), (&false.into(), &true.into()));
    let settings = &report["settings"];
    let [limit, slope, cap] =
        ["head_limit_m", "slope_percent", "speed_cap_percent"].map(|key| number(settings, key).to_string());
    let states = states(&file, &["--head-limit", &limit, "--slope", &slope, "--speed-cap", &cap]);
    assert!(states.iter().any(|state| state == "overflowed"));
    assert!(states.iter().all(|state| ["served", "shut", "overflowed"].contains(&state.as_str())), "{states:?}");
}

#[test]
fn where_every_setting_starves_the_code_is_one() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hungry.ron");
    let file = path.to_str().unwrap();
    let mut project = headwise::file::load(Path::new(&sample(LIBRARY))).unwrap();
    project.zones.values_mut().for_each(|zone| zone.load *= 2.0);
    headwise::file::save(&project, &path).unwrap();
    let ran = headwise(&["best", file]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(ran.out.contains("even at full speed") && ran.out.contains("larger circulator"), "{}", ran.out);
    let place = folder.path().join("not.ron");
    let ran = headwise(&["best", file, "--json", "--save", place.to_str().unwrap()]);
    let report: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!((ran.code, &report["settings"], place.exists()), (1, &Value::Null, false));
    assert!(ran.err.contains("Not saved"), "{}", ran.err);
}

/// Deviations and remedies are told with what they come to, the greatest gain first.
#[test]
fn what_may_be_off_and_what_would_help() {
    let file = sample(LIBRARY);
    let report = json(&["best", &file, "--robust", "--why", "--json"]);
    let cases = list(&report["robustness"], "cases");
    assert!(
        cases.iter().any(|case| case["verdict"] == "served") && cases.iter().any(|case| case["verdict"] == "starves")
    );
    assert!(report["robustness"]["still_serves"]["settings"]["head_limit_m"].is_number());
    assert_eq!(report["remedies"]["zone"], "Office radiators");
    let saves: Vec<f64> =
        list(&report["remedies"], "each_alone").iter().filter_map(|help| help["saves_kwh_per_year"].as_f64()).collect();
    assert!(saves.len() >= 3 && saves.is_sorted_by(|a, b| a >= b) && saves[0] > 0.0, "{saves:?}");
    let ran = headwise(&["best", &file, "--robust", "--why", "--units", "inch-pound"]);
    for words in ["If the system is not just as drawn", "Still serves", "What would help Office radiators", "saves"] {
        assert!(ran.out.contains(words), "no {words} in {}", ran.out);
    }
}

#[test]
fn circulators_that_are_not_there() {
    refused(&["best", &sample(LIBRARY), "--pump", "Nobody"], 1, &["circulator named"]);
    refused(&["best", &sample("thornwick-court.ron")], 1, &["2 circulators", "choose"]);
    refused(&["best", &sample(LIBRARY), "--replace"], 2, &["--save"]);
}

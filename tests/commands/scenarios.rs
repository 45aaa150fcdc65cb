//! `scenarios`: margins, energy and comparison against single runs and against sums worked here.

use super::*;
use headwise::document::{EnergyBasis, Variant};
use headwise::engine::pump::Regulation;

/// The library with a price, a factor and a variant, in a file of its own.
fn priced(folder: &Path) -> String {
    let mut project = headwise::file::load(Path::new(&sample(LIBRARY))).unwrap();
    project.energy = EnergyBasis {
        price_per_kwh: Some(0.3),
        currency: "crowns".to_owned(),
        price_source: "an invented tariff".to_owned(),
        co2_kg_per_kwh: Some(0.4),
        co2_source: "an invented factor".to_owned(),
        counts_standby: true,
    };
    let (pump, unit) = project.pumps().next().unwrap();
    let regulation = Regulation { slope: 0.37, head_limit_m: Some(4.6), speed_cap: 0.85, ..unit.regulation };
    project.variants = vec![Variant { name: "Lean, \"winter\"".to_owned(), pump, regulation }];
    let path = folder.join("priced.ron");
    headwise::file::save(&project, &path).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn margins_are_those_of_the_scenarios_beside_them() {
    for name in [LIBRARY, GLYCOL, CLINIC] {
        let report = json(&["scenarios", &sample(name), "--json"]);
        let margins = list(&report, "margins");
        assert!(!margins.is_empty());
        for margin in margins {
            let open: Vec<(&Value, &Value)> = list(&report, "scenarios")
                .iter()
                .map(|scenario| (scenario, named(scenario, "zones", margin["zone"].as_str().unwrap())))
                .filter(|(_, zone)| zone["state"] != "shut")
                .collect();
            for (key, figure, sign) in [
                ("least_flow", "share_percent", -1.0),
                ("greatest_flow", "share_percent", 1.0),
                ("least_heat", "heat_share_percent", -1.0),
                ("greatest_heat", "heat_share_percent", 1.0),
            ] {
                let best = open.iter().map(|(_, zone)| sign * number(zone, figure)).fold(f64::NEG_INFINITY, f64::max);
                near(number(&margin[key], figure), sign * best, 1e-12);
                let (scenario, zone) = open.iter().find(|(s, _)| s["scenario"] == margin[key]["scenario"]).unwrap();
                assert_eq!(zone["state"], margin[key]["state"]);
                let pump = named(scenario, "pumps", report["pump"].as_str().unwrap());
                assert_eq!(pump["governing"], margin[key]["governing"]);
            }
        }
    }
}

/// Energy is power times hours; the year's rest is stood by; cost and CO₂ go with all of it.
#[test]
fn a_year_is_power_times_hours() {
    let folder = tempfile::tempdir().unwrap();
    let report = json(&["scenarios", &priced(folder.path()), "--json"]);
    let power_times_hours: f64 = list(&report, "scenarios")
        .iter()
        .map(|scenario| {
            let power: f64 = list(scenario, "pumps").iter().map(|pump| number(pump, "electric_w")).sum();
            power * number(scenario, "hours_per_year") / 1000.0
        })
        .sum();
    let energy = &report["energy"];
    near(number(energy, "in_scenarios_kwh"), power_times_hours, 1e-9);
    // 3 W through the 3760 h that the scenarios leave.
    near(number(energy, "standby_kwh"), 0.003 * 3760.0, 1e-9);
    let year = power_times_hours + 0.003 * 3760.0;
    near(number(energy, "year_kwh"), year, 1e-9);
    near(number(energy, "cost"), 0.3 * year, 1e-9);
    near(number(energy, "co2_kg"), 0.4 * year, 1e-9);
}

/// In the hours that no scenario stands for all circulators stand by, those that never run too: as the window reckons it.
#[test]
fn every_circulator_stands_by() {
    let project = headwise::file::load(Path::new(&sample(CLINIC))).unwrap();
    let report = json(&["scenarios", &sample(CLINIC), "--json"]);
    let hours: f64 = project.scenarios.iter().map(|scenario| scenario.hours_per_year).sum();
    let watts: Vec<f64> = project.pumps().map(|(_, unit)| unit.standby_power).collect();
    assert!(watts.len() == 2 && watts.iter().all(|watts| *watts > 0.0));
    let expected = watts.iter().sum::<f64>() * (8760.0 - hours) / 1000.0;
    near(number(&report["energy"], "standby_kwh"), expected, 1e-9);
    for row in list(&report, "comparison") {
        near(number(&row["energy"], "standby_kwh"), expected, 1e-9);
    }
    let (pump, unit) = project.pumps().find(|(_, unit)| unit.running).unwrap();
    let part_load = headwise::study::part_load::PartLoad::new(&project, pump).unwrap();
    let window = part_load.year(&part_load.law(&unit.regulation)).total_j() / 3.6e6;
    let told = number(&report["energy"], "year_kwh");
    assert!((told / window - 1.0).abs() < 5e-4, "{told} kWh here and {window} kWh there");
    assert!(
        headwise(&["scenarios", &sample(CLINIC)]).out.contains("All circulators stand by for the rest of the year")
    );
}

/// A source below its minimum flow is marked beside the scenario, in all three forms.
#[test]
fn a_source_that_comes_to_harm_is_marked() {
    let file = sample(LIBRARY);
    let words = "Heat pump short of water";
    let report = json(&["scenarios", &file, "--json"]);
    let mut marked = 0;
    for scenario in list(&report, "scenarios") {
        // It needs 0.6 m³/h, and all that flows passes it.
        let flow = number(&scenario["pumps"][0], "flow_m3_per_h");
        let expected = if flow < 0.6 { vec![words] } else { vec![] };
        assert_eq!(scenario["sources"], serde_json::json!(expected), "{scenario}");
        marked += usize::from(flow < 0.6);
    }
    assert!(marked > 0 && marked < list(&report, "scenarios").len());
    let text = headwise(&["scenarios", &file]).out;
    assert_eq!(text.lines().filter(|line| line.contains(words)).count(), marked, "{text}");
    let csv = headwise(&["scenarios", &file, "--csv"]).out;
    assert_eq!(csv.lines().filter(|line| line.ends_with(words)).count(), 4 * marked, "{csv}");
    assert!(!headwise(&["scenarios", &sample(GLYCOL)]).out.contains("Sources"));
}

/// What stands in a row of the comparison is what `try` gives with these settings, scenario by scenario.
#[test]
fn the_comparison_is_what_single_runs_give() {
    let folder = tempfile::tempdir().unwrap();
    let file = priced(folder.path());
    let report = json(&["scenarios", &file, "--json"]);
    let rows = list(&report, "comparison");
    let names: Vec<&str> = rows.iter().map(|row| row["name"].as_str().unwrap()).collect();
    let expected = ["Present settings", "Constant speed at the cap", "Level head limit, no slope", "Lean, \"winter\""];
    assert_eq!(names, expected);
    let settings: [&[&str]; 4] = [
        &[],
        &["--head-limit", "none"],
        &["--slope", "0"],
        &["--head-limit", "4.6", "--slope", "37", "--speed-cap", "85"],
    ];
    for (row, options) in rows.iter().zip(settings) {
        let mut kwh = 0.0;
        for scenario in list(&report, "scenarios") {
            let name = scenario["scenario"].as_str().unwrap();
            let run = json(&[&["try", &file, "--scenario", name, "--json"], options].concat());
            kwh += number(&run["pumps"][0], "electric_w") * number(scenario, "hours_per_year") / 1000.0;
        }
        near(number(&row["energy"], "in_scenarios_kwh"), kwh, 1e-4);
        let by = number(&row["energy"], "year_kwh") - number(&rows[0]["energy"], "year_kwh");
        near(number(row, "against_first_kwh"), by, 1e-9);
    }
    assert_eq!(rows[3]["scenarios_outside_band"], 0);
}

#[test]
fn the_text_tells_it_and_adds_up() {
    let folder = tempfile::tempdir().unwrap();
    let file = priced(folder.path());
    for units in ["si", "inch-pound"] {
        let ran = headwise(&["scenarios", &file, "--units", units]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        for words in [
            "overflowed in 1 of 3",
            "Circulator stands by for the rest of the year",
            "an invented tariff",
            "CO₂: 0.4 kg a kWh; an invented factor",
            "crowns",
            "Lean, \"winter\"",
        ] {
            assert!(ran.out.contains(words), "no {words} in {}", ran.out);
        }
        // The energies of the scenarios add up to what is told below them, as they stand.
        let kwh = |text: &str| text.split("\u{a0}kWh").next()?.rsplit([' ', '\u{a0}']).next()?.parse::<i64>().ok();
        let lines = || ran.out.lines().skip(4);
        let scenarios: i64 = lines().take(7).map(|line| kwh(line).unwrap()).sum();
        let together = lines().find(|line| line.starts_with("Together")).and_then(kwh).unwrap();
        assert_eq!(scenarios, together);
    }
    let ran = headwise(&["scenarios", &sample(GLYCOL)]);
    assert!(ran.out.contains("no price is given; give it in the project, under energy"), "{}", ran.out);
}

#[test]
fn the_csv_has_a_row_a_scenario_and_zone() {
    for (name, rows) in [(LIBRARY, 7 * 4), (GLYCOL, 9 * 5), (CLINIC, 8 * 4)] {
        let file = sample(name);
        let ran = headwise(&["scenarios", &file, "--csv"]);
        let report = json(&["scenarios", &file, "--json"]);
        let mut reader = csv::Reader::from_reader(ran.out.as_bytes());
        let headings = reader.headers().unwrap().clone();
        let cell = |row: &csv::StringRecord, name: &str| {
            row[headings.iter().position(|heading| heading == name).unwrap()].to_owned()
        };
        let all: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
        assert_eq!(all.len(), rows);
        for row in &all {
            let scenario =
                list(&report, "scenarios").iter().find(|part| part["scenario"] == cell(row, "scenario")).unwrap();
            let zone = named(scenario, "zones", &cell(row, "zone"));
            assert_eq!(zone["state"], cell(row, "state"));
            near(cell(row, "share_percent").parse().unwrap(), number(zone, "share_percent"), 1e-9);
        }
    }
}

#[test]
fn several_circulators_and_standing_ones() {
    let file = sample(CLINIC);
    // The one that runs is in hand; the one that stands is not compared.
    assert_eq!(json(&["scenarios", &file, "--json"])["pump"], "Duty circulator");
    let report = json(&["scenarios", &file, "--json", "--pump", "Standby circulator"]);
    assert!(list(&report, "comparison").is_empty());
    assert!(report["remark"].as_str().unwrap().contains("does not run; start it"), "{report}");
    refused(&["scenarios", &file, "--pump", "Nobody"], 1, &["circulator named"]);
    refused(&["scenarios", &file, "--json", "--csv"], 2, &["--csv"]);
}

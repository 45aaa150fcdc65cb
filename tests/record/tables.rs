//! The tables as CSV, read by a reader of its own.

use super::*;
use headwise::report::record::record_csv;
use std::collections::BTreeMap;

fn rows(record: &Record, name: &str) -> Vec<BTreeMap<String, String>> {
    let all = record_csv(record);
    let table = all.iter().find(|table| table.name == name).unwrap_or_else(|| panic!("no {name}"));
    csv::Reader::from_reader(table.text.as_bytes()).deserialize().map(Result::unwrap).collect()
}

/// Numbers are in full and in the units that the headings name.
#[test]
fn numbers_are_those_of_the_study() {
    let project = sample("fernhollow-library");
    let study = Study::new(&all_open(&project)).unwrap();
    // By definition: a US gallon is 231 cubic inches, an inch 25.4 mm.
    let gallons_per_minute = 60.0 / (231.0 * 0.0254_f64.powi(3));
    for (units, symbol, scale) in [(Units::si(), "m³/h", 3600.0), (Units::inch_pound(), "gpm", gallons_per_minute)] {
        let record = Record::new(&project, &units, DATE).unwrap();
        let zones = rows(&record, "zones.csv");
        assert_eq!(zones.len(), project.zones.len());
        for (row, (id, zone)) in zones.iter().zip(&project.zones) {
            assert_eq!(row["Zone"], zone.name);
            let result = &study.results().zones[id];
            for (heading, flow) in [("Design: Flow", result.design_flow), ("Predicted: Flow", result.flow)] {
                let found: f64 = row[&format!("{heading} ({symbol})")].parse().unwrap();
                assert!((found / (flow * scale) - 1.0).abs() < 1e-6, "{heading}: {found} for {flow} m³/s");
            }
            assert_eq!(row[&format!("Measured: Flow ({symbol})")], "");
        }
    }
}

/// The energies of the scenarios add up to the year's, as they are shown.
#[test]
fn energies_add_up() {
    for name in &SAMPLES[..3] {
        let record = Record::new(&sample(name), &Units::si(), DATE).unwrap();
        let sum: f64 =
            rows(&record, "scenarios.csv").iter().map(|row| row["Energy (kWh)"].parse::<f64>().unwrap()).sum();
        let told = record.energy.iter().find(|fact| fact.label == "In the scenarios' hours").unwrap();
        let told: f64 = told.text.split('\u{a0}').next().unwrap().parse().unwrap();
        assert!((sum - told).abs() < 0.5, "{name}: {sum} and {told} kWh");
    }
}

/// Every table that is printed is there, with all its rows, and names that ask for quotes come back as they are.
#[test]
fn every_table_is_there() {
    let mut project = sample("fernhollow-library");
    let id = *project.zones.keys().next().unwrap();
    project.zones.get_mut(&id).unwrap().name = "Office, \"north\"".to_owned();
    let record = Record::new(&project, &Units::si(), DATE).unwrap();
    assert_eq!(rows(&record, "zones.csv")[0]["Zone"], "Office, \"north\"");
    for sheet in record.sheets() {
        assert_eq!(rows(&record, &format!("{}.csv", sheet.key)).len(), sheet.rows.len(), "{}", sheet.key);
        for row in &sheet.rows {
            assert_eq!(row.len(), sheet.columns.len(), "{}", sheet.key);
        }
    }
    let facts = rows(&record, "facts.csv");
    assert!(facts.iter().any(|row| row["what"] == "Head limit" && row["is"].replace('\u{a0}', " ") == "5.10 m"));
}

/// What has no rows is written all the same: beside it an older table would pass for one of this record.
#[test]
fn a_table_without_rows_is_its_headings() {
    let mut project = sample("fernhollow-library");
    let names = |record: &Record| record_csv(record).into_iter().map(|table| table.name).collect::<Vec<_>>();
    let before = names(&Record::new(&project, &Units::si(), DATE).unwrap());
    project.scenarios.clear();
    let record = Record::new(&project, &Units::si(), DATE).unwrap();
    assert_eq!(names(&record), before);
    for name in ["scenarios.csv", "margins.csv", "comparison.csv"] {
        let table = record_csv(&record).into_iter().find(|table| table.name == name).unwrap();
        assert_eq!(table.text.lines().count(), 1, "{name}: {}", table.text);
    }
}

/// Whoever has the tables alone is told what their figures are good for.
#[test]
fn the_facts_say_whether_the_figures_stand() {
    let mut project = sample("saltreed-growers");
    project.title = "=Growers".to_owned();
    project.notes = "Two lines,\nof notes".to_owned();
    let mut record = Record::new(&project, &Units::si(), DATE).unwrap();
    record.converged = false;
    let facts = rows(&record, "facts.csv");
    let of = |part: &str, what: &str| {
        facts.iter().find(|row| row["part"] == part && row["what"] == what).map(|row| row["is"].as_str())
    };
    assert_eq!(of("record", "Title"), Some("'=Growers"));
    assert_eq!(of("record", "Converged"), Some("no"));
    assert_eq!(of("record", "Predicted"), Some(&*record.predicted));
    assert_eq!(of("record", "Caution"), Some(record.caution));
    assert_eq!(of("record", "Notes"), Some("Two lines,\nof notes"));
    assert!(!record.cautions.is_empty());
    for caution in &record.cautions {
        assert!(facts.iter().any(|row| row["part"] == "caution" && row["is"] == caution.text), "{}", caution.heading);
    }
}

/// Where nothing runs or nothing is designed, the summary names no worst zone and no share of nothing.
#[test]
fn the_summary_says_only_what_there_is() {
    let told = |project: &Project| {
        let record = Record::new(project, &Units::si(), DATE).unwrap();
        record.summary.into_iter().map(|fact| (fact.label, fact.text)).collect::<BTreeMap<_, _>>()
    };
    let mut library = sample("fernhollow-library");
    assert!(told(&library).contains_key("Index circuit"));
    let pump = library.pumps().next().unwrap().0;
    library.apply(&Command::SetRunning(pump, false)).unwrap();
    let facts = told(&library);
    assert!(!facts.contains_key("Index circuit") && !facts.contains_key("Least share of design flow"), "{facts:?}");
    let court = told(&sample("thornwick-court"));
    assert!(!court.contains_key("Index circuit") && court.contains_key("Least share of design flow"), "{court:?}");
    let mut bare = sample("fernhollow-library");
    bare.zones.clear();
    bare.scenarios.clear();
    let facts = told(&bare);
    assert!(!facts.contains_key("Predicted"), "{facts:?}");
}

/// All zones open, each alone, all shut: a row each, with what a study of that state finds.
#[test]
fn readings_are_predicted_state_by_state() {
    let project = sample("fernhollow-library");
    let record = Record::new(&project, &Units::si(), DATE).unwrap();
    let readings = rows(&record, "readings.csv");
    // And one row to be written in.
    assert_eq!(readings.len(), project.zones.len() + 3);
    let (blank, readings) = readings.split_last().unwrap();
    assert!(blank.values().all(String::is_empty), "{blank:?}");
    let pump = project.pumps().next().unwrap().0;
    for row in readings {
        let mut state = all_open(&project);
        for zone in project.zones.values() {
            let is_open = row["Open"] == "All zones open" || row["Open"] == format!("{} alone", zone.name);
            state.apply(&Command::SetOpen(zone.valve.unwrap(), is_open)).unwrap();
        }
        let result = Study::new(&state).unwrap().results().pumps[&pump];
        for (heading, figure) in [
            ("Predicted: Flow (m³/h)", 3600.0 * result.flow),
            ("Predicted: Head (m)", result.head),
            ("Predicted: Power (W)", result.electric_w),
        ] {
            let found: f64 = row[heading].parse().unwrap();
            assert!(
                (found - figure).abs() < 1e-6 * figure.abs().max(1.0),
                "{}: {heading} {found}, not {figure}",
                row["Open"]
            );
        }
    }
    // Of a csv reader's own accord: nothing is predicted where something is to be read.
    assert!(readings.iter().all(|row| row["Read: Flow (m³/h)"].is_empty()));
}

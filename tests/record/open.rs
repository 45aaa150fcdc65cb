//! What is still open: in which states it holds, told once; marks beside the states; and what a release lacks.

use super::*;
use headwise::document::{StartingStep, Tick};
use headwise::report::page;
use headwise::report::record::{Sheet, record_csv};

/// Minimum flow of the library's heat pump, m³/s.
const LEAST: f64 = 0.6 / 3600.0;

fn library() -> Project {
    sample("fernhollow-library")
}

/// Flow through the heat pump in a state.
fn through(project: &Project) -> f64 {
    let study = Study::new(project).unwrap();
    study.results().component_flow(project.component_named("Heat pump").unwrap())
}

/// The first cells of the rows that bear a mark.
fn marked(sheet: &Sheet, mark: &str) -> Vec<String> {
    let rows = sheet.rows.iter().filter(|row| row.iter().any(|cell| cell.shown() == mark));
    rows.map(|row| row[0].shown().to_owned()).collect()
}

/// The scenarios in which a study of its own finds too little through the heat pump are those that the record names and marks.
#[test]
fn a_source_short_in_some_scenarios_is_open_and_marked() {
    let project = library();
    let record = Record::new(&project, &Units::si(), DATE).unwrap();
    let entered = |index: usize| {
        let mut entered = project.clone();
        entered.apply(&Command::EnterScenario(index)).unwrap();
        entered
    };
    let short: Vec<&str> = project
        .scenarios
        .iter()
        .enumerate()
        .filter(|(index, _)| through(&entered(*index)) < LEAST)
        .map(|(_, scenario)| scenario.name.as_str())
        .collect();
    assert!(short.contains(&"Office alone") && short.len() < project.scenarios.len(), "{short:?}");
    let about: Vec<_> = record.open.iter().filter(|check| check.heading == "Below its minimum flow").collect();
    let [check] = about.as_slice() else { panic!("{about:?}") };
    assert_eq!((check.severity, check.place.as_str()), ("error", "Heat pump"));
    let where_to = format!("In {} of {} scenarios: {}", short.len(), project.scenarios.len(), short.join(", "));
    assert!(check.holds.starts_with(&where_to), "{}", check.holds);
    assert!(record.open_words.starts_with("1 error "), "{}", record.open_words);
    assert_eq!(marked(&record.scenarios, "Heat pump short of water"), short);
    let facts = &record_csv(&record)[0].text;
    assert!(facts.contains(&where_to), "{facts}");
    let words = set(&project, &Units::si()).words();
    assert!(words.contains(&where_to.replace('\u{a0}', " ")), "{words}");
    // The page tells it of the state that is chosen.
    let text = page(&project, &Units::si(), DATE).unwrap();
    assert!(text.contains("trips or comes to harm with less: open a zone or fit a bypass"));
}

/// The states that are read on site bear the mark too, all shut among them; its circulator alone against closed valves is no error.
#[test]
fn readings_bear_the_mark() {
    let project = library();
    let record = Record::new(&project, &Units::si(), DATE).unwrap();
    let mut expected = Vec::new();
    for zone in project.zones.values() {
        let mut alone = all_open(&project);
        for other in project.zones.values() {
            alone.apply(&Command::SetOpen(other.valve.unwrap(), other.name == zone.name)).unwrap();
        }
        expected.extend((through(&alone) < LEAST).then(|| format!("{} alone", zone.name)));
    }
    expected.push("All zones shut".to_owned());
    assert_eq!(marked(&record.readings, "Heat pump short of water"), expected);
    // Without scenarios those states are where it is found.
    let mut bare = project.clone();
    bare.scenarios.clear();
    let record = Record::new(&bare, &Units::si(), DATE).unwrap();
    let check = record.open.iter().find(|check| check.heading == "Below its minimum flow").unwrap();
    assert!(check.holds.starts_with("Only with ") && check.holds.contains("all zones shut"), "{}", check.holds);
    let growers = Record::new(&sample("saltreed-growers"), &Units::si(), DATE).unwrap();
    assert!(growers.open.iter().all(|check| check.severity != "error"), "{:?}", growers.open);
}

/// Notes are printed and not only counted.
#[test]
fn notes_are_told() {
    for name in SAMPLES {
        let project = sample(name);
        let record = Record::new(&project, &Units::si(), DATE).unwrap();
        let open = all_open(&project);
        let all = headwise::study::checks(&open, &Study::new(&open).unwrap(), &Units::si());
        let words = set(&project, &Units::si()).words();
        for check in all {
            assert!(record.open.iter().any(|told| told.text == check.text()), "{name}: {check:?}");
        }
        for told in &record.open {
            assert!(words.contains(&told.text.replace('\u{a0}', " ")), "{name}: no “{}” in:\n{words}", told.text);
        }
    }
}

/// A release without a name, or with an error open, says so; the pressure read when filling stands beside the cold one by design.
#[test]
fn a_release_says_what_it_lacks() {
    let tick = |by: &str| Tick { date: "2026-04-02".to_owned(), by: by.to_owned() };
    let told = |project: &Project| {
        let record = Record::new(project, &Units::si(), DATE).unwrap();
        let row = record.starting.rows.last().unwrap();
        (record.starting.intro.clone(), row[2].shown().to_owned())
    };
    let mut project = library();
    for step in StartingStep::ALL {
        project.starting.ticks.insert(step, tick("R. Ash"));
    }
    project.starting.fill_pressure = Some(150e3);
    assert_eq!(told(&project).1, "released, but an error is open");
    assert_eq!(told(&project).0, "The circulators are released to run, but an error is open.");
    project.starting.ticks.insert(StartingStep::Released, tick(" "));
    assert_eq!(told(&project).1, "released, but no name is given and an error is open");
    let record = Record::new(&project, &Units::si(), DATE).unwrap();
    let cold = record.water.rows.iter().find(|row| row[0].shown().starts_with("Pressure, cold")).unwrap();
    assert_eq!(cold[2].shown(), Units::si().format(Quantity::Pressure, 150e3));
    assert_eq!(cold[3].shown(), "2026-04-02, R. Ash");
    // A source that asks for no minimum leaves no error open.
    let id = project.component_named("Heat pump").unwrap();
    let headwise::document::ComponentKind::Source(source) = &mut project.components.get_mut(&id).unwrap().kind else {
        panic!("it is a source")
    };
    source.minimum_flow = 0.0;
    assert_eq!(told(&project).1, "released, but no name is given");
    project.starting.ticks.insert(StartingStep::Released, tick("R. Ash"));
    assert_eq!(told(&project).1, "done");
}

/// Instruments and signatures stand on one page, wherever that falls.
#[test]
fn instruments_and_signatures_share_a_page() {
    for name in SAMPLES {
        let paper = set(&sample(name), &Units::si());
        let page_with = |what: &str| (1..=paper.count()).find(|page| paper.text(Some(*page)).contains(what));
        let of = [page_with("Instruments and calibration"), page_with("Accepted by")];
        assert!(of[0].is_some() && of[0] == of[1], "{name}: {of:?}");
    }
}

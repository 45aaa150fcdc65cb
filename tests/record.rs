//! The record against outside readers: what Poppler reads and draws of its pages is held against the study of the same project, what
//! a reader of CSV finds against its numbers.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where what it needs is missing")]

#[path = "record/building.rs"]
mod building;
#[path = "record/open.rs"]
mod open;
#[path = "record/paper.rs"]
mod paper;
#[path = "plans/mod.rs"]
#[expect(dead_code, reason = "it takes one of the two buildings")]
mod plans;
#[path = "record/shape.rs"]
mod shape;
#[path = "record/tables.rs"]
mod tables;

use building::building;
use headwise::document::{Command, Project};
use headwise::engine::units::{Quantity, Units};
use headwise::file;
use headwise::report::record::{Paper as Size, Record, record_pdf};
use headwise::study::{Results, Study, ZoneState, limit_name};
use paper::Paper;
use std::path::Path;

const SAMPLES: [&str; 4] = ["fernhollow-library", "saltreed-growers", "alder-point-clinic", "thornwick-court"];
const DATE: &str = "2026-03-31";

fn sample(name: &str) -> Project {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects");
    file::load(&folder.join(format!("{name}.ron"))).unwrap()
}

fn pdf(project: &Project, units: &Units, size: Size) -> Vec<u8> {
    let (record, pictures) = Record::with_pictures(project, units, DATE).unwrap();
    record_pdf(&record, &pictures, size).unwrap()
}

fn set(project: &Project, units: &Units) -> Paper {
    Paper::new(&pdf(project, units, Size::A4))
}

/// The project with every zone open in the design's weather.
fn all_open(project: &Project) -> Project {
    let mut open = project.clone();
    for zone in project.zones.values() {
        if let Some(valve) = zone.valve {
            open.apply(&Command::SetOpen(valve, true)).unwrap();
        }
    }
    open.apply(&Command::SetOutdoor(None)).unwrap();
    open
}

/// A line that begins with a name and holds these words after it, in order.
#[track_caller]
fn line_with(text: &str, name: &str, wanted: &[String]) {
    let holds = |line: &str| {
        let Some(rest) = line.trim().strip_prefix(name) else { return false };
        let mut words = rest.split_whitespace();
        wanted.iter().all(|wanted| wanted.split_whitespace().all(|part| words.any(|word| word == part)))
    };
    assert!(text.lines().any(holds), "no line “{name}” with {wanted:?} in:\n{text}");
}

/// Every zone with load, design flow and predicted flow as a study of its own finds them, in both systems of units.
#[test]
fn zones_are_read_back_with_the_figures_of_the_study() {
    for name in SAMPLES {
        let project = sample(name);
        let open = all_open(&project);
        let study = Study::new(&open).unwrap();
        for units in [Units::si(), Units::inch_pound()] {
            let text = set(&project, &units).text(None);
            for (id, zone) in &open.zones {
                let result = &study.results().zones[id];
                let flow = |inside| units.number(Quantity::Flow, inside);
                let band = [open.acceptance.low, open.acceptance.high].map(|share| flow(share * result.design_flow));
                let mut wanted = vec![units.number(Quantity::Heat, zone.load), flow(result.design_flow)];
                wanted.extend(band);
                wanted.extend([flow(result.flow), result.state.word().to_owned()]);
                line_with(&text, &zone.name, &wanted);
            }
        }
    }
}

/// A zone in the window's state counts for nothing: the record is of all zones open.
#[test]
fn valves_that_stand_shut_change_nothing() {
    let project = sample("fernhollow-library");
    let mut shut = project.clone();
    let valve = project.zones.values().find_map(|zone| zone.valve).unwrap();
    shut.apply(&Command::SetOpen(valve, false)).unwrap();
    let [one, other] = [&project, &shut].map(|project| Record::new(project, &Units::si(), DATE).unwrap());
    assert_eq!(one, other);
}

/// Each scenario names the zone that is worst off in a study of its own: too little before too much before merely least.
#[test]
fn scenarios_name_their_worst_zone() {
    for name in &SAMPLES[..3] {
        let project = sample(name);
        let units = Units::si();
        let text = set(&project, &units).text(None);
        for (index, scenario) in project.scenarios.iter().enumerate() {
            let mut entered = project.clone();
            entered.apply(&Command::EnterScenario(index)).unwrap();
            let study = Study::new(&entered).unwrap();
            let pump = study.results().pumps.values().find(|pump| pump.running).unwrap();
            let (worst, state) = worst(&entered, study.results());
            let wanted = [
                format!("{:.0}", scenario.hours_per_year),
                units.number(Quantity::Flow, pump.flow),
                units.number(Quantity::Head, pump.head),
                units.number(Quantity::Power, pump.electric_w),
                limit_name(pump.governing.unwrap()).to_owned(),
                worst,
                state.word().to_owned(),
            ];
            line_with(&text, &scenario.name, &wanted);
        }
    }
}

fn worst(project: &Project, results: &Results) -> (String, ZoneState) {
    let mut open: Vec<_> = results.zones.iter().filter(|(_, zone)| zone.state != ZoneState::Shut).collect();
    open.sort_by(|a, b| a.1.share.total_cmp(&b.1.share));
    let short = open.iter().find(|(_, zone)| zone.state == ZoneState::Starved);
    let over = open.iter().rev().find(|(_, zone)| zone.state == ZoneState::Overflowed);
    let (id, zone) = short.or(over).or(open.first()).unwrap();
    (project.zones[id].name.clone(), zone.state)
}

/// The three settings of every circulator, the definition of the reference flow, the register, the checklist and the cautions.
#[test]
fn settings_and_site_are_read_back() {
    for name in SAMPLES {
        let project = sample(name);
        let units = Units::si();
        let words = set(&project, &units).words();
        let holds = |text: &str| {
            let text = text.replace('\u{a0}', " ");
            assert!(words.contains(&text), "{name}: no “{text}” in:\n{words}");
        };
        for fact in [&project.title, &project.site.place, &project.site.client, &project.site.designer] {
            holds(fact);
        }
        for (id, unit) in project.pumps() {
            holds(&project.components[&id].name);
            let settings = &unit.regulation;
            holds(&units.format(Quantity::Head, settings.head_limit_m.unwrap()));
            holds(&units.format(Quantity::Speed, settings.speed_cap));
            holds(&format!("Device address {}", unit.address));
            let meaning = match settings.reference {
                headwise::engine::pump::ReferenceFlow::FullSpeed => "where the full-speed curve crosses the head limit",
                headwise::engine::pump::ReferenceFlow::CappedSpeed => "where the capped curve crosses the head limit",
                headwise::engine::pump::ReferenceFlow::DesignFlow(_) => "the design flow as given",
            };
            holds(meaning);
        }
        for heading in ["Fill, vent, release", "Readings", "Instruments and calibration", "Signatures", "Presettings"] {
            holds(heading);
        }
        for word in ["isolate the supply", "Local codes", "All zones open"] {
            holds(word);
        }
    }
    // What the fluid calls for, and only there.
    let glycol = "must never reach drinking water";
    assert!(set(&sample("saltreed-growers"), &Units::si()).words().contains(glycol));
    assert!(!set(&sample("fernhollow-library"), &Units::si()).words().contains(glycol));
}

/// Markup, quotes and what a name may hold stand on the page as they are typed, and harm nothing.
#[test]
fn names_are_texts() {
    let mut project = sample("fernhollow-library");
    let title = r##"#panic("x") *bold* $x^2$ \ "quoted" <label> @ref // comment"##;
    project.title = title.to_owned();
    project.notes = "= Heading\n#let x = 1\n- item ünïcödé".to_owned();
    let words = set(&project, &Units::si()).words();
    assert!(words.contains(title), "{words}");
    assert!(words.contains("= Heading #let x = 1 - item ünïcödé"), "{words}");
    assert_eq!(set(&project, &Units::si()).told("Title"), format!("{title} – settings sheet and commissioning record"));
}

/// The same project, date and paper give the same bytes; another date does not.
#[test]
fn the_same_record_has_the_same_bytes() {
    for name in SAMPLES {
        let project = sample(name);
        let bytes = pdf(&project, &Units::si(), Size::A4);
        assert_eq!(bytes, pdf(&project, &Units::si(), Size::A4), "{name}");
        assert_ne!(bytes, pdf(&project, &Units::si(), Size::Letter), "{name}");
    }
    let project = sample("fernhollow-library");
    let (record, pictures) = Record::with_pictures(&project, &Units::si(), "2026-04-01").unwrap();
    assert_ne!(record_pdf(&record, &pictures, Size::A4).unwrap(), pdf(&project, &Units::si(), Size::A4));
}

/// A sheet with nothing on it, and one without a circulator that runs, are recorded too.
#[test]
fn little_is_a_record_too() {
    let blank = set(&Project::blank(), &Units::si()).words();
    assert!(blank.contains("No circulator runs in this project"), "{blank}");
    let mut stands = sample("fernhollow-library");
    let pump = stands.pumps().next().unwrap().0;
    stands.apply(&Command::SetRunning(pump, false)).unwrap();
    let words = set(&stands, &Units::si()).words();
    assert!(words.contains("stands still in this project"), "{words}");
}

//! What the sentence says of sources, bypasses, check valves and pumps that stand, in drawings made from the library.

use super::{SAMPLES, apply, first_pump, library, path, told};
use headwise::document::{Acceptance, Command, ComponentId};
use headwise::engine::units::Units;
use headwise::file;
use headwise::study::{Study, ZoneState, findings, situation};
use std::collections::BTreeSet;

/// The library's file with other components and pipes before its own.
fn library_with(components: &str, pipes: &str) -> String {
    let text = std::fs::read_to_string(path(SAMPLES[0])).unwrap();
    let (parts, runs) = ("    components: [\n", "    pipes: [\n");
    assert!(text.contains(parts) && text.contains(runs));
    text.replacen(parts, &format!("{parts}{components}"), 1).replacen(runs, &format!("{runs}{pipes}"), 1)
}

/// A bypass between the library's mains that opens at 30 kPa.
const BYPASS: [&str; 2] = [
    "(name: \"Bypass\", at: (17, 7), turn: down, is: bypass_valve(set_kpa: 30, band_kpa: 10, kv_m3_per_h: 2)),\n",
    "(from: (\"Office flow tee\", branch), to: (\"Bypass\", inlet)), (from: (\"Bypass\", outlet), to: (\"Office return tee\", branch)),\n",
];

/// A second circulator beside the library's, standing, with a check valve.
fn standby() -> [String; 2] {
    let text = std::fs::read_to_string(path(SAMPLES[0])).unwrap();
    let own = &text[text.find("(name: \"Circulator\"").unwrap()..text.find("(name: \"Strainer\"").unwrap()];
    let second =
        own.replace("\"Circulator\", at: (9, 0)", "\"Standby\", at: (9, 3)").replace("running: true", "running: false");
    let valve = "(name: \"Standby check valve\", at: (12, 3), is: check_valve(kv_m3_per_h: 10, cracking_kpa: 1)),\n";
    let pipes = "(from: (\"Vessel tee\", branch), to: (\"Standby\", inlet)), (from: (\"Standby\", outlet), to: \
                 (\"Standby check valve\", inlet)), (from: (\"Standby check valve\", outlet), to: (\"Office flow tee\", branch)),\n";
    [format!("{second}{valve}"), pipes.to_owned()]
}

/// A band so wide that every zone is served whatever the settings.
fn wide_band() -> Command {
    Command::SetAcceptance(Acceptance { low: 0.3, high: 3.0, source: String::new() })
}

#[test]
fn a_bypass_that_passes_is_told_and_less_head_keeps_it_shut() {
    let mut project = file::parse(&library_with(BYPASS[0], BYPASS[1]), "the library with a bypass").unwrap();
    let id = first_pump(&project);
    let settings = [Command::SetHeadLimit(id, Some(5.2)), Command::SetSpeedCap(id, 1.0), Command::SetSlope(id, 0.0)];
    apply(&mut project, &settings);
    apply(&mut project, &[wide_band()]);
    let study = Study::new(&project).unwrap();
    let flow = study.results().component_flow(project.component_named("Bypass").unwrap());
    let share = 100.0 * flow / study.results().pumps[&id].flow;
    assert!(share > 1.0 && study.results().zones.values().all(|zone| zone.state == ZoneState::Served));
    let at = told(&project, None);
    assert!(at.more.starts_with("Bypass passes ") && at.more.ends_with(": less head keeps it shut."), "{at:?}");
    assert!(at.more.contains(&format!(", {share:.0} % of the pump's flow, by the zones")), "{at:?}");
    apply(&mut project, &[Command::SetHeadLimit(id, Some(3.0))]);
    let study = Study::new(&project).unwrap();
    assert!(study.results().component_flow(project.component_named("Bypass").unwrap()).abs() < 1e-12);
    assert!(!told(&project, None).more.starts_with("Bypass"));
}

/// The pump in hand stands beside one that runs: a bypass takes no share of its flow, and its check valve keeps the water out.
#[test]
fn of_a_pump_that_stands_only_its_check_valve_is_told() {
    let [components, pipes] = standby();
    let text = library_with(&format!("{}{components}", BYPASS[0]), &format!("{}{pipes}", BYPASS[1]));
    let mut project = file::parse(&text, "the library with a bypass and a second pump").unwrap();
    let [running, standing] = ["Circulator", "Standby"].map(|name| project.component_named(name).unwrap());
    apply(&mut project, &[Command::SetHeadLimit(running, Some(5.2)), Command::SetSlope(running, 0.0), wide_band()]);
    let study = Study::new(&project).unwrap();
    assert!(study.results().component_flow(project.component_named("Bypass").unwrap()) > 0.0);
    let at = |pump| situation(&project, &study, Some(pump), None, &Units::si());
    assert_eq!(at(standing).more, "Standby check valve is shut: no water goes back through Standby.");
    assert!(at(running).more.starts_with("Bypass passes "), "{:?}", at(running));
}

/// A check valve in a branch that its zone valve shuts keeps nothing back.
#[test]
fn a_check_valve_without_flow_keeps_nothing_back_where_no_pump_stands() {
    let text = std::fs::read_to_string(path(SAMPLES[0])).unwrap();
    let balancing = "balancing_valve(kv_m3_per_h: 0.5292)";
    assert!(text.contains(balancing));
    let text = text.replacen(balancing, "check_valve(kv_m3_per_h: 0.5292, cracking_kpa: 0)", 1);
    let mut project = file::parse(&text, "the library with a check valve").unwrap();
    let office = project.zones[&project.zone_named("Office radiators").unwrap()].valve.unwrap();
    apply(&mut project, &[Command::SetOpen(office, false), wide_band()]);
    let study = Study::new(&project).unwrap();
    assert_eq!(study.results().component_flow(project.component_named("Office balancing valve").unwrap()), 0.0);
    assert_eq!(told(&project, None).more, "Every open zone keeps its band.");
}

/// The heat pump drawn the wrong way round: one rule for the sentence and the list, with a minimum flow or without.
#[test]
fn a_source_that_runs_backwards_is_told_so() {
    let text = std::fs::read_to_string(path(SAMPLES[0])).unwrap();
    let port = |port: &str| format!("(\"Heat pump\", {port})");
    let turned = text
        .replace(&port("outlet"), "TURNED")
        .replace(&port("inlet"), &port("outlet"))
        .replace("TURNED", &port("inlet"));
    for least in ["0.6", "0"] {
        let own = "minimum_flow_m3_per_h: 0.6";
        assert!(turned.contains(own));
        let text = turned.replacen(own, &format!("minimum_flow_m3_per_h: {least}"), 1);
        let mut project = file::parse(&text, "the library with its source turned").unwrap();
        let study = Study::new(&project).unwrap();
        let flow = study.results().component_flow(project.component_named("Heat pump").unwrap());
        assert!(flow < 0.0);
        let at = told(&project, None);
        assert!(at.wrong.starts_with(&format!("Heat pump: {:.3} m³/h backwards.", -3600.0 * flow)), "{at:?}");
        assert!(at.more.ends_with("sense the wrong end: turn the pump or the source round."), "{at:?}");
        let listed: Vec<_> = findings(&project, &study, &Units::si()).iter().map(|check| check.heading).collect();
        assert!(listed.contains(&"Water runs backwards") && !listed.contains(&"Below its minimum flow"), "{listed:?}");
        // Without a minimum flow and without flow nothing is wrong with it.
        let valves: Vec<_> = project.zones.values().filter_map(|zone| zone.valve).collect();
        valves.iter().for_each(|valve| apply(&mut project, &[Command::SetOpen(*valve, false)]));
        assert_eq!(told(&project, None).wrong.contains("Heat pump: 0.000 of 0.600 m³/h."), least == "0.6");
        assert_eq!(told(&project, None).wrong.contains("Heat pump"), least == "0.6");
    }
}

/// A pump on a ring without any zone, shut by a valve.
#[test]
fn without_zones_nobody_is_told_to_open_one() {
    let mut project = library(&[]);
    let valves: Vec<_> = project.zones.values().filter_map(|zone| zone.valve).collect();
    valves.iter().for_each(|valve| apply(&mut project, &[Command::SetOpen(*valve, false)]));
    let emitters: BTreeSet<ComponentId> = project.zones.values().map(|zone| zone.emitter).collect();
    apply(&mut project, &[Command::RemoveParts(emitters, BTreeSet::new())]);
    assert!(project.zones.is_empty());
    let at = told(&project, None);
    assert!(at.now.starts_with("Nothing flows: the pump holds "), "{at:?}");
    assert!(at.now.ends_with("Look for a shut valve."), "{at:?}");
    assert!(at.more.ends_with("open what is shut or fit a bypass."), "{at:?}");
    let study = Study::new(&project).unwrap();
    for check in findings(&project, &study, &Units::si()) {
        assert!(!check.remedy.contains("Open a zone"), "{check:?}");
    }
}

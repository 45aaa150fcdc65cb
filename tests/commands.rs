//! The program as a person meets it at a prompt: real runs on the sample projects, with what must hold of their output.
//!
//! Truth comes from outside the program: identities of physics (the flow of a pipe is that of the component it ends at, heat
//! is ρ c_p Q ΔT, hydraulic power is ρ g Q H) and worked figures of the sample buildings, named beside each check.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::cli::{Action, run_to};
use serde_json::Value;
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

const LIBRARY: &str = "fernhollow-library.ron";
const GLYCOL: &str = "saltreed-growers.ron";
const CLINIC: &str = "alder-point-clinic.ron";

/// What a run left behind.
struct Ran {
    code: i32,
    out: String,
    err: String,
}

fn headwise(arguments: &[&str]) -> Ran {
    let output = Command::new(env!("CARGO_BIN_EXE_headwise")).args(arguments).output().unwrap();
    let ran = Ran {
        code: output.status.code().unwrap_or(-1),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    };
    for word in ["panicked", "RUST_BACKTRACE", "unwrap"] {
        assert!(!ran.err.contains(word), "{arguments:?}: {}", ran.err);
    }
    ran
}

/// A run that must end with this code, a message and no result.
#[track_caller]
fn refused(arguments: &[&str], code: i32, words: &[&str]) {
    let ran = headwise(arguments);
    assert_eq!(ran.code, code, "{arguments:?}: {}", ran.err);
    assert!(ran.out.is_empty(), "{arguments:?} printed a result: {}", ran.out);
    for word in words {
        assert!(ran.err.contains(word), "{arguments:?}: no “{word}” in: {}", ran.err);
    }
}

fn sample(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name);
    path.to_str().unwrap().to_owned()
}

fn json(arguments: &[&str]) -> Value {
    let ran = headwise(arguments);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{arguments:?}");
    serde_json::from_str(&ran.out).unwrap()
}

/// The library with some options.
fn library(options: &[&str]) -> Value {
    let file = sample(LIBRARY);
    json(&[&["try", &file, "--json"], options].concat())
}

fn list<'a>(report: &'a Value, key: &str) -> &'a Vec<Value> {
    report[key].as_array().unwrap()
}

fn named<'a>(report: &'a Value, key: &str, name: &str) -> &'a Value {
    list(report, key).iter().find(|part| part["name"] == name).unwrap()
}

fn number(part: &Value, key: &str) -> f64 {
    part[key].as_f64().unwrap_or(f64::NAN)
}

#[track_caller]
fn near(found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "found {found}, expected {expected}, allowed {allowed}");
}

/// Balances and identities that hold in every report.
fn is_sound(report: &Value) {
    assert_eq!(report["verdict"], "converged");
    assert!(number(report, "mass_residual") <= 1e-9);
    assert!(number(report, "energy_residual") <= 1e-6);
    let components = list(report, "components").iter().chain(list(report, "pumps"));
    let flows: BTreeMap<&str, f64> =
        components.map(|part| (part["name"].as_str().unwrap(), number(part, "flow_m3_per_h"))).collect();
    for pipe in list(report, "pipes") {
        for end in ["from", "to"] {
            if let Some(flow) = flows.get(pipe[end].as_str().unwrap()) {
                near(number(pipe, "flow_m3_per_h").abs(), flow.abs(), 1e-9);
            }
        }
    }
    let density = number(&report["fluid"], "density_kg_per_m3");
    let heat_capacity = density * number(&report["fluid"], "specific_heat_kj_per_kg_k");
    let supply = number(&report["design"], "supply_c");
    for zone in list(report, "zones") {
        let drop = (supply - number(zone, "return_c")).abs();
        let flow = number(zone, "flow_m3_per_h");
        near(number(zone, "heat_kw"), heat_capacity * flow.abs() / 3600.0 * drop, 1e-6);
    }
    for pump in list(report, "pumps") {
        let hydraulic = density * 9.80665 * number(pump, "flow_m3_per_h") / 3600.0 * number(pump, "head_m");
        near(number(pump, "hydraulic_w"), hydraulic, 1e-6);
        assert!(number(pump, "speed_percent") <= number(&pump["settings"], "speed_cap_percent") + 1e-6);
        if let Some(limit) = pump["settings"]["head_limit_m"].as_f64() {
            assert!(number(pump, "head_m") <= limit + 1e-9);
        }
    }
}

#[test]
fn every_sample_balances_in_every_scenario() {
    for name in [LIBRARY, GLYCOL, CLINIC] {
        let file = sample(name);
        is_sound(&json(&["export", &file]));
        let project = headwise::file::load(Path::new(&file)).unwrap();
        for scenario in &project.scenarios {
            let report = json(&["try", &file, "--scenario", &scenario.name, "--json"]);
            is_sound(&report);
            for (id, zone) in &project.zones {
                let found = named(&report, "zones", &zone.name);
                assert_eq!(found["state"] == "shut", scenario.shut.contains(id), "{name}, {}", scenario.name);
            }
        }
        assert_eq!(headwise(&["check", &file]).code, 0);
    }
}

#[test]
fn table_and_data_tell_the_same() {
    for name in [LIBRARY, GLYCOL, CLINIC] {
        let file = sample(name);
        let report = json(&["export", &file]);
        let ran = headwise(&["solve", &file]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        assert!(ran.out.contains(report["caution"].as_str().unwrap()));
        for zone in list(&report, "zones").iter().chain([&report["all_zones"]]) {
            let zone_name = zone["name"].as_str().unwrap();
            let row = ran.out.lines().find(|line| line.trim_start().starts_with(zone_name)).unwrap();
            // Five figures at most, as the units room rounds them; the samples stay below 100 m³/h and 1000 kW.
            for text in [
                format!("{:.3}\u{a0}m³/h", number(zone, "flow_m3_per_h")),
                format!("{:.0}\u{a0}%", number(zone, "share_percent")),
                format!("{:.2}\u{a0}kW", number(zone, "heat_kw")),
                format!("{:.1}\u{a0}°C", number(zone, "return_c")),
                zone["state"].as_str().unwrap_or_default().to_owned(),
            ] {
                assert!(row.contains(&text), "{name}: no “{text}” in: {row}");
            }
        }
        for pump in list(&report, "pumps").iter().filter(|pump| pump["running"] == true) {
            let point =
                format!("{:.3}\u{a0}m³/h at {:.2}\u{a0}m", number(pump, "flow_m3_per_h"), number(pump, "head_m"));
            let speed = format!(
                "{:.1}\u{a0}%, {:.0}\u{a0}r/min",
                number(pump, "speed_percent"),
                number(pump, "speed_r_per_min")
            );
            for text in [point, speed, format!("{:.1}\u{a0}W", number(pump, "electric_w"))] {
                assert!(ran.out.contains(&text), "{name}: no “{text}” in:\n{}", ran.out);
            }
            assert_eq!(ran.out.contains("The set-line governs"), pump["governing"] == "set_line");
            assert_eq!(ran.out.contains("The head limit governs"), pump["governing"] == "head_limit");
        }
    }
}

#[test]
fn inch_pound_tables_hold_the_same_flow() {
    let file = sample(LIBRARY);
    let flow = number(&json(&["export", &file])["pumps"][0], "flow_m3_per_h");
    let ran = headwise(&["solve", &file, "--units", "inch-pound"]);
    // 1 US gallon is 3.785411784 litres by definition.
    let text = format!("Operating point  {:.2}\u{a0}gpm", flow * 1000.0 / 60.0 / 3.785_411_784);
    assert!(ran.out.contains(&text), "no “{text}” in:\n{}", ran.out);
}

/// The library's zones alone with the head limit at design head and no slope: 115, 118, 125 and 119 % of design flow, computed
/// independently of this program when the building was designed.
#[test]
fn each_zone_of_the_library_alone() {
    let zones = ["Office radiators", "Meeting radiators", "Children's floor", "Reading-room floor"];
    for (open, expected) in zones.iter().zip([115.0, 118.0, 125.0, 119.0]) {
        let mut options = vec!["--head-limit", "4.873 m", "--slope", "0", "--cap", "100"];
        zones.iter().filter(|zone| *zone != open).for_each(|zone| options.extend(["--shut", zone]));
        let report = library(&options);
        is_sound(&report);
        near(number(named(&report, "zones", open), "share_percent"), expected, 1.0);
        for shut in zones.iter().filter(|zone| *zone != open) {
            let zone = named(&report, "zones", shut);
            assert_eq!((number(zone, "flow_m3_per_h"), &zone["state"]), (0.0, &Value::from("shut")));
        }
    }
}

/// With a slope of 25 % and the reference flow at full speed, a head limit of 5.085 m (with 50 %: 5.238 m) passes through the
/// library's design point, 1.985 m³/h; the limit at design head with 50 % gives only 93 % of it. Closed-form figures.
#[test]
fn settings_that_pass_through_the_design_point() {
    for (limit, slope, share) in [("5.085", "25", 1.0), ("5.238", "50", 1.0), ("4.873", "50", 0.93)] {
        let report = library(&["--head-limit", limit, "--slope", slope, "--cap", "100", "--reference", "full-speed"]);
        near(number(&report["pumps"][0], "flow_m3_per_h"), 1.985 * share, 0.01);
        assert_eq!(report["pumps"][0]["governing"], "set_line");
    }
}

#[test]
fn settings_move_the_point_the_way_they_must() {
    let flow = |options: &[&str]| number(&library(options)["pumps"][0], "flow_m3_per_h");
    let low = flow(&["--slope", "0", "--head-limit", "3.5 m", "--cap", "100"]);
    let high = flow(&["--slope", "0", "--head-limit", "4.5 m", "--cap", "100"]);
    assert!(high > low * 1.05, "{low} {high}");
    near(flow(&["--slope", "0", "--head-limit", "11.483 ft", "--cap", "100"]), low, 1e-3);
    let sloped = flow(&["--slope", "25", "--head-limit", "3.5 m", "--cap", "100"]);
    assert!(sloped < low);
    // Above the flow where the cap takes over, the head limit changes nothing.
    let capped = flow(&["--cap", "80", "--head-limit", "6"]);
    assert_eq!(capped, flow(&["--cap", "80", "--head-limit", "none"]));
    let pump = &library(&["--cap", "80", "--head-limit", "6"])["pumps"][0];
    assert_eq!(pump["governing"], "speed_cap");
    near(number(pump, "speed_percent"), 80.0, 1e-6);
    let slow = &library(&["--minimum-speed", "70", "--head-limit", "1"])["pumps"][0];
    assert_eq!(slow["governing"], "minimum_speed");
    let given = &library(&["--reference", "design-flow=1.985"])["pumps"][0];
    near(number(given, "reference_flow_m3_per_h"), 1.985, 1e-9);
}

#[test]
fn a_valve_shuts_by_its_own_name_or_by_its_zone() {
    let by_zone = library(&["--shut", "office radiators"]);
    let project = headwise::file::load(Path::new(&sample(LIBRARY))).unwrap();
    let zone = &project.zones[&project.zone_named("Office radiators").unwrap()];
    let valve = &project.components[&zone.valve.unwrap()].name;
    assert_eq!(by_zone, library(&["--shut", valve]));
    assert_eq!(number(named(&by_zone, "components", valve), "flow_m3_per_h"), 0.0);
    assert_eq!(
        library(&["--scenario", "Office alone", "--open", "Meeting radiators", "--shut", "Office radiators"]),
        library(&["--scenario", "Meeting room alone"])
    );
}

#[test]
fn what_try_saves_is_what_it_printed_and_the_file_stays() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("saved.ron");
    let saved = saved.to_str().unwrap();
    let file = sample(LIBRARY);
    let before = fs::read(&file).unwrap();
    let printed = library(&["--slope", "40", "--shut", "Office radiators", "--save", saved]);
    assert_eq!(printed, json(&["export", saved]));
    assert_eq!(number(&printed["pumps"][0]["settings"], "slope_percent"), 40.0);
    assert_eq!(before, fs::read(&file).unwrap());
    assert!(headwise(&["try", &file, "--slope", "40"]).out.contains("Against the file: "));
}

#[test]
fn names_that_nothing_has() {
    let file = sample(LIBRARY);
    refused(&["try", &file, "--shut", "Ofice radiators"], 1, &["zone", "did you mean “Office radiators”?"]);
    refused(&["try", &file, "--open", "Swimming hall"], 1, &["zone or valve", "there is “"]);
    refused(&["try", &file, "--scenario", "Offise alone"], 1, &["scenario", "“Office alone”?"]);
    refused(&["try", &file, "--pump", "Zirculator", "--slope", "1"], 1, &["circulator named"]);
    refused(&["try", &sample(CLINIC), "--slope", "10"], 1, &["2 circulators", "choose"]);
}

#[test]
fn values_that_cannot_be() {
    let file = sample(LIBRARY);
    for value in ["", "abc", "-5", "130", "NaN", "inf", "1e999", "1,000", "25 kPa"] {
        for option in ["--slope", "--cap", "--minimum-speed"] {
            refused(&["try", &file, option, value], 1, &[option]);
        }
    }
    for value in ["0", "-1 m", "5 gpm", "∞"] {
        refused(&["try", &file, "--head-limit", value], 1, &["--head-limit"]);
    }
    for value in ["somewhere", "design-flow", "design-flow=", "design-flow=0", "full-speed=2"] {
        refused(&["try", &file, "--reference", value], 1, &["--reference"]);
    }
    for value in ["Office radiators", "=50", "Nothing=50", "Office radiators=500", "Office radiators=x"] {
        refused(&["try", &file, "--position", value], 1, &[]);
    }
}

#[test]
fn files_that_are_no_projects() {
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let write = |name: &str, bytes: &[u8]| {
        fs::write(place(name), bytes).unwrap();
        place(name)
    };
    let sample = fs::read_to_string(sample(LIBRARY)).unwrap();
    let garbage: Vec<u8> = (0..4096_u32).map(|i| (i.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    let files = [
        place("missing.ron"),
        place(""),
        write("empty.ron", b""),
        write("garbage.ron", &garbage),
        write("nested.ron", "(".repeat(200_000).as_bytes()),
        write("cut.ron", &sample.as_bytes()[..sample.len() / 2]),
        write("newer.ron", sample.replacen("format: 1", "format: 999", 1).as_bytes()),
    ];
    for file in &files {
        for command in ["solve", "export", "try", "check"] {
            refused(&[command, file], 1, &["headwise: "]);
        }
    }
    refused(&["solve", &files[6]], 1, &["999"]);
    refused(&[&files[0]], 1, &["there is no file"]);
    refused(&[&files[1]], 1, &["is a folder"]);
    refused(&["slove"], 1, &["headwise solve FILE"]);
    refused(&["try", &self::sample(LIBRARY), "--save", &place("no/such/folder.ron")], 1, &["folder.ron"]);
}

#[test]
fn problems_are_listed_and_counted() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("stopped.ron");
    let file = path.to_str().unwrap();
    let text = fs::read_to_string(sample(LIBRARY)).unwrap();
    assert!(text.contains("running: true"));
    fs::write(&path, text.replace("running: true", "running: false")).unwrap();
    let ran = headwise(&["check", file]);
    assert_eq!(ran.code, 0, "a warning is no error");
    assert!(ran.out.contains("1 problem\n  warning: Fernhollow Library: No circulator runs"), "{}", ran.out);
    let ran = headwise(&["solve", file]);
    assert_eq!(ran.code, 0);
    assert!(ran.out.contains("stands still") && ran.out.contains("No circulator runs"), "{}", ran.out);
    assert_eq!(json(&["export", file])["verdict"], "no_pump");
}

#[test]
fn command_lines_that_are_not_understood() {
    let file = sample(LIBRARY);
    for arguments in [
        &["solve"][..],
        &["solve", &file, "--units", "cubits"],
        &["try", &file, "--slop", "1"],
        &["solve", &file, &file],
        &["export", &file, "--slope", "1"],
    ] {
        refused(arguments, 2, &["--help"]);
    }
    for arguments in [&["--help"][..], &["help", "try"], &["try", "--help"], &["--version"]] {
        let ran = headwise(arguments);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        assert!(ran.out.contains("headwise"));
    }
}

#[cfg(not(feature = "gui"))]
#[test]
fn without_a_window_it_says_so() {
    refused(&[], 2, &["no window"]);
    refused(&[&sample(LIBRARY)], 2, &["no window"]);
}

/// A reader that has read enough (`headwise export … | head`) is no fault; a full disk is one.
#[test]
fn output_that_cannot_be_written() {
    let (reader, writer) = io::pipe().unwrap();
    drop(reader);
    let mut command = Command::new(env!("CARGO_BIN_EXE_headwise"));
    let output = command.args(["export", &sample(LIBRARY)]).stdout(writer).stderr(Stdio::piped()).output().unwrap();
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));

    struct FullDisk;
    impl Write for FullDisk {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(io::ErrorKind::StorageFull.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }
    let mut err = Vec::new();
    let arguments = ["headwise", "solve", &sample(LIBRARY)].map(OsString::from);
    assert_eq!(run_to(arguments, &mut FullDisk, &mut err), Action::Done(1));
    assert!(String::from_utf8(err).unwrap().contains("could not be written"));
}

#[test]
fn a_file_alone_asks_for_the_window() {
    let file = sample(LIBRARY);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let asked = run_to(["headwise", &file].map(OsString::from), &mut out, &mut err);
    assert_eq!(asked, Action::Window(Some(PathBuf::from(file))));
    assert_eq!(run_to([OsString::from("headwise")], &mut out, &mut err), Action::Window(None));
    assert!(out.is_empty() && err.is_empty());
}

//! The program as a person meets it at a prompt: real runs on the sample projects, with what must hold of their output.
//!
//! Truth comes from outside the program: identities of physics (the flow of a pipe is that of the component it ends at, heat
//! is ρ c_p Q ΔT, hydraulic power is ρ g Q H) and worked figures of the sample buildings, named beside each check.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

#[path = "commands/best.rs"]
mod best;
#[path = "commands/draw.rs"]
mod draw;
#[path = "commands/index.rs"]
mod index;
#[path = "commands/lesson.rs"]
mod lesson;
#[path = "commands/map.rs"]
mod map;
#[path = "commands/picture.rs"]
mod picture;
#[path = "commands/record.rs"]
mod record;
#[path = "commands/saving.rs"]
mod saving;
#[path = "commands/scenarios.rs"]
mod scenarios;
#[path = "commands/table.rs"]
mod table;

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
    for zone in list(report, "zones") {
        let flow = number(zone, "flow_m3_per_h");
        if ["shut", "no flow"].contains(&zone["state"].as_str().unwrap()) {
            assert!(zone["supply_c"].is_null() && zone["return_c"].is_null(), "{zone}");
            assert_eq!(number(zone, "heat_kw"), 0.0);
            continue;
        }
        let drop = (number(zone, "supply_c") - number(zone, "return_c")).abs();
        near(number(zone, "heat_kw"), heat_capacity * flow.abs() / 3600.0 * drop, 1e-6);
    }
    for pump in list(report, "pumps") {
        let hydraulic = number(pump, "density_kg_per_m3") * 9.80665 * number(pump, "flow_m3_per_h") / 3600.0
            * number(pump, "head_m");
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

/// The library's zones alone with the head limit at design head and no slope: 115, 118, 125 and 119 % of design flow, computed
/// independently of this program when the building was designed.
#[test]
fn each_zone_of_the_library_alone() {
    let zones = ["Office radiators", "Meeting radiators", "Children's floor", "Reading-room floor"];
    for (open, expected) in zones.iter().zip([115.0, 118.0, 125.0, 119.0]) {
        let mut options = vec!["--head-limit", "4.873 m", "--slope", "0", "--speed-cap", "100"];
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
        let report =
            library(&["--head-limit", limit, "--slope", slope, "--speed-cap", "100", "--reference-flow", "full-speed"]);
        near(number(&report["pumps"][0], "flow_m3_per_h"), 1.985 * share, 0.01);
        assert_eq!(report["pumps"][0]["governing"], "set_line");
    }
}

#[test]
fn settings_move_the_point_the_way_they_must() {
    let flow = |options: &[&str]| number(&library(options)["pumps"][0], "flow_m3_per_h");
    let low = flow(&["--slope", "0", "--head-limit", "3.5 m", "--speed-cap", "100"]);
    let high = flow(&["--slope", "0", "--head-limit", "4.5 m", "--speed-cap", "100"]);
    assert!(high > low * 1.05, "{low} {high}");
    near(flow(&["--slope", "0", "--head-limit", "11.483 ft", "--speed-cap", "100"]), low, 1e-3);
    let sloped = flow(&["--slope", "25", "--head-limit", "3.5 m", "--speed-cap", "100"]);
    assert!(sloped < low);
    // Above the flow where the cap takes over, the head limit changes nothing.
    let capped = flow(&["--speed-cap", "80", "--head-limit", "6"]);
    assert_eq!(capped, flow(&["--speed-cap", "80", "--head-limit", "none"]));
    let pump = &library(&["--speed-cap", "80", "--head-limit", "6"])["pumps"][0];
    assert_eq!(pump["governing"], "speed_cap");
    near(number(pump, "speed_percent"), 80.0, 1e-6);
    let slow = &library(&["--minimum-speed", "70", "--head-limit", "1"])["pumps"][0];
    assert_eq!(slow["governing"], "minimum_speed");
    let given = &library(&["--reference-flow", "design-flow=1.985"])["pumps"][0];
    near(number(given, "reference_flow_m3_per_h"), 1.985, 1e-9);
}

/// Held to half the power that it takes unlimited, the library's circulator takes just that.
#[test]
fn a_power_limit_is_held() {
    let open = ["--head-limit", "none", "--speed-cap", "100"];
    let pump = |options: &[&str]| library(&[&open, options].concat())["pumps"][0].clone();
    let free = pump(&[]);
    let half = format!("{:.1}", 0.5 * number(&free, "electric_w"));
    let held = pump(&["--power-limit", &half]);
    assert_eq!((&held["governing"], &free["governing"]), (&Value::from("power_limit"), &Value::from("speed_cap")));
    assert_eq!(
        (&held["settings"]["power_limit_w"], &free["settings"]["power_limit_w"]),
        (&Value::from(half.parse::<f64>().unwrap()), &Value::Null)
    );
    near(number(&held, "electric_w"), half.parse().unwrap(), 1e-6);
    assert!(number(&held, "flow_m3_per_h") < 0.95 * number(&free, "flow_m3_per_h"));
    assert_eq!(pump(&["--power-limit", "NONE"]), free);
    assert_eq!(pump(&["--power-limit", &format!("{half} W")]), held);
    let file = sample(LIBRARY);
    let ran = headwise(&[&["try", &file, "--power-limit", &half], open.as_slice()].concat());
    let (row, says) = (format!("Power limit      {half}\u{a0}W\n"), "The power limit governs ");
    assert!(ran.out.contains(&row) && ran.out.contains(says), "{}", ran.out);
    for value in ["2", "0", "-4 W", "abc", "5 m"] {
        refused(&["try", &file, "--power-limit", value], 1, &["--power-limit"]);
    }
    refused(&["try", &file, "--power-limit", "2"], 1, &["above the standby power"]);
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
        for option in ["--slope", "--speed-cap", "--minimum-speed"] {
            refused(&["try", &file, option, value], 1, &[option]);
        }
    }
    for value in ["0", "-1 m", "5 gpm", "∞"] {
        refused(&["try", &file, "--head-limit", value], 1, &["--head-limit"]);
    }
    for value in ["somewhere", "design-flow", "design-flow=", "design-flow=0", "full-speed=2"] {
        refused(&["try", &file, "--reference-flow", value], 1, &["--reference-flow"]);
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
    assert!(ran.out.contains("1 warning\n  warning: Fernhollow Library: No circulator runs"), "{}", ran.out);
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
    for arguments in [
        &["--help"][..],
        &["help", "try"],
        &["try", "--help"],
        &["scenarios", "--help"],
        &["best", "--help"],
        &["map", "--help"],
        &["index", "--help"],
        &["--version"],
    ] {
        let ran = headwise(arguments);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        assert!(ran.out.contains("headwise"));
        // One word for one thing.
        assert!(!ran.out.to_lowercase().replace("--pump", "").contains("pump"), "{}", ran.out);
    }
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
    assert_eq!(run_to(arguments, None, &mut FullDisk, &mut err), Action::Done(1));
    assert!(String::from_utf8(err).unwrap().contains("could not be written"));
}

#[test]
fn a_file_alone_asks_for_the_window() {
    let file = sample(LIBRARY);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let asked = run_to(["headwise", &file].map(OsString::from), None, &mut out, &mut err);
    assert_eq!(asked, Action::Window(Some(PathBuf::from(file))));
    assert_eq!(run_to([OsString::from("headwise")], None, &mut out, &mut err), Action::Window(None));
    assert!(out.is_empty() && err.is_empty());
}

//! Project files: what a person wrote is understood, what was saved comes back equal, and every mistake is named with
//! its place and what to do. Expected numbers are worked by hand from the file's units.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test may stop at what it did not expect")]

#[path = "files/random.rs"]
mod random;
#[path = "files/values.rs"]
mod values;

use headwise::document::{
    ComponentId, ComponentKind, Port, PumpRegister, Site, StandbyRole, Starting, StartingStep, ThreeWayAction, Tick,
    Turn, ZoneId,
};
use headwise::engine::fluid::FluidKind;
use headwise::engine::links::Characteristic;
use headwise::engine::links::emitter::{CoilArrangement, EmitterLaw};
use headwise::engine::pump::ReferenceFlow;
use headwise::file::{FileError, load, parse, save, to_text};
use proptest::prelude::*;
use std::fs;
use std::path::Path;

const EVERY_KIND: &str = include_str!("data/files/every_kind.ron");

/// The message for `every_kind.ron` with one piece of text put in the place of another.
fn message(old: &str, new: &str) -> String {
    assert!(EVERY_KIND.contains(old), "{old}");
    failure(&EVERY_KIND.replacen(old, new, 1)).to_string()
}

fn failure(text: &str) -> FileError {
    match parse(text, "house.ron") {
        Ok(_) => panic!("should be refused: {text}"),
        Err(error) => error,
    }
}

/// Line of the first place where `piece` stands in `every_kind.ron`.
fn line(piece: &str) -> usize {
    1 + EVERY_KIND[..EVERY_KIND.find(piece).unwrap()].matches('\n').count()
}

#[track_caller]
fn check(message: &str, words: &[&str]) {
    for word in words {
        assert!(message.contains(word), "“{word}” is not in: {message}");
    }
}

#[test]
fn what_was_written_by_hand_is_understood() {
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    assert_eq!(project.notes, "Children's floor: \"quiet hours\".\nSecond line.");
    let Site { place, client, designer, date } = project.site.clone();
    assert_eq!([place, client, designer, date], ["12 Mill Lane", "The parish", "A. Wren", "2026-03-31"]);
    let tick = |date: &str, by: &str| Tick { date: date.to_owned(), by: by.to_owned() };
    let ticks = [
        (StartingStep::HeldOff, tick("", "R. Ash")),
        (StartingStep::Filled, tick("2026-04-02", "R. Ash")),
        (StartingStep::Vented, tick("", "")),
    ];
    assert_eq!(project.starting, Starting { ticks: ticks.into(), fill_pressure: Some(150_000.0) });
    assert_eq!(project.fluid.kind(), FluidKind::PropyleneGlycol);
    assert_eq!(project.fluid.glycol_mass_fraction(), 0.30);
    assert_eq!(project.components.len(), 29);
    let kind = |name: &str| project.components[&project.component_named(name).unwrap()].kind.clone();
    let ComponentKind::Source(source) = kind("Chiller") else { panic!() };
    assert_eq!((source.loss, source.rated_flow), (12_500.0, 1.985 / 3600.0));
    let ComponentKind::Pump(first) = kind("Circulator") else { panic!() };
    assert_eq!((first.catalogue[1].flow, first.catalogue[1].power), (1.5 / 3600.0, 60.0));
    assert_eq!((first.regulation.head_limit_m, first.regulation.slope), (Some(5.1), 0.25));
    assert_eq!((first.regulation.reference, first.steps.slope), (ReferenceFlow::FullSpeed, 0.01));
    let ComponentKind::Pump(second) = kind("Second circulator") else { panic!() };
    assert_eq!((second.regulation.head_limit_m, second.running), (None, false));
    assert_eq!((first.regulation.power_limit_w, second.regulation.power_limit_w), (None, Some(40.0)));
    assert_eq!((first.register, &*second.address), (PumpRegister::default(), "12/3"));
    let PumpRegister { position, serial, supply, wiring, standby } = second.register;
    assert_eq!([position, serial, supply, wiring], ["Attic", "00-17", "230 V", "off at board 2"]);
    assert_eq!(standby, StandbyRole::Standby);
    assert_eq!((first.stopped_kv, second.stopped_kv), (Some(4.5), None));
    assert_eq!(second.regulation.reference, ReferenceFlow::DesignFlow(1.2 / 3600.0));
    let ComponentKind::Emitter(radiators) = kind("Radiators") else { panic!() };
    assert_eq!((radiators.exponent, radiators.air_outlet_c), (2.0, None));
    let ComponentKind::Emitter(coil) = kind("Coil") else { panic!() };
    assert_eq!(coil.air_outlet_c, Some(16.0));
    let arrangement = CoilArrangement::CrossflowUnmixed;
    assert_eq!(coil.law, EmitterLaw::Coil { arrangement, water_film_share: 0.3 });
    let characteristic = Characteristic::EqualPercentage { rangeability: 50.0 };
    assert_eq!(kind("CV"), ComponentKind::ControlValve { kvs: 4.0, characteristic, position: 0.6, shut: false });
    let characteristic = Characteristic::Linear;
    assert_eq!(kind("CV linear"), ComponentKind::ControlValve { kvs: 4.0, characteristic, position: 0.3, shut: true });
    assert_eq!(kind("TV"), ComponentKind::ThermostaticValve { kv: 0.4, kvs: 0.7, set_c: 21.0, band_k: 2.0 });
    assert_eq!((project.design.outdoor_c, project.outdoor_now_c), (Some(32.0), Some(28.5)));
    assert_eq!((project.zones[&ZoneId(3)].gain, project.zones[&ZoneId(1)].gain), (300.0, 0.0));
    assert_eq!((first.least_inlet_pressure, first.npsh_required), (None, None));
    assert_eq!((second.least_inlet_pressure, second.npsh_required), (Some(20_000.0), Some(1.5)));
    assert_eq!(kind("Vessel"), ComponentKind::ExpansionVessel { pressure: None });
    assert_eq!(kind("Vessel of known pressure"), ComponentKind::ExpansionVessel { pressure: Some(150_000.0) });
    let vessel = project.component_named("Vessel of known pressure").unwrap();
    assert_eq!((project.components[&vessel].height, project.components[&ComponentId(1)].height), (2.5, 0.0));
    assert_eq!((project.limits.friction, project.limits.velocity), ([80.0, 250.0], [0.3, 1.0]));
    assert_eq!((project.limits.authority, project.limits.boiling_margin), (0.4, 20_000.0));
    assert_eq!(kind("Separator"), ComponentKind::Separator { bore: 0.108 });
    assert_eq!(kind("Strainer"), ComponentKind::Strainer { kv: 12.0, fouled_kv: 12.0, fouling: 0.0 });
    assert_eq!(kind("Dirty strainer"), ComponentKind::Strainer { kv: 12.0, fouled_kv: 7.0, fouling: 0.4 });
    assert_eq!((kind("Gauge"), kind("Thermometer")), (ComponentKind::PressureGauge, ComponentKind::Thermometer));
    assert_eq!(kind("Flow meter"), ComponentKind::FlowMeter { kv: 20.0 });
    let ComponentKind::ThreeWayValve(mixing) = kind("Mixing valve") else { panic!() };
    assert_eq!((mixing.action, mixing.kvs, mixing.bypass_kvs), (ThreeWayAction::Mixing, 6.3, 4.0));
    assert_eq!((mixing.bypass_characteristic, mixing.position), (Characteristic::Linear, 0.35));
    assert_eq!(kind("DPV"), ComponentKind::BypassValve { set_pressure: 22_000.0, band: 12_000.0, kv: 5.0 });
    assert_eq!(project.components[&ComponentId(4)].turn, Turn::Right);
    let pipes: Vec<_> = project.pipes.values().collect();
    assert_eq!((pipes[0].bore, pipes[0].roughness, pipes[0].bends.len()), (32.6 / 1000.0, 0.0015 / 1000.0, 2));
    assert_eq!((pipes[1].to.component, pipes[1].to.port), (ComponentId(4), Port::Branch));
    assert!(pipes[1].is_joint());
    assert_eq!(project.zones[&ZoneId(2)].load, 3_250.0);
    assert_eq!(project.scenarios[1].shut, [ZoneId(2), ZoneId(3)].into());
}

#[test]
fn saved_and_loaded_is_the_same_project_and_the_same_text() {
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    let text = to_text(&project).unwrap();
    assert_eq!(parse(&text, "text").unwrap(), project);
    assert_eq!(to_text(&parse(&text, "text").unwrap()).unwrap(), text);
    // One item a line, numbers as typed, defaults left out, apostrophes as they are.
    check(
        &text,
        &[
            "\n    fluid: propylene_glycol(mass_percent: 30),\n",
            "\n        (name: \"T1\", at: (12, 0), is: tee),\n",
            "\n        (name: \"Radiators\", at: (16, 4), turn: down, is: emitter(law: radiator(exponent: 1.3), loss_kpa: 8, rated_flow_m3_per_h: Some(0.25))),\n",
            "\n        (from: (\"Circulator\", outlet), to: (\"T1\", branch)),\n",
            "bore_mm: 32.6, roughness_mm: 0.0015, k: 6, bends: [(4, 0), (6, 0)]),\n",
            "set_flow_m3_per_h: 3.434, least_drop_kpa: 20, open: false",
            "equal_percentage(rangeability: 50), position_percent: 60)",
            "characteristic: linear, position_percent: 30, shut: true)",
            "speed_cap_percent: 95, minimum_speed_percent: 20",
            "speed_cap_percent: 100, power_limit_w: Some(40), minimum_speed_percent: 0",
            "running: true, stopped_kv_m3_per_h: Some(4.5), address",
            "running: false, address",
            "standby: standby), least_inlet_kpa",
            "\n    starting: (held_off: Some((by: \"R. Ash\")), filled: ",
            "Children's floor",
        ],
    );
}

#[test]
fn one_change_is_one_line() {
    let mut project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    let before = to_text(&project).unwrap();
    let id = project.component_named("Circulator").unwrap();
    project.apply(&headwise::document::Command::SetHeadLimit(id, Some(4.9))).unwrap();
    let after = to_text(&project).unwrap();
    let changed = before.lines().zip(after.lines()).filter(|(a, b)| a != b).count();
    assert_eq!((changed, before.lines().count()), (1, after.lines().count()));
}

#[test]
fn marks_of_other_editors_do_no_harm() {
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    let windows = format!("\u{feff}{}", EVERY_KIND.replace('\n', "\r\n"));
    assert_eq!(parse(&windows, "windows").unwrap(), project);
}

#[test]
fn formats_that_are_not_this_one() {
    check(
        &message("format: 1", "format: 2, shape: <new>"),
        &["house.ron has project format 2", "up to 1", "newer version"],
    );
    check(&message("format: 1", "format: 99999999999999999999999"), &["newer version"]);
    for lost in ["format: 0,", ""] {
        check(&message("format: 1,", lost), &["house.ron does not say", "“format: 1”"]);
    }
    assert!(matches!(failure("{\"format\": 1}"), FileError::UnknownFormat { .. }));
    check(&message("format: 1", "format: one"), &["line 3, column 13", "plain number"]);
}

#[test]
fn numbers_that_are_none() {
    for bad in ["NaN", "inf", "-inf", "1e400", "\"12\"", "twelve", "0x12", "12m"] {
        check(&message("(name: \"T1\", at: (12,", &format!("(name: \"T1\", at: ({bad},")), &["house.ron, line 28"]);
    }
    check(&message("at: (12, 0)", "at: (NaN, 0)"), &["line 28, column 27", "NaN is no number", "write figures"]);
    check(&message("length_m: 4,", "length_m: 1e999,"), &["1e999 is no number"]);
    check(&message("loss_kpa: 12.5", "loss_kpa: 1e307"), &["1e307 is no number"]);
    check(&message("load_kw: 2,", "load_kw: \"2\","), &["\"2\" is no number"]);
    check(&message("load_kw: 2,", "load_kw: true,"), &["true is no number"]);
    check(&message("open: true", "open: yes"), &["true or false"]);
    check(&message("Some(5.1)", "5.1"), &["None or Some(…)"]);
    check(&message("title: \"Every kind\"", "title: 7"), &["line 4, column 12", "quotation marks"]);
}

#[test]
fn words_that_are_not_known() {
    check(
        &message("load_kw: 2,", "load_kw: 2, colour: 3,"),
        &["“colour”", "load_kw", "take it out", &line("\"Office\", load").to_string()],
    );
    check(&message("is: tee", "is: teapot"), &["line 28, column 39", "“teapot”", "tee", "expansion_vessel"]);
    check(&message("turn: up", "turn: upwards"), &["“upwards”", "left or up"]);
    check(&message("duty: cooling", "duty: drying"), &["line 6", "heating or cooling"]);
    check(&message("standby_w: 3,", ""), &["“standby_w” is missing", "add it"]);
    check(&message("head_limit_m: Some(5.1), ", ""), &["“head_limit_m” is missing"]);
    check(&message("standby_w: 3,", "standby_w: 3, standby_w: 4,"), &["“standby_w” stands here twice"]);
    check(&message("at: (12, 0)", "at: (12, 0, 1)"), &["line 28"]);
    check(&message("at: (12, 0)", "at: (12)"), &["line 28"]);
    check(&message("at: (12, 0), is", "at: (12, 0) is"), &["line 28, column 34", "comma"]);
}

#[test]
fn names_that_lead_nowhere_or_two_ways() {
    let zone = line("\"Office\", load");
    check(
        &message("emitter: \"Radiators\"", "emitter: \"Radiator\""),
        &[
            &format!("house.ron, line {zone}: zone Office names the component “Radiator”"),
            "Perhaps “Radiators” is meant",
        ],
    );
    check(&message("valve: Some(\"ZV\")", "valve: Some(\"Door\")"), &["“Door”", "add the component"]);
    check(
        &message("from: (\"T2\", branch), to: (\"V", "from: (\"t9\", branch), to: (\"V"),
        &["pipe t9 – Vessel names the component “t9”", "Perhaps “T1”"],
    );
    check(
        &message("shut: [\"Reading room\"", "shut: [\"Reeding room\""),
        &["scenario Office alone names the zone", "“Reading room”"],
    );
    let (first, second) = (line("\"T1\""), line("\"T2\""));
    // Caught before the pipe that now leads nowhere.
    check(
        &message("name: \"T2\"", "name: \"T1\""),
        &[&format!("line {second}: there is another component “T1” on line {first}"), "Rename"],
    );
    check(&message("name: \"Second circulator\"", "name: \"Circulator\""), &["another component “Circulator”"]);
    check(&message("name: \"Hall\"", "name: \"Office\""), &["another zone “Office”"]);
    check(&message("name: \"Office alone\"", "name: \"All zones open\""), &["another scenario"]);
}

#[test]
fn nothing_but_brackets() {
    for (open, close) in [("(", ")"), ("[", "]"), ("Some(", ")"), ("{1:", "}"), ("a(", ")"), ("(a:", ")"), ("/*", "*/")]
    {
        let deep = format!("(format: 1, title: {}{})", open.repeat(200_000), close.repeat(200_000));
        assert!(parse(&deep, "deep").is_err());
        assert!(parse(&format!("{}{}", open.repeat(200_000), close.repeat(200_000)), "deep").is_err());
        assert!(parse(&format!("(format: 1, title: \"\", fluid: {}", open.repeat(200_000)), "deep").is_err());
        let number = format!("length_m: {}4{},", open.repeat(5_000), close.repeat(5_000));
        assert!(parse(&EVERY_KIND.replace("length_m: 4,", &number), "deep").is_err() || open == "/*");
    }
    let deep = format!("(format: 1, title: \"\", components: {})", "[".repeat(1000));
    check(&failure(&deep).to_string(), &["house.ron, line 1, column"]);
    let number = format!("length_m: {}4", "[".repeat(1000));
    check(&message("length_m: 4", &number), &["far too deep"]);
}

#[test]
fn a_truncated_file_says_where_it_ends() {
    let whole = EVERY_KIND.trim_end();
    for (at, _) in whole.char_indices() {
        let FileError::Syntax { line, column, message, .. } = failure(&whole[..at]) else {
            panic!("cut at {at}: {}", failure(&whole[..at]));
        };
        assert!(line >= 1 && column >= 1 && line <= 1 + whole[..at].matches('\n').count());
        assert!(message.ends_with('.'), "{message}");
    }
    check(&failure(&whole[..whole.len() - 1]).to_string(), &["cut off"]);
    check(&failure("").to_string(), &["line 1, column 1", "cut off"]);
}

#[test]
fn files_on_disk() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    save(&project, &path).unwrap();
    assert_eq!(load(&path).unwrap(), project);
    save(&project, &path).unwrap();
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "nothing is left beside it");

    check(
        &load(&folder.path().join("home.ron")).unwrap_err().to_string(),
        &["home.ron could not be read", "no such file"],
    );
    check(&load(folder.path()).unwrap_err().to_string(), &["could not be read", "folder"]);
    let picture = folder.path().join("picture.ron");
    fs::write(&picture, [0x89, b'P', 0xff, 0x00]).unwrap();
    check(&load(&picture).unwrap_err().to_string(), &["picture.ron is not text", "UTF-8"]);
    fs::File::create(&picture).unwrap().set_len((64 << 20) + 1).unwrap();
    check(&load(&picture).unwrap_err().to_string(), &["larger than 64 MiB"]);
}

#[test]
fn what_cannot_be_saved_leaves_the_old_file() {
    let folder = tempfile::tempdir().unwrap();
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    let complaint = |path: &Path| save(&project, path).unwrap_err().to_string();
    check(&complaint(&folder.path().join("no folder/house.ron")), &["could not be saved", "no such file or folder"]);
    check(&complaint(folder.path()), &["it is a folder"]);
    let path = folder.path().join("house.ron");
    fs::write(&path, "old").unwrap();
    check(&complaint(&path.join("house.ron")), &["is not a folder", "another folder"]);

    let mut protected = fs::metadata(&path).unwrap().permissions();
    protected.set_readonly(true);
    fs::set_permissions(&path, protected).unwrap();
    check(&complaint(&path), &["house.ron could not be saved", "protected", "untouched"]);
    assert_eq!(fs::read_to_string(&path).unwrap(), "old");

    let mut flawed = project.clone();
    flawed.pipes.values_mut().next().unwrap().length = f64::NAN;
    let refused = save(&flawed, &folder.path().join("new.ron")).unwrap_err().to_string();
    check(&refused, &["pipe Common flow: the length is not a number"]);
    // Values that no rule of the document looks at are caught as they are written.
    let mut flawed = project.clone();
    let radiators = flawed.component_named("Radiators").unwrap();
    flawed.components.get_mut(&radiators).unwrap().at[0] = 0.0;
    if let ComponentKind::Emitter(emitter) = &mut flawed.components.get_mut(&radiators).unwrap().kind {
        emitter.air_outlet_c = Some(f64::INFINITY);
    }
    check(&to_text(&flawed).unwrap_err().to_string(), &["Radiators: one of its values is not a number"]);
    let mut flawed = project;
    flawed.scenarios[0].shut.insert(ZoneId(99));
    check(&to_text(&flawed).unwrap_err().to_string(), &["scenario All zones open", "a zone that is not there"]);
}

#[cfg(unix)]
#[test]
fn permissions_links_and_protected_folders() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = tempfile::tempdir().unwrap();
    let project = parse(EVERY_KIND, "every_kind.ron").unwrap();
    let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    let path = folder.path().join("house.ron");
    fs::write(&path, "old").unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
    save(&project, &path).unwrap();
    assert_eq!(mode(&path), 0o640);
    // A new file is as readable as any other new file.
    let plain = folder.path().join("plain");
    fs::write(&plain, "").unwrap();
    let new = folder.path().join("new.ron");
    save(&project, &new).unwrap();
    assert_eq!(mode(&new), mode(&plain));

    fs::create_dir(folder.path().join("archive")).unwrap();
    let link = folder.path().join("link.ron");
    symlink("archive/house.ron", &link).unwrap();
    for _ in 0..2 {
        save(&project, &link).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(load(&folder.path().join("archive/house.ron")).unwrap(), project);
    }
    let circle = folder.path().join("circle.ron");
    symlink("circle.ron", &circle).unwrap();
    check(&save(&project, &circle).unwrap_err().to_string(), &["could not be saved", "circle"]);

    let shut = folder.path().join("archive");
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o555)).unwrap();
    // An administrator may write there all the same.
    if fs::write(shut.join("probe"), "").is_err() {
        let refused = save(&project, &shut.join("house.ron")).unwrap_err().to_string();
        check(&refused, &["house.ron could not be saved", "protected", "another folder"]);
        assert_eq!(load(&shut.join("house.ron")).unwrap(), project);
    }
    fs::set_permissions(&shut, fs::Permissions::from_mode(0o755)).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_projects_come_back_equal(project in random::project()) {
        prop_assert_eq!(headwise::document::flaws(&project), vec![]);
        let text = to_text(&project).unwrap();
        let back = parse(&text, "random").unwrap();
        // Debug shows every number to the last bit, and the sign of zero, which equality would pass over.
        prop_assert_eq!(format!("{back:?}"), format!("{project:?}"));
        prop_assert_eq!(&back, &project);
        prop_assert_eq!(to_text(&back).unwrap(), text);
    }

    #[test]
    fn random_bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..300), text in ".{0,100}", marks in "[\\(\\)\\[\\]{}:,\"'r#/*a1. \n\\\\]{0,80}") {
        for text in [String::from_utf8_lossy(&bytes).into_owned(), text, format!("(format: 1, {marks}"), marks] {
            let _ = parse(&text, "random");
        }
    }

    #[test]
    fn mistakes_never_panic(cuts in prop::collection::vec((any::<prop::sample::Index>(), 0..20_usize, "[\\(\\)\\[\\]{}:,\"'r#/*a1é. \n\\\\-]{0,4}"), 1..5)) {
        let mut text: Vec<char> = EVERY_KIND.chars().collect();
        for (at, length, put_in) in cuts {
            let at = at.index(text.len());
            let end = (at + length).min(text.len());
            text.splice(at..end, put_in.chars());
        }
        let text: String = text.into_iter().collect();
        if let Err(error) = parse(&text, "mistake.ron") {
            prop_assert!(error.to_string().starts_with("mistake.ron"));
        }
    }
}

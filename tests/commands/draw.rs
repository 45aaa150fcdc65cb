//! `draw`: from a list of zones to a project file.

use super::{headwise, refused};
use headwise::file;
use std::fs;
use std::path::Path;

fn table(name: &str) -> String {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/tables").join(name).to_str().unwrap().to_owned()
}

/// Worked by hand: 1.985 m³/h, 4.87 m and the loss of the fully open valve of the index circuit (under 1 kPa, 0.1 m); design at 93.4 %
/// speed.
#[test]
fn the_library_is_drawn_printed_and_saved() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("library.ron");
    let path = path.to_str().unwrap();
    let (zones, pump) = (table("fernhollow-library.csv"), table("fernhollow-circulator.csv"));
    let mut arguments = vec!["draw", &zones, "--return", "direct", "--supply", "45", "--drop", "7"];
    arguments.extend([
        "--pump",
        &pump,
        "--standby",
        "3",
        "--common-length",
        "4",
        "--strainer-kv",
        "12",
        "--save",
        path,
    ]);
    let ran = headwise(&arguments);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
    for words in
        ["Office radiators branch flow and return", "index circuit", "100.0 to 100.0 %", "Saved to", "35 x 1.2"]
    {
        assert!(ran.out.contains(words), "no {words} in {}", ran.out);
    }
    let figure = |name: &str| {
        let line = ran.out.lines().find(|line| line.trim_start().starts_with(name)).unwrap();
        let words = line.trim_start()[name.len()..].split(|c: char| c.is_whitespace() || c == '\u{a0}');
        words.filter_map(|word| word.parse::<f64>().ok()).next().unwrap()
    };
    assert!((figure("flow ") - 1.985).abs() < 0.002);
    assert!((4.87..4.97).contains(&figure("head needed")), "{}", ran.out);
    assert!((93.0..95.0).contains(&figure("speed at design")), "{}", ran.out);
    let project = file::load(Path::new(path)).unwrap();
    assert_eq!((project.zones.len(), project.title.as_str()), (4, "fernhollow-library"));
    assert_eq!(headwise(&["check", path]).code, 0);
    // What is there is not replaced unasked, and the list never.
    refused(&arguments, 1, &["there already", "--replace"]);
    arguments.push("--replace");
    assert_eq!(headwise(&arguments).code, 0);
    let itself = ["draw", &zones, "--supply", "45", "--drop", "7", "--save", &zones, "--replace"];
    refused(&itself, 1, &["the list of zones itself"]);
}

#[test]
fn without_a_circulator_one_stands_in() {
    let zones = table("saltreed-growers.csv");
    for way in ["direct", "reverse", "manifold"] {
        let mut arguments =
            vec!["draw", &zones, "--return", way, "--supply", "140 °F", "--drop", "15 K", "--room", "18"];
        arguments.extend(["--fluid", "propylene-glycol=30", "--pipe", "steel-40", "--title", "Under glass"]);
        let ran = headwise(&arguments);
        assert_eq!(ran.code, 0, "{}", ran.err);
        assert!(ran.out.starts_with("Under glass\n") && ran.out.contains("stands in for a real one"), "{}", ran.out);
    }
}

#[test]
fn a_circulator_that_is_too_small_is_told() {
    let (zones, pump) = (table("saltreed-growers.csv"), table("fernhollow-circulator.csv"));
    let ran = headwise(&["draw", &zones, "--supply", "60", "--drop", "15", "--pump", &pump, "--standby", "3"]);
    assert!(ran.out.contains("choose a larger one"), "{}{}", ran.out, ran.err);
}

#[test]
fn what_is_wrong_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("zones.csv");
    fs::write(&path, "zone;load (kW);emitter;loss (kPa);branch (m)\nA;one;radiator;8;5\nB;2;radiator;x;5\n").unwrap();
    let path = path.to_str().unwrap();
    refused(&["draw", path, "--supply", "45", "--drop", "7"], 1, &["row 2, column B", "row 3, column D"]);
    let zones = table("fernhollow-library.csv");
    refused(&["draw", &zones, "--supply", "45"], 2, &["--drop"]);
    refused(&["draw", &zones, "--supply", "45", "--drop", "-7"], 2, &["-7"]);
    refused(&["draw", &zones, "--supply", "45", "--drop", "0"], 1, &["above zero"]);
    refused(&["draw", &zones, "--supply", "25", "--drop", "7"], 1, &["Office radiators", "between the room and"]);
    refused(&["draw", &zones, "--supply", "45", "--drop", "7", "--fluid", "oil"], 1, &["propylene-glycol=30"]);
    refused(&["draw", &zones, "--supply", "45", "--drop", "7", "--pipe", "lead"], 2, &["copper-thin", "steel-40"]);
    refused(&["draw", &zones, "--supply", "45", "--drop", "7", "--friction", "0"], 1, &["--friction", "above zero"]);
}

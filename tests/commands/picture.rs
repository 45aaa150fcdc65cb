//! `picture`: every picture there is, of the size, in the colours and with the words that were asked for.

use super::*;
use resvg::usvg::roxmltree;

fn drawn(folder: &Path, name: &str, options: &[&str]) -> Vec<u8> {
    let path = folder.join(name);
    let file = sample(LIBRARY);
    let arguments =
        [&["picture", &file, "--save", path.to_str().unwrap(), "--date", "2026-01-31"][..], options].concat();
    let ran = headwise(&arguments);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{arguments:?}");
    assert!(ran.out.contains("Fernhollow Library") && ran.out.contains(name), "{}", ran.out);
    fs::read(path).unwrap()
}

fn texts(svg: &[u8]) -> Vec<String> {
    let text = std::str::from_utf8(svg).unwrap();
    let tree = roxmltree::Document::parse(text).unwrap();
    tree.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).map(str::to_owned).collect()
}

#[test]
fn every_picture_as_svg_with_title_day_units_and_the_project_s_name() {
    let folder = tempfile::tempdir().unwrap();
    for (of, units, words) in [
        ("plot", "si", "flow in m³/h, head in m, power in W"),
        ("plot", "inch-pound", "flow in gpm, head in ft, power in W"),
        ("drawing", "si", "flow in m³/h, heat in kW, temperature in °C"),
        ("map", "inch-pound", "head in ft"),
    ] {
        let name = format!("{of}-{units}.svg");
        let options = ["--of", of, "--units", units, "--title", "As handed over"];
        let found = texts(&drawn(folder.path(), &name, &options));
        for wanted in ["Fernhollow Library", "As handed over", "2026-01-31", words] {
            assert!(found.iter().any(|text| text == wanted), "{of}: no {wanted} in {found:?}");
        }
    }
    // Without a title of one's own the picture says what it shows; without a date the day is today.
    let path = folder.path().join("today.svg");
    assert_eq!(headwise(&["picture", &sample(LIBRARY), "--save", path.to_str().unwrap()]).code, 0);
    let found = texts(&fs::read(path).unwrap());
    assert!(
        found.iter().any(|text| text == "Circulator in scenario “All zones open”: head and power over flow"),
        "{found:?}"
    );
    let is_day = |text: &String| headwise::document::date_flaw(text).is_none() && text.as_str() > "2026-01-01";
    assert!(found.iter().any(is_day), "{found:?}");
}

#[test]
fn sizes_are_those_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    for (of, name, options, width) in [
        ("plot", "a.png", &["--width", "800"][..], 800),
        ("drawing", "b.png", &["--scale", "1.5"], 1500),
        ("drawing", "c.PNG", &["--dark"], 1200),
        ("map", "d.png", &["--width", "600", "--axes", "limit-over-cap"], 600),
    ] {
        let bytes = drawn(folder.path(), name, &[&["--of", of][..], options].concat());
        let reader = png::Decoder::new(io::Cursor::new(&bytes)).read_info().unwrap();
        assert_eq!(reader.info().width, width, "{of}");
    }
}

/// In a scenario its valves are shut, and the heading names it.
#[test]
fn a_scenario_is_drawn_with_its_valves() {
    let folder = tempfile::tempdir().unwrap();
    let shut = |options: &[&str]| {
        let name = format!("{}.svg", options.len());
        let found = texts(&drawn(folder.path(), &name, &[&["--of", "drawing"][..], options].concat()));
        let named = |text: &String| text == "The system in scenario “Office alone” at its present settings";
        (found.iter().filter(|text| *text == "shut").count(), found.iter().any(named))
    };
    assert_eq!((shut(&[]), shut(&["--scenario", "Office alone"])), ((0, false), (3, true)));
}

#[test]
fn pictures_that_cannot_be() {
    let file = sample(LIBRARY);
    for picture in ["plot.jpg", "plot", ".png/"] {
        refused(&["picture", &file, "--save", picture], 1, &["end the file's name in .svg or .png"]);
    }
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("x.svg");
    let save = ["picture", &file, "--save", path.to_str().unwrap()];
    let refused = |options: &[&str], code, words: &[&str]| refused(&[&save[..], options].concat(), code, words);
    refused(&["--width", "20"], 1, &["--width 20", "600 to 8000"]);
    refused(&["--scale", "99"], 1, &["--scale 99", "600 to 8000"]);
    refused(&["--scale", "-1"], 1, &["--scale -1", "600 to 8000"]);
    refused(&["--scale", "nan"], 1, &["600 to 8000"]);
    refused(&["--date", "31.1.2026"], 1, &["--date", "is no date"]);
    refused(&["--pump", "Boiler pump"], 1, &["Boiler pump", "Circulator"]);
    refused(&["--scenario", "Offices alone"], 1, &["Office alone"]);
    refused(&["--width", "800", "--scale", "2"], 2, &["--scale"]);
    refused(&["--of", "roof"], 2, &["drawing"]);
    refused(&["--of", "window", "--pump", "Circulator"], 1, &["--pump", "leave it out"]);
    refused(&["--of", "window", "--axes", "limit-over-slope"], 1, &["--axes", "leave it out"]);
    assert!(!path.exists());
    fs::write(&path, "mine").unwrap();
    refused(&[], 1, &["--replace"]);
    assert_eq!(fs::read_to_string(&path).unwrap(), "mine");
    assert_eq!(headwise(&[&save[..], &["--replace"]].concat()).code, 0);
    // Several circulators: which one?
    let court = sample("thornwick-court.ron");
    super::refused(&["picture", &court, "--save", "y.svg"], 1, &["Boiler circulator", "Flats circulator"]);
}

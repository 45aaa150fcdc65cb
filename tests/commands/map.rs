//! `map`: its cells against single runs, its pictures against readers of their formats.

use super::*;
use resvg::usvg::roxmltree;
use std::collections::BTreeSet;

fn cells(file: &str, options: &[&str]) -> Vec<BTreeMap<String, String>> {
    let ran = headwise(&[&["map", file, "--csv", "-"], options].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    let mut reader = csv::Reader::from_reader(ran.out.as_bytes());
    reader.deserialize().map(Result::unwrap).collect()
}

/// In a cell that starves or overflows, the zone does so in the scenario that is told, and where all are served, all are.
#[test]
fn cells_say_what_single_runs_say() {
    for name in [LIBRARY, GLYCOL] {
        let file = sample(name);
        let all = cells(&file, &[]);
        assert_eq!(all.len(), 3600);
        let mut seen = BTreeSet::new();
        let mut tried = 0;
        // Every verdict and zone once, far from where another begins or near it, as it comes.
        for cell in all.iter().filter(|cell| seen.insert((cell["verdict"].clone(), cell["zone"].clone()))) {
            let settings = [
                "--head-limit",
                &cell["head_limit_m"],
                "--slope",
                &cell["slope_percent"],
                "--speed-cap",
                &cell["speed_cap_percent"],
            ];
            let scenario = if cell["scenario"].is_empty() { "All zones open" } else { &cell["scenario"] };
            let report = json(&[&["try", &file, "--json", "--scenario", scenario], settings.as_slice()].concat());
            let is = |zone: &str| named(&report, "zones", zone)["state"].as_str().unwrap().to_owned();
            match cell["verdict"].as_str() {
                "starves" => assert!(["starved", "no flow"].contains(&is(&cell["zone"]).as_str()), "{cell:?}"),
                "overflows" => assert_eq!(is(&cell["zone"]), "overflowed", "{cell:?}"),
                "served" => assert!(list(&report, "zones").iter().all(|zone| zone["state"] == "served"), "{cell:?}"),
                other => assert_eq!(other, "too loud"),
            }
            tried += 1;
        }
        assert!(tried >= 3, "{seen:?}");
        // No setting serves the greenhouse, some do the library.
        assert_eq!(all.iter().any(|cell| cell["verdict"] == "served"), name == LIBRARY);
    }
}

#[test]
fn energy_of_a_cell_is_power_times_hours() {
    let all = cells(&sample(LIBRARY), &["--axes", "limit-over-cap", "--at-slope", "37"]);
    for cell in all.iter().step_by(700) {
        let [power, kwh]: [f64; 2] = ["mean_power_w", "energy_kwh_per_year"].map(|key| cell[key].parse().unwrap());
        // The scenarios' hours, and standing by at 3 W in the rest of 8,760 h.
        near(kwh, (power * 5000.0 + 3.0 * 3760.0) / 1000.0, 1e-9);
        assert_eq!(cell["slope_percent"], "37");
    }
}

#[test]
fn the_text_tells_region_best_and_present() {
    let ran = headwise(&["map", &sample(LIBRARY)]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    for words in
        ["Region: on about ", "Best: head limit 4.60\u{a0}m", "Present: head limit 5.10\u{a0}m", "overflows in "]
    {
        assert!(ran.out.contains(words), "no {words} in {}", ran.out);
    }
    let ran = headwise(&["map", &sample(GLYCOL), "--units", "inch-pound"]);
    for words in ["Region: none. No setting serves every zone", "Starves none", "\u{a0}ft"] {
        assert!(ran.out.contains(words), "no {words} in {}", ran.out);
    }
    // At a head limit that starves whatever slope and cap are, no edge of the plane is taken for a region.
    let ran = headwise(&["map", &sample(LIBRARY), "--axes", "slope-over-cap", "--at-head-limit", "2"]);
    assert!(ran.out.contains("none on this plane; with the head limit changed too"), "{}", ran.out);
    // At a cap at which the far zone starves, other caps are pointed out.
    let ran = headwise(&["map", &sample(LIBRARY), "--at-speed-cap", "70"]);
    assert!(ran.out.contains("none on this plane; with the speed cap changed too"), "{}", ran.out);
}

/// A picture as SVG is well-formed, whatever names hold, and names what it shows.
#[test]
fn the_svg_is_well_formed_and_names_what_it_shows() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("named.ron");
    let mut project = headwise::file::load(Path::new(&sample(LIBRARY))).unwrap();
    project.title = "Reading & <Writing> \"Hall\"".to_owned();
    let zone = project.zone_named("Office radiators").unwrap();
    project.zones.get_mut(&zone).unwrap().name = "Office <A & B>".to_owned();
    headwise::file::save(&project, &file).unwrap();
    for (axes, names) in [
        ("limit-over-slope", ["Head limit, m", "Slope, %"]),
        ("limit-over-cap", ["Head limit, m", "Speed cap, %"]),
        ("slope-over-cap", ["Slope, %", "Speed cap, %"]),
    ] {
        let picture = folder.path().join(format!("{axes}.svg"));
        let arguments = ["map", file.to_str().unwrap(), "--axes", axes, "--picture", picture.to_str().unwrap()];
        let ran = headwise(&arguments);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        let text = fs::read_to_string(&picture).unwrap();
        let tree = roxmltree::Document::parse(&text).unwrap();
        assert_eq!(tree.root_element().attribute("width"), Some("1200"));
        let texts: Vec<&str> = tree.descendants().filter(|n| n.has_tag_name("text")).filter_map(|n| n.text()).collect();
        for wanted in ["Reading & <Writing> \"Hall\"", "Present"].into_iter().chain(names) {
            assert!(texts.contains(&wanted), "{axes}: no {wanted} in {texts:?}");
        }
        // The best settings lie on the plane, or the legend says why they are not drawn.
        let is_told = texts.iter().any(|text| text.contains("not drawn"));
        assert_ne!(texts.contains(&"Best"), is_told, "{axes}: {texts:?}");
        assert!(texts.iter().any(|text| text.ends_with("\u{a0}kWh")), "{texts:?}");
        assert!(texts.iter().any(|text| text.ends_with("starves")), "{texts:?}");
        // Every fill by a hatching is one that is there.
        for node in tree.descendants().filter_map(|node| node.attribute("fill")) {
            if let Some(name) = node.strip_prefix("url(#").and_then(|rest| rest.strip_suffix(')')) {
                assert!(tree.descendants().any(|other| other.attribute("id") == Some(name)), "{name}");
            }
        }
    }
}

#[test]
fn the_png_is_what_was_asked_for_and_the_same_each_time() {
    let folder = tempfile::tempdir().unwrap();
    let draw = |name: &str, options: &[&str]| {
        let path = folder.path().join(name);
        let file = sample(CLINIC);
        let arguments = [&["map", &file, "--picture", path.to_str().unwrap()][..], options].concat();
        assert_eq!(headwise(&arguments).code, 0);
        fs::read(path).unwrap()
    };
    let light = draw("light.png", &["--width", "800"]);
    assert_eq!(light, draw("again.PNG", &["--width", "800"]));
    let dark = draw("dark.png", &["--width", "800", "--dark"]);
    assert_ne!(light, dark);
    for (bytes, is_dark) in [(&light, false), (&dark, true)] {
        let mut reader = png::Decoder::new(io::Cursor::new(bytes)).read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut pixels).unwrap();
        assert_eq!((info.width, info.height), (800, 544));
        let colours: BTreeSet<&[u8]> = pixels.chunks_exact(4).collect();
        assert!(colours.len() > 200, "{}", colours.len());
        assert!(pixels.chunks_exact(4).all(|pixel| pixel[3] == 255), "something shines through");
        assert_eq!(pixels[0] < 64, is_dark);
        // The title: ink in the upper left.
        let ink = |pixel: &[u8]| if is_dark { pixel[1] > 200 } else { pixel[1] < 60 };
        let title = (20..40_usize).flat_map(|y| (60..300_usize).map(move |x| 4 * (y * 800 + x)));
        assert!(title.filter(|at| ink(&pixels[*at..at + 4])).count() > 300);
    }
}

#[test]
fn maps_that_cannot_be() {
    let file = sample(LIBRARY);
    for picture in ["map.jpg", "map", ".png/"] {
        refused(&["map", &file, "--picture", picture], 1, &["end the file's name in .svg or .png"]);
    }
    refused(&["map", &file, "--picture", "x.svg", "--width", "20"], 1, &["600 to 8000"]);
    refused(&["map", &file, "--at-slope", "20"], 1, &["stands on an axis"]);
    refused(&["map", &file, "--at-speed-cap", "150"], 1, &["--at-speed-cap 150"]);
    refused(&["map", &file, "--at-speed-cap", "fast"], 1, &["--at-speed-cap"]);
    refused(&["map", &file, "--picture", "no/such/folder.svg"], 1, &["could not be written"]);
    refused(&["map", &file, "--csv", &file, "--replace"], 1, &["the project file itself"]);
    refused(&["map", &file, "--axes", "sideways"], 2, &["--help"]);
    refused(&["map", &file, "--dark"], 2, &["--picture"]);
}

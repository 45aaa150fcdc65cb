//! What `try --save` writes, and what it never touches.

use super::*;

#[test]
fn what_try_saves_is_what_it_printed_and_the_file_stays() {
    let folder = tempfile::tempdir().unwrap();
    let saved = folder.path().join("saved.ron");
    let saved = saved.to_str().unwrap();
    let file = sample(LIBRARY);
    let before = fs::read(&file).unwrap();
    // Beside JSON what was saved is told on standard error, so that the data stay data.
    let changes = ["--slope", "40", "--shut", "Office radiators"];
    let ran = headwise(&[&["try", &file, "--json", "--save", saved][..], &changes].concat());
    let printed: Value = serde_json::from_str(&ran.out).unwrap();
    let told = format!("Saved to {saved}: Fernhollow Library, with --shut Office radiators, --slope 40.\n");
    assert_eq!((ran.code, ran.err.as_str()), (0, told.as_str()));
    assert_eq!(printed, json(&["export", saved]));
    assert_eq!(number(&printed["pumps"][0]["settings"], "slope_percent"), 40.0);
    assert_eq!(before, fs::read(&file).unwrap());
    let ran = headwise(&["try", &file, "--slope", "40", "--save", saved, "--replace"]);
    assert!(ran.out.contains("Against the file: ") && ran.out.contains(&format!("Saved to {saved}: ")), "{}", ran.out);
}

#[test]
fn try_saves_over_nothing_that_is_there() {
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let (file, other) = (place("house.ron"), place("other.ron"));
    fs::copy(sample(LIBRARY), &file).unwrap();
    fs::write(&other, "kept").unwrap();
    let before = fs::read(&file).unwrap();
    fs::create_dir(place("folder")).unwrap();
    let mut spellings = vec![file.clone(), place("folder/../house.ron")];
    #[cfg(unix)]
    {
        std::os::unix::fs::symlink("house.ron", place("link.ron")).unwrap();
        spellings.push(place("link.ron"));
    }
    for spelling in &spellings {
        for replace in [&[][..], &["--replace"]] {
            let arguments = [&["try", &file, "--slope", "40", "--save", spelling][..], replace].concat();
            refused(&arguments, 1, &["--save", "the project file itself", "name another file"]);
        }
        assert_eq!(before, fs::read(&file).unwrap());
    }
    refused(&["try", &file, "--slope", "40", "--save", &other], 1, &["other.ron", "there already", "--replace"]);
    assert_eq!(fs::read_to_string(&other).unwrap(), "kept");
    refused(&["try", &file, "--replace"], 2, &["--save"]);
}

#[test]
fn a_control_valve_keeps_its_position_while_it_is_shut() {
    let folder = tempfile::tempdir().unwrap();
    let place = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let text = fs::read_to_string(sample(LIBRARY)).unwrap();
    let old = "zone_valve(kv_m3_per_h: 4, open: true)";
    assert_eq!(text.matches(old).count(), 1);
    let new = "control_valve(kvs_m3_per_h: 4, characteristic: linear, position_percent: 30)";
    fs::write(place("open.ron"), text.replace(old, new)).unwrap();
    let zone = "Reading-room floor";
    let open = json(&["export", &place("open.ron")]);
    let shut = json(&["try", &place("open.ron"), "--shut", zone, "--json"]);
    let found = named(&shut, "zones", zone);
    assert_eq!((&found["state"], number(found, "flow_m3_per_h")), (&Value::from("shut"), 0.0));
    // Moving it does not open it.
    let moved = json(&["try", &place("open.ron"), "--shut", zone, "--position", &format!("{zone}=80"), "--json"]);
    assert_eq!(number(named(&moved, "zones", zone), "flow_m3_per_h"), 0.0);
    assert_eq!(headwise(&["try", &place("open.ron"), "--shut", zone, "--save", &place("shut.ron")]).code, 0);
    assert!(fs::read_to_string(place("shut.ron")).unwrap().contains("position_percent: 30, shut: true)"));
    assert_eq!(json(&["export", &place("shut.ron")]), shut);
    let again = json(&["try", &place("shut.ron"), "--open", zone, "--json"]);
    near(
        number(named(&again, "zones", zone), "share_percent"),
        number(named(&open, "zones", zone), "share_percent"),
        1e-6,
    );
}

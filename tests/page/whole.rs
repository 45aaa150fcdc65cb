//! The page as a whole: sealed against what a project may hold, in light and dark, on a phone and on paper, and the same bytes again.

use super::*;
use headwise::document::Scenario;
use headwise::report::record::Record;
use headwise::study::Study;
use std::process::Command;

#[test]
fn the_same_project_gives_the_same_bytes() {
    let project = sample(COURT);
    let first = html(&project, &Units::si());
    assert_eq!(first, html(&project, &Units::si()));
    assert!(first.contains(DATE));
    assert_ne!(first, html(&project, &Units::inch_pound()));
}

/// The command writes what the library makes, and refuses what it is not asked for.
#[test]
fn the_command_writes_the_page() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("record.html");
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(LIBRARY);
    let run = |options: &[&str]| {
        let path = path.as_os_str();
        let command = Command::new(env!("CARGO_BIN_EXE_headwise"))
            .arg("record")
            .arg(&file)
            .arg("--save")
            .arg(path)
            .args(options)
            .output();
        let output = command.unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap(), String::from_utf8(output.stderr).unwrap())
    };
    let (code, out, err) = run(&["--date", DATE, "--units", "inch-pound"]);
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.contains("record.html: Fernhollow Library"), "{out}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), html(&sample(LIBRARY), &Units::inch_pound()));
    let (code, _, err) = run(&["--date", DATE]);
    assert_eq!(code, Some(1));
    assert!(err.contains("there already"), "{err}");
}

/// The page holds the whole record: every cell of every table, and every fact.
#[test]
fn the_page_says_what_the_record_says() {
    for name in [LIBRARY, GROWERS, CLINIC, COURT] {
        let project = sample(name);
        let shown = Shown::new(&project, &Units::si());
        let record = Record::new(&project, &Units::si(), DATE).unwrap();
        let text = shown.browser.run("return document.body.innerText").as_str().unwrap().to_owned();
        let says = |what: &str| assert!(text.contains(what.trim()), "{name}: {what:?} is missing");
        for fact in [&record.site, &record.summary, &record.basis, &record.energy].into_iter().flatten() {
            says(&fact.label);
            says(&fact.text);
        }
        for pump in &record.pumps {
            says(&pump.control);
            pump.settings.iter().for_each(|setting| says(&setting.value));
            pump.facts.iter().for_each(|fact| says(&fact.text));
        }
        record.cautions.iter().for_each(|caution| says(&caution.text));
        record.open.iter().for_each(|check| says(&check.text));
        for sheet in record.sheets().into_iter().filter(|sheet| !sheet.rows.is_empty()) {
            says(sheet.title);
            sheet.notes.iter().for_each(|note| says(note));
            says(&sheet.intro);
            let rows = shown.browser.run(&format!(
                "const table = Array.from(document.querySelectorAll('.wide')).find((wide) => wide.getAttribute('aria-label') === {:?} && \
                 wide.offsetParent).querySelector('table');
                 return Array.from(table.tBodies[0].rows).map((row) => Array.from(row.cells).map((cell) => cell.textContent))",
                sheet.title
            ));
            let expected: Vec<Vec<&str>> =
                sheet.rows.iter().map(|row| row.iter().map(|cell| cell.shown()).collect()).collect();
            assert_eq!(rows, serde_json::json!(expected), "{name}: {}", sheet.title);
        }
    }
}

/// A page that has no states to show still switches its units and colours.
#[test]
fn without_zones_the_buttons_work() {
    let shown = Shown::new(&Project::blank(), &Units::si());
    let root = |name: &str| shown.browser.run(&format!("return document.documentElement.dataset.{name}"));
    assert_eq!(shown.number("return document.querySelectorAll('#answer').length"), 0.0);
    shown.browser.click("[data-choose-units=ip]");
    shown.browser.click("[data-choose-theme=dark]");
    assert_eq!((root("units"), root("theme")), (serde_json::json!("ip"), serde_json::json!("dark")));
    assert_eq!(shown.browser.complaints(), [""; 0]);
}

/// Printed, the page is paper: the zones' figures can be read back, and the buttons are gone.
#[test]
fn it_prints() {
    let project = sample(LIBRARY);
    let shown = Shown::new(&project, &Units::si());
    shown.browser.prefer("dark");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("printed.pdf");
    std::fs::write(&path, shown.browser.printed()).unwrap();
    let output = Command::new("pdftotext").args(["-layout"]).arg(&path).arg("-").output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    for zone in project.zones.values() {
        assert!(text.contains(&zone.name), "{text}");
    }
    assert!(text.contains("5.10\u{a0}m") || text.contains("5.10 m"), "{text}");
    let pages = text.matches('\u{c}').count();
    assert!(text.contains(&format!("1 of {pages}")) && text.contains(&format!("{pages} of {pages}")), "{text}");
    assert!(!text.contains("Inch-pound") && !text.contains("Choose a state"), "{text}");
}

/// Names that would be scripts, tags or ends of elements if anything let them.
#[test]
fn names_do_no_harm() {
    let evil = "</title></script><script>window.harmed = 1</script><img src=x onerror='window.harmed=2'>\"'&amp;";
    let mut project = sample(LIBRARY);
    project.title = evil.to_owned();
    for (number, zone) in project.zones.values_mut().enumerate() {
        zone.name = format!("{number} {evil}");
    }
    for component in project.components.values_mut() {
        component.name = format!("{} {evil}", component.name);
    }
    project.scenarios[0].name = format!("{evil} first");
    project.scenarios.push(Scenario::all_open("<!--<script>"));
    project.acceptance.source = evil.to_owned();
    let shown = Shown::new(&project, &Units::si());
    shown.browser.click(".state:has(input[value='0'])");
    shown.rest();
    assert!(shown.browser.run("return window.harmed === undefined").as_bool().unwrap());
    assert_eq!(shown.browser.run("return document.title"), serde_json::json!(evil));
    assert_eq!(shown.text("h1"), evil);
    assert_eq!(shown.text("#state-name"), format!("{evil} first"));
    assert_eq!(shown.text(".zone:nth-child(3) label"), format!("2 {evil}"));
    assert_eq!(shown.number("return document.querySelectorAll('img').length"), 0.0);
    assert_eq!(shown.number("return document.querySelectorAll('script').length"), 2.0);
    assert_eq!(shown.browser.complaints(), [""; 0]);
}

/// The policy, not only the escaping: what is put into the page afterwards does not run, and nothing is fetched.
#[test]
fn nothing_comes_from_outside() {
    let project = sample(LIBRARY);
    let shown = Shown::new(&project, &Units::si());
    shown.rest();
    let asked = shown.browser.requests();
    assert!(!asked.is_empty());
    let own = format!("file://{}", shown.path.display());
    let outside: Vec<&String> =
        asked.iter().filter(|address| **address != own && !address.starts_with("data:")).collect();
    assert!(outside.is_empty(), "{outside:?}");
    assert_eq!(shown.browser.complaints(), [""; 0]);
    // Its own typeface is what the page is set in.
    assert_eq!(
        shown.browser.run("return document.fonts.check('600 16px Inter') && Array.from(document.fonts).some((f) => f.status === 'loaded')"),
        serde_json::json!(true)
    );
    shown.browser.run(
        "const script = document.createElement('script'); script.textContent = 'window.harmed = 1'; document.body.append(script);
         const image = document.createElement('img'); image.src = 'http://127.0.0.1:9/x.png'; document.body.append(image);",
    );
    assert!(shown.browser.run("return window.harmed === undefined").as_bool().unwrap());
    let complaints = shown.browser.complaints();
    assert!(complaints.iter().filter(|text| text.contains("Content Security Policy")).count() >= 2, "{complaints:?}");
}

#[test]
fn light_and_dark_follow_the_reader_and_the_switch() {
    let shown = Shown::new(&sample(LIBRARY), &Units::si());
    let brightness = "const c = getComputedStyle(document.documentElement).backgroundColor.match(/\\d+/g).map(Number);
                      return (c[0] + c[1] + c[2]) / 3";
    shown.browser.prefer("light");
    assert!(shown.number(brightness) > 200.0);
    shown.browser.prefer("dark");
    assert!(shown.number(brightness) < 60.0);
    shown.browser.click("[data-choose-theme=light]");
    assert!(shown.number(brightness) > 200.0);
    shown.browser.prefer("light");
    shown.browser.click("[data-choose-theme=dark]");
    assert!(shown.number(brightness) < 60.0);
    shown.browser.click("[data-choose-theme=auto]");
    assert!(shown.number(brightness) > 200.0);
}

#[test]
fn a_switch_shows_the_other_units() {
    let project = sample(LIBRARY);
    let study = Study::new(&project).unwrap();
    let (_, pump) = study.results().pumps.first_key_value().unwrap();
    let shown = Shown::new(&project, &Units::si());
    for (choice, units) in [("ip", Units::inch_pound()), ("si", Units::si())] {
        shown.browser.click(&format!("[data-choose-units={choice}]"));
        let head = units.format(headwise::engine::units::Quantity::Head, pump.head);
        assert_eq!(shown.text("#figure-head"), head);
        assert!(shown.text("#says").contains(&head));
        assert!(shown.text("header p").contains(&units.format(headwise::engine::units::Quantity::Temperature, 45.0)));
    }
}

/// Nothing is wider than a phone, and nothing on it too small to read or to hit.
#[test]
fn a_phone_shows_it_all() {
    for name in [LIBRARY, CLINIC, COURT] {
        let shown = Shown::new(&sample(name), &Units::si());
        shown.browser.resize([390, 844], true);
        shown.browser.wait_for("return window.innerWidth === 390");
        let over = shown.number("return document.documentElement.scrollWidth");
        assert!(over <= 390.0, "{name}: {over}");
        let least = shown.number(
            "const plot = document.querySelector('svg.plot.on[data-pump]');
             const scale = plot.getBoundingClientRect().width / plot.viewBox.baseVal.width;
             return Math.min(...Array.from(plot.querySelectorAll('text'))
                 .filter((t) => t.getBoundingClientRect().width > 0).map((t) => scale * parseFloat(getComputedStyle(t).fontSize)))",
        );
        assert!(least >= 10.0, "{name}: {least}");
        let reach = shown.number("return Math.min(...Array.from(document.querySelectorAll('.state')).map((s) => s.getBoundingClientRect().height))");
        assert!(reach >= 24.0, "{reach}");
    }
}

/// Everything that can be used has a name for readers of screens.
#[test]
fn everything_has_a_name() {
    let shown = Shown::new(&sample(COURT), &Units::si());
    let tree = shown.browser.own("Accessibility.getFullAXTree", &serde_json::json!({}));
    let roles = ["radio", "switch", "button", "combobox", "image", "list", "status", "heading", "region"];
    let mut seen = Vec::new();
    for node in tree["nodes"].as_array().unwrap() {
        let role = node["role"]["value"].as_str().unwrap_or_default();
        let name = node["name"]["value"].as_str().unwrap_or_default();
        if roles.contains(&role) && node["ignored"] != true {
            assert!(!name.is_empty() || role == "status", "{node}");
            seen.push(role);
        }
    }
    for role in ["radio", "switch", "button", "combobox", "status", "heading"] {
        assert!(seen.contains(&role), "{role} in {seen:?}");
    }
    let told = shown.browser.run("return document.querySelector('svg.plot.on desc').textContent");
    assert!(told.as_str().unwrap().contains(" at "), "{told}");
}

/// Writes pictures to look at into the folder that `PAGE_PICTURES` names; without it nothing.
#[test]
fn pictures_to_look_at() {
    let Some(folder) = std::env::var_os("PAGE_PICTURES").map(PathBuf::from) else { return };
    for name in [LIBRARY, GROWERS, CLINIC, COURT] {
        let project = sample(name);
        let shown = Shown::new(&project, &Units::si());
        let stem = name.trim_end_matches(".ron");
        std::fs::copy(&shown.path, folder.join(format!("{stem}.html"))).unwrap();
        for (size, is_phone) in [([1280, 800], false), ([390, 844], true)] {
            shown.browser.resize(size, is_phone);
            for scheme in ["light", "dark"] {
                shown.browser.prefer(scheme);
                if project.scenarios.len() > 1 {
                    shown.browser.click(".state:has(input[value='1'])");
                }
                shown.rest();
                let file = folder.join(format!("{stem}-{}-{scheme}.png", size[0]));
                std::fs::write(file, shown.browser.picture()).unwrap();
            }
        }
        std::fs::write(folder.join(format!("{stem}.pdf")), shown.browser.printed()).unwrap();
    }
}

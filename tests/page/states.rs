//! States of the zone valves: every one that the list offers, and those that switches lead to.

use super::browser::{DOWN, SPACE_BAR};
use super::copies::copies;
use super::*;
use headwise::document::{ComponentId, Scenario};
use headwise::engine::units::Quantity;
use headwise::study::Study;
use headwise::study::{ZoneState, governing_at, limit_name};

/// Reads places of the plot off its axes: two figures of an axis and where they stand give the rest.
const READ: &str = "
    const plot = document.querySelector('svg.plot.on[data-pump]');
    const group = plot.querySelector('g[data-in=' + document.documentElement.dataset.units + ']');
    const axis = (texts, attribute) => {
        const [a, b] = [texts[0], texts[texts.length - 1]];
        const [from, to] = [a, b].map((text) => Number(text.getAttribute(attribute)));
        const [low, high] = [a, b].map((text) => Number(text.textContent));
        return (place) => low + (place - from) / (to - from) * (high - low);
    };
    const ups = Array.from(group.querySelectorAll('.up'));
    const second = ups.findIndex((text, at) => at > 0 && Number(text.textContent) === 0);
    const flow = axis(Array.from(group.querySelectorAll('.along')), 'x');
    // Figures beside an axis stand a little below the line that they name.
    const head = (y) => axis(ups.slice(0, second), 'y')(y + 4.5), power = (y) => axis(ups.slice(second), 'y')(y + 4.5);
    const at = (name, attribute) => Number(plot.querySelector(name).getAttribute(attribute));
    const distance = (name) => {
        const points = plot.querySelector(name).getAttribute('d').split(/[ML]/).filter(Boolean).map((p) => p.split(' ').map(Number));
        const here = [at('.point', 'cx'), at('.point', 'cy')];
        let least = 1e9;
        for (let i = 1; i < points.length; i += 1) {
            const [a, b] = [points[i - 1], points[i]], along = [b[0] - a[0], b[1] - a[1]];
            const square = along[0] ** 2 + along[1] ** 2;
            const share = square > 0 ? Math.min(1, Math.max(0, ((here[0] - a[0]) * along[0] + (here[1] - a[1]) * along[1]) / square)) : 0;
            least = Math.min(least, Math.hypot(here[0] - a[0] - share * along[0], here[1] - a[1] - share * along[1]));
        }
        return least;
    };
";

#[track_caller]
fn near(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: found {found}, expected {expected}");
}

/// Holds all that the page shows against a study of the state that it should show.
#[track_caller]
fn holds(shown: &Shown, case: &Project, pump: ComponentId, units: &Units) {
    shown.rest();
    let study = Study::new(case).unwrap();
    let results = study.results();
    let point = &results.pumps[&pump];
    let curves = study.curves(pump).unwrap();
    for (figure, quantity, value) in [
        ("flow", Quantity::Flow, point.flow),
        ("head", Quantity::Head, point.head),
        ("speed", Quantity::Speed, point.speed),
        ("power", Quantity::Power, point.electric_w),
    ] {
        assert_eq!(shown.text(&format!("#figure-{figure}")), units.format(quantity, value));
    }
    assert_eq!(shown.text("#figure-governs"), point.governing.map_or("off", limit_name));
    // A tenth of the plot's units is all that its places are rounded by.
    let [flow_end, head_end, power_end] = ["flow(628) - flow(54)", "head(30) - head(352)", "power(398) - power(478)"]
        .map(|span| shown.number(&format!("{READ} return {span}")));
    for (what, read, quantity, value, step) in [
        ("flow", "flow(at('.point', 'cx'))", Quantity::Flow, point.flow, flow_end / 574.0),
        ("head", "head(at('.point', 'cy'))", Quantity::Head, point.head, head_end / 322.0),
        ("flow of power", "flow(at('.at-power', 'cx'))", Quantity::Flow, point.flow, flow_end / 574.0),
        ("power", "power(at('.at-power', 'cy'))", Quantity::Power, point.electric_w, power_end / 80.0),
    ] {
        near(what, shown.number(&format!("{READ} return {read}")), units.from_si(quantity, value), 0.2 * step);
    }
    // Where a pump settles, its curve and the system's meet.
    assert!(shown.number(&format!("{READ} return distance('.regulated')")) < 1.0);
    if point.flow > 1e-3 * curves.frame[0] {
        assert!(shown.number(&format!("{READ} return distance('.system')")) < 1.5, "{:?}", shown.text("#state-name"));
    }
    let says = shown.text("#says");
    let governs = governing_at(point, &curves.ranges, units);
    assert!(says.starts_with(&governs), "{says:?} and not {governs:?}");
    zones_hold(shown, case, &study, units, &says);
}

#[track_caller]
fn zones_hold(shown: &Shown, case: &Project, study: &Study, units: &Units, says: &str) {
    let band = &case.acceptance;
    let mut outside = Vec::new();
    // A bar grows for a while; what it grows to stands in its style.
    let length = "parseFloat(row.querySelector('.fill').style.width)";
    let low = "parseFloat(row.querySelector('.band').style.left)";
    for (number, (id, zone)) in case.zones.iter().enumerate() {
        let result = &study.results().zones[id];
        let row = format!("const row = document.querySelectorAll('.zone')[{number}];");
        let told = shown.browser.run(&format!("{row} return row.innerText"));
        let told = told.as_str().unwrap();
        assert!(told.contains(&zone.name) && told.contains(result.state.word()), "{told}");
        let is_open = shown.browser.run(&format!("{row} return row.querySelector('input').checked"));
        assert_eq!(is_open.as_bool(), Some(!case.is_zone_shut(zone)));
        let fill = shown.number(&format!("{row} return {length}"));
        if result.state == ZoneState::Shut {
            assert_eq!(fill, 0.0);
            continue;
        }
        for (quantity, value) in
            [(Quantity::Flow, result.flow), (Quantity::Heat, result.heat), (Quantity::Share, result.heat_share)]
        {
            assert!(told.contains(&units.format(quantity, value)), "{told}");
        }
        // The band's lower end is the measure: a bar is as many times as long as the share is times that.
        let measure = shown.number(&format!("{row} return {low}"));
        let expected = (result.share.max(0.0) * measure / band.low).min(100.0);
        near(&format!("bar of {}", zone.name), fill, expected, 0.05);
        if !(band.low..=band.high).contains(&result.share) && result.room_c.is_none() {
            let off = if result.share < band.low { band.low - result.share } else { result.share - band.high };
            outside.push((off, number, zone.name.as_str()));
        }
    }
    let marked = shown
        .browser
        .run("return Array.from(document.querySelectorAll('.zone')).findIndex((r) => r.matches('.worst'))");
    match outside.iter().max_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((_, number, name)) => {
            assert!(says.contains(&format!("Worst: {name}")), "{says}");
            assert_eq!(marked.as_u64(), Some(*number as u64));
        }
        None => assert_eq!(marked.as_i64(), Some(-1), "{says}"),
    }
}

fn running(project: &Project) -> Vec<ComponentId> {
    project.pumps().filter(|(_, unit)| unit.running).map(|(id, _)| id).collect()
}

/// The states that the list offers, by the words on it.
fn listed(project: &Project) -> Vec<(String, Project)> {
    let mut states: Vec<(String, Project)> = Vec::new();
    for (index, scenario) in project.scenarios.iter().enumerate() {
        let mut case = project.clone();
        case.apply(&Command::EnterScenario(index)).unwrap();
        states.push((scenario.name.clone(), case));
    }
    let movable: Vec<ZoneId> = project.zones.iter().filter(|(_, z)| z.valve.is_some()).map(|(id, _)| *id).collect();
    states.push(("All zones open".to_owned(), with_shut(project, &[])));
    if !movable.is_empty() {
        states.push(("All zones shut".to_owned(), with_shut(project, &movable)));
    }
    for id in &movable {
        let others: Vec<ZoneId> = movable.iter().copied().filter(|other| other != id).collect();
        states.push((project.zones[id].name.clone(), with_shut(project, &others)));
    }
    states
}

fn every_state_answers(project: &Project, units: &Units) {
    let shown = Shown::new(project, units);
    let words =
        shown.browser.run("return Array.from(document.querySelectorAll('.state span')).map((s) => s.textContent)");
    let states = listed(project);
    let expected: Vec<&str> = states.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(words, serde_json::json!(expected));
    for (number, pump) in running(project).into_iter().enumerate() {
        if number > 0 {
            shown.browser.click(&format!("#pump option[value='{number}']"));
        }
        for (at, (name, case)) in states.iter().enumerate() {
            shown.browser.click(&format!(".state:has(input[value='{at}'])"));
            assert_eq!(shown.text("#state-name"), *name);
            holds(&shown, case, pump, units);
        }
    }
    assert_eq!(shown.browser.complaints(), [""; 0]);
}

#[test]
fn every_state_of_the_library_answers() {
    every_state_answers(&sample(LIBRARY), &Units::si());
}

#[test]
fn every_state_of_the_growers_answers_in_inch_pound() {
    every_state_answers(&sample(GROWERS), &Units::inch_pound());
}

#[test]
fn every_state_of_the_clinic_answers_for_each_circulator() {
    every_state_answers(&sample(CLINIC), &Units::si());
}

/// Two circulators, thermostatic valves that answer to the weather, and no valve that shuts a zone.
#[test]
fn every_weather_of_the_court_answers_for_each_circulator() {
    let mut project = sample(COURT);
    for outdoor_c in [-8.0, 2.0, 12.0] {
        let name = format!("{outdoor_c} °C outdoors");
        project.scenarios.push(Scenario { outdoor_c: Some(outdoor_c), ..Scenario::all_open(&name) });
    }
    assert_eq!(running(&project).len(), 2);
    every_state_answers(&project, &Units::si());
}

/// Zones switched one after the other lead through combinations that no list names.
#[test]
fn switches_lead_to_every_combination() {
    let project = sample(LIBRARY);
    let units = Units::si();
    let pump = running(&project)[0];
    let shown = Shown::new(&project, &units);
    let zones: Vec<ZoneId> = project.zones.keys().copied().collect();
    let mut shut: Vec<ZoneId> = Vec::new();
    shown.browser.click(".state:has(input[value='0'])");
    // Gray's order: one switch at a time through all sixteen.
    for number in 1..16_u32 {
        let zone = number.trailing_zeros() as usize;
        match shut.iter().position(|id| *id == zones[zone]) {
            Some(at) => drop(shut.remove(at)),
            None => shut.push(zones[zone]),
        }
        shown.browser.click(&format!(".zone:nth-child({}) label", zone + 1));
        holds(&shown, &with_shut(&project, &shut), pump, &units);
    }
    assert_eq!(shut, [zones[3]]);
}

/// A zone switched in a scenario with weather of its own leads to the design's weather, and the page says so.
#[test]
fn the_weather_of_a_state_is_told() {
    let mut project = sample(LIBRARY);
    let at = project.scenarios.len();
    project.scenarios.push(Scenario { outdoor_c: Some(5.0), ..Scenario::all_open("Mild") });
    let units = Units::si();
    let shown = Shown::new(&project, &units);
    shown.browser.click(&format!(".state:has(input[value='{at}'])"));
    assert_eq!(shown.text("#state-weather"), format!("Outdoors {}", units.format(Quantity::Temperature, 5.0)));
    shown.browser.click(".zone:nth-child(1) label");
    assert!(shown.text("#state-weather").ends_with("design's weather"), "{}", shown.text("#state-weather"));
    drop(shown);
    let shown = Shown::new(&sample(LIBRARY), &units);
    assert_eq!(shown.text("#state-weather"), "");
}

#[test]
fn a_point_of_the_plot_brings_its_scenario() {
    let project = sample(CLINIC);
    let shown = Shown::new(&project, &Units::si());
    shown.browser.click(".state:has(input[value='0'])");
    shown.rest();
    shown.browser.click("svg.plot.on .mark[data-listed='4']");
    assert_eq!(shown.text("#state-name"), project.scenarios[4].name);
    assert_eq!(shown.number("return Number(document.querySelector('input[name=state]:checked').value)"), 4.0);
}

#[test]
fn keys_alone_will_do() {
    let project = sample(LIBRARY);
    let units = Units::si();
    let pump = running(&project)[0];
    let shown = Shown::new(&project, &units);
    shown.browser.click(".state:has(input[value='0'])");
    let states = listed(&project);
    for (name, case) in &states[1..4] {
        shown.browser.press(DOWN);
        assert_eq!(shown.text("#state-name"), *name);
        holds(&shown, case, pump, &units);
    }
    shown.browser.click(".state:has(input[value='0'])");
    shown.browser.run("document.querySelectorAll('.zone input')[1].focus()");
    shown.browser.press(SPACE_BAR);
    let second = *project.zones.keys().nth(1).unwrap();
    holds(&shown, &with_shut(&project, &[second]), pump, &units);
}

/// The point walks along the regulated curve, and is never off it on its way.
#[test]
fn the_point_walks_along_the_regulated_curve() {
    let project = sample(LIBRARY);
    let shown = Shown::new(&project, &Units::si());
    shown.browser.click(".state:has(input[value='0'])");
    shown.rest();
    let last = listed(&project).len() - 1;
    let way = shown.browser.run(&format!(
        "{READ}
        const seen = [];
        new MutationObserver(() => seen.push([at('.point', 'cx'), distance('.regulated')]))
            .observe(plot.querySelector('.point'), {{ attributes: true }});
        window.seen = seen;
        document.querySelector(\"input[value='{}']\").click();
        return 0",
        last - 3
    ));
    assert_eq!(way, serde_json::json!(0));
    shown.rest();
    let seen = shown.browser.run("return window.seen");
    let seen: Vec<[f64; 2]> = serde_json::from_value(seen).unwrap();
    assert!(seen.len() > 5, "{seen:?}");
    assert!(seen.iter().all(|[_, off]| *off < 1.0), "{seen:?}");
    assert!(seen.windows(2).all(|pair| pair[1][0] <= pair[0][0]), "{seen:?}");
}

/// Twelve zones on three plants: what was not computed cannot be switched to, and the page says so.
#[test]
fn what_was_not_computed_cannot_be_switched_to() {
    let mut project = copies(&sample(LIBRARY), 3);
    project.scenarios.clear();
    let units = Units::si();
    let pump = running(&project)[0];
    assert_eq!(project.zones.len(), 12);
    let shown = Shown::new(&project, &units);
    shown.browser.click(".state:has(input[value='0'])");
    assert!(shown.text(".zone-side").contains("too many combinations"));
    let disabled = "return document.querySelectorAll('.zone input[aria-disabled=true]').length";
    assert_eq!(shown.number(disabled), 0.0);
    shown.browser.click(".zone:nth-child(2) label");
    let second = *project.zones.keys().nth(1).unwrap();
    let case = with_shut(&project, &[second]);
    holds(&shown, &case, pump, &units);
    // Back it goes; another one off would be a state that nobody computed.
    assert_eq!(shown.number(disabled), 11.0);
    shown.browser.click(".zone:nth-child(3) label");
    holds(&shown, &case, pump, &units);
    shown.browser.click(".zone:nth-child(2) label");
    holds(&shown, &with_shut(&project, &[]), pump, &units);
}

/// Valves that stand as no listed state has them are a state of their own, and the one that the page begins with.
#[test]
fn the_page_begins_with_the_valves_as_they_stand() {
    let units = Units::si();
    let third = *sample(LIBRARY).zones.keys().nth(2).unwrap();
    let mut project = with_shut(&sample(LIBRARY), &[third]);
    let pump = running(&project)[0];
    let scenario = project.scenarios.iter().find(|scenario| scenario.shut.iter().eq([&third])).unwrap().name.clone();
    let shown = Shown::new(&project, &units);
    assert_eq!(shown.text("#state-name"), scenario);
    holds(&shown, &project, pump, &units);
    drop(shown);
    project.outdoor_now_c = Some(3.0);
    let shown = Shown::new(&project, &units);
    assert_eq!(shown.text("#state-name"), "Valves as they stand");
    holds(&shown, &project, pump, &units);
}

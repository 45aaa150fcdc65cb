//! The state that a picture says it shows, what its scenarios' signs say of sources, and the best settings where they lie elsewhere.

use super::*;
use headwise::engine::units::Quantity;
use headwise::report::with_map;
use headwise::study::settings::Axes;

fn has(svg: &str, wanted: &str) {
    let texts = texts::all(svg);
    assert!(texts.iter().any(|text| text == wanted), "no {wanted} in {texts:?}");
}

/// Named after the scenario that valves and weather stand in, else after what is open.
#[test]
fn the_heading_says_which_state_is_shown() {
    let mut project = sample(SAMPLES[0]);
    let says = |project: &Project, standing: &str| {
        has(&drawing(project, &Units::si(), false), &format!("The system{standing} at its present settings"));
        let plot = plot(project, &Units::si(), false, false);
        has(&plot, &format!("Circulator{standing}: head and power over flow"));
    };
    let scenario = project.scenarios.iter().position(|scenario| scenario.name == "Office alone").unwrap();
    project.apply(&Command::EnterScenario(scenario)).unwrap();
    says(&project, " in scenario “Office alone”");
    let meeting = project.component_named("Meeting zone valve").unwrap();
    project.apply(&Command::SetOpen(meeting, true)).unwrap();
    says(&project, " with 2 of 4 zones open");
    project.outdoor_now_c = Some(5.0);
    let outdoors = Units::si().format(Quantity::Temperature, 5.0);
    says(&project, &format!(" with 2 of 4 zones open at {outdoors} outdoors"));
    // The same valves in other weather are another state.
    project.apply(&Command::EnterScenario(scenario)).unwrap();
    project.scenarios[scenario].outdoor_c = Some(7.0);
    says(&project, " with 1 of 4 zones open");
    project.scenarios.clear();
    for zone in project.zones.clone().values() {
        project.apply(&Command::SetOpen(zone.valve.unwrap(), true)).unwrap();
    }
    says(&project, " with all zones open");
}

/// The library's heat pump needs 0.6 m³/h, and has less while only the office is open.
#[test]
fn a_state_with_a_source_short_of_water_is_not_told_as_served() {
    let mut project = sample(SAMPLES[0]);
    let states = plot_states(&project, pump(&project)).unwrap();
    let short = |name: &str| states.iter().find(|state| state.name == name).unwrap().source_short;
    assert!(short("Office alone") && !short("All zones open"));
    let count = states.iter().filter(|state| state.source_short).count();
    let signs = |svg: &str| {
        let tree = Document::parse(svg).unwrap();
        tree.descendants().filter(|node| has_class(node, "source-short")).count()
    };
    let svg = plot(&project, &Units::si(), false, false);
    has(&svg, "source short of water");
    // In the list, at the point and beside the words.
    assert_eq!(signs(&svg), 2 * count + 1);
    let source = project.component_named("Heat pump").unwrap();
    let headwise::document::ComponentKind::Source(source) = &mut project.components.get_mut(&source).unwrap().kind
    else {
        panic!("no source");
    };
    source.minimum_flow = 0.0;
    let svg = plot(&project, &Units::si(), false, false);
    assert!(signs(&svg) == 0 && !texts::all(&svg).contains(&"source short of water".to_owned()));
}

/// Best settings that hold something else than the plane does are told beside it, not drawn on it.
#[test]
fn the_best_settings_are_drawn_on_their_own_plane_alone() {
    let project = sample(SAMPLES[0]);
    let pump = pump(&project);
    let drawn = |base| {
        let draw = |view: &headwise::report::MapView<'_>| {
            (headwise::report::picture::map_svg(view, &Units::si(), look(false), Some(&HEADING)), view.best)
        };
        with_map(&project, pump, Axes::LimitOverSlope, base, draw).unwrap()
    };
    let rings = |svg: &str| {
        let tree = Document::parse(svg).unwrap();
        tree.descendants().filter(|node| node.has_tag_name("circle") && node.attribute("r") == Some("9")).count()
    };
    let best = drawn(None).1.unwrap().settings;
    let (svg, _) = drawn(Some(best));
    // On the plane and in the legend.
    assert_eq!(rings(&svg), 2);
    has(&svg, "Best");
    let mut other = best;
    other.speed_cap *= 0.9;
    let (svg, _) = drawn(Some(other));
    let texts = texts::all(&svg);
    assert_eq!(rings(&svg), 0);
    assert!(!texts.contains(&"Best".to_owned()) && texts.join(" ").contains("not drawn, for it is not at the"));
}

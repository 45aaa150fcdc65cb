//! The texts of pictures: what is said is there, every text lies inside and none on another, as the renderer's own boxes tell.

use super::*;
use headwise::document::Arrangement;
use headwise::engine::pipes;
use headwise::engine::units::Quantity;
use headwise::report::picture::{PictureError, PlotState};
use headwise::study::sizing::{SizingLimits, size_system};
use headwise::study::{ZoneState, share_beside_state};
use resvg::usvg::{self, Group};

/// How deep two boxes may lie in each other, in units of which the picture is 1000 wide.
const TOUCH: f32 = 0.5;

/// All texts of a picture.
pub fn all(svg: &str) -> Vec<String> {
    let tree = Document::parse(svg).unwrap();
    tree.descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text())
        .map(str::to_owned)
        .collect()
}

/// A text with its box: left, top, right, bottom.
struct Boxed {
    text: String,
    space: [f32; 4],
}

fn tree(svg: &str) -> Result<usvg::Tree, PictureError> {
    let mut options = usvg::Options { font_family: "Inter".to_owned(), ..usvg::Options::default() };
    for name in ["Inter-Medium.otf", "Inter-SemiBold.otf"] {
        let font = std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/fonts").join(name)).unwrap();
        options.fontdb_mut().load_font_data(font);
    }
    options.fontdb_mut().set_sans_serif_family("Inter");
    usvg::Tree::from_str(svg, &options).map_err(|error| PictureError::Drawing(error.to_string()))
}

fn boxes(group: &Group, found: &mut Vec<Boxed>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => boxes(group, found),
            usvg::Node::Text(text) => {
                // The box of the letters themselves, not of the line that they stand in.
                let rect = text.flattened().abs_bounding_box();
                let words = text.chunks().iter().map(|chunk| chunk.text()).collect();
                found.push(Boxed { text: words, space: [rect.left(), rect.top(), rect.right(), rect.bottom()] });
            }
            _ => {}
        }
    }
}

/// Every text inside, none on another, none too small to be read where the picture is printed 17 cm wide.
#[track_caller]
pub fn are_apart(svg: &str, what: &str) {
    let tree = tree(svg).unwrap();
    let scale = tree.size().width() / 1000.0;
    let high = tree.size().height() / scale;
    let mut found = Vec::new();
    boxes(tree.root(), &mut found);
    assert!(found.len() > 3, "{what}");
    for one in &mut found {
        one.space = one.space.map(|value| value / scale);
    }
    for (index, one) in found.iter().enumerate() {
        let [left, top, right, bottom] = one.space;
        assert!(left >= 10.0 && top >= 4.0 && right <= 990.0 && bottom <= high - 4.0, "{what}: {} outside", one.text);
        for other in &found[..index] {
            let [a, b, c, d] = other.space;
            let meet = left + TOUCH < c && a + TOUCH < right && top + TOUCH < d && b + TOUCH < bottom;
            assert!(!meet, "{what}: “{}” lies on “{}”", one.text, other.text);
        }
    }
    // 17 cm are 482 points: 13.5 of 1000 units are 6.5 points, about the size of a footnote.
    let document = Document::parse(svg).unwrap();
    for node in document.descendants().filter(|node| node.has_tag_name("text")) {
        // The letter in a symbol is as large as the symbol.
        if node.text().is_some_and(|text| text.chars().count() > 1) {
            assert!(number(node, "font-size") >= 13.5, "{what}: {:?}", node.text());
        }
    }
}

/// A system of many zones, made out of a list.
pub fn many(zones: usize) -> Project {
    let plan = if zones.is_multiple_of(24) { plans::greenhouse } else { plans::library };
    let mut plan = plan(Arrangement::DirectReturn, false);
    let listed = plan.zones.clone();
    plan.zones = (0..zones).map(|index| listed[index % listed.len()].clone()).collect();
    for (index, zone) in plan.zones.iter_mut().enumerate() {
        zone.name = format!("Flat {} on the upper floor", index + 1);
        // A great many small ones, for which there are pipes.
        zone.load *= (24.0 / zones as f64).min(1.0);
    }
    size_system(&plan, pipes::COMMON, &SizingLimits::default()).unwrap().project
}

#[test]
fn no_text_lies_on_another() {
    for name in SAMPLES {
        let project = sample(name);
        for (units, dark) in [(Units::si(), false), (Units::inch_pound(), true)] {
            are_apart(&plot(&project, &units, dark, false), &format!("plot of {name}"));
            are_apart(&drawing(&project, &units, dark), &format!("drawing of {name}"));
        }
    }
}

/// In every scenario the operating point lies elsewhere, and valves are shut.
#[test]
fn no_text_lies_on_another_in_any_scenario() {
    for name in SAMPLES {
        let project = sample(name);
        for index in 0..project.scenarios.len() {
            let mut case = project.clone();
            case.apply(&Command::EnterScenario(index)).unwrap();
            are_apart(&plot(&case, &Units::si(), false, false), &format!("plot of {name}, scenario {index}"));
            are_apart(&drawing(&case, &Units::si(), false), &format!("drawing of {name}, scenario {index}"));
        }
    }
}

#[test]
fn many_zones_are_told_below_the_drawing() {
    for count in [6, 12, 24] {
        let project = many(count);
        let svg = drawing(&project, &Units::si(), false);
        are_apart(&svg, &format!("{count} zones"));
        let texts = all(&svg);
        let study = Study::new(&project).unwrap();
        for result in study.results().zones.values() {
            let flow = Units::si().format(Quantity::Flow, result.flow);
            assert!(texts.iter().any(|text| text.contains(&flow)), "{count} zones: no {flow}");
        }
    }
}

/// Of a great many the first are told and the rest counted.
#[test]
fn a_great_many_zones_are_counted() {
    let texts = all(&drawing(&many(130), &Units::si(), false));
    assert!(texts.iter().any(|text| text == "and 10 more zones"), "{texts:?}");
    assert!(
        texts.iter().any(|text| text.starts_with("Flat 120 "))
            && !texts.iter().any(|text| text.starts_with("Flat 121 "))
    );
}

/// Title, day, units and the figures of the operating point, as the study gives them.
#[test]
fn the_plot_says_what_it_shows() {
    for name in SAMPLES {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        let pump = pump(&project);
        let result = &study.results().pumps[&pump];
        for units in [Units::si(), Units::inch_pound()] {
            let texts = all(&plot(&project, &units, false, false));
            let has =
                |wanted: &str| assert!(texts.iter().any(|text| text == wanted), "{name}: no {wanted} in {texts:?}");
            has(&project.title);
            has(DATE);
            has(&format!(
                "{} · {}",
                units.format(Quantity::Flow, result.flow),
                units.format(Quantity::Head, result.head)
            ));
            has(&units.format(Quantity::Power, result.electric_w));
            has(&format!("Flow, {}", units.symbol(Quantity::Flow)));
            has(&format!("Head, {}", units.symbol(Quantity::Head)));
            has("set-line governs");
            for scenario in &project.scenarios {
                has(&scenario.name);
            }
        }
    }
}

/// Every zone with its share, its flow and its heat or room.
/// Figures that did not converge are never pictured without a word, be it of the present state or of a scenario.
#[test]
fn the_plot_says_where_figures_do_not_stand() {
    let project = sample(super::SAMPLES[0]);
    let (study, pump) = (Study::new(&project).unwrap(), super::pump(&project));
    let mut states = plot_states(&project, pump).unwrap();
    let draw = |states: &[PlotState]| {
        let view = PlotView { project: &project, study: &study, pump, states, layers: false };
        all(&plot_svg(&view, &Units::si(), super::look(false), Some(&super::HEADING))).join("\n")
    };
    assert!(!draw(&states).contains("do not use these figures"));
    states.last_mut().unwrap().converged = false;
    assert!(draw(&states).contains("Not converged: do not use these figures – "), "{}", draw(&states));
}

#[test]
fn the_drawing_says_what_every_zone_gets() {
    for name in SAMPLES {
        let mut project = sample(name);
        if !project.scenarios.is_empty() {
            project.apply(&Command::EnterScenario(project.scenarios.len() - 1)).unwrap();
        }
        let study = Study::new(&project).unwrap();
        for units in [Units::si(), Units::inch_pound()] {
            let texts = all(&drawing(&project, &units, false));
            let has = |wanted: &str| {
                assert!(texts.iter().any(|text| text.contains(wanted)), "{name}: no {wanted} in {texts:?}");
            };
            has(DATE);
            has(&project.title);
            for (id, zone) in &study.results().zones {
                let named = &project.zones[id].name;
                for word in named.split(' ') {
                    has(word);
                }
                match zone.state {
                    // Nothing flows there, which needs no figures.
                    ZoneState::Shut => {
                        has("shut");
                        continue;
                    }
                    ZoneState::Still => has(zone.state.word()),
                    state => has(&share_beside_state(zone.share, Some(state), &project.acceptance, &units)),
                }
                has(&units.format(Quantity::Flow, zone.flow));
                match zone.room_c {
                    Some(room_c) => has(&units.format(Quantity::Temperature, room_c)),
                    None => has(&units.format(Quantity::Heat, zone.heat)),
                }
            }
        }
    }
}

//! The plot and the drawing as pictures, read with a reader of SVG that is not the program's: what they say, where it lies, that no two
//! texts meet, and that the same project gives the same bytes.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

#[path = "pictures/axes.rs"]
mod axes;
#[path = "pictures/layers.rs"]
mod layers;
#[path = "plans/mod.rs"]
mod plans;
#[path = "pictures/standing.rs"]
mod standing;
#[path = "pictures/symbols.rs"]
mod symbols;
#[path = "pictures/texts.rs"]
mod texts;

use headwise::document::{Command, ComponentId, Project};
use headwise::engine::units::Units;
use headwise::file;
use headwise::report::picture::{DrawingView, Heading, Look, PlotView, drawing_svg, plot_states, plot_svg, png};
use headwise::study::Study;
use resvg::usvg::roxmltree::{Document, Node};
use std::path::Path;

const SAMPLES: [&str; 4] =
    ["fernhollow-library.ron", "alder-point-clinic.ron", "saltreed-growers.ron", "thornwick-court.ron"];
const DATE: &str = "2026-01-31";
const HEADING: Heading<'static> = Heading { title: "", date: DATE };

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

/// The last circulator that runs: where a separator parts two circuits, that of the zones.
fn pump(project: &Project) -> ComponentId {
    project.pumps().filter(|(_, unit)| unit.running).last().unwrap().0
}

fn look(dark: bool) -> Look {
    Look { width: 1200, dark }
}

fn plot(project: &Project, units: &Units, dark: bool, layers: bool) -> String {
    let study = Study::new(project).unwrap();
    let pump = pump(project);
    let states = plot_states(project, pump).unwrap();
    let view = PlotView { project, study: &study, pump, states: &states, layers };
    plot_svg(&view, units, look(dark), Some(&HEADING))
}

fn drawing(project: &Project, units: &Units, dark: bool) -> String {
    let study = Study::new(project).unwrap();
    let view = DrawingView { project, study: &study, pump: Some(pump(project)) };
    drawing_svg(&view, units, look(dark), Some(&HEADING))
}

fn number(node: Node<'_, '_>, name: &str) -> f64 {
    node.attribute(name).unwrap().parse().unwrap()
}

fn has_class(node: &Node<'_, '_>, name: &str) -> bool {
    node.attribute("class") == Some(name)
}

#[test]
fn the_same_project_gives_the_same_bytes() {
    for name in SAMPLES {
        let project = sample(name);
        let [first, second] = [(); 2].map(|()| plot(&project, &Units::si(), false, true));
        assert_eq!(first, second);
        let [first, second] = [(); 2].map(|()| drawing(&project, &Units::si(), false));
        assert_eq!(first, second);
        assert_eq!(png(&first).unwrap(), png(&second).unwrap());
    }
}

/// Light is light and dark is dark, of the size that was asked for, and nothing shines through.
#[test]
fn pixels_are_as_many_as_asked_for() {
    let project = sample(SAMPLES[0]);
    for dark in [false, true] {
        let svg = drawing(&project, &Units::si(), dark);
        let tree = Document::parse(&svg).unwrap();
        let high = number(tree.root_element(), "height") as u32;
        let bytes = png(&svg).unwrap();
        let mut reader = ::png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().unwrap();
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut pixels).unwrap();
        assert_eq!((info.width, info.height), (1200, high));
        assert!(pixels.chunks_exact(4).all(|pixel| pixel[3] == 255));
        assert_eq!(pixels[0] < 64, dark);
    }
}

/// Names that mean something in XML, and those that are far too long, do no harm.
#[test]
fn names_do_no_harm() {
    let mut project = sample(SAMPLES[0]);
    project.title =
        "</text><script>alert(1)</script> & \"Hall\" of the long and winding name, second wing, north".to_owned();
    let zone = project.zone_named("Office radiators").unwrap();
    project.zones.get_mut(&zone).unwrap().name = "Donaudampfschifffahrtsgesellschaft <A & B>".to_owned();
    for svg in [plot(&project, &Units::si(), false, true), drawing(&project, &Units::si(), false)] {
        let tree = Document::parse(&svg).unwrap();
        assert!(tree.descendants().all(|node| !node.has_tag_name("script")));
        texts::are_apart(&svg, "long names");
    }
}

/// What is shut or off is drawn and told, and a system that nothing flows in too.
#[test]
fn all_shut_and_all_off_can_be_drawn() {
    for name in SAMPLES {
        let mut project = sample(name);
        let valves: Vec<ComponentId> = project.zones.values().filter_map(|zone| zone.valve).collect();
        for valve in &valves {
            project.apply(&Command::SetOpen(*valve, false)).unwrap();
        }
        let svg = drawing(&project, &Units::si(), false);
        texts::are_apart(&svg, name);
        if !valves.is_empty() {
            assert_eq!(texts::all(&svg).iter().filter(|text| *text == "shut").count(), valves.len(), "{name}");
        }
        let pump = pump(&project);
        project.apply(&Command::SetRunning(pump, false)).unwrap();
        let study = Study::new(&project).unwrap();
        let view = PlotView { project: &project, study: &study, pump, states: &[], layers: false };
        let svg = plot_svg(&view, &Units::si(), look(false), Some(&HEADING));
        texts::are_apart(&svg, name);
        assert!(!svg.contains(r#"class="point""#), "{name}");
        let drawn = drawing_svg(
            &DrawingView { project: &project, study: &study, pump: None },
            &Units::si(),
            look(false),
            Some(&HEADING),
        );
        assert!(texts::all(&drawn).iter().any(|text| text == "off"), "{name}");
    }
}

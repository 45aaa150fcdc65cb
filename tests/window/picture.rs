//! Pictures: of the whole window without a display, and of all that the window offers.

use super::hand::{Test, sample, window};
use egui::accesskit::Role;
use egui::{Event, Key, Modifiers, OutputCommand, Theme};
use egui_kittest::kittest::Queryable;
use headwise::app::{WindowLook, window_svg};
use headwise::engine::units::Units;
use headwise::file;
use headwise::report::picture::png as drawn;
use std::path::Path;

fn look() -> WindowLook {
    WindowLook {
        size: [1280.0, 800.0],
        width: 1280,
        dark: false,
        units: Units::si(),
        foot: "Fernhollow Library · 2026-01-31".to_owned(),
    }
}

fn library(look: &WindowLook) -> String {
    let path = sample("fernhollow-library.ron");
    window_svg(file::load(&path).unwrap(), &path, look).unwrap()
}

/// All words of a picture, letter for letter.
fn words(svg: &str) -> Vec<String> {
    let parts = svg.split("<text ").skip(1);
    let words = parts.filter_map(|part| Some(part.split_once('>')?.1.split_once("</text>")?.0.to_owned()));
    words.collect()
}

#[test]
fn the_window_is_pictured_as_it_stands_and_the_same_each_time() {
    let svg = library(&look());
    assert_eq!(svg, library(&look()));
    let words = words(&svg);
    for wanted in ["Fernhollow Library", "Reading-room floor", "Fernhollow Library · 2026-01-31"] {
        assert!(words.iter().any(|text| text.contains(wanted)), "{wanted} in {words:?}");
    }
}

#[test]
fn the_picture_has_the_size_that_was_asked_for_and_its_own_colours() {
    for (dark, width) in [(false, 1280), (true, 2560)] {
        let svg = library(&WindowLook { dark, width, ..look() });
        let bytes = drawn(&svg).unwrap();
        let mut reader = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().unwrap();
        assert_eq!([reader.info().width, reader.info().height], [width, width * 828 / 1280]);
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        let corner = pixels[0];
        assert_eq!(corner < 0x40, dark, "{corner}");
    }
}

/// Asks for a picture and chooses what of.
fn asking(of: &str) -> Test {
    let mut test = window();
    test.key_press_modifiers(Modifiers::COMMAND, Key::P);
    test.run_steps(3);
    test.get_by_role_and_label(Role::RadioButton, of).click();
    test.run_steps(2);
    test
}

/// Goes on until a picture is ready, and gives back what was copied meanwhile.
fn until_ready(test: &mut Test) -> Vec<OutputCommand> {
    let mut copied = Vec::new();
    for _ in 0..2000 {
        test.step();
        copied.extend(test.output().platform_output.commands.iter().cloned());
        if test.query_by_label_contains("The picture is").is_some() {
            return copied;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    panic!("no picture after 20 s");
}

fn saved(test: &mut Test, path: &Path) -> Vec<u8> {
    test.get_by_label("Save…").click();
    test.run_steps(3);
    let field = test.get_by_role_and_label(Role::TextInput, "File");
    assert!(field.value().is_some_and(|name| name.contains("fernhollow-library")), "{:?}", field.value());
    field.focus();
    test.run_steps(2);
    test.key_press_modifiers(Modifiers::COMMAND, Key::A);
    test.event(Event::Text(path.display().to_string()));
    test.run_steps(2);
    test.get_by_role_and_label(Role::Button, "Save").click();
    until_ready(test);
    std::fs::read(path).unwrap()
}

fn size_of(bytes: &[u8]) -> [u32; 2] {
    let reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
    [reader.info().width, reader.info().height]
}

#[test]
fn the_plot_goes_onto_the_clipboard() {
    let mut test = asking("the plot");
    test.get_by_label("Copy").click();
    let copied = until_ready(&mut test);
    let [OutputCommand::CopyImage(image)] = copied.as_slice() else { panic!("{} commands", copied.len()) };
    assert_eq!(image.width(), 2400);
    let first = image.pixels[0];
    assert!(image.pixels.iter().any(|dot| *dot != first), "an empty picture");
}

#[test]
fn drawing_and_map_are_saved_to_files() {
    let folder = tempfile::tempdir().unwrap();
    for of in ["the drawing", "the map of settings"] {
        let path = folder.path().join(format!("{of}.png"));
        let bytes = saved(&mut asking(of), &path);
        assert_eq!(size_of(&bytes)[0], 2400, "{of}");
    }
}

#[test]
fn the_window_poses_in_the_dark_and_stays_light() {
    let folder = tempfile::tempdir().unwrap();
    let mut test = asking("the whole window");
    test.get_by_role_and_label(Role::RadioButton, "dark").click();
    test.get_by_role_and_label(Role::RadioButton, "SVG, sharp at any size").click();
    test.run_steps(2);
    let svg = String::from_utf8(saved(&mut test, &folder.path().join("window.svg"))).unwrap();
    // The dark ground, and neither the panel that asked nor the shade that it lays over the window.
    assert!(svg.contains("#15191f") && !svg.contains("#f3f1ec"));
    assert!(!words(&svg).iter().any(|text| text.contains("sharp at any size") || text.contains("Save the")));
    assert_eq!(test.ctx.theme(), Theme::Light);
}

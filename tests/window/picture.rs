//! Pictures of the whole window, made without a display.

use super::hand::sample;
use headwise::app::{WindowLook, window_svg};
use headwise::engine::units::Units;
use headwise::file;
use headwise::report::picture::png as drawn;

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
        if let Some(folder) = std::env::var_os("HW_LOOK") {
            std::fs::write(std::path::Path::new(&folder).join(format!("w{width}.png")), &bytes).unwrap();
            std::fs::write(std::path::Path::new(&folder).join(format!("w{width}.svg")), &svg).unwrap();
        }
        let mut reader = png::Decoder::new(std::io::Cursor::new(&bytes)).read_info().unwrap();
        assert_eq!([reader.info().width, reader.info().height], [width, width * 828 / 1280]);
        let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
        reader.next_frame(&mut pixels).unwrap();
        let corner = pixels[0];
        assert_eq!(corner < 0x40, dark, "{corner}");
    }
}

//! The drawing inside the page: the same SVG as everywhere else, its colours given names that the page's light and dark fill.

use super::super::picture::{DrawingView, Look, colour_pairs, drawing_svg};
use crate::document::Project;
use crate::engine::units::Units;
use crate::study::Study;
use std::collections::BTreeMap;

/// Width that the drawing is laid out for.
const WIDTH: u32 = 1200;

/// Light colours with the dark ones that stand for them.
fn pairs() -> BTreeMap<&'static str, &'static str> {
    colour_pairs().into_iter().map(|[light, dark]| (light, dark)).collect()
}

fn name(light: &str) -> String {
    format!("--of-{}", light.trim_start_matches('#'))
}

/// What the names stand for, as style: in light, in the dark if the reader prefers it, in the dark by the switch, on paper.
pub(super) fn style() -> String {
    let pairs = pairs();
    let fill = |dark: bool| -> String {
        pairs.iter().map(|(light, other)| format!("{}:{};", name(light), if dark { other } else { light })).collect()
    };
    let (light, dark) = (fill(false), fill(true));
    format!(
        ":root{{{light}}}\n@media (prefers-color-scheme: dark){{:root:not([data-theme=\"light\"]){{{dark}}}}}\n\
         :root[data-theme=\"dark\"]{{{dark}}}\n@media print{{:root,:root[data-theme=\"dark\"],:root:not([data-theme=\"light\"]){{{light}}}}}\n"
    )
}

/// The drawing with all that stands on it.
pub(super) fn drawing(project: &Project, study: &Study, units: &Units) -> String {
    let view = DrawingView { project, study, pump: None };
    let svg = drawing_svg(&view, units, Look { width: WIDTH, dark: false }, None);
    named(svg.find("<svg").map_or("", |start| &svg[start..]))
}

/// Colours are whole values of attributes, where no text of the project can stand: its quotes are escaped.
fn named(svg: &str) -> String {
    pairs()
        .keys()
        .fold(svg.to_owned(), |svg, light| svg.replace(&format!("=\"{light}\""), &format!("=\"var({})\"", name(light))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn colours_get_names_and_texts_keep_their_words() {
        let svg = named("<text fill=\"#1e232b\">#1e232b</text><path stroke=\"none\"/>");
        assert_eq!(svg, "<text fill=\"var(--of-1e232b)\">#1e232b</text><path stroke=\"none\"/>");
        assert!(style().contains("--of-1e232b:#1e232b;") && style().contains("--of-1e232b:#edeff2;"));
    }
}

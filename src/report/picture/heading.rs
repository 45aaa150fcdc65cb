//! What stands above a picture: the project, what is shown, the date and the units.

use super::colours::Colours;
use super::svg::{Svg, Type};
use super::width::{fitted, text_width};

/// What stands above a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Heading<'a> {
    /// What is shown; the picture's own words where it is empty.
    pub title: &'a str,
    /// The day, as it is to be written; pictures have no clock.
    pub date: &'a str,
}

/// Left and right edge of all that a picture holds, in its own units.
pub(super) const SIDES: [f64; 2] = [24.0, 976.0];
/// Height that a heading takes.
const HEIGHT: f64 = 92.0;
/// Height above a picture without one.
const NONE: f64 = 14.0;

/// What a picture says of itself.
pub(super) struct Words<'a> {
    /// The project's name.
    pub project: &'a str,
    /// What is shown.
    pub what: &'a str,
    /// Units of its figures.
    pub units: &'a str,
}

/// Writes it; gives back the height that it takes and the title in one line.
pub(super) fn draw(
    svg: &mut Svg,
    heading: Option<&Heading<'_>>,
    words: &Words<'_>,
    colours: &Colours,
) -> (f64, String) {
    let Some(heading) = heading else { return (NONE, format!("{}. {}", words.project, words.what)) };
    let what = if heading.title.is_empty() { words.what } else { heading.title };
    let [left, right] = SIDES;
    let rows = [(42.0, 24.0, words.project, heading.date, true), (72.0, 16.0, what, words.units, false)];
    for (y, size, text, beside, is_strong) in rows {
        let end = right - text_width(beside, 15.0) - 24.0;
        let fill = if is_strong { colours.ink } else { colours.quiet };
        svg.text([left, y], &fitted(text, size, end - left), Type { is_strong, ..Type::new(size, fill) });
        svg.text([right, y], beside, Type { anchor: "end", ..Type::new(15.0, colours.quiet) });
    }
    (HEIGHT, format!("{}. {what}. {}", words.project, heading.date))
}

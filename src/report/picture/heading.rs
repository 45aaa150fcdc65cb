//! What stands above a picture: the project, what is shown, the date and the units.

use super::colours::Colours;
use super::svg::{Svg, Type};
use super::width::{fitted, text_width};
use crate::document::Project;
use crate::engine::units::{Quantity, Units};

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

/// What stands before everything else where figures do not stand.
const UNUSABLE: &str = "Not converged: do not use these figures";

/// What a picture says of itself.
pub(super) struct Words<'a> {
    /// The project's name.
    pub project: &'a str,
    /// What is shown.
    pub what: &'a str,
    /// Units of its figures.
    pub units: &'a str,
    /// Whether its figures stand: every state that is shown converged.
    pub stands: bool,
}

/// The state that the valves and the weather stand in, to be put behind what is shown: in which scenario, else how many zones are open
/// and how cold it is where that is not the design's weather.
pub(super) fn standing(project: &Project, units: &Units) -> String {
    if let Some(scenario) = project.present_scenario() {
        return format!(" in scenario “{}”", scenario.name);
    }
    let all = project.zones.len();
    let shut = project.zones.values().filter(|zone| project.is_zone_shut(zone)).count();
    let zones = match all - shut {
        _ if all == 0 => String::new(),
        open if open == all => " with all zones open".to_owned(),
        0 => " with all zones shut".to_owned(),
        open => format!(" with {open} of {all} zones open"),
    };
    let weather = project.outdoor_now_c.filter(|now| Some(*now) != project.design.outdoor_c);
    let weather = weather.map(|now| units.format(Quantity::Temperature, now));
    zones + &weather.map_or_else(String::new, |now| format!(" at {now} outdoors"))
}

/// Writes it; gives back the height that it takes and the title in one line.
pub(super) fn draw(
    svg: &mut Svg,
    heading: Option<&Heading<'_>>,
    words: &Words<'_>,
    colours: &Colours,
) -> (f64, String) {
    let what = heading.map(|heading| heading.title).filter(|title| !title.is_empty()).unwrap_or(words.what);
    let warned = format!("{UNUSABLE} – {what}");
    // Before the rest, so that a long title does not push it out.
    let what = if words.stands { what } else { &warned };
    let Some(heading) = heading else { return (NONE, format!("{}. {what}", words.project)) };
    let [left, right] = SIDES;
    let rows = [(42.0, 24.0, words.project, heading.date, true), (72.0, 16.0, what, words.units, false)];
    for (y, size, text, beside, is_strong) in rows {
        let end = right - text_width(beside, 15.0) - 24.0;
        let fill = match (is_strong, words.stands) {
            (true, _) => colours.ink,
            (false, true) => colours.quiet,
            (false, false) => colours.words[1],
        };
        svg.text([left, y], &fitted(text, size, end - left), Type { is_strong, ..Type::new(size, fill) });
        svg.text([right, y], beside, Type { anchor: "end", ..Type::new(15.0, colours.quiet) });
    }
    (HEIGHT, format!("{}. {what}. {}", words.project, heading.date))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever title is asked for, and also where nothing is to stand above the picture.
    #[test]
    fn figures_that_do_not_stand_are_told() {
        let colours = Colours::new(false);
        let titled = Heading { title: "Handed over", date: "2026-03-31" };
        for heading in [None, Some(&titled)] {
            for stands in [true, false] {
                let words = Words { project: "House", what: "The system", units: "flow in m³/h", stands };
                let mut svg = Svg::default();
                let (height, title) = draw(&mut svg, heading, &words, &colours);
                let drawn = svg.finish([1000.0, height], 1000.0, "");
                assert_eq!(title.contains(UNUSABLE), !stands, "{title}");
                assert_eq!(drawn.contains(UNUSABLE), !stands && heading.is_some(), "{drawn}");
            }
        }
    }
}

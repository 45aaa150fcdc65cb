//! The drawing as a picture: pipes weighted by their flow with arrows, symbols, names, and a card for each zone.

mod cards;
mod legend;
mod names;
mod pipes;
mod strokes;
mod tags;

use super::Look;
use super::colours::Colours;
use super::heading::{self, Heading, SIDES, Words};
use super::room::Room;
use super::sheet;
use super::svg::Svg;
use crate::document::{ComponentId, Project};
use crate::engine::units::{Quantity, Units};
use crate::study::Study;

/// What a drawing shows.
#[derive(Clone, Copy)]
pub struct DrawingView<'a> {
    /// The project.
    pub project: &'a Project,
    /// Its study.
    pub study: &'a Study,
    /// The circulator in hand, if one is to be marked among several.
    pub pump: Option<ComponentId>,
}

/// Width of a drawing in its own units.
const WIDTH: f64 = 1000.0;
/// Greatest size of a grid step, and greatest height of what is drawn: small systems do not fill a page.
const LARGEST_STEP: f64 = 24.0;
const HIGHEST: f64 = 1100.0;
/// Most zones that are told below a drawing.
const MOST_LISTED: usize = 120;
/// Space beside what is drawn, and above and below it, where names may stand.
const EDGE: f64 = 16.0;
const ABOVE: f64 = 40.0;
const BELOW: f64 = 18.0;

/// From grid steps to the picture's own units.
#[derive(Clone, Copy, Debug)]
struct Scale {
    step: f64,
    offset: [f64; 2],
}

impl Scale {
    fn at(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [self.offset[0] + x * self.step, self.offset[1] + y * self.step]
    }

    fn stretch(&self, [left, top, right, bottom]: [f64; 4]) -> [f64; 4] {
        let ([left, top], [right, bottom]) = (self.at([left, top]), self.at([right, bottom]));
        [left, top, right, bottom]
    }
}

/// One drawing on its way to paper.
struct Sheet<'a> {
    view: &'a DrawingView<'a>,
    units: &'a Units,
    colours: Colours,
    scale: Scale,
}

/// Draws a drawing; without a heading nothing stands above it.
#[must_use]
pub fn drawing_svg(view: &DrawingView<'_>, units: &Units, look: Look, heading: Option<&Heading<'_>>) -> String {
    let colours = Colours::new(look.dark);
    let symbols = [Quantity::Flow, Quantity::Heat, Quantity::Temperature].map(|quantity| units.symbol(quantity));
    let words = Words {
        project: &view.project.title,
        what: &format!("The system{} at its present settings", heading::standing(view.project, units)),
        units: &format!("flow in {}, heat in {}, temperature in {}", symbols[0], symbols[1], symbols[2]),
        stands: view.study.results().converged(),
    };
    let mut body = Svg::default();
    let (top, title) = heading::draw(&mut body, heading, &words, &colours);
    // An empty sheet is a sheet.
    let [left, upper, right, lower] = sheet::extent(view.project).unwrap_or([0.0, 0.0, 44.0, 12.0]);
    let [width, height] = [(right - left).max(1.0), (lower - upper).max(1.0)];
    let most = [(SIDES[1] - SIDES[0] - 2.0 * EDGE) / width, HIGHEST / height, LARGEST_STEP];
    let step = most.into_iter().fold(f64::INFINITY, f64::min);
    let frame = [SIDES[0], top, SIDES[1], top + step * height + ABOVE + BELOW];
    let offset = [0.5 * (WIDTH - step * width) - step * left, top + ABOVE - step * upper];
    let sheet = Sheet { view, units, colours, scale: Scale { step, offset } };
    body.rect(
        [frame[0], frame[1], frame[2] - frame[0], frame[3] - frame[1]],
        &format!(r#"rx="6" fill="{}" stroke="{}""#, colours.sheet, colours.rule),
    );
    let mut room = Room::new(frame);
    pipes::draw(&mut body, &sheet, &mut room);
    strokes::draw(&mut body, &sheet, &mut room);
    let cards = cards::all(&sheet);
    let has_cards = cards::draw(&mut body, &sheet, &mut room, &cards);
    names::draw(&mut body, &sheet, &mut room);
    // A picture is no place for thousands: what is more is counted.
    let listed = if has_cards { &[] } else { &cards[..cards.len().min(MOST_LISTED)] };
    tags::draw(&mut body, &sheet, &mut room, listed);
    let more = if has_cards { 0 } else { cards.len() - listed.len() };
    let height = legend::draw(&mut body, &sheet, (listed, more), frame[3] + 22.0);
    let mut svg = Svg::default();
    svg.rect([0.0, 0.0, WIDTH, height], &format!(r#"fill="{}""#, colours.ground));
    svg.append(body);
    svg.finish([WIDTH, height], f64::from(look.width), &title)
}

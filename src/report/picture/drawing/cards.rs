//! A card beside each zone's emitter with its share of design flow, its flow and its heat; where the drawing is too wide for that, a
//! number and the share, and all in a table below.

use super::super::room::Room;
use super::super::sheet;
use super::super::svg::{Svg, Type, figure};
use super::super::width::{broken, text_width};
use super::Sheet;
use crate::document::{Zone, ZoneId};
use crate::engine::units::Quantity;
use crate::study::{ZoneResult, ZoneState, share_beside_state};

/// Sizes of a card's words and of its share.
pub(super) const SMALL: f64 = 14.0;
const LARGE: f64 = 22.0;
/// Height of a line.
pub(super) const LINE: f64 = 18.0;
/// Space within a card: left of its words, right of them, above and below.
pub(super) const INSIDE: [f64; 3] = [10.0, 6.0, 6.0];
/// Most cards: of more, none could be read.
const MOST: usize = 60;
/// Most lines of a name.
const MOST_LINES: usize = 3;

/// What a card says.
pub(super) struct Words {
    pub share: String,
    pub flow: String,
    pub heat: String,
    pub colour: &'static str,
    pub is_shut: bool,
}

impl Words {
    /// Of a zone as it stands.
    pub(super) fn new(sheet: &Sheet<'_>, result: &ZoneResult) -> Self {
        let state = result.state;
        let band = &sheet.view.project.acceptance;
        let share = share_beside_state(result.share, Some(state), band, sheet.units);
        let share = match state {
            ZoneState::Shut | ZoneState::Still => state.word().to_owned(),
            _ => format!("{} {share}", sheet::sign(state)).trim_start().to_owned(),
        };
        let [served, starved, overflowed] = sheet.colours.words;
        let colour = match state {
            ZoneState::Shut => sheet.colours.quiet,
            ZoneState::Overflowed => overflowed,
            ZoneState::Served | ZoneState::Throttled => served,
            _ => starved,
        };
        let heat = match result.room_c {
            // Where a thermostatic valve keeps it, the room is what counts.
            Some(room_c) => format!("room {}", sheet.units.format(Quantity::Temperature, room_c)),
            None => sheet.units.format(Quantity::Heat, result.heat),
        };
        Self {
            share,
            flow: sheet.units.format(Quantity::Flow, result.flow),
            heat,
            colour,
            is_shut: state == ZoneState::Shut,
        }
    }
}

/// A card as it would be written.
pub(super) struct Card<'a> {
    pub zone: &'a Zone,
    pub words: Words,
    /// Its place on the sheet; what is written may be higher, about its middle.
    place: [f64; 4],
    name: Vec<String>,
    figures: Vec<String>,
}

impl<'a> Card<'a> {
    fn new(sheet: &Sheet<'a>, id: ZoneId, zone: &'a Zone) -> Option<Self> {
        let place = sheet.scale.stretch(sheet::card(sheet.view.project, zone)?);
        let words = Words::new(sheet, sheet.view.study.results().zones.get(&id)?);
        let most = place[2] - place[0] - INSIDE[0] - INSIDE[1];
        let both = format!("{} · {}", words.flow, words.heat);
        let figures = match () {
            // Nothing flows through what is shut.
            () if words.is_shut => Vec::new(),
            () if text_width(&both, SMALL) <= most => vec![both],
            () => vec![words.flow.clone(), words.heat.clone()],
        };
        Some(Self { zone, place, name: broken(&zone.name, SMALL, most), figures, words })
    }

    /// Width that its words need.
    fn needs(&self) -> f64 {
        let small = self.name.iter().chain(&self.figures).map(|line| text_width(line, SMALL)).fold(0.0, f64::max);
        small.max(text_width(&self.words.share, LARGE)) + INSIDE[0] + INSIDE[1]
    }

    /// Where it may stand at a width: about the middle of its place, or off it by a little.
    fn places(&self, width: f64) -> Vec<[f64; 4]> {
        let [left, top, _, bottom] = self.place;
        let height = 2.0 * INSIDE[2] + LINE * (self.name.len() + self.figures.len()) as f64 + LARGE + 5.0;
        let top = 0.5 * (top + bottom - height);
        let by = [0.0, 8.0, 16.0, 24.0, -8.0, 36.0, -16.0, 48.0, -24.0, 64.0];
        by.iter().map(|by| [left, top + by, left + width, top + by + height]).collect()
    }

    fn is_level(&self) -> bool {
        self.place[2] - self.place[0] > 2.5 * (self.place[3] - self.place[1])
    }
}

/// The cards of all zones.
pub(super) fn all<'a>(sheet: &Sheet<'a>) -> Vec<Card<'a>> {
    sheet.view.project.zones.iter().filter_map(|(id, zone)| Card::new(sheet, *id, zone)).collect()
}

/// Draws all cards, or none where one finds no room.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room, cards: &[Card<'_>]) -> bool {
    // Cards of one kind are equally wide.
    let width = |card: &Card<'_>| {
        let alike = cards.iter().filter(|other| other.is_level() == card.is_level());
        alike.map(Card::needs).fold(0.0, f64::max).min(card.place[2] - card.place[0])
    };
    let fits = |card: &Card<'_>| card.name.len() <= MOST_LINES && card.needs() <= card.place[2] - card.place[0] + 0.5;
    let places: Vec<Vec<[f64; 4]>> = cards.iter().map(|card| card.places(width(card))).collect();
    let found = if cards.len() <= MOST && cards.iter().all(fits) { room.find_all(&places) } else { None };
    for (card, space) in cards.iter().zip(found.iter().flatten()) {
        write(svg, sheet, card, *space);
    }
    found.is_some()
}

/// The ground of a card with a stripe in the colour of how its zone stands.
pub(super) fn ground(svg: &mut Svg, sheet: &Sheet<'_>, [left, top, right, bottom]: [f64; 4], colour: &str) {
    let colours = &sheet.colours;
    let edge = format!(r#"rx="5" fill="{}" stroke="{}""#, colours.raised, colours.rule);
    svg.rect([left, top, right - left, bottom - top], &edge);
    let [x, y, height] = [left + 3.0, top + 5.0, bottom - top - 10.0].map(figure);
    svg.element("rect", &format!(r#"x="{x}" y="{y}" width="3" height="{height}" rx="1.5" fill="{colour}""#));
}

/// Name, share, flow and heat below each other.
fn write(svg: &mut Svg, sheet: &Sheet<'_>, card: &Card<'_>, space: [f64; 4]) {
    let words = &card.words;
    ground(svg, sheet, space, words.colour);
    let x = space[0] + INSIDE[0];
    let mut y = space[1] + INSIDE[2] + 0.78 * LINE;
    for line in &card.name {
        svg.text([x, y], line, Type { is_strong: true, ..Type::new(SMALL, sheet.colours.ink) });
        y += LINE;
    }
    y += LARGE - LINE + 5.0;
    svg.text([x, y], &words.share, Type { is_strong: true, ..Type::new(LARGE, words.colour) });
    for line in &card.figures {
        y += LINE;
        svg.text([x, y + 1.0], line, Type::new(SMALL, sheet.colours.quiet));
    }
}

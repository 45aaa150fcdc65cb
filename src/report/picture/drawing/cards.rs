//! A card beside each zone's emitter with its share of design flow, its flow and its heat; where the drawing is too wide for that, a
//! number and the share, and all in a table below.

use super::super::room::Room;
use super::super::sheet;
use super::super::svg::{Svg, Type, figure};
use super::super::symbols;
use super::super::width::{broken, text_width};
use super::Sheet;
use crate::document::{Zone, ZoneId};
use crate::engine::units::Quantity;
use crate::study::{ZoneResult, ZoneState, share_beside_state};

/// Sizes of a card's words and of its share.
pub(super) const SMALL: f64 = 14.0;
const LARGE: f64 = 22.0;
/// Height of a line.
const LINE: f64 = 18.0;
/// Space within a card: left of its words, right of them, above and below.
const INSIDE: [f64; 3] = [10.0, 6.0, 6.0];
/// Most lines of a name.
const MOST_LINES: usize = 3;

/// A zone that is told below the drawing, with its number.
pub(super) type Keyed = (usize, ZoneId);

/// What a card says.
pub(super) struct Words {
    pub share: String,
    pub flow: String,
    pub heat: String,
    pub colour: &'static str,
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
        Self { share, flow: sheet.units.format(Quantity::Flow, result.flow), heat, colour }
    }
}

/// A card as it would be written.
struct Card<'a> {
    id: ZoneId,
    zone: &'a Zone,
    words: Words,
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
        let figures = match text_width(&both, SMALL) <= most {
            true => vec![both],
            false => vec![words.flow.clone(), words.heat.clone()],
        };
        Some(Self { id, zone, place, name: broken(&zone.name, SMALL, most), figures, words })
    }

    /// Width that its words need.
    fn needs(&self) -> f64 {
        let small = self.name.iter().chain(&self.figures).map(|line| text_width(line, SMALL)).fold(0.0, f64::max);
        small.max(text_width(&self.words.share, LARGE)) + INSIDE[0] + INSIDE[1]
    }

    /// What it covers at a width.
    fn space(&self, width: f64) -> [f64; 4] {
        let [left, top, _, bottom] = self.place;
        let height = 2.0 * INSIDE[2] + LINE * (self.name.len() + self.figures.len()) as f64 + LARGE + 5.0;
        let top = 0.5 * (top + bottom - height);
        [left, top, left + width, top + height]
    }

    fn is_level(&self) -> bool {
        self.place[2] - self.place[0] > 2.5 * (self.place[3] - self.place[1])
    }
}

/// Draws all cards; gives back the zones that are to be told below.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room) -> Vec<Keyed> {
    let project = sheet.view.project;
    let cards: Vec<Card<'_>> = project.zones.iter().filter_map(|(id, zone)| Card::new(sheet, *id, zone)).collect();
    // Cards of one kind are equally wide.
    let width = |card: &Card<'_>| {
        let alike = cards.iter().filter(|other| other.is_level() == card.is_level());
        alike.map(Card::needs).fold(0.0, f64::max).min(card.place[2] - card.place[0])
    };
    let spaces: Vec<[f64; 4]> = cards.iter().map(|card| card.space(width(card))).collect();
    let is_apart =
        spaces.iter().enumerate().all(|(index, space)| !spaces[..index].iter().any(|other| meet(other, space)));
    let fits = |card: &Card<'_>| card.name.len() <= MOST_LINES && card.needs() <= card.place[2] - card.place[0] + 0.5;
    if is_apart && cards.iter().all(fits) {
        for (card, space) in cards.iter().zip(spaces) {
            room.take(space);
            write(svg, sheet, card, space);
        }
        return Vec::new();
    }
    for (index, card) in cards.iter().enumerate() {
        tag(svg, sheet, room, index + 1, card);
    }
    cards.iter().enumerate().map(|(index, card)| (index + 1, card.id)).collect()
}

fn meet(a: &[f64; 4], b: &[f64; 4]) -> bool {
    a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]
}

fn ground(svg: &mut Svg, sheet: &Sheet<'_>, [left, top, right, bottom]: [f64; 4], colour: &str) {
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

/// A number with the share beside the emitter; where there is no room for both, the number alone.
fn tag(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room, number: usize, card: &Card<'_>) {
    let number = number.to_string();
    let words = &card.words;
    let Some(emitter) = sheet.view.project.components.get(&card.zone.emitter) else { return };
    let [x, y] = sheet.scale.at(emitter.at);
    let [half_width, half_height] = symbols::half_size(emitter).map(|half| half * sheet.scale.step);
    for lines in [vec![(&number, sheet.colours.ink), (&words.share, words.colour)], vec![(&number, sheet.colours.ink)]]
    {
        let width = lines.iter().map(|(line, _)| text_width(line, SMALL)).fold(0.0, f64::max) + INSIDE[0] + 5.0;
        let height = LINE * lines.len() as f64 + 6.0;
        let mut places = Vec::new();
        for away in [4.0, 12.0, 24.0] {
            for by in [0.0, -0.5, 0.5, -1.0, 1.0] {
                places.extend([
                    [x + half_width + away, y - 0.5 * height + by * height],
                    [x - half_width - away - width, y - 0.5 * height + by * height],
                ]);
            }
            places.extend([
                [x - 0.5 * width, y - half_height - away - height],
                [x - 0.5 * width, y + half_height + away],
            ]);
        }
        let places: Vec<[f64; 4]> =
            places.into_iter().map(|[left, top]| [left, top, left + width, top + height]).collect();
        let Some(space) = room.find(&places) else { continue };
        ground(svg, sheet, space, words.colour);
        let [x, y] = [space[0] + INSIDE[0], space[1] + 0.78 * LINE + 3.0];
        for (index, (line, fill)) in lines.iter().enumerate() {
            let at = [x, y + LINE * index as f64];
            svg.text(at, line, Type { is_strong: true, ..Type::new(SMALL, fill) });
        }
        return;
    }
}

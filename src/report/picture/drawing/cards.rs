//! A card beside each zone's emitter with its share of design flow, its flow and its heat; where the drawing is too wide for that, a
//! number and the share, and all in a table below.

use super::super::room::Room;
use super::super::sheet;
use super::super::svg::{Svg, Type, figure};
use super::super::width::{broken, fitted, text_width};
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
/// Width below which a card's figures do not fit.
const LEAST: f64 = 104.0;

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

/// Draws all cards; gives back the zones that are to be told below.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room) -> Vec<Keyed> {
    let mut keyed = Vec::new();
    for (id, zone) in &sheet.view.project.zones {
        let place = sheet::card(sheet.view.project, zone).map(|place| sheet.scale.stretch(place));
        let (Some(place), Some(result)) = (place, sheet.view.study.results().zones.get(id)) else { continue };
        let words = Words::new(sheet, result);
        let is_level = place[2] - place[0] > 2.5 * (place[3] - place[1]);
        if place[2] - place[0] < LEAST * if is_level { 1.7 } else { 1.0 } {
            keyed.push((keyed.len() + 1, *id));
            tag(svg, sheet, room, (keyed.len(), place), &words);
        } else {
            card(svg, sheet, room, place, zone, &words);
        }
    }
    keyed
}

fn ground(svg: &mut Svg, sheet: &Sheet<'_>, [left, top, right, bottom]: [f64; 4], colour: &str) {
    let colours = &sheet.colours;
    let edge = format!(r#"rx="5" fill="{}" stroke="{}""#, colours.raised, colours.rule);
    svg.rect([left, top, right - left, bottom - top], &edge);
    let [x, y, height] = [left + 3.0, top + 5.0, bottom - top - 10.0].map(figure);
    svg.element("rect", &format!(r#"x="{x}" y="{y}" width="3" height="{height}" rx="1.5" fill="{colour}""#));
}

/// Name, share, flow and heat below each other; as high as it must be, about the middle of its place.
fn card(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room, place: [f64; 4], zone: &Zone, words: &Words) {
    let [left, right] = [place[0], place[2]];
    let most = right - left - INSIDE[0] - INSIDE[1];
    let mut name = broken(&zone.name, SMALL, most);
    if name.len() > 2 {
        let rest = name.split_off(1).join(" ");
        name.push(rest);
    }
    let name: Vec<String> = name.iter().map(|line| fitted(line, SMALL, most)).collect();
    let both = format!("{} · {}", words.flow, words.heat);
    let figures =
        if text_width(&both, SMALL) <= most { vec![both] } else { vec![words.flow.clone(), words.heat.clone()] };
    let height = 2.0 * INSIDE[2] + LINE * (name.len() + figures.len()) as f64 + LARGE + 5.0;
    let top = 0.5 * (place[1] + place[3] - height);
    let space = [left, top, right, top + height];
    room.take(space);
    ground(svg, sheet, space, words.colour);
    let x = left + INSIDE[0];
    let mut y = top + INSIDE[2] + 0.78 * LINE;
    for line in &name {
        svg.text([x, y], line, Type { is_strong: true, ..Type::new(SMALL, sheet.colours.ink) });
        y += LINE;
    }
    y += LARGE - LINE + 5.0;
    svg.text([x, y], &words.share, Type { is_strong: true, ..Type::new(LARGE, words.colour) });
    for line in &figures {
        y += LINE;
        svg.text([x, y + 1.0], &fitted(line, SMALL, most), Type::new(SMALL, sheet.colours.quiet));
    }
}

/// A number with the share.
fn tag(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room, (number, place): (usize, [f64; 4]), words: &Words) {
    let number = number.to_string();
    let widths = [text_width(&number, SMALL), text_width(&words.share, SMALL)];
    let [width, height] = [INSIDE[0] + widths[0].max(widths[1]) + INSIDE[1], 2.0 * LINE + 6.0];
    let middle = 0.5 * (place[1] + place[3]);
    let at = |left: f64, middle: f64| [left, middle - 0.5 * height, left + width, middle + 0.5 * height];
    let by = [0.0, -0.5, 0.5, -1.0, 1.0, -1.5, 1.5].map(|by| at(place[0] - 2.0, middle + by * height));
    let small = [at(place[0] - 2.0, middle)];
    let Some(space) = room.find(&by).or_else(|| room.find(&small)) else { return };
    ground(svg, sheet, space, words.colour);
    let [x, y] = [space[0] + INSIDE[0], space[1] + 0.78 * LINE + 3.0];
    svg.text([x, y], &number, Type { is_strong: true, ..Type::new(SMALL, sheet.colours.ink) });
    svg.text([x, y + LINE], &words.share, Type { is_strong: true, ..Type::new(SMALL, words.colour) });
}

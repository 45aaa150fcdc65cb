//! Where the drawing is too wide for cards: a number beside each emitter, with the share where there is room for all of them.

use super::super::room::Room;
use super::super::svg::{Svg, Type};
use super::super::symbols;
use super::super::width::text_width;
use super::Sheet;
use super::cards::{Card, INSIDE, LINE, SMALL, ground};

/// Space right of words, beside a number that stands alone, and its height.
const BESIDE: f64 = 5.0;
const CLOSE: f64 = 4.0;
const HIGH: f64 = 19.0;

/// Draws the tags, numbered from 1.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room, cards: &[Card<'_>]) {
    let both = cards.iter().enumerate().map(|(index, card)| {
        let wide = text_width(&(index + 1).to_string(), SMALL).max(text_width(&card.words.share, SMALL));
        places(sheet, card, [wide + INSIDE[0] + BESIDE, 2.0 * LINE + 6.0])
    });
    if let Some(spaces) = room.find_all(&both.collect::<Vec<_>>()) {
        for (index, (card, space)) in cards.iter().zip(spaces).enumerate() {
            ground(svg, sheet, space, card.words.colour);
            let [x, y] = [space[0] + INSIDE[0], space[1] + 0.78 * LINE + 3.0];
            let strong = |fill| Type { is_strong: true, ..Type::new(SMALL, fill) };
            svg.text([x, y], &(index + 1).to_string(), strong(sheet.colours.ink));
            svg.text([x, y + LINE], &card.words.share, strong(card.words.colour));
        }
        return;
    }
    let numbers: Vec<String> = (1..=cards.len()).map(|number| number.to_string()).collect();
    // All equally wide, so that they stand alike.
    let width = numbers.iter().map(|number| text_width(number, SMALL)).fold(0.0, f64::max) + 2.0 * CLOSE;
    let all: Vec<Vec<[f64; 4]>> = cards.iter().map(|card| places(sheet, card, [width, HIGH])).collect();
    let found: Vec<Option<[f64; 4]>> = match room.find_all(&all) {
        Some(found) => found.into_iter().map(Some).collect(),
        None => all.iter().map(|places| room.find(places)).collect(),
    };
    for ((card, number), space) in cards.iter().zip(&numbers).zip(found) {
        // Where there is no room at all the list below tells it alone.
        let Some([left, top, right, bottom]) = space else { continue };
        svg.rect([left, top, width, HIGH], &format!(r#"rx="4" fill="{}""#, card.words.colour));
        let kind = Type { anchor: "middle", is_strong: true, ..Type::new(SMALL, sheet.colours.sheet) };
        svg.text([0.5 * (left + right), 0.5 * (top + bottom) + 0.36 * SMALL], number, kind);
    }
}

/// Where a tag of a size may stand, the nearest to the emitter first.
fn places(sheet: &Sheet<'_>, card: &Card<'_>, [width, height]: [f64; 2]) -> Vec<[f64; 4]> {
    let Some(emitter) = sheet.view.project.components.get(&card.zone.emitter) else { return Vec::new() };
    let [x, y] = sheet.scale.at(emitter.at);
    let [half_width, half_height] = symbols::half_size(emitter).map(|half| half * sheet.scale.step);
    let mut places = Vec::new();
    for away in [3.0, 8.0, 16.0, 28.0] {
        for by in [0.0, -0.25, 0.25, -0.5, 0.5, -1.0, 1.0] {
            let top = y - 0.5 * height + by * height;
            places.extend([[x + half_width + away, top], [x - half_width - away - width, top]]);
        }
        let left = x - 0.5 * width;
        places.extend([[left, y - half_height - away - height], [left, y + half_height + away]]);
    }
    places.into_iter().map(|[left, top]| [left, top, left + width, top + height]).collect()
}

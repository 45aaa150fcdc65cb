//! What colours, weights and signs of a drawing mean, below it; the zones by number where their cards found no room.

use super::super::heading::SIDES;
use super::super::svg::{Svg, Type};
use super::super::width::{fitted, text_width};
use super::Sheet;
use super::cards::{Card, SMALL};
use crate::document::Duty;
use crate::engine::units::Quantity;
use crate::study::ZoneState;

/// Height of a row.
const LINE: f64 = 22.0;
/// Space below everything.
const FOOT: f64 = 6.0;
/// Length of a sample of a pipe.
const SAMPLE: f64 = 26.0;

/// Draws it from a height on; gives back the height of the whole picture.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, (listed, more): (&[Card<'_>], usize), top: f64) -> f64 {
    let y = samples(svg, sheet, top);
    let y = if listed.is_empty() { y } else { zones(svg, sheet, listed, y + 6.0) };
    if more == 0 {
        return y + FOOT;
    }
    let text = format!("and {more} more zones");
    svg.text([SIDES[0] + 32.0, y + 0.36 * SMALL], &text, Type::new(SMALL, sheet.colours.quiet));
    y + LINE + FOOT
}

fn samples(svg: &mut Svg, sheet: &Sheet<'_>, top: f64) -> f64 {
    let colours = &sheet.colours;
    let [supply, back] = match sheet.view.project.design.duty {
        Duty::Heating => [colours.warm, colours.cold],
        Duty::Cooling => [colours.cold, colours.warm],
    };
    let band = &sheet.view.project.acceptance;
    let share = |share: f64| sheet.units.number(Quantity::Share, share);
    let of_flow = format!(
        "%: share of design flow, to lie between {} and {}",
        share(band.low),
        sheet.units.format(Quantity::Share, band.high)
    );
    let results = sheet.view.study.results();
    let has = |wanted: &[ZoneState]| results.zones.values().any(|zone| wanted.contains(&zone.state));
    let mut rows: Vec<(Option<(&str, f64)>, String)> = vec![
        (Some((supply, 5.0)), "supply".to_owned()),
        (Some((back, 5.0)), "return; the wider a pipe, the more flows".to_owned()),
        (None, of_flow),
    ];
    if has(&[ZoneState::Shut, ZoneState::Still]) {
        rows.insert(2, (Some((colours.shut, 2.0)), "still; filled valves are shut".to_owned()));
    }
    if has(&[ZoneState::Starved, ZoneState::Still, ZoneState::Backwards]) {
        rows.push((None, "▼ too little".to_owned()));
    }
    if has(&[ZoneState::Overflowed]) {
        rows.push((None, "▲ too much".to_owned()));
    }
    let (mut x, mut y) = (SIDES[0], top);
    for (sample, text) in &rows {
        let before = if sample.is_some() { SAMPLE + 8.0 } else { 0.0 };
        let width = before + text_width(text, SMALL);
        if x > SIDES[0] && x + width > SIDES[1] {
            (x, y) = (SIDES[0], y + LINE);
        }
        if let Some((colour, weight)) = sample {
            svg.line([x, y], [x + SAMPLE, y], &format!(r#"stroke="{colour}" stroke-width="{weight}""#));
        }
        svg.text([x + before, y + 0.36 * SMALL], text, Type::new(SMALL, colours.quiet));
        x += width + 24.0;
    }
    y + LINE
}

/// The zones in two columns.
fn zones(svg: &mut Svg, sheet: &Sheet<'_>, listed: &[Card<'_>], top: f64) -> f64 {
    let colours = &sheet.colours;
    let gap = 28.0;
    let column = 0.5 * (SIDES[1] - SIDES[0] - gap);
    let rows = listed.len().div_ceil(2);
    for (index, card) in listed.iter().enumerate() {
        let left = SIDES[0] + (index / rows.max(1)) as f64 * (column + gap);
        let y = top + (index % rows.max(1)) as f64 * LINE + 0.36 * SMALL;
        let words = &card.words;
        let end = Type { anchor: "end", is_strong: true, ..Type::new(SMALL, colours.ink) };
        svg.text([left + 22.0, y], &(index + 1).to_string(), end);
        let figures = if words.is_shut { String::new() } else { format!("{} · {}", words.flow, words.heat) };
        let width = text_width(&figures, SMALL);
        svg.text([left + column, y], &figures, Type { anchor: "end", ..Type::new(SMALL, colours.quiet) });
        let share = left + column - width - 14.0;
        svg.text([share, y], &words.share, Type { fill: words.colour, ..end });
        let most = share - text_width(&words.share, SMALL) - 14.0 - left - 32.0;
        svg.text([left + 32.0, y], &fitted(&card.zone.name, SMALL, most), Type::new(SMALL, colours.ink));
    }
    top + rows as f64 * LINE
}

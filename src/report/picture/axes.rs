//! The frame of a plane: from settings to places of the picture, ticks at round numbers of the chosen units, names with units.

use super::super::map::axis_names;
use super::colours::Colours;
use super::svg::{Svg, Type};
use crate::engine::units::{Quantity, Units, round_step};
use crate::study::settings::{Axes, Plane};

/// Left, top, right and bottom of the plane in the picture.
pub(super) const FRAME: [f64; 4] = [78.0, 96.0, 663.0, 591.0];

/// Ticks of an axis, about.
const TICKS: f64 = 8.0;
/// Size of figures at ticks, and of names.
const FIGURES: f64 = 13.0;

/// A place of the plane in the picture.
pub(super) fn place(plane: &Plane, [x, y]: [f64; 2]) -> [f64; 2] {
    let share = |value: f64, [low, high]: [f64; 2]| (value - low) / (high - low);
    let [left, top, right, bottom] = FRAME;
    [left + share(x, plane.x) * (right - left), bottom - share(y, plane.y) * (bottom - top)]
}

fn quantities(axes: Axes) -> [Quantity; 2] {
    match axes {
        Axes::LimitOverSlope => [Quantity::Share, Quantity::Head],
        Axes::LimitOverCap => [Quantity::Speed, Quantity::Head],
        Axes::SlopeOverCap => [Quantity::Speed, Quantity::Share],
    }
}

/// About so many round numbers of a unit between two inside values, with as many decimals as they need.
pub(super) fn ticks(units: &Units, quantity: Quantity, [low, high]: [f64; 2], about: f64) -> Vec<(f64, String)> {
    let (a, b) = (units.from_si(quantity, low), units.from_si(quantity, high));
    let Some(step) = round_step(b - a, about) else { return Vec::new() };
    let decimals = if step >= 1.0 { 0 } else { (-step.log10().floor()) as usize };
    let first = (a / step - 1e-9).ceil() as i64;
    let numbers = (first..).map(|k| k as f64 * step).take_while(|number| *number <= b + 1e-9 * step);
    numbers.map(|number| (units.to_si(quantity, number), format!("{number:.decimals$}"))).collect()
}

/// Draws frame, ticks and names.
pub(super) fn draw(svg: &mut Svg, plane: &Plane, units: &Units, colours: &Colours) {
    let [left, top, right, bottom] = FRAME;
    svg.rect([left, top, right - left, bottom - top], &format!(r#"fill="none" stroke="{}""#, colours.ink));
    let stroke = format!(r#"stroke="{}""#, colours.ink);
    let [along, up] = quantities(plane.axes);
    for (value, text) in ticks(units, along, plane.x, TICKS) {
        let [x, _] = place(plane, [value, plane.y[0]]);
        svg.line([x, bottom], [x, bottom + 6.0], &stroke);
        svg.text([x, bottom + 22.0], &text, Type { anchor: "middle", ..Type::new(FIGURES, colours.ink) });
    }
    for (value, text) in ticks(units, up, plane.y, TICKS) {
        let [_, y] = place(plane, [plane.x[0], value]);
        svg.line([left - 6.0, y], [left, y], &stroke);
        svg.text([left - 10.0, y + 4.5], &text, Type { anchor: "end", ..Type::new(FIGURES, colours.ink) });
    }
    let names = axis_names(plane.axes);
    let name = |index: usize, quantity: Quantity| {
        let mut letters = names[index].chars();
        let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
        format!("{first}{}, {}", letters.as_str(), units.symbol(quantity))
    };
    let strong = Type { anchor: "middle", is_strong: true, ..Type::new(14.0, colours.ink) };
    svg.text([0.5 * (left + right), bottom + 46.0], &name(0, along), strong);
    svg.upright_text([left - 48.0, 0.5 * (top + bottom)], &name(1, up), strong);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_in_the_units_shown() {
        let texts = |units: &Units, quantity, range| -> Vec<String> {
            ticks(units, quantity, range, TICKS).into_iter().map(|(_, text)| text).collect()
        };
        assert_eq!(texts(&Units::si(), Quantity::Head, [0.1, 6.5]), ["1", "2", "3", "4", "5", "6"]);
        let feet = ticks(&Units::inch_pound(), Quantity::Head, [0.1, 6.5], TICKS);
        // The foot is 0.3048 m by definition.
        assert!((feet[0].0 - 5.0 * 0.3048).abs() < 1e-12 && feet[0].1 == "5", "{feet:?}");
        assert_eq!(texts(&Units::si(), Quantity::Share, [0.0, 1.0]), ["0", "20", "40", "60", "80", "100"]);
        assert!(ticks(&Units::si(), Quantity::Head, [1.0, 1.0], TICKS).is_empty());
    }
}

//! The marks on a map: the present and the best settings, told apart by shape and by name.

use super::axes::{FRAME, place};
use super::colours::Colours;
use super::labels::Taken;
use super::svg::{Svg, Type, figure, path};
use super::width::text_width;
use crate::engine::pump::Regulation;
use crate::study::settings::Plane;

/// Half the size of a mark.
const HALF: f64 = 9.0;
/// Size of its name.
const NAME: f64 = 14.0;

/// A mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    /// A diamond.
    Present,
    /// A ring with a point in it.
    Best,
}

/// Draws a mark's shape.
pub(super) fn shape(svg: &mut Svg, mark: Mark, [x, y]: [f64; 2], colours: &Colours) {
    let [cx, cy] = [x, y].map(figure);
    match mark {
        Mark::Present => {
            let corners = [[x, y - HALF], [x + HALF, y], [x, y + HALF], [x - HALF, y]];
            let style = format!(r#"fill="{}" stroke="{}" stroke-width="2""#, colours.present, colours.sheet);
            svg.path(&path(corners, true), &style);
        }
        Mark::Best => {
            let at = format!(r#"cx="{cx}" cy="{cy}""#);
            svg.element("circle", &format!(r#"{at} r="{HALF}" fill="{}" stroke="none""#, colours.sheet));
            let ring = format!(r#"{at} r="{}" fill="none" stroke="{}" stroke-width="2.5""#, HALF - 1.5, colours.ink);
            svg.element("circle", &ring);
            svg.element("circle", &format!(r#"{at} r="3.2" fill="{}""#, colours.ink));
        }
    }
}

/// Where settings lie in the picture; `None` outside the plane.
pub(super) fn spot(plane: &Plane, settings: &Regulation) -> Option<[f64; 2]> {
    let [x, y] = plane.place(settings)?;
    let is_in = |value: f64, [low, high]: [f64; 2]| value >= low - 1e-9 && value <= high + 1e-9;
    (is_in(x, plane.x) && is_in(y, plane.y)).then(|| place(plane, [x, y]))
}

/// Takes the space of marks, so that no name lies on one.
pub(super) fn reserve(taken: &mut Taken, spots: &[[f64; 2]]) {
    for [x, y] in spots {
        taken.take([x - HALF, y - HALF, x + HALF, y + HALF]);
    }
}

/// Names a mark beside it, where there is room.
pub(super) fn name(svg: &mut Svg, text: &str, [x, y]: [f64; 2], taken: &mut Taken, colours: &Colours) {
    let width = text_width(text, NAME);
    let (left, right) = (x - HALF - 4.0 - width, x + HALF + 4.0);
    let middle = x - 0.5 * width;
    let places = [[right, y], [left, y], [middle, y - 21.0], [middle, y + 21.0], [right, y - 17.0], [left, y + 17.0]];
    let space = |[x, y]: [f64; 2]| [x, y - 0.62 * NAME, x + width, y + 0.62 * NAME];
    let fits = |at: &&[f64; 2]| {
        let [a, b, c, d] = space(**at);
        a >= FRAME[0] && b >= FRAME[1] && c <= FRAME[2] && d <= FRAME[3] && taken.is_free([a, b, c, d])
    };
    // Where nothing is free the legend tells it.
    let Some(at) = places.iter().find(fits).copied() else { return };
    taken.take(space(at));
    let kind = Type { is_strong: true, rim: Some(colours.sheet), ..Type::new(NAME, colours.ink) };
    svg.text([at[0], at[1] + 0.36 * NAME], text, kind);
}

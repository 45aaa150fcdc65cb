//! Along the regulated curve stands what governs there.

use super::super::labels::Space;
use super::super::room::Room;
use super::super::svg::{Svg, Type};
use super::super::width::text_width;
use super::Plot;
use crate::study::limit_name;

/// Size of the words.
const SIZE: f64 = 15.0;
/// Shorter stretches are not named: the legend and the neighbours tell.
const LEAST: f64 = 16.0;
/// Shares of a stretch at which its name is tried.
const ALONG: [f64; 9] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.02, 0.98];

/// How far words may be from their stretch without a line that leads there.
const NEAR: f64 = 20.0;

/// A thin line from a stretch to its name where that lies further away.
fn leader(svg: &mut Svg, plot: &Plot<'_>, [x, y]: [f64; 2], [left, top, right, bottom]: Space) {
    let near = [x.clamp(left, right), y.clamp(top, bottom)];
    if (near[0] - x).hypot(near[1] - y) > NEAR {
        svg.line([x, y], near, &format!(r#"stroke="{}" stroke-width="1.2""#, plot.colours.ink));
    }
}

/// Names every stretch.
pub(super) fn names(svg: &mut Svg, plot: &Plot<'_>, room: &mut Room) {
    for range in &plot.curves.ranges {
        let on = |at: &&[f64; 2]| at[0] >= range.from_m3_per_s && at[0] <= range.to_m3_per_s;
        let points: Vec<[f64; 2]> = plot.curves.regulated.iter().filter(on).map(|at| plot.chart.head_at(*at)).collect();
        let length: f64 = points.windows(2).map(|pair| (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1])).sum();
        if length < LEAST {
            continue;
        }
        let text = format!("{} governs", limit_name(range.limit));
        let width = text_width(&text, SIZE);
        let mut places: Vec<(Space, [f64; 2])> = Vec::new();
        for away in [8.0, 16.0, 28.0, 44.0, 60.0, 80.0, 104.0] {
            for share in ALONG {
                let Some([x, y]) = points.get((share * (points.len() - 1) as f64).round() as usize) else { continue };
                let space = |left: f64, middle: f64| ([left, middle - 9.0, left + width, middle + 9.0], [*x, *y]);
                places.extend([
                    space(x - 0.5 * width, y - away - 9.0),
                    space(x + away, y - 0.5 * away),
                    space(x - 0.5 * width, y + away + 9.0),
                    space(x - away - width, y + 0.5 * away),
                    space(x + away, y - away),
                    space(x + away, y + away),
                ]);
            }
        }
        let spaces: Vec<Space> = places.iter().map(|(space, _)| *space).collect();
        let Some(space) = room.find_clear(&spaces) else { continue };
        let [left, top, ..] = space;
        if let Some((_, from)) = places.iter().find(|(place, _)| *place == space) {
            leader(svg, plot, *from, space);
        }
        let kind = Type { is_strong: true, rim: Some(plot.colours.sheet), ..Type::new(SIZE, plot.colours.ink) };
        svg.text([left, top + 9.0 + 0.36 * SIZE], &text, kind);
    }
}

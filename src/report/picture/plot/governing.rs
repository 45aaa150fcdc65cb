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
        let mut places: Vec<Space> = Vec::new();
        for away in [8.0, 16.0, 28.0, 44.0] {
            for share in ALONG {
                let Some([x, y]) = points.get((share * (points.len() - 1) as f64).round() as usize) else { continue };
                let space = |left: f64, middle: f64| [left, middle - 9.0, left + width, middle + 9.0];
                places.extend([
                    space(x - 0.5 * width, y - away - 9.0),
                    space(x + away, y - 0.5 * away),
                    space(x - 0.5 * width, y + away + 9.0),
                    space(x - away - width, y + 0.5 * away),
                ]);
            }
        }
        let Some([left, top, ..]) = room.find(&places) else { continue };
        let kind = Type { is_strong: true, rim: Some(plot.colours.sheet), ..Type::new(SIZE, plot.colours.ink) };
        svg.text([left, top + 9.0 + 0.36 * SIZE], &text, kind);
    }
}

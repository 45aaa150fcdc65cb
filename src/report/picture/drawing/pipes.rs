//! Pipes: weight by flow, colour by side, arrows in the direction of flow.

use super::super::room::Room;
use super::super::sheet::{self, STILL};
use super::super::svg::{Svg, path};
use super::Sheet;
use crate::document::course;

/// Draws all pipes; names keep off them.
pub(super) fn draw(svg: &mut Svg, sheet: &Sheet<'_>, room: &mut Room) {
    let view = sheet.view;
    let whole = sheet::whole_flow(view.study.results());
    let unit = (sheet.scale.step / 16.0).clamp(0.4, 1.5);
    svg.open("g", r#"fill="none" stroke-linejoin="round" stroke-linecap="round""#);
    let mut heads = Vec::new();
    for (id, pipe) in &view.project.pipes {
        let points: Vec<[f64; 2]> = course(view.project, pipe).iter().map(|at| sheet.scale.at(*at)).collect();
        let [flow, share] = sheet::flow_of(view.study.results(), *id, whole);
        let colour = match sheet::is_warm(view.project, view.study, pipe) {
            _ if share < STILL => sheet.colours.shut,
            true => sheet.colours.warm,
            false => sheet.colours.cold,
        };
        let width = sheet::weight(share) * unit;
        svg.path(&path(points.iter().copied(), false), &format!(r#"stroke="{colour}" stroke-width="{width:.2}""#));
        room.line(&points);
        if share < STILL {
            continue;
        }
        let size = sheet::arrow_size(width);
        let every = sheet::ARROW_EVERY * sheet.scale.step;
        for [at, [dx, dy]] in sheet::places_along(&points, 0.5 * every, every, size) {
            let direction = if flow > 0.0 { [dx, dy] } else { [-dx, -dy] };
            heads.push(sheet::arrow_head(at, direction, size));
        }
    }
    svg.close("g");
    let style = format!(r#"fill="{}""#, sheet.colours.sheet);
    for head in heads {
        svg.path(&path(head, true), &style);
    }
}

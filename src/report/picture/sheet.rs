//! What a drawing shows of the water, and where its cards lie, in grid steps: the window and the pictures draw by the same rule.

use crate::document::{Duty, PipeId, PipeRun, Project, Turn, Zone};
use crate::study::{Results, Study, ZoneState};

/// Share of what all zones ask for below which a pipe counts as still.
pub const STILL: f64 = 1e-4;
/// Distance between arrows, grid steps.
pub const ARROW_EVERY: f64 = 3.2;

/// Width and height of a card beside an upright emitter, grid steps.
const UPRIGHT: [f64; 2] = [6.9, 4.9];
/// The same of a card above a level emitter.
const LEVEL: [f64; 2] = [10.0, 2.7];

/// A stretch of the grid: left, top, right, bottom.
pub type Stretch = [f64; 4];

/// What all zones ask for, m³/s: against that a pipe keeps its weight when others fall silent.
#[must_use]
pub fn whole_flow(results: &Results) -> f64 {
    results.zones.values().map(|zone| zone.design_flow).sum()
}

/// Flow in a pipe, m³/s, and its share of what all zones ask for.
#[must_use]
pub fn flow_of(results: &Results, id: PipeId, whole: f64) -> [f64; 2] {
    let flow = results.pipes.get(&id).map_or(0.0, |pipe| pipe.flow);
    [flow, (flow.abs() / whole.max(1e-9)).min(1.5)]
}

/// How wide a pipe with such a share is drawn where a grid step is sixteen points.
#[must_use]
pub fn weight(share: f64) -> f64 {
    1.6 + 6.5 * share.sqrt()
}

/// Whether a pipe holds the warmer water: the supply side when heating, the return side when cooling.
#[must_use]
pub fn is_warm(project: &Project, study: &Study, pipe: &PipeRun) -> bool {
    let supply = study.lowered().nodes.get(&pipe.from).is_some_and(|node| study.is_supply(*node));
    supply == (project.design.duty == Duty::Heating)
}

/// Half the length of an arrow head on a pipe of such a width.
#[must_use]
pub fn arrow_size(width: f64) -> f64 {
    (0.42 * width).clamp(1.8, 5.0)
}

/// The corners of an arrow head: its point first.
#[must_use]
pub fn arrow_head([x, y]: [f64; 2], [dx, dy]: [f64; 2], size: f64) -> [[f64; 2]; 3] {
    let (side, back) = (0.75 * size, 0.8 * size);
    let foot = [x - dx * back, y - dy * back];
    [
        [x + dx * size, y + dy * size],
        [foot[0] - dy * side, foot[1] + dx * side],
        [foot[0] + dy * side, foot[1] - dx * side],
    ]
}

/// Places along a line, `every` apart from `first` on, that lie off its ends by more than `off`; each with the line's direction there.
#[must_use]
pub fn places_along(points: &[[f64; 2]], first: f64, every: f64, off: f64) -> Vec<[[f64; 2]; 2]> {
    let step = |pair: &[[f64; 2]]| (pair[1][0] - pair[0][0]).hypot(pair[1][1] - pair[0][1]);
    let length: f64 = points.windows(2).map(step).sum();
    let (mut next, mut gone) = (first, 0.0);
    let mut places = Vec::new();
    for pair in points.windows(2) {
        let step = step(pair);
        let direction = [0, 1].map(|axis: usize| (pair[1][axis] - pair[0][axis]) / step);
        while every > 0.0 && next < gone + step {
            if next > off && next < length - off {
                places.push([[0, 1].map(|axis: usize| pair[0][axis] + direction[axis] * (next - gone)), direction]);
            }
            next += every;
        }
        gone += step;
    }
    places
}

/// The sign beside a zone that does not stand as it should.
#[must_use]
pub fn sign(state: ZoneState) -> &'static str {
    match state {
        ZoneState::Still | ZoneState::Backwards | ZoneState::Starved => "▼",
        ZoneState::TooCold | ZoneState::TooWarm => "!",
        ZoneState::Overflowed => "▲",
        ZoneState::Shut | ZoneState::Served | ZoneState::Throttled => "",
    }
}

/// Where a zone's card lies on the grid.
#[must_use]
pub fn card(project: &Project, zone: &Zone) -> Option<Stretch> {
    let emitter = project.components.get(&zone.emitter)?;
    let [x, y] = emitter.at;
    let (offset, [width, height]) = match emitter.turn {
        Turn::Down | Turn::Up => ([0.5 * UPRIGHT[0] + 1.2, 0.0], UPRIGHT),
        Turn::Right | Turn::Left => ([0.5 * LEVEL[0] + 2.4, 0.2], LEVEL),
    };
    let [x, y] = [x + offset[0], y + offset[1]];
    Some([x - 0.5 * width, y - 0.5 * height, x + 0.5 * width, y + 0.5 * height])
}

/// The stretch of the grid that everything takes, cards included; `None` while nothing is drawn.
#[must_use]
pub fn extent(project: &Project) -> Option<Stretch> {
    let about = |[x, y]: [f64; 2], [width, height]: [f64; 2]| {
        [x - 0.5 * width, y - 0.5 * height, x + 0.5 * width, y + 0.5 * height]
    };
    let components = project.components.values().map(|component| about(component.at, [3.0, 2.6]));
    let bends = project.pipes.values().flat_map(|pipe| pipe.bends.iter().map(|bend| about(*bend, [0.0, 0.0])));
    let cards = project.zones.values().filter_map(|zone| card(project, zone));
    components.chain(bends).chain(cards).reduce(|a, b| [a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arrows_stand_along_a_line_and_point_along_it() {
        let line = [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0]];
        let places = places_along(&line, 1.0, 2.5, 0.5);
        assert_eq!(places, [[[1.0, 0.0], [1.0, 0.0]], [[3.5, 0.0], [1.0, 0.0]], [[4.0, 2.0], [0.0, 1.0]]]);
        let [point, a, b] = arrow_head([4.0, 2.0], [0.0, 1.0], 1.0);
        assert_eq!((point, a[1], b[1]), ([4.0, 3.0], 1.2, 1.2));
        assert!((a[0] - 3.25).abs() < 1e-12 && (b[0] - 4.75).abs() < 1e-12);
    }
}

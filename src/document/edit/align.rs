//! Places of components in line and at equal distances.

use crate::document::{ComponentId, Project};
use std::collections::{BTreeMap, BTreeSet};

/// A line that components are brought onto.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// Level, all at one height.
    Row,
    /// Upright, all below each other.
    Column,
}

impl Line {
    /// The axis along which the line runs: 0 for x, 1 for y.
    fn along(self) -> usize {
        match self {
            Self::Row => 0,
            Self::Column => 1,
        }
    }
}

/// Places of components brought onto one line through the middle of them, on a whole grid step.
#[must_use]
pub fn aligned(project: &Project, components: &BTreeSet<ComponentId>, line: Line) -> BTreeMap<ComponentId, [f64; 2]> {
    let mut places = places(project, components);
    let across = 1 - line.along();
    if let Some((least, greatest)) = extent(&places, across) {
        let middle = (0.5 * (least + greatest)).round();
        places.values_mut().for_each(|place| place[across] = middle);
    }
    places
}

/// Places of components at equal distances along a line between the outermost two; across it they stay where they are.
#[must_use]
pub fn distributed(
    project: &Project,
    components: &BTreeSet<ComponentId>,
    line: Line,
) -> BTreeMap<ComponentId, [f64; 2]> {
    let mut places = places(project, components);
    let along = line.along();
    let Some((least, greatest)) = extent(&places, along) else { return places };
    let mut order: Vec<(f64, ComponentId)> = places.iter().map(|(id, place)| (place[along], *id)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let last = order.len().saturating_sub(1);
    for (number, (_, id)) in order.into_iter().enumerate().take(last).skip(1) {
        if let Some(place) = places.get_mut(&id) {
            place[along] = least + (greatest - least) * number as f64 / last as f64;
        }
    }
    places
}

fn places(project: &Project, components: &BTreeSet<ComponentId>) -> BTreeMap<ComponentId, [f64; 2]> {
    components.iter().filter_map(|id| Some((*id, project.components.get(id)?.at))).collect()
}

/// Least and greatest place along an axis.
fn extent(places: &BTreeMap<ComponentId, [f64; 2]>, axis: usize) -> Option<(f64, f64)> {
    let of = |choose: fn(f64, f64) -> f64| places.values().map(|place| place[axis]).reduce(choose);
    Some((of(f64::min)?, of(f64::max)?))
}

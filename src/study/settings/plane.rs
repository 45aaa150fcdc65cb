//! A plane of two settings, the third held: what stands on which axis, and how far it goes.

use crate::engine::pump::Regulation;
use crate::study::part_load::{Law, PartLoad};

/// Two of the three settings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Axes {
    /// Head limit over slope.
    #[default]
    LimitOverSlope,
    /// Head limit over speed cap.
    LimitOverCap,
    /// Slope over speed cap.
    SlopeOverCap,
}

impl Axes {
    /// All choices.
    pub const ALL: [Self; 3] = [Self::LimitOverSlope, Self::LimitOverCap, Self::SlopeOverCap];
}

/// A plane of two settings: x runs along, y up, both in SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// What stands on the axes.
    pub axes: Axes,
    /// Least and greatest x.
    pub x: [f64; 2],
    /// Least and greatest y.
    pub y: [f64; 2],
    /// The settings; those on the axes do not count.
    pub base: Regulation,
}

impl Plane {
    /// The whole plane of a pump's settings around a base.
    #[must_use]
    pub fn new(part_load: &PartLoad, axes: Axes, base: Regulation) -> Self {
        let ranges = part_load.ranges;
        let both = |(low, high): (f64, f64)| [low, high];
        let least_cap = ranges.speed_cap.0.max(base.minimum_speed).max(0.3_f64.min(ranges.speed_cap.1));
        let cap = [least_cap, ranges.speed_cap.1];
        // Where a setting cannot be moved its axis is a step wide all the same.
        let wide = |[low, high]: [f64; 2], step: f64| if high > low { [low, high] } else { [low - step, high] };
        let steps = part_load.steps;
        let cap = wide(cap, steps.speed_cap);
        let (x, y) = match axes {
            Axes::LimitOverSlope => (both(ranges.slope), wide(both(ranges.head_limit), steps.head_limit)),
            Axes::LimitOverCap => (cap, wide(both(ranges.head_limit), steps.head_limit)),
            Axes::SlopeOverCap => (cap, both(ranges.slope)),
        };
        Self { axes, x, y, base }
    }

    /// The settings at a place.
    #[must_use]
    pub fn settings(&self, [x, y]: [f64; 2]) -> Regulation {
        match self.axes {
            Axes::LimitOverSlope => Regulation { slope: x, head_limit_m: Some(y), ..self.base },
            Axes::LimitOverCap => Regulation { speed_cap: x, head_limit_m: Some(y), ..self.base },
            Axes::SlopeOverCap => Regulation { speed_cap: x, slope: y, ..self.base },
        }
    }

    /// Where settings lie; `None` for a pump without head limit on an axis of it.
    #[must_use]
    pub fn place(&self, settings: &Regulation) -> Option<[f64; 2]> {
        Some(match self.axes {
            Axes::LimitOverSlope => [settings.slope, settings.head_limit_m?],
            Axes::LimitOverCap => [settings.speed_cap, settings.head_limit_m?],
            Axes::SlopeOverCap => [settings.speed_cap, settings.slope],
        })
    }

    /// A share of the width and of the height as a place.
    #[must_use]
    pub fn at(&self, [along, up]: [f64; 2]) -> [f64; 2] {
        let mix = |[low, high]: [f64; 2], share: f64| low + share * (high - low);
        [mix(self.x, along), mix(self.y, up)]
    }

    /// Whether more of y is more head.
    pub(super) fn rises_with_y(&self) -> bool {
        self.axes != Axes::SlopeOverCap
    }

    pub(super) fn law(&self, part_load: &PartLoad, place: [f64; 2]) -> Law {
        part_load.law(&self.settings(place))
    }
}

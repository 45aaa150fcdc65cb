//! The region of a plane in which every zone keeps its band in every state. Its edge is computed, not read off a raster.
//!
//! At a fixed x the head at every flow rises or falls with y alone, so the settings that serve are one stretch of y: its ends are found
//! by halving. x is divided evenly first and then finer wherever the edge turns more than a straight line shows, which is where
//! another state begins to decide, and where the region begins and ends; so a region thinner than any raster is found and
//! drawn as thin as it is.

use super::deciding::Deciding;
use super::plane::Plane;
use crate::study::part_load::{Law, PartLoad};

/// Columns that the plane is divided into at first.
const COLUMNS: u32 = 60;
/// How often a column may be halved, and how far the edge may be off a straight line, as a share of the plane.
const HALVINGS: u32 = 9;
const STRAIGHT: f64 = 5e-4;

/// The stretch of y that serves at an x.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stretch {
    x: f64,
    /// Ends of the stretch; where they have passed each other nothing serves.
    low: f64,
    high: f64,
}

impl Stretch {
    fn is_open(&self) -> bool {
        // Ends that meet are those of a stretch that begins and ends at the bottom: nothing serves there.
        self.low < self.high
    }
}

/// A piece of the region: its outline, closed, in x and y.
pub type Outline = Vec<[f64; 2]>;

/// The region, piece by piece.
#[must_use]
pub fn region(part_load: &PartLoad, deciding: &Deciding, plane: &Plane) -> Vec<Outline> {
    if !deciding.impossible.is_empty() {
        return Vec::new();
    }
    let finder = Finder { part_load, deciding, plane };
    let mut stretches = Vec::new();
    let mut last = finder.stretch(plane.x[0]);
    stretches.push(last);
    for column in 1..=COLUMNS {
        let next = finder.stretch(plane.at([f64::from(column) / f64::from(COLUMNS), 0.0])[0]);
        finder.refine(last, next, HALVINGS, &mut stretches);
        stretches.push(next);
        last = next;
    }
    pieces(&stretches)
}

struct Finder<'a> {
    part_load: &'a PartLoad,
    deciding: &'a Deciding,
    plane: &'a Plane,
}

impl Finder<'_> {
    /// The stretch at an x.
    fn stretch(&self, x: f64) -> Stretch {
        let law = |y: f64| self.plane.law(self.part_load, [x, y]);
        let reaches = |law: &Law| self.deciding.reaches_all(law);
        let passes = |law: &Law| !self.deciding.passes_none(law);
        let [bottom, top] = self.plane.y;
        if self.plane.rises_with_y() {
            let low = halved(bottom, top, |y| reaches(&law(y)));
            let high = halved(bottom, top, |y| passes(&law(y)));
            // Beyond the top it would serve: nothing does here.
            let low = low.unwrap_or(2.0 * top - bottom);
            Stretch { x, low, high: high.unwrap_or(top) }
        } else {
            let low = halved(bottom, top, |y| !passes(&law(y)));
            let high = halved(bottom, top, |y| !reaches(&law(y)));
            let low = low.unwrap_or(2.0 * top - bottom);
            Stretch { x, low, high: high.unwrap_or(top) }
        }
    }

    /// Puts stretches between two where the edge is not straight, or where the region begins or ends between them.
    fn refine(&self, left: Stretch, right: Stretch, halvings: u32, all: &mut Vec<Stretch>) {
        if halvings == 0 {
            return;
        }
        let middle = self.stretch(0.5 * (left.x + right.x));
        let height = self.plane.y[1] - self.plane.y[0];
        let bend = |a: f64, b: f64, c: f64| (0.5 * (a + c) - b).abs() / height;
        let bends = bend(left.low, middle.low, right.low).max(bend(left.high, middle.high, right.high)) > STRAIGHT;
        let opens = left.is_open() != middle.is_open() || middle.is_open() != right.is_open();
        let is_near = left.is_open() || middle.is_open() || right.is_open() || {
            // Two edges that come near each other may cross between.
            let gap = |stretch: &Stretch| (stretch.low - stretch.high) / height;
            gap(&middle) < 0.25 * (gap(&left) + gap(&right)) || gap(&middle).min(gap(&left)).min(gap(&right)) < 0.02
        };
        if is_near && (bends || opens) {
            self.refine(left, middle, halvings - 1, all);
            all.push(middle);
            self.refine(middle, right, halvings - 1, all);
        }
    }
}

/// The least y at which something holds that holds for all greater ones too; `None` where it holds for none.
fn halved(bottom: f64, top: f64, holds: impl Fn(f64) -> bool) -> Option<f64> {
    if holds(bottom) {
        return Some(bottom);
    }
    if !holds(top) {
        return None;
    }
    let (mut low, mut high) = (bottom, top);
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        if holds(middle) { high = middle } else { low = middle }
    }
    Some(high)
}

/// Stretches in a row as outlines: up along the low ends, back along the high ones.
fn pieces(stretches: &[Stretch]) -> Vec<Outline> {
    stretches
        .chunk_by(|a, b| a.is_open() == b.is_open())
        .filter(|run| run[0].is_open())
        .map(|run| {
            let low = run.iter().map(|stretch| [stretch.x, stretch.low]);
            let high = run.iter().rev().map(|stretch| [stretch.x, stretch.high]);
            low.chain(high).collect()
        })
        .collect()
}

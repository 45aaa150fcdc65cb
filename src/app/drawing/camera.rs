//! From grid steps to the screen and back.

use egui::{Pos2, Rect, Vec2, pos2, vec2};

/// Least and greatest size of a grid step, points: a row of ten thousand zones still has its whole length on the sheet.
const ZOOM: std::ops::RangeInclusive<f32> = 0.01..=80.0;
/// Size of a grid step above which nothing grows when a whole drawing is shown.
const WHOLE: f32 = 30.0;

/// Where the sheet lies under the pane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Camera {
    /// Points for each grid step.
    pub(super) zoom: f32,
    /// Where the grid's origin lies on the screen.
    pub(super) offset: Vec2,
}

impl Camera {
    /// Shows a stretch of the grid whole and centred.
    pub(super) fn fit(extent: Rect, pane: Rect) -> Self {
        // Names stand above what is uppermost.
        let room = pane.shrink2(vec2(14.0, 26.0)).size().max(vec2(1.0, 1.0));
        let size = extent.size().max(vec2(1.0, 1.0));
        let zoom = (room.x / size.x).min(room.y / size.y).clamp(*ZOOM.start(), WHOLE);
        let offset = pane.center() - pos2(0.0, 0.0) - extent.center().to_vec2() * zoom;
        Self { zoom, offset }
    }

    /// Where a place on the grid lies on the screen.
    pub(super) fn at(&self, [x, y]: [f64; 2]) -> Pos2 {
        pos2(x as f32, y as f32) * self.zoom + self.offset
    }

    /// What place on the grid lies under a place on the screen.
    pub(super) fn place(&self, pos: Pos2) -> [f64; 2] {
        let at = (pos - self.offset) / self.zoom;
        [f64::from(at.x), f64::from(at.y)]
    }

    /// Brings a place on the grid to a place on the screen.
    pub(super) fn bring(&mut self, place: [f64; 2], to: Pos2) {
        self.offset += to - self.at(place);
    }

    /// Zooms so that what lies under the pointer stays there: from half of what shows everything to what shows a valve.
    pub(super) fn zoom_about(&mut self, pointer: Pos2, factor: f32, whole: f32) {
        let zoom = (self.zoom * factor).min(*ZOOM.end()).max(0.5 * whole);
        let under = (pointer - self.offset) / self.zoom;
        self.zoom = zoom;
        self.offset = pointer - under * zoom;
    }
}

//! How much of the grid a drawing takes.

use super::super::view::{View, Work};
use crate::report::picture::sheet;
use egui::{Pos2, Rect, Vec2, pos2, vec2};

/// What is shown of an empty sheet, grid steps.
const LEAST: Vec2 = vec2(44.0, 26.0);

/// The stretch of the grid that everything takes, cards included.
pub(super) fn extent(view: &View<'_>) -> Rect {
    let Some([left, top, right, bottom]) = sheet::extent(view.project).map(|stretch| stretch.map(|value| value as f32))
    else {
        return Rect::from_center_size(Pos2::ZERO, LEAST);
    };
    let extent = Rect::from_min_max(pos2(left, top), pos2(right, bottom));
    // While little is drawn there is room for more.
    let more = if view.work == Work::Draw { (LEAST - extent.size()).max(Vec2::ZERO) } else { Vec2::ZERO };
    extent.expand2(0.5 * more)
}

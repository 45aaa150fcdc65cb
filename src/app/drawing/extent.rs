//! How much of the grid a drawing takes.

use super::super::view::{View, Work};
use super::cards;
use egui::{Pos2, Rect, Vec2, pos2, vec2};

/// What is shown of an empty sheet, grid steps.
const LEAST: Vec2 = vec2(44.0, 26.0);

/// The stretch of the grid that everything takes, cards included.
pub(super) fn extent(view: &View<'_>) -> Rect {
    let mut extent = Rect::NOTHING;
    for component in view.project.components.values() {
        let center = pos2(component.at[0] as f32, component.at[1] as f32);
        extent = extent.union(Rect::from_center_size(center, vec2(3.0, 2.6)));
    }
    for pipe in view.project.pipes.values() {
        for bend in &pipe.bends {
            extent.extend_with(pos2(bend[0] as f32, bend[1] as f32));
        }
    }
    for zone in view.project.zones.values() {
        if let Some(rect) = cards::place(view, zone) {
            extent = extent.union(rect);
        }
    }
    if !extent.is_finite() {
        return Rect::from_center_size(Pos2::ZERO, LEAST);
    }
    // While little is drawn there is room for more.
    let more = if view.work == Work::Draw { (LEAST - extent.size()).max(Vec2::ZERO) } else { Vec2::ZERO };
    extent.expand2(0.5 * more)
}

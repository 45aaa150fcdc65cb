//! Columns of the stair: names at the left, figures at the right, bars between.

use super::super::look::{self, size};
use super::super::view::View;
use crate::engine::units::Quantity;
use crate::study::HeadPath;
use egui::{Color32, Rect, Ui};

/// Space between columns.
pub(super) const GAP: f32 = 11.0;

/// Left edge of names, both edges of bars, right edges of figures.
#[derive(Clone, Copy, Debug)]
pub(super) struct Columns {
    pub(super) name: f32,
    pub(super) bar: (f32, f32),
    pub(super) drop: f32,
    pub(super) share: f32,
    /// What the second path's step takes.
    pub(super) beside: Option<f32>,
    /// Head that is left, where there is room to tell it.
    pub(super) left: Option<f32>,
}

/// How wide the figures are, in points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Widths {
    drop: f32,
    share: f32,
    left: f32,
    beside: Option<f32>,
}

impl Widths {
    /// As wide as the present units ask for.
    pub(super) fn new(ui: &Ui, view: &View<'_>, first: &HeadPath, second: Option<&HeadPath>) -> Self {
        let width =
            |text: String| ui.painter().layout_no_wrap(text, look::font(size::BODY), Color32::BLACK).size().x.ceil();
        let pressure = |path: &HeadPath| {
            // The greatest step is less than the head, or a rise with a sign.
            let least = path.steps.iter().map(|step| step.drop_pa).fold(0.0, f64::min);
            let widths = [path.head_pa, least].map(|pa| width(view.units.format(Quantity::Pressure, pa)));
            widths.into_iter().fold(56.0, f32::max)
        };
        Self {
            drop: pressure(first),
            share: width(view.units.format(Quantity::Share, -1.0)),
            left: width(view.units.format(Quantity::Head, first.head_m)).max(52.0),
            beside: second.map(pressure),
        }
    }
}

impl Columns {
    /// Lays out columns from the right; the bar takes what they leave.
    pub(super) fn new(rect: Rect, widths: Widths) -> Self {
        let name_width = (0.31 * rect.width()).clamp(130.0, 300.0);
        // Room for the bar of the scroll area.
        let mut edge = rect.right() - GAP;
        let mut column = |width: f32| {
            let at = edge;
            edge -= width + GAP;
            at
        };
        let beside = widths.beside.map(&mut column);
        let is_wide = rect.width() > 620.0;
        let left = is_wide.then(|| column(widths.left));
        let share = column(widths.share);
        let drop = column(widths.drop);
        let start = rect.left() + name_width;
        Self { name: rect.left(), bar: (start, edge.max(start + 20.0)), drop, share, beside, left }
    }
}

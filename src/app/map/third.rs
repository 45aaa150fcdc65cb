//! The third setting, the one that is on no axis: a slider beside the map, which changes with it.

use super::super::term_card::TermCard;
use super::super::view::{Intent, View};
use crate::document::{Command, stepped, within};
use crate::engine::units::Quantity;
use crate::study::settings::Axes;
use crate::study::terms::Term;
use egui::{Slider, Ui};

/// Shows it.
pub(super) fn show(ui: &mut Ui, view: &View<'_>, axes: Axes, intents: &mut Vec<Intent>) {
    let (Some(pump), Some(unit)) = (view.pump, view.unit()) else { return };
    let (settings, steps, ranges) = (unit.regulation, unit.steps, unit.ranges());
    let (name, quantity, value, step, range) = match axes {
        Axes::LimitOverSlope => {
            ("Speed cap", Quantity::Share, Some(settings.speed_cap), steps.speed_cap, ranges.speed_cap)
        }
        Axes::LimitOverCap => ("Slope", Quantity::Share, Some(settings.slope), steps.slope, ranges.slope),
        Axes::SlopeOverCap => {
            ("Head limit", Quantity::Head, settings.head_limit_m, steps.head_limit, ranges.head_limit)
        }
    };
    let Some(value) = value else {
        ui.label("No head limit is set.");
        return;
    };
    let mut wanted = value;
    let is_moved = ui.horizontal(|ui| {
        let term = match axes {
            Axes::LimitOverSlope => Term::SpeedCap,
            Axes::LimitOverCap => Term::Slope,
            Axes::SlopeOverCap => Term::HeadLimit,
        };
        TermCard::new(view, term).on(&ui.label(name));
        ui.spacing_mut().slider_width = (ui.available_width() - 76.0).max(60.0);
        let units = *view.units;
        let slider = Slider::new(&mut wanted, range.0..=range.1)
            .clamping(egui::SliderClamping::Edits)
            .custom_formatter(move |value, _| units.format(quantity, value))
            .custom_parser(move |text| units.parse(quantity, text).ok());
        let response = ui.add(slider);
        response
            .widget_info(|| egui::WidgetInfo::slider(true, units.from_si(quantity, value), format!("{name}, held")));
        response.changed()
    });
    // Whole steps from zero, as everywhere, not from the least that can be set.
    let wanted = within(stepped(wanted, step), range);
    if is_moved.inner && (wanted - value).abs() > 1e-9 {
        intents.push(Intent::Change(match axes {
            Axes::LimitOverSlope => Command::SetSpeedCap(pump, wanted),
            Axes::LimitOverCap => Command::SetSlope(pump, wanted),
            Axes::SlopeOverCap => Command::SetHeadLimit(pump, Some(wanted)),
        }));
    }
}

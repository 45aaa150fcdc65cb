//! What mean powers come to in words: energy of a year where scenarios have hours, else the power itself.

use super::super::view::View;
use crate::engine::units::Quantity;
use crate::study::part_load::PartLoad;

/// A mean power, W: "153 kWh a year", standing by counted, or "28.4 W on the mean".
pub(super) fn whole(view: &View<'_>, part_load: &PartLoad, mean_w: f64) -> String {
    match part_load.has_hours() {
        true => format!("{} a year", view.units.format(Quantity::Energy, part_load.year_of_mean_j(mean_w))),
        false => format!("{} on the mean", view.units.format(Quantity::Power, mean_w)),
    }
}

/// A difference of mean powers, W, without its sign: "51 kWh a year" or "10.2 W".
pub(super) fn difference(view: &View<'_>, part_load: &PartLoad, by_w: f64) -> String {
    match part_load.has_hours() {
        true => format!("{} a year", view.units.format(Quantity::Energy, part_load.energy_of_mean_j(by_w.abs()))),
        false => view.units.format(Quantity::Power, by_w.abs()),
    }
}

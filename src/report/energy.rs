//! Energy of a year as it is told: solved scenario by scenario, with what it costs and emits, and rounded so that parts and differences
//! add up as they stand there.

use crate::document::{EnergyBasis, Project};
use crate::engine::units::{Quantity, SPACE, Units};
use crate::study::Results;
use crate::study::part_load::standby_of_rest_j;
use serde::Serialize;

/// Seconds of an hour.
pub(super) const HOUR_S: f64 = 3600.0;
/// Joules of a kilowatt-hour.
pub(super) const KWH_J: f64 = 3.6e6;

/// Electric energy of a year.
#[derive(Clone, Debug, PartialEq)]
pub struct YearEnergy {
    /// Of all circulators in each scenario's hours, J.
    pub each_j: Vec<f64>,
    /// Of all circulators standing by for the rest of the year, J.
    pub standby_j: f64,
    /// Hours of all scenarios.
    pub hours: f64,
}

impl YearEnergy {
    /// From the electric power of all circulators in each scenario, W.
    #[must_use]
    pub fn new(project: &Project, powers_w: &[f64]) -> Self {
        let hours = || project.scenarios.iter().map(|scenario| scenario.hours_per_year);
        let each_j = powers_w.iter().zip(hours()).map(|(power_w, hours)| power_w * hours * HOUR_S).collect();
        let all: f64 = hours().sum();
        Self { each_j, standby_j: standby_of_rest_j(project, all), hours: all }
    }

    /// In the scenarios' hours, J.
    #[must_use]
    pub fn in_hours_j(&self) -> f64 {
        self.each_j.iter().sum()
    }

    /// Of the whole year, J.
    #[must_use]
    pub fn total_j(&self) -> f64 {
        self.in_hours_j() + self.standby_j
    }
}

/// Electric power of all circulators, W.
pub(super) fn power_w(results: &Results) -> f64 {
    results.pumps.values().map(|pump| pump.electric_w).sum()
}

/// A number of the chosen unit as it is shown, so that what is shown adds up.
pub(super) fn shown(units: &Units, inside: f64) -> f64 {
    let unit = units.get(Quantity::Energy);
    let scale = 10.0_f64.powi(i32::try_from(unit.decimals()).unwrap_or(0));
    unit.to_si((unit.from_si(inside) * scale).round() / scale)
}

/// Parts as they are shown: each is what the shown sum grows by, so that they add up to it.
pub(super) fn shown_parts(units: &Units, parts: &[f64]) -> Vec<f64> {
    let mut sum = 0.0;
    let grows = |part: &f64| {
        let before = shown(units, sum);
        sum += part;
        shown(units, sum) - before
    };
    parts.iter().map(grows).collect()
}

/// A year as it is shown: what its two parts are shown as, together.
pub(super) fn shown_year(units: &Units, year: &YearEnergy) -> f64 {
    shown(units, year.in_hours_j()) + shown(units, year.standby_j)
}

/// "131 kWh".
pub(super) fn energy(units: &Units, inside: f64) -> String {
    units.format(Quantity::Energy, inside)
}

/// A difference of two years with its sign: "−44 kWh (−34.1 %)", by what is shown of both.
pub(super) fn difference(units: &Units, now: &YearEnergy, then: &YearEnergy) -> String {
    let (now_j, then_j) = (now.total_j(), then.total_j());
    let by = shown_year(units, then) - shown_year(units, now);
    let plus = if by > 0.0 { "+" } else { "" };
    let share = if now_j > 0.0 { 100.0 * (then_j - now_j) / now_j } else { f64::NAN };
    let percent = match share {
        share if !share.is_finite() || energy(units, by) == energy(units, 0.0) => String::new(),
        share => format!(" ({share:+.1}{SPACE}%)").replace('-', "−"),
    };
    format!("{plus}{}{percent}", energy(units, by))
}

/// What energy costs and emits, in the project's own figures.
pub(super) struct Cost<'a>(pub(super) &'a EnergyBasis);

impl Cost<'_> {
    /// "32.40 EUR"; `None` without a price.
    pub(super) fn money(&self, joules: f64) -> Option<String> {
        let price = self.0.price_per_kwh?;
        let amount = format!("{:.2}", price * joules / KWH_J).replace('-', "−");
        let currency = self.0.currency.trim();
        Some(if currency.is_empty() { amount } else { format!("{amount}{SPACE}{currency}") })
    }

    /// "41.2 kg"; `None` without a factor.
    pub(super) fn co2(&self, joules: f64) -> Option<String> {
        let factor = self.0.co2_kg_per_kwh?;
        Some(format!("{:.1}{SPACE}kg", factor * joules / KWH_J).replace('-', "−"))
    }

    /// Where price and factor come from, or where they are given; a line each.
    pub(super) fn sources(&self) -> String {
        let source = |text: &str| match super::columns::plain(text.trim()) {
            none if none.is_empty() => "no source given".to_owned(),
            source => source,
        };
        let price = match self.0.price_per_kwh {
            Some(price) => {
                let unit = format!("{} a kWh", self.0.currency.trim());
                format!("Price: {price} {}; {}\n", unit.trim_start(), source(&self.0.price_source))
            }
            None => "Cost: no price is given; give it in the project, under energy, as price_per_kwh with its \
                     currency and price_source\n"
                .to_owned(),
        };
        let co2 = match self.0.co2_kg_per_kwh {
            Some(factor) => format!("CO₂: {factor} kg a kWh; {}\n", source(&self.0.co2_source)),
            None => {
                "CO₂: no factor is given; give it in the project, under energy, as co2_kg_per_kwh with its co2_source\n"
                    .to_owned()
            }
        };
        price + &co2
    }
}

/// Energy as data, with cost and CO₂ where they are known.
#[derive(Serialize)]
pub(super) struct EnergyPart<'a> {
    in_scenarios_kwh: f64,
    standby_kwh: f64,
    year_kwh: f64,
    hours_per_year: f64,
    cost: Option<f64>,
    currency: &'a str,
    price_per_kwh: Option<f64>,
    price_source: &'a str,
    co2_kg: Option<f64>,
    co2_kg_per_kwh: Option<f64>,
    co2_source: &'a str,
}

impl<'a> EnergyPart<'a> {
    pub(super) fn new(basis: &'a EnergyBasis, year: &YearEnergy) -> Self {
        let kwh = year.total_j() / KWH_J;
        Self {
            in_scenarios_kwh: year.in_hours_j() / KWH_J,
            standby_kwh: year.standby_j / KWH_J,
            year_kwh: kwh,
            hours_per_year: year.hours,
            cost: basis.price_per_kwh.map(|price| price * kwh),
            currency: &basis.currency,
            price_per_kwh: basis.price_per_kwh,
            price_source: &basis.price_source,
            co2_kg: basis.co2_kg_per_kwh.map(|factor| factor * kwh),
            co2_kg_per_kwh: basis.co2_kg_per_kwh,
            co2_source: &basis.co2_source,
        }
    }
}

//! Energy of a record: the year with what it costs and emits, on which basis, and the present settings beside others.

use super::super::energy::{Cost, YearEnergy, difference, energy as words, power_w, shown_year};
use super::basis::sourced;
use super::sheet::{Cell, Column, Fact, Sheet};
use super::solved::Solved;
use crate::engine::units::{Quantity, Units};
use crate::study::part_load::YEAR_HOURS;

/// The year of all circulators together.
fn year(solved: &Solved) -> YearEnergy {
    let powers: Vec<f64> = solved.scenarios.iter().map(power_w).collect();
    YearEnergy::new(&solved.project, &powers)
}

/// What the circulators take in a year, and by which figures.
pub(super) fn energy(solved: &Solved, units: &Units) -> Vec<Fact> {
    let basis = &solved.project.energy;
    if solved.scenarios.is_empty() {
        let what = "none is reckoned: the project has no scenarios with hours";
        return vec![Fact::new("Energy of a year", what)];
    }
    let year = year(solved);
    let hours = format!("{:.0}", year.hours);
    let mut facts = vec![Fact::new(
        "In the scenarios' hours",
        format!("{} in {hours} h, solved scenario by scenario", words(units, year.in_hours_j())),
    )];
    if year.standby_j > 0.0 {
        let rest = format!("{:.0}", (YEAR_HOURS - year.hours).max(0.0));
        let text = format!("{} in the other {rest} h of the year", words(units, year.standby_j));
        facts.push(Fact::new("Standing by", text));
    } else if !basis.counts_standby {
        facts.push(Fact::new("Standing by", "not counted in the other hours of the year"));
    }
    facts.push(Fact::new("Energy of a year", words(units, shown_year(units, &year))));
    let cost = Cost(basis);
    facts.extend(cost.money(year.total_j()).map(|money| Fact::new("Cost of a year", money)));
    facts.extend(cost.co2(year.total_j()).map(|co2| Fact::new("CO₂ of a year", co2)));
    let currency = format!("{} a kWh", basis.currency.trim());
    let price = basis.price_per_kwh.map(|price| format!("{price} {}", currency.trim_start()));
    let factor = basis.co2_kg_per_kwh.map(|factor| format!("{factor} kg a kWh"));
    let based = |figure: Option<String>, source: &str| match figure {
        Some(figure) => format!("{figure}; {}", sourced(source)),
        None => "none is given in the project".to_owned(),
    };
    facts.push(Fact::new("Basis: price", based(price, &basis.price_source)));
    facts.push(Fact::new("Basis: CO₂", based(factor, &basis.co2_source)));
    facts
}

/// The present settings beside others, each solved over all scenarios.
pub(super) fn comparison(solved: &Solved, units: &Units) -> Sheet {
    let number = |heading: &str, quantity| Column::number(heading, quantity, units);
    let columns = vec![
        Column::text("Settings"),
        number("Head limit", Quantity::Head),
        number("Slope", Quantity::Share),
        number("Speed cap", Quantity::Speed),
        number("In the hours", Quantity::Energy).under("Energy of a year"),
        number("Standing by", Quantity::Energy).under("Energy of a year"),
        Column::text("Against the present").under("Energy of a year"),
        Column::text("Outside the band"),
    ];
    let row = |one: &super::super::beside::Beside| {
        let settings = &one.settings;
        let of = |quantity, value: Option<f64>| value.map_or_else(Cell::none, |v| Cell::number(units, quantity, v));
        let change = match solved.beside.first() {
            Some(present) if !std::ptr::eq(present, one) => difference(units, &present.year, &one.year),
            _ => "–".to_owned(),
        };
        vec![
            Cell::text(&*one.name),
            of(Quantity::Head, settings.head_limit_m),
            of(Quantity::Share, settings.head_limit_m.map(|_| settings.slope)),
            of(Quantity::Speed, Some(settings.speed_cap)),
            of(Quantity::Energy, Some(one.year.in_hours_j())),
            of(Quantity::Energy, Some(one.year.standby_j)),
            Cell::text(if one.converged { change } else { "NOT CONVERGED".to_owned() }),
            Cell::text(match one.missed {
                0 => "never".to_owned(),
                missed => format!("in {missed} of {}", one.year.each_j.len()),
            }),
        ]
    };
    let rows = solved.beside.iter().map(row).collect();
    let intro = match solved.pump {
        Some(pump) if solved.running().len() > 1 => {
            format!("{} set otherwise, all else as it is; energy is that of all circulators.", solved.name(pump))
        }
        _ => String::new(),
    };
    Sheet { key: "comparison", title: "The present settings beside others", intro, columns, rows, notes: Vec::new() }
}

//! The project: title and notes, the site, what it is designed for, its fluid, how far flows and figures may be off, its scenarios, energy
//! and zones.

use super::component::heading;
use super::form::Form;
use super::number::Measure;
use super::{energy, fluid, limits, scenarios, site, uncertainty, zone_list};
use crate::document::{Acceptance, Command, DesignBasis, Duty};
use crate::engine::units::{Quantity, Units};

/// Water temperatures that can be typed, °C.
const WATER: (f64, f64) = (-50.0, 120.0);
/// Room temperatures that can be typed, °C.
const ROOM: (f64, f64) = (-30.0, 60.0);
/// Outdoor temperatures that can be typed, °C.
pub(super) const OUTDOOR: (f64, f64) = (-70.0, 60.0);

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>) {
    let project = form.view.project;
    heading(form, "Project");
    if let Some(title) = form.name("Title", "Name of the building or job.", &project.title, "") {
        form.change(Command::SetTitle(title));
    }
    if let Some(notes) = form.lines("Notes", "Free text, saved with the project.", &project.notes, 3) {
        form.change(Command::SetNotes(notes));
    }
    site::show(form);
    form.section("Design");
    design(form);
    fluid::show(form);
    acceptance(form);
    limits::show(form);
    uncertainty::show(form);
    scenarios::show(form);
    energy::show(form);
    site::register(form);
    zone_list::show(form);
}

fn word(duty: Duty) -> &'static str {
    match duty {
        Duty::Heating => "heating",
        Duty::Cooling => "cooling",
    }
}

/// Temperatures that a change of duty begins with, for the others would be refused (common practice, no source).
fn usual(duty: Duty, has_outdoor: bool) -> DesignBasis {
    let (supply_c, return_c, room_c, outdoor_c) = match duty {
        Duty::Heating => (70.0, 50.0, 20.0, -10.0),
        Duty::Cooling => (6.0, 12.0, 26.0, 32.0),
    };
    DesignBasis { duty, supply_c, return_c, room_c, outdoor_c: has_outdoor.then_some(outdoor_c) }
}

/// Least difference of supply and return, K: zones of less are refused.
const LEAST_DROP: f64 = 0.1;

/// Whether the return lies on that side of the supply on which the duty has it.
fn fits(basis: &DesignBasis) -> bool {
    let drop = basis.supply_c - basis.return_c;
    let drop = match basis.duty {
        Duty::Heating => drop,
        Duty::Cooling => -drop,
    };
    drop >= LEAST_DROP - 1e-9
}

/// The basis with another supply; where the return would lie on its wrong side, it goes along and keeps its difference.
fn with_supply(basis: DesignBasis, supply_c: f64) -> DesignBasis {
    let alone = DesignBasis { supply_c, ..basis };
    if fits(&alone) { alone } else { DesignBasis { return_c: basis.return_c + supply_c - basis.supply_c, ..alone } }
}

/// Why a return is not taken.
fn wrong_side(units: &Units, basis: &DesignBasis) -> String {
    let (side, turn) = match basis.duty {
        Duty::Heating => ("below", "less"),
        Duty::Cooling => ("above", "more"),
    };
    let [supply, back] = [basis.supply_c, basis.return_c].map(|celsius| units.format(Quantity::Temperature, celsius));
    format!(
        "A return of {back} is not taken: in {} it lies {side} the supply, which is {supply}. Give {turn}, or type the \
         supply first: the return goes along where it must.",
        word(basis.duty)
    )
}

fn design(form: &mut Form<'_, '_>) {
    let project = form.view.project;
    let basis = project.design;
    let mut wanted = None;
    let options = [Duty::Heating, Duty::Cooling].map(|duty| (duty, word(duty).to_owned()));
    let hint = "Whether the water brings heat or takes it. Another duty begins with its usual temperatures.";
    if let Some(duty) = form.choice("Duty", hint, word(basis.duty), &options) {
        wanted = Some(usual(duty, basis.outdoor_c.is_some()));
    }
    let measure = Measure::Of(Quantity::Temperature);
    let hint = "Temperature of the water to the zones; where it passes the return, that goes along.";
    if let Some(supply_c) = form.number("Supply", hint, measure, basis.supply_c, WATER) {
        wanted = Some(with_supply(basis, supply_c));
    }
    let hint = "Temperature of the water from the zones; with the supply it decides the design flows.";
    if let Some(return_c) = form.number("Return", hint, measure, basis.return_c, WATER) {
        let with = DesignBasis { return_c, ..basis };
        if fits(&with) {
            wanted = Some(with);
        } else {
            form.state.refused = Some(wrong_side(form.view.units, &with));
        }
    }
    if let Some(why) = form.state.refused.clone() {
        form.fault(&why);
    }
    let hint = "Room temperature, or that of the air that enters coils.";
    if let Some(room_c) = form.number("Room", hint, measure, basis.room_c, ROOM) {
        wanted = Some(DesignBasis { room_c, ..basis });
    }
    let hint = "Outdoor temperature for which the loads are reckoned; thermostatic valves need it.";
    let start = usual(basis.duty, true).outdoor_c.unwrap_or(0.0);
    if let Some(outdoor_c) = form.optional(("Outdoor", hint), measure, basis.outdoor_c, (start, "not given"), OUTDOOR) {
        wanted = Some(DesignBasis { outdoor_c, ..basis });
    }
    if let Some(wanted) = wanted {
        form.state.refused = None;
        form.change(Command::SetDesign(wanted));
    }
}

fn acceptance(form: &mut Form<'_, '_>) {
    let band = &form.view.project.acceptance;
    form.section("How far flows may be off");
    let mut wanted = None;
    let measure = Measure::Of(Quantity::Share);
    let hint = "Least share of its design flow at which a zone is served.";
    if let Some(low) = form.number("At least", hint, measure, band.low, (0.01, 0.99)) {
        wanted = Some(Acceptance { low, ..band.clone() });
    }
    let hint = "Greatest share of its design flow at which a zone is served.";
    if let Some(high) = form.number("At most", hint, measure, band.high, (1.01, 5.0)) {
        wanted = Some(Acceptance { high, ..band.clone() });
    }
    if let Some(source) = form.lines("Source", "Where the band comes from.", &band.source, 2) {
        wanted = Some(Acceptance { source, ..band.clone() });
    }
    if let Some(wanted) = wanted {
        form.change(Command::SetAcceptance(wanted));
    }
}

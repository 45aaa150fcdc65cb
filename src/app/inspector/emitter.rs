//! An emitter: how its heat follows flow and supply temperature, and the flow at which its loss is rated.

use super::figures::FLOW;
use super::form::Form;
use super::number::Measure;
use crate::document::{Command, ComponentId, ComponentKind, DesignBasis, Emitter};
use crate::engine::links::emitter::{CoilArrangement, EmitterLaw};
use crate::engine::units::Quantity;

/// Temperatures that can be typed, °C.
const AIR: (f64, f64) = (-60.0, 120.0);

fn word(law: EmitterLaw) -> &'static str {
    match law {
        EmitterLaw::Radiator { .. } => "radiator",
        EmitterLaw::FloorLoop { .. } => "floor loop",
        EmitterLaw::Coil { .. } => "coil in an air stream",
        EmitterLaw::ConstantDrop => "plain loss",
    }
}

fn arrangement_word(arrangement: CoilArrangement) -> &'static str {
    match arrangement {
        CoilArrangement::Counterflow => "counterflow",
        CoilArrangement::CrossflowUnmixed => "crossflow",
    }
}

/// The air that leaves a usual coil: two fifths of the way from the room's temperature to the supply's (common practice, no
/// source).
fn usual_air_c(basis: &DesignBasis) -> f64 {
    (basis.room_c + 0.4 * (basis.supply_c - basis.room_c)).round()
}

/// The emitter under another law, with what that law needs.
fn under(emitter: &Emitter, law: EmitterLaw, basis: &DesignBasis) -> Emitter {
    let air_outlet_c = match law {
        EmitterLaw::Coil { .. } => Some(emitter.air_outlet_c.unwrap_or_else(|| usual_air_c(basis))),
        EmitterLaw::Radiator { .. } | EmitterLaw::FloorLoop { .. } | EmitterLaw::ConstantDrop => None,
    };
    Emitter { law, air_outlet_c, ..emitter.clone() }
}

/// Shows it.
pub(super) fn show(form: &mut Form<'_, '_>, id: ComponentId, emitter: &Emitter) {
    let basis = form.view.project.design;
    let zone = form.view.project.zone_of(id).and_then(|zone| form.view.results.zones.get(&zone));
    let design_flow = zone.map(|zone| zone.design_flow).filter(|flow| *flow > 0.0);
    let mut wanted = None;
    let without = "the zone's design flow";
    let hint =
        "Flow at which it takes that drop. Without one of its own it is the zone's design flow, and moves with it.";
    let start = design_flow.unwrap_or(1e-4);
    let flow = Measure::Of(Quantity::Flow);
    if let Some(rated_flow) = form.optional(("Rated flow", hint), flow, emitter.rated_flow, (start, without), FLOW) {
        wanted = Some(Emitter { rated_flow, ..emitter.clone() });
    }
    form.note("Drop and rated flow: the maker's data sheet.");
    form.section("Heat");
    let laws = [
        EmitterLaw::Radiator { exponent: 1.3 },
        EmitterLaw::FloorLoop { exponent: 1.1 },
        EmitterLaw::Coil { arrangement: CoilArrangement::CrossflowUnmixed, water_film_share: 0.3 },
        EmitterLaw::ConstantDrop,
    ];
    let hint = "How its heat follows from flow and supply temperature.";
    let options = laws.map(|law| (law, word(law).to_owned()));
    if let Some(law) = form.choice("Emitter", hint, word(emitter.law), &options) {
        wanted = Some(under(emitter, law, &basis));
    }
    wanted = law(form, emitter, &basis).or(wanted);
    if let Some(wanted) = wanted {
        form.change(Command::SetKind(id, Box::new(ComponentKind::Emitter(wanted))));
    }
}

/// What the present law takes.
fn law(form: &mut Form<'_, '_>, emitter: &Emitter, basis: &DesignBasis) -> Option<Emitter> {
    let with = |law: EmitterLaw| Some(Emitter { law, ..emitter.clone() });
    match emitter.law {
        EmitterLaw::Radiator { exponent } => {
            let hint = "Heat goes with this power of the mean temperature difference (EN 442).";
            let new = form.number("Exponent", hint, Measure::Pure(3), exponent, (0.5, 2.0));
            form.note("Panel radiators 1.25 to 1.35, usually 1.3; convectors up to 1.45 (EN 442, from memory).");
            new.and_then(|exponent| with(EmitterLaw::Radiator { exponent }))
        }
        EmitterLaw::FloorLoop { exponent } => {
            let hint = "Heat goes with this power of the mean temperature difference.";
            let new = form.number("Exponent", hint, Measure::Pure(3), exponent, (0.5, 2.0));
            form.note("1.1 from the surface to the room; 1.0 where the build-up rules (EN 1264-2, from memory).");
            new.and_then(|exponent| with(EmitterLaw::FloorLoop { exponent }))
        }
        EmitterLaw::Coil { arrangement, water_film_share } => coil(form, emitter, basis, arrangement, water_film_share),
        EmitterLaw::ConstantDrop => {
            form.note("Its temperature drop stays; heat goes with the flow.");
            None
        }
    }
}

fn coil(
    form: &mut Form<'_, '_>,
    emitter: &Emitter,
    basis: &DesignBasis,
    arrangement: CoilArrangement,
    water_film_share: f64,
) -> Option<Emitter> {
    let mut wanted = None;
    let hint = "Temperature of the air that leaves the coil at design.";
    let present_c = emitter.air_outlet_c.unwrap_or_else(|| usual_air_c(basis));
    if let Some(air_c) = form.number("Air leaves at", hint, Measure::Of(Quantity::Temperature), present_c, AIR) {
        wanted = Some(Emitter { air_outlet_c: Some(air_c), ..emitter.clone() });
    }
    let arrangements = [CoilArrangement::Counterflow, CoilArrangement::CrossflowUnmixed];
    let options = arrangements.map(|choice| (choice, arrangement_word(choice).to_owned()));
    let hint = "How water and air pass each other: counterflow from four rows on, crossflow with one or two.";
    if let Some(arrangement) = form.choice("Arrangement", hint, arrangement_word(arrangement), &options) {
        wanted = Some(Emitter { law: EmitterLaw::Coil { arrangement, water_film_share }, ..emitter.clone() });
    }
    let hint = "Share of the thermal resistance that lies on the water's side and grows as the flow falls.";
    let share = Measure::Of(Quantity::Share);
    if let Some(water_film_share) = form.number("Water film", hint, share, water_film_share, (0.0, 0.99)) {
        wanted = Some(Emitter { law: EmitterLaw::Coil { arrangement, water_film_share }, ..emitter.clone() });
    }
    form.note("A water film of 30 % is common practice, no source. The coil is dry: no water condenses on it.");
    wanted
}

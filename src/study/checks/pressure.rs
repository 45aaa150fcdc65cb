//! Pressures too low: water that boils or nearly does, places that draw air, pumps whose inlet has less than they need.
//!
//! Told for every circuit with an expansion vessel of known pressure, once for its worst place. Water boils by the saturation
//! line of IAPWS-IF97 (equation 30); for glycol water's own pressure is taken, which is the cautious one. Below the air's
//! pressure air is drawn in through vents and packings. The margin above what a pump requires, 0.5 m, is common practice, no
//! source; the velocity head in its inlet is left out, which is cautious too.

use super::Sight;
use crate::document::{ComponentId, ComponentKind, Port, PortRef};
use crate::engine::GRAVITY_M_PER_S2;
use crate::engine::fluid::Fluid;
use crate::engine::pump::{STANDARD_ATMOSPHERE_PA, boiling_gauge_pressure_pa};
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};
use crate::study::pressures::Pressures;
use std::collections::BTreeMap;

/// By how much the available suction head should exceed the required one, m.
const SUCTION_MARGIN_M: f64 = 0.5;

/// A place with its pressures.
#[derive(Clone, Copy, Debug)]
struct Spot {
    at: ComponentId,
    gauge: f64,
    celsius: f64,
    /// Gauge pressure at which water of that temperature boils, Pa.
    boils: f64,
    /// Whether it is the pressure while no pump turns.
    stands: bool,
}

impl Spot {
    fn margin(&self) -> f64 {
        self.gauge - self.boils
    }
}

/// The worst places of a circuit.
#[derive(Clone, Copy, Debug)]
struct Worst {
    nearest_boiling: Spot,
    lowest: Spot,
}

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    let pressures = Pressures::new(sight.project, sight.study);
    missing(sight, &pressures, found);
    if !pressures.any() {
        return;
    }
    for worst in circuits(sight, &pressures).into_values() {
        found.extend(boiling(sight, &worst.nearest_boiling));
        found.extend(draws_air(sight, &worst.lowest));
    }
    for (id, pump) in &sight.results.pumps {
        if pump.running {
            inlet(sight, &pressures, *id, found);
        }
    }
}

/// Vessels without a pressure, where something is given that asks for it.
fn missing(sight: &Sight<'_>, pressures: &Pressures<'_>, found: &mut Vec<Check>) {
    let components = &sight.project.components;
    let asks = components.values().any(|component| match &component.kind {
        _ if component.height != 0.0 => true,
        ComponentKind::Pump(unit) => unit.least_inlet_pressure.is_some() || unit.npsh_required.is_some(),
        _ => false,
    });
    if !asks {
        return;
    }
    for (id, component) in components {
        let port = PortRef { component: *id, port: Port::Branch };
        if component.kind == (ComponentKind::ExpansionVessel { pressure: None }) && pressures.vessel(port).is_none() {
            found.push(sight.component(Severity::Note, *id, "Vessel pressure not given").says(
                "Heights or inlet pressures are given, but not the pressure at this vessel.",
                "No pressure of its circuit is checked.",
                "Give the pressure at its connection, the lowest: that of the cold system.",
            ));
        }
    }
}

/// Temperature at a port, °C; where nothing flows the hottest of the design.
fn celsius(sight: &Sight<'_>, port: PortRef) -> f64 {
    let here = sight.results.temperature(sight.study.lowered(), port);
    if here.is_finite() { here } else { sight.project.design.supply_c.max(sight.project.design.return_c) }
}

/// Gauge pressure at which water boils, Pa; that of glycol below freezing is taken at 0 °C.
fn boils(celsius: f64) -> f64 {
    let (low_c, high_c) = Fluid::water().temperature_range_c();
    let within = celsius.max(low_c).min(high_c);
    boiling_gauge_pressure_pa(&Fluid::water(), within, STANDARD_ATMOSPHERE_PA).unwrap_or(0.0)
}

/// The worst places of each circuit, by the vessel that its pressures are reckoned from.
fn circuits(sight: &Sight<'_>, pressures: &Pressures<'_>) -> BTreeMap<ComponentId, Worst> {
    let mut circuits: BTreeMap<ComponentId, Worst> = BTreeMap::new();
    let mut known = (f64::NAN, f64::NAN);
    for (id, component) in &sight.project.components {
        for port in component.ports() {
            let port = PortRef { component: *id, port: *port };
            let (Some(gauge), Some(vessel)) = (pressures.at(port), pressures.vessel(port)) else { continue };
            let celsius = celsius(sight, port);
            // Whole stretches have one temperature.
            if celsius != known.0 {
                known = (celsius, boils(celsius));
            }
            let spot = Spot { at: *id, gauge, celsius, boils: known.1, stands: false };
            let worst = circuits.entry(vessel).or_insert(Worst { nearest_boiling: spot, lowest: spot });
            if spot.margin() < worst.nearest_boiling.margin() {
                worst.nearest_boiling = spot;
            }
            let standing = pressures.standing(port).map(|gauge| Spot { gauge, stands: true, ..spot });
            for spot in [Some(spot), standing].into_iter().flatten() {
                if spot.gauge < worst.lowest.gauge {
                    worst.lowest = spot;
                }
            }
        }
    }
    circuits
}

fn boiling(sight: &Sight<'_>, spot: &Spot) -> Option<Check> {
    let wanted = sight.project.limits.boiling_margin;
    if spot.margin() >= wanted {
        return None;
    }
    let pressure = |pascals| sight.says(Quantity::Pressure, pascals);
    let what = format!(
        "The gauge pressure here is {}; water of {} boils at {}.",
        pressure(spot.gauge),
        sight.says(Quantity::Temperature, spot.celsius),
        pressure(spot.boils)
    );
    let (severity, heading, meaning) = if spot.margin() < 0.0 {
        (Severity::Error, "Water boils", "Steam hammers, stops the flow and bursts parts.".to_owned())
    } else {
        let (left, keeps) = (pressure(spot.margin()), pressure(wanted));
        (Severity::Warning, "Close to boiling", format!("That leaves {left}, and the design keeps {keeps}."))
    };
    let remedy = format!("Raise the pressure at the vessel by {} at least.", pressure(wanted - spot.margin()));
    Some(sight.component(severity, spot.at, heading).says(what, meaning, remedy))
}

fn draws_air(sight: &Sight<'_>, spot: &Spot) -> Option<Check> {
    let below = sight.says(Quantity::Pressure, -spot.gauge);
    (spot.gauge < 0.0).then(|| {
        sight.component(Severity::Warning, spot.at, "Below the air's pressure").says(
            if spot.stands {
                format!("While no pump turns the pressure here is {below} below that of the air.")
            } else {
                format!("The pressure here is {below} below that of the air.")
            },
            "Vents and packings draw air in.",
            format!("Raise the pressure at the vessel by {below} at least."),
        )
    })
}

/// What a running pump needs at its inlet.
fn inlet(sight: &Sight<'_>, pressures: &Pressures<'_>, id: ComponentId, found: &mut Vec<Check>) {
    let port = PortRef { component: id, port: Port::Inlet };
    let (Some(unit), Some(gauge)) = (sight.project.pump(id), pressures.at(port)) else { return };
    let pressure = |pascals: f64| sight.says(Quantity::Pressure, pascals);
    let head = |metres: f64| sight.says(Quantity::Head, metres);
    let meaning = "It cavitates: it is loud, loses head and wears.";
    if let Some(least) = unit.least_inlet_pressure.filter(|least| gauge < *least) {
        found.push(sight.component(Severity::Error, id, "Inlet pressure too low").says(
            format!("It has {} at its inlet but needs {} at least.", pressure(gauge), pressure(least)),
            meaning,
            format!(
                "Raise the pressure at the vessel by {}, or join the vessel nearer to its inlet.",
                pressure(least - gauge)
            ),
        ));
    }
    let Some(required) = unit.npsh_required else { return };
    let celsius = celsius(sight, port);
    let density = sight.results.pumps.get(&id).map_or(f64::NAN, |pump| pump.water.fluid.density_kg_per_m3);
    let available = (gauge - boils(celsius)) / (density * GRAVITY_M_PER_S2);
    let what = format!(
        "Its net positive suction head (NPSH) available is {} at {}, and it requires {}.",
        head(available),
        sight.says(Quantity::Temperature, celsius),
        head(required)
    );
    let remedy = "Raise the pressure at the vessel, join the vessel nearer to its inlet, or send it cooler water.";
    if available < required {
        found.push(sight.component(Severity::Error, id, "NPSH too low").says(what, meaning, remedy));
    } else if available < required + SUCTION_MARGIN_M {
        let meaning = format!("Usual is a margin of {}; with a little less it cavitates.", head(SUCTION_MARGIN_M));
        found.push(sight.component(Severity::Warning, id, "NPSH short").says(what, meaning, remedy));
    }
}

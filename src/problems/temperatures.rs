//! Temperatures that call for care: water near boiling, and floor loops supplied hotter than a floor bears or colder than the
//! room's air allows. It looks at the temperatures of design and sources
//! alone; floors behind something that mixes are judged by what they get (`study::checks`).
//!
//! Limits: 95 °C, a little under the boiling point at the pressure of the air; 55 °C and 16 °C for the supply of a floor
//! (common practice, no source). EN 1264 bounds the surface of a floor, 29 °C where people stay (from memory), and so in
//! effect its supply.

use super::drawing::Drawing;
use super::{Check, Severity};
use crate::document::{ComponentKind, Duty, Project, Zone};
use crate::engine::links::emitter::EmitterLaw;

/// From here on water is near boiling, °C.
const NEAR_BOILING_C: f64 = 95.0;
/// Nearer than this to its freezing point water is near freezing, K (common practice, no source).
const NEAR_FREEZING_K: f64 = 3.0;
/// Hottest and coldest usual supply of a floor, °C.
const FLOOR_C: [f64; 2] = [16.0, 55.0];

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let basis = &drawing.project.design;
    let near_boiling = |check: Check, hottest_c: f64| {
        check.says(
            if hottest_c >= 100.0 {
                format!("Water of {hottest_c} °C boils where its pressure falls to that of the air.")
            } else {
                format!("Water of {hottest_c} °C is within a few kelvin of boiling at the pressure of the air.")
            },
            "It scalds at once.",
            "Hold enough pressure at the highest and hottest point, and vent or drain only when cold.",
        )
    };
    let hottest_c = basis.supply_c.max(basis.return_c);
    if hottest_c > NEAR_BOILING_C {
        found.push(near_boiling(drawing.whole(Severity::Warning, "Near boiling"), hottest_c));
    }
    for (id, component) in &drawing.project.components {
        if let ComponentKind::Source(source) = &component.kind
            && let Some(supply_c) = source.supply_c.filter(|supply_c| *supply_c > NEAR_BOILING_C)
        {
            found.push(near_boiling(drawing.at(Severity::Warning, *id, "Near boiling"), supply_c));
        }
    }
    let is_cold = basis.supply_c < drawing.project.fluid.freezing_point_c() + NEAR_FREEZING_K;
    if basis.duty == Duty::Cooling && is_cold {
        found.push(drawing.whole(Severity::Warning, "Near freezing").says(
            format!("Water leaves the source at {} °C, close to where ice begins.", basis.supply_c),
            "At less flow an evaporator freezes and bursts.",
            "Use more glycol or a warmer supply, and keep the chiller's minimum flow.",
        ));
    }
    // Where water is mixed a zone has another supply than the design's: the results tell.
    if mixes(drawing.project) {
        return;
    }
    for (id, zone) in &drawing.project.zones {
        if is_floor(drawing.project, zone) {
            found.extend(floor(basis.supply_c, |heading| drawing.zone(Severity::Warning, *id, heading)));
        }
    }
}

/// Whether zones may get another supply than the design's: something mixes streams, or a source has a supply of its own.
#[must_use]
pub fn mixes(project: &Project) -> bool {
    project.components.values().any(|component| match &component.kind {
        ComponentKind::ThreeWayValve(_) | ComponentKind::Separator { .. } => true,
        ComponentKind::Source(source) => source.supply_c.is_some(),
        _ => false,
    })
}

/// Whether a zone is a heated or cooled floor.
#[must_use]
pub fn is_floor(project: &Project, zone: &Zone) -> bool {
    project.components.get(&zone.emitter).is_some_and(
        |c| matches!(&c.kind, ComponentKind::Emitter(emitter) if matches!(emitter.law, EmitterLaw::FloorLoop { .. })),
    )
}

/// What is to be said of a floor with a supply temperature, °C; `warning` makes a check of a heading.
pub fn floor(supply_c: f64, warning: impl Fn(&'static str) -> Check) -> Option<Check> {
    let [coldest, hottest] = FLOOR_C;
    if supply_c > hottest {
        Some(warning("Floor too hot").says(
            format!("Its floor is supplied at {supply_c:.1} °C, more than {hottest} °C."),
            "That is too hot for floor and feet.",
            "Mix the supply down and fit a temperature limiter.",
        ))
    } else if supply_c < coldest {
        Some(warning("Floor too cold").says(
            format!("Its floor is supplied at {supply_c:.1} °C, less than {coldest} °C."),
            "The room's moisture can condense on it.",
            "Raise the supply above the dew point and fit a dew-point guard.",
        ))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use crate::document::{ComponentKind, DesignBasis, Duty};
    use crate::engine::links::emitter::EmitterLaw;
    use crate::problems::sketch::{Sketch, titles};

    fn found(duty: Duty, supply_c: f64, words: &str) -> Vec<String> {
        let mut sketch = Sketch::two_zones();
        let (return_c, room_c) = if duty == Duty::Heating { (supply_c - 5.0, 20.0) } else { (supply_c + 3.0, 26.0) };
        sketch.project.design = DesignBasis { duty, supply_c, return_c, room_c, outdoor_c: None };
        let id = sketch.id("Zone A");
        if let Some(ComponentKind::Emitter(emitter)) = sketch.project.components.get_mut(&id).map(|c| &mut c.kind) {
            emitter.law = EmitterLaw::FloorLoop { exponent: 1.1 };
        }
        titles(&sketch.project, words)
    }

    #[test]
    fn boiling_scalding_dripping_and_freezing() {
        assert_eq!(found(Duty::Heating, 95.5, "within a few kelvin of boiling"), ["Sketch"]);
        assert_eq!(found(Duty::Heating, 104.0, "boils"), ["Sketch"]);
        assert!(found(Duty::Heating, 95.0, "boil").is_empty());
        assert_eq!(found(Duty::Cooling, 2.0, "ice begins"), ["Sketch"]);
        assert!(found(Duty::Cooling, 5.0, "ice begins").is_empty());
        let mut sketch = Sketch::two_zones();
        let id = sketch.id("Source");
        if let Some(ComponentKind::Source(source)) = sketch.project.components.get_mut(&id).map(|c| &mut c.kind) {
            source.supply_c = Some(105.0);
        }
        assert_eq!(titles(&sketch.project, "boils"), ["Source"], "its own supply counts too");
        assert_eq!(found(Duty::Heating, 60.0, "limiter"), ["Room A"]);
        assert!(found(Duty::Heating, 55.0, "floor").is_empty());
        assert_eq!(found(Duty::Cooling, 15.0, "condense"), ["Room A"]);
        assert!(found(Duty::Cooling, 16.0, "floor").is_empty());
    }
}

//! Thermostatic valve that cannot do its work: with no emitter in its row, or without an outdoor
//! temperature from which its room's loss follows. It then stays at its nominal Kv.

use super::drawing::Drawing;
use super::{Check, Severity};
use crate::document::ComponentKind;

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let project = drawing.project;
    let valves = project.components.iter().filter(|(_, c)| matches!(c.kind, ComponentKind::ThermostaticValve { .. }));
    let zones = project.thermostatic_zones();
    for (id, _) in valves {
        let warning = |heading| drawing.at(Severity::Warning, *id, heading);
        found.push(match () {
            () if !zones.contains_key(id) => warning("Thermostatic valve without a room").says(
                "No emitter of a zone lies in a row with it.",
                "No room moves it, and it stays at its nominal Kv.",
                "Put it into the branch of one emitter.",
            ),
            () if project.design.outdoor_c.is_none() => warning("No outdoor temperature").says(
                "The loss of its room is not known without a design outdoor temperature.",
                "It stays at its nominal Kv.",
                "Give the design an outdoor temperature.",
            ),
            () => continue,
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::document::ComponentKind;
    use crate::problems::sketch::{Sketch, titles};

    fn sketch() -> Sketch {
        let mut sketch = Sketch::two_zones();
        sketch.project.design.outdoor_c = Some(-10.0);
        let id = sketch.id("Zone A valve");
        sketch.project.zones.values_mut().for_each(|zone| zone.valve = zone.valve.filter(|valve| *valve != id));
        let valve = sketch.project.components.get_mut(&id).unwrap();
        valve.kind = ComponentKind::ThermostaticValve { kv: 0.4, kvs: 0.6, set_c: 20.0, band_k: 2.0 };
        sketch
    }

    #[test]
    fn a_valve_with_all_it_needs_is_no_problem() {
        let sketch = sketch();
        assert!(titles(&sketch.project, "nominal Kv").is_empty());
        let zones = sketch.project.thermostatic_zones();
        let zone = zones[&sketch.id("Zone A valve")];
        assert_eq!(sketch.project.zones[&zone].name, "Room A");
    }

    #[test]
    fn without_outdoor_temperature_or_emitter_it_stands_still() {
        let mut first = sketch();
        first.project.design.outdoor_c = None;
        assert_eq!(titles(&first.project, "outdoor temperature"), ["Zone A valve"]);
        let mut second = sketch();
        second.remove_pipe("Zone A", "Zone A valve");
        second.pipe("Zone A", "Return tee");
        second.pipe("Flow tee", "Zone A valve");
        assert_eq!(titles(&second.project, "No emitter"), ["Zone A valve"]);
    }
}

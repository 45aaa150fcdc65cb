//! Scenario without effect: it shuts a zone that has no valve. The zone stays open there, and the scenario is not what its name
//! says.

use super::drawing::Drawing;
use super::{Check, Severity, listed};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    for (id, _) in drawing.project.zones.iter().filter(|(_, zone)| zone.valve.is_none()) {
        let scenarios = drawing.project.scenarios.iter().filter(|scenario| scenario.shut.contains(id));
        let names: Vec<String> = scenarios.map(|scenario| format!("“{}”", scenario.name)).collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let (scenario, shuts) = match names.len() {
            0 => continue,
            1 => ("Scenario", "shuts"),
            _ => ("Scenarios", "shut"),
        };
        found.push(drawing.zone(Severity::Warning, *id, "Shut without a valve").says(
            format!("{scenario} {} {shuts} it, but it has no valve.", listed(&names)),
            "It stays open there.",
            "Give it a zone valve, or take it out of the scenario.",
        ));
    }
}

#[cfg(test)]
mod tests {
    use crate::document::Scenario;
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn only_a_zone_without_valve_that_some_scenario_shuts() {
        let mut sketch = Sketch::two_zones();
        let zones: Vec<_> = sketch.project.zones.keys().copied().collect();
        sketch.project.scenarios = ["Night", "Summer"]
            .map(|name| Scenario {
                name: name.to_owned(),
                hours_per_year: 100.0,
                shut: zones.iter().copied().collect(),
                outdoor_c: None,
            })
            .to_vec();
        assert!(titles(&sketch.project, "no valve").is_empty());
        sketch.project.zones.get_mut(&zones[1]).unwrap().valve = None;
        assert_eq!(titles(&sketch.project, "Scenarios “Night” and “Summer” shut it, but it has no valve"), ["Room B"]);
    }
}

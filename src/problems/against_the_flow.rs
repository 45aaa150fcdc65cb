//! Against the flow: a check valve, a bypass valve or a second pump that points against the way a circulator drives the water.
//! A check valve that is the wrong way round stops its branch, a bypass valve never opens, two pumps in a row that face each
//! other cancel out. Told only where the drawing leaves no doubt about the direction (see [`super::direction`]).

use super::direction::{loop_of, runs};
use super::drawing::{Drawing, Edge};
use super::{Check, Severity};
use crate::document::{ComponentId, ComponentKind};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let blocks: BTreeSet<usize> = drawing.project.pumps().filter_map(|(id, _)| loop_of(drawing, id)).collect();
    let mut against: BTreeMap<ComponentId, ComponentId> = BTreeMap::new();
    let mut edges: BTreeMap<usize, Vec<Edge>> = BTreeMap::new();
    for (edge, block) in drawing.edges.iter().zip(&drawing.blocks).filter(|(_, block)| blocks.contains(block)) {
        edges.entry(*block).or_default().push(*edge);
    }
    // One pump alone on a loop without valves of a direction has nothing to be against.
    let points = |edge: &Edge| {
        edge.component.and_then(|id| drawing.component(id)).is_some_and(|component| {
            matches!(
                component.kind,
                ComponentKind::Pump(_) | ComponentKind::CheckValve { .. } | ComponentKind::BypassValve { .. }
            )
        })
    };
    edges.retain(|_, edges| edges.iter().filter(|edge| points(edge)).nth(1).is_some());
    for run in edges.into_values().flat_map(|edges| runs(drawing, &edges)) {
        if let Some((pump, members)) = run.against() {
            against.extend(members.into_iter().map(|member| (member, pump)));
        }
    }
    for (id, pump) in against {
        let pump = drawing.name(pump);
        let error = |heading| drawing.at(Severity::Error, id, heading);
        found.push(match drawing.component(id).map(|c| &c.kind) {
            Some(ComponentKind::CheckValve { .. }) => error("Check valve the wrong way round").says(
                format!("This check valve points against the flow that {pump} drives."),
                "Nothing passes it.",
                "Turn it round.",
            ),
            Some(ComponentKind::BypassValve { .. }) => error("Bypass valve the wrong way round").says(
                format!("This bypass valve points from return to flow, against {pump}."),
                "So it never opens.",
                "Turn it round.",
            ),
            _ => error("Pump against pump").says(
                format!("It pumps against {pump} on the same run."),
                "The two hold each other up.",
                "Turn one of them round.",
            ),
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::problems::sketch::{Sketch, titles};

    const WORDS: &str = "Turn";

    #[test]
    fn a_check_valve_in_a_branch_is_judged_by_the_common_pump() {
        for (forward, expected) in [(true, 0), (false, 1)] {
            let mut sketch = Sketch::two_zones();
            sketch.remove_pipe("Zone A valve", "Return tee");
            sketch.check_valve("Check");
            if forward {
                sketch.pipe("Zone A valve", "Check");
                sketch.pipe("Check", "Return tee");
            } else {
                sketch.pipe_between(("Zone A valve", true), ("Check", true));
                sketch.pipe_between(("Check", false), ("Return tee", false));
            }
            assert_eq!(titles(&sketch.project, WORDS).len(), expected);
        }
    }

    #[test]
    fn a_bypass_valve_opens_from_flow_to_return() {
        // Beside the zones, and from the circulator's outlet back to its inlet.
        for ends in [("Flow tee", "Return tee"), ("Discharge", "Suction")] {
            for (forward, expected) in [(true, 0), (false, 1)] {
                let mut sketch = Sketch::two_zones();
                sketch.remove_pipe("Source", "Circulator");
                sketch.remove_pipe("Circulator", "Flow tee");
                sketch.tee("Suction");
                sketch.tee("Discharge");
                sketch.bypass_valve("Bypass");
                for (from, to) in [
                    ("Source", "Suction"),
                    ("Suction", "Circulator"),
                    ("Circulator", "Discharge"),
                    ("Discharge", "Flow tee"),
                ] {
                    sketch.pipe(from, to);
                }
                let (from, to) = if forward { ends } else { (ends.1, ends.0) };
                sketch.pipe(from, "Bypass");
                sketch.pipe("Bypass", to);
                assert_eq!(titles(&sketch.project, "So it never opens").len(), expected, "{ends:?} {forward}");
            }
        }
    }

    #[test]
    fn a_standby_pump_beside_the_duty_pump_is_in_order_and_in_a_row_is_not() {
        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Source", "Circulator");
        sketch.remove_pipe("Circulator", "Flow tee");
        for tee in ["Suction", "Discharge"] {
            sketch.tee(tee);
        }
        for (pump, valve) in [("Circulator", "Check 1"), ("Standby", "Check 2")] {
            if pump == "Standby" {
                sketch.pump(pump);
            }
            sketch.check_valve(valve);
            sketch.pipe("Suction", pump);
            sketch.pipe(pump, valve);
            sketch.pipe(valve, "Discharge");
        }
        sketch.pipe("Source", "Suction");
        sketch.pipe("Discharge", "Flow tee");
        assert!(titles(&sketch.project, WORDS).is_empty());

        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Circulator", "Flow tee");
        sketch.pump("Booster");
        sketch.pipe_between(("Circulator", true), ("Booster", true));
        sketch.pipe_between(("Booster", false), ("Flow tee", false));
        assert_eq!(titles(&sketch.project, WORDS), ["Booster"]);
    }

    #[test]
    fn primary_and_secondary_pumps_that_share_a_pipe_are_not_judged_against_each_other() {
        let mut sketch = Sketch::two_zones();
        // A separator between the source's circuit and the zones', each with its pump.
        sketch.remove_pipe("Circulator", "Flow tee");
        sketch.remove_pipe("Return tee", "Source");
        for tee in ["Separator top", "Separator bottom"] {
            sketch.tee(tee);
        }
        sketch.pump("Zone circulator");
        sketch.pipe("Circulator", "Separator top");
        sketch.pipe("Separator top", "Separator bottom");
        sketch.pipe("Separator bottom", "Source");
        sketch.pipe("Separator top", "Zone circulator");
        sketch.pipe("Zone circulator", "Flow tee");
        sketch.pipe("Return tee", "Separator bottom");
        assert!(titles(&sketch.project, WORDS).is_empty());
    }

    #[test]
    fn the_last_branch_of_a_long_main_is_judged_by_the_pump() {
        let mut sketch = Sketch::two_zones();
        let (mut flow, mut back) = ("Flow tee".to_owned(), "Return tee".to_owned());
        for number in 0..200 {
            let [next_flow, strainer, valve, next_back] =
                ["Flow", "Strainer", "Check", "Return"].map(|name| format!("{name} {number}"));
            [&next_flow, &next_back].into_iter().for_each(|tee| sketch.tee(tee));
            sketch.strainer(&strainer);
            sketch.check_valve(&valve);
            sketch.pipe(&flow, &next_flow);
            sketch.pipe(&next_back, &back);
            sketch.pipe(&next_flow, &strainer);
            if number == 199 {
                sketch.pipe_between((&strainer, true), (&valve, true));
                sketch.pipe_between((&valve, false), (&next_back, false));
            } else {
                sketch.pipe(&strainer, &valve);
                sketch.pipe(&valve, &next_back);
            }
            (flow, back) = (next_flow, next_back);
        }
        assert_eq!(titles(&sketch.project, WORDS), ["Check 199"]);
    }

    #[test]
    fn nothing_is_claimed_of_a_check_valve_that_bridges_a_mesh() {
        let mut sketch = Sketch::two_zones();
        // Between the two zones' middles water may go either way.
        for zone in ["A", "B"] {
            let (emitter, valve, tee) =
                (format!("Zone {zone}"), format!("Zone {zone} valve"), format!("Middle {zone}"));
            sketch.remove_pipe(&emitter, &valve);
            sketch.tee(&tee);
            sketch.pipe(&emitter, &tee);
            sketch.pipe(&tee, &valve);
        }
        sketch.check_valve("Check");
        sketch.pipe("Middle A", "Check");
        sketch.pipe("Check", "Middle B");
        assert!(titles(&sketch.project, WORDS).is_empty());
    }
}

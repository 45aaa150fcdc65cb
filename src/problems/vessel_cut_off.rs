//! Vessel cut off: every way from a source to an expansion vessel leads through a valve that is shut. Water that is heated
//! expands and has nowhere to go, so pressure rises until the safety valve opens or something bursts; water that cools draws
//! air. The one rule that looks at the state of valves: this state itself is the hazard.

use super::drawing::{Drawing, Edge};
use super::{Check, Severity, listed, one_of};
use crate::document::{ComponentId, ComponentKind, Port};
use std::collections::BTreeSet;

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let groups = drawing.parts_with_shut_valves();
    let group = |id: ComponentId, port: Port| drawing.node(id, port).map(|node| groups[node]);
    let all = |is: fn(&ComponentKind) -> bool| {
        let components = drawing.project.components.iter();
        components.filter(move |(_, component)| is(&component.kind)).map(|(id, _)| *id)
    };
    let vessels: Vec<ComponentId> = all(|kind| matches!(kind, ComponentKind::ExpansionVessel { .. })).collect();
    for source in all(|kind| matches!(kind, ComponentKind::Source(_))) {
        let joined: Vec<ComponentId> =
            vessels.iter().copied().filter(|vessel| drawing.part(*vessel) == drawing.part(source)).collect();
        let beyond: BTreeSet<usize> = joined.iter().filter_map(|vessel| group(*vessel, Port::Branch)).collect();
        let here = group(source, Port::Inlet);
        // Without any vessel the rule about vessels speaks.
        if beyond.is_empty() || here.is_some_and(|here| beyond.contains(&here)) {
            continue;
        }
        let parts_from = |edge: &&Edge, both: bool| {
            let [a, b] = [edge.from, edge.to].map(|node| groups.get(node).copied());
            let is_beyond = |end: Option<usize>| end.is_some_and(|end| beyond.contains(&end));
            (is_beyond(a) && (!both || b == here)) || (is_beyond(b) && (!both || a == here))
        };
        let shut = |both: bool| {
            let edges = drawing.edges.iter().filter(|edge| drawing.is_way_shut(edge) && parts_from(edge, both));
            edges.filter_map(|edge| edge.component).collect::<Vec<ComponentId>>()
        };
        // Best a valve that alone would join the two; with several in a row, those next to the vessel.
        let mut valves = shut(true);
        if valves.is_empty() {
            valves = shut(false);
        }
        valves.dedup();
        let names = |ids: &[ComponentId]| ids.iter().map(|id| drawing.name(*id)).collect::<Vec<_>>();
        found.push(drawing.at(Severity::Error, source, "Vessel cut off").says(
            format!("Shut valves cut it off from {}.", listed(&names(&joined))),
            "Its water cannot expand, and pressure can open the safety valve or burst a part.",
            format!("Open {} before it runs.", one_of(&names(&valves))),
        ));
    }
}

#[cfg(test)]
mod tests {
    use crate::document::Command;
    use crate::problems::sketch::{Sketch, titles};

    fn shut(sketch: &mut Sketch, names: &[&str]) {
        for name in names {
            let valve = sketch.id(name);
            sketch.project.apply(&Command::SetOpen(valve, false)).unwrap();
        }
    }

    #[test]
    fn a_stop_before_the_vessel_is_named() {
        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Vessel", "Return tee");
        sketch.isolation_valve("Vessel stop");
        sketch.pipe("Vessel stop", "Return tee");
        sketch.pipe_between(("Vessel", true), ("Vessel stop", false));
        shut(&mut sketch, &["Zone A valve", "Zone B valve"]);
        assert!(titles(&sketch.project, "expand").is_empty(), "valves of zones leave the way by the return open");
        shut(&mut sketch, &["Vessel stop"]);
        assert_eq!(titles(&sketch.project, "from Vessel."), ["Source"]);
        assert_eq!(titles(&sketch.project, "Open Vessel stop before"), ["Source"]);
    }

    #[test]
    fn stops_on_both_sides_of_a_source_are_offered_one_by_one() {
        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Source", "Circulator");
        sketch.remove_pipe("Return tee", "Source");
        for (stop, from, to) in [("Flow stop", "Source", "Circulator"), ("Return stop", "Return tee", "Source")] {
            sketch.isolation_valve(stop);
            sketch.pipe(from, stop);
            sketch.pipe(stop, to);
        }
        shut(&mut sketch, &["Return stop"]);
        assert!(titles(&sketch.project, "expand").is_empty(), "the way by the circulator is open");
        shut(&mut sketch, &["Flow stop"]);
        assert_eq!(titles(&sketch.project, "Open one of Flow stop or Return stop"), ["Source"]);
        // Two in a row on each side: no one alone helps, and those beside the vessel are named.
        sketch.remove_pipe("Source", "Flow stop");
        sketch.remove_pipe("Return stop", "Source");
        for (stop, from, to) in [("Near flow", "Source", "Flow stop"), ("Near return", "Return stop", "Source")] {
            sketch.isolation_valve(stop);
            sketch.pipe(from, stop);
            sketch.pipe(stop, to);
        }
        shut(&mut sketch, &["Near flow", "Near return"]);
        assert_eq!(titles(&sketch.project, "Open one of Flow stop or Return stop"), ["Source"]);
        sketch.remove("Vessel");
        assert!(titles(&sketch.project, "expand").is_empty(), "the rule about vessels speaks");
    }
}

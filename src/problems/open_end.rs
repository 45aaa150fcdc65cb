//! Open end: a port without a pipe. In a closed system water would leave there; the model lets nothing through. A tee that only
//! one pipe meets is a stub: it harms no flow, but nothing flows in it, and what stands in it goes foul or freezes.

use super::drawing::Drawing;
use super::{Problem, Severity, listed};
use crate::document::{ComponentKind, Port, PortRef};
use std::collections::BTreeMap;

/// Ports of a separator in words.
const SEPARATOR: [(Port, &str); 4] = [
    (Port::Inlet, "the primary flow"),
    (Port::Outlet, "the primary return"),
    (Port::SecondaryOutlet, "the secondary flow"),
    (Port::SecondaryInlet, "the secondary return"),
];

/// Ports of a three-way valve in words.
const THREE_WAY_VALVE: [(Port, &str); 3] =
    [(Port::Inlet, "the inlet"), (Port::Outlet, "the outlet"), (Port::Branch, "the bypass")];

/// The words with a capital letter.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Problem>) {
    let mut pipes: BTreeMap<PortRef, usize> = BTreeMap::new();
    for pipe in drawing.project.pipes.values() {
        *pipes.entry(pipe.from).or_default() += 1;
        *pipes.entry(pipe.to).or_default() += 1;
    }
    for (id, component) in &drawing.project.components {
        let joined = |port: Port| pipes.get(&PortRef { component: *id, port }).copied().unwrap_or(0);
        let say = |what: &str| {
            format!("{what}, so no water can pass: join each end to the circuit, or delete the component.")
        };
        let stub = |what: &str| format!("{what}, so nothing flows in it: join it to the circuit, or delete the stub.");
        let sentence = match component.kind {
            ComponentKind::ExpansionVessel { .. } if joined(Port::Branch) == 0 => {
                "The vessel is joined to nothing, so it holds no pressure: join it to the circuit with a pipe."
                    .to_owned()
            }
            ComponentKind::PressureGauge | ComponentKind::Thermometer if joined(Port::Branch) == 0 => {
                "It is joined to nothing, so it reads nothing: join it to a tee, or delete it.".to_owned()
            }
            ComponentKind::ExpansionVessel { .. } | ComponentKind::PressureGauge | ComponentKind::Thermometer => {
                continue;
            }
            ComponentKind::Junction => match joined(Port::Branch) {
                0 => stub("No pipe meets this tee"),
                1 => stub("Only 1 pipe meets this tee"),
                _ => continue,
            },
            ComponentKind::Separator { .. } | ComponentKind::ThreeWayValve(_) => {
                let is_valve = matches!(component.kind, ComponentKind::ThreeWayValve(_));
                let (what, ports) =
                    if is_valve { ("valve", THREE_WAY_VALVE.as_slice()) } else { ("separator", SEPARATOR.as_slice()) };
                let open: Vec<&str> =
                    ports.iter().filter(|(port, _)| joined(*port) == 0).map(|(_, name)| *name).collect();
                if open.is_empty() {
                    continue;
                }
                let (verb, all) = if open.len() == 1 { ("is", "") } else { ("are", " each") };
                format!(
                    "{} of the {what} {verb} joined to nothing: join{all} to its circuit, or delete the {what}.",
                    capital(&listed(&open))
                )
            }
            _ => match (joined(Port::Inlet), joined(Port::Outlet)) {
                (0, 0) => say("Neither inlet nor outlet has a pipe"),
                (0, _) => say("The inlet has no pipe"),
                (_, 0) => say("The outlet has no pipe"),
                _ => continue,
            },
        };
        let is_stub = component.kind == ComponentKind::Junction || component.kind.is_gauge();
        let severity = if is_stub { Severity::Warning } else { Severity::Error };
        found.push(drawing.at(severity, *id, sentence));
    }
}

#[cfg(test)]
mod tests {
    use crate::problems::sketch::{Sketch, titles};
    use crate::problems::{Severity, find};

    #[test]
    fn a_removed_pipe_leaves_two_open_ends() {
        let mut sketch = Sketch::two_zones();
        sketch.remove_pipe("Zone A", "Zone A valve");
        let found = titles(&sketch.project, "so no water can pass");
        assert_eq!(found, ["Zone A", "Zone A valve"]);
    }

    #[test]
    fn a_stub_is_a_warning() {
        let mut sketch = Sketch::two_zones();
        sketch.tee("Stub");
        sketch.pipe("Flow tee", "Stub");
        assert_eq!(titles(&sketch.project, "nothing flows in it"), ["Stub"]);
        assert!(find(&sketch.project).iter().all(|problem| problem.severity == Severity::Warning));
    }
}

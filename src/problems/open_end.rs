//! Open end: a port without a pipe. In a closed system water would leave there; the model lets nothing through. A tee that only
//! one pipe meets is a stub: it harms no flow, but nothing flows in it, and what stands in it goes foul or freezes.

use super::drawing::Drawing;
use super::{Check, Severity, listed};
use crate::document::{ComponentKind, Port};

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

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    for (id, component) in &drawing.project.components {
        let joined = |port: Port| drawing.pipes_at(*id, port);
        let open = |heading, what: &str| {
            drawing.at(Severity::Error, *id, heading).says(
                what,
                "No water can pass.",
                "Join each end to the circuit, or delete the component.",
            )
        };
        let stub = |what: &str| {
            drawing.at(Severity::Warning, *id, "Stub").says(
                what,
                "Nothing flows in it.",
                "Join it to the circuit, or delete the stub.",
            )
        };
        found.push(match component.kind {
            ComponentKind::ExpansionVessel { .. } if joined(Port::Branch) == 0 => {
                drawing.at(Severity::Error, *id, "Vessel joined to nothing").says(
                    "The vessel is joined to nothing.",
                    "It holds no pressure.",
                    "Join it to the circuit with a pipe.",
                )
            }
            ComponentKind::PressureGauge | ComponentKind::Thermometer if joined(Port::Branch) == 0 => drawing
                .at(Severity::Warning, *id, "Gauge joined to nothing")
                .says("It is joined to nothing.", "It reads nothing.", "Join it to a tee, or delete it."),
            ComponentKind::ExpansionVessel { .. } | ComponentKind::PressureGauge | ComponentKind::Thermometer => {
                continue;
            }
            ComponentKind::Junction => match joined(Port::Branch) {
                0 => stub("No pipe meets this tee."),
                1 => stub("Only 1 pipe meets this tee."),
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
                drawing.at(Severity::Error, *id, "Open end").says(
                    format!("{} of the {what} {verb} joined to nothing.", capital(&listed(&open))),
                    "No water can pass there.",
                    format!("Join{all} to its circuit, or delete the {what}."),
                )
            }
            _ => match (joined(Port::Inlet), joined(Port::Outlet)) {
                (0, 0) => open("Joined to nothing", "Neither inlet nor outlet has a pipe."),
                (0, _) => open("Open end", "The inlet has no pipe."),
                (_, 0) => open("Open end", "The outlet has no pipe."),
                _ => continue,
            },
        });
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
        let found = titles(&sketch.project, "No water can pass");
        assert_eq!(found, ["Zone A", "Zone A valve"]);
    }

    #[test]
    fn a_stub_is_a_warning() {
        let mut sketch = Sketch::two_zones();
        sketch.tee("Stub");
        sketch.pipe("Flow tee", "Stub");
        assert_eq!(titles(&sketch.project, "Nothing flows in it"), ["Stub"]);
        assert!(find(&sketch.project).iter().all(|problem| problem.severity == Severity::Warning));
    }
}

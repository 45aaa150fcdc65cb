//! Valves and strainers that do what nobody wants: a bypass that runs backwards, a strainer that is due.

use super::Sight;
use crate::document::ComponentKind;
use crate::engine::units::Quantity;
use crate::problems::{Check, Severity};

/// Flow through a bypass the wrong way, of the valve's controlled flow, from which on it is worth a sentence.
const BACKWARDS: f64 = 0.01;
/// Fouling from which on a strainer is due.
const DUE: f64 = 0.999;

pub(super) fn check(sight: &Sight<'_>, found: &mut Vec<Check>) {
    for (id, component) in &sight.project.components {
        match &component.kind {
            ComponentKind::ThreeWayValve(_) => {
                let through = sight.results.component_flow(*id).abs();
                let bypass = sight.results.bypasses.get(id).map_or(0.0, |bypass| bypass.flow);
                if bypass < -BACKWARDS * through {
                    let flow = sight.says(Quantity::Flow, -bypass);
                    found.push(sight.component(Severity::Warning, *id, "Its bypass runs backwards").says(
                        format!("Its bypass runs backwards, {flow}: a pump before it overcomes the circuit behind it."),
                        "Its position no longer tells what it mixes or divides.",
                        "Part the circuits by a separator or closely spaced tees, or turn that pump down.",
                    ));
                }
            }
            ComponentKind::Strainer { fouling, .. } if *fouling >= DUE => {
                let takes = sight.results.components.get(id).map_or(f64::NAN, |result| result.drop);
                if takes.is_finite() {
                    found.push(sight.component(Severity::Warning, *id, "Due for cleaning").says(
                        format!("It takes {}, fouled as it is.", sight.says(Quantity::Pressure, takes)),
                        "Zones behind it get less.",
                        "Isolate it, let the pressure off, and clean it.",
                    ));
                }
            }
            _ => {}
        }
    }
}

//! Expansion vessel: a closed circuit needs one point of known pressure. Without a vessel pressures have no reference (flows
//! are not touched); with two at different points the model takes the first.

use super::drawing::Drawing;
use super::{Check, Severity, listed};
use crate::document::{ComponentId, ComponentKind, Port};
use std::collections::BTreeMap;

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Check>) {
    let vessels: Vec<ComponentId> = drawing
        .project
        .components
        .iter()
        .filter(|(_, component)| matches!(component.kind, ComponentKind::ExpansionVessel { .. }))
        .map(|(id, _)| *id)
        .collect();
    let mut in_part: BTreeMap<usize, Vec<ComponentId>> = BTreeMap::new();
    for id in vessels {
        if let Some(part) = drawing.part(id) {
            in_part.entry(part).or_default().push(id);
        }
    }
    let loops = drawing.loops();
    let only_one = loops.len() == 1;
    for (part, first) in loops {
        let Some((first_vessel, others)) = in_part.get(&part).and_then(|here| here.split_first()) else {
            let (check, of) = if only_one {
                (drawing.whole(Severity::Warning, "No expansion vessel"), "")
            } else {
                (drawing.at(Severity::Warning, first, "No expansion vessel"), " of this component")
            };
            found.push(check.says(
                format!("No expansion vessel is joined to the circuit{of}."),
                "Pressures have no reference, and a real system bursts or draws air. Flows are not touched.",
                "Add a vessel, usually at the circulator's suction.",
            ));
            continue;
        };
        let node = drawing.node(*first_vessel, Port::Branch);
        let apart: Vec<&str> =
            others.iter().filter(|id| drawing.node(**id, Port::Branch) != node).map(|id| drawing.name(*id)).collect();
        if let Some(last) = others.last().filter(|_| !apart.is_empty()) {
            let names: Vec<&str> = std::iter::once(drawing.name(*first_vessel)).chain(apart).collect();
            found.push(drawing.at(Severity::Warning, *last, "Two points of known pressure").says(
                format!("{} vessels are joined at different points ({}).", names.len(), listed(&names)),
                "No one point keeps its pressure. Pressures are reckoned from the first whose pressure is given.",
                "Keep one, or join them at one point.",
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::problems::sketch::{Sketch, titles};

    #[test]
    fn none_one_and_two() {
        let mut sketch = Sketch::two_zones();
        assert!(titles(&sketch.project, "vessel").is_empty());
        sketch.vessel("Second vessel");
        sketch.pipe("Second vessel", "Flow tee");
        assert_eq!(titles(&sketch.project, "2 vessels"), ["Second vessel"]);
        sketch.remove("Second vessel");
        sketch.remove("Vessel");
        assert_eq!(titles(&sketch.project, "No expansion vessel").len(), 1);
    }
}

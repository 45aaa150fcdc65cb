//! Expansion vessel: a closed circuit needs one point of known pressure. Without a vessel pressures have no reference (flows
//! are not touched); with two at different points the model takes the first.

use super::drawing::Drawing;
use super::{Problem, Severity, listed};
use crate::document::{ComponentId, ComponentKind, Port};

pub(super) fn check(drawing: &Drawing, found: &mut Vec<Problem>) {
    let vessels: Vec<ComponentId> = drawing
        .project
        .components
        .iter()
        .filter(|(_, component)| matches!(component.kind, ComponentKind::ExpansionVessel { .. }))
        .map(|(id, _)| *id)
        .collect();
    let loops = drawing.loops();
    let only_one = loops.len() == 1;
    for (part, first) in loops {
        let here: Vec<ComponentId> = vessels.iter().copied().filter(|id| drawing.part(*id) == Some(part)).collect();
        let Some((first_vessel, others)) = here.split_first() else {
            let what = "without one, pressures have no reference and a real system bursts or draws air: add a vessel, \
                        usually at the circulator's suction. Flows are not touched.";
            found.push(if only_one {
                drawing.whole(Severity::Warning, format!("No expansion vessel is joined to the circuit; {what}"))
            } else {
                let sentence = format!("No expansion vessel is joined to the circuit of this component; {what}");
                drawing.at(Severity::Warning, first, sentence)
            });
            continue;
        };
        let node = drawing.node(*first_vessel, Port::Branch);
        let apart: Vec<&str> =
            others.iter().filter(|id| drawing.node(**id, Port::Branch) != node).map(|id| drawing.name(*id)).collect();
        if let Some(last) = others.last().filter(|_| !apart.is_empty()) {
            let names: Vec<&str> = std::iter::once(drawing.name(*first_vessel)).chain(apart).collect();
            let sentence = format!(
                "{} vessels are joined at different points ({}), so no one point keeps its pressure: keep one, or join \
                 them at one point. Pressures are reckoned from {}.",
                names.len(),
                listed(&names),
                names[0]
            );
            found.push(drawing.at(Severity::Warning, *last, sentence));
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

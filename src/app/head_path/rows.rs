//! Rows of two paths laid over each other: one for every step, shared where both pass the same thing.

use crate::problems::Place;
use crate::study::{HeadPath, HeadStep, StepKind};
use std::collections::BTreeMap;

/// One row: the step of the first path, of the second, or of both, by their numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Row {
    pub(super) first: Option<usize>,
    pub(super) second: Option<usize>,
}

/// What tells one thing on a path from another.
fn key(step: &HeadStep) -> (Place, StepKind) {
    (step.place, step.kind)
}

/// Lays the second path over the first. Both keep their order; what the second passes alone stands before
/// the row where they meet again.
pub(super) fn lay_over(first: &HeadPath, second: Option<&HeadPath>) -> Vec<Row> {
    let steps = second.map_or(&[][..], |path| &path.steps);
    let at: BTreeMap<(Place, StepKind), usize> = steps.iter().enumerate().map(|(i, step)| (key(step), i)).collect();
    let alone = |i: usize| Row { first: None, second: Some(i) };
    let mut rows = Vec::new();
    let mut next = 0;
    for (i, step) in first.steps.iter().enumerate() {
        // One that the second path passed earlier cannot be shared: rows follow the water.
        let shared = at.get(&key(step)).copied().filter(|j| *j >= next);
        if let Some(j) = shared {
            rows.extend((next..j).map(alone));
            next = j + 1;
        }
        rows.push(Row { first: Some(i), second: shared });
    }
    rows.extend((next..steps.len()).map(alone));
    rows
}

#[cfg(test)]
mod tests {
    use super::{Row, lay_over};
    use crate::document::Project;
    use crate::file;
    use crate::study::{HeadPath, Study, head_path};

    fn paths(zones: [&str; 2]) -> [HeadPath; 2] {
        let text = include_str!("../../../sample-projects/fernhollow-library.ron");
        let project: Project = file::parse(text, "the sample").unwrap();
        let study = Study::new(&project).unwrap();
        zones.map(|zone| head_path(&project, &study, project.zone_named(zone).unwrap()).unwrap())
    }

    #[test]
    fn mains_are_shared_and_branches_stand_alone() {
        let [far, near] = paths(["Reading-room floor", "Meeting radiators"]);
        let rows = lay_over(&far, Some(&near));
        let name = |row: &Row| {
            let step = row.first.map(|i| &far.steps[i]).or(row.second.map(|i| &near.steps[i])).unwrap();
            (step.name.as_str(), row.first.is_some(), row.second.is_some())
        };
        let rows: Vec<_> = rows.iter().map(name).collect();
        assert_eq!(rows[0], ("Main 1 flow", true, true));
        assert_eq!(rows[1], ("Main 2 flow", true, true));
        assert!(rows.contains(&("Main 4 flow", true, false)));
        assert!(rows.contains(&("Meeting balancing valve", false, true)));
        assert_eq!(rows.last(), Some(&("Common flow", true, true)));
        assert_eq!(rows.iter().filter(|row| row.1).count(), far.steps.len());
        assert_eq!(rows.iter().filter(|row| row.2).count(), near.steps.len());
    }

    #[test]
    fn each_path_keeps_its_order() {
        let [first, second] = paths(["Office radiators", "Children's floor"]);
        let rows = lay_over(&first, Some(&second));
        let mine: Vec<usize> = rows.iter().filter_map(|row| row.first).collect();
        let other: Vec<usize> = rows.iter().filter_map(|row| row.second).collect();
        assert_eq!(mine, (0..first.steps.len()).collect::<Vec<_>>());
        assert_eq!(other, (0..second.steps.len()).collect::<Vec<_>>());
        assert_eq!(lay_over(&first, None).len(), first.steps.len());
    }
}

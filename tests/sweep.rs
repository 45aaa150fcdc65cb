//! Sweeps against the same cases one at a time: settings, valves and stopped circulators in any order, on one core and on
//! several, give what a study of the changed document gives.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

use headwise::document::{Command, Project};
use headwise::file;
use headwise::study::{Study, SweepError, sweep};
use std::path::Path;

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

/// Scenarios, settings and a stopped pump, mixed so that each kind follows each other.
fn cases(project: &Project) -> Vec<Vec<Command>> {
    let (pump, _) = project.pumps().next().unwrap();
    let mut cases = vec![Vec::new(), vec![Command::SetRunning(pump, false)]];
    for index in 0..project.scenarios.len() {
        for slope in [0.0, 0.1, 0.3, 0.6] {
            cases.push(vec![Command::SetSlope(pump, slope)]);
            cases.push(vec![Command::EnterScenario(index), Command::SetSlope(pump, slope)]);
            cases.push(vec![Command::EnterScenario(index)]);
        }
        cases.push(vec![Command::SetRunning(pump, false)]);
    }
    // More than one piece.
    cases.iter().cycle().take(200).cloned().collect()
}

#[test]
fn a_sweep_is_what_each_case_gives_alone() {
    let mut flows = Vec::new();
    for name in ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron"] {
        let project = sample(name);
        let cases = cases(&project);
        let swept = sweep(&project, &cases).unwrap();
        assert_eq!(swept.len(), cases.len());
        for (commands, swept) in cases.iter().zip(&swept) {
            let mut changed = project.clone();
            for command in commands {
                changed.apply(command).unwrap();
            }
            let alone = Study::new(&changed).unwrap();
            assert!(swept.converged());
            for (id, zone) in &alone.results().zones {
                let found = swept.zones[id];
                assert!((found.flow - zone.flow).abs() <= 2e-8 * zone.design_flow, "{name}, {commands:?}");
                assert_eq!(found.state, zone.state, "{name}, {commands:?}");
                flows.push(zone.share);
            }
            for (id, pump) in &alone.results().pumps {
                assert!((swept.pumps[id].head - pump.head).abs() < 1e-6, "{name}, {commands:?}");
                assert_eq!(swept.pumps[id].running, pump.running);
            }
        }
    }
    assert!(flows.contains(&0.0) && flows.iter().any(|share| *share > 1.05));
}

#[test]
fn the_number_of_cores_changes_nothing() {
    let project = sample("fernhollow-library.ron");
    let cases = cases(&project);
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| sweep(&project, &cases).unwrap())
    };
    // As text: what is not a number is not equal to itself.
    assert_eq!(format!("{:?}", with(1)), format!("{:?}", with(3)));
}

#[test]
fn a_case_that_cannot_be_is_told() {
    let project = sample("fernhollow-library.ron");
    let (pump, _) = project.pumps().next().unwrap();
    let wrong = vec![vec![], vec![Command::SetSlope(pump, 2.0)]];
    let told = sweep(&project, &wrong).unwrap_err();
    assert!(matches!(told, SweepError::Command(_)));
    assert!(told.to_string().contains("Circulator") && told.to_string().contains("slope"), "{told}");
}

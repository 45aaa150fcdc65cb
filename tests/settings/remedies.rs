//! Remedies and presettings: a reversed return gives every zone a way as long, nothing that is proposed is worse than it is said to be,
//! and moved balancing valves never make the best setting worse.

use crate::judge::Judge;
use crate::systems::{Chance, composed, design_flow, sample};
use headwise::document::{Arrangement, ComponentKind, PipeId, PlannedValve, Project, flaws};
use headwise::engine::units::Units;
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{Deciding, Watch, best, binding_zone, remedies, with_presettings};
use headwise::study::sizing::balance;
use headwise::study::{Study, path_of, reverse_return};
use std::collections::BTreeSet;

/// The pipes on each zone's way that are on another zone's too or were in the row of mains: all but its branch.
fn mains_length(project: &Project) -> Vec<f64> {
    let study = Study::new(project).unwrap();
    assert!(study.results().converged() && study.results().mass_error < 1e-9);
    let paths: Vec<BTreeSet<PipeId>> = project.zones.keys().map(|zone| path_of(project, &study, *zone).pipes).collect();
    let is_branch = |id: &PipeId| project.pipes[id].name.contains("branch");
    let length = |path: &BTreeSet<PipeId>| {
        path.iter().filter(|id| !is_branch(id)).map(|id| project.pipes[id].length).sum::<f64>()
    };
    paths.iter().map(length).collect()
}

fn spread(lengths: &[f64]) -> f64 {
    let [low, high] = [f64::min, f64::max].map(|f| lengths.iter().copied().reduce(f).unwrap());
    high / low - 1.0
}

#[test]
fn a_reversed_return_gives_all_zones_as_long_a_way() {
    let mut chance = Chance::new(90);
    let mut systems =
        vec![sample("fernhollow-library").0, sample("saltreed-growers").0, sample("alder-point-clinic").0];
    while systems.len() < 7 {
        let zones = 2 + chance.below(5);
        let (project, _) = composed(&mut chance, zones, 1, &[PlannedValve::Zone]);
        if project.title.contains(&format!("{:?}", Arrangement::DirectReturn)) {
            systems.push(project);
        }
    }
    for project in systems {
        let before = mains_length(&project);
        let reversed = reverse_return(&project).unwrap();
        assert_eq!(flaws(&reversed), [], "{}", project.title);
        let after = mains_length(&reversed);
        assert!(spread(&before) > 0.05, "{}: {before:?}", project.title);
        assert!(spread(&after) < 1e-9, "{}: {before:?} {after:?}", project.title);
        // Nothing is added but the way along the row, nothing else is touched.
        assert_eq!(reversed.pipes.len(), project.pipes.len());
        assert_eq!(reversed.components, project.components);
        let results = Study::new(&reversed).unwrap().results().clone();
        assert!(results.zones.values().all(|zone| zone.flow > 0.0), "{}", project.title);
        let sum: f64 = results.zones.values().map(|zone| zone.flow).sum();
        let pumped: f64 = results.pumps.values().filter(|pump| pump.running).map(|pump| pump.flow).sum();
        assert!((sum / pumped - 1.0).abs() < 1e-8, "{}: {sum} {pumped}", project.title);
        // Balanced anew it gives each zone its design flow from one head.
        let set = balance(&reversed).unwrap();
        assert!((set.flow / design_flow(&reversed) - 1.0).abs() < 1e-6);
        // There is nothing left to reverse that would make it shorter.
        assert!(after[0] >= before.iter().copied().fold(0.0, f64::max) * (1.0 - 1e-9), "{before:?} {after:?}");
    }
}

/// A manifold has no return to reverse.
#[test]
fn nothing_to_reverse() {
    let mut chance = Chance::new(91);
    let project = loop {
        let (project, _) = composed(&mut chance, 3, 1, &[PlannedValve::Zone]);
        if project.title.contains(&format!("{:?}", Arrangement::Manifold)) {
            break project;
        }
    };
    assert_eq!(reverse_return(&project), None);
}

/// The remedies of the library: sorted by what they save, each with what it says it saves, none changing the drawing.
#[test]
fn what_would_help() {
    let (project, pump) = sample("fernhollow-library");
    let watch = Watch::default();
    let mut part_load = PartLoad::new(&project, pump).unwrap();
    let found = best(&mut part_load, &watch).unwrap();
    let zone = binding_zone(&part_load, &Deciding::new(&part_load), &found).unwrap();
    assert_eq!(project.zones[&zone].name, "Office radiators");
    let all = remedies(&project, &part_load, Some(&found), zone, &Units::si(), &watch).unwrap();
    assert!(all.len() >= 4);
    let saves: Vec<f64> = all.iter().map(|remedy| remedy.saves_w.unwrap_or(f64::NEG_INFINITY)).collect();
    assert!(saves.windows(2).all(|pair| pair[0] >= pair[1]), "{saves:?}");
    for remedy in &all {
        if let (Ok(after), Some(saves_w)) = (&remedy.best, remedy.saves_w) {
            assert!((found.mean_w - after.mean_w - saves_w).abs() < 1e-9, "{}", remedy.words);
        }
    }
    // The office's valve a quarter further open, done by hand and judged by the study.
    let opened = all.iter().find(|remedy| remedy.words.ends_with("0.66")).unwrap();
    let mut system = project.clone();
    let valve = system.component_named("Office balancing valve").unwrap();
    system.components.get_mut(&valve).unwrap().kind = ComponentKind::BalancingValve { kv: 1.25 * 0.5292 };
    let after = opened.best.clone().unwrap();
    let (clear, mean_w) = Judge::new(&system, pump).weigh(after.settings, f64::NEG_INFINITY).unwrap();
    assert!(clear.zones > -1e-5 && clear.quiet > -1e-3 && (after.mean_w / mean_w - 1.0).abs() < 3e-4, "{clear:?}");
}

/// Presettings with settings are never worse than settings alone, and what they promise the study gives.
#[test]
fn presettings_are_never_worse() {
    let (library, pump) = sample("fernhollow-library");
    let mut chance = Chance::new(95);
    let mut systems = vec![(library, pump)];
    while systems.len() < 2 {
        let (project, pump) = composed(&mut chance, 3, 3, &[PlannedValve::Zone]);
        if project.title.contains(&format!("{:?}", Arrangement::Manifold)) {
            systems.push((project, pump));
        }
    }
    let mut helped = 0;
    for (project, pump) in systems {
        let watch = Watch::default();
        let mut part_load = PartLoad::new(&project, pump).unwrap();
        let before = best(&mut part_load, &watch);
        let after = with_presettings(&project, &part_load, &watch).unwrap();
        let Ok(preset) = after else {
            assert!(before.is_err(), "{}: {before:?}", project.title);
            continue;
        };
        let mut system = project.clone();
        for command in preset.commands(&part_load) {
            system.apply(&command).unwrap();
        }
        assert_eq!(system.pump(pump).unwrap().regulation, preset.best.settings);
        let (clear, mean_w) = Judge::new(&system, pump).weigh(preset.best.settings, f64::NEG_INFINITY).unwrap();
        assert!(clear.zones > -1e-5 && clear.quiet > -1e-3, "{}: {preset:?} {clear:?}", project.title);
        assert!((preset.best.mean_w / mean_w - 1.0).abs() < 3e-4, "{}: {preset:?} {mean_w}", project.title);
        if let Ok(before) = before {
            assert!(preset.best.mean_w <= before.mean_w, "{}: {preset:?} {before:?}", project.title);
            helped += usize::from(preset.best.mean_w < 0.99 * before.mean_w);
        }
    }
    assert!(helped >= 1);
}

//! Every combination of open zones: thousands are looked at quickly, and still a setting that counts as serving them serves them.

use crate::copies::copies;
use crate::judge::Judge;
use crate::systems::{Chance, composed, sample};
use headwise::document::PlannedValve;
use headwise::engine::pump::Regulation;
use headwise::study::part_load::{MOST_FOR_ALL, PartLoad, ValveState, combinations};
use headwise::study::settings::{Deciding, Watch, best};
use std::collections::BTreeSet;

/// All 4,096 states of twelve zones but the one with none open; a sample of them judged by the study itself, allowed 2e-3 of a
/// share, for those far from deciding are looked at with the water as it is at design.
#[test]
fn the_best_setting_for_twelve_zones_serves_any_of_their_combinations() {
    let mut chance = Chance::new(31);
    let (mut project, pump) = composed(&mut chance, 12, 3, &[PlannedValve::Zone]);
    (project.acceptance.low, project.acceptance.high) = (0.85, 2.5);
    project.every_combination = true;
    let mut part_load = PartLoad::new(&project, pump).unwrap();
    let combined = part_load.combined.as_ref().unwrap();
    assert_eq!((combined.states.len(), combined.is_complete), (4095, true));
    let different: BTreeSet<&BTreeSet<_>> = combined.states.iter().map(|state| &state.shut).collect();
    assert_eq!(different.len(), 4095);
    let states = combined.states.clone();
    let found = best(&mut part_load, &Watch::default()).unwrap();
    let sample: Vec<ValveState> = (0..200).map(|_| states[chance.below(states.len())].clone()).collect();
    let clear = Judge::of_states(&project, pump, &sample).clearance(found.settings);
    assert!(clear.least() > -2e-3, "{found:?}: {clear:?}");
    // Those that decide were probed: with a step more of anything they are missed in the study too.
    let deciding = Deciding::new(&part_load);
    let named = part_load.tables.len();
    let steps = part_load.steps;
    let mut bound = 0;
    for next in [
        Regulation {
            head_limit_m: found.settings.head_limit_m.map(|limit| limit - steps.head_limit),
            ..found.settings
        },
        Regulation { slope: found.settings.slope + steps.slope, ..found.settings },
        Regulation { speed_cap: found.settings.speed_cap - steps.speed_cap, ..found.settings },
    ] {
        let Some(miss) = deciding.worst(&part_load.law(&next)) else { continue };
        let state = match miss.state.checked_sub(named) {
            Some(combination) => states[combination].clone(),
            None => part_load.tables[miss.state].state.clone(),
        };
        let clear = Judge::of_states(&project, pump, &[state]).clearance(next);
        assert!(clear.least() < 2e-3, "{next:?}: {miss:?} {clear:?}");
        bound += 1;
    }
    assert!(bound >= 2, "{found:?}");
}

/// Edges of combinations that were looked at quickly, against the study at their speeds: zones have what they may have within 2e-3.
#[test]
fn a_quick_look_is_near_the_study() {
    let mut chance = Chance::new(35);
    for valve in [PlannedValve::Zone, PlannedValve::Control, PlannedValve::PressureIndependent] {
        let (mut project, pump) = composed(&mut chance, 5, 2, &[valve]);
        project.every_combination = true;
        let part_load = PartLoad::new(&project, pump).unwrap();
        let combined = part_load.combined.as_ref().unwrap();
        for _ in 0..6 {
            let number = chance.below(combined.states.len());
            let (state, served) = (&combined.states[number], combined.served[number]);
            let shares = |speed: f64| {
                Judge::of_states(&project, pump, std::slice::from_ref(state)).shares(Regulation::at_speed(speed))
            };
            if let Some(edge) = served.least.filter(|_| !served.beyond) {
                let (low, _) = shares(edge.speed);
                assert!((low - project.acceptance.low).abs() < 2e-3, "{}: {edge:?} {low}", state.name);
            }
            if let Some(edge) = served.most.filter(|edge| edge.reason.zone().is_some()) {
                let (_, high) = shares(edge.speed);
                assert!((high - project.acceptance.high).abs() < 2e-3, "{}: {edge:?} {high}", state.name);
            }
        }
    }
}

/// Up to so many zones all are looked at; above, a sample that is always the same and says that it is one.
#[test]
fn a_sample_says_so_and_is_always_the_same() {
    let mut chance = Chance::new(33);
    let (project, _) = composed(&mut chance, MOST_FOR_ALL + 2, 1, &[PlannedValve::Zone]);
    let found = combinations(&project);
    assert_eq!(found, combinations(&project.clone()));
    assert!(!found.is_complete && found.states.len() < 3000 && found.count == 65_535.0);
    let words = found.words();
    assert!(words.starts_with(&format!("{} of 6.554e4 combinations", found.states.len())), "{words}");
    assert!(words.contains("drawn by chance, always the same"), "{words}");
    let ids: BTreeSet<_> = project.zones.keys().copied().collect();
    let has = |shut: BTreeSet<_>| found.states.iter().any(|state| state.shut == shut);
    assert!(has(BTreeSet::new()));
    for id in &ids {
        assert!(has(BTreeSet::from([*id])) && has(ids.iter().filter(|other| *other != id).copied().collect()));
    }
    assert!(found.states.iter().all(|state| state.shut.len() < ids.len()));
    let few = combinations(&composed(&mut chance, 3, 1, &[PlannedValve::Zone]).0);
    assert!(few.is_complete && few.states.len() == 7 && few.words() == "all 7 combinations of open zones", "{few:?}");
    // One that cannot be shut is open in all, so that all others may be shut.
    let (mut project, _) = composed(&mut chance, 3, 1, &[PlannedValve::Zone]);
    project.zones.values_mut().next().unwrap().valve = None;
    let few = combinations(&project);
    assert!(few.is_complete && few.states.len() == 4 && few.count == 4.0, "{few:?}");
}

/// A second plant beside the first, whatever its own pump does to its own zones, changes nothing for the first one's pump.
#[test]
fn another_plant_changes_nothing() {
    let (mut project, pump) = sample("fernhollow-library");
    project.every_combination = true;
    let mut alone = PartLoad::new(&project, pump).unwrap();
    let expected = best(&mut alone, &Watch::default()).unwrap();
    let both = copies(&project, 2);
    assert_eq!(both.zones.len(), 8);
    let found = best(&mut PartLoad::new(&both, pump).unwrap(), &Watch::default()).unwrap();
    // What counts as alike is a share of what all pumps take, so that another setting may be named, as good and as serving.
    let law = alone.law(&found.settings);
    assert!(Deciding::new(&alone).serves(&law), "{found:?} {expected:?}");
    assert!((alone.mean_power_w(&law) / expected.mean_w - 1.0).abs() < 1e-3, "{found:?} {expected:?}");
}

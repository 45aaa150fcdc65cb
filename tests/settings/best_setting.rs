//! The best setting against a plain search through all settings of a device with coarse steps, each judged by the study itself.

use crate::judge::Judge;
use crate::systems::{Chance, composed, reference, sample};
use headwise::document::{ComponentId, ComponentKind, PlannedValve, Project, SettingSteps};
use headwise::engine::pump::{ReferenceFlow, Regulation};
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{NoBest, Watch, best};
use rayon::prelude::*;

/// Clearances by which a setting counts for sure, or may count: rounding of edges and of the solver for zones; for what may be too
/// loud, the speed at which design flow was found, to 1/4096 of full speed.
const SURE: f64 = 1e-5;
const ABOUT: f64 = 1e-3;

/// Whole steps between two ends.
fn steps(low: f64, high: f64, step: f64) -> Vec<f64> {
    let first = (low / step - 1e-9).ceil() as i64;
    let last = (high / step + 1e-9).floor() as i64;
    (first..=last).map(|k| k as f64 * step).collect()
}

/// The least mean power among the settings that serve for sure, and among those that may.
fn plain(project: &Project, pump: ComponentId) -> [f64; 2] {
    let unit = project.pump(pump).unwrap();
    let (ranges, of, own) = (unit.ranges(), unit.steps, unit.regulation);
    let limits = steps(of.head_limit, ranges.head_limit.1, of.head_limit);
    let slopes = steps(0.0, 1.0, of.slope);
    let caps = steps(own.minimum_speed.max(0.05), 1.0, of.speed_cap);
    let at_cap = |cap: &f64| {
        let mut judge = Judge::new(project, pump);
        let mut least = [f64::INFINITY; 2];
        // What starves at this speed whatever the flow starves under every set-line too.
        if judge.starves(Regulation { head_limit_m: None, slope: 0.0, speed_cap: *cap, ..own }) {
            return least;
        }
        for limit in &limits {
            for slope in &slopes {
                let settings = Regulation { head_limit_m: Some(*limit), slope: *slope, speed_cap: *cap, ..own };
                let Some((clear, mean_w)) = judge.weigh(settings, -ABOUT) else { continue };
                if clear.zones > SURE && clear.quiet > ABOUT {
                    least[0] = least[0].min(mean_w);
                }
                if clear.zones > -SURE && clear.quiet > -ABOUT {
                    least[1] = least[1].min(mean_w);
                }
            }
        }
        least
    };
    let all: Vec<[f64; 2]> = caps.par_iter().map(at_cap).collect();
    all.into_iter().fold([f64::INFINITY; 2], |a, b| [a[0].min(b[0]), a[1].min(b[1])])
}

/// Whether there was one.
fn compare(project: &Project, pump: ComponentId) -> bool {
    let [sure, about] = plain(project, pump);
    let own = project.pump(pump).unwrap().regulation;
    let what = format!("{}, {own:?}, {:?}: {sure} {about}", project.title, project.acceptance);
    let mut part_load = PartLoad::new(project, pump).unwrap();
    match best(&mut part_load, &Watch::default()) {
        Ok(found) => {
            let Regulation { head_limit_m, slope, speed_cap, .. } = found.settings;
            assert_eq!(Regulation { head_limit_m, slope, speed_cap, ..own }, found.settings);
            assert!(found.mean_w <= sure * (1.0 + 3e-4) && found.mean_w >= about * (1.0 - 3e-4), "{what}: {found:?}");
            let (clear, mean_w) = Judge::new(project, pump).weigh(found.settings, f64::NEG_INFINITY).unwrap();
            assert!(clear.zones > -SURE && clear.quiet > -ABOUT, "{what}: {found:?} {clear:?}");
            assert!((found.mean_w / mean_w - 1.0).abs() < 3e-4, "{what}: {found:?} {mean_w}");
            true
        }
        Err(no) => {
            assert_eq!(no, NoBest::NoneServes);
            assert!(sure.is_infinite(), "{what}: {no:?}");
            false
        }
    }
}

fn unit(project: &mut Project, pump: ComponentId, change: impl Fn(&mut headwise::document::PumpUnit)) {
    if let Some(ComponentKind::Pump(unit)) = project.components.get_mut(&pump).map(|c| &mut c.kind) {
        change(unit);
    }
}

const COARSE: SettingSteps = SettingSteps { head_limit: 0.4, slope: 0.125, speed_cap: 0.08 };

#[test]
fn of_the_sample_buildings() {
    for (name, low, high) in
        [("fernhollow-library", 0.9, 1.1), ("saltreed-growers", 0.9, 1.6), ("alder-point-clinic", 0.9, 1.1)]
    {
        let (mut project, pump) = sample(name);
        (project.acceptance.low, project.acceptance.high) = (low, high);
        let steps = SettingSteps { head_limit: 0.6, slope: 0.2, speed_cap: 0.1 };
        unit(&mut project, pump, |unit| unit.steps = steps);
        assert!(compare(&project, pump), "{name}");
    }
}

#[test]
fn of_systems_out_of_chance() {
    use PlannedValve::{Control, PressureIndependent, Zone};
    let mut found = 0;
    for seed in 40..50 {
        let mut chance = Chance::new(seed);
        let (zones, scenarios) = (2 + chance.below(3), 3 + chance.below(3));
        let valves = [vec![Zone], vec![PressureIndependent], vec![Zone, PressureIndependent], vec![Control, Zone]];
        let (mut project, pump) = composed(&mut chance, zones, scenarios, &valves[seed as usize % 4]);
        let settings = Regulation {
            reference: [ReferenceFlow::FullSpeed, ReferenceFlow::CappedSpeed, reference(&mut chance, &project)]
                [seed as usize % 3],
            ..project.pump(pump).unwrap().regulation
        };
        let greatest_w = project.pump(pump).unwrap().ranges().power_limit.1;
        let power_limit_w = (seed % 5 == 0).then(|| chance.within(0.35, 0.8) * greatest_w);
        let minimum_speed = if seed % 4 == 1 { chance.within(0.4, 0.7) } else { settings.minimum_speed };
        unit(&mut project, pump, |unit| {
            unit.regulation = Regulation { power_limit_w, minimum_speed, ..settings };
            unit.steps = COARSE;
        });
        project.limits.valve_drop = if seed % 7 == 3 { 6e3 } else { 20e3 };
        found += usize::from(compare(&project, pump));
    }
    assert!(found >= 7, "{found}");
}

/// Finer steps never make it worse, and each step of the answer is whole.
#[test]
fn finer_steps_never_cost_more() {
    let (mut project, pump) = sample("fernhollow-library");
    let mut last = f64::INFINITY;
    for (head_limit, slope, speed_cap) in
        [(0.4, 0.1, 0.04), (0.2, 0.05, 0.02), (0.1, 0.025, 0.01), (0.05, 0.0125, 0.005)]
    {
        unit(&mut project, pump, |unit| unit.steps = SettingSteps { head_limit, slope, speed_cap });
        let found = best(&mut PartLoad::new(&project, pump).unwrap(), &Watch::default()).unwrap();
        assert!(found.mean_w <= last * (1.0 + 2e-4), "{found:?} after {last}");
        last = found.mean_w;
        let settings = found.settings;
        let is_whole = |value: f64, step: f64| ((value / step).round() * step - value).abs() < 1e-9;
        let whole =
            [(settings.head_limit_m.unwrap(), head_limit), (settings.slope, slope), (settings.speed_cap, speed_cap)];
        assert!(whole.iter().all(|(value, step)| is_whole(*value, *step)), "{settings:?}");
    }
}

/// Who gives up gets nothing.
#[test]
fn a_search_can_be_given_up() {
    let (project, pump) = sample("fernhollow-library");
    let watch = Watch::default();
    watch.give_up();
    assert_eq!(best(&mut PartLoad::new(&project, pump).unwrap(), &watch), Err(NoBest::GivenUp));
}

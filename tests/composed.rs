//! Drawings out of lists of zones: the two sample buildings against figures computed for them by hand and by an independent
//! solution (invented buildings), sizes against their limits, and what is known of direct and reverse return.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

mod plans;
mod sound;

use headwise::document::{Arrangement, PlannedRun, Project, SystemPlan, compose};
use headwise::engine::fluid::Fluid;
use headwise::engine::pipes;
use headwise::study::sizing::{SizedSystem, SizingError, SizingLimits, choose, size_system};
use plans::{greenhouse, library};
use sound::is_sound;

const ALL: [Arrangement; 3] = [Arrangement::DirectReturn, Arrangement::ReverseReturn, Arrangement::Manifold];

#[track_caller]
fn near(what: &str, found: f64, expected: f64, share: f64) {
    assert!((found / expected - 1.0).abs() <= share, "{what}: {found} instead of {expected}");
}

fn sized(plan: &SystemPlan, series: &str) -> SizedSystem {
    size_system(plan, pipes::series(series).unwrap(), &SizingLimits::default()).unwrap()
}

/// Flow of each zone, m³/h.
fn flows(project: &Project) -> Vec<f64> {
    let water = project.design.properties(&project.fluid).unwrap();
    project.zones.values().map(|zone| 3600.0 * project.design.flow(zone, &water)).collect()
}

/// The balancing valve's loss of a zone, Pa.
fn throttled(system: &SizedSystem, zone: &str) -> f64 {
    let valve = system.project.component_named(&format!("{zone} balancing valve")).unwrap();
    system.balance.presettings.iter().find(|set| set.valve == valve).unwrap().drop
}

/// Worked by hand: 1.985 m³/h at 4.87 m, zones 0.248, 0.372, 0.496, 0.869 m³/h, balancing losses 24.2, 24.0 and 7.3 kPa against an
/// index circuit without a balancing valve; here it has one, fully open, whose loss comes on top everywhere.
#[test]
fn the_library_comes_out_as_worked_by_hand() {
    let system = sized(&library(Arrangement::DirectReturn, true), "copper-thin");
    for (found, expected) in flows(&system.project).iter().zip([0.248, 0.372, 0.496, 0.869]) {
        near("flow", *found, expected, 0.01);
    }
    assert_eq!(system.project.zones[&system.balance.index].name, "Reading-room floor");
    near("flow", 3600.0 * system.balance.flow, 1.985, 0.01);
    let open = throttled(&system, "Reading-room floor");
    assert!(open <= 1e3, "{open}");
    near("head", system.balance.head_m - open / (991.7 * 9.81), 4.87, 0.01);
    for (zone, expected) in [("Office radiators", 24.2), ("Meeting radiators", 24.0), ("Children's floor", 7.3)] {
        near(zone, (throttled(&system, zone) - open) / 1e3, expected, 0.02);
    }
    is_sound(&system.project);
}

/// Worked by hand: 6.05 m³/h at 4.65 m, zones 0.726 and four times 1.331 m³/h, balancing losses 11.3, 9.9, 4.3 and 1.7 kPa against
/// the last bay without one.
#[test]
fn the_greenhouse_comes_out_as_worked_by_hand() {
    let system = sized(&greenhouse(Arrangement::DirectReturn, true), "steel-40");
    for (found, expected) in flows(&system.project).iter().zip([0.726, 1.331, 1.331, 1.331, 1.331]) {
        near("flow", *found, expected, 0.01);
    }
    assert_eq!(system.project.zones[&system.balance.index].name, "Bay 4");
    near("flow", 3600.0 * system.balance.flow, 6.05, 0.01);
    let open = throttled(&system, "Bay 4");
    near("head", system.balance.head_m - open / (1005.9 * 9.81), 4.65, 0.01);
    for (zone, expected) in [("Propagation bench", 11.3), ("Bay 1", 9.9), ("Bay 2", 4.3), ("Bay 3", 1.7)] {
        near(zone, (throttled(&system, zone) - open) / 1e3, expected, 0.04);
    }
    is_sound(&system.project);
}

/// Every run keeps its limits, and the next smaller size would not: checked by the explicit formula of Haaland (J. Fluids Eng. 105
/// (1983) 89, within 1.5 % of Colebrook–White), not by the engine's own friction. Limits: 200 Pa/m, common practice; 1.2 m/s up to
/// DN 50, ASHRAE Fundamentals (from memory).
#[test]
fn sizes_keep_their_limits_and_no_smaller_one_would() {
    for (plan, series) in [(library(ALL[0], false), "copper-thin"), (greenhouse(ALL[1], false), "steel-40")] {
        let system = sized(&plan, series);
        let water = system.project.design.properties(&system.project.fluid).unwrap();
        let sizes = pipes::series(series).unwrap().sizes;
        let loaded = |bore: f64, flow: f64| {
            let velocity = flow / (std::f64::consts::PI * bore * bore / 4.0);
            let reynolds = water.density_kg_per_m3 * velocity * bore / water.dynamic_viscosity_pa_s;
            assert!(reynolds > 4000.0);
            let rough = pipes::series(series).unwrap().roughness_m / bore / 3.7;
            let factor = (-1.8 * (rough.powf(1.11) + 6.9 / reynolds).log10()).powi(-2);
            (factor / bore * water.density_kg_per_m3 * velocity * velocity / 2.0, velocity)
        };
        for run in &system.runs {
            let chosen = run.chosen.unwrap();
            let (friction, velocity) = loaded(run.bore, run.flow);
            near("friction", run.friction_pa_per_m, friction, 0.02);
            near("velocity", run.velocity_m_per_s, velocity, 1e-9);
            assert!(run.friction_pa_per_m <= 200.0 && (run.bore > 0.056 || run.velocity_m_per_s <= 1.2));
            let index = sizes.iter().position(|size| *size == chosen.size).unwrap();
            if let Some(smaller) = index.checked_sub(1).map(|index| &sizes[index]) {
                let (friction, velocity) = loaded(smaller.bore_m(), run.flow);
                assert!(friction > 0.98 * 200.0 || velocity > 1.2, "{} would do", smaller.nominal);
            }
            let pipe = &system.project.pipes[&run.pipe];
            assert!(pipe.bore == chosen.size.bore_m() && pipe.bore == run.bore);
        }
        is_sound(&system.project);
    }
}

/// Above DN 50 friction alone decides: 1.5 m/s is allowed in 3 in, not in 2 in.
#[test]
fn the_velocity_limit_ends_at_dn_50() {
    let water = Fluid::water().properties(50.0).unwrap();
    let limits = SizingLimits { friction_pa_per_m: 400.0, ..SizingLimits::default() };
    let steel = pipes::series("steel-40").unwrap();
    // 1.2 m/s in the 52.5 mm of 2 in is 9.35 m³/h.
    let nominal = |m3_per_h: f64| choose(steel, m3_per_h / 3600.0, &water, &limits).unwrap();
    assert_eq!((nominal(9.3).size.nominal, nominal(9.4).size.nominal), ("2", "2-1/2"));
    // 1.3 m/s in the 62.7 mm of 2-1/2 in, at some 270 Pa/m.
    assert_eq!(nominal(14.4).size.nominal, "2-1/2");
    let large = nominal(25.0);
    assert!(large.size.nominal == "3" && large.velocity_m_per_s > 1.4, "{large:?}");
    assert!(choose(steel, 10.0, &water, &limits).is_none());
}

/// Whatever the flow, the limits are kept to the last pascal.
#[test]
fn no_flow_slips_past_the_limits() {
    let water = Fluid::water().properties(50.0).unwrap();
    for series in pipes::CATALOGUE {
        for step in 1..400 {
            let flow = 0.01 * f64::from(step) / 3600.0;
            let Some(chosen) = choose(series, flow, &water, &SizingLimits::default()) else { continue };
            assert!(chosen.friction_pa_per_m <= 200.0, "{series}: {chosen:?}");
            assert!(chosen.size.bore_m() > 0.056 || chosen.velocity_m_per_s <= 1.2, "{series}: {chosen:?}");
        }
    }
}

#[test]
fn every_arrangement_is_sound() {
    for arrangement in ALL {
        for with_bores in [false, true] {
            is_sound(&sized(&library(arrangement, with_bores), "copper-thin").project);
            is_sound(&sized(&greenhouse(arrangement, with_bores), "steel-40").project);
        }
    }
}

/// Textbook: with a reverse return every zone has about the same length of main, so that less is throttled than with direct
/// return. Equal zones evenly along the main, all pipes of one friction, are the clearest case.
#[test]
fn reverse_return_needs_less_balancing_than_direct_return() {
    let equal = |arrangement| {
        let mut plan = greenhouse(arrangement, false);
        plan.zones.remove(0);
        let section = PlannedRun { length: 12.0, minor_k: 1.0, bore: None };
        plan.zones.iter_mut().for_each(|zone| zone.main = Some(section));
        sized(&plan, "steel-40").balance
    };
    let (direct, reverse) = (equal(Arrangement::DirectReturn), equal(Arrangement::ReverseReturn));
    let spread = |balance: &headwise::study::sizing::Balance| {
        let drops = balance.presettings.iter().map(|set| set.drop);
        drops.fold(0.0, f64::max)
    };
    assert!(reverse.throttled_w() < 0.5 * direct.throttled_w(), "{reverse:?} {direct:?}");
    assert!(spread(&reverse) < 0.6 * spread(&direct), "{reverse:?} {direct:?}");
    // It costs pipe: the way back is as long as the main, so that it needs more head.
    assert!(reverse.head_m > direct.head_m);
}

#[test]
fn everything_that_a_plan_lacks_is_told_at_once() {
    let mut plan = library(Arrangement::DirectReturn, true);
    plan.zones[0].main = None;
    plan.zones[1].load = -1.0;
    plan.zones[2].branch.length = f64::NAN;
    plan.zones[3].valve_kv = Some(0.0);
    let flaws = compose(&plan).unwrap_err();
    let mut places: Vec<&str> = flaws.iter().map(|flaw| flaw.place.as_str()).collect();
    places.sort_unstable();
    let zones = ["zone Children's floor", "zone Meeting radiators", "zone Office radiators", "zone Reading-room floor"];
    assert_eq!(places, zones);
    let empty = SystemPlan { zones: Vec::new(), ..library(Arrangement::Manifold, true) };
    assert_eq!(compose(&empty).unwrap_err().len(), 1);
}

#[test]
fn a_run_that_no_size_carries_is_named() {
    let mut plan = library(Arrangement::DirectReturn, false);
    plan.zones[3].load = 4e6;
    let error = size_system(&plan, pipes::COMMON, &SizingLimits::default()).unwrap_err();
    assert!(matches!(&error, SizingError::TooLarge { .. }), "{error}");
    assert!(error.to_string().contains("Common flow") && error.to_string().contains("thin walls"), "{error}");
}

/// Figures far from any building are refused, and stop nothing.
#[test]
fn absurd_figures_are_refused() {
    for change in [
        (|plan: &mut SystemPlan| plan.zones[3].branch.length = 1e300) as fn(&mut SystemPlan),
        |plan| plan.zones[0].load = 1e-300,
        |plan| plan.zones[1].emitter_loss = 1e300,
        |plan| plan.source_loss = 1e308,
        |plan| plan.strainer_kv = Some(1e-200),
    ] {
        let mut plan = library(Arrangement::ReverseReturn, false);
        change(&mut plan);
        if let Ok(system) = size_system(&plan, pipes::COMMON, &SizingLimits::default()) {
            assert!(system.balance.head_m.is_finite(), "{:?}", system.balance);
        }
    }
}

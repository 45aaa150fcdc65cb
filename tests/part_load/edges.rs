//! The speeds between which a state is served, against the study with the pump held at them.

use crate::systems::{Chance, composed, exact, sample};
use headwise::document::{ComponentId, PlannedValve, Project};
use headwise::engine::pump::Regulation;
use headwise::engine::units::Units;
use headwise::problems::Place;
use headwise::study::part_load::{Edge, PartLoad, Reason, ValveState};
use headwise::study::settings::{Deciding, why_none};
use headwise::study::{ZoneResult, ZoneState};

/// Rounding of an edge's speed, 1e-9 of full speed, as a share of design flow; and of the solver.
const CLOSE: f64 = 1e-6;

/// The zones that this pump moves, at an edge's speed and a little beside it.
fn zones_at(project: &Project, pump: ComponentId, state: &ValveState, speed: f64) -> Vec<ZoneResult> {
    let study = exact(project, pump, Regulation::at_speed(speed), state);
    study.results().zones.values().filter(|zone| zone.state != ZoneState::Shut).copied().collect()
}

fn check_point(project: &Project, pump: ComponentId, state: &ValveState, edge: &Edge) {
    let study = exact(project, pump, Regulation::at_speed(edge.speed), state);
    let found = study.results().pumps[&pump];
    assert!((edge.flow / found.flow - 1.0).abs() < CLOSE, "{edge:?} {found:?}");
    assert!((edge.head / found.head - 1.0).abs() < CLOSE, "{edge:?} {found:?}");
    assert!((edge.electric_w / found.electric_w - 1.0).abs() < CLOSE, "{edge:?} {found:?}");
}

/// How many edges of each kind were seen: starving, overflowing, loud, beyond full speed.
fn check(project: &Project, pump: ComponentId, seen: &mut [usize; 4]) {
    let part_load = PartLoad::new(project, pump).unwrap();
    let band = &project.acceptance;
    for table in &part_load.tables {
        let (state, served) = (&table.state, table.served);
        let share = |edge: &Edge, zone| {
            exact(project, pump, Regulation::at_speed(edge.speed), state).results().zones[&zone].share
        };
        if let Some(edge) = served.least {
            let Reason::Starves(zone) = edge.reason else { unreachable!("{edge:?}") };
            check_point(project, pump, state, &edge);
            let there = share(&edge, zone);
            if served.beyond {
                seen[3] += 1;
                assert!(there < band.low && edge.speed == 1.0, "{}: {there}", state.name);
            } else {
                seen[0] += 1;
                assert!((there - band.low).abs() < CLOSE, "{}: {there} instead of {}", state.name, band.low);
                // It is the last: all others have theirs.
                let zones = zones_at(project, pump, state, edge.speed);
                assert!(zones.iter().all(|zone| zone.share >= band.low - CLOSE), "{zones:?}");
            }
        }
        if let Some(edge) = served.most {
            check_point(project, pump, state, &edge);
            let study = exact(project, pump, Regulation::at_speed(edge.speed), state);
            match edge.reason {
                Reason::Overflows(zone) => {
                    seen[1] += 1;
                    let there = share(&edge, zone);
                    assert!((there - band.high).abs() < CLOSE, "{}: {there} instead of {}", state.name, band.high);
                }
                Reason::TooLoud(worst) => {
                    seen[2] += 1;
                    let there = match worst.place {
                        Place::Pipe(id) => study.results().pipes[&id].velocity.abs(),
                        Place::Component(id) => study.results().components[&id].drop,
                        other => unreachable!("{other:?}"),
                    };
                    assert!((there / worst.allowed - 1.0).abs() < 10.0 * CLOSE, "{worst:?}: {there}");
                }
                Reason::Starves(_) => unreachable!("{edge:?}"),
            }
            let zones = zones_at(project, pump, state, edge.speed);
            assert!(zones.iter().all(|zone| zone.share <= band.high + CLOSE), "{zones:?}");
        } else {
            // Full speed is not too much.
            let zones = zones_at(project, pump, state, 1.0);
            assert!(zones.iter().all(|zone| zone.share <= band.high + CLOSE), "{}: {zones:?}", state.name);
        }
    }
}

#[test]
fn at_an_edge_the_binding_zone_has_just_what_it_may_have() {
    let mut seen = [0; 4];
    for name in ["fernhollow-library", "saltreed-growers", "alder-point-clinic"] {
        let (project, pump) = sample(name);
        check(&project, pump, &mut seen);
    }
    for seed in 20..26 {
        let mut chance = Chance::new(seed);
        let zones = 2 + chance.below(3);
        let (mut project, pump) = composed(&mut chance, zones, 4, &[PlannedValve::Zone, PlannedValve::Control]);
        project.acceptance.low = if seed == 20 { 1.3 } else { project.acceptance.low };
        project.acceptance.high = if seed == 20 { 1.7 } else { project.acceptance.high };
        project.limits.velocity[1] = if seed == 21 { 0.7 } else { 1.2 };
        project.limits.valve_drop = if seed == 22 { 4e3 } else { 20e3 };
        check(&project, pump, &mut seen);
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
}

/// Two circulators in series and one zone: the other one alone drives far more through it than it may have, so no speed of the one in
/// hand serves.
const SERIES: &str =
    "(format: 1, title: \"Series\", design: (duty: heating, supply_c: 65, return_c: 55, room_c: 20), fluid: water,
    components: [
        (name: \"In hand\", at: (4, 0), is: pump(catalogue: [(flow_m3_per_h: 0, head_m: 7.5, power_w: 40),
            (flow_m3_per_h: 1.6, head_m: 6.41, power_w: 74), (flow_m3_per_h: 3.2, head_m: 3.15, power_w: 82.5)],
            standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: Some(2), slope_percent: 0,
            speed_cap_percent: 100, minimum_speed_percent: 20))),
        (name: \"Other\", at: (8, 0), is: pump(catalogue: [(flow_m3_per_h: 0, head_m: 6, power_w: 60),
            (flow_m3_per_h: 2, head_m: 5.2, power_w: 90), (flow_m3_per_h: 4, head_m: 3, power_w: 100)],
            standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: None, slope_percent: 0,
            speed_cap_percent: 100, minimum_speed_percent: 20))),
        (name: \"Emitter\", at: (12, 0), is: emitter(law: radiator(exponent: 1.3), loss_kpa: 5)),
        (name: \"Valve\", at: (16, 0), is: zone_valve(kv_m3_per_h: 6, open: true)),
        (name: \"Vessel\", at: (0, 4), is: expansion_vessel), (name: \"Return\", at: (0, 0), is: tee),
    ],
    pipes: [
        (from: (\"Return\", branch), to: (\"In hand\", inlet)), (from: (\"In hand\", outlet), to: (\"Other\", inlet)),
        (from: (\"Other\", outlet), to: (\"Emitter\", inlet)), (from: (\"Emitter\", outlet), to: (\"Valve\", inlet)),
        (from: (\"Valve\", outlet), to: (\"Return\", branch)), (from: (\"Vessel\", branch), to: (\"Return\", branch)),
    ],
    zones: [(name: \"Zone\", load_kw: 8, emitter: \"Emitter\", valve: Some(\"Valve\"))], scenarios: [])";

#[test]
fn too_much_at_any_speed() {
    let mut project = headwise::file::parse(SERIES, "series").unwrap();
    let pump = project.component_named("In hand").unwrap();
    let state = headwise::study::part_load::scenarios(&project)[0].clone();
    for speed in [0.05, 0.3, 1.0] {
        let zones = zones_at(&project, pump, &state, speed);
        assert!(zones[0].share > project.acceptance.high, "{speed}: {zones:?}");
    }
    for every_combination in [false, true] {
        project.every_combination = every_combination;
        let part_load = PartLoad::new(&project, pump).unwrap();
        for (_, served) in part_load.served() {
            assert!(!served.is_possible(), "{served:?}");
        }
        let deciding = Deciding::new(&part_load);
        assert!(!deciding.serves(&part_load.law(&part_load.regulation)));
        let words = why_none(&project, &part_load, &deciding, &Units::si());
        assert!(words.contains("Zone overflows"), "{words}");
    }
}

/// Flow limiters at just what a zone must have at least, or may have at most: the speed from which on they hold it is the edge, and not
/// any speed beyond. A quick look finds it to 2e-3.
#[test]
fn limiters_at_the_end_of_the_band() {
    let mut chance = Chance::new(27);
    let (mut project, pump) = composed(&mut chance, 3, 2, &[PlannedValve::PressureIndependent]);
    project.every_combination = true;
    for (low, high) in [(1.0 - 5e-7, 1.5), (0.9, 1.0 + 5e-7)] {
        (project.acceptance.low, project.acceptance.high) = (low, high);
        let part_load = PartLoad::new(&project, pump).unwrap();
        let combined = part_load.combined.as_ref().unwrap();
        for (state, quick) in combined.states.iter().zip(&combined.served) {
            let probed = PartLoad::of_states(&project, pump, vec![state.clone()]).unwrap().tables[0].served;
            assert_eq!(quick.beyond, probed.beyond, "{}", state.name);
            let [quick, probed] = [quick, &probed].map(|served| served.least.unwrap().speed);
            assert!((quick - probed).abs() < 2e-3, "{}: {quick} {probed}", state.name);
        }
    }
}

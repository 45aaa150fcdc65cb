//! The speeds between which a state is served, against the study with the pump held at them.

use crate::systems::{Chance, composed, exact, sample};
use headwise::document::{ComponentId, PlannedValve, Project};
use headwise::engine::pump::Regulation;
use headwise::problems::Place;
use headwise::study::part_load::{Edge, PartLoad, Reason, ValveState};
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

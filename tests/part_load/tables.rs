//! What the tables say under settings is what the study says under the same settings in the same state: for the sample buildings
//! and for small systems out of chance.

use crate::systems::{Chance, composed, exact, reference, sample};
use headwise::document::{ComponentId, PlannedValve, Project};
use headwise::engine::pump::{ReferenceFlow, Regulation};
use headwise::study::part_load::PartLoad;

/// Shares and flows within 1e-3 of design or of the flow, power within 2e-3: what the tables promise between their nodes.
fn compare(project: &Project, pump: ComponentId, part_load: &PartLoad, regulation: Regulation) {
    let law = part_load.law(&regulation);
    for (index, table) in part_load.tables.iter().enumerate() {
        let study = exact(project, pump, regulation, &table.state);
        let (point, found) = (law.point(table), study.results().pumps[&pump]);
        let what = format!("{}, {}, {regulation:?}: {point:?} {found:?}", project.title, table.state.name);
        let whole = law_free_flow(part_load, index);
        assert!((point.flow - found.flow).abs() < 1e-3 * found.flow.max(0.2 * whole), "{what}");
        assert!((point.head - found.head).abs() < 2e-3 * found.head.max(0.1), "{what}");
        assert!((point.electric_w / found.electric_w - 1.0).abs() < 2e-3, "{what}");
        assert!((point.speed - found.speed).abs() < 1e-3, "{what}");
        let others = study.results().pumps.iter().filter(|(id, _)| **id != pump).map(|(_, other)| other.electric_w);
        assert!((point.others_w - others.sum::<f64>()).abs() < 0.05, "{what}");
        if Some(point.governing) != found.governing {
            // Where two limits meet either may be named.
            let other = Regulation {
                speed_cap: regulation.speed_cap * 1.001,
                head_limit_m: regulation.head_limit_m.map(|h| h * 0.999),
                ..regulation
            };
            let near = [other, Regulation { speed_cap: regulation.speed_cap * 0.999, ..regulation }];
            let governing = near.map(|regulation| part_load.law(&regulation).point(table).governing);
            assert!(governing.iter().any(|g| Some(*g) == found.governing), "{what}");
        }
        for (zone, result) in &study.results().zones {
            if let Some([share, heat]) = part_load.zone_in(&law, index, *zone) {
                assert!((share - result.share).abs() < 1e-3, "{what}, {zone:?}: {share} {result:?}");
                let is_slow = found.speed < 0.3;
                assert!((heat - result.heat_share).abs() < 5e-3 || is_slow, "{what}, {zone:?}: {heat} {result:?}");
            }
        }
    }
}

/// Flow of a state at full speed, m³/s.
fn law_free_flow(part_load: &PartLoad, state: usize) -> f64 {
    part_load.law(&Regulation::at_speed(1.0)).point(&part_load.tables[state]).flow
}

#[test]
fn the_sample_buildings() {
    for name in ["fernhollow-library", "saltreed-growers", "alder-point-clinic", "thornwick-court"] {
        let (project, pump) = sample(name);
        let part_load = PartLoad::new(&project, pump).unwrap();
        let own = part_load.regulation;
        compare(&project, pump, &part_load, own);
        compare(&project, pump, &part_load, Regulation { reference: ReferenceFlow::CappedSpeed, ..own });
        let mut chance = Chance::new(5);
        for _ in 0..2 {
            compare(&project, pump, &part_load, settings(&mut chance, &project, pump));
        }
    }
}

/// Constant speed, no head limit at all, a head limit beyond the pump.
#[test]
fn settings_without_a_set_line() {
    let (project, pump) = sample("fernhollow-library");
    let part_load = PartLoad::new(&project, pump).unwrap();
    let own = part_load.regulation;
    for regulation in [
        Regulation::at_speed(0.83),
        Regulation { head_limit_m: None, ..own },
        Regulation { head_limit_m: Some(9.0), ..own },
        Regulation { head_limit_m: Some(6.9), reference: ReferenceFlow::CappedSpeed, ..own },
        Regulation { slope: 1.0, ..own },
        Regulation { power_limit_w: Some(30.0), ..own },
        Regulation { minimum_speed: 0.7, ..own },
    ] {
        compare(&project, pump, &part_load, regulation);
    }
}

#[test]
fn systems_out_of_chance() {
    use PlannedValve::{Control, PressureIndependent, Thermostatic, Zone};
    for (seed, valves) in [
        (1, vec![Zone]),
        (2, vec![Control, Zone]),
        (3, vec![PressureIndependent]),
        (4, vec![Zone, PressureIndependent]),
    ]
    .into_iter()
    .chain([(5, vec![Thermostatic]), (6, vec![Zone]), (7, vec![Control])])
    {
        let mut chance = Chance::new(seed);
        let zones = 2 + chance.below(4);
        let (project, pump) = composed(&mut chance, zones, 4, &valves);
        let part_load = PartLoad::new(&project, pump).unwrap();
        for _ in 0..8 {
            compare(&project, pump, &part_load, settings(&mut chance, &project, pump));
        }
    }
}

/// Any settings of a pump, up to a slope of 100 %, now and then with a power limit.
fn settings(chance: &mut Chance, project: &Project, pump: ComponentId) -> Regulation {
    let ranges = project.pump(pump).unwrap().ranges();
    let speed_cap = chance.within(0.5, 1.0);
    Regulation {
        head_limit_m: Some(chance.within(0.25, 1.05) * ranges.head_limit.1),
        slope: if chance.share() < 0.1 { 1.0 } else { chance.share() },
        speed_cap,
        power_limit_w: (chance.share() < 0.3).then(|| chance.within(0.1, 0.9) * ranges.power_limit.1),
        minimum_speed: chance.within(0.1, speed_cap.min(0.5)),
        reference: reference(chance, project),
    }
}

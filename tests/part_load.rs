//! Part load against the study itself, and the best setting against a plain search.

use headwise::document::{Command, ComponentId, Project};
use headwise::engine::pump::{ReferenceFlow, Regulation};
use headwise::file;
use headwise::study::Study;
use headwise::study::part_load::PartLoad;
use headwise::study::settings::{Deciding, Watch, best};
use std::path::Path;
use std::time::Instant;

fn sample(name: &str) -> (Project, ComponentId) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("sample-projects/{name}.ron"));
    let project = file::load(&path).unwrap();
    let pump = project.pumps().next().unwrap().0;
    (project, pump)
}

/// What the tables say under settings is what the study says.
#[test]
fn tables_say_what_the_study_says() {
    for name in ["fernhollow-library", "saltreed-growers", "alder-point-clinic", "thornwick-court"] {
        let (project, pump) = sample(name);
        let now = Instant::now();
        let part_load = PartLoad::new(&project, pump).unwrap();
        println!("{name}: {:?}, {} states", now.elapsed(), part_load.tables.len());
        let own = project.pump(pump).unwrap().regulation;
        let mut worst: f64 = 0.0;
        for (limit, slope, cap) in
            [(own.head_limit_m, own.slope, own.speed_cap), (Some(3.1), 0.0, 1.0), (Some(6.0), 0.7, 0.9)]
        {
            let settings = Regulation { head_limit_m: limit, slope, speed_cap: cap, ..own };
            let law = part_load.law(&settings);
            for (index, table) in part_load.tables.iter().enumerate() {
                let mut case = project.clone();
                case.apply(&Command::SetRegulation(pump, settings)).unwrap();
                for command in table.state.commands(&project) {
                    case.apply(&command).unwrap();
                }
                let study = Study::new(&case).unwrap();
                let point = law.point(table);
                let pump = study.results().pumps[&pump];
                worst = worst.max((point.flow / pump.flow - 1.0).abs());
                assert!((point.flow / pump.flow - 1.0).abs() < 1e-3, "{name} {index}: {point:?} {pump:?}");
                assert!((point.electric_w / pump.electric_w - 1.0).abs() < 2e-3, "{name} {index}: {point:?} {pump:?}");
                assert_eq!(Some(point.governing), pump.governing, "{name} {index}");
                for (zone, result) in &study.results().zones {
                    if let Some([share, _]) = part_load.zone_in(&law, index, *zone) {
                        assert!((share - result.share).abs() < 1e-3, "{name} {index} {zone:?}: {share} {result:?}");
                    }
                }
            }
        }
        println!("{name}: flows off by {worst:.1e}");
    }
}

#[test]
fn the_best_setting_of_the_library() {
    let (project, pump) = sample("fernhollow-library");
    let mut part_load = PartLoad::new(&project, pump).unwrap();
    let own = part_load.regulation;
    let now = Instant::now();
    let found = best(&mut part_load, &Watch::default());
    println!("{:?} {found:?}", now.elapsed());
    let deciding = Deciding::new(&part_load);
    println!("{deciding:#?}");
    println!(
        "own {:?} {:?}",
        part_load.year(&part_load.law(&own)).total_j() / 3.6e6,
        deciding.worst(&part_load.law(&own))
    );
    let _ = ReferenceFlow::FullSpeed;
}

#[test]
fn everything_on_the_samples() {
    use headwise::engine::units::Units;
    use headwise::study::settings::*;
    for name in ["fernhollow-library", "saltreed-growers", "alder-point-clinic"] {
        let (mut project, pump) = sample(name);
        let mut part_load = PartLoad::new(&project, pump).unwrap();
        let deciding = Deciding::new(&part_load);
        let now = Instant::now();
        let map =
            SettingMap::new(&part_load, &deciding, Plane::new(&part_load, Axes::LimitOverSlope, part_load.regulation), CELLS);
        println!(
            "{name} map {:?} region {:?} contours {}",
            now.elapsed(),
            map.region.iter().map(Vec::len).collect::<Vec<_>>(),
            map.contours.len()
        );
        let watch = Watch::default();
        let units = Units::si();
        match best(&mut part_load, &watch) {
            Ok(found) => {
                println!("{}", explanation(&project, &part_load, &deciding, &found, &units));
                let now = Instant::now();
                let robust = robustness(&project, &part_load, &found.settings, &watch).unwrap();
                for case in &robust.cases {
                    println!(
                        "  {}: {:?}",
                        case.name,
                        case.miss.map(|(m, s)| (miss_words(&project, &part_load, &m, &units), m.by, s))
                    );
                }
                println!("still {:?} {:?}", robust.still, now.elapsed());
                if let Some(zone) = binding_zone(&part_load, &deciding, &found) {
                    let now = Instant::now();
                    for r in remedies(&project, &part_load, Some(&found), zone, &units, &watch).unwrap() {
                        println!(
                            "  {} {:?} {:?}",
                            r.words,
                            r.saves_w,
                            r.best.map(|b| (b.settings.head_limit_m, b.settings.slope, b.settings.speed_cap))
                        );
                    }
                    println!("{:?}", now.elapsed());
                }
            }
            Err(no) => println!("{no:?}: {}", why_none(&project, &part_load, &deciding, &units)),
        }
        let now = Instant::now();
        println!("preset {:?}", with_presettings(&project, &part_load, &watch).unwrap());
        println!("{:?}", now.elapsed());
        project.every_combination = true;
        let now = Instant::now();
        let mut part_load = PartLoad::new(&project, pump).unwrap();
        let found = best(&mut part_load, &watch);
        println!("combined {:?} {:?}", found, now.elapsed());
        let deciding = Deciding::new(&part_load);
        match found {
            Ok(found) => println!("{}", explanation(&project, &part_load, &deciding, &found, &units)),
            Err(_) => println!("{}", why_none(&project, &part_load, &deciding, &units)),
        }
    }
}

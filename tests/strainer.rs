//! A strainer from clean to fouled: at its ends the Kv that are given, between them a drop that rises evenly with the fouling
//! (identity of the model; no source: makers publish the two ends).

use headwise::document::{ComponentKind, flaws};
use headwise::engine::links::{kv_pressure_drop_pa, strainer_kv};
use headwise::file;
use headwise::study::Study;
use std::path::Path;

#[test]
fn the_drop_rises_evenly_from_clean_to_fouled() {
    let (clean, fouled, flow) = (12.0, 7.0, 2.0 / 3600.0);
    let drop = |fouling| kv_pressure_drop_pa(strainer_kv(clean, fouled, fouling), flow, 1000.0);
    assert_eq!(strainer_kv(clean, fouled, 0.0), clean);
    assert!((strainer_kv(clean, fouled, 1.0) - fouled).abs() < 1e-12);
    // By hand, Kv as IEC 60534 has it: (2/12)² bar clean, (2/7)² bar fouled.
    for (fouling, expected) in [(0.0, 2_777.777_8), (1.0, 8_163.265_3), (0.25, 4_124.149_7)] {
        assert!((drop(fouling) - expected).abs() < 1e-3, "{fouling}: {}", drop(fouling));
    }
    assert_eq!(strainer_kv(clean, clean, 0.4), clean);
}

/// Less flow when it has fouled, and what it takes is that of its present Kv.
#[test]
fn a_fouled_strainer_takes_flow_from_the_zones() {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron");
    let mut project = file::load(&sample).unwrap();
    let clean = Study::new(&project).unwrap().results().total_heat();
    let id = project.component_named("Strainer").unwrap();
    let Some(ComponentKind::Strainer { kv, fouled_kv, fouling }) = project.components.get_mut(&id).map(|c| &mut c.kind)
    else {
        panic!()
    };
    assert_eq!((*fouled_kv, *fouling), (*kv, 0.0), "a file without fouling reads as clean");
    (*fouled_kv, *fouling) = (0.4 * *kv, 0.5);
    let now = strainer_kv(*kv, *fouled_kv, 0.5);
    assert!(flaws(&project).is_empty());
    let study = Study::new(&project).unwrap();
    let result = study.results().components[&id];
    let link = study.lowered().owners.iter().position(|o| *o == headwise::study::LinkOwner::Component(id)).unwrap();
    let expected = kv_pressure_drop_pa(now, result.flow, study.lowered().fluid_of(link).density_kg_per_m3);
    assert!((result.drop - expected).abs() < 1e-6 * expected);
    assert!(study.results().total_heat() < clean);
}

#[test]
fn a_strainer_cannot_foul_open_or_beyond_full() {
    let text = include_str!("data/files/every_kind.ron");
    for (from, to, words) in [
        ("fouled_kv_m3_per_h: Some(7)", "fouled_kv_m3_per_h: Some(13)", "more than that when clean"),
        ("fouling_percent: 40", "fouling_percent: 140", "between 0 and 100 %"),
    ] {
        assert!(text.contains(from));
        let told = file::parse(&text.replace(from, to), "strainer").unwrap_err().to_string();
        assert!(told.contains("Dirty strainer") && told.contains(words), "{told}");
    }
}

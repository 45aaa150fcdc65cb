//! The catalogue of pipes against published dimension tables: each size of each series stands in the table of its standard,
//! and no row of a table is left out.

mod common;

use common::{check, rows};
use headwise::engine::pipes::{CATALOGUE, PipeSeries, PipeSize, series};
use serde::Deserialize;
use std::collections::BTreeSet;

/// A size as a table has it: name, outside diameter and bore, mm.
struct Published {
    nominal: String,
    outside_mm: f64,
    bore_mm: f64,
}

/// Each size of a series is found in the table by name, with its outside diameter and bore within a tolerance in mm; gives the
/// names that were found.
#[track_caller]
fn held(series: &PipeSeries, table: &[Published], tolerance_mm: f64) -> BTreeSet<String> {
    let find = |size: &PipeSize| {
        let row = table.iter().find(|row| row.nominal == size.nominal);
        let row = row.unwrap_or_else(|| panic!("{} {} is not in the table", series.id, size.nominal));
        for (what, found, expected) in
            [("outside", size.outside_m, row.outside_mm), ("bore", size.bore_m(), row.bore_mm)]
        {
            let off = (1e3 * found - expected).abs();
            assert!(off <= tolerance_mm, "{} {} {what}: {found} m, {expected} mm", series.id, size.nominal);
        }
        row.nominal.clone()
    };
    series.sizes.iter().map(find).collect()
}

/// All series together name every row of the table.
#[track_caller]
fn hold(ids: &[&str], table: &[Published], tolerance_mm: f64) {
    let found: BTreeSet<String> = ids.iter().flat_map(|id| held(series(id).unwrap(), table, tolerance_mm)).collect();
    assert_eq!(found, table.iter().map(|row| row.nominal.clone()).collect());
}

#[derive(Deserialize)]
struct MetricRow {
    size: String,
    od_mm: f64,
    bore_mm: f64,
}

fn metric(text: &str) -> Vec<Published> {
    let rows: Vec<MetricRow> = rows(text);
    rows.into_iter().map(|r| Published { nominal: r.size, outside_mm: r.od_mm, bore_mm: r.bore_mm }).collect()
}

/// EN 1057 as summarised in makers' tables; exact.
#[test]
fn copper_en_1057() {
    let table = metric(include_str!("data/d_copper_en1057.csv"));
    assert_eq!(table.len(), 23);
    hold(&["copper-thin", "copper", "copper-thick"], &table, 1e-9);
}

/// Sizes on sale, no standard; exact.
#[test]
fn multilayer() {
    let table = metric(include_str!("data/d_multilayer_typical.csv"));
    assert_eq!(table.len(), 14);
    hold(&["multilayer", "multilayer-thick"], &table, 1e-9);
}

/// ASTM B88 published tables, walls pinned by published weights; exact but for the table's rounding.
#[test]
fn copper_astm_b88() {
    #[derive(Deserialize)]
    struct Row {
        nominal_in: String,
        r#type: String,
        od_mm: f64,
        bore_mm: f64,
    }
    let table: Vec<Row> = rows(include_str!("data/d_copper_astm_b88.csv"));
    assert_eq!(table.len(), 27);
    for (id, kind) in [("copper-type-k", "K"), ("copper-type-l", "L"), ("copper-type-m", "M")] {
        let of = table.iter().filter(|row| row.r#type == kind);
        let of: Vec<Published> =
            of.map(|r| Published { nominal: r.nominal_in.clone(), outside_mm: r.od_mm, bore_mm: r.bore_mm }).collect();
        hold(&[id], &of, 1e-4);
    }
}

/// B36.10M by its metric columns, exact; its inch columns, rounded apart from them, within 0.1 mm.
#[test]
fn steel_b36_10m() {
    #[derive(Deserialize)]
    struct Row {
        nps: String,
        schedule: String,
        od_mm: f64,
        bore_mm: f64,
        bore_from_inch_mm: f64,
    }
    let table: Vec<Row> = rows(include_str!("data/d_steel_b36_10m.csv"));
    assert_eq!(table.len(), 28);
    for (id, schedule) in [("steel-40", "40"), ("steel-80", "80")] {
        let of = |bore: fn(&Row) -> f64| -> Vec<Published> {
            let of = table.iter().filter(|row| row.schedule == schedule);
            of.map(|r| Published { nominal: r.nps.clone(), outside_mm: r.od_mm, bore_mm: bore(r) }).collect()
        };
        hold(&[id], &of(|r| r.bore_mm), 1e-9);
        hold(&[id], &of(|r| r.bore_from_inch_mm), 0.1);
    }
}

/// EN ISO 15875-2 from memory, series S5 and S3.2; exact, and the wall by the defining relation e = d/(2S + 1) within 0.25 mm
/// (0.1 mm but for the practical least walls of the smallest pipes).
#[test]
fn pex_en_iso_15875() {
    #[derive(Deserialize)]
    struct Row {
        dn_mm: String,
        #[serde(rename = "series_S")]
        series: String,
        min_wall_mm: String,
        wall_formula_mm: f64,
        bore_mm: f64,
    }
    let table: Vec<Row> = rows(include_str!("data/d_pex_en_iso_15875.csv"));
    assert_eq!(table.len(), 16);
    for (id, kind) in [("pex-s5", "5"), ("pex-s3.2", "3.2")] {
        let of = table.iter().filter(|row| row.series == kind);
        let of: Vec<Published> = of
            .map(|r| Published {
                nominal: format!("{} x {}", r.dn_mm, r.min_wall_mm),
                outside_mm: r.dn_mm.parse().unwrap(),
                bore_mm: r.bore_mm,
            })
            .collect();
        hold(&[id], &of, 1e-9);
        for (size, row) in series(id).unwrap().sizes.iter().zip(table.iter().filter(|row| row.series == kind)) {
            assert!((1e3 * size.wall_m - row.wall_formula_mm).abs() < 0.25, "{}", size.nominal);
        }
    }
}

/// ASTM F876, mean bores as design handbooks have them; the table keeps three decimals of an inch.
#[test]
fn pex_astm_f876() {
    #[derive(Deserialize)]
    struct Row {
        nominal_in: String,
        od_in: f64,
        bore_mean_in: f64,
    }
    let table: Vec<Row> = rows(include_str!("data/d_pex_astm_f876.csv"));
    let of: Vec<Published> = table
        .iter()
        .map(|r| Published {
            nominal: r.nominal_in.clone(),
            outside_mm: 25.4 * r.od_in,
            bore_mm: 25.4 * r.bore_mean_in,
        })
        .collect();
    assert_eq!(of.len(), 8);
    hold(&["pex-sdr-9"], &of, 1e-9);
}

/// Roughness against the handbook ranges, and by name the value recommended for each material.
#[test]
fn roughness() {
    #[derive(Deserialize)]
    struct Row {
        material: String,
        eps_mm: Option<f64>,
        eps_low_mm: Option<f64>,
        eps_high_mm: Option<f64>,
    }
    let table: Vec<Row> = rows(include_str!("data/d_roughness.csv"));
    for series in CATALOGUE {
        let word = match series.id.split('-').next().unwrap() {
            "copper" => "drawn copper",
            "steel" => "commercial steel",
            "pex" => "PE-X",
            _ => "multilayer",
        };
        let row = table.iter().find(|row| row.material.starts_with(word)).unwrap();
        let mm = 1e3 * series.roughness_m;
        check(series, mm, row.eps_mm.unwrap(), 1e-12);
        assert!(mm >= row.eps_low_mm.unwrap() && mm <= row.eps_high_mm.unwrap(), "{series}");
    }
}

#[test]
fn series_have_names_of_their_own_and_rise_in_bore() {
    let ids: BTreeSet<&str> = CATALOGUE.iter().map(|series| series.id).collect();
    let names: BTreeSet<&str> = CATALOGUE.iter().map(|series| series.name).collect();
    assert_eq!((ids.len(), names.len()), (CATALOGUE.len(), CATALOGUE.len()));
    for series in CATALOGUE {
        assert!(series.sizes.windows(2).all(|pair| pair[0].bore_m() < pair[1].bore_m()), "{series}");
        assert!(series.sizes.iter().all(|size| size.wall_m > 0.0 && size.bore_m() > 0.0), "{series}");
    }
}

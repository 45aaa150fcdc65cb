//! Fluid properties against tables from outside the program; each table's own header names how it was made.

#![expect(clippy::unwrap_used, reason = "a broken table must stop the test")]

use headwise::engine::fluid::{Fluid, FluidError, FluidKind, mass_to_volume_fraction, volume_to_mass_fraction};
use serde::Deserialize;
use serde::de::DeserializeOwned;

fn rows<Row: DeserializeOwned>(table: &str) -> Vec<Row> {
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(table.as_bytes())
        .deserialize()
        .collect::<Result<_, _>>()
        .unwrap()
}

fn glycol(name: &str) -> FluidKind {
    match name {
        "propylene glycol" => FluidKind::PropyleneGlycol,
        "ethylene glycol" => FluidKind::EthyleneGlycol,
        other => panic!("the table names an unknown glycol: {other}"),
    }
}

#[track_caller]
fn check_relative(what: &str, found: f64, expected: f64, tolerance: f64) {
    let deviation = (found / expected - 1.0).abs();
    assert!(deviation <= tolerance, "{what}: found {found}, expected {expected}, deviation {deviation:e}");
}

#[track_caller]
fn check_absolute(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}

#[derive(Deserialize)]
struct WaterRow {
    #[serde(rename = "t_C")]
    temperature_c: f64,
    rho_kg_m3: f64,
    #[serde(rename = "mu_mPa_s")]
    mu_mpa_s: f64,
    nu_mm2_s: f64,
    #[serde(rename = "cp_kJ_kgK")]
    cp_kj_kg_k: f64,
    #[serde(rename = "psat_kPa")]
    psat_kpa: f64,
    #[serde(rename = "heat_kWh_per_m3K")]
    heat_kwh_per_m3_k: f64,
}

/// IAPWS-IF97 and R12-08 by the library iapws 1.5.5; its tolerance for a program that implements IF97 is 1e-5
/// (viscosity 1e-4), for any other correlation 0.05 % rho, 1 % mu, 0.3 % cp, 0.5 % psat.
#[test]
fn water_meets_the_iapws_table() {
    let table: Vec<WaterRow> = rows(include_str!("data/a_water.csv"));
    assert_eq!(table.len(), 28);
    for row in table {
        let t = row.temperature_c;
        let found = Fluid::water().properties(t).unwrap();
        let what = |name: &str| format!("water {name} at {t} °C");
        check_relative(&what("density"), found.density_kg_per_m3, row.rho_kg_m3, 1e-5);
        check_relative(&what("viscosity"), 1e3 * found.dynamic_viscosity_pa_s, row.mu_mpa_s, 1e-4);
        check_relative(&what("kinematic viscosity"), 1e6 * found.kinematic_viscosity_m2_per_s(), row.nu_mm2_s, 1e-4);
        check_relative(&what("heat capacity"), 1e-3 * found.heat_capacity_j_per_kg_k, row.cp_kj_kg_k, 1e-5);
        check_relative(
            &what("volumetric heat capacity"),
            found.volumetric_heat_capacity_j_per_m3_k() / 3.6e6,
            row.heat_kwh_per_m3_k,
            1e-5,
        );
        let psat_pa = Fluid::water().vapour_pressure_pa(t).unwrap();
        check_relative(&what("vapour pressure"), 1e-3 * psat_pa, row.psat_kpa, 1e-5);
        assert!(!Fluid::water().is_extrapolated(t));
    }
}

#[derive(Deserialize)]
struct GlycolRow {
    glycol: String,
    mass_pct: f64,
    volume_pct: f64,
    #[serde(rename = "t_C")]
    temperature_c: f64,
    rho_kg_m3: f64,
    #[serde(rename = "mu_mPa_s")]
    mu_mpa_s: f64,
    nu_mm2_s: f64,
    #[serde(rename = "cp_kJ_kgK")]
    cp_kj_kg_k: f64,
    #[serde(rename = "heat_kWh_per_m3K")]
    heat_kwh_per_m3_k: f64,
    extrapolated: String,
}

/// Melinder (2010) by the library CoolProp 8.0.0: the same correlation, so 1e-6.
#[test]
fn glycols_meet_the_melinder_table() {
    let table: Vec<GlycolRow> = rows(include_str!("data/b_glycol_properties.csv"));
    assert!(table.len() >= 90, "only {} rows were read", table.len());
    for row in table {
        let fluid = Fluid::new(glycol(&row.glycol), row.mass_pct / 100.0).unwrap();
        let found = fluid.properties(row.temperature_c).unwrap();
        let what = |name: &str| format!("{fluid}, {name} at {} °C", row.temperature_c);
        let check = |name: &str, found: f64, expected: f64| {
            check_relative(&what(name), found, expected, 1e-6);
        };
        check("density", found.density_kg_per_m3, row.rho_kg_m3);
        check("viscosity", 1e3 * found.dynamic_viscosity_pa_s, row.mu_mpa_s);
        check("kinematic viscosity", 1e6 * found.kinematic_viscosity_m2_per_s(), row.nu_mm2_s);
        check("heat capacity", 1e-3 * found.heat_capacity_j_per_kg_k, row.cp_kj_kg_k);
        check("volumetric heat capacity", found.volumetric_heat_capacity_j_per_m3_k() / 3.6e6, row.heat_kwh_per_m3_k);
        let volume_fraction = mass_to_volume_fraction(fluid.kind(), fluid.glycol_mass_fraction()).unwrap();
        check("volume share", 100.0 * volume_fraction, row.volume_pct);
        assert_eq!(fluid.is_extrapolated(row.temperature_c), row.extrapolated == "yes", "{}", what("extrapolation"));
    }
}

#[derive(Deserialize)]
struct FreezeRow {
    glycol: String,
    given_as: String,
    given_pct: f64,
    mass_pct: f64,
    volume_pct: f64,
    #[serde(rename = "t_freeze_melinder_C")]
    melinder_c: f64,
    #[serde(rename = "t_freeze_ashrae_fit_C")]
    ashrae_fit_c: Option<f64>,
    #[serde(rename = "t_freeze_lange_C")]
    lange_c: Option<f64>,
}

/// Freezing against the same correlation (1e-6 K in the library, here 6e-6 K for the table's seven digits) and
/// against two independent sources, the ASHRAE handbook fits and Lange's Handbook table 5.13: 1.5 K, for
/// ethylene glycol from 40 % 3 K.
#[test]
fn freezing_points_meet_three_sources() {
    let table: Vec<FreezeRow> = rows(include_str!("data/b_glycol_freeze.csv"));
    assert_eq!(table.len(), 36);
    for row in table {
        let kind = glycol(&row.glycol);
        let fluid = if row.given_as == "volume" {
            Fluid::from_volume_fraction(kind, row.given_pct / 100.0).unwrap()
        } else {
            Fluid::new(kind, row.given_pct / 100.0).unwrap()
        };
        let what = format!("freezing of {fluid}");
        let found_c = fluid.freezing_point_c();
        check_absolute(&what, found_c, row.melinder_c, 6e-6);
        let concentrated = kind == FluidKind::EthyleneGlycol && row.mass_pct >= 40.0;
        let between_sources_k = if concentrated { 3.0 } else { 1.5 };
        for other_c in [row.ashrae_fit_c, row.lange_c].into_iter().flatten() {
            check_absolute(&what, found_c, other_c, between_sources_k);
        }
    }
}

/// Shares by mass and by volume from the pure liquids' densities at 20 °C, to the table's seven digits.
#[test]
fn shares_convert_as_the_table_does() {
    for row in rows::<FreezeRow>(include_str!("data/b_glycol_freeze.csv")) {
        let kind = glycol(&row.glycol);
        if row.given_as == "volume" {
            let mass = volume_to_mass_fraction(kind, row.given_pct / 100.0).unwrap();
            check_relative("mass share", 100.0 * mass, row.mass_pct, 1e-6);
        } else {
            let volume = mass_to_volume_fraction(kind, row.given_pct / 100.0).unwrap();
            check_relative("volume share", 100.0 * volume, row.volume_pct, 1e-6);
        }
    }
}

/// Figures that designers work with (common practice, no source: rounded to the digits shown, water near
/// 1 bar, where density is 0.1 kg/m³ lower; for its heat capacity IF97 and IAPWS-95 differ by 0.02 %).
#[test]
fn practice_figures_are_met() {
    let mixture = Fluid::new(FluidKind::PropyleneGlycol, 0.30).unwrap();
    let figures = [
        (Fluid::water(), 41.5, 991.7, 4.179, 0.635),
        (Fluid::water(), 10.0, 999.7, 4.195, 1.306),
        (mixture, 52.5, 1005.9, 3.943, 1.162),
    ];
    for (fluid, temperature_c, density, heat_capacity, viscosity) in figures {
        let found = fluid.properties(temperature_c).unwrap();
        let what = format!("{fluid} at {temperature_c} °C");
        check_absolute(&what, found.density_kg_per_m3, density, 0.15);
        check_absolute(&what, 1e-3 * found.heat_capacity_j_per_kg_k, heat_capacity, 1e-3);
        check_absolute(&what, 1e3 * found.dynamic_viscosity_pa_s, viscosity, 6e-4);
    }
}

/// Water lowers its vapour pressure by the glycol in it, in proportion to moles: 50 % by mass ethylene glycol
/// holds 77.5 mol-% water (molar masses 18.015 and 62.068), so 0.775 of water's 47.415 kPa at 80 °C.
#[test]
fn glycol_lowers_the_vapour_pressure_by_raoults_law() {
    let fluid = Fluid::new(FluidKind::EthyleneGlycol, 0.5).unwrap();
    let pressure_pa = fluid.vapour_pressure_pa(80.0).unwrap();
    check_relative("vapour pressure", pressure_pa, 0.77505 * 47_414.7, 1e-4);
}

/// Each fluid works from its freezing point to the top of its range, and refuses both sides with the limits.
#[test]
fn ranges_are_kept_to_the_edge() {
    let fluids = [
        Fluid::water(),
        Fluid::new(FluidKind::PropyleneGlycol, 0.6).unwrap(),
        Fluid::new(FluidKind::EthyleneGlycol, 0.01).unwrap(),
    ];
    for fluid in fluids {
        let (low_c, high_c) = fluid.temperature_range_c();
        assert_eq!(low_c, fluid.freezing_point_c());
        assert!(fluid.properties(low_c).is_ok() && fluid.properties(high_c).is_ok());
        for found_c in [low_c - 0.01, high_c + 0.01] {
            let expected = FluidError::TemperatureOutside { fluid, found_c, low_c, high_c };
            assert_eq!(fluid.properties(found_c), Err(expected));
            assert_eq!(fluid.vapour_pressure_pa(found_c), Err(expected));
        }
    }
}

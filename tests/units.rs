//! Units against outside tables (exact definitions, the water of IAPWS97 where a density enters), and the way numbers
//! are written and read.

#![expect(clippy::unwrap_used, reason = "a test may stop at a broken table")]

use headwise::engine::units::{Quantity, Unit, UnitError, Units};
use std::collections::{BTreeMap, BTreeSet};

/// Standard gravity in m/s², exact (3rd CGPM).
const GRAVITY: f64 = 9.80665;

fn rows(file: &str) -> Vec<csv::StringRecord> {
    let path = format!("{}/tests/data/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).flexible(true).from_path(path).unwrap();
    reader.records().map(Result::unwrap).collect()
}

/// Names and values of a two-column table.
fn table(file: &str) -> BTreeMap<String, f64> {
    rows(file).iter().map(|row| (row[0].to_owned(), row[1].parse().unwrap())).collect()
}

#[track_caller]
fn check(found: f64, expected: f64, relative: f64) {
    let far = (found - expected).abs() > relative * expected.abs();
    assert!(!far, "found {found}, expected {expected}");
}

/// i_conversions.csv: exact definitions and IAPWS97 densities; tolerance 1e-6 as its head recommends.
#[test]
fn conversions_of_the_trade() {
    let table = table("i_conversions.csv");
    let value = |name: &str| *table.get(name).unwrap();
    let one = |unit: Unit| unit.to_si(1.0);
    let foot_m = one(Unit::FootHead);

    check(foot_m * GRAVITY * 999.972, value("1 ft of water at 39.2 degF in Pa"), 1e-6);
    let foot_at_60f_pa = value("1 ft of water at 60 degF in Pa");
    check(one(Unit::Psi) / foot_at_60f_pa, value("ft of water per psi at 60 degF"), 1e-6);
    check(Unit::LitrePerSecond.from_si(one(Unit::UsGallonPerMinute)), value("1 gpm in l/s"), 1e-6);
    check(one(Unit::FootPerSecond), value("1 ft/s in m/s"), 1e-12);
    let ton_kw = Unit::KiloWatt.from_si(one(Unit::TonOfRefrigeration));
    check(ton_kw, value("1 ton of refrigeration in kW"), 1e-6);
    let ton_btu_per_h = Unit::BtuPerHour.from_si(one(Unit::TonOfRefrigeration));
    check(ton_btu_per_h / 5000.0, value("gpm per ton at 10 degF, factor 500"), 1e-12);
    // One millimetre of water column on one metre of pipe.
    check(one(Unit::MillimetreWaterPerMetre), value("1 mm water column in Pa (conventional)"), 1e-12);

    // The table's gradients are of water at 60 °F, ours of conventional water of 1000 kg/m³: brought to one density.
    let conventional_foot_pa = 0.3048 * 1000.0 * value("1 mm water column in Pa (conventional)");
    let to_conventional = conventional_foot_pa / foot_at_60f_pa;
    for (name, feet) in [("1 ft/100 ft in Pa/m", 1.0), ("4 ft/100 ft in Pa/m", 4.0), ("2.5 ft/100 ft in Pa/m", 2.5)] {
        let gradient_pa_per_m = Unit::FootPerHundredFeet.to_si(feet);
        check(gradient_pa_per_m, value(name) * to_conventional, 1e-6);
        // As it stands the convention is 0.1 % off the table.
        check(gradient_pa_per_m, value(name), 1.1e-3);
    }
    let gradient_ft = Unit::FootPerHundredFeet.from_si(100.0);
    check(gradient_ft, value("100 Pa/m in ft/100 ft") / to_conventional, 1e-6);
}

/// f_kv_cv.csv: exact definitions, checked there against the library `fluids` 1.3.1.
#[test]
fn flow_coefficients() {
    let table = table("f_kv_cv.csv");
    let value = |name: &str| *table.get(name).unwrap();
    check(Unit::Cv.from_si(1.0), value("Cv / Kv"), 1e-6);
    check(Unit::Cv.to_si(1.0), value("Kv / Cv"), 1e-6);
    let gpm_m3_per_h = Unit::CubicMetrePerHour.from_si(Unit::UsGallonPerMinute.to_si(1.0));
    check(gpm_m3_per_h, value("US gpm in m3/h"), 1e-6);
    check(Unit::Psi.to_si(1.0), value("psi in Pa"), 1e-6);
}

/// i_factor_500.csv: heat of 1 gpm cooled by 1 °F, from IAPWS97. The metric column and the inch-pound column of a row
/// must be one physical statement; figures are printed to seven places.
#[test]
fn heat_by_flow_and_temperature_difference() {
    let rows = rows("i_factor_500.csv");
    assert_eq!(rows.len(), 9);
    for row in rows {
        let column = |index: usize| row[index].parse::<f64>().unwrap();
        let flow_m3_per_h = Unit::CubicMetrePerHour.from_si(Unit::UsGallonPerMinute.to_si(1.0));
        let difference_k = Unit::FahrenheitDifference.to_si(1.0);
        let heat_kw = column(6) * flow_m3_per_h * difference_k;
        let heat_btu_per_h = Unit::BtuPerHour.from_si(Unit::KiloWatt.to_si(heat_kw));
        check(heat_btu_per_h, column(4), 2e-6);
        check(Unit::DegreeFahrenheit.to_si(column(0)), column(1), 1e-6);
        check(Unit::DegreeFahrenheit.from_si(column(1)), column(0), 1e-6);

        let pound_per_gallon = column(2) * Unit::UsGallon.to_si(1.0).recip();
        let density = Unit::PoundPerCubicFoot.to_si(pound_per_gallon * 0.3048_f64.powi(3));
        let specific_heat = Unit::BtuPerPoundFahrenheit.to_si(column(3));
        let heat_w = density * specific_heat * Unit::UsGallonPerMinute.to_si(1.0) * difference_k;
        check(heat_w, 1000.0 * heat_kw, 2e-6);
    }
}

/// Exact definitions (international pound 0.453 592 37 kg, inch 25.4 mm, gallon 231 in³, Btu 2326 J/kg per lb, all from
/// memory): the seven figures of the library must not be further than 2e-7 away.
#[test]
fn rounded_factors_stay_near_the_definitions() {
    let (pound_kg, inch_m, foot_m) = (0.45359237_f64, 0.0254_f64, 0.3048_f64);
    let btu_j = 2326.0 * pound_kg;
    for (unit, exact) in [
        (Unit::UsGallonPerMinute, 231.0 * inch_m.powi(3) / 60.0),
        (Unit::UsGallon, 231.0 * inch_m.powi(3)),
        (Unit::Psi, pound_kg * GRAVITY / inch_m.powi(2)),
        (Unit::BtuPerHour, btu_j / 3600.0),
        (Unit::KiloBtuPerHour, btu_j / 3.6),
        (Unit::KiloBtu, 1000.0 * btu_j),
        (Unit::TonOfRefrigeration, 12_000.0 * btu_j / 3600.0),
        (Unit::Horsepower, 550.0 * foot_m * pound_kg * GRAVITY),
        (Unit::PoundPerCubicFoot, pound_kg / foot_m.powi(3)),
        (Unit::BtuPerPoundFahrenheit, 4186.8),
        (Unit::FootPerHundredFeet, GRAVITY * 10.0),
        (Unit::Mil, inch_m / 1000.0),
        (Unit::RevolutionPerSecond, 60.0),
        (Unit::KiloWattHour, 3.6e6),
        (Unit::LitrePerHour, 0.001 / 3600.0),
        (Unit::Centipoise, 0.001),
    ] {
        check(unit.to_si(1.0), exact, 2e-7);
    }
    assert_eq!(Unit::DegreeFahrenheit.to_si(68.0), 20.0);
    assert_eq!(Unit::DegreeFahrenheit.from_si(100.0), 212.0);
}

/// There and back again for every unit and over the whole range of size.
#[test]
fn every_unit_round_trips() {
    for &unit in Unit::ALL {
        for power in -9..=9 {
            for mantissa in [-7.3, -1.0, 0.0, 1.0, 2.5, 9.99] {
                let shown = mantissa * 10.0_f64.powi(power);
                let back = unit.from_si(unit.to_si(shown));
                // An offset scale loses what its offset swallows.
                assert!(
                    (back - shown).abs() <= 1e-14 * (shown.abs() + 64.0 * f64::from(unit == Unit::DegreeFahrenheit)),
                    "{unit:?} {shown} {back}"
                );
            }
        }
        assert_eq!(Unit::from_id(unit.id()), Some(unit));
    }
}

/// Whole numbers typed arrive as the nearest inside number, without rounding dust that would show in a file.
#[test]
fn typed_whole_numbers_stay_clean() {
    let units = Units::si();
    for (quantity, text, inside) in [
        (Quantity::Share, "7 %", 0.07),
        (Quantity::Speed, "93", 0.93),
        (Quantity::Bore, "26", 0.026),
        (Quantity::Roughness, "45 um", 0.000045),
        (Quantity::Flow, "7", 7.0 / 3600.0),
        (Quantity::RotationalSpeed, "4400 rpm", 4400.0),
        (Quantity::Temperature, "68 °F", 20.0),
    ] {
        assert_eq!(units.parse(quantity, text), Ok(inside), "{text}");
    }
}

#[test]
fn identifiers_and_symbols_are_distinct() {
    let ids: BTreeSet<_> = Unit::ALL.iter().map(|unit| unit.id()).collect();
    assert_eq!(ids.len(), Unit::ALL.len());
    let ids: BTreeSet<_> = Quantity::ALL.iter().map(|quantity| quantity.id()).collect();
    assert_eq!(ids.len(), Quantity::ALL.len());
    let si = Units::si();
    let mut offered = BTreeSet::new();
    for &quantity in Quantity::ALL {
        assert_eq!(Quantity::from_id(quantity.id()), Some(quantity));
        for (place, &unit) in quantity.choices().iter().enumerate() {
            offered.insert(unit);
            // A symbol typed is the unit meant, whatever the case.
            let symbol = unit.symbol().to_ascii_uppercase();
            let read = si.parse(quantity, &format!("2 {symbol}"));
            assert_eq!(read, Ok(unit.to_si(2.0)), "{quantity:?} {symbol}");
            let earlier = &quantity.choices()[..place];
            assert!(earlier.iter().all(|other| other.symbol() != unit.symbol()));
        }
        for set in [Units::si(), Units::inch_pound()] {
            assert!(quantity.choices().contains(&set.get(quantity)));
        }
    }
    assert_eq!(offered.len(), Unit::ALL.len(), "a unit is offered nowhere");
}

/// Every number that is written is read back, within what its decimals hold.
#[test]
fn written_numbers_are_read_back() {
    for &quantity in Quantity::ALL {
        for &unit in quantity.choices() {
            let mut units = Units::si();
            assert!(units.set(quantity, unit));
            for shown in [-1234.5, -3.25, 0.0, 0.5, 7.125, 88.0, 54_321.0] {
                let text = units.format(quantity, unit.to_si(shown));
                let read = unit.from_si(units.parse(quantity, &text).unwrap());
                let decimals = i32::try_from(unit.decimals()).unwrap();
                let whole = shown.abs().max(1.0).log10().floor() as i32;
                let kept = decimals.min((4 - whole).max(0));
                assert!((read - shown).abs() <= 0.500001 * 10.0_f64.powi(-kept), "{text} {shown}");
            }
        }
    }
}

#[test]
fn numbers_are_written_for_reading() {
    let (si, ip) = (Units::si(), Units::inch_pound());
    // The design point of the demo library: 1.985 m³/h at 4.873 m.
    let flow = 1.985 / 3600.0;
    for (units, quantity, inside, expected) in [
        (si, Quantity::Flow, flow, "1.985 m³/h"),
        (ip, Quantity::Flow, flow, "8.74 gpm"),
        (si, Quantity::Head, 4.873, "4.87 m"),
        (ip, Quantity::Head, 4.873, "15.99 ft"),
        (si, Quantity::Power, 62.5, "62.5 W"),
        (si, Quantity::Power, 12_345.6, "12346 W"),
        (si, Quantity::Heat, 16_000.0, "16.00 kW"),
        (ip, Quantity::Heat, 16_000.0, "54.59 kBtu/h"),
        (si, Quantity::Speed, 0.934, "93.4 %"),
        (si, Quantity::Share, 0.44, "44 %"),
        (si, Quantity::Flow, 120.0 / 3600.0, "120.00 m³/h"),
        (si, Quantity::Flow, 99.9996 / 3600.0, "100.00 m³/h"),
        (si, Quantity::Roughness, 1.5e-6, "0.0015 mm"),
        (si, Quantity::FlowCoefficient, 4.0, "Kv 4.00"),
        (ip, Quantity::FlowCoefficient, 4.0, "Cv 4.62"),
        (ip, Quantity::Temperature, 60.0, "140.0 °F"),
        (ip, Quantity::TemperatureDifference, 10.0, "18.0 °F"),
        (ip, Quantity::FrictionGradient, 392.266, "4.00 ft/100 ft"),
        (si, Quantity::RotationalSpeed, 4400.0, "4400 r/min"),
        (si, Quantity::Temperature, -3.25, "\u{2212}3.2 °C"),
        (si, Quantity::Head, -0.001, "0.00 m"),
        (si, Quantity::Head, -0.0, "0.00 m"),
        (si, Quantity::Head, f64::NAN, "–"),
        (si, Quantity::Head, f64::INFINITY, "–"),
        (si, Quantity::FlowCoefficient, f64::NAN, "–"),
    ] {
        assert_eq!(units.format(quantity, inside), expected.replace(' ', "\u{a0}").replace("100\u{a0}ft", "100 ft"));
    }
}

#[test]
fn numbers_are_read_as_people_type_them() {
    let (si, ip) = (Units::si(), Units::inch_pound());
    let gpm = Unit::UsGallonPerMinute.to_si(1.0);
    for (units, quantity, text, expected) in [
        (si, Quantity::Flow, "15 gpm", 15.0 * gpm),
        (ip, Quantity::Flow, " 15 ", 15.0 * gpm),
        (ip, Quantity::Flow, "1.985 m3/h", 1.985 / 3600.0),
        (si, Quantity::Head, "20 ft", 6.096),
        (si, Quantity::Head, "20FT", 6.096),
        (si, Quantity::Head, "3,5 m", 3.5),
        (si, Quantity::Head, ".5", 0.5),
        (si, Quantity::Head, "5.", 5.0),
        (si, Quantity::Head, "0,125", 0.125),
        (si, Quantity::Head, "+1e-2 m", 0.01),
        (si, Quantity::Temperature, "\u{2212}5\u{a0}°C", -5.0),
        (si, Quantity::Temperature, "-5C", -5.0),
        (si, Quantity::TemperatureDifference, "18 °F", 10.0),
        (si, Quantity::Pressure, "1,5 bar", 150_000.0),
        (si, Quantity::Power, "1 234.5 W", 1234.5),
        (si, Quantity::Power, "1,234.5 W", 1234.5),
        (si, Quantity::Power, "1.234,5 W", 1234.5),
        (si, Quantity::Power, "1,234,567", 1_234_567.0),
        (si, Quantity::Power, "1.2 kW", 1200.0),
        (si, Quantity::FlowCoefficient, "Kv 2.5", 2.5),
        (ip, Quantity::FlowCoefficient, "2.5 Kv", 2.5),
        (ip, Quantity::FrictionGradient, "4 ft/100 ft", 4.0 * Unit::FootPerHundredFeet.to_si(1.0)),
        (si, Quantity::Roughness, "45 um", 45e-6),
        (si, Quantity::Viscosity, "1.162 mPa s", 0.001162),
    ] {
        let read = units.parse(quantity, text).unwrap();
        assert!((read - expected).abs() <= 1e-12 * expected.abs(), "{text}: {read}");
    }
}

#[test]
fn refusals_are_plain_sentences() {
    let si = Units::si();
    let refusal = |quantity, text: &str| si.parse(quantity, text).unwrap_err().to_string();
    assert_eq!(refusal(Quantity::Head, "  "), "Type a number for the head.");
    assert_eq!(refusal(Quantity::Head, "5 kPa"), "“kPa” is a unit of pressure, not of head; use m or ft.");
    assert_eq!(refusal(Quantity::Speed, "5 spoons"), "“spoons” is not a known unit of speed; use %.");
    assert_eq!(refusal(Quantity::Heat, "24,000 Btu/h"), "“24,000” can be read two ways: write 24000 or 24.000.");
    for text in
        ["m", "abc", "1.2.3", "1,2,3", "--5", "5-", "1,23.4", "12 34 m", "e5", ".", "-", "NaN", "inf", "1e999", "١"]
    {
        let error = si.parse(Quantity::Head, text).unwrap_err();
        let named = matches!(error, UnitError::NotANumber { .. } | UnitError::UnknownUnit { .. });
        assert!(named, "{text}: {error}");
    }
}

#[test]
fn units_change_one_by_one() {
    let mut units = Units::si();
    assert_eq!(units, Units::default());
    assert!(units.set(Quantity::Flow, Unit::UsGallonPerMinute));
    assert_eq!(units.get(Quantity::Flow), Unit::UsGallonPerMinute);
    assert_eq!(units.get(Quantity::Head), Unit::MetreHead);
    assert!(!units.set(Quantity::Flow, Unit::FootHead));
    assert_eq!(units.get(Quantity::Flow), Unit::UsGallonPerMinute);
    assert_ne!(units, Units::inch_pound());
}

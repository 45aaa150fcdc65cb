//! The energy efficiency index against a worked example from outside the program (invented pump), and against a pump whose
//! index has a closed form.

#![expect(clippy::unwrap_used, reason = "a test stops where a number is missing")]

mod common;

use common::{check, rows};
use headwise::engine::pump::{
    EUROPEAN_PROFILE, EnergyIndex, PowerModel, PumpCurve, Reading, ReferencePoint, hydraulic_w, reference_power_w,
};
use serde::Deserialize;

const M3_PER_H: f64 = 1.0 / 3600.0;

#[derive(Deserialize)]
struct QuantityRow {
    quantity: String,
    value: f64,
}

/// The table's value of that name.
#[track_caller]
fn value(name: &str) -> f64 {
    let table: Vec<QuantityRow> = rows(include_str!("data/g_eei.csv"));
    table.iter().find(|row| row.quantity == name).unwrap().value
}

/// Within half a unit of the last of the table's twelve digits, and a little for rounding on the way.
#[track_caller]
fn to_the_last_digit(name: &str, found: f64) {
    let expected = value(name);
    check(name, found, expected, 6e-12 * expected.abs());
}

/// The curve of the example, 6 − 0.05 Q − 0.175 Q² (m, Q in m³/h).
fn curve() -> PumpCurve {
    PumpCurve::fit(&[[0.0, 6.0], [2.0 * M3_PER_H, 5.2], [4.0 * M3_PER_H, 3.0]]).unwrap()
}

/// The readings of the example.
fn readings() -> [Reading; 4] {
    [100, 75, 50, 25].map(|share| Reading {
        head_m: value(&format!("Hmeas{share}, m")),
        electric_w: value(&format!("P1meas{share}, W")),
    })
}

/// Table: computed, closed form; P_ref, 0.49 and the compensation in it from memory.
#[test]
fn the_worked_example_comes_out_to_the_last_digit() {
    let reference = ReferencePoint::of_curve(&curve());
    to_the_last_digit("Q100 (max of Q H), m3/h", reference.flow_m3_per_s / M3_PER_H);
    to_the_last_digit("H100, m", reference.head_m);
    assert!(!reference.beyond_data);
    let index = EnergyIndex::of_readings(reference, 1000.0, readings()).unwrap();
    to_the_last_digit("Phyd, W", index.hydraulic_w);
    to_the_last_digit("Pref, W", index.reference_w);
    for (point, share) in index.points.iter().zip([100, 75, 50, 25]) {
        assert_eq!(100.0 * point.load.flow_share, f64::from(share));
        to_the_last_digit(&format!("Q{share}, m3/h"), point.flow_m3_per_s / M3_PER_H);
        to_the_last_digit(&format!("Href{share}, m"), point.reference_head_m);
        to_the_last_digit(&format!("PL{share}, W"), point.compensated_w);
        check("weighted", point.weighted_w, point.load.weight * point.compensated_w, 1e-12);
    }
    to_the_last_digit("PL,avg, W", index.average_w);
    to_the_last_digit("EEI (unrounded)", index.index);
    assert_eq!(index.rounded(), value("EEI (declared, 2 decimals)"));
    assert!(index.in_scope);
}

/// Table: the same readings with the unit constant 2.72, and what comes out when the compensation is forgotten.
#[test]
fn the_unit_constant_and_the_compensation_are_seen() {
    let reference = ReferencePoint::of_curve(&curve());
    let density = 1000.0 * 2.72 / hydraulic_w(1000.0, M3_PER_H, 1.0);
    let index = EnergyIndex::of_readings(reference, density, readings()).unwrap();
    to_the_last_digit("EEI with Phyd = 2.72 Q H", index.index);
    let index = EnergyIndex::of_readings(reference, 1000.0, readings()).unwrap();
    let plain: f64 = index.points.iter().map(|point| point.load.weight * point.electric_w).sum();
    to_the_last_digit("EEI if all PL = P1 (no head correction)", index.index * plain / index.average_w);
}

/// Table: the formula of the reference power, from memory.
#[test]
fn the_reference_power_meets_the_table() {
    for watts in [1, 10, 50, 100, 500, 2500] {
        let name = format!("Pref for Phyd = {watts} W");
        to_the_last_digit(&name, reference_power_w(f64::from(watts)));
    }
}

/// A pump H = H₀ − C Q² (n² H₀ at speed n) has Q₁₀₀ = √(H₀/3C) and H₁₀₀ = 2 H₀/3; on the reference control curve at a share x of the flow
/// n² = (2/3)(½ + ½x) + x²/3. With a power above standby that does not depend on flow, P₁ = P₀ + n³ P. Closed form.
#[test]
fn a_pump_on_the_reference_control_curve_meets_its_closed_form() {
    let (shut_off_m, standby_w, running_w) = (7.5, 3.0, 60.0);
    let head = |q: f64| shut_off_m - 0.4252 * q * q;
    let points = [0.0, 1.5, 3.0].map(|q| [q * M3_PER_H, head(q)]);
    let curve = PumpCurve::fit(&points).unwrap();
    let power = PowerModel::new(&points.map(|[q, _]| [q, standby_w + running_w]), standby_w).unwrap();
    let index = EnergyIndex::of_pump(&curve, &power, 998.2).unwrap();
    let flow = (shut_off_m / (3.0 * 0.4252)).sqrt();
    check("flow", index.reference.flow_m3_per_s / M3_PER_H, flow, 1e-10);
    check("head", index.reference.head_m, 2.0 / 3.0 * shut_off_m, 1e-10);
    let mut average_w = 0.0;
    for (point, load) in index.points.iter().zip(EUROPEAN_PROFILE) {
        let x = load.flow_share;
        let speed = (2.0 / 3.0 * (0.5 + 0.5 * x) + x * x / 3.0_f64).sqrt();
        let electric_w = standby_w + speed.powi(3) * running_w;
        check(format!("power at {x}"), point.electric_w, electric_w, 1e-8);
        check(format!("head at {x}"), point.head_m, point.reference_head_m, 1e-8);
        check(format!("no compensation at {x}"), point.compensated_w, electric_w, 1e-7);
        average_w += load.weight * electric_w;
    }
    check("average", index.average_w, average_w, 1e-8);
    let expected = 0.49 * average_w / reference_power_w(hydraulic_w(998.2, flow * M3_PER_H, 2.0 / 3.0 * shut_off_m));
    check("index", index.index, expected, 1e-10);
}

/// A curve whose greatest hydraulic power lies past its catalogue points says so.
#[test]
fn a_curve_carried_on_is_marked() {
    let head = |q: f64| [q * M3_PER_H, 6.0 - 0.05 * q - 0.175 * q * q];
    let reference = ReferencePoint::of_curve(&PumpCurve::fit(&[0.0, 1.0, 2.5].map(head)).unwrap());
    assert!(reference.beyond_data);
    check("flow all the same", reference.flow_m3_per_s / M3_PER_H, value("Q100, m3/h"), 1e-9);
}

/// A steep cubic curve and a curve that ends nearly level: the point found beats every other flow.
#[test]
fn the_reference_point_is_the_greatest_product() {
    for points in [
        vec![[0.0, 6.0], [1.0, 5.9], [2.0, 5.7], [3.0, 3.0], [4.0, 1.0]],
        vec![[0.0, 9.0], [1.0, 4.0], [2.0, 3.5], [3.0, 3.4], [4.0, 0.5]],
        vec![[0.0, 5.0], [1.0, 3.0], [2.0, 2.9]],
    ] {
        let points: Vec<[f64; 2]> = points.iter().map(|[q, h]| [q * M3_PER_H, *h]).collect();
        let curve = PumpCurve::fit(&points).unwrap();
        let found = ReferencePoint::of_curve(&curve);
        assert!(found.head_m > 0.0);
        for i in 0..=5000 {
            let flow = curve.run_out_m3_per_s() * f64::from(i) / 5000.0;
            let product = flow * curve.full_speed(flow).0;
            assert!(product <= found.flow_m3_per_s * found.head_m * (1.0 + 1e-12), "{flow}");
        }
    }
}

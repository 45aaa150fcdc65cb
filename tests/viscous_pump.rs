//! The pump in viscous fluid against a table computed outside the program in metric and in inch-pound units, against the
//! method's own worked example, and by what must hold for any pump. All pumps here are invented.

#![expect(clippy::unwrap_used, reason = "a test stops where a number is missing")]

mod common;

use common::{check, rows};
use headwise::engine::fluid::{Fluid, FluidKind, FluidProperties};
use headwise::engine::pump::{
    CATALOGUE_WATER, PowerModel, Pump, PumpCurve, Viscous, corrected, efficiency_factor, flow_factor, hydraulic_w,
    parameter_b,
};
use serde::Deserialize;

const M3_PER_H: f64 = 1.0 / 3600.0;

/// A pump H = h0 − c Q² with power standby + a + b Q at full speed, flows in m³/h.
fn pump(flows: &[f64], [h0, c]: [f64; 2], [standby, a, b]: [f64; 3], full_speed_rpm: f64) -> Pump {
    let heads: Vec<[f64; 2]> = flows.iter().map(|q| [q * M3_PER_H, h0 - c * q * q]).collect();
    let powers: Vec<[f64; 2]> = flows.iter().map(|q| [q * M3_PER_H, standby + a + b * q]).collect();
    let power = PowerModel::new(&powers, standby).unwrap();
    Pump { curve: PumpCurve::fit(&heads).unwrap(), power, full_speed_rpm }
}

fn large() -> Pump {
    pump(&[0.0, 20.0, 40.0], [32.0, 0.005], [12.0, 900.0, 60.0], 2900.0)
}

fn small() -> Pump {
    pump(&[0.0, 3.0, 6.0], [8.5, 0.059], [4.0, 60.0, 24.0], 4000.0)
}

/// A curve that no quadratic fits.
fn cubic() -> Pump {
    let heads = [[0.0, 30.0], [10.0, 29.5], [20.0, 28.5], [30.0, 16.0], [40.0, 5.0]].map(|[q, h]| [q * M3_PER_H, h]);
    Pump { curve: PumpCurve::fit(&heads).unwrap(), ..large() }
}

/// A fluid of a viscosity in mm²/s and a density in kg/m³.
fn fluid(viscosity_mm2_per_s: f64, density_kg_per_m3: f64) -> FluidProperties {
    let dynamic_viscosity_pa_s = 1e-6 * viscosity_mm2_per_s * density_kg_per_m3;
    FluidProperties { density_kg_per_m3, dynamic_viscosity_pa_s, ..CATALOGUE_WATER }
}

fn in_fluid(pump: &Pump, viscosity_mm2_per_s: f64, density_kg_per_m3: f64) -> Viscous {
    corrected(pump, &fluid(viscosity_mm2_per_s, density_kg_per_m3), &CATALOGUE_WATER).unwrap()
}

/// The least viscosity (mm²/s) that changes the pump: B = 1, or that of the water if its B lies above 1.
fn threshold_mm2_per_s(pump: &Pump) -> f64 {
    let in_water = in_fluid(pump, 1.0, 998.2).factors;
    let water_mm2_per_s = 1e6 * CATALOGUE_WATER.kinematic_viscosity_m2_per_s();
    water_mm2_per_s * (1.0 / in_water.b_in_water.min(1.0)).powi(2)
}

#[derive(Deserialize)]
struct ViscousRow {
    pump: String,
    nu_mm2_s: f64,
    rho_kg_m3: f64,
    q_best_m3_h: f64,
    h_best_m: f64,
    b: f64,
    b_us: f64,
    flow_factor: f64,
    efficiency_factor: f64,
    q_water_m3_h: f64,
    head_factor: f64,
    q_m3_h: f64,
    h_m: f64,
    electric_w: f64,
    q_us_m3_h: f64,
    h_us_m: f64,
    electric_us_w: f64,
}

/// Table: computed outside the program, the metric formulas; the inch-pound ones must agree within the rounding of their constant.
#[test]
fn the_corrected_pump_meets_the_table() {
    let table: Vec<ViscousRow> = rows(include_str!("data/g_viscous.csv"));
    assert_eq!(table.len(), 42);
    for row in table {
        let pump = if row.pump == "small" { small() } else { large() };
        let name = format!("{} pump, {} mm²/s, {} m³/h", row.pump, row.nu_mm2_s, row.q_water_m3_h);
        let found = in_fluid(&pump, row.nu_mm2_s, row.rho_kg_m3);
        check(&name, found.best.flow_m3_per_s / M3_PER_H, row.q_best_m3_h, 1e-5);
        check(&name, found.best.head_m, row.h_best_m, 1e-5);
        check(&name, found.factors.b, row.b, 1e-7 * row.b);
        check(&name, found.factors.flow, row.flow_factor, 1e-8);
        check(&name, found.factors.efficiency, row.efficiency_factor, 1e-8);
        let share = row.q_water_m3_h * M3_PER_H / found.best.flow_m3_per_s;
        check(&name, found.factors.head(share), row.head_factor, 1e-7);
        let flow = row.q_water_m3_h * M3_PER_H * found.factors.flow;
        check(&name, flow / M3_PER_H, row.q_m3_h, 1e-8 * row.q_m3_h);
        let (head_m, electric_w) = (found.pump.curve.full_speed(flow).0, found.pump.power.electric_w(flow, 1.0));
        check(&name, head_m, row.h_m, 1e-7 * row.h_m);
        check(&name, electric_w, row.electric_w, 1e-7 * row.electric_w);
        assert_eq!(found.applies, row.flow_factor < 1.0, "{name}");

        check(format!("{name}, inch-pound B"), found.factors.b, row.b_us, 0.0041 * row.b_us);
        check(format!("{name}, inch-pound flow"), flow / M3_PER_H, row.q_us_m3_h, 0.0045 * row.q_us_m3_h);
        check(format!("{name}, inch-pound head"), head_m, row.h_us_m, 0.0045 * row.h_us_m);
        check(format!("{name}, inch-pound power"), electric_w, row.electric_us_w, 0.008 * row.electric_us_w);
    }
}

/// The method's own example, metric: 120 mm²/s, 110 m³/h, 77 m, 2950 r/min give B 5.52, C_Q 0.938, C_η 0.738; in inch-pound
/// units: 440 gpm, 300 ft, 3550 r/min give B 5.50, C_Q 0.938, C_η 0.739 (ISO/TR 17766 and ANSI/HI 9.6.7, both from memory).
#[test]
fn the_published_example_comes_out() {
    let b = parameter_b(120e-6, 110.0 * M3_PER_H, 77.0, 2950.0);
    check("B", b, 5.52, 5e-3);
    check("flow factor", flow_factor(b), 0.938, 5e-4);
    check("efficiency factor", efficiency_factor(b), 0.738, 5e-4);
    let b = parameter_b(120e-6, 440.0 * 3.785_411_784e-3 / 60.0, 300.0 * 0.3048, 3550.0);
    check("B, inch-pound", b, 5.50, 0.0041 * 5.50 + 5e-3);
    check("flow factor of 5.50", flow_factor(5.50), 0.938, 5e-4);
    check("efficiency factor of 5.50", efficiency_factor(5.50), 0.739, 5e-4);
}

/// With peak efficiency at 0.6 of the greatest flow and standby beside it (a parabola for the efficiency), the best point found
/// must be there: standby must not shift it. The cubic between 25 points moves it by less than 1 %.
#[test]
fn the_best_efficiency_is_found_beside_the_standby_power() {
    let (shut_off_m, greatest, peak, standby_w) = (12.0, 12.0, 0.52, 40.0);
    let flows: Vec<f64> = (1..=24).map(|i| 0.45 * f64::from(i)).collect();
    let head = |q: f64| shut_off_m * (1.0 - (q / greatest) * (q / greatest));
    let shaft_w = |q: f64| {
        let r = q / (0.6 * greatest);
        hydraulic_w(998.2, q * M3_PER_H, head(q)) / (peak * (2.0 * r - r * r))
    };
    let heads: Vec<[f64; 2]> = flows.iter().map(|q| [q * M3_PER_H, head(*q)]).collect();
    let powers: Vec<[f64; 2]> = flows.iter().map(|q| [q * M3_PER_H, standby_w + shaft_w(*q)]).collect();
    let power = PowerModel::new(&powers, standby_w).unwrap();
    let pump = Pump { curve: PumpCurve::fit(&heads).unwrap(), power, full_speed_rpm: 4000.0 };
    let best = in_fluid(&pump, 1.0, 998.2).best;
    check("flow", best.flow_m3_per_s / M3_PER_H, 7.2, 0.07);
    check("efficiency", best.efficiency, peak, 1e-3);
}

/// A fluid like the catalogue's water, or thinner, or with B ≤ 1 at the same density leaves the pump as it was.
#[test]
fn thin_fluids_change_nothing() {
    for pump in [large(), small(), cubic()] {
        let same = corrected(&pump, &CATALOGUE_WATER, &CATALOGUE_WATER).unwrap();
        assert!(!same.applies && same.within_validity && same.pump == pump);
        for viscosity in [0.3, 0.7, 0.999 * threshold_mm2_per_s(&pump)] {
            let found = in_fluid(&pump, viscosity, CATALOGUE_WATER.density_kg_per_m3);
            assert!(!found.applies && found.within_validity && found.pump == pump, "{viscosity} mm²/s");
        }
    }
    assert!(threshold_mm2_per_s(&large()) > 1.5 && threshold_mm2_per_s(&small()) < 1.01);
}

/// Density alone goes into the power above standby and nowhere else.
#[test]
fn density_scales_the_power_above_standby() {
    let (pump, hot) = (large(), in_fluid(&large(), 0.4, 0.96 * 998.2));
    assert!(!hot.applies && hot.pump.curve == pump.curve);
    for (flow, n) in [(0.0, 1.0), (20.0, 1.0), (33.0, 1.0), (15.0, 0.6)] {
        let flow = flow * M3_PER_H;
        let expected = 12.0 + 0.96 * (pump.power.electric_w(flow, n) - 12.0);
        check(format!("{flow} at {n}"), hot.pump.power.electric_w(flow, n), expected, 1e-9 * expected);
    }
    check("standstill", hot.pump.power.electric_w(0.0, 0.0), 12.0, 0.0);
}

/// Just above the threshold the pump is what it was just below it: curve, slope, run-out and power.
#[test]
fn the_correction_begins_without_a_jump() {
    for pump in [large(), small(), cubic()] {
        let threshold = threshold_mm2_per_s(&pump);
        let [below, above] = [1.0 - 1e-7, 1.0 + 1e-7].map(|share| in_fluid(&pump, share * threshold, 1030.0));
        assert!(!below.applies && above.applies);
        let end = pump.curve.run_out_m3_per_s();
        check("run-out", above.pump.curve.run_out_m3_per_s(), below.pump.curve.run_out_m3_per_s(), 1e-6 * end);
        for i in 0..=100 {
            let flow = 0.99 * end * f64::from(i) / 100.0;
            let [(low, low_slope), (high, high_slope)] = [&below, &above].map(|v| v.pump.curve.full_speed(flow));
            check(format!("head {i}"), high, low, 1e-5);
            check(format!("slope {i}"), high_slope, low_slope, 1e-4 * low_slope.abs() + 1e-3);
            let [low, high] = [&below, &above].map(|v| v.pump.power.electric_w(flow, 1.0));
            check(format!("power {i}"), high, low, 1e-5 * low);
        }
    }
}

/// The thicker, the less head at every flow, the less flow, the less efficiency, at one density; and never a rise of the
/// head at zero flow.
#[test]
fn all_falls_with_viscosity() {
    for pump in [large(), small(), cubic()] {
        let shut_off = pump.curve.full_speed(0.0).0;
        let mut before = in_fluid(&pump, 1.0, 998.2);
        for i in 1..=60 {
            let viscosity = 1.12_f64.powi(i);
            let found = in_fluid(&pump, viscosity, 998.2);
            assert!(found.factors.flow <= before.factors.flow && found.factors.efficiency <= before.factors.efficiency);
            assert!(found.pump.curve.data_end_m3_per_s() <= before.pump.curve.data_end_m3_per_s());
            check("head at zero flow", found.pump.curve.full_speed(0.0).0, shut_off, 1e-9);
            let end = found.pump.curve.data_end_m3_per_s();
            for k in 1..=40 {
                let flow = end * f64::from(k) / 40.0;
                let [was, is] = [&before, &found].map(|v| v.pump.curve.full_speed(flow).0);
                assert!(is <= was + 1e-9, "{viscosity} mm²/s, {flow} m³/s: {is} m after {was} m");
                let [was, is] = [&before, &found].map(|v| {
                    let shaft_w = v.pump.power.electric_w(flow, 1.0) - v.pump.power.standby_w();
                    hydraulic_w(998.2, flow, v.pump.curve.full_speed(flow).0) / shaft_w
                });
                assert!(is <= was + 1e-9, "{viscosity} mm²/s, {flow} m³/s: efficiency {is} after {was}");
            }
            before = found;
        }
        assert!(before.applies);
    }
}

/// Between catalogue flows the corrected curve stays within 0.5 % of the shut-off head of the formula.
#[test]
fn the_corrected_curve_follows_the_formula_between_the_points() {
    for (pump, viscosity) in [(large(), 9.0), (large(), 40.0), (small(), 9.0), (cubic(), 9.0)] {
        let found = in_fluid(&pump, viscosity, 1000.0);
        for i in 0..=50 {
            let water_flow = pump.curve.data_end_m3_per_s() * f64::from(i) / 50.0;
            let share = water_flow / found.best.flow_m3_per_s;
            let expected = found.factors.head(share) * pump.curve.full_speed(water_flow).0;
            let head = found.pump.curve.full_speed(found.factors.flow * water_flow).0;
            check(format!("{viscosity} mm²/s, point {i}"), head, expected, 0.005 * pump.curve.full_speed(0.0).0);
        }
    }
}

/// Power points at flows of their own keep their shape.
#[test]
fn power_points_need_not_lie_at_the_flows_of_the_heads() {
    let powers = [[0.0, 900.0], [5.0, 1500.0], [33.0, 2900.0], [44.0, 3000.0]].map(|[q, w]| [q * M3_PER_H, w]);
    let pump = Pump { power: PowerModel::new(&powers, 12.0).unwrap(), ..large() };
    let found = in_fluid(&pump, 1.0, 2.0 * 998.2);
    for i in 0..=80 {
        let flow = 0.5 * f64::from(i) * M3_PER_H;
        let expected = 12.0 + 2.0 * (pump.power.electric_w(flow, 1.0) - 12.0);
        check(format!("{i}"), found.pump.power.electric_w(flow, 1.0), expected, 1e-3 * expected);
    }
}

/// Glycol mixtures of 30 to 50 % as heating and chilled circuits have them: at most a few per cent of head and flow; efficiency
/// falls by a few per cent when warm and by up to about a quarter in the cold (plausibility: common practice, no source).
#[test]
fn glycol_takes_little() {
    for kind in [FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol] {
        for (share, temperature_c) in [(0.3, 52.5), (0.3, 5.0), (0.4, 40.0), (0.4, 5.0), (0.5, 50.0), (0.5, 5.0)] {
            let mixture = Fluid::new(kind, share).unwrap().properties(temperature_c).unwrap();
            let found = corrected(&small(), &mixture, &CATALOGUE_WATER).unwrap();
            let name = format!("{kind} {share} at {temperature_c} °C: {:?}", found.factors);
            assert!((0.95..=1.0).contains(&found.factors.flow), "{name}");
            let least = if temperature_c > 30.0 { 0.95 } else { 0.75 };
            assert!((least..=1.0).contains(&found.factors.efficiency), "{name}");
            let flow = 3.0 * M3_PER_H;
            let more = found.pump.power.electric_w(flow, 1.0) / small().power.electric_w(flow, 1.0);
            assert!((1.0..1.3).contains(&more), "{name}: power {more}");
        }
    }
}

/// Outside the tests behind the method the answer says so; without a speed there is no B and no correction.
#[test]
fn validity_is_told() {
    assert!(in_fluid(&large(), 120.0, 900.0).within_validity);
    let tiny = pump(&[0.0, 1.0, 2.0], [4.0, 0.6], [2.0, 10.0, 9.0], 4000.0);
    let found = in_fluid(&tiny, 9.0, 1045.0);
    assert!(found.applies && !found.within_validity && !found.validity.flow && !found.validity.head);
    let thick = in_fluid(&small(), 1000.0, 950.0);
    assert!(!thick.validity.b && !thick.within_validity);
    let standing = in_fluid(&Pump { full_speed_rpm: 0.0, ..large() }, 120.0, 998.2);
    assert!(!standing.applies && !standing.within_validity && standing.pump.curve == large().curve);
}

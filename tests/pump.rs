//! The pump against tables from outside the program: affinity, speed from duty, curve fit, regulation, power; and the
//! figures of a worked example. All pump curves here are invented.

#![expect(clippy::unwrap_used, reason = "a test stops where a number is missing")]

mod common;

use common::{check, rows};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::{FixedLoss, LinkLaw};
use headwise::engine::network::{Link, Network, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{
    GoverningLimit, PowerModel, PumpCurve, ReferenceFlow, Regulated, Regulation, hydraulic_w,
};
use serde::Deserialize;

const M3_PER_H: f64 = 1.0 / 3600.0;

/// A curve through points in m³/h and m.
fn curve(points: &[[f64; 2]]) -> PumpCurve {
    let points: Vec<[f64; 2]> = points.iter().map(|[q, h]| [q * M3_PER_H, *h]).collect();
    PumpCurve::fit(&points).unwrap()
}

/// The falling curve of the tables.
fn curve_a() -> PumpCurve {
    curve(&[[0.0, 6.0], [2.0, 5.2], [4.0, 3.0]])
}

/// The curve of the tables with its greatest head away from zero flow.
fn hump() -> PumpCurve {
    curve(&[[0.0, 5.0], [1.5, 5.6], [4.0, 2.5]])
}

#[derive(Deserialize)]
struct AffinityRow {
    speed_fraction: f64,
    q_full_m3_h: f64,
    h_full_m: f64,
    q_scaled_m3_h: f64,
    h_scaled_m: f64,
    n_cubed: f64,
    hydraulic_power_ratio: Option<f64>,
}

/// Table: computed, closed form, checked there by scaling the points; tolerance 1e-12. The electric power must follow the cube
/// of speed in the part above standby, and only there.
#[test]
fn affinity_scales_flow_head_and_power() {
    let (curve, standby_w) = (curve_a(), 6.0);
    let points = [[0.0, 30.0], [2.0 * M3_PER_H, 55.0], [4.0 * M3_PER_H, 70.0]];
    let power = PowerModel::new(&points, standby_w).unwrap();
    let table: Vec<AffinityRow> = rows(include_str!("data/g_affinity.csv"));
    assert_eq!(table.len(), 28);
    for row in table {
        let n = row.speed_fraction;
        let name = format!("{} m³/h, speed {n}", row.q_full_m3_h);
        let (full, scaled) = (row.q_full_m3_h * M3_PER_H, row.q_scaled_m3_h * M3_PER_H);
        check(&name, curve.full_speed(full).0, row.h_full_m, 1e-12 * row.h_full_m);
        check(&name, curve.at_speed(scaled, n).0, row.h_scaled_m, 1e-12 * row.h_scaled_m);
        check(&name, curve.speed_for(scaled, row.h_scaled_m), n, 1e-12);
        if let Some(expected) = row.hydraulic_power_ratio {
            let hydraulic = |q, h| hydraulic_w(985.0, q, h);
            let ratio = hydraulic(scaled, curve.at_speed(scaled, n).0) / hydraulic(full, curve.full_speed(full).0);
            check(format!("{name}, hydraulic power"), ratio, expected, 1e-12);
        }
        let above_standby = |q, n| power.electric_w(q, n) - standby_w;
        let ratio = above_standby(scaled, n) / above_standby(full, 1.0);
        check(format!("{name}, electric power"), ratio, row.n_cubed, 1e-12);
    }
    for [q, w] in points {
        check("power at full speed", power.electric_w(q, 1.0), w, 1e-12 * w);
    }
    check("power at standstill", power.electric_w(0.0, 0.0), standby_w, 0.0);
}

#[derive(Deserialize)]
struct DutyRow {
    q_m3_h: f64,
    h_m: f64,
    speed_fraction: f64,
    h_at_equivalent_point_m: f64,
    q_equivalent_full_speed_m3_h: f64,
}

/// Table: computed, positive root of the quadratic in speed, checked there by bracketing; tolerance 1e-9.
#[test]
fn speed_follows_from_the_duty() {
    let curve = curve_a();
    let table: Vec<DutyRow> = rows(include_str!("data/g_speed_from_duty.csv"));
    assert_eq!(table.len(), 6);
    for row in table {
        let name = format!("{} m³/h at {} m", row.q_m3_h, row.h_m);
        let speed = curve.speed_for(row.q_m3_h * M3_PER_H, row.h_m);
        check(&name, speed, row.speed_fraction, 1e-9);
        check(&name, row.q_m3_h / speed, row.q_equivalent_full_speed_m3_h, 1e-8);
        check(&name, curve.full_speed(row.q_m3_h * M3_PER_H / speed).0, row.h_at_equivalent_point_m, 1e-8);
    }
}

#[derive(Deserialize)]
struct QuantityRow {
    quantity: String,
    value: f64,
}

/// Table: computed, numpy `lstsq` beside `polyfit` and the normal equations; tolerance 1e-9 on the coefficients. Its fit without
/// linear term has no counterpart here.
#[test]
fn curve_fit_meets_least_squares() {
    let table: Vec<QuantityRow> = rows(include_str!("data/g_curve_fit.csv"));
    assert_eq!(table.len(), 11);
    let value = |name: &str| table.iter().find(|row| row.quantity == name).unwrap().value;
    let per_hour = |curve: &PumpCurve| {
        let [a0, a1, a2] = curve.quadratic().unwrap();
        [a0, a1 * M3_PER_H, a2 * M3_PER_H * M3_PER_H]
    };
    let points = [[0.0, 8.05], [1.0, 7.92], [2.0, 7.38], [3.0, 6.41], [4.0, 5.12], [5.0, 3.36]];
    let six = curve(&points);
    for (found, name) in per_hour(&six).into_iter().zip(["a0 (6 points, full quadratic)", "a1", "a2"]) {
        check(name, found, value(name), 1e-9 * value(name).abs());
    }
    let misses = points.map(|[q, h]| (six.full_speed(q * M3_PER_H).0 - h).abs());
    let rms = (misses.iter().map(|miss| miss * miss).sum::<f64>() / 6.0).sqrt();
    check("rms", rms, value("rms residual m"), 1e-9);
    check("largest", misses.into_iter().fold(0.0, f64::max), value("largest residual m"), 1e-9);
    let names = ["a0 (3 points, exact)", "a1 (3 points, exact)", "a2 (3 points, exact)"];
    for (found, name) in per_hour(&curve_a()).into_iter().zip(names) {
        check(name, found, value(name), 1e-9 * value(name).abs());
    }
}

#[derive(Deserialize)]
struct RegulationRow {
    curve: String,
    cap_fraction: f64,
    head_limit_m: Option<f64>,
    slope_fraction: f64,
    min_speed_fraction: f64,
    q_ref_given_m3_h: Option<f64>,
    q_cross_m3_h: f64,
    q_ref_used_m3_h: f64,
    q_m3_h: f64,
    h_m: f64,
    speed_fraction: Option<f64>,
    governs: String,
}

impl RegulationRow {
    fn regulated(&self) -> Regulated {
        let curve = if self.curve == "hump" { hump() } else { curve_a() };
        let settings = Regulation {
            head_limit_m: self.head_limit_m,
            slope: self.slope_fraction,
            speed_cap: self.cap_fraction,
            power_limit_w: None,
            minimum_speed: self.min_speed_fraction,
            reference: self
                .q_ref_given_m3_h
                .map_or(ReferenceFlow::CappedSpeed, |q| ReferenceFlow::DesignFlow(q * M3_PER_H)),
        };
        Regulated::new(&curve, settings).unwrap()
    }

    fn label(&self) -> Option<GoverningLimit> {
        match self.governs.as_str() {
            "set-line" => Some(GoverningLimit::SetLine),
            "head limit" => Some(GoverningLimit::HeadLimit),
            "speed cap" => Some(GoverningLimit::SpeedCap),
            "minimum speed" => Some(GoverningLimit::MinimumSpeed),
            _ => None,
        }
    }
}

/// Table: computed by two independent codes that agree; tolerance 1e-9 m and 1e-9 in speed. Where the table has a negative head
/// the flow lies beyond run-out at that speed: the curve here ends at zero, so those rows' heads and speeds are not compared.
#[test]
fn regulation_meets_the_table() {
    let table: Vec<RegulationRow> = rows(include_str!("data/g_regulation.csv"));
    assert_eq!(table.len(), 144);
    let mut beyond_run_out = 0;
    for row in table {
        let regulated = row.regulated();
        let flow = row.q_m3_h * M3_PER_H;
        let name = format!(
            "{}, cap {}, limit {:?}, slope {}, {} m³/h",
            row.curve, row.cap_fraction, row.head_limit_m, row.slope_fraction, row.q_m3_h
        );
        let crossing = row.head_limit_m.and_then(|limit| regulated.curve().crossing(row.cap_fraction, limit));
        check(format!("{name}, crossing"), crossing.unwrap_or(0.0) / M3_PER_H, row.q_cross_m3_h, 1e-9);
        let reference = regulated.reference_m3_per_s().unwrap_or(0.0) / M3_PER_H;
        check(format!("{name}, reference flow"), reference, row.q_ref_used_m3_h, 1e-9);
        assert_eq!(Some(regulated.governing(flow)), row.label(), "{name}");
        if row.h_m < 0.0 {
            check(format!("{name}, beyond run-out"), regulated.head(flow).0, 0.0, 0.0);
            beyond_run_out += 1;
            continue;
        }
        check(format!("{name}, head"), regulated.head(flow).0, row.h_m, 1e-9);
        check(format!("{name}, speed"), regulated.speed(flow), row.speed_fraction.unwrap(), 1e-9);
        let ranges = regulated.governing_ranges();
        let range = ranges.iter().find(|r| r.from_m3_per_s <= flow && flow <= r.to_m3_per_s);
        assert_eq!(range.map(|r| r.limit), row.label(), "{name}, governing range");
    }
    assert_eq!(beyond_run_out, 3);
}

/// The derivative that Newton's method takes, against central differences, at every flow of the table (none lies on a kink).
#[test]
fn the_regulated_slope_is_that_of_the_head() {
    let table: Vec<RegulationRow> = rows(include_str!("data/g_regulation.csv"));
    for row in table.iter().filter(|row| row.q_m3_h > 0.0) {
        let (regulated, flow) = (row.regulated(), row.q_m3_h * M3_PER_H);
        let step = 1e-6 * flow;
        let expected = (regulated.head(flow + step).0 - regulated.head(flow - step).0) / (2.0 * step);
        let name = format!("{}, cap {}, {} m³/h", row.curve, row.cap_fraction, row.q_m3_h);
        check(name, regulated.head(flow).1, expected, 1e-6 / M3_PER_H);
    }
}

#[derive(Deserialize)]
struct HydraulicRow {
    q_m3_h: f64,
    h_m: f64,
    rho_kg_m3: f64,
    #[serde(rename = "hydraulic_W")]
    hydraulic_w: f64,
    #[serde(rename = "electric_W")]
    electric_w: Option<f64>,
    wire_to_water: Option<f64>,
}

/// Table: computed with g = 9.80665 m/s², electric inputs invented; tolerance 1e-9.
#[test]
fn hydraulic_power_meets_the_table() {
    let table: Vec<HydraulicRow> = rows(include_str!("data/g_hydraulic_power.csv"));
    assert_eq!(table.len(), 5);
    for row in table {
        let name = format!("{} m³/h, {} m", row.q_m3_h, row.h_m);
        let found = hydraulic_w(row.rho_kg_m3, row.q_m3_h * M3_PER_H, row.h_m);
        check(&name, found, row.hydraulic_w, 1e-9 * found);
        if let (Some(electric), Some(expected)) = (row.electric_w, row.wire_to_water) {
            check(format!("{name}, efficiency"), found / electric, expected, 1e-9);
        }
    }
}

/// The worked pump H = 7.5 n² − 0.4252 Q² (m, Q in m³/h); its figures below were calculated outside the program from
/// the closed forms (the working itself was not at hand) and are printed rounded.
fn worked_pump() -> PumpCurve {
    curve(&[0.0, 1.5, 3.0].map(|q: f64| [q, 7.5 - 0.4252 * q * q]))
}

const DESIGN_M3_PER_H: f64 = 1.985;
const DESIGN_HEAD_M: f64 = 4.873;

fn worked(limit: f64, slope: f64, cap: f64, reference: ReferenceFlow) -> Regulated {
    let settings = Regulation {
        head_limit_m: Some(limit),
        slope,
        speed_cap: cap,
        power_limit_w: None,
        minimum_speed: 0.0,
        reference,
    };
    Regulated::new(&worked_pump(), settings).unwrap()
}

/// Flow in m³/h of the pump on a system that takes design head at design flow, H ∝ Q².
fn system_flow(regulated: Regulated) -> f64 {
    let pressure_pa = 1000.0 * GRAVITY_M_PER_S2 * DESIGN_HEAD_M;
    let system = FixedLoss::new(pressure_pa, DESIGN_M3_PER_H * M3_PER_H, 2.0);
    let law = PumpLaw::Regulated(Box::new(regulated));
    let network = Network {
        nodes: 2,
        links: vec![Link { from: 1, to: 0, law: LinkLaw::Fixed(system) }],
        pumps: vec![PumpLink { suction: 0, discharge: 1, law, density_kg_per_m3: 1000.0 }],
        reference: 0,
    };
    let mut solver = Solver::new(&network);
    let outcome = solver.solve(&network);
    assert!(outcome.converged());
    outcome.pumps[0].flow / M3_PER_H
}

/// Worked figures: 2.486 m³/h at full speed; a cap of 93.4 % crosses at design flow; 3.417 and 3.666 m at 1 m³/h. The 3.666 m
/// belongs to the cap as printed; carried through with all its digits (93.441 %) the cap gives 3.664 m.
#[test]
fn the_worked_crossings_and_set_lines() {
    let crossing = worked_pump().crossing(1.0, DESIGN_HEAD_M).unwrap() / M3_PER_H;
    check("crossing at full speed", crossing, 2.486, 5e-4);
    let cap = worked_pump().speed_for(DESIGN_M3_PER_H * M3_PER_H, DESIGN_HEAD_M);
    check("cap through design", cap, 0.934, 5e-4);
    check("its crossing", worked_pump().crossing(cap, DESIGN_HEAD_M).unwrap() / M3_PER_H, DESIGN_M3_PER_H, 1e-9);
    let head = |cap, reference| worked(DESIGN_HEAD_M, 0.5, cap, reference).head(M3_PER_H).0;
    check("reference at full speed", head(0.934, ReferenceFlow::FullSpeed), 3.417, 5e-4);
    check("reference at capped speed", head(0.934, ReferenceFlow::CappedSpeed), 3.666, 5e-4);
    let design_flow = ReferenceFlow::DesignFlow(DESIGN_M3_PER_H * M3_PER_H);
    check("reference at design flow", head(cap, design_flow), head(cap, ReferenceFlow::CappedSpeed), 1e-9);
    check("reference at unrounded cap", head(cap, ReferenceFlow::CappedSpeed), 3.664, 5e-4);
}

/// Worked figures: with the reference at full speed, a limit at design head and 50 % slope, all zones open get 93 % of design
/// flow; through design the limit must be 5.238 m (slope 50 %) or 5.085 m (25 %).
#[test]
fn the_worked_limits_through_design() {
    let flow = |limit, slope| system_flow(worked(limit, slope, 1.0, ReferenceFlow::FullSpeed));
    check("share of design flow", flow(DESIGN_HEAD_M, 0.5) / DESIGN_M3_PER_H, 0.93, 5e-3);
    for (slope, expected) in [(0.5, 5.238), (0.25, 5.085)] {
        let (mut low, mut high) = (DESIGN_HEAD_M, 5.8);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if flow(middle, slope) < DESIGN_M3_PER_H { low = middle } else { high = middle }
        }
        check(format!("limit at slope {slope}"), low, expected, 5e-4);
    }
}

/// What the worked example says in words: beyond Q_x = √((H₀ n² − H_lim)/C) the cap governs and a higher limit changes nothing;
/// with the reference at the capped curve a lower cap raises the head at a low flow, with it at full speed it does not.
#[test]
fn the_worked_cap_governs_beyond_its_crossing() {
    let beyond = (((7.5 * 0.934 * 0.934 - DESIGN_HEAD_M) / 0.4252_f64).sqrt() + 1e-6) * M3_PER_H;
    let at = |limit| worked(limit, 0.0, 0.934, ReferenceFlow::CappedSpeed);
    assert_eq!(at(DESIGN_HEAD_M).governing(beyond), GoverningLimit::SpeedCap);
    assert_eq!(at(DESIGN_HEAD_M).governing(beyond - 2e-6 * M3_PER_H), GoverningLimit::HeadLimit);
    assert_eq!(at(DESIGN_HEAD_M).head(beyond), at(DESIGN_HEAD_M + 0.5).head(beyond));
    let low_flow = |cap, reference| worked(DESIGN_HEAD_M, 0.5, cap, reference).head(M3_PER_H).0;
    assert!(low_flow(0.90, ReferenceFlow::CappedSpeed) > low_flow(0.934, ReferenceFlow::CappedSpeed));
    let full = [0.90, 0.934].map(|cap| low_flow(cap, ReferenceFlow::FullSpeed));
    assert_eq!(full[0], full[1]);
}

//! The power limit of a pump against figures from outside the program, against differences, and in a solved network.
//!
//! `data/power_limit.csv`: the worked pump H = 7.5 n² − 0.4252 Q² (m, Q in m³/h), standby power P₀ = 3 W; speed n from
//! P₀ + n³ (P_full(Q/n) − P₀) = P_lim by scipy's `brentq` (tolerance 1e-15), 1 where full speed takes less, none where the head is
//! zero at that power. P_full in W over x in m³/h:
//! - "quadratic": 20 + 13 x − 1.6 x²;
//! - "catalogue": through (0, 21), (0.8, 34), (1.6, 44), (2.4, 50), (3.2, 52.5), (4, 51), by scipy's `CubicHermiteSpline` with the
//!   slopes of its `PchipInterpolator` inside and secants at both ends; straight beyond.
//!
//! In both P₁ rises with n over all speeds (sampled there), so that the crossing is the only one.

#![expect(clippy::unwrap_used, reason = "a test stops where a number is missing")]

mod common;

use common::{check, rows};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::fluid::{Fluid, FluidKind};
use headwise::engine::links::{FixedLoss, LinkLaw};
use headwise::engine::network::{Link, Network, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{
    CATALOGUE_WATER, GoverningLimit, PowerModel, Pump, PumpCurve, ReferenceFlow, Regulated, Regulation,
    RegulationError, corrected,
};
use serde::Deserialize;

const M3_PER_H: f64 = 1.0 / 3600.0;
const STANDBY_W: f64 = 3.0;
const UNLIMITED: Regulation = Regulation {
    head_limit_m: None,
    slope: 0.0,
    speed_cap: 1.0,
    power_limit_w: None,
    minimum_speed: 0.0,
    reference: ReferenceFlow::FullSpeed,
};

/// The worked pump with power points in m³/h and W.
fn worked(points: &[[f64; 2]], standby_w: f64) -> Pump {
    let powers: Vec<[f64; 2]> = points.iter().map(|[q, w]| [q * M3_PER_H, *w]).collect();
    Pump {
        curve: PumpCurve::fit(&[0.0, 1.5, 3.0].map(|q: f64| [q * M3_PER_H, 7.5 - 0.4252 * q * q])).unwrap(),
        power: PowerModel::new(&powers, standby_w).unwrap(),
        full_speed_rpm: 4000.0,
    }
}

/// Points so close that the cubic between them is the parabola to a millionth of a watt.
fn quadratic() -> Pump {
    let points: Vec<[f64; 2]> =
        (0..=2100).map(|i| 0.002 * f64::from(i)).map(|x| [x, 20.0 + 13.0 * x - 1.6 * x * x]).collect();
    worked(&points, STANDBY_W)
}

fn catalogue() -> Pump {
    worked(&[[0.0, 21.0], [0.8, 34.0], [1.6, 44.0], [2.4, 50.0], [3.2, 52.5], [4.0, 51.0]], STANDBY_W)
}

fn limited(pump: &Pump, limit_w: f64) -> Regulated {
    Regulated::of_pump(pump, Regulation { power_limit_w: Some(limit_w), ..UNLIMITED }).unwrap()
}

#[derive(Deserialize)]
struct Row {
    power: String,
    limit_w: f64,
    q_m3_h: f64,
    speed_fraction: Option<f64>,
    h_m: f64,
}

#[test]
fn the_limited_curve_meets_the_table() {
    let table: Vec<Row> = rows(include_str!("data/power_limit.csv"));
    assert_eq!(table.len(), 90);
    let (mut held, mut at_zero) = (0, 0);
    for row in table {
        let (pump, allowed) = if row.power == "quadratic" { (quadratic(), 1e-6) } else { (catalogue(), 1e-11) };
        let (regulated, flow) = (limited(&pump, row.limit_w), row.q_m3_h * M3_PER_H);
        let name = format!("{}, {} W, {} m³/h", row.power, row.limit_w, row.q_m3_h);
        let (head, _) = regulated.head(flow);
        check(&name, head, row.h_m, allowed);
        check(&name, regulated.power_limited(flow).unwrap().0, row.h_m, allowed);
        let Some(expected) = row.speed_fraction else {
            assert!(regulated.power_limited_end_m3_per_s().unwrap() <= flow, "{name}");
            at_zero += 1;
            continue;
        };
        let speed = pump.curve.speed_for(flow, head);
        check(format!("{name}, speed"), speed, expected, allowed);
        check(format!("{name}, greatest speed"), regulated.greatest_speed(flow), expected, allowed);
        let governs = regulated.governing(flow);
        if expected < 1.0 {
            check(format!("{name}, power"), pump.power.electric_w(flow, speed), row.limit_w, 1e-9 * row.limit_w);
            assert_eq!(governs, GoverningLimit::PowerLimit, "{name}");
            held += 1;
        } else {
            assert_eq!(governs, GoverningLimit::SpeedCap, "{name}");
        }
    }
    assert!(held > 40 && at_zero > 5, "{held} {at_zero}");
}

/// The derivative that Newton's method takes, against central differences; no flow lies on a kink.
#[test]
fn the_slope_is_that_of_the_head() {
    for pump in [quadratic(), catalogue()] {
        for limit_w in [8.0, 15.0, 24.0, 38.0] {
            let regulated = limited(&pump, limit_w);
            for i in 1..34 {
                let flow = (0.1 * f64::from(i) + 0.013) * M3_PER_H;
                let step = 1e-5 * flow;
                let expected = (regulated.head(flow + step).0 - regulated.head(flow - step).0) / (2.0 * step);
                let (head, slope) = regulated.head(flow);
                check(format!("{limit_w} W, {i}"), slope, expected, 1e-5 / M3_PER_H);
                assert!(head == 0.0 || slope < 0.0, "{limit_w} W, {i}: it does not fall");
            }
            // Backwards the head rises from that at no flow, so that an iteration is led back.
            assert!(regulated.head(-0.1 * M3_PER_H).0 > regulated.head(0.0).0);
        }
    }
}

/// A constant power of 27 W and no standby: n = ∛(P_lim/27), exact at no flow.
#[test]
fn which_limit_is_named_at_a_tie() {
    let pump = worked(&[[0.0, 27.0], [4.0, 27.0]], 0.0);
    assert_eq!(limited(&pump, 27.0).governing(0.0), GoverningLimit::SpeedCap);
    let half = limited(&pump, 27.0 / 8.0);
    assert_eq!(half.greatest_speed(0.0), 0.5);
    assert_eq!(half.governing(0.0), GoverningLimit::PowerLimit);
    let (head, _) = half.head(0.0);
    let with = |change: Regulation| Regulated::of_pump(&pump, Regulation { power_limit_w: Some(3.375), ..change });
    let line = with(Regulation { head_limit_m: Some(head), ..UNLIMITED }).unwrap();
    assert_eq!((line.set_line(0.0).unwrap().0, line.governing(0.0)), (head, GoverningLimit::PowerLimit));
    let capped = with(Regulation { speed_cap: 0.5, ..UNLIMITED }).unwrap();
    assert_eq!(capped.governing(0.0), GoverningLimit::SpeedCap);
    let minimum = with(Regulation { minimum_speed: 0.5, ..UNLIMITED }).unwrap();
    assert_eq!(minimum.governing(0.0), GoverningLimit::PowerLimit);
    // At minimum speed the pump takes what it takes.
    let slow = with(Regulation { minimum_speed: 0.6, ..UNLIMITED }).unwrap();
    assert_eq!((slow.governing(0.0), slow.greatest_speed(0.0)), (GoverningLimit::MinimumSpeed, 0.6));
}

/// H_reg = max( min( H_set, H_cap, H_pow ), H_min ), each of the four taken from a pump that has it alone.
#[test]
fn the_least_limit_governs_and_the_ranges_follow() {
    let pump = catalogue();
    let of = |settings| Regulated::of_pump(&pump, settings).unwrap();
    let line = Regulation { head_limit_m: Some(4.5), slope: 0.3, ..UNLIMITED };
    let cap = Regulation { speed_cap: 0.85, ..UNLIMITED };
    let minimum = Regulation { speed_cap: 0.45, ..UNLIMITED };
    let all = Regulation { speed_cap: 0.85, power_limit_w: Some(24.0), minimum_speed: 0.45, ..line };
    let (line, cap, minimum, power, all) = (of(line), of(cap), of(minimum), limited(&pump, 24.0), of(all));
    for i in 0..400 {
        let flow = 0.01 * f64::from(i) * M3_PER_H;
        let head = |of: &Regulated| of.head(flow).0;
        let expected = head(&line).min(head(&cap)).min(head(&power)).max(head(&minimum));
        check(format!("{i}"), head(&all), expected, 1e-12);
        let range = all.governing_ranges().into_iter().find(|r| flow > r.from_m3_per_s && flow < r.to_m3_per_s);
        assert!(range.is_none_or(|range| range.limit == all.governing(flow)), "{i}");
    }
    let found: Vec<GoverningLimit> = all.governing_ranges().iter().map(|range| range.limit).collect();
    assert_eq!(found, [GoverningLimit::SetLine, GoverningLimit::PowerLimit]);
    let end = all.end_m3_per_s();
    assert!(all.head(0.999 * end).0 > 0.0 && all.head(1.001 * end).0 == 0.0);
}

/// A catalogue whose power leaps: at one flow several speeds take the limit. The pump must stay at the first from rest, so that no
/// slower speed takes more than the limit, and its head must stay one falling, continuous curve.
#[test]
fn of_several_speeds_the_first_from_rest_is_kept() {
    let leaping = worked(&[[0.0, 5.0], [1.0, 6.0], [2.0, 120.0], [3.0, 125.0]], 4.0);
    // Its extrapolation beyond 2 m³/h grows faster than the cube.
    let steep = worked(&[[0.0, 5.0], [1.9, 5.5], [2.0, 30.0]], 4.0);
    for (pump, name) in [(leaping, "leaping"), (steep, "steep")] {
        let mut several = 0;
        for limit_w in [5.5, 8.0, 20.0, 60.0] {
            let regulated = limited(&pump, limit_w);
            let mut last = f64::INFINITY;
            for i in 0..400 {
                let flow = 0.01 * f64::from(i) * M3_PER_H;
                let speed = regulated.greatest_speed(flow);
                let takes = |n: f64| pump.power.electric_w(flow, n);
                let most = (1..=500).map(|k| takes(speed * f64::from(k) / 500.0)).fold(0.0, f64::max);
                assert!(most <= limit_w * (1.0 + 1e-5), "{name}, {limit_w} W, {i}: {most} W at less than {speed}");
                several += i32::from(takes(1.0) < limit_w && speed < 1.0);
                let (head, _) = regulated.head(flow);
                assert!(head < last || head == 0.0, "{name}, {limit_w} W, {i}: it does not fall");
                last = head;
                let next = regulated.head(flow + 1e-9 * M3_PER_H).0;
                assert!((next - head).abs() < 1e-5, "{name}, {limit_w} W, {i}: it leaps from {head} to {next}");
            }
        }
        assert!(several > 5, "{name}: {several}");
    }
}

#[test]
fn limits_that_no_pump_can_hold() {
    let pump = catalogue();
    for limit_w in [3.0, 2.0, 0.0, -5.0, f64::NAN, f64::INFINITY] {
        let settings = Regulation { power_limit_w: Some(limit_w), ..UNLIMITED };
        let refused = Regulated::of_pump(&pump, settings).unwrap_err();
        assert_eq!(refused, RegulationError::PowerLimit { standby_w: 3.0 });
        assert!(refused.to_string().contains("above the standby power, 3 W"), "{refused}");
    }
    let settings = Regulation { power_limit_w: Some(30.0), ..UNLIMITED };
    assert_eq!(Regulated::new(&pump.curve, settings).unwrap_err(), RegulationError::PowerUnknown);
    assert!(Regulated::of_pump(&pump, settings).is_ok());
}

/// The worked pump with the quadratic power at 24 W over one circuit that takes 1.1 Q² (m, Q in m³/h): 1.820 393 350 868 5 m³/h at
/// speed 0.820 914 652, by scipy's `brentq` on head less loss.
#[test]
fn a_circuit_settles_where_the_power_limit_holds() {
    let (pump, density) = (quadratic(), 985.0);
    let pascal = density * GRAVITY_M_PER_S2;
    let regulated = limited(&pump, 24.0);
    let loss = FixedLoss::new(1.1 * pascal, M3_PER_H, 2.0);
    let network = Network {
        nodes: 2,
        links: vec![Link { from: 1, to: 0, law: LinkLaw::Fixed(loss) }],
        pumps: vec![PumpLink {
            suction: 0,
            discharge: 1,
            law: PumpLaw::Regulated(Box::new(regulated.clone())),
            density_kg_per_m3: density,
        }],
        reference: 0,
    };
    let mut solver = Solver::new(&network);
    let outcome = solver.solve(&network);
    let done = &outcome.pumps[0];
    assert!(outcome.converged() && done.is_stable());
    check("flow", done.flow / M3_PER_H, 1.820_393_350_868_5, 1e-6);
    check("head", done.rise_pa / pascal, 3.645_215_147_074_9, 1e-6);
    let speed = pump.curve.speed_for(done.flow, done.rise_pa / pascal);
    check("speed", speed, 0.820_914_651_919, 1e-6);
    check("power", pump.power.electric_w(done.flow, speed), 24.0, 1e-7);
    assert_eq!(regulated.governing(done.flow), GoverningLimit::PowerLimit);
}

/// In a thicker fluid the limit is reached earlier: it holds by the power of the corrected pump.
#[test]
fn a_viscous_pump_holds_the_limit_by_its_own_power() {
    let pump = catalogue();
    let fluid = Fluid::new(FluidKind::PropyleneGlycol, 0.40).unwrap().properties(5.0).unwrap();
    let viscous = corrected(&pump, &fluid, &CATALOGUE_WATER).unwrap();
    assert!(viscous.applies);
    let (thick, thin, flow) = (limited(&viscous.pump, 30.0), limited(&pump, 30.0), 1.5 * M3_PER_H);
    let (head, _) = thick.head(flow);
    assert_eq!(thick.governing(flow), GoverningLimit::PowerLimit);
    let takes = viscous.pump.power.electric_w(flow, viscous.pump.curve.speed_for(flow, head));
    check("power", takes, 30.0, 1e-9);
    assert!(head < 0.95 * thin.head(flow).0, "{head} {}", thin.head(flow).0);
}

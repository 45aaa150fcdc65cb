//! Valves against tables from outside the program and against the identities that define them; installed characteristics
//! and bounded links are solved as real networks at constant head.

#![expect(clippy::unwrap_used, reason = "a test stops where a number is missing")]

mod common;

use common::{check, rows};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::fluid::Fluid;
use headwise::engine::links::{BypassValve, Characteristic, CheckValve, Drop, FixedLoss, FlowLimiter, LinkLaw, Valve};
use headwise::engine::links::{kv_for, kv_pressure_drop_pa};
use headwise::engine::network::{Link, Network, Outcome, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};
use serde::Deserialize;

const M3_PER_H: f64 = 1.0 / 3600.0;

#[derive(Deserialize)]
struct FlowCoefficientRow {
    quantity: String,
    value: f64,
}

fn flow_coefficients() -> Vec<FlowCoefficientRow> {
    let table: Vec<FlowCoefficientRow> = rows(include_str!("data/f_kv_cv.csv"));
    assert_eq!(table.len(), 16);
    table
}

/// The number after `key=` in a quantity such as `dp kPa at Q=2.5 m3/h Kv=4.0 rho=1030.0`.
fn number(quantity: &str, key: &str) -> f64 {
    let word = quantity.split_whitespace().find_map(|word| word.strip_prefix(key)?.strip_prefix('='));
    word.and_then(|figure| figure.parse().ok()).unwrap_or(f64::NAN)
}

/// Table: computed from the definition of Kv, in kPa (tolerance 1e-6) and, for sizing, as a Kv in water of 20 °C (tolerance
/// 0.1 %; here 0.01 %, so that 999.1 for 1000 kg/m³ as reference density, 0.045 % in Kv, would show).
#[test]
fn pressure_drop_and_sizing_follow_the_definition_of_kv() {
    let (mut drops, mut sizings) = (0, 0);
    for FlowCoefficientRow { quantity, value } in flow_coefficients() {
        if quantity.starts_with("dp kPa at") {
            let flow = number(&quantity, "Q") * M3_PER_H;
            let (kv, density) = (number(&quantity, "Kv"), number(&quantity, "rho"));
            let valve = Valve::new(kv, density);
            check(&quantity, kv_pressure_drop_pa(kv, flow, density) / 1e3, value, 1e-9 * value);
            check(&quantity, valve.drop(flow).pressure_pa / 1e3, value, 1e-9 * value);
            check(format!("{quantity}, backwards"), valve.drop(-flow).pressure_pa / 1e3, -value, 1e-9 * value);
            check(format!("{quantity}, back to Kv"), kv_for(flow, value * 1e3, density), kv, 1e-9 * kv);
            drops += 1;
        } else if quantity.starts_with("Kv for") {
            let water = Fluid::water().properties(20.0).unwrap();
            let pressure_pa = number(&quantity, "dp") * 1e3;
            let kv = kv_for(number(&quantity, "Q") * M3_PER_H, pressure_pa, water.density_kg_per_m3);
            check(&quantity, kv, value, 1e-4 * value);
            sizings += 1;
        }
    }
    assert_eq!((drops, sizings), (5, 3));
}

/// Table: computed from exact definitions, Cv also by the library `fluids` 1.3.1; tolerance 1e-6 (the figures bear 1e-9).
#[test]
fn kv_stands_in_its_ratio_to_other_coefficients() {
    let table = flow_coefficients();
    let value = |name: &str| table.iter().find(|row| row.quantity == name).map_or(f64::NAN, |row| row.value);
    let psi_pa = value("psi in Pa");
    let kv_per_cv = kv_for(value("US gpm in m3/h") * M3_PER_H, psi_pa, 1000.0);
    check("Kv / Cv", kv_per_cv, value("Kv / Cv"), 2e-9);
    check("Cv / Kv", kv_per_cv.recip(), value("Cv / Kv"), 2e-9);
    // The imperial gallon is 4.546 09 l, exact by definition.
    let kv_per_imperial_cv = kv_for(4.546_09e-3 / 60.0, psi_pa, 1000.0);
    check("imperial Cv / Kv", kv_per_imperial_cv.recip(), value("UK gallon: Cv(UK) / Kv"), 2e-9);
    // Q = Av √(Δp/ρ) in SI; and the head in m is the same for every density.
    for density in [950.0, 1000.0, 1060.0] {
        let drop_pa = kv_pressure_drop_pa(1.0, M3_PER_H, density);
        let av = M3_PER_H * (density / drop_pa).sqrt();
        check("Av / Kv", av, value("Av / Kv (m2)"), 1e-9 * av);
        let head_m = drop_pa / (density * GRAVITY_M_PER_S2);
        check("head per (Q/Kv)²", head_m, value("head loss in m per (Q/Kv)^2"), 1e-9 * head_m);
    }
    let drop_kpa = kv_pressure_drop_pa(1.0, M3_PER_H, 1000.0) / 1e3;
    check("kPa per (Q/Kv)²", drop_kpa, value("dp in kPa per (Q/Kv)^2 at rho = 1000"), 1e-9 * drop_kpa);
}

#[derive(Deserialize)]
struct InherentRow {
    #[serde(rename = "rangeability_R")]
    rangeability: f64,
    travel_x: f64,
    phi_equal_percentage: f64,
    phi_linear_ideal: f64,
}

/// Table: closed forms; equal percentage in the form of IEC 60534-2-4, from memory. Its ten printed digits bear
/// 5e-10. At zero travel the law leaves 1/R; this program shuts there, so that the row is met just above zero. The linear
/// law with a rangeability has no counterpart here.
#[test]
fn inherent_characteristics_meet_their_closed_forms() {
    let table: Vec<InherentRow> = rows(include_str!("data/f_inherent_characteristics.csv"));
    assert_eq!(table.len(), 22);
    for row in table {
        let name = format!("R {}, travel {}", row.rangeability, row.travel_x);
        let equal = Characteristic::EqualPercentage { rangeability: row.rangeability };
        let open = row.travel_x.max(f64::MIN_POSITIVE);
        check(&name, equal.share(open), row.phi_equal_percentage, 5e-10 * row.phi_equal_percentage);
        check(&name, Characteristic::Linear.share(row.travel_x), row.phi_linear_ideal, 1e-12);
        if row.travel_x == 0.0 {
            assert_eq!(equal.share(0.0), 0.0);
            assert!(Valve::at_position(4.0, equal, 0.0, 1000.0).range().is_shut());
        } else {
            let drop = Valve::at_position(4.0, equal, row.travel_x, 1000.0).drop(M3_PER_H).pressure_pa;
            check(&name, kv_for(M3_PER_H, drop, 1000.0), 4.0 * row.phi_equal_percentage, 1e-9);
        }
    }
}

/// √x, the form the program states for quick opening: half travel gives 71 % of Kv (no outside table; common practice).
#[test]
fn quick_opening_gives_most_of_its_kv_early() {
    check("quarter", Characteristic::QuickOpening.share(0.25), 0.5, 1e-15);
    check("half", Characteristic::QuickOpening.share(0.5), 0.5_f64.sqrt(), 1e-15);
    for characteristic in
        [Characteristic::Linear, Characteristic::QuickOpening, Characteristic::EqualPercentage { rangeability: 50.0 }]
    {
        assert_eq!([-0.1, 0.0, 1.0, 1.1].map(|x| characteristic.share(x)), [0.0, 0.0, 1.0, 1.0]);
    }
}

/// Solves links between node 1 (pump discharge) and node 0 (pump suction) with the pump at a constant pressure; its curve
/// lies far above and its run-out far beyond the flows of these tests.
fn at_constant_pressure(pressure_pa: f64, density: f64, links: Vec<Link>) -> Outcome {
    let head_m = pressure_pa / (density * GRAVITY_M_PER_S2);
    let points = [[0.0, 3.0 * head_m], [25.0 * M3_PER_H, 2.5 * head_m], [50.0 * M3_PER_H, head_m]];
    let settings = Regulation {
        head_limit_m: Some(head_m),
        slope: 0.0,
        speed_cap: 1.0,
        power_limit_w: None,
        minimum_speed: 0.0,
        reference: ReferenceFlow::FullSpeed,
    };
    let regulated = Regulated::new(&PumpCurve::fit(&points).unwrap(), settings).unwrap();
    let law = PumpLaw::Regulated(Box::new(regulated));
    let pump = PumpLink { suction: 0, discharge: 1, law, density_kg_per_m3: density };
    let nodes = links.iter().map(|link| link.from.max(link.to)).max().unwrap() + 1;
    let network = Network { nodes, links, pumps: vec![pump], reference: 0 };
    let outcome = Solver::new(&network).solve(&network).clone();
    assert!(outcome.converged());
    check("pump", outcome.pumps[0].rise_pa, pressure_pa, 1e-9 * pressure_pa);
    outcome
}

fn link(from: usize, to: usize, law: LinkLaw) -> Link {
    Link { from, to, law }
}

/// Flow in m³/h of one link under a constant pressure.
fn flow_m3_per_h(law: LinkLaw, pressure_kpa: f64, density: f64) -> f64 {
    at_constant_pressure(pressure_kpa * 1e3, density, vec![link(1, 0, law)]).flows[0] / M3_PER_H
}

#[derive(Deserialize)]
struct InstalledRow {
    #[serde(rename = "authority_N")]
    authority: f64,
    travel_x: f64,
    q_equal_percentage: f64,
    q_linear: f64,
}

const TOTAL_PA: f64 = 30e3;
const DESIGN_M3_PER_H: f64 = 1.6;
const GLYCOL_DENSITY: f64 = 1030.0;

/// A valve that takes the share `authority` of the total pressure at design flow, in series with a loss that takes the rest.
fn branch(authority: f64, characteristic: Characteristic, travel: f64) -> Outcome {
    let design = DESIGN_M3_PER_H * M3_PER_H;
    let kvs = kv_for(design, authority * TOTAL_PA, GLYCOL_DENSITY);
    let valve = LinkLaw::Valve(Valve::at_position(kvs, characteristic, travel, GLYCOL_DENSITY));
    let links = if authority < 1.0 {
        let rest = LinkLaw::Fixed(FixedLoss::new((1.0 - authority) * TOTAL_PA, design, 2.0));
        vec![link(1, 2, valve), link(2, 0, rest)]
    } else {
        vec![link(1, 0, valve)]
    };
    at_constant_pressure(TOTAL_PA, GLYCOL_DENSITY, links)
}

/// Table: closed form q = 1/√(1 − N + N/φ²), R = 50, checked there by solving the circuit; tolerance 1e-9. Solved here by the
/// network. At zero travel the equal-percentage row is met just above zero, as this program shuts at zero.
#[test]
fn installed_characteristics_come_out_of_the_network() {
    let equal = Characteristic::EqualPercentage { rangeability: 50.0 };
    let table: Vec<InstalledRow> = rows(include_str!("data/f_installed_characteristics.csv"));
    assert_eq!(table.len(), 77);
    for row in table {
        let name = format!("authority {}, travel {}", row.authority, row.travel_x);
        let share = |characteristic, travel| {
            let outcome = branch(row.authority, characteristic, travel);
            check(format!("{name}, sum of drops"), outcome.drops_pa.iter().sum(), TOTAL_PA, 1e-8 * TOTAL_PA);
            outcome.flows[0] / (DESIGN_M3_PER_H * M3_PER_H)
        };
        let open = row.travel_x.max(f64::MIN_POSITIVE);
        check(format!("{name}, equal percentage"), share(equal, open), row.q_equal_percentage, 1e-9);
        check(format!("{name}, linear"), share(Characteristic::Linear, row.travel_x), row.q_linear, 1e-9);
    }
}

/// Authority is the open valve's drop at design flow over the drop across the shut valve (definition).
#[test]
fn authority_is_open_drop_over_shut_drop() {
    for authority in [0.7, 0.3, 0.05] {
        let open = branch(authority, Characteristic::Linear, 1.0).drops_pa[0];
        let shut = branch(authority, Characteristic::Linear, 0.0);
        assert_eq!(shut.flows[0], 0.0);
        check("authority", open / shut.drops_pa[0], authority, 1e-9);
    }
}

/// Slope against a central difference of the law.
fn check_slope(law: impl Fn(f64) -> Drop, flow: f64) {
    let step = 1e-5 * flow;
    let expected = (law(flow + step).pressure_pa - law(flow - step).pressure_pa) / (2.0 * step);
    check(format!("slope at {flow} m³/s"), law(flow).slope, expected, 1e-7 * expected);
}

/// Defining identity: nothing backwards or up to the cracking pressure, Kv law on what lies above it. Kv 2 and 16 kPa above
/// cracking give 2 · √0.16 = 0.8 m³/h at 1000 kg/m³.
#[test]
fn a_check_valve_cracks_and_then_follows_kv() {
    let law = || LinkLaw::Check(CheckValve::new(2.0, 5e3, 1000.0));
    check("16 kPa above cracking", flow_m3_per_h(law(), 21.0, 1000.0), 0.8, 1e-9);
    check("just below cracking", flow_m3_per_h(law(), 4.999, 1000.0), 0.0, 1e-12);
    let against = at_constant_pressure(21e3, 1000.0, vec![link(0, 1, law())]);
    check("against the flow", against.flows[0], 0.0, 1e-15);
    check_slope(|q| law().drop(q, &mut 0.0), 0.8 * M3_PER_H);
}

/// Defining identity: set flow from the least drop on, a fixed valve below it. A quarter of the least drop gives half the flow.
#[test]
fn a_limiter_holds_its_set_flow_from_the_least_drop_on() {
    let law = || LinkLaw::Limiter(FlowLimiter::new(0.6 * M3_PER_H, 16e3));
    for (pressure_kpa, expected) in [(4.0, 0.3), (9.0, 0.45), (16.0, 0.6), (25.0, 0.6), (200.0, 0.6)] {
        check(format!("{pressure_kpa} kPa"), flow_m3_per_h(law(), pressure_kpa, 985.0), expected, 1e-9);
    }
    check_slope(|q| law().drop(q, &mut 0.0), 0.3 * M3_PER_H);
    assert!(FlowLimiter::new(0.0, 16e3).range().is_shut());
}

/// Defining identity: opening x = (Δp − set)/band between 0 and 1, Q = x Kv √(Δp/1 bar · 1000/ρ). Set 16 kPa, band 18 kPa, Kv 3:
/// 25 kPa is half open, 0.5 · 3 · √0.25 = 0.75 m³/h; from 34 kPa on it is a valve, at 64 kPa 3 · √0.64 = 2.4 m³/h.
#[test]
fn a_bypass_opens_in_proportion_over_its_band() {
    let bypass = |density| BypassValve::new(16e3, 18e3, 3.0, density);
    let rows = [(15.0, 0.0, 0.0), (25.0, 0.5, 0.75), (34.0, 1.0, 3.0 * 0.34_f64.sqrt()), (64.0, 1.0, 2.4)];
    for (pressure_kpa, opening, expected) in rows {
        check(format!("opening at {pressure_kpa} kPa"), bypass(1000.0).opening(pressure_kpa * 1e3), opening, 1e-12);
        for density in [1000.0_f64, 810.0] {
            let name = format!("{pressure_kpa} kPa, {density} kg/m³");
            let expected = expected * (1000.0 / density).sqrt();
            check(&name, flow_m3_per_h(LinkLaw::Bypass(bypass(density)), pressure_kpa, density), expected, 1e-9);
            if expected > 0.0 {
                let drop = bypass(density).drop(expected * M3_PER_H).pressure_pa;
                check(format!("{name}, the law itself"), drop, pressure_kpa * 1e3, 1e-9 * drop);
            }
        }
    }
    check("set pressure at no flow", bypass(1000.0).drop(0.0).pressure_pa, 16e3, 1e-9);
    check_slope(|q| bypass(1000.0).drop(q), 0.75 * M3_PER_H);
    check_slope(|q| bypass(1000.0).drop(q), 2.4 * M3_PER_H);
}

/// Defining identity Δp = Δp_r (q/q_r)^m, with figures that come out even: 4^1.5 = 8, 4² = 16.
#[test]
fn a_rated_loss_scales_with_its_exponent() {
    for (exponent, factor) in [(1.0, 4.0), (1.5, 8.0), (2.0, 16.0)] {
        let loss = FixedLoss::new(2e3, 0.5 * M3_PER_H, exponent);
        for direction in [1.0, -1.0] {
            let found = loss.drop(direction * 2.0 * M3_PER_H).pressure_pa;
            check(format!("exponent {exponent}"), found, direction * factor * 2e3, 1e-8);
        }
        check_slope(|q| loss.drop(q), 2.0 * M3_PER_H);
    }
}

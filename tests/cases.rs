//! The solver against networks that an independent reference solved (`tests/data/cases`, see the README there): loop flows
//! with scipy root finding, checked by a second formulation. Agreement to 1e-6 of flows and heads.

use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::links::{BypassValve, CheckValve, FixedLoss, FlowLimiter, LinkLaw, Pipe, Valve};
use headwise::engine::network::{Link, Network, Outcome, PumpLaw, PumpLink, Solver};
use headwise::engine::pump::{PumpCurve, ReferenceFlow, Regulated, Regulation};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::PathBuf;

struct Case {
    network: Network,
    link_names: Vec<String>,
    pump_names: Vec<String>,
    node_names: Vec<String>,
    density: f64,
    solutions: Vec<Value>,
}

fn read(name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/cases").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn law(link: &Value, density: f64, viscosity: f64) -> LinkLaw {
    let number = |key: &str| link[key].as_f64().unwrap();
    if link["closed"].as_bool() == Some(true) {
        return LinkLaw::Shut;
    }
    match link["type"].as_str().unwrap() {
        "pipe" => LinkLaw::Pipe(Pipe::new(
            number("length_m"),
            number("d_mm") * 1e-3,
            number("rough_mm") * 1e-3,
            number("k_minor"),
            density,
            viscosity,
        )),
        "valve" => LinkLaw::Valve(Valve::new(number("kv_m3_h"), density)),
        "resistance" => {
            let area = std::f64::consts::PI * (number("d_mm") * 1e-3).powi(2) / 4.0;
            let flow = area; // one metre a second
            LinkLaw::Fixed(FixedLoss::new(number("k") * density / 2.0, flow, 2.0))
        }
        "check" => LinkLaw::Check(CheckValve::new(number("kv_m3_h"), number("crack_kPa") * 1e3, density)),
        "dp_bypass" => LinkLaw::Bypass(BypassValve::new(
            number("set_kPa") * 1e3,
            number("band_kPa") * 1e3,
            number("kv_m3_h"),
            density,
        )),
        "flow_limiter" => LinkLaw::Limiter(FlowLimiter::new(number("q_set_m3_h") / 3600.0, number("dp_min_kPa") * 1e3)),
        other => panic!("unknown link type {other}"),
    }
}

fn regulated(link: &Value) -> Regulated {
    let points: Vec<[f64; 2]> = link["curve_m3h_m"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| [p[0].as_f64().unwrap() / 3600.0, p[1].as_f64().unwrap()])
        .collect();
    let settings = &link["regulation"];
    let reference = match settings["q_ref_m3_h"].as_f64() {
        Some(flow) => ReferenceFlow::DesignFlow(flow / 3600.0),
        None => ReferenceFlow::CappedSpeed,
    };
    let regulation = Regulation {
        head_limit_m: settings["head_limit_m"].as_f64(),
        slope: settings["slope_fraction"].as_f64().unwrap(),
        speed_cap: settings["cap_fraction"].as_f64().unwrap(),
        power_limit_w: None,
        minimum_speed: settings["min_speed_fraction"].as_f64().unwrap(),
        reference,
    };
    Regulated::new(&PumpCurve::fit(&points).unwrap(), regulation).unwrap()
}

fn load(name: &str) -> Case {
    let case = read(&format!("{name}.json"));
    let result = read(&format!("{name}.result.json"));
    let density = case["fluid"]["rho_kg_m3"].as_f64().unwrap();
    let viscosity = case["fluid"]["mu_Pa_s"].as_f64().unwrap();
    let node_names: Vec<String> =
        case["nodes"].as_array().unwrap().iter().map(|n| n.as_str().unwrap().to_owned()).collect();
    let node = |value: &Value| node_names.iter().position(|n| Some(n.as_str()) == value.as_str()).unwrap();
    let mut network =
        Network { nodes: node_names.len(), reference: node(&case["reference_node"]), ..Network::default() };
    let (mut link_names, mut pump_names) = (Vec::new(), Vec::new());
    for link in case["links"].as_array().unwrap() {
        let (from, to) = (node(&link["from"]), node(&link["to"]));
        let id = link["id"].as_str().unwrap().to_owned();
        if link["type"] == "pump" {
            network.pumps.push(PumpLink {
                suction: from,
                discharge: to,
                law: PumpLaw::Regulated(Box::new(regulated(link))),
                density_kg_per_m3: density,
            });
            pump_names.push(id);
        } else {
            network.links.push(Link { from, to, law: law(link, density, viscosity) });
            link_names.push(id);
        }
    }
    let solutions = result["solutions"].as_array().unwrap().clone();
    Case { network, link_names, pump_names, node_names, density, solutions }
}

/// Greatest relative difference of flows and heads from one of the reference's solutions.
fn difference(case: &Case, outcome: &Outcome, solution: &Value) -> f64 {
    let head = |pascal: f64| pascal / (case.density * GRAVITY_M_PER_S2);
    let expected: BTreeMap<&str, &Value> =
        solution["links"].as_object().unwrap().iter().map(|(k, v)| (k.as_str(), v)).collect();
    let flow_scale = outcome.pumps.iter().map(|p| p.flow.abs()).fold(1e-9, f64::max);
    let head_scale = outcome.pumps.iter().map(|p| head(p.rise_pa)).fold(1e-9, f64::max);
    let mut worst = 0.0_f64;
    for (i, name) in case.link_names.iter().enumerate() {
        let link = expected[name.as_str()];
        worst = worst.max((outcome.flows[i] - link["flow_m3_h"].as_f64().unwrap() / 3600.0).abs() / flow_scale);
    }
    for (i, name) in case.pump_names.iter().enumerate() {
        let link = expected[name.as_str()];
        worst = worst.max((outcome.pumps[i].flow - link["flow_m3_h"].as_f64().unwrap() / 3600.0).abs() / flow_scale);
        worst = worst.max((head(outcome.pumps[i].rise_pa) - link["head_m"].as_f64().unwrap()).abs() / head_scale);
    }
    for (i, name) in case.node_names.iter().enumerate() {
        match solution["node_head_m"][name].as_f64() {
            Some(expected) => worst = worst.max((head(outcome.pressures_pa[i]) - expected).abs() / head_scale),
            None => assert!(outcome.pressures_pa[i].is_nan(), "node {name} should be undefined"),
        }
    }
    worst
}

/// Solves cold and warm and wants one of the reference's solutions, a stable one.
fn check(name: &str) {
    let case = load(name);
    let mut solver = Solver::new(&case.network);
    for start in ["cold", "warm"] {
        let outcome = solver.solve(&case.network);
        assert!(outcome.converged(), "{name} {start}: not converged after {} steps", outcome.iterations);
        assert!(outcome.mass_error < 1e-9, "{name} {start}: mass {}", outcome.mass_error);
        assert!(outcome.energy_error < 1e-9, "{name} {start}: energy {}", outcome.energy_error);
        let best = case
            .solutions
            .iter()
            .filter(|s| s["slope_stability"]["stable"] != false)
            .map(|s| difference(&case, outcome, s))
            .fold(f64::INFINITY, f64::min);
        assert!(best < 1e-6, "{name} {start}: off by {best:e} after {} steps", outcome.iterations);
    }
}

macro_rules! cases {
    ($($test:ident: $file:literal,)*) => {
        $(#[test] fn $test() { check($file); })*
    };
}

cases! {
    one_zone: "01_one_zone",
    three_zones_direct_return: "02_three_zones_direct_return",
    one_zone_shut: "04_zone_two_closed",
    all_shut_bypass_open: "05_all_closed_bypass_open",
    bypass_on_a_rising_set_line: "05b_all_closed_bypass_set_line",
    glycol: "06_glycol_30_percent",
    two_pumps_in_parallel: "07_two_pumps_parallel",
    primary_and_secondary: "09_primary_secondary_separator",
    everything_laminar: "11_laminar_capillary_mat",
    limiters_and_bypass: "13_limiters_and_bypass",
    slope_100_without_minimum_speed: "14a_slope_100_no_minimum_speed",
    slope_100_with_minimum_speed: "14b_slope_100_minimum_speed",
    parallel_pumps_at_constant_head: "15_parallel_constant_head",
    given_reference_flow: "16_explicit_reference_flow",
    transition_zone: "17_transition_zone",
}

/// Two equal pumps side by side, each behind its check valve and on its own rising set-line: equal shares are a point, but an
/// unstable one (the reference's remark on parallel pumps); one pump then carries the flow and the other is shut.
#[test]
fn pumps_side_by_side_on_rising_set_lines_do_not_share() {
    let mut case = load("07_two_pumps_parallel");
    for pump in &mut case.network.pumps {
        let PumpLaw::Regulated(regulated) = &pump.law else { panic!("a regulated pump") };
        let settings = Regulation { head_limit_m: Some(3.4), ..*regulated.settings() };
        pump.law = PumpLaw::Regulated(Box::new(Regulated::new(regulated.curve(), settings).unwrap()));
    }
    let mut solver = Solver::new(&case.network);
    for start in ["cold", "warm"] {
        let outcome = solver.solve(&case.network);
        assert!(outcome.converged() && outcome.stable, "{start}");
        let mut flows: Vec<f64> = outcome.pumps.iter().map(|p| p.flow * 3600.0).collect();
        flows.sort_by(f64::total_cmp);
        assert!(flows[0].abs() < 1e-9 && flows[1] > 1.0, "{start}: {flows:?}");
        // The one that runs does what it would do alone.
        let mut alone = case.network.clone();
        alone.pumps.truncate(1);
        let single = Solver::new(&alone).solve(&alone).pumps[0];
        assert!((flows[1] - single.flow * 3600.0).abs() < 1e-7, "{start}: {flows:?} against {}", single.flow * 3600.0);
    }
}

/// Case 05b: three operating points, 0 / 0.60990 (unstable) / 2.71769 m³/h, and start-up from rest reaches the first.
#[test]
fn all_three_points_of_a_bypass_on_a_rising_set_line_are_found() {
    let case = load("05b_all_closed_bypass_set_line");
    assert!(case.network.may_have_several_points());
    let mut solver = Solver::new(&case.network);
    let points = solver.operating_points(&case.network);
    let mut expected: Vec<(f64, bool)> = case
        .solutions
        .iter()
        .map(|s| (s["links"]["P"]["flow_m3_h"].as_f64().unwrap(), s["slope_stability"]["stable"] == true))
        .collect();
    expected.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert_eq!(points.len(), expected.len(), "{points:?}");
    for (point, (flow, stable)) in points.iter().zip(expected) {
        assert!((point.flow * 3600.0 - flow).abs() < 1e-6, "{point:?} is not {flow}");
        assert_eq!(point.stable, stable, "{point:?}");
        if point.stable {
            let outcome = solver.solve_at(&case.network, point);
            assert!(outcome.converged() && (outcome.pumps[0].flow - point.flow).abs() < 1e-9, "{point:?}: {outcome:?}");
        }
    }
}

/// The same pumps at constant head share: that point is stable.
#[test]
fn pumps_side_by_side_at_constant_head_are_stable() {
    let case = load("15_parallel_constant_head");
    assert!(Solver::new(&case.network).solve(&case.network).stable);
}

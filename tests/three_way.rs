//! Three-way valves against identities of their definition, the closed form of two resistances side by side, and balances of
//! mixing. Kv as IEC 60534 defines it: 1 bar at Kv m³/h of water of 1000 kg/m³.

#![expect(clippy::unwrap_used, reason = "a test stops where something is missing")]

use headwise::document::{Changed, Command, ComponentId, ComponentKind, Port, PortRef, Project, ThreeWayAction};
use headwise::engine::links::{Characteristic, ThreeWay};
use headwise::engine::units::Units;
use headwise::problems;
use headwise::study::sizing::design_flows;
use headwise::study::{LinkOwner, Reading, Study};
use headwise::{file, report};

#[track_caller]
fn near(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: {found} instead of {expected}");
}

fn id(project: &Project, name: &str) -> ComponentId {
    project.component_named(name).unwrap()
}

const PUMP: &str = "pump(catalogue: [(flow_m3_per_h: 0, head_m: 12, power_w: 100), (flow_m3_per_h: 4, head_m: 10, power_w: 160), \
                    (flow_m3_per_h: 8, head_m: 4, power_w: 190)], standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: \
                    None, slope_percent: 0, speed_cap_percent: 100, minimum_speed_percent: 20))";

/// Flow held by the limiter, m³/h.
const FLOW: f64 = 2.0;

fn project(components: &str, pipes: &str) -> Project {
    let text = format!(
        "(format: 1, title: \"Three ways\", design: (duty: heating, supply_c: 75, return_c: 50, room_c: 20), fluid: water,
        components: [
            (name: \"Source\", at: (0, 4), is: source(loss_kpa: 0, rated_flow_m3_per_h: 1, minimum_flow_m3_per_h: 0)),
            (name: \"Pump\", at: (4, 0), is: {PUMP}), (name: \"Vessel\", at: (8, 12), is: expansion_vessel),
            (name: \"Limiter\", at: (8, 0), is: pressure_independent_valve(set_flow_m3_per_h: {FLOW}, least_drop_kpa: 5, open: true)),
            (name: \"Emitter\", at: (24, 4), is: emitter(law: constant_drop, loss_kpa: 0)), (name: \"Return\", at: (12, 8), is: tee),
            {components}
        ],
        pipes: [(from: (\"Vessel\", branch), to: (\"Return\", branch)), {pipes}],
        zones: [(name: \"Zone\", load_kw: 55, emitter: \"Emitter\")], scenarios: [])"
    );
    file::parse(&text, "three ways").unwrap()
}

/// Return → source → balancing valve → valve inlet, return → valve branch; valve outlet → meter → pump → limiter → emitter.
fn mixing(characteristic: &str, kvs: f64, position: f64) -> Project {
    project(
        &format!(
            "(name: \"BV\", at: (4, 4), is: balancing_valve(kv_m3_per_h: 5)), (name: \"Mixed\", at: (0, 0), is: tee),
            (name: \"Valve\", at: (8, 4), is: three_way_valve(action: mixing, kvs_m3_per_h: {kvs}, characteristic: \
                {characteristic}, bypass_kvs_m3_per_h: 4, bypass_characteristic: linear, position_percent: {position})),
            (name: \"Thermometer\", at: (0, 1), is: thermometer), (name: \"Meter\", at: (0, 2), is: flow_meter(kv_m3_per_h: 20)),
            (name: \"Gauge before\", at: (0, 3), is: pressure_gauge), (name: \"Gauge behind\", at: (0, 5), is: pressure_gauge),
            (name: \"Gauge at vessel\", at: (0, 6), is: pressure_gauge)"
        ),
        "(from: (\"Return\", branch), to: (\"Source\", inlet)), (from: (\"Source\", outlet), to: (\"BV\", inlet)),
        (from: (\"BV\", outlet), to: (\"Valve\", inlet)), (from: (\"Return\", branch), to: (\"Valve\", branch)),
        (from: (\"Valve\", outlet), to: (\"Mixed\", branch)), (from: (\"Mixed\", branch), to: (\"Meter\", inlet)),
        (from: (\"Thermometer\", branch), to: (\"Mixed\", branch)), (from: (\"Meter\", outlet), to: (\"Pump\", inlet)),
        (from: (\"Pump\", outlet), to: (\"Limiter\", inlet)), (from: (\"Limiter\", outlet), to: (\"Emitter\", inlet)),
        (from: (\"Emitter\", outlet), to: (\"Return\", branch)), (from: (\"Gauge before\", branch), to: (\"BV\", inlet)),
        (from: (\"Gauge behind\", branch), to: (\"BV\", outlet)), (from: (\"Gauge at vessel\", branch), to: (\"Return\", branch))",
    )
}

/// Source → pump → limiter → valve inlet; both its ways end in the return, each through `ways`.
fn diverting(position: f64, ways: [&str; 2]) -> Project {
    project(
        &format!(
            "(name: \"A\", at: (16, 4), is: {}), (name: \"B\", at: (16, 8), is: {}),
            (name: \"Valve\", at: (12, 0), is: three_way_valve(action: diverting, kvs_m3_per_h: 4, characteristic: linear, \
                bypass_kvs_m3_per_h: 4, bypass_characteristic: linear, position_percent: {position}))",
            ways[0], ways[1]
        ),
        "(from: (\"Source\", outlet), to: (\"Pump\", inlet)), (from: (\"Pump\", outlet), to: (\"Limiter\", inlet)),
        (from: (\"Limiter\", outlet), to: (\"Valve\", inlet)), (from: (\"Valve\", outlet), to: (\"A\", inlet)),
        (from: (\"A\", outlet), to: (\"Emitter\", inlet)), (from: (\"Emitter\", outlet), to: (\"Return\", branch)),
        (from: (\"Valve\", branch), to: (\"B\", inlet)), (from: (\"B\", outlet), to: (\"Return\", branch)),
        (from: (\"Return\", branch), to: (\"Source\", inlet))",
    )
}

/// Flows by the controlled way and by the bypass, m³/h.
fn flows(project: &Project, study: &Study) -> [f64; 2] {
    assert!(study.results().converged());
    let valve = id(project, "Valve");
    let results = study.results();
    [results.components[&valve].flow, results.bypasses[&valve].flow].map(|flow| 3600.0 * flow)
}

/// Linear ways of one Kvs: Kv + Kv_b = Kvs. Equal-percentage ways: 2 R^−½ Kvs in the middle. Ends: one way open, one tight.
#[test]
fn both_ways_follow_one_stem() {
    let linear = Characteristic::Linear;
    let valve = |characteristic| ThreeWay {
        kvs_m3_per_h: 6.3,
        characteristic,
        bypass_kvs_m3_per_h: 6.3,
        bypass_characteristic: characteristic,
    };
    for position in [0.0, 0.1, 0.37, 0.5, 0.99, 1.0] {
        let [controlled, bypass] = valve(linear).kv_m3_per_h(position);
        near("sum", controlled + bypass, 6.3, 1e-12);
        near("controlled", controlled, 6.3 * position, 1e-12);
        // At 1 bar over both, Kv of each passes, whatever the position: 1 bar per (Kvs)² of the common flow.
        let drop = valve(linear).controlled(position, 1000.0).drop(controlled / 3600.0).pressure_pa;
        near("definition of Kv", drop, if position > 0.0 { 1e5 } else { 0.0 }, 1e-6);
    }
    let equal = valve(Characteristic::EqualPercentage { rangeability: 50.0 });
    let [controlled, bypass] = equal.kv_m3_per_h(0.5);
    near("middle", controlled + bypass, 2.0 * 6.3 / 50.0_f64.sqrt(), 1e-12);
    assert_eq!(equal.kv_m3_per_h(0.0), [0.0, 6.3]);
    assert_eq!(equal.kv_m3_per_h(1.0), [6.3, 0.0]);
    assert!(equal.bypass(1.0, 1000.0).range().is_shut() && equal.controlled(0.0, 1000.0).range().is_shut());
}

/// Two resistances side by side part a flow as their Kv: q = FLOW Kv/(Kv + Kv_b), the controlled way in a row with the
/// balancing valve and the source (1/Kv² adds). Mixing: T = (q 75 + q_b T_return)/(q + q_b); with the emitter's constant drop
/// of 25 K, T_return = T − 25, that is T = 75 − 25 q_b/q. The emitter's flow is the limiter's, so all of it is known.
#[test]
fn a_mixing_valve_meets_the_closed_form() {
    let equal = |x: f64| 50.0_f64.powf(x - 1.0);
    let mut warm = 0;
    for (words, share) in [("linear", (|x| x) as fn(f64) -> f64), ("equal_percentage(rangeability: 50)", equal)] {
        for percent in [20.0, 50.0, 65.0, 90.0] {
            let x = percent / 100.0;
            let project = mixing(words, 6.3, percent);
            let study = Study::new(&project).unwrap();
            let in_a_row = |kvs: &[f64]| kvs.iter().map(|kv| kv.powi(-2)).sum::<f64>().powf(-0.5);
            // A source without loss is a Kv of 2000.
            let [kv, kv_b] = [in_a_row(&[6.3 * share(x), 5.0, 2000.0]), 4.0 * (1.0 - x)];
            let [q, q_b] = flows(&project, &study);
            near("controlled", q, FLOW * kv / (kv + kv_b), 1e-6 * FLOW);
            near("bypass", q_b, FLOW * kv_b / (kv + kv_b), 1e-6 * FLOW);
            let mixed_c = 75.0 - 25.0 * q_b / q;
            let results = study.results();
            let reading = |name: &str| results.readings[&id(&project, name)];
            let Reading::Temperature(read_c) = reading("Thermometer") else { panic!() };
            // Below the room's 20 °C nothing is given any more.
            if mixed_c > 45.0 {
                near("mixed", results.zones.values().next().unwrap().supply_c, mixed_c, 1e-6);
                near("thermometer", read_c, mixed_c, 1e-6);
                warm += 1;
            }
            let Reading::Flow(metered) = reading("Meter") else { panic!() };
            near("flow meter", 3600.0 * metered, FLOW, 1e-9);
            let pressure = |name: &str| match reading(name) {
                Reading::PressureAboveVessel(pressure) => pressure,
                _ => f64::NAN,
            };
            near("at the vessel", pressure("Gauge at vessel"), 0.0, 1e-9);
            let density = study.lowered().fluid_of(0).density_kg_per_m3;
            let taken = 1e5 * (q / 5.0).powi(2) * density / 1000.0;
            near("over the balancing valve", pressure("Gauge before") - pressure("Gauge behind"), taken, 1e-3);
        }
    }
    assert_eq!(warm, 5);
}

/// Equal ways with equal parts behind them share alike in the middle.
#[test]
fn symmetric_ways_part_a_flow_in_halves() {
    let project = diverting(50.0, ["balancing_valve(kv_m3_per_h: 3)"; 2]);
    let study = Study::new(&project).unwrap();
    let [q, q_b] = flows(&project, &study);
    // The emitter without loss is a Kv of 2000 on one side.
    near("controlled", q, 0.5 * FLOW, 1e-5);
    near("bypass", q_b, 0.5 * FLOW, 1e-5);
    // What leaves by the bypass comes back as warm as it went.
    let source = study.results().sources[&id(&project, "Source")];
    near("return", source.enters_c, 0.5 * (75.0 + 50.0), 1e-3);
}

/// Linear ways of one Kvs between two common points take the same pressure in every position.
#[test]
fn linear_ways_of_one_kvs_keep_the_common_resistance() {
    let wide = "balancing_valve(kv_m3_per_h: 100000)";
    let mut project = diverting(0.0, [wide; 2]);
    let mut study = Study::new(&project).unwrap();
    let valve = id(&project, "Valve");
    for percent in [0.0, 10.0, 45.0, 80.0, 100.0] {
        let changed = project.apply(&Command::SetPosition(valve, percent / 100.0)).unwrap();
        assert!(!changed.structure);
        study.update(&project, changed).unwrap();
        let [q, q_b] = flows(&project, &study);
        near("controlled", q, FLOW * percent / 100.0, 1e-5);
        near("both", q + q_b, FLOW, 1e-9);
        let results = study.results();
        let open = if percent > 0.0 { results.components[&valve] } else { results.bypasses[&valve] };
        let density = study.lowered().fluid_of(0).density_kg_per_m3;
        near("pressure", open.drop, 1e5 * (FLOW / 4.0).powi(2) * density / 1000.0, 2.0);
        // The same as a study from scratch.
        let fresh = Study::new(&project).unwrap();
        near("from scratch", flows(&project, &fresh)[0], q, 1e-9);
    }
}

#[test]
fn a_position_beyond_its_stops_ends_there_and_other_parts_have_none() {
    let mut project = mixing("linear", 6.3, 50.0);
    let valve = id(&project, "Valve");
    project.apply(&Command::SetPosition(valve, 1.7)).unwrap();
    let ComponentKind::ThreeWayValve(now) = project.components[&valve].kind else { panic!() };
    assert_eq!(now.position, 1.0);
    assert!(project.apply(&Command::SetPosition(id(&project, "BV"), 0.5)).is_err());
    // A hundredth of the ring's water is new in each round: temperatures settle all the same.
    project.apply(&Command::SetPosition(valve, 0.01)).unwrap();
    let [q, q_b] = flows(&project, &Study::new(&project).unwrap());
    assert!(q > 0.0 && q < 0.02 * q_b, "{q} {q_b}");
    // Shut to the source: all through the bypass, and nothing left to warm it.
    project.apply(&Command::SetPosition(valve, 0.0)).unwrap();
    let study = Study::new(&project).unwrap();
    let [q, q_b] = flows(&project, &study);
    near("controlled", q, 0.0, 1e-12);
    near("bypass", q_b, FLOW, 1e-9);
}

/// A valve that diverts instead of mixing joins other ports: followed, it comes to what a study from scratch comes to.
#[test]
fn another_action_is_followed() {
    let mut project = mixing("linear", 6.3, 50.0);
    let valve = id(&project, "Valve");
    let mut study = Study::new(&project).unwrap();
    let ComponentKind::ThreeWayValve(mut now) = project.components[&valve].kind else { panic!() };
    now.action = ThreeWayAction::Diverting;
    let before = project.clone();
    let changed = project.apply(&Command::SetKind(valve, Box::new(ComponentKind::ThreeWayValve(now)))).unwrap();
    study.update(&project, changed).unwrap();
    let fresh = Study::new(&project).unwrap();
    assert_eq!(study.lowered().network.links, fresh.lowered().network.links);
    near("bypass", flows(&project, &study)[1], flows(&project, &fresh)[1], 1e-9);
    assert!(Changed::between(&project, &before).structure, "taken back");
}

#[test]
fn what_a_bypass_leads_to_is_return() {
    let side = |project: &Project, name: &str, port| {
        let study = Study::new(project).unwrap();
        study.is_supply(study.lowered().nodes[&PortRef { component: id(project, name), port }])
    };
    let mix = mixing("linear", 6.3, 50.0);
    assert!(side(&mix, "Emitter", Port::Inlet) && side(&mix, "Valve", Port::Inlet));
    assert!(!side(&mix, "Valve", Port::Branch) && !side(&mix, "Emitter", Port::Outlet));
    let parted = diverting(50.0, ["balancing_valve(kv_m3_per_h: 3)"; 2]);
    assert!(side(&parted, "Emitter", Port::Inlet) && !side(&parted, "Valve", Port::Branch));
}

/// At design all water goes to the load.
#[test]
fn design_flows_take_it_open_to_its_load() {
    let project = diverting(20.0, ["balancing_valve(kv_m3_per_h: 3)"; 2]);
    let design = design_flows(&project).unwrap();
    let valve = id(&project, "Valve");
    near("bypass", design.of(LinkOwner::Bypass(valve)), 0.0, 0.0);
    let zone = project.zones.values().next().unwrap();
    let flow = project.design.flow(zone, &design.lowered.fluid);
    near("controlled", design.of(LinkOwner::Component(valve)), flow, 1e-12);
}

#[test]
fn its_open_ports_are_told_and_its_drawing_is_in_order() {
    let mut project = mixing("linear", 6.3, 50.0);
    let errors = |project: &Project| problems::find(project).into_iter().map(|p| p.text()).collect::<Vec<_>>();
    assert_eq!(errors(&project), Vec::<String>::new());
    let valve = id(&project, "Valve");
    project.pipes.retain(|_, pipe| pipe.to != PortRef { component: valve, port: Port::Branch });
    assert!(errors(&project).iter().any(|s| s.starts_with("The bypass of the valve is joined to nothing")));
    let gauge = id(&project, "Thermometer");
    project.pipes.retain(|_, pipe| pipe.from.component != gauge);
    assert!(errors(&project).iter().any(|s| s.starts_with("It is joined to nothing. It reads nothing")));
}

/// A way that is shut parts the source from the vessel only where no other way is left.
#[test]
fn a_source_behind_a_shut_way_still_has_its_vessel_by_the_return() {
    for percent in [0.0, 100.0] {
        let project = mixing("linear", 6.3, percent);
        assert!(problems::find(&project).is_empty(), "{:?}", problems::find(&project));
    }
}

#[test]
fn the_report_tells_both_flows_and_all_readings() {
    let project = mixing("linear", 6.3, 50.0);
    let study = Study::new(&project).unwrap();
    let text = report::table(&project, &study, &Units::si());
    assert!(text.contains("Three-way valves") && text.contains("Instruments"), "{text}");
    assert!(text.contains("thermometer") && text.contains("flow meter"), "{text}");
    let data: serde_json::Value = serde_json::from_str(&report::data(&project, &study, &Units::si())).unwrap();
    let named = |part: &str, name: &str| {
        data[part].as_array().unwrap().iter().find(|item| item["name"] == name).unwrap().clone()
    };
    let valve = named("components", "Valve");
    let both = valve["flow_m3_per_h"].as_f64().unwrap() + valve["bypass_flow_m3_per_h"].as_f64().unwrap();
    near("both", both, FLOW, 1e-9);
    near("meter", named("readings", "Meter")["flow_m3_per_h"].as_f64().unwrap(), FLOW, 1e-9);
    assert!(named("readings", "Thermometer")["temperature_c"].as_f64().unwrap() < 75.0);
    near("vessel", named("readings", "Gauge at vessel")["pressure_above_vessel_kpa"].as_f64().unwrap(), 0.0, 1e-9);
}

/// A gauge takes no water, so the valve still throttles the emitter behind it; a branch with water does part them.
#[test]
fn a_gauge_between_a_thermostatic_valve_and_its_emitter_changes_nothing() {
    for (hung, zones) in [("pressure_gauge", 1), ("thermometer", 1), ("expansion_vessel", 0)] {
        let project = project(
            &format!(
                "(name: \"TV\", at: (12, 0), is: thermostatic_valve(kv_m3_per_h: 2, kvs_m3_per_h: 3, set_c: 20, band_k: 2)),
                (name: \"Tee\", at: (16, 0), is: tee), (name: \"Hung\", at: (16, -2), is: {hung})"
            ),
            "(from: (\"Source\", outlet), to: (\"Pump\", inlet)), (from: (\"Pump\", outlet), to: (\"Limiter\", inlet)),
            (from: (\"Limiter\", outlet), to: (\"TV\", inlet)), (from: (\"TV\", outlet), to: (\"Tee\", branch)),
            (from: (\"Hung\", branch), to: (\"Tee\", branch)), (from: (\"Tee\", branch), to: (\"Emitter\", inlet)),
            (from: (\"Emitter\", outlet), to: (\"Return\", branch)), (from: (\"Return\", branch), to: (\"Source\", inlet))",
        );
        assert_eq!(project.thermostatic_zones().len(), zones, "{hung}");
    }
}

/// A floor is judged by the water that reaches it: mixed down it bears a source of 75 °C.
#[test]
fn a_floor_behind_a_mixing_valve_is_judged_by_the_mixed_water() {
    let too_hot = |position: f64| {
        let mut project = mixing("linear", 6.3, position);
        for component in project.components.values_mut() {
            if let ComponentKind::Emitter(emitter) = &mut component.kind {
                emitter.law = headwise::engine::links::emitter::EmitterLaw::FloorLoop { exponent: 1.1 };
            }
        }
        let study = Study::new(&project).unwrap();
        let supply_c = study.results().zones.values().next().unwrap().supply_c;
        let checks = headwise::study::checks(&project, &study, &Units::si());
        (supply_c, checks.iter().any(|check| check.heading == "Floor too hot"))
    };
    let (open_c, open) = too_hot(100.0);
    let (mixed_c, mixed) = too_hot(15.0);
    assert!(open_c > 55.0 && open, "{open_c} {open}");
    assert!(mixed_c < 55.0 && !mixed, "{mixed_c} {mixed}");
}

/// An independent solution (Newton on the same laws in Python, IAPWS-IF97 water) has 0.454 m³/h from the valve's outlet back
/// through its bypass: the pump before it overcomes the one behind.
#[test]
fn a_bypass_that_runs_backwards_is_told() {
    let text = include_str!("data/projects/primary-pump-on-a-mixing-valve.ron");
    let project = file::parse(text, "the test's project").unwrap();
    let study = Study::new(&project).unwrap();
    let bypass = study.results().bypasses.values().next().unwrap().flow;
    near("bypass", -3600.0 * bypass, 0.454, 0.001);
    let checks = headwise::study::checks(&project, &study, &Units::si());
    assert!(checks.iter().any(|check| check.heading == "Its bypass runs backwards"), "{checks:?}");
}

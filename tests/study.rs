//! The study of the sample buildings: results, curves, paths and sentences must agree with each other, and a study that
//! follows a change must end where a fresh one begins.

use headwise::document::{Command, ComponentKind, PipeId, Port, PortRef, Project};
use headwise::engine::pump::GoverningLimit;
use headwise::engine::units::Units;
use headwise::file;
use headwise::study::{Study, findings, governing_at, path_of};
use std::collections::BTreeMap;
use std::path::Path;

const SAMPLES: [&str; 3] = ["fernhollow-library.ron", "saltreed-growers.ron", "alder-point-clinic.ron"];

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn samples() -> impl Iterator<Item = Project> {
    SAMPLES.into_iter().map(sample)
}

/// Head of a drawn curve at a flow, straight between its points.
fn on_curve(points: &[[f64; 2]], flow: f64) -> f64 {
    let pair = points.windows(2).find(|pair| pair[0][0] <= flow && flow <= pair[1][0]).unwrap();
    let share = (flow - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-15);
    pair[0][1] + share * (pair[1][1] - pair[0][1])
}

#[test]
fn the_operating_point_lies_on_the_drawn_regulated_curve() {
    for project in samples() {
        let study = Study::new(&project).unwrap();
        let (id, pump) = study.results().pumps.iter().find(|(_, pump)| pump.running).unwrap();
        let curves = study.curves(*id).unwrap();
        let head = on_curve(&curves.regulated, pump.flow);
        assert!((head / pump.head - 1.0).abs() < 2e-3, "{head} is not {}", pump.head);
    }
}

#[test]
fn the_drawn_system_curve_passes_through_the_operating_point() {
    // The clinic's flow limiters make its curve upright there: a head for the flow cannot be read off.
    for name in &SAMPLES[..2] {
        let project = sample(name);
        let study = Study::new(&project).unwrap();
        let (id, pump) = study.results().pumps.iter().find(|(_, pump)| pump.running).unwrap();
        let head = on_curve(&study.curves(*id).unwrap().system, pump.flow);
        assert!((head / pump.head - 1.0).abs() < 5e-3, "{name}: {head} is not {}", pump.head);
    }
}

#[test]
fn where_limiters_hold_the_system_curve_ends_upright_at_their_sum() {
    let project = sample("alder-point-clinic.ron");
    let study = Study::new(&project).unwrap();
    let (id, _) = study.results().pumps.iter().find(|(_, pump)| pump.running).unwrap();
    let curve = &study.curves(*id).unwrap().system;
    let sum: f64 = project
        .components
        .values()
        .map(|c| if let ComponentKind::PressureIndependentValve { set_flow, .. } = c.kind { set_flow } else { 0.0 })
        .sum();
    let last = curve[curve.len() - 1];
    assert!((last[0] / sum - 1.0).abs() < 1e-4, "{} is not {sum}", last[0]);
    assert!(curve.windows(2).all(|pair| pair[1][0] >= pair[0][0] - 1e-12 && pair[1][1] >= pair[0][1] - 1e-9));
}

#[test]
fn following_changes_ends_where_a_fresh_study_begins() {
    for mut project in samples() {
        let mut study = Study::new(&project).unwrap();
        let (pump, _) = project.pumps().next().unwrap();
        let valve = project.zones.values().next().unwrap().valve.unwrap();
        for command in [
            Command::SetHeadLimit(pump, Some(4.0)),
            Command::SetOpen(valve, false),
            Command::SetSlope(pump, 0.7),
            Command::EnterScenario(1),
            Command::SetSpeedCap(pump, 0.7),
            Command::OpenAllZones,
            Command::SetRunning(pump, false),
            Command::SetRunning(pump, true),
        ] {
            let changed = project.apply(&command).unwrap();
            study.update(&project, changed).unwrap();
            let fresh = Study::new(&project).unwrap();
            for (id, zone) in &fresh.results().zones {
                let followed = study.results().zones[id];
                assert!((followed.flow - zone.flow).abs() < 1e-9 * zone.design_flow.max(1e-6), "{command:?}");
                assert_eq!(followed.state, zone.state, "{command:?}");
            }
            for (id, pump) in &fresh.results().pumps {
                assert!((study.results().pumps[id].head - pump.head).abs() < 1e-7, "{command:?}");
            }
        }
    }
}

/// Every port of every component: what flows in through pipes, joints included, flows out through it.
#[test]
fn bare_joints_carry_what_balances_their_ends() {
    for project in samples() {
        let study = Study::new(&project).unwrap();
        let results = study.results();
        let mut balance: BTreeMap<_, f64> = BTreeMap::new();
        // Ports that are one water inside a component balance together.
        let joined = |end: PortRef| PortRef { port: project.components[&end.component].joined_port(end.port), ..end };
        for (id, pipe) in &project.pipes {
            *balance.entry(joined(pipe.from)).or_default() -= results.pipes[id].flow;
            *balance.entry(joined(pipe.to)).or_default() += results.pipes[id].flow;
        }
        for (end, sum) in balance {
            let through = results.component_flow(end.component);
            let expected = match end.port {
                Port::Inlet => through,
                Port::Outlet => -through,
                Port::Branch | Port::SecondaryOutlet | Port::SecondaryInlet => 0.0,
            };
            let name = &project.components[&end.component].name;
            assert!((sum - expected).abs() < 1e-9, "{name} {:?}: {sum} is not {expected}", end.port);
        }
    }
}

#[test]
fn the_path_of_the_far_zone_runs_through_pump_source_and_every_main() {
    let project = sample("fernhollow-library.ron");
    let study = Study::new(&project).unwrap();
    let path = path_of(&project, &study, project.zone_named("Reading-room floor").unwrap());
    let named = |wanted: &str| -> Vec<PipeId> {
        project.pipes.iter().filter(|(_, p)| p.name.starts_with(wanted)).map(|(id, _)| *id).collect()
    };
    assert!(!named("Main").is_empty());
    assert!(named("Main").iter().chain(&named("Common")).all(|id| path.pipes.contains(id)));
    assert!(named("Office").iter().all(|id| !path.pipes.contains(id)));
    for component in ["Circulator", "Heat pump", "Reading-room zone valve"] {
        assert!(path.components.contains(&project.component_named(component).unwrap()), "{component}");
    }
}

/// What the sentence claims is tried out.
#[test]
fn where_the_sentence_says_the_head_limit_changes_nothing_it_changes_nothing() {
    let mut project = sample("fernhollow-library.ron");
    let (id, _) = project.pumps().next().unwrap();
    let mut claims = 0;
    for cap in [0.6, 0.7, 0.8, 0.9, 1.0] {
        for slope in [0.0, 0.3, 0.6] {
            project.apply(&Command::SetSpeedCap(id, cap)).unwrap();
            project.apply(&Command::SetSlope(id, slope)).unwrap();
            let study = Study::new(&project).unwrap();
            let pump = study.results().pumps[&id];
            let sentence = governing_at(&pump, &study.curves(id).unwrap().ranges, &Units::si());
            let says_so = sentence.contains("raising the head limit changes nothing");
            assert_eq!(says_so, pump.governing == Some(GoverningLimit::SpeedCap), "{sentence}");
            if says_so {
                claims += 1;
                let mut raised = project.clone();
                raised.apply(&Command::SetHeadLimit(id, Some(6.5))).unwrap();
                let after = Study::new(&raised).unwrap().results().pumps[&id];
                assert!((after.flow - pump.flow).abs() < 1e-10, "{sentence}");
            }
        }
    }
    assert!(claims > 3);
}

/// A separator fed from below: secondary supply by the mixing rule, from the independent solution of case 09
/// (`tests/data/cases`): 75 °C and 50 °C mix to 69.54 °C.
#[test]
fn streams_mix_in_a_separator() {
    let text = std::fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/cases/09_primary_secondary_separator.result.json"),
    )
    .unwrap();
    let reference: serde_json::Value = serde_json::from_str(&text).unwrap();
    let flows = |name: &str| reference["solutions"][0]["links"][name]["flow_m3_h"].as_f64().unwrap();
    let expected = reference["solutions"][0]["mixing"]["secondary_supply_C"].as_f64().unwrap();
    let (primary, secondary) = (flows("boiler"), flows("V1") + flows("V2"));
    let project = file::parse(&separator(primary, secondary, expected), "separator").unwrap();
    let study = Study::new(&project).unwrap();
    let zone = study.results().zones.values().next().unwrap();
    assert!((zone.supply_c - expected).abs() < 1e-3, "{} is not {expected}", zone.supply_c);
}

/// A source with its pump and a zone with its pump on either side of a separator, both flows held by limiters. The zone has a
/// constant temperature drop, chosen so that its return is 50 °C when its supply is the reference's.
fn separator(primary: f64, secondary: f64, mixed_c: f64) -> String {
    let pump = "pump(catalogue: [(flow_m3_per_h: 0, head_m: 6, power_w: 60), (flow_m3_per_h: 2, head_m: 5.2, power_w: 70), \
                (flow_m3_per_h: 4, head_m: 3, power_w: 80)], standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: None, \
                slope_percent: 0, speed_cap_percent: 100, minimum_speed_percent: 20))";
    let limiter =
        |flow: f64| format!("pressure_independent_valve(set_flow_m3_per_h: {flow}, least_drop_kpa: 5, open: true)");
    // The zone takes from the mixed water what leaves it at 50 °C.
    let return_c = 75.0 - (mixed_c - 50.0);
    format!(
        "(format: 1, title: \"Separator\", design: (duty: heating, supply_c: 75, return_c: 50, room_c: 20), fluid: water,
        components: [
            (name: \"Source\", at: (0, 4), is: source(loss_kpa: 0, rated_flow_m3_per_h: 1, minimum_flow_m3_per_h: 0)),
            (name: \"P1\", at: (4, 0), is: {pump}), (name: \"L1\", at: (8, 0), is: {}),
            (name: \"Top\", at: (12, 0), is: tee), (name: \"Bottom\", at: (12, 8), is: tee),
            (name: \"P2\", at: (16, 0), is: {pump}), (name: \"L2\", at: (20, 0), is: {}),
            (name: \"Emitter\", at: (24, 4), is: emitter(law: constant_drop, loss_kpa: 1)),
            (name: \"Vessel\", at: (8, 12), is: expansion_vessel),
        ],
        pipes: [
            (from: (\"Source\", outlet), to: (\"P1\", inlet)), (from: (\"P1\", outlet), to: (\"L1\", inlet)),
            (from: (\"L1\", outlet), to: (\"Top\", branch)), (from: (\"Bottom\", branch), to: (\"Source\", inlet)),
            (from: (\"Top\", branch), to: (\"Bottom\", branch), length_m: 0.4, bore_mm: 80, roughness_mm: 0.045, k: 1.5),
            (from: (\"Top\", branch), to: (\"P2\", inlet)), (from: (\"P2\", outlet), to: (\"L2\", inlet)),
            (from: (\"L2\", outlet), to: (\"Emitter\", inlet)), (from: (\"Emitter\", outlet), to: (\"Bottom\", branch)),
            (from: (\"Vessel\", branch), to: (\"Bottom\", branch)),
        ],
        zones: [(name: \"Zone\", load_kw: 40, emitter: \"Emitter\", return_c: Some({return_c}))], scenarios: [])",
        limiter(primary),
        limiter(secondary),
    )
}

/// Pump and bypass valve of case 05b (`tests/data/cases`) with the one zone shut: three points, of which start-up from rest
/// reaches the first; it is shown, and said.
#[test]
fn of_several_points_the_one_from_rest_is_shown() {
    let text = "(format: 1, title: \"Bypass\", design: (duty: heating, supply_c: 65, return_c: 55, room_c: 20), fluid: water,
        components: [
            (name: \"Pump\", at: (4, 0), is: pump(catalogue: [(flow_m3_per_h: 0, head_m: 6, power_w: 60),
                (flow_m3_per_h: 2, head_m: 5.2, power_w: 70), (flow_m3_per_h: 4, head_m: 3, power_w: 80)],
                standby_w: 3, full_speed_rpm: 4000, settings: (head_limit_m: Some(4), slope_percent: 50,
                speed_cap_percent: 90, minimum_speed_percent: 25, reference_flow: capped_speed))),
            (name: \"Bypass\", at: (8, 4), is: bypass_valve(set_kpa: 22, band_kpa: 12, kv_m3_per_h: 5)),
            (name: \"Valve\", at: (12, 0), is: zone_valve(kv_m3_per_h: 2, open: false)),
            (name: \"Emitter\", at: (16, 0), is: emitter(law: radiator(exponent: 1.3), loss_kpa: 5)),
            (name: \"Flow\", at: (8, 0), is: tee), (name: \"Return\", at: (8, 8), is: tee),
            (name: \"Vessel\", at: (0, 0), is: expansion_vessel),
        ],
        pipes: [
            (from: (\"Pump\", outlet), to: (\"Flow\", branch)), (from: (\"Return\", branch), to: (\"Pump\", inlet)),
            (from: (\"Flow\", branch), to: (\"Bypass\", inlet)), (from: (\"Bypass\", outlet), to: (\"Return\", branch)),
            (from: (\"Flow\", branch), to: (\"Valve\", inlet)), (from: (\"Valve\", outlet), to: (\"Emitter\", inlet)),
            (from: (\"Emitter\", outlet), to: (\"Return\", branch)), (from: (\"Vessel\", branch), to: (\"Return\", branch)),
        ],
        zones: [(name: \"Zone\", load_kw: 8, emitter: \"Emitter\", valve: Some(\"Valve\"))], scenarios: [])";
    let mut project = file::parse(text, "bypass").unwrap();
    let mut study = Study::new(&project).unwrap();
    let results = study.results();
    let flows: Vec<f64> = results
        .points
        .iter()
        .map(|point| (3600.0 * point.pumps.values().next().unwrap()[0] * 1e4).round() / 1e4)
        .collect();
    // The reference's three flows; its water is at 60 °C and 3 bar too.
    assert_eq!(flows, [0.0, 0.6099, 2.7177]);
    let (pump, result) = results.pumps.iter().next().unwrap();
    assert!(result.flow.abs() < 1e-9 && result.running);
    assert!(findings(&project, &study, &Units::si()).iter().any(|f| f.text().contains("3 operating points")));
    // At constant head there is one point only, and the bypass opens.
    let pump = *pump;
    let changed = project.apply(&Command::SetSlope(pump, 0.0)).unwrap();
    study.update(&project, changed).unwrap();
    assert!(study.results().points.len() < 2 && study.results().pumps[&pump].flow > 1e-4);
}

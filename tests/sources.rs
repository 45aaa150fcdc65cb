//! Sources with supply temperatures of their own, against balances of mixing: T = Σ q T / Σ q.

#![expect(clippy::unwrap_used, reason = "a test stops where something is missing")]

use headwise::document::{Component, ComponentKind, Project};
use headwise::file;
use headwise::study::Study;

#[track_caller]
fn near(what: &str, found: f64, expected: f64, allowed: f64) {
    assert!((found - expected).abs() <= allowed, "{what}: {found} instead of {expected}");
}

/// Return → first and second source, beside each other or in a row → pump → emitter → return.
fn project(design: &str, own: [&str; 2], in_a_row: bool) -> Project {
    let source = |own: &str| format!("source(loss_kpa: 0, rated_flow_m3_per_h: 1, minimum_flow_m3_per_h: 0{own})");
    let limiter =
        |flow: f64| format!("pressure_independent_valve(set_flow_m3_per_h: {flow}, least_drop_kpa: 5, open: true)");
    let ways = if in_a_row {
        "(from: (\"Return\", branch), to: (\"First\", inlet)), (from: (\"First\", outlet), to: (\"Second\", inlet)),
        (from: (\"Second\", outlet), to: (\"One\", inlet)), (from: (\"One\", outlet), to: (\"Flow\", branch))"
    } else {
        "(from: (\"Return\", branch), to: (\"First\", inlet)), (from: (\"First\", outlet), to: (\"One\", inlet)),
        (from: (\"One\", outlet), to: (\"Flow\", branch)), (from: (\"Return\", branch), to: (\"Second\", inlet)),
        (from: (\"Second\", outlet), to: (\"Half\", inlet)), (from: (\"Half\", outlet), to: (\"Flow\", branch))"
    };
    let text = format!(
        "(format: 1, title: \"Two sources\", design: {design}, fluid: water, components: [
            (name: \"First\", at: (0, 4), is: {}), (name: \"Second\", at: (4, 4), is: {}),
            (name: \"One\", at: (0, 2), is: {}), (name: \"Half\", at: (4, 2), is: {}),
            (name: \"Pump\", at: (8, 0), is: pump(catalogue: [(flow_m3_per_h: 0, head_m: 9, power_w: 90), (flow_m3_per_h: 3, \
                head_m: 8, power_w: 140), (flow_m3_per_h: 6, head_m: 3, power_w: 160)], standby_w: 3, full_speed_rpm: 4000, \
                settings: (head_limit_m: None, slope_percent: 0, speed_cap_percent: 100, minimum_speed_percent: 20))),
            (name: \"Emitter\", at: (12, 4), is: emitter(law: constant_drop, loss_kpa: 2)), (name: \"Vessel\", at: (8, 8), is: expansion_vessel),
            (name: \"Flow\", at: (6, 0), is: tee), (name: \"Return\", at: (6, 8), is: tee),
        ],
        pipes: [{ways}, (from: (\"Flow\", branch), to: (\"Pump\", inlet)), (from: (\"Pump\", outlet), to: (\"Emitter\", inlet)),
            (from: (\"Emitter\", outlet), to: (\"Return\", branch)), (from: (\"Vessel\", branch), to: (\"Return\", branch))],
        zones: [(name: \"Zone\", load_kw: 20, emitter: \"Emitter\")], scenarios: [])",
        source(own[0]),
        source(own[1]),
        limiter(1.0),
        limiter(0.5)
    );
    file::parse(&text, "two sources").unwrap()
}

/// Supply temperature of the zone, and heat of both sources, W.
fn solved(project: &Project) -> (f64, [f64; 2]) {
    let study = Study::new(project).unwrap();
    assert!(study.results().converged());
    let heat = |name: &str| study.results().sources[&project.component_named(name).unwrap()].heat;
    (study.results().zones.values().next().unwrap().supply_c, [heat("First"), heat("Second")])
}

const HEATING: &str = "(duty: heating, supply_c: 60, return_c: 50, room_c: 20)";
const COOLING: &str = "(duty: cooling, supply_c: 7, return_c: 12, room_c: 26)";

/// 1 m³/h at 66 °C and 0.5 m³/h at 60 °C: (66 + 30)/1.5. With 80 °C the emitter's 10 K leave more than 60 °C, so that the second
/// has nothing to give and lets it pass: 1.5 T = 80 + 0.5 (T − 10).
#[test]
fn sources_beside_each_other_mix() {
    let (supply_c, [first, second]) = solved(&project(HEATING, [", supply_c: Some(66)", ""], false));
    near("mixed", supply_c, 64.0, 1e-6);
    // Both warm what comes back at 54 °C.
    near("heat by flow and rise", first / second, 1.0 * 12.0 / (0.5 * 6.0), 1e-6);
    let (supply_c, [_, second]) = solved(&project(HEATING, [", supply_c: Some(80)", ""], false));
    near("passed", supply_c, 75.0, 1e-6);
    near("second", second, 0.0, 1e-6);
}

#[test]
fn a_colder_source_behind_a_warmer_one_cools_nothing() {
    let (supply_c, [first, second]) = solved(&project(HEATING, ["", ", supply_c: Some(55)"], true));
    near("supply", supply_c, 60.0, 1e-9);
    assert!(first > 0.0);
    near("second", second, 0.0, 1e-9);
    let (supply_c, [first, second]) = solved(&project(HEATING, [", supply_c: Some(55)", ""], true));
    near("supply", supply_c, 60.0, 1e-9);
    near("halves", first, second, 1e-6 * first);
    let (supply_c, [_, second]) = solved(&project(COOLING, ["", ", supply_c: Some(9)"], true));
    near("chilled", supply_c, 7.0, 1e-9);
    near("second chiller", second, 0.0, 1e-9);
}

#[test]
fn a_supply_that_cannot_heat_is_a_flaw() {
    let mut wrong = project(HEATING, ["", ""], true);
    let id = wrong.component_named("First").unwrap();
    let Some(Component { kind: ComponentKind::Source(source), .. }) = wrong.components.get_mut(&id) else { return };
    source.supply_c = Some(15.0);
    let flaws = headwise::document::flaws(&wrong);
    assert!(flaws.iter().any(|flaw| flaw.to_string().contains("15 °C heats only if")), "{flaws:?}");
}

//! The three sample buildings against figures computed for them by hand and by an independent solution (invented buildings;
//! slopes with the reference flow at design flow, head limit at the design head). Agreement within 1 %.

use headwise::document::{Command, ComponentKind, Project, ZoneId};
use headwise::engine::GRAVITY_M_PER_S2;
use headwise::engine::fluid::Fluid;
use headwise::engine::pump::ReferenceFlow;
use headwise::file;
use headwise::study::{PumpResult, Study};
use std::path::Path;

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn library() -> Project {
    sample("fernhollow-library.ron")
}

fn greenhouse() -> Project {
    sample("saltreed-growers.ron")
}

fn clinic() -> Project {
    sample("alder-point-clinic.ron")
}

#[track_caller]
fn near(what: &str, found: f64, expected: f64, share: f64) {
    assert!((found / expected - 1.0).abs() <= share, "{what}: {found} instead of {expected}");
}

/// Sets all pumps, without a cap in the way.
fn set(project: &mut Project, head: f64, slope: f64) {
    let flow = design_flow(project);
    let pumps: Vec<_> = project.pumps().map(|(id, _)| id).collect();
    for id in pumps {
        for command in [
            Command::SetSpeedCap(id, 1.0),
            Command::SetHeadLimit(id, Some(head)),
            Command::SetSlope(id, slope),
            Command::SetReferenceFlow(id, ReferenceFlow::DesignFlow(flow)),
        ] {
            project.apply(&command).unwrap();
        }
    }
}

fn design_flow(project: &Project) -> f64 {
    let fluid = project.design.properties(&project.fluid).unwrap();
    project.zones.values().map(|zone| project.design.flow(zone, &fluid)).sum()
}

fn solved(project: &Project) -> Study {
    let study = Study::new(project).unwrap();
    assert!(study.results().converged());
    assert!(study.results().mass_error <= 1e-9, "mass {}", study.results().mass_error);
    study
}

fn running(study: &Study) -> PumpResult {
    *study.results().pumps.values().find(|pump| pump.running).unwrap()
}

fn least_share(project: &Project) -> f64 {
    solved(project).results().zones.values().map(|zone| zone.share).fold(f64::INFINITY, f64::min)
}

/// Share of design flow of a zone when it alone is open.
fn alone(project: &Project, name: &str) -> f64 {
    let mut project = project.clone();
    let open = project.zone_named(name).unwrap();
    shut_all_but(&mut project, open);
    solved(&project).results().zones[&open].share
}

fn shut_all_but(project: &mut Project, open: ZoneId) {
    let valves: Vec<_> = project.zones.iter().map(|(id, zone)| (*id, zone.valve.unwrap())).collect();
    for (zone, valve) in valves {
        project.apply(&Command::SetOpen(valve, zone == open)).unwrap();
    }
}

/// The least head limit that gives every zone its design flow with all zones open. Where flow limiters hold the flows, they
/// reach it but for the last digit of their set flow.
fn design_head(project: &Project) -> f64 {
    let (mut low, mut high) = (1.0, 8.4);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        let mut project = project.clone();
        set(&mut project, middle, 0.0);
        if least_share(&project) < 1.0 - 2e-4 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// The steepest slope at which a zone alone still gets a share of its design flow.
fn steepest(project: &Project, zone: &str, share: f64) -> f64 {
    let head = design_head(project);
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..30 {
        let middle = 0.5 * (low + high);
        let mut project = project.clone();
        set(&mut project, head, middle);
        if alone(&project, zone) < share - 2e-4 { high = middle } else { low = middle }
    }
    0.5 * (low + high)
}

/// Total design flow (m³/h), head (m), speed, electric power (W) at the design point.
fn check_design_point(project: &Project, flow: f64, head: f64, speed: f64, power: f64) {
    near("design flow", 3600.0 * design_flow(project), flow, 0.01);
    let found = design_head(project);
    near("design head", found, head, 0.01);
    let mut project = project.clone();
    set(&mut project, found, 0.0);
    let pump = running(&solved(&project));
    near("flow at design head", 3600.0 * pump.flow, flow, 0.01);
    near("speed", pump.speed, speed, 0.01);
    near("power", pump.electric_w, power, 0.01);
}

fn check_zone_flows(project: &Project, expected: &[f64]) {
    let study = solved(project);
    for (zone, expected) in study.results().zones.values().zip(expected) {
        near("zone design flow", 3600.0 * zone.design_flow, *expected, 0.01);
    }
}

#[test]
fn library_design() {
    let project = library();
    check_zone_flows(&project, &[0.248, 0.372, 0.496, 0.869]);
    check_design_point(&project, 1.985, 4.87, 0.934, 62.5);
}

/// 47.4 kPa = 3.8 common + 2.7 strainer + 14.2 mains + 5.0 branch + 17.0 emitter + 4.7 valve along the index path.
#[test]
fn library_head_is_spent_where_it_should_be() {
    let mut project = library();
    let head = design_head(&project);
    set(&mut project, head, 0.0);
    let study = solved(&project);
    let pipes = |prefix: &str| -> f64 {
        project
            .pipes
            .iter()
            .filter(|(_, pipe)| pipe.name.starts_with(prefix))
            .map(|(id, _)| study.results().pipes[id].drop.abs() / 1e3)
            .sum()
    };
    let of_kind = |wanted: fn(&ComponentKind) -> bool, name: &str| -> f64 {
        project
            .components
            .iter()
            .filter(|(_, c)| wanted(&c.kind) && c.name.contains(name))
            .map(|(id, _)| study.results().components[id].drop / 1e3)
            .sum()
    };
    near("common", pipes("Common"), 3.8, 0.02);
    near("mains", pipes("Main"), 14.2, 0.01);
    near("branch", pipes("Reading-room"), 5.0, 0.01);
    near("strainer", of_kind(|k| matches!(k, ComponentKind::Strainer { .. }), ""), 2.7, 0.01);
    near("emitter", of_kind(|k| matches!(k, ComponentKind::Emitter(_)), "Reading-room"), 17.0, 0.01);
    near("valve", of_kind(|k| matches!(k, ComponentKind::ZoneValve { .. }), "Reading-room"), 4.7, 0.01);
}

#[test]
fn library_zones_alone() {
    let mut project = library();
    let head = design_head(&project);
    let zones = ["Office radiators", "Meeting radiators", "Children's floor", "Reading-room floor"];
    for (slope, expected) in [(0.0, [1.15, 1.18, 1.25, 1.19]), (0.44, [0.89, 0.94, 1.02, 1.03])] {
        set(&mut project, head, slope);
        for (zone, expected) in zones.iter().zip(expected) {
            near(zone, alone(&project, zone), expected, 0.01);
        }
    }
}

/// Strictly 27 % (office alone). With 10 % less allowed the hand calculation says 42 %; this program and an independent
/// solution of the same network both find 43.1 %, at which the office gets 90.0 %, and 90.8 % at 42 %.
#[test]
fn library_slope_is_limited_by_the_office_alone() {
    let project = library();
    let strict = steepest(&project, "Office radiators", 1.0);
    assert!((strict - 0.27).abs() < 0.006, "{strict}");
    let allowed = steepest(&project, "Office radiators", 0.9);
    assert!((allowed - 0.431).abs() < 0.005, "{allowed}");
}

#[test]
fn greenhouse_design() {
    let project = greenhouse();
    check_zone_flows(&project, &[0.726, 1.331, 1.331, 1.331, 1.331]);
    check_design_point(&project, 6.05, 4.65, 0.895, 153.0);
    let density = project.design.properties(&project.fluid).unwrap().density_kg_per_m3;
    near("pressure", design_head(&project) * density * GRAVITY_M_PER_S2 / 1e3, 45.9, 0.01);
}

/// Puts a flow limiter at each zone's design flow in place of its balancing valve, and rates each emitter at its zone's
/// design flow.
fn hold_flows(project: &mut Project) {
    let fluid = project.design.properties(&project.fluid).unwrap();
    for zone in project.zones.clone().values() {
        let name = zone.name.split(' ').next().unwrap();
        let number = zone.name.split(' ').next_back().unwrap();
        let set_flow = project.design.flow(zone, &fluid);
        for component in project.components.values_mut() {
            let belongs = component.name.starts_with(name) && (name != "Bay" || component.name.contains(number));
            match &mut component.kind {
                ComponentKind::BalancingValve { .. } if belongs => {
                    component.kind =
                        ComponentKind::PressureIndependentValve { set_flow, least_drop: 100.0, open: true };
                }
                ComponentKind::Emitter(emitter) => emitter.rated_flow = None,
                _ => {}
            }
        }
    }
}

/// The same building on water instead of glycol: 5.82 m³/h, and 39.9 kPa along the path of its far bay when
/// each zone has its design flow and each emitter takes the same pressure at the new flow.
#[test]
fn greenhouse_on_water() {
    let mut project = greenhouse();
    project.fluid = Fluid::water();
    near("flow", 3600.0 * design_flow(&project), 5.82, 0.01);
    let bay = project.zone_named("Bay 4").unwrap();
    hold_flows(&mut project);
    let (mut low, mut high) = (1.0, 8.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        set(&mut project, middle, 0.0);
        if solved(&project).results().zones[&bay].share < 1.0 { low = middle } else { high = middle }
    }
    let density = project.design.properties(&project.fluid).unwrap().density_kg_per_m3;
    near("pressure", low * density * GRAVITY_M_PER_S2 / 1e3, 39.9, 0.01);
}

#[test]
fn greenhouse_far_bay_alone() {
    let mut project = greenhouse();
    let head = design_head(&project);
    for (slope, expected) in [(0.0, 1.71), (0.5, 1.37)] {
        set(&mut project, head, slope);
        near("Bay 4", alone(&project, "Bay 4"), expected, 0.01);
    }
    let strict = steepest(&project, "Propagation bench", 1.0);
    assert!((strict - 0.52).abs() < 0.006, "{strict}");
    let allowed = steepest(&project, "Propagation bench", 0.9);
    assert!((allowed - 0.62).abs() < 0.01, "{allowed}");
}

#[test]
fn clinic_design() {
    let project = clinic();
    check_zone_flows(&project, &[3.434, 2.861, 2.861, 2.289]);
    check_design_point(&project, 11.45, 5.91, 0.899, 314.0);
}

#[test]
fn clinic_slope_is_limited_by_floor_three_alone() {
    let strict = steepest(&clinic(), "Floor 3", 1.0);
    assert!((strict - 0.25).abs() < 0.006, "{strict}");
}

/// The speed cap makes no difference below the flow at which it crosses the set-line, and all of it above.
#[test]
fn with_all_zones_open_and_a_low_cap_the_head_limit_changes_nothing() {
    let mut project = library();
    let (id, _) = project.pumps().next().unwrap();
    project.apply(&Command::SetSpeedCap(id, 0.8)).unwrap();
    let before = running(&solved(&project));
    project.apply(&Command::SetHeadLimit(id, Some(6.0))).unwrap();
    let after = running(&solved(&project));
    assert!((after.flow - before.flow).abs() < 1e-12 && (after.speed - 0.8).abs() < 1e-9);
}

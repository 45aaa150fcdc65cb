//! Balancing of drawings made by hand: the sample buildings, drawings that cannot be balanced, valves that zones share. What
//! was found is verified by solving.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::document::{
    Command, Component, ComponentId, ComponentKind, PipeId, PipeRun, Port, PortRef, Project, Turn,
};
use headwise::engine::pump::ReferenceFlow;
use headwise::file;
use headwise::study::Study;
use headwise::study::sizing::{Balance, SizingError, balance, design_flows};
use std::path::Path;

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

#[track_caller]
fn near(what: &str, found: f64, expected: f64, share: f64) {
    assert!((found / expected - 1.0).abs() <= share, "{what}: {found} instead of {expected}");
}

/// Sets the valves as found and the circulator to the head found; gives each zone's share of design flow.
fn shares(project: &Project, found: &Balance) -> Vec<f64> {
    let mut project = project.clone();
    set_valves(&mut project, found);
    let pumps: Vec<ComponentId> = project.pumps().filter(|(_, unit)| unit.running).map(|(id, _)| id).collect();
    for command in [
        Command::OpenAllZones,
        Command::SetSpeedCap(pumps[0], 1.0),
        Command::SetSlope(pumps[0], 0.0),
        Command::SetReferenceFlow(pumps[0], ReferenceFlow::FullSpeed),
        Command::SetHeadLimit(pumps[0], Some(found.head_m)),
    ] {
        project.apply(&command).unwrap();
    }
    let study = Study::new(&project).unwrap();
    assert!(study.results().converged());
    study.results().zones.values().map(|zone| zone.share).collect()
}

fn set_valves(project: &mut Project, found: &Balance) {
    for set in &found.presettings {
        let ComponentKind::BalancingValve { kv } = &mut project.components.get_mut(&set.valve).unwrap().kind else {
            panic!("no balancing valve");
        };
        *kv = set.kv;
    }
}

/// Head and Kv of the two heated samples as worked by hand; the presettings in the files were worked out apart from this program.
#[test]
fn the_samples_are_balanced_as_worked_by_hand() {
    for (name, index, head, most) in
        [("fernhollow-library.ron", "Reading-room floor", 4.87, 0.01), ("saltreed-growers.ron", "Bay 4", 4.65, 0.03)]
    {
        let project = sample(name);
        let found = balance(&project).unwrap();
        assert_eq!(project.zones[&found.index].name, index);
        near(name, found.head_m, head, 0.01);
        assert!(found.unbalanced.is_empty(), "{found:?}");
        for set in &found.presettings {
            let ComponentKind::BalancingValve { kv } = project.components[&set.valve].kind else { panic!("no valve") };
            near(&project.components[&set.valve].name, set.kv, kv, most);
        }
        for share in shares(&project, &found) {
            near(name, share, 1.0, 1e-4);
        }
    }
}

/// Valves turned to anything, zones shut: what is found does not depend on it.
#[test]
fn what_is_found_does_not_depend_on_where_valves_stand() {
    let project = sample("fernhollow-library.ron");
    let found = balance(&project).unwrap();
    let mut other = project.clone();
    for component in other.components.values_mut() {
        match &mut component.kind {
            ComponentKind::BalancingValve { kv } => *kv = 0.2,
            ComponentKind::ZoneValve { open, .. } => *open = false,
            _ => {}
        }
    }
    let again = balance(&other).unwrap();
    near("head", again.head_m, found.head_m, 1e-12);
    for (a, b) in again.presettings.iter().zip(&found.presettings) {
        near("kv", a.kv, b.kv, 1e-9);
    }
    set_valves(&mut other, &found);
    assert_eq!(balance(&other).unwrap().presettings.len(), found.presettings.len());
}

/// The clinic: pressure-independent valves take what is too much, worked by hand 11.45 m³/h at 5.91 m with floor 3 as index.
#[test]
fn pressure_independent_valves_need_no_balancing() {
    let project = sample("alder-point-clinic.ron");
    let found = balance(&project).unwrap();
    near("flow", 3600.0 * found.flow, 11.45, 0.01);
    near("head", found.head_m, 5.91, 0.01);
    assert!(project.zones[&found.index].name.contains('3') && found.unbalanced.is_empty(), "{found:?}");
    for share in shares(&project, &found) {
        near("share", share, 1.0, 5e-4);
    }
}

/// A separator lets two circulators choose their flows: continuity does not tell them.
#[test]
fn several_circulators_are_refused() {
    let error = balance(&sample("thornwick-court.ron")).unwrap_err();
    assert_eq!(error, SizingError::Pumps(2));
}

fn port(component: ComponentId, port: Port) -> PortRef {
    PortRef { component, port }
}

/// Puts a component into a pipe, at its end.
fn insert(project: &mut Project, pipe: &str, name: &str, kind: ComponentKind) -> ComponentId {
    let id = ComponentId(project.components.keys().map(|id| id.0).max().unwrap() + 1);
    project.components.insert(id, Component::new(name, [60.0, 0.0], Turn::Right, kind));
    let run = project.pipes.values_mut().find(|run| run.name == pipe).unwrap();
    let end = std::mem::replace(&mut run.to, port(id, Port::Inlet));
    join(project, port(id, Port::Outlet), end);
    id
}

fn join(project: &mut Project, from: PortRef, to: PortRef) {
    let id = PipeId(project.pipes.keys().map(|id| id.0).max().unwrap() + 1);
    let name = format!("joint {}", id.0);
    let joint = PipeRun { name, ..PipeRun::joint(from, to) };
    project.pipes.insert(id, joint);
}

fn tee(project: &Project, name: &str) -> PortRef {
    port(project.component_named(name).unwrap(), Port::Branch)
}

/// A valve on the main takes nothing, because the index zone lies behind it; one in front of the first zones alone takes what
/// both can spare, and only the rest is left to their own.
#[test]
fn shared_valves_take_what_all_behind_them_can_spare() {
    let mut project = sample("fernhollow-library.ron");
    let alone = balance(&project).unwrap();
    let main = insert(&mut project, "Main 2 flow", "Main valve", ComponentKind::BalancingValve { kv: 30.0 });
    let found = balance(&project).unwrap();
    let main = found.presettings.iter().find(|set| set.valve == main).unwrap();
    assert!(main.is_open && main.kv >= 30.0, "{main:?}");
    assert!(found.head_m >= alone.head_m && found.head_m < alone.head_m + 0.05);
    for share in shares(&project, &found) {
        near("share", share, 1.0, 1e-4);
    }
    // The office gets a valve that its own stands behind: the outer one is taken first, as the one of more zones or of lower number.
    let mut project = sample("fernhollow-library.ron");
    insert(&mut project, "Office branch flow", "Office outer valve", ComponentKind::BalancingValve { kv: 0.5 });
    let found = balance(&project).unwrap();
    assert!(found.unbalanced.is_empty());
    for share in shares(&project, &found) {
        near("share", share, 1.0, 1e-4);
    }
}

/// A zone without a valve of its own has pressure left that is told, and not taken.
#[test]
fn a_zone_without_a_balancing_valve_is_told() {
    let mut project = sample("fernhollow-library.ron");
    let valve = project.component_named("Children's balancing valve").unwrap();
    project.components.get_mut(&valve).unwrap().kind =
        ComponentKind::Strainer { kv: 1000.0, fouled_kv: 1000.0, fouling: 0.0 };
    let found = balance(&project).unwrap();
    let [(zone, pressure)] = found.unbalanced.as_slice() else { panic!("{found:?}") };
    assert_eq!(project.zones[zone].name, "Children's floor");
    // Worked by hand: its balancing valve took 7.3 kPa.
    near("pressure", *pressure, 7300.0, 0.02);
    let shares = shares(&project, &found);
    assert!(shares[2] > 1.05, "{shares:?}");
}

#[test]
fn a_way_round_is_refused_and_a_shut_one_is_not() {
    let with = |kind: ComponentKind| {
        let mut project = sample("fernhollow-library.ron");
        let id = ComponentId(1000);
        let passage = Component::new("Passage", [60.0, 7.0], Turn::Down, kind);
        project.components.insert(id, passage);
        let (from, to) = (tee(&project, "Reading-room flow tee"), tee(&project, "Reading-room return tee"));
        join(&mut project, from, port(id, Port::Inlet));
        join(&mut project, port(id, Port::Outlet), to);
        balance(&project)
    };
    let error = with(ComponentKind::IsolationValve { kv: 1.0, open: true }).unwrap_err();
    assert!(matches!(error, SizingError::WayRound(_)), "{error}");
    let plain = balance(&sample("fernhollow-library.ron")).unwrap();
    for shut in [
        ComponentKind::IsolationValve { kv: 1.0, open: false },
        ComponentKind::BypassValve { set_pressure: 8e4, band: 1e4, kv: 2.0 },
    ] {
        near("head", with(shut).unwrap().head_m, plain.head_m, 1e-12);
    }
}

#[test]
fn a_zone_on_a_dead_end_or_the_wrong_way_round_is_named() {
    let mut project = sample("fernhollow-library.ron");
    project.pipes.retain(|_, pipe| pipe.name != "Office branch return");
    assert_eq!(design_flows(&project).unwrap_err(), SizingError::NoWay("Office radiators".to_owned()));
    let mut project = sample("fernhollow-library.ron");
    let emitter = project.component_named("Office radiators emitter").unwrap();
    for pipe in project.pipes.values_mut() {
        for end in [&mut pipe.from, &mut pipe.to] {
            if end.component == emitter {
                end.port = if end.port == Port::Inlet { Port::Outlet } else { Port::Inlet };
            }
        }
    }
    assert_eq!(balance(&project).unwrap_err(), SizingError::NoWay("Office radiators".to_owned()));
}

/// Flows in and out of every component add up: the flow of the circulator is the sum of the zones', each main carries what
/// lies behind it.
#[test]
fn design_flows_follow_from_continuity() {
    let project = sample("saltreed-growers.ron");
    let found = design_flows(&project).unwrap();
    let water = project.design.properties(&project.fluid).unwrap();
    let zones: Vec<f64> = project.zones.values().map(|zone| project.design.flow(zone, &water)).collect();
    near("circulator", found.pump, zones.iter().sum(), 1e-12);
    for number in 1..=5 {
        for side in ["flow", "return"] {
            let name = format!("Main {number} {side}");
            let (id, _) = project.pipes.iter().find(|(_, pipe)| pipe.name == name).unwrap();
            let flow = found.of(headwise::study::LinkOwner::Pipe(*id));
            near(&name, flow, zones[number - 1..].iter().sum(), 1e-12);
        }
    }
}
